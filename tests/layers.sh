#!/usr/bin/env bash
# A layer includes only itself and those above it: base, model, sim, decide, report, app. Anything
# else would let knowledge flow back against the way of the data.
#
#   layers.sh SOURCE
set -u
cd "$1" || exit 2
order=(base model sim decide report app)
bad=0
for layer in "${order[@]}"; do
    allowed=
    for above in "${order[@]}"; do
        allowed="$allowed${allowed:+|}$above"
        [ "$above" = "$layer" ] && break
    done
    for folder in "include/hubphase/$layer" "src/$layer"; do
        [ -d "$folder" ] || { echo "$folder is missing"; bad=1; continue; }
        # Another layer's header, or a private header of another folder.
        if grep -rnE '^#[[:space:]]*include[[:space:]]*"(hubphase/|\.\./)' "$folder" |
            grep -vE "\"hubphase/($allowed)/"; then
            echo "^ $folder may include only: ${allowed//|/ }"
            bad=1
        fi
    done
done
# Only the program talks to the user: the library neither prints to the terminal, nor leaves, nor
# looks at the environment.
for layer in base model sim decide report; do
    if grep -nE '(^|[^a-zA-Z_>.])(printf|puts|putchar|perror|exit|_exit|abort|getenv)[[:space:]]*\(|\b(stdout|stderr)\b' \
        src/"$layer"/*.c; then
        echo "^ the library must not print, exit or read the environment"
        bad=1
    fi
done
exit $bad
