#!/usr/bin/env bash
# The source archive: made of the commit at hand (src/packaging/build.sh makes the same), unpacked elsewhere, looked
# through, built with nothing but what it holds and the packages, and tried. Takes one build; no test.
#
#   tests/source_archive.sh [ARCHIVE.tar.gz]
set -euo pipefail
cd "$(dirname "$0")/.."
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
archive=${1:-}
if [ -z "$archive" ]; then
    archive=$room/hubphase.tar.gz
    git archive --prefix=hubphase/ HEAD | gzip -9n >"$archive"
fi
tar -xzf "$archive" -C "$room"
source=$(find "$room" -mindepth 1 -maxdepth 1 -type d)
bad=0
fail() { echo "$*"; bad=1; }

# Hidden are only the files that say how things are done here; nothing was built, and nothing leads out of it.
while read -r hidden; do
    fail "it holds $hidden"
done < <(cd "$source" && find . -mindepth 1 -name '.*' ! -path ./.ci ! -path ./.gitignore ! -name .clang-format ! -name .clang-tidy)
while read -r built; do
    fail "it holds $built"
done < <(cd "$source" && find . \( -name '*.o' -o -name '*.a' -o -name '*.so*' -o -name '*.pyc' -o -name CMakeCache.txt -o -type l \))
for wanted in CMakeLists.txt README.md DEVELOPERS.md src/packaging/changelog scenarios/barrow.yaml tests/run.sh; do
    [ -s "$source/$wanted" ] || fail "it lacks $wanted"
done

# No network where the system can take it away; the page needs sources that come over it, so it is left out.
alone=()
unshare -rn true 2>/dev/null && alone=(unshare -rn)
[ ${#alone[@]} -gt 0 ] || echo "this system cannot take the network away: built with it"
cmake_build() {
    "${alone[@]}" cmake -S "$source" -B "$room/build" -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DHP_WEB=OFF -DHP_FUZZ=OFF
    "${alone[@]}" cmake --build "$room/build" --target hubphase hubphase_shared test_wiring test_scenario test_circuit test_bench_log
}
cmake_build >"$room/log" 2>&1 || { tail -40 "$room/log"; exit 1; }
! grep -n 'warning:' "$room/log" || fail "^ a warning"
"${alone[@]}" ctest --test-dir "$room/build" --output-on-failure \
    -R '^(test_wiring|test_scenario|test_circuit|test_bench_log|cli_help|cli_next|cli_log|paths|layers)$' || bad=1
"$room/build/hubphase" survey "$source/scenarios/barrow.yaml" --starts 1 --quiet >"$room/survey" && head -n 3 "$room/survey" || bad=1
[ "$bad" = 0 ] && echo "$(tar -tzf "$archive" | grep -vc '/$') files: built and tried with nothing else"
exit $bad
