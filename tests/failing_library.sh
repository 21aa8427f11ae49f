#!/usr/bin/env bash
# Memory that runs out inside libfyaml is told as that, never as a mistake in the file.
#
#   failing_library.sh PROGRAM PRELOADED SCENARIO
#
# Some versions of libfyaml follow the null pointer of some allocations (0.7.12 does): a program that
# such a one ends by a signal says nothing, and does not count. That is why scenario_yaml.c asks beforehand
# for what it can need.
set -u
program=$1 preloaded=$2 scenario=$3
told=0
# The last are those at which it makes the texts of values (of barrow.yaml, with libfyaml 0.7.12).
for at in $(seq 0 7 350) $(seq 500 4 560); do
    said=$({ FAIL_IN=fyaml FAIL_AT=$at LD_PRELOAD=$preloaded "$program" survey "$scenario" --show-parameters >/dev/null; } 2>&1)
    status=$?
    case $said in
    *"not proper YAML"*) echo "allocation $at: $said"; exit 1 ;;
    "hubphase survey: out of memory: no memory for libfyaml")
        [ $status = 1 ] || { echo "allocation $at: status $status"; exit 1; }
        told=$((told + 1))
        ;;
    "" | *"egmentation"*) [ $status = 0 ] || [ $status -gt 128 ] || { echo "allocation $at: status $status"; exit 1; } ;;
    *) echo "allocation $at: status $status: $said"; exit 1 ;;
    esac
done
echo "told $told times"
[ $told -ge 10 ]
