#!/usr/bin/env bash
# Every path that DEVELOPERS.md, docs/questions.md and the READMEs name is there: in backquotes or as a link's target. With a
# folder it is looked for from the root, include, src and the README's own place; a bare name of a file
# anywhere in the tree, for names stand once. Stars match. What a build makes (build/...) need not be there.
# Each folder under src has its README, short.
#
#   paths.sh SOURCE
set -u
shopt -s nullglob
cd "$1" || exit 2
bad=0
checked=0
names=$(find . -name build -prune -o -name .git -prune -o -type f -printf '%f\n' | sort -u)
there() { # DOCUMENT NAME
    local place found
    case $2 in build/*) return 0 ;; esac
    for place in . include include/hubphase src "$(dirname "$1")"; do
        found=("$place"/${2%/}) # stars are meant
        for found in "${found[@]}"; do [ -e "$found" ] && return 0; done
    done
    case $2 in */*) return 1 ;; esac
    while IFS= read -r found; do
        # shellcheck disable=SC2053 # stars are meant
        [[ $found == $2 ]] && return 0
    done <<<"$names"
    return 1
}
documents=(DEVELOPERS.md README.md docs/questions.md plots/README.md)
while IFS= read -r folder; do
    [ -f "$folder/README.md" ] || { echo "$folder has no README.md"; bad=1; continue; }
    [ "$(wc -l <"$folder/README.md")" -le 15 ] || { echo "$folder/README.md: more than 15 lines"; bad=1; }
    documents+=("$folder/README.md")
done < <(find src -mindepth 1 -type d | sort)
for document in "${documents[@]}"; do
    while IFS= read -r name; do
        checked=$((checked + 1))
        there "$document" "$name" || { echo "$document names $name, which is not there"; bad=1; }
    done < <({
        grep -oE '`[^` ]+`' "$document" | tr -d '`' |
            grep -E '^[A-Za-z0-9_.*/-]+$' | grep -E '/|\.(c|h|md|sh|py|css|js|json|yaml|cmake|txt)$'
        grep -oE '\]\([^)]+\)' "$document" | sed 's/^](//; s/)$//' | grep -v '://'
    } | sort -u)
done
[ "$checked" -ge 100 ] || { echo "only $checked names were found to check"; bad=1; }
exit $bad
