#!/usr/bin/env bash
# Builds a commit twice, in folders of other names and depths, with other local time and language, and compares what
# comes out byte for byte: the program with all that is in it for a debugger, both libraries, the WebAssembly, the page,
# the packages, and the program's reports and pictures. Takes two whole builds, minutes: no test.
#
#   tests/same_bytes.sh [COMMIT]
set -euo pipefail
cd "$(dirname "$0")/.."
commit=${1:-HEAD}
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
export CCACHE_DISABLE=1

# What is built in FOLDER of the room, collected in FOLDER/made.
make_in() { # FOLDER
    local here=$room/$1 form format program
    mkdir -p "$here/made"
    git archive "$commit" | tar -x -C "$here"
    (cd "$here" && bash src/packaging/build.sh made/packages) >"$room/log" 2>&1 || { tail -30 "$room/log"; exit 1; }
    (cd "$here/build/package" && cp hubphase libhubphase.a libhubphase.so hubphase.pc ../../made/)
    find "$here/build/package/web" -maxdepth 1 -name 'hubphase.wasm*' -exec cp {} "$here/made/" \;
    program=$here/build/package/hubphase
    (
        cd "$here/scenarios"
        for form in "" --json --csv; do
            # shellcheck disable=SC2086 # none or one word
            "$program" survey barrow.yaml --starts 2 --quiet $form >"../made/survey$form"
        done
        for format in svg png pdf; do
            "$program" survey barrow.yaml --starts 1 --quiet --plots "../made/pictures" --format "$format" >/dev/null
        done
        "$program" spread trolley.yaml --motors 2 --starts 1 --quiet --json >../made/spread
        "$program" sheet barrow.yaml -o ../made/sheet.pdf
        "$program" page -o ../made/hubphase.html --quiet || echo "without the page"
    )
}

TZ=UTC LC_ALL=C.UTF-8 make_in one
TZ=Pacific/Chatham LC_ALL=C make_in another/one/deeper
bad=0
(cd "$room/one/made" && find . -type f | LC_ALL=C sort) >"$room/names"
while read -r name; do
    cmp "$room/one/made/$name" "$room/another/one/deeper/made/$name" || bad=1
done <"$room/names"
[ "$bad" = 0 ] && echo "$(wc -l <"$room/names") files, the same bytes twice"
exit $bad
