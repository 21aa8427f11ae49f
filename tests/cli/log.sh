# Every kind of entry from options, in words and in the file; taking back; the file read again.
cp scenarios/barrow.yaml barrow.yaml
at() { run log barrow.yaml "$@" --time 2026-11-25T10:40:00+01:00; }
run log barrow.yaml
at pins --continuity yes --touches-shell no --phase-touches-sensor no \
    --phase-pins yellow=A --phase-pins green=B --phase-pins blue=C \
    --sensor-pins yellow=3 --sensor-pins green=4 --sensor-pins W=5 --supply-plus-pin 1 --supply-minus-pin 2
at pins --continuity yellow-green=yes --continuity blue-green=no
at sensor-supply --supply-v 5.04 --note 'smells: of "varnish", a bit'
at hand_turn --codes "100 110,010" --direction backward --edges-per-wheel-turn 46
at winding --resistance-ohm yellow-green=0.25 --resistance-ohm W-V=open --test-leads-ohm 0.04 --winding-c -5
at spin --voltage-v U-V=9.8 --wheel-speed-rpm 60 --meter peak
at park --plus-lead blue --no-current yes
at park --plus-lead v --code 010
at controller_probe --rows '100=blue>yellow' --rows 111=off
at trial --wiring 12 --motion forward --feel rough --starts 6 --starts-tried 6 --battery-a 4.4 \
    --wheel-speed-rpm 110 --cut-out no --warm yes
at trial --wiring "yellow green blue / U V W" --throttle-percent 20 --motion still
at learn --worked no
at mend --part sensor_stuck_low --lead green
at mend --part inverted_sensor
mask_times() { sed -E 's/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/'; }
run log barrow.yaml --undo | mask_times
run log barrow.yaml learn --worked yes --quiet
run log barrow.yaml --undo --quiet
mask_times <barrow.bench.yaml
run log barrow.yaml | mask_times
# Another log by name; without --time it is now.
run log barrow.yaml learn --worked yes --log other.yaml | mask_times
list_files
