#!/usr/bin/env bash
# Simulates once, for all command-line cases, the tables that many of them ask for: of the barrow and of small.yaml.
# Each would else simulate its own, seconds of work, and most of a minute under the sanitizers. Made by the program
# that the cases run, and anew whenever that is another.
#
#   cli_tables.sh PROGRAM SOURCE TABLES
#
# A case finds copies of them in its cache (run_cli.sh); one about the cache itself begins with leave_no_tables.
set -eu
program=$1 source=$2 tables=$3
print=$(sha256sum <"$program")
[ "$(cat "$tables/print" 2>/dev/null)" != "$print" ] || exit 0
rm -rf "$tables"
mkdir -p "$tables"
cd "$tables"
. "$source/tests/cli_tools.sh"
write_scenario
for scenario in "$source/scenarios/barrow.yaml" small.yaml; do
    XDG_CACHE_HOME=$tables "$program" next "$scenario" --log none.bench.yaml --quiet >/dev/null
done
[ "$(find hubphase -name 'likelihood-*.txt' | wc -l)" = 2 ]
echo "$print" >print
