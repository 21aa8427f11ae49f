#!/usr/bin/env bash
# Writes what a fuzz target begins with, from the scenarios, the documents and the tests.
#
#   corpus.sh TARGET SOURCE FOLDER
set -eu
target=$1 source=$2 out=$3
mkdir -p "$out"

# put NAME: the standard input as a file of the corpus.
put() { cat >"$out/$1"; }

# Words of command lines in tests, one a line, without what only a shell understands.
command_lines() {
    grep -hoE '^(run|hubphase) [^|>&;$`()]*$' "$source"/tests/cli/*.sh | sed -E 's/^(run|hubphase) //' | sort -u
}

scenarios() {
    find "$source/scenarios" -name '*.yaml' ! -name '*.bench.yaml' | LC_ALL=C sort
}

case $target in
scenario)
    scenarios | while read -r file; do put "$(basename "$file")" <"$file"; done
    # Each example of the document by itself.
    awk -v out="$out" '/^```yaml/ { n++; on = 1; next } /^```/ { on = 0 } on { print > (out "/example-" n) }' \
        "$source/docs/scenario.md"
    ;;
log)
    # The first byte says what is done, and to which entry.
    for what in 0 1 2 3 4 5 6 7 8; do
        for file in "$source"/scenarios/*.bench.yaml; do
            { printf '%b' "\\x0$what"; cat "$file"; } | put "$(basename "$file")-$what"
        done
        awk '/^```yaml/ { on = 1; next } /^```/ { on = 0 } on' "$source/docs/benchlog.md" |
            { printf '%b' "\\x0$what"; cat; } | put "document-$what"
    done
    ;;
names)
    {
        printf '%s\n' 'yellow green blue / green yellow blue' 'V, U, W / W,V,U' 36 2026-11-25T10:40:00+01:00 \
            2026-11-25T10:40Z 'key=on@0 grip=50@0.3, brake=pulled@2 pedals=-60@3 speed=1@4 off=key@5 on=key@6' \
            'U-V=0.3 V-W=0.31 W-U=open' '101, 100 110 010 011 001' 'supply=5.1,ground=0'
        command_lines | grep -oE -- '--[a-z-]+(=| +)[^ -][^ ]*' | sed -E 's/^--[a-z-]+(=| +)//' | sort -u
    } | awk -v out="$out" '{ printf "%s%c", $0, 32 + NR % 32 > (out "/value-" NR) }'
    ;;
options)
    command_lines | while read -r line; do
        printf '%s' "$line" | tr -s ' ' '\n' | put "line-$(printf '%s' "$line" | cksum | cut -d' ' -f1)"
    done
    ;;
face)
    # A case opened, then every request by itself; texts as JSON, which the scenarios' characters bear.
    as_json() { sed -e 's/\\/\\\\/g; s/"/\\"/g; s/$/\\n/' "$1" | tr -d '\n'; }
    names=$(sed -n '/^} requests/,/^};/!d; s/[{},]/ /g; p' "$source/src/web/face.c" | grep -oE '"[a-z]+"' | tr -d '"' | grep -vx paper) # a plan ahead takes too long here
    for file in "$source"/scenarios/{minimal,seeddrill}.yaml; do
        # All of them on the smallest machine; those about a log where there is one.
        [ -e "${file%.yaml}.bench.yaml" ] && names="advice form answer change drop sort"
        log=${file%.yaml}.bench.yaml
        for name in $names; do
            {
                printf '{"do":"open","name":"%s","scenario":"%s"' "$(basename "$file")" "$(as_json "$file")"
                [ ! -e "$log" ] || printf ',"log":"%s"' "$(as_json "$log")"
                printf '}\n{"do":"%s","number":6,"wiring":"6","kind":"hand_turn","entry":1,"values":{},"picture":"map"}\n' "$name"
            } | put "$(basename "$file")-$name"
        done
    done
    ;;
*) echo "corpus.sh: no such target: $target" >&2; exit 2 ;;
esac
