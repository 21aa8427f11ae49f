#!/usr/bin/env bash
# Builds a commit twice, in folders of other names and depths, and compares what comes out byte for byte: the
# packages, and the program's reports and pictures. Takes two whole builds; no test.
#
#   tests/same_bytes.sh [COMMIT]
set -euo pipefail
cd "$(dirname "$0")/.."
commit=${1:-HEAD}
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
export CCACHE_DISABLE=1
bad=0
for folder in one another/one/deeper; do
    mkdir -p "$room/$folder"
    git archive "$commit" | tar -x -C "$room/$folder"
    (cd "$room/$folder" && bash src/packaging/build.sh packages) >"$room/log" 2>&1 || { tail -30 "$room/log"; exit 1; }
    program=$room/$folder/build/package/hubphase
    (
        cd "$room/$folder/scenarios"
        for form in "" --json --csv; do
            # shellcheck disable=SC2086 # none or one word
            "$program" survey barrow.yaml --starts 2 --quiet $form >"../packages/survey$form"
        done
        for format in svg png pdf; do
            "$program" survey barrow.yaml --starts 1 --quiet --plots "../packages/pictures" --format "$format" >/dev/null
        done
        "$program" spread trolley.yaml --motors 2 --starts 1 --quiet --json >../packages/spread
        "$program" page -o ../packages/page.html --quiet
    )
done
one=$room/one/packages
(cd "$one" && find . -type f | LC_ALL=C sort) >"$room/names"
while read -r name; do
    cmp "$one/$name" "$room/another/one/deeper/packages/$name" || bad=1
done <"$room/names"
[ "$bad" = 0 ] && echo "$(wc -l <"$room/names") files, the same bytes twice"
exit $bad
