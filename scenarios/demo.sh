#!/usr/bin/env bash
# From a fresh checkout to the first answer: installs what is missing, builds hubphase into build/demo,
# surveys the first scenario and draws its pictures. Safe to run again and again.
set -euo pipefail
cd "$(dirname "$0")/.."
. tests/packages.sh

scenario=scenarios/barrow.yaml
folder=build/demo
pictures=$folder/pictures

need_packages "that build hubphase" "${build_packages[@]}"

echo "Building in $folder."
log=$folder/build.log
mkdir -p "$folder"
# Without this check a log that cannot be written would pass for a build that succeeded.
: >"$log" || {
    echo "The build's output cannot be kept in $log: see the message above." >&2
    exit 1
}
if ! { cmake -S . -B "$folder" -G Ninja -DCMAKE_BUILD_TYPE=RelWithDebInfo -DBUILD_TESTING=OFF &&
    cmake --build "$folder" -j "$(nproc)"; } >"$log" 2>&1; then
    tail -40 "$log" >&2
    echo "The build failed; all of its output is in $log." >&2
    exit 1
fi

echo "Surveying $scenario."
echo
"$folder/hubphase" survey "$scenario" --plots "$pictures"

cat <<MESSAGE

The pictures are in $PWD/$pictures:
    map.svg           all 36 wirings, their verdicts, speed and current
    bars.svg          speed and current of each kind of wiring
    classes.svg       ripple against current excess, with the boundary
    torque-angle.svg  torque over one electrical turn, smooth, rough and stalled
    lead-angles.svg   where the field stands in each wiring
    six-steps.svg     the six steps of the table

Go on with
    $folder/hubphase explain $scenario --wiring 12    (colour joined to colour)
    $folder/hubphase next scenarios/seeddrill.yaml    (a hub without papers: what to measure next)
    $folder/hubphase bench scenarios/seeddrill.yaml       (the same, asking what each step showed)
    $folder/hubphase sheet $scenario -o $folder/sheet.html      (the wiring sheet for the next person)
    $folder/hubphase --help
and with a scenario of your own: copy $scenario and put your figures in.
MESSAGE
