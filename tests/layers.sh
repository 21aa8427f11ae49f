#!/usr/bin/env bash
# A layer includes only itself and those above it: base, model, sim, decide, record, report, web, app.
# Anything else would let knowledge flow back against the way of the data.
#
#   layers.sh SOURCE
set -u
cd "$1" || exit 2
order=(base model sim decide record report web app)
bad=0
for layer in "${order[@]}"; do
    allowed=
    for above in "${order[@]}"; do
        allowed="$allowed${allowed:+|}$above"
        [ "$above" = "$layer" ] && break
    done
    [ -d "src/$layer" ] || { echo "src/$layer is missing"; bad=1; continue; }
    for folder in "include/hubphase/$layer" "src/$layer"; do
        [ -d "$folder" ] || continue
        # A header is named by its path from include or from src.
        if grep -rnE '^#[[:space:]]*include[[:space:]]*"' "$folder" |
            grep -vE "include[[:space:]]*\"(hubphase/)?($allowed)/"; then
            echo "^ $folder may include only: ${allowed//|/ }, by their paths"
            bad=1
        fi
    done
done
# The program uses nothing but the face, as any other program would.
if grep -rnE '^#[[:space:]]*include[[:space:]]*"' src/app | grep -vE 'include[[:space:]]*"(app/|hubphase[/.])'; then
    echo "^ src/app may include its own headers and public ones"
    bad=1
fi
# File names are unique, so that a name alone finds the file.
twice=$(find src include -name '*.[ch]' -printf '%f\n' | sort | uniq -d)
[ -z "$twice" ] || { echo "names that stand twice: $twice"; bad=1; }
# Only the program talks to the user: the library neither prints to the terminal, nor leaves, nor
# looks at the environment.
for layer in base model sim decide record report web; do
    if grep -rnE --include='*.c' \
        '(^|[^a-zA-Z_>.])(printf|puts|putchar|perror|exit|_exit|abort|getenv)[[:space:]]*\(|\b(stdout|stderr)\b' \
        "src/$layer"; then
        echo "^ the library must not print, exit or read the environment"
        bad=1
    fi
done
# Texts are put together by the phrase of base, which minds the room and whole characters.
if grep -rnE --include='*.c' 'snprintf\([^,]*\+ (used|strlen)|\b(strcat|strncat|sprintf)\(' src |
    grep -vE '^src/base/|pen_text\.c'; then
    echo "^ texts are joined by hp_phrase"
    bad=1
fi
# A kind of reading is asked what it does, not what it is called; trials alone are known, to hp_entry_trial.
if grep -rnE --include='*.c' '[!=]=[[:space:]]*&hp_reading_' src | grep -v '^src/decide/reading/trial\.c'; then
    echo "^ lists of kinds are walked: what is meant is a member of the descriptor"
    bad=1
fi
# A test is called by the statement that it holds, in small letters.
if grep -rnE --include='*.c' '^static void (test_|[A-Z])[A-Za-z0-9_]*\(void \*\*state' tests; then
    echo "^ a test is named in small letters by what it states, without test_"
    bad=1
fi
# What is simulated gives the same bits with any C library: only what IEEE 754 fixes to the last bit, and
# the functions of base/elementary.h and base/sine.h. (Leads and heat are reckoned after a run, from what it gave.)
if grep -rnE --include='*.[ch]' \
    '\b(a?(sin|cos|tan)h?|atan2|sincos|exp|exp2|expm1|log|log2|log10|log1p|pow|cbrt|hypot|erfc?|[lt]gamma)f?\(' \
    src/model src/sim src/decide/judge | grep -vE '^[^:]*:[0-9]+: *(/?\*|//)|^src/model/(conductor|heat)\.c:'; then
    echo "^ elementary functions whose last bits differ between C libraries: see src/base/elementary.h"
    bad=1
fi
# Mappings of a file are walked by one loop, hp_yaml_next.
if [ "$(grep -rhoE '\bfy_node_mapping_(iterate|reverse_iterate|get_by_index|lookup\w*)\(' src | wc -l)" != 1 ]; then
    grep -rnE '\bfy_node_mapping_(iterate|reverse_iterate|get_by_index|lookup\w*)\(' src
    echo "^ mappings are walked by hp_yaml_next alone"
    bad=1
fi
exit $bad
