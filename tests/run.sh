#!/usr/bin/env bash
# Installs what the tests need, builds twice and runs every test twice:
#   build/debug      Debug with the address and undefined-behaviour sanitizers; tests labelled "slow"
#                    are left out there, since a sanitizer makes them many times slower still, and so are
#                    those labelled "once", of which it would tell nothing (tests/CMakeLists.txt says why)
#   build/optimised  as users build it; all tests but those labelled "full", which compare with outside
#                    programs at length: `ctest --test-dir build/optimised -L full` runs them
# Exit status 0 only if everything built and every test passed. Safe to run again and again.
set -euo pipefail
cd "$(dirname "$0")/.."
. tests/packages.sh

need_packages "that build hubphase" "${build_packages[@]}"
need_packages "that test hubphase" "${test_packages[@]}"
# Ubuntu has no chromium package; then the tests in a browser are skipped, and say so.
need_packages "that test hubphase in a browser" "${browser_packages[@]}" ||
    echo "The tests in a browser will be skipped." >&2
need_packages "that test hubphase in Firefox" "${firefox_packages[@]}" || echo "Firefox will be left out." >&2
need_packages "that test hubphase in WebKit" "${webkit_packages[@]}" || echo "WebKit will be left out." >&2
# shellcheck disable=SC2046 # one package, or none where the compiler's version is not known
need_packages "that make the library as WebAssembly" "${web_packages[@]}" $(wasm_runtime_package) ||
    echo "The page will be without the library as WebAssembly." >&2
# shellcheck disable=SC2046 # likewise
need_packages "that look for inputs that break it" clang $(fuzz_runtime_package) ||
    echo "The fuzz targets will be left out." >&2

jobs=$(nproc)
failures=0

# build_and_test FOLDER "what ctest leaves out" CMAKE-OPTION...
build_and_test() {
    local folder=$1 left_out=$2
    shift 2
    echo
    echo "== $folder =="
    cmake -S . -B "$folder" -G Ninja "$@"
    cmake --build "$folder" -j "$jobs"
    ctest --test-dir "$folder" -j "$jobs" --output-on-failure -LE "$left_out" ||
        failures=$((failures + 1))
}

# -O1: the sanitizers lose nothing by it and the tests run in a third of the time.
build_and_test build/debug "slow|once|full" -DCMAKE_BUILD_TYPE=Debug "-DCMAKE_C_FLAGS_DEBUG=-g -O1" -DHP_SANITIZE=ON
build_and_test build/optimised full -DCMAKE_BUILD_TYPE=RelWithDebInfo -DHP_SANITIZE=OFF

if [ "$failures" -ne 0 ]; then
    echo "Tests failed in $failures of 2 builds: see above." >&2
    exit 1
fi
