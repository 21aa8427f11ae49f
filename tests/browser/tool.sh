#!/usr/bin/env bash
# The page with the library inside, in three engines, and hidden machines that are led through it by taps.
#
#   tool.sh engines PROGRAM SOURCE ROOM
#   tool.sh machine PROGRAM SOURCE ROOM                 what the page says of the whole machine, in Chromium
#   tool.sh practise PROGRAM SOURCE ROOM                a hidden machine is found in it, in Chromium
#   tool.sh killed  PROGRAM SOURCE ROOM                 whose tab is killed again and again, in Chromium
#   tool.sh page    PROGRAM SOURCE ROOM PERSON COUNT    COUNT machines, in Chromium
#   tool.sh wall    PROGRAM SOURCE ROOM FACE            the wall of a club evening, in Chromium and in three engines;
#                                                       then the plans of docs/teaching.md pressed on it
#   tool.sh face    FACE    SOURCE ROOM PERSON COUNT    the same through the library's face, without a page
#
# Works in ROOM, a folder of the build. Leaves with 77 (skipped) where what it needs is not there; of three
# engines those that are not there are left out, and it says so.
set -eu
what=$1 program=$2 source=$3 room=$4
. "$source/tests/browser/room.sh"
if [ "$what" = face ]; then
    command -v node >/dev/null || { echo "no node here: skipped"; exit 77; }
    PERSON=$5 FACE=$program exec node "$source/tests/browser/hidden.mjs" face "$6"
fi
[ -n "$CHROMIUM$FIREFOX$WEBKIT" ] || { echo "no browser here: skipped"; exit 77; }
mkdir -p "$room"
"$program" page --quiet -o "$room/tool.html" ||
    { echo "this build has not the library as WebAssembly: skipped"; exit 77; }
prepare_room "$source" "$room"
if [ "$what" != engines ]; then
    [ -n "$CHROMIUM" ] || { echo "no chromium here: skipped"; exit 77; }
fi
if [ "$what" = page ]; then
    PERSON=$5 PAGE=tool.html exec node hidden.mjs page "$6"
fi
if [ "$what" = wall ]; then
    rm -rf walls
    mkdir -p walls
    for machine in "$source"/scenarios/{barrow,trike,wheelhoe,seeddrill,trailer}.yaml "$source/tests/browser/hostile.yaml"; do
        "$program" lesson "$machine" --quiet -o "walls/$(basename "$machine" .yaml)"
    done
    # The barrow with Hall sensors elsewhere.
    sed 's/^controller:$/sensors:\n  spacing_deg: 60\n&\n  table: six_step_60/' "$source/scenarios/barrow.yaml" >walls/sixty.yaml
    sed 's/^controller:$/sensors:\n  placement_error_deg: {U: -6, V: -9, W: -4}\n&/' "$source/scenarios/barrow.yaml" >walls/askew.yaml
    for machine in walls/{sixty,askew}.yaml; do
        "$program" lesson "$machine" --quiet -o "walls/$(basename "$machine" .yaml)"
    done
    # The same asked of the library natively.
    node -e 'const scenario = require("fs").readFileSync(process.argv[1], "utf8");
        console.log(JSON.stringify({ do: "open", name: "barrow.yaml", scenario }));
        console.log(JSON.stringify({ do: "lesson" }));' "$source/scenarios/barrow.yaml" | "$5" >walls/barrow.json
    HUBPHASE=$program BARROW=$source/scenarios/barrow.yaml node wall.test.mjs
    TEACHING=$source/docs/teaching.md exec node plan.test.mjs
fi
mkdir -p pages
cp "$source/scenarios/minimal.yaml" pages/plain.yaml
export XDG_CACHE_HOME=$room/cache
HUBPHASE=$program exec node "$what.test.mjs"
