#!/usr/bin/env bash
# Breaks the sources on purpose, one way at a time, and shows which tests catch it.
#
#   sabotage.sh PYTHON LIST RESULT_FOLDER [NUMBER...]
#   sabotage.sh PYTHON LIST check DOCUMENT
#
# LIST is sabotage_simulation or sabotage_advice (tests/validation). Works on a copy of the sources in the
# result folder; the tree is not touched. Exit status 0 only if the unbroken copy passes and every broken
# one is caught. Takes many minutes. With numbers, only those mutations are tried and nothing is recorded.
# `check` builds nothing: it looks whether every mutation has its place and the document lists them all.
set -euo pipefail
here=$(cd "$(dirname "$0")/.." && pwd)
exec "$1" -B "$here/tests/validation/sabotage.py" "$here" "${@:2}"
