#!/usr/bin/env bash
# The pages of the library in a browser: what people do with them, and hidden machines that are led through them by
# taps. Each test works in a room of its own, a folder of the build beside what it needs of npm.
#
#   tool.sh WHAT PROGRAM SOURCE FOLDER      in FOLDER/WHAT, in Chromium unless it says otherwise:
#           steps                           from step to step at the bench
#           answers                         what is answered, changed, kept
#           files                           scenarios, logs, forms
#           views                           what is looked at
#           machine                         what the page says of the whole machine
#           practise                        a hidden machine is found in it
#           killed                          whose tab is killed again and again
#           engines                         in three engines
#           page PERSON COUNT               COUNT hidden machines
#           wall FACE                       the wall of a club evening, in three engines
#           plan                            the plans of docs/teaching.md pressed on the wall
#   tool.sh face FACE SOURCE FOLDER PERSON COUNT    COUNT hidden machines, through the library's face without a page
#
# Leaves with 77 (skipped) where what it needs is not there; of three engines those that are not there are left
# out, and it says so.
set -eu
what=$1 program=$2 source=$3 folder=$4
. "$source/tests/browser/room.sh"
if [ "$what" = face ]; then
    command -v node >/dev/null || { echo "no node here: skipped"; exit 77; }
    PERSON=$5 FACE=$program exec node "$source/tests/browser/hidden.mjs" face "$6"
fi
[ -n "$CHROMIUM$FIREFOX$WEBKIT" ] || { echo "no browser here: skipped"; exit 77; }
if [ "$what" != engines ]; then
    [ -n "$CHROMIUM" ] || { echo "no chromium here: skipped"; exit 77; }
fi
if [ "$what" = views ]; then
    command -v pdftotext >/dev/null || { echo "no pdftotext here: skipped"; exit 77; }
fi
prepare_room "$source" "$folder" "$what"
"$program" page --quiet -o tool.html ||
    { echo "this build has not the library as WebAssembly: skipped"; exit 77; }
export XDG_CACHE_HOME=$PWD/cache

# wall_of MACHINE: the wall of a demo machine as walls/MACHINE. It takes long to simulate: whichever test comes first
# makes it, in FOLDER/made, anew where program or scenario are newer.
wall_of() {
    local made=$folder/made/$1 scenario=$source/scenarios/$1.yaml
    mkdir -p "$folder/made"
    exec 8>"$made.lock"
    flock 8
    if [ ! -e "$made" ] || [ "$program" -nt "$made" ] || [ "$scenario" -nt "$made" ]; then
        rm -rf "$made" "$made.unfinished"
        "$program" lesson "$scenario" --quiet -o "$made.unfinished"
        mv "$made.unfinished" "$made"
    fi
    exec 8>&-
    cp -r "$made" "walls/$1"
}

case $what in
page)
    PERSON=$5 PAGE=tool.html exec node hidden.mjs page "$6"
    ;;
wall)
    # Demo machines; and the barrow made another in one thing, which is simulated faster than a demo machine that is.
    rm -rf walls
    mkdir walls
    barrow=$source/scenarios/barrow.yaml
    cp "$source/scenarios/seeddrill.yaml" "$source/tests/browser/hostile.yaml" walls/
    # Hall sensors elsewhere: told to the controller; not told, which is a fault; a board askew.
    sed 's/^controller:$/sensors:\n  spacing_deg: 60\n&\n  table: six_step_60/' "$barrow" >walls/sixty.yaml
    sed 's/^controller:$/sensors:\n  spacing_deg: 60\n&/' "$barrow" >walls/faulty.yaml
    sed 's/^controller:$/sensors:\n  placement_error_deg: {U: -6, V: -9, W: -4}\n&/' "$barrow" >walls/askew.yaml
    # A controller with letters and numbers of its own, whose table is the mirror image of the usual one.
    sed -e 's/^controller:$/&\n  table: {"100": W>V, "110": U>V, "010": U>W, "011": V>W, "001": V>U, "101": W>U}/' \
        -e 's/controller_outputs: .*/controller_outputs: {U: A, V: B, W: C}/' \
        -e 's/controller_inputs: .*/controller_inputs: {U: H1, V: H2, W: H3}/' "$barrow" >walls/mirrored.yaml
    for machine in walls/*.yaml; do
        "$program" lesson "$machine" --quiet -o "${machine%.yaml}"
    done
    for machine in trike barrow; do
        cp "$source/scenarios/$machine.yaml" walls/
        wall_of "$machine"
    done
    # The same asked of the library natively.
    node -e 'const scenario = require("fs").readFileSync(process.argv[1], "utf8");
        console.log(JSON.stringify({ do: "open", name: "barrow.yaml", scenario }));
        console.log(JSON.stringify({ do: "lesson" }));' "$barrow" | "$5" >walls/barrow.json
    HUBPHASE=$program BARROW=$barrow exec node wall.test.mjs
    ;;
plan)
    rm -rf walls
    mkdir walls
    for machine in barrow trike; do
        wall_of "$machine"
    done
    TEACHING=$source/docs/teaching.md exec node plan.test.mjs
    ;;
esac

# The default drive, whose table of likelihoods is part of the program.
rm -rf pages
mkdir pages
cp "$source/scenarios/minimal.yaml" pages/plain.yaml
cp "$source/tests/browser/hostile.yaml" pages/
if [ "$what" = files ]; then
    # Another battery wants a table of likelihoods of its own; two wirings were tried, which leave one way round.
    { cat pages/plain.yaml; echo 'supply: {battery_v: 42}'; } >pages/own.yaml
    cat >pages/own.bench.yaml <<'END'
hubphase_log: 1
scenario: own
entries:
  - time: 2026-10-03T10:00:00+01:00
    trial: {wiring: 12, throttle_percent: 40, motion: backward, feel: rough, starts: 6, starts_tried: 6}
  - time: 2026-10-03T10:10:00+01:00
    trial: {wiring: 1, throttle_percent: 40, motion: backward, feel: smooth, starts: 6, starts_tried: 6}
END
    "$program" page pages/own.yaml --quiet -o pages/written-own.html
fi
HUBPHASE=$program exec node "$what.test.mjs"
