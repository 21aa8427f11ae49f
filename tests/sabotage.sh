#!/usr/bin/env bash
# Breaks the model on purpose, one way at a time, and shows which tests catch it.
#
#   sabotage.sh PYTHON RESULT_FOLDER [NUMBER...]
#
# Works on a copy of the sources in a temporary folder; the tree is not touched. Exit status 0 only if
# the unbroken copy passes and every broken one is caught. Takes many minutes. With numbers, only those
# mutations are tried and nothing is recorded.
set -euo pipefail
here=$(cd "$(dirname "$0")/.." && pwd)
exec "$1" -B "$here/tests/validation/sabotage.py" "$here" "${@:2}"
