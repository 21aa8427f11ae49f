#!/usr/bin/env bash
# The notices that licences ask for: src/packaging/copyright holds the text of each library that goes into the page, as
# its own sources state it, and stands whole in the page and in the wall.
#
#   notices.sh PROGRAM SOURCE LIBRARIES
#
# LIBRARIES: the sources that src/web/wasm/sources.sh got.
set -eu
program=$1 source=$2 libraries=$3
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
bad=0
fail() { echo "$*"; bad=1; }
# As words with one blank between them, without the dots that stand for empty lines there.
words() { sed 's/^ \.$//' | tr -s ' \n\t' ' '; }
notices=$source/src/packaging/copyright
words <"$notices" >"$room/notices"
holds() { # WHAT, its text at the standard input
    words | sed 's/^ //; s/ $//' >"$room/text"
    [ "$(wc -w <"$room/text")" -gt 3 ] || fail "$1: hardly a word is left of it"
    grep -qFf "$room/text" "$room/notices" || fail "the notices lack $1: $(head -c 60 "$room/text") ..."
}
from() { sed -n "/$1/,\$p"; }
years() { # OWNER FILE: "Copyright (c) YEARS OWNER" there is "YEARS, OWNER" here
    local line
    line=$(grep -m 1 "Copyright.*$1" "$2" | sed 's/.*opyright ([cC]) *//; s/\([0-9]\),* /\1, /; s/[. ]*$//')
    grep -qF "$line" "$room/notices" || fail "the notices lack \"$line\""
}
holds "SUNDIALS' licence" < <(from '^Redistribution' <"$libraries/sundials/LICENSE")
holds "SUNDIALS' notice" <"$libraries/sundials/NOTICE"
holds "jansson's licence" < <(from '^Permission' <"$libraries/jansson/LICENSE")
holds "libfyaml's licence" < <(from '^Permission' <"$libraries/libfyaml/LICENSE")
holds "xxHash's licence" < <(from '^Redistribution' <"$libraries/libfyaml/src/xxhash/xxhash.c" | sed '/^You can contact/,$d')
years 'Lawrence Livermore' "$libraries/sundials/LICENSE"
years Lehtinen "$libraries/jansson/LICENSE"
years Collet "$libraries/libfyaml/src/xxhash/xxhash.c"
# Every licence that is named is told, and the other way round.
for kind in $(sed -n 's/^License: \([^ ]*\).*/\1/p' "$notices" | sort -u); do
    [ "$(grep -c "^License: $kind\b" "$notices")" -ge 2 ] || fail "$kind is named or told, not both"
done
# In every page that carries the program.
grep -q '</\|<!--' "$notices" && fail "the notices would end their element"
"$program" page --quiet -o "$room/page.html"
"$program" lesson "$source/scenarios/barrow.yaml" --quiet -o "$room/lesson" >/dev/null
for page in "$room/page.html" "$room/lesson/wall.html"; do
    sed -n '/^<script type="text\/plain" id="notices">/,/^<\/script>/p' "$page" | sed '1s/^<script[^>]*>//; $d' | cmp - "$notices" ||
        fail "$page lacks them"
done
exit $bad
