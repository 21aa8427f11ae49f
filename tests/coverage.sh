#!/usr/bin/env bash
# Which lines and branches of the library the tests run: builds once more with clang's counters, runs the tests that
# tests/run.sh runs under the sanitizers, with as few draws, and sums up by layer. A branch is one outcome of one
# condition:
#
#   tests/coverage.sh [FOLDER] [CTEST-OPTION...]     FOLDER: of the build (build/coverage); kept
#
# What ran which line: llvm-cov show -instr-profile FOLDER/tests.profdata FOLDER/libhubphase.so [FILE]
set -euo pipefail
cd "$(dirname "$0")/.."
folder=${1:-build/coverage}
shift || true
# In this build an allocation that is made to fail is one of a library's own start, before the program begins.
[ $# -gt 0 ] || set -- -LE "full|slow|once" -E '^failing_'
# The tool of clang's own version, else the one that there is.
tool() { # NAME
    command -v "$1-$version" || command -v "$1" || {
        echo "coverage.sh: $1 is missing (Debian: package llvm)" >&2
        return 1
    }
}
command -v clang >/dev/null || { echo "coverage.sh: clang is missing (Debian: package clang)" >&2; exit 1; }
version=$(clang --version | sed -n '1s/.*version \([0-9]*\).*/\1/p')
profdata=$(tool llvm-profdata)
cov=$(tool llvm-cov)
cmake -S . -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_C_COMPILER=clang -DHP_WEB=OFF -DHP_FUZZ=OFF \
    "-DCMAKE_C_FLAGS=-fprofile-instr-generate -fcoverage-mapping -DHP_FEW_DRAWS"
cmake --build "$folder" -j "$(nproc)"
folder=$(cd "$folder" && pwd)
rm -rf "$folder/counts"
# Programs of one kind add to a few files in turn.
LLVM_PROFILE_FILE="$folder/counts/%4m.profraw" ctest --test-dir "$folder" -j "$(nproc)" --timeout 3600 "$@" ||
    echo "Not all passed; what the others ran is counted." >&2
"$profdata" merge -sparse "$folder"/counts/*.profraw -o "$folder/tests.profdata"
"$cov" export -summary-only -instr-profile "$folder/tests.profdata" "$folder/libhubphase.so" >"$folder/coverage.json"
python3 -B tests/coverage_sum.py "$folder/coverage.json" 20
