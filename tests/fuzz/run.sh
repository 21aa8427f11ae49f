#!/usr/bin/env bash
# Runs a fuzz target: what it once found, then its corpus, then inputs made of them.
#
#   run.sh TARGET SOURCE --runs N        so many executions, always the same ones; a test
#   run.sh TARGET SOURCE --seconds N     so long, another run each time; what it learns is kept in FOLDER
#                        [--keep FOLDER]
#
# A find is left in the folder where it was run (crash-..., timeout-...). Once mended it goes into
# tests/fuzz/finds/TARGET and is tried in every run.
set -eu
target=$1 source=$2 how=$3 amount=$4
name=$(basename "$target")
name=${name#fuzz_}
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
keep=$room/keep
[ "${5:-}" != --keep ] || keep=$6
mkdir -p "$keep"
bash "$source/tests/fuzz/corpus.sh" "$name" "$source" "$room/corpus"

# Outside libraries leak where a text is wrong, and argp where it leaves: what is looked for is harm.
export ASAN_OPTIONS=detect_leaks=0:allocator_may_return_null=1
options=(-timeout=300 -rss_limit_mb=4000 -max_len=20000 -print_final_stats=1 -verbosity=1)
[ "$name" != options ] || options+=(-max_len=600)
[ "$name" != names ] || options+=(-max_len=300)

if [ -d "$source/tests/fuzz/finds/$name" ]; then
    "$target" -runs=1 -timeout=300 "$source/tests/fuzz/finds/$name"/* >"$room/finds" 2>&1 ||
        { tail -40 "$room/finds"; exit 1; }
fi
case $how in
--runs) options+=("-runs=$amount" -seed=18) ;;
--seconds) options+=("-max_total_time=$amount") ;;
*) echo "run.sh: --runs or --seconds" >&2; exit 2 ;;
esac
status=0
"$target" "${options[@]}" "$keep" "$room/corpus" >"$room/log" 2>&1 || status=$?
if [ "$status" -ne 0 ]; then
    tail -60 "$room/log"
    exit "$status"
fi
executions=$(sed -n 's/^stat::number_of_executed_units: *//p' "$room/log")
covered=$(grep -oE 'cov: [0-9]+ ft: [0-9]+' "$room/log" | tail -n 1)
echo "$name: $executions executions, ${covered:-nothing covered}, nothing found"
[ "${executions:-0}" -ge 1 ]
