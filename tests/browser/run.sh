#!/usr/bin/env bash
# What the page for the bench does in a real browser: Debian's Chromium, driven by playwright-core.
#
#   run.sh PROGRAM SOURCE ROOM
#
# Works in ROOM, a folder of the build: the two packages that package-lock.json pins are installed
# there, not in the source. Leaves with 77 (skipped) where there is no browser, node, npm or pdftotext.
set -eu
program=$1 source=$2 room=$3
browser=${CHROMIUM:-$(command -v chromium || command -v chromium-browser || true)}
for tool in node npm pdftotext; do
    command -v $tool >/dev/null || { echo "no $tool here: skipped"; exit 77; }
done
[ -n "$browser" ] || { echo "no chromium here: skipped"; exit 77; }

mkdir -p "$room"
cd "$room"
cp "$source"/tests/browser/*.mjs "$source"/tests/browser/package.json .
if ! cmp -s "$source/tests/browser/package-lock.json" package-lock.json || [ ! -e node_modules/axe-core ]; then
    cp "$source/tests/browser/package-lock.json" .
    npm ci --no-audit --no-fund --ignore-scripts || { rm package-lock.json; exit 1; }
fi

# The default drive, whose table of likelihoods is part of the program.
export XDG_CACHE_HOME=$room/cache
rm -rf pages && mkdir pages
cp "$source/scenarios/minimal.yaml" pages/plain.yaml
cp "$source/tests/browser/hostile.yaml" pages/
# Two wirings tried, which leave one way round.
cat >pages/moved.bench.yaml <<'END'
hubphase_log: 1
scenario: plain
entries:
  - time: 2026-10-03T10:00:00+01:00
    trial: {wiring: 12, throttle_percent: 40, motion: backward, feel: rough, starts: 6, starts_tried: 6}
  - time: 2026-10-03T10:10:00+01:00
    trial: {wiring: 1, throttle_percent: 40, motion: backward, feel: smooth, starts: 6, starts_tried: 6}
END
if [ -n "$("$program" page -o - 2>&1 >pages/tool.html)" ]; then
    echo "this program cannot put itself into a page: skipped"
    exit 77
fi
# Another battery wants a table of likelihoods of its own.
{ cat "$source/scenarios/minimal.yaml"; echo 'supply: {battery_v: 42}'; } >pages/own.yaml
sed 's/^scenario: plain/scenario: own/' pages/moved.bench.yaml >pages/own.bench.yaml
"$program" page pages/own.yaml --quiet -o pages/written-own.html
HUBPHASE=$program CHROMIUM=$browser node tool.test.mjs
