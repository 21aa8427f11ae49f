#!/usr/bin/env bash
# scenarios/demo.sh in a make-believe tree: it never goes on with a program that it did not build.
#
#   demo_check.sh SOURCE
set -u
source=$1
room=$(mktemp -d) || exit 2
trap 'rm -rf "$room"' EXIT
failures=0
fail() {
    echo "$*" >&2
    failures=$((failures + 1))
}

# A tree whose cmake says CMAKE_SAYS and ends with CMAKE_STATUS, with a program that an earlier build left.
mkdir -p "$room/bin" "$room/tree/scenarios" "$room/tree/tests" "$room/tree/build/demo"
cp "$source/scenarios/demo.sh" "$room/tree/scenarios/"
echo 'build_packages=(); need_packages() { :; }' >"$room/tree/tests/packages.sh"
printf '#!/bin/sh\necho "$CMAKE_SAYS"\nexit "$CMAKE_STATUS"\n' >"$room/bin/cmake"
printf '#!/bin/sh\necho "the program ran: $1"\n' >"$room/tree/build/demo/hubphase"
chmod +x "$room/bin/cmake" "$room/tree/build/demo/hubphase"

# demo STATUS-OF-CMAKE: what it prints goes to $room/printed.
demo() {
    env PATH="$room/bin:$PATH" CMAKE_SAYS="cmake was here" CMAKE_STATUS="$1" \
        bash "$room/tree/scenarios/demo.sh" >"$room/printed" 2>&1
}
log=$room/tree/build/demo/build.log

demo 0 || fail "a good build fails"
grep -q "the program ran: survey" "$room/printed" || fail "the program did not run"
grep -q "cmake was here" "$log" || fail "the build's output is not kept"

demo 1 && fail "a failed build passes"
grep -q "the program ran" "$room/printed" && fail "an old program ran after a failed build"
grep -q "cmake was here" "$room/printed" || fail "the end of the build's output is not shown"

# A folder in its place cannot be written by anybody, root included.
rm "$log" && mkdir "$log"
demo 0 && fail "a log that cannot be written passes"
grep -q "the program ran" "$room/printed" && fail "an old program ran when the log could not be written"
grep -q "output cannot be kept in build/demo/build.log" "$room/printed" || fail "no clear word about the log"

exit "$failures"
