#!/usr/bin/env bash
# Draws the pictures of a survey through the program, with no display and an empty environment, and
# reads them back with other people's tools: xmllint for SVG, pdfinfo and pdftotext for PDF.
#
#   pictures.sh PROGRAM SCENARIO
set -eu
program=$1 scenario=$2
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
fail() {
    echo "$*"
    exit 1
}

for format in svg png pdf; do
    env -i HOME="$room" LSAN_OPTIONS="${LSAN_OPTIONS:-}" "$program" survey "$scenario" --starts 1 \
        --quiet --plots "$room/$format" --format "$format" >/dev/null
done
[ "$(find "$room" -name '.unfinished*' | wc -l)" = 0 ] || fail "an unfinished file was left"

for picture in "$room"/svg/*.svg; do
    name=$(basename "$picture" .svg)
    xmllint --noout --nonet "$picture" || fail "$name.svg is no XML"
    title=$(xmllint --xpath 'string(/*/*[local-name()="title"])' "$picture")
    [ -n "$title" ] || fail "$name.svg has no title"
    [ "$(head -c 8 "$room/png/$name.png" | od -An -tx1 | tr -d ' ')" = 89504e470d0a1a0a ] ||
        fail "$name.png is no PNG"
    pdfinfo "$room/pdf/$name.pdf" >"$room/info" || fail "$name.pdf is no PDF"
    grep -q '^Pages: *1$' "$room/info" || fail "$name.pdf has not one page"
    grep -q "^CreationDate:.*2000" "$room/info" || fail "$name.pdf carries the date of today"
    # The first word of the title stands in the PDF as text too.
    pdftotext "$room/pdf/$name.pdf" - | grep -qF "${title%% *}" || fail "$name.pdf lacks its title"
done
# A sheet of A4 is one (ISO 216: 210 x 297 mm, memory; a point is 1/72 inch).
env -i HOME="$room" LSAN_OPTIONS="${LSAN_OPTIONS:-}" "$program" survey "$scenario" --starts 1 \
    --quiet --plots "$room/a4" --format pdf --shape a4 >/dev/null
for picture in "$room"/a4/*.pdf; do
    pdfinfo "$picture" | grep -qE '^Page size: +595\.[0-9]+ x 84[12]\.' ||
        fail "$(basename "$picture") is no A4: $(pdfinfo "$picture" | grep 'Page size')"
done
for word in correct reverse rough stalled; do
    xmllint --xpath "boolean(//*[local-name()='text'][.='$word'])" "$room/svg/map.svg" |
        grep -q true || fail "map.svg lacks the word $word"
    pdftotext "$room/pdf/map.pdf" - | grep -qw "$word" || fail "map.pdf lacks the word $word"
done
