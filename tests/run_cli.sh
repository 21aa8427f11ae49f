#!/usr/bin/env bash
# Runs one command-line case and compares what came out.
#
#   run_cli.sh PROGRAM SOURCE CASE [TABLES | --update]
#
# A case is tests/cli/CASE.sh beside CASE.stdout, CASE.stderr (left out: empty) and CASE.status (left
# out: 0). The script runs in an empty folder that holds only links to the scenarios and the cases, with
# a bare environment, and calls the program as `hubphase`. --update writes what came out as the new
# expectation: read the difference before committing it. A case that leaves with 77 cannot run here and
# counts as skipped. TABLES: simulated before (cli_tables.sh), copied into the cache.
set -u
program=$1 source=$2 name=$3 update=${4:-}
tables=
[ "$update" = --update ] || tables=$update
cases=$source/tests/cli
room=$(mktemp -d) || exit 2
trap 'rm -rf "$room"' EXIT
mkdir "$room/here" "$room/bin" "$room/.cache"
[ ! -d "$tables/hubphase" ] || cp -r "$tables/hubphase" "$room/.cache"
ln -s "$program" "$room/bin/hubphase"
ln -s "$source/scenarios" "$room/here/scenarios"
ln -s "$cases" "$room/here/cases"

cd "$room/here" || exit 2
env -i PATH="$room/bin:$PATH" HOME="$room" LC_ALL=C.UTF-8 \
    ASAN_OPTIONS="${ASAN_OPTIONS:-}" UBSAN_OPTIONS="${UBSAN_OPTIONS:-}" LSAN_OPTIONS="${LSAN_OPTIONS:-}" \
    LLVM_PROFILE_FILE="${LLVM_PROFILE_FILE:-}" \
    bash -c '. "$0"; . "$1"' "$source/tests/cli_tools.sh" "$cases/$name.sh" >"$room/stdout" 2>"$room/stderr" </dev/null
echo $? >"$room/status"
if [ "$(cat "$room/status")" = 77 ]; then
    cat "$room/stderr"
    exit 77
fi

if [ "$update" = --update ]; then
    cp "$room/stdout" "$cases/$name.stdout"
    rm -f "$cases/$name.stderr" "$cases/$name.status"
    [ ! -s "$room/stderr" ] || cp "$room/stderr" "$cases/$name.stderr"
    [ "$(cat "$room/status")" = 0 ] || cp "$room/status" "$cases/$name.status"
    exit 0
fi

verdict=0
# compare WHAT DEFAULT
compare() {
    local expected=$cases/$name.$1
    if [ ! -e "$expected" ]; then
        printf '%s' "$2" >"$room/expected"
        expected=$room/expected
    fi
    if ! diff -u --label "expected $1" --label "$1 of this run" "$expected" "$room/$1"; then
        verdict=1
    fi
}
compare stdout ""
compare stderr ""
compare status "0
"
exit $verdict
