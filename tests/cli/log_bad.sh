# Each wrong command line of log: what was wrong, which value, what was expected; status 2, and no
# file is made.
cp scenarios/barrow.yaml barrow.yaml
run log
run log barrow.yaml trail --wiring 3
run log barrow.yaml horn
run log barrow.yaml trial park
run log barrow.yaml --battery-a 3
run log barrow.yaml --note "what was it"
run log barrow.yaml --undo trial
run log barrow.yaml --undo --note again
run log barrow.yaml --log ""
run log barrow.yaml trial --wiring 3 --supply-v 5
run log barrow.yaml trial --wiring 3 --time yesterday
run log barrow.yaml trial --wiring 3 --note $'two\nlines'
run log barrow.yaml trial --wiring 3 --note $'gr\xfcn'
run log barrow.yaml trial --wiring 3 --note "$(printf '%01024d' 0)" | tail -2
run log barrow.yaml trial --wiring 3 --wiring 4
run log barrow.yaml trial --motion vorwards --feel "" --starts 3 --battery-a 3A --cut-out perhaps
run log barrow.yaml trial --wiring 37 --throttle-percent 101
run log barrow.yaml trial --wiring 1 --throttle-percent 0.35 --motion forward
run log barrow.yaml trial --wiring 3 --starts 4 --starts-tried 3
run log barrow.yaml trial --wiring 3 --motion still --starts 1 --starts-tried 3
run log barrow.yaml trial --wiring 3 --battery-a '1: 2' --wheel-speed-rpm '-5' --warm '[yes]'
run log barrow.yaml trial --wiring "yellow green red / yellow green blue"
run log barrow.yaml winding
run log barrow.yaml winding --resistance-ohm 0.2
run log barrow.yaml winding --resistance-ohm yellow-green=0,2 --resistance-ohm red-green=1
run log barrow.yaml winding --resistance-ohm U-V=1 --resistance-ohm V-U=1 --resistance-ohm U-W=shut
run log barrow.yaml spin --voltage-v U-V=open --wheel-speed-rpm 0 --meter digital
run log barrow.yaml hand_turn --codes 102
run log barrow.yaml park --plus-lead red --code 12
run log barrow.yaml controller_probe --rows 102=off --rows '100=blue>blue'
run log barrow.yaml pins --phase-pins yellow=1
run log barrow.yaml pins --continuity maybe
run log barrow.yaml mend --part phase_lead_open
run log barrow.yaml mend --part clutch --lead blue
list_files
# A name that nobody can mean is not said back whole.
hubphase log barrow.yaml key --pins "$(printf 'a%.0s' {1..3000})=0/37" 2>&1
run log barrow.yaml key --off-v 5/5
