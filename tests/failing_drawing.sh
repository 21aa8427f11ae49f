#!/usr/bin/env bash
# Memory that runs out inside what draws (PLplot, Cairo, fonts) is told as an error, or the picture is the right
# one all the same. Nothing is left half written, and no file of the user's is blamed. Three libraries leave
# something out and say nothing; the memory that they need is asked for, and held, before they are called.
#
#   failing_drawing.sh PROGRAM PRELOADED SCENARIOS TRIES [LIBRARY...]
#
# Of each library's allocations, TRIES are let fail, one a run, spread over all of them; 0: all. Prints a line a
# library: allocations, tried, told as an error by who made the call, ended early (told, too), the right picture, another
# picture without a word.
set -u
program=$1 preloaded=$2 scenarios=$3 tries=$4
shift 4
[ $# -gt 0 ] || set -- libplplot drivers/cairo libcairo libpixman libpango libharfbuzz libfreetype libfontconfig libglib libpng libltdl
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
cp "$scenarios"/{seeddrill,barrow}*.yaml "$room"
cd "$room" || exit 1

draw() { # draw png|pdf FOLDER
    case $1 in
    png) "$program" next seeddrill.yaml --plots "$2" --format png --quiet >/dev/null ;;
    pdf) mkdir "$2" && "$program" sheet barrow.yaml -o "$2/sheet.pdf" ;;
    esac
}

bad() {
    echo "$format, $library, allocation $at: status $status: $*" >&2
    cat said >&2
    exit 1
}

# One run with one allocation that fails, and what became of it, in $told, $early, $same.
try() {
    rm -rf out note
    FAIL_IN=$library FAIL_AT=$at FAIL_NOTE=note LD_PRELOAD=$preloaded draw "$format" out >/dev/null 2>said
    status=$?
    [ -s note ] || bad "it did not come to that"
    [ -z "$(find . -name '.unfinished*')" ] || bad "something half written is left"
    case $status in
    0)
        if diff -r "whole-$format" out >/dev/null; then
            same=$((same + 1))
        elif [[ $library =~ ^lib(cairo|harfbuzz|freetype)$ ]]; then
            other=$((other + 1))
        else
            bad "another picture, without a word"
        fi
        ;;
    1)
        [ -z "$(find out -type f 2>/dev/null)" ] || bad "a picture all the same"
        if grep -q 'what draws ended early (.*): most likely memory ran out' said; then
            early=$((early + 1))
        elif grep -qE 'out of memory|drawing a picture failed|finds no driver' said; then
            told=$((told + 1))
        else
            bad "nothing of memory or drawing"
        fi
        ! grep -qE 'seeddrill(\.bench)?\.yaml|barrow(\.bench)?\.yaml' said || bad "a file of the user's is blamed"
        ;;
    *) bad "neither 0 nor 1" ;;
    esac
}

all=0
for format in png pdf; do
    draw "$format" "whole-$format" || exit 1
    for library; do
        rm -rf out count
        FAIL_IN=$library FAIL_NOTE=count LD_PRELOAD=$preloaded draw "$format" out || exit 1
        diff -r "whole-$format" out || exit 1
        [ -e count ] || : >count
        count=$(stat -c %s count) told=0 early=0 same=0 other=0 tried=0
        step=$((tries == 0 || count <= tries ? 1 : (count + tries - 1) / tries))
        for ((at = 0; at < count; at += step)); do
            try
            tried=$((tried + 1))
        done
        printf '%s %-14s %6d allocations, %5d tried: %5d told, %5d ended early, %5d drawn, %5d drawn otherwise\n' \
            "$format" "$library" "$count" "$tried" "$told" "$early" "$same" "$other"
        all=$((all + tried))
    done
done
[ "$all" -gt 0 ]
