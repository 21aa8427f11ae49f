#!/usr/bin/env bash
# What clang-tidy (.clang-tidy) and cppcheck (tests/cppcheck.supp) find in src; silent but for finds and a last
# line with counts. Takes some ten minutes of processor time, so it is no part of a usual run:
#
#   tests/analyse.sh [SOURCE.c ...]     all of src, or these
#   ctest -L full -R analyse
set -euo pipefail
cd "$(dirname "$0")/.."
for tool in clang-tidy cppcheck clang cmake; do
    command -v $tool >/dev/null || { echo "skipped: $tool is not here (packages: clang-tidy, cppcheck)"; exit 77; }
done
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
# How each file is compiled, said by a build that is only configured.
cmake -S . -B "$room/build" -G Ninja -DCMAKE_C_COMPILER=clang -DHP_WEB=OFF -DHP_FUZZ=OFF -DBUILD_TESTING=OFF \
    >"$room/cmake" 2>&1 || { cat "$room/cmake"; exit 1; }
[ $# -gt 0 ] || mapfile -t files < <(find src -name '*.c' ! -path 'src/web/wasm/*' | sort)
[ $# -eq 0 ] || files=("$@")
jobs=$(nproc)

# A file at a time: clang-tidy mixes up what several have in common. Asserts tell it what always holds.
tidy() {
    local model=(--extra-arg=-include "--extra-arg=$PWD/tests/analyse.h")
    [ "$2" != src/base/result.c ] || model=() # which defines what the model stands for
    clang-tidy -p "$1" -quiet --extra-arg=-UNDEBUG "${model[@]}" "$2" 2>/dev/null || echo "$2: see above"
}
export -f tidy
printf '%s\0' "${files[@]}" | xargs -0 -P "$jobs" -n 1 bash -c 'tidy "$@"' tidy "$room/build" >"$room/tidy" || true
grep -v '^[0-9]* warnings\? generated' "$room/tidy" || true
tidied=$(grep -cE '(warning|error): .*\[' "$room/tidy" || true)

filters=()
for file in "${files[@]}"; do
    filters+=("--file-filter=*/${file#./}")
done
# Both kinds of builds of a source are one here: the project says what is defined.
cppcheck --project="$room/build/compile_commands.json" "${filters[@]}" -j "$jobs" --quiet --inline-suppr \
    --enable=warning,performance,portability --library=posix,gnu --suppressions-list=tests/cppcheck.supp \
    --template='{file}:{line}: {severity}: {message} [{id}]' 2>"$room/cppcheck" >/dev/null || true
cat "$room/cppcheck"
checked=$(grep -cE ': (error|warning|performance|portability|style): ' "$room/cppcheck" || true)

echo "${#files[@]} sources: clang-tidy $tidied, cppcheck $checked"
[ "$tidied" -eq 0 ] && [ "$checked" -eq 0 ] && ! grep -q 'see above' "$room/tidy"
