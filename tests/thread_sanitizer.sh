#!/usr/bin/env bash
# Whether two threads ever use something at the same time without agreeing on it (ThreadSanitizer): builds the tests
# that use threads once more, and runs them. Says what it ran; a race fails its test.
#
#   tests/thread_sanitizer.sh [FOLDER]     FOLDER: of the build (build/threads); kept
set -euo pipefail
cd "$(dirname "$0")/.."
folder=${1:-build/threads}
# Whatever simulates in more than one thread: surveys, spreads, likelihood tables, lessons, the face; and Ctrl-C and
# the process that draws, between threads. What is below Pango is left aside (threads.supp).
programs=(test_apart test_canvas test_spread test_spread_part test_survey test_likelihood test_likelihood_store
    test_fit test_lesson test_scenes test_face)
cases=(cli_survey cli_spread cli_stopped cli_interrupted cli_spread_interrupted)

cmake -S . -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DHP_WEB=OFF -DHP_FUZZ=OFF \
    "-DCMAKE_C_FLAGS=-fsanitize=thread -O1" >"${TMPDIR:-/tmp}/thread_sanitizer.$$" ||
    { cat "${TMPDIR:-/tmp}/thread_sanitizer.$$"; exit 1; }
rm -f "${TMPDIR:-/tmp}/thread_sanitizer.$$"
cmake --build "$folder" -j "$(nproc)" --target hubphase "${programs[@]}" | tail -n 1
# A test fails on a race, and goes on so that all are told.
export TSAN_OPTIONS=exitcode=66:halt_on_error=0:suppressions=$PWD/tests/threads.supp
# Its memory must lie where it expects it: some kernels spread addresses wider than it bears.
bare() { setarch "$(uname -m)" -R "$@"; }
bad=0
# Not by ctest, whose limits are for a build that is not watched.
for program in "${programs[@]}"; do
    if bare "$folder/tests/$program" >"$folder/said" 2>&1; then
        echo "$program: no race"
    else
        bad=1
        grep -v '^\[ *\(RUN\|OK\)' "$folder/said"
        echo "$program: failed"
    fi
done
pattern="^($(IFS='|'; echo "${cases[*]}"))\$"
bare ctest --test-dir "$folder" --timeout 3600 --output-on-failure -R "$pattern" || bad=1
exit $bad
