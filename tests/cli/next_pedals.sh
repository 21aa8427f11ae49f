# A machine without a throttle: its pedals drive it, at their share and no more. Cards say pedals, the
# final check is made at that share, and nobody is accused of a throttle.
sed '/^bench:/,$d' scenarios/barrow.yaml >own.yaml
printf 'bench: {first_power: lamp}\ncontrols: {pedal: {mode: drives, assist_percent: 60}}\n' >>own.yaml
log() { hubphase log own.yaml --quiet --time 2026-11-30T17:00:00+01:00 "$@" || echo "status $?"; }
run() { log trial --wiring=5 --motion=forward --feel=smooth --starts=6 --starts-tried=6 --throttle-percent=60 "$@"; }
next() { echo "--- $*"; hubphase next own.yaml --quiet | sed -n '1p;/^How/,/^or be/p' | grep -v '^or be\|^$'; }

log pins --continuity=yes --touches-shell=no --phase-touches-sensor=no
log sensor_supply --supply-v=4.9
log left_out --step=hand_turn
log left_out --step=park
log left_out --step=controller_probe
log left_out --step=spin
log throttle --fitted=no
next "a try by the pedals"
hubphase next own.yaml --quiet | grep -A2 'There is no throttle'
run --fed-by=lamp --limit-reached=no --battery-a=0.3
log hall_plug --turns=no
run --fed-by=lamp --limit-reached=no --battery-a=0.3
next "the final check, by the pedals"
echo "--- made"
run --battery-a=0.35 --wheel-speed-rpm=130
hubphase next own.yaml --quiet | sed -n '1p;/^To expect/,/^Write/p'
hubphase commission own.yaml --step=no_load | sed -n '/^Next\|^How/,/^or be/p' | grep -v '^or be\|^$'
hubphase commission own.yaml --step=coast_down | grep -A3 '  [1-3]\. '
log no_load --turned=forward --full-v=37.4 --full-speed-rpm=130 --full-a=0.35
hubphase commission own.yaml | sed -n '/^What was found/,/^Figures/p'
hubphase next own.yaml --quiet | sed -n '1p;/^Contradiction/,/^Correct/p'
hubphase next own.yaml --quiet --json | sed -n '/"final_check"/,/throttle_percent/s/ *"throttle_percent"/&/p'
echo "--- words of a throttle that stay, of every step"
for step in key brake pedal_sensor speed_switch idle_draw coast_down no_load sag; do
    hubphase commission own.yaml --step=$step | grep -i 'throttle' | sed "s/^/$step: /"
done
run --fed-by=lamp --limit-reached=no --battery-a=0.3
hubphase sheet own.yaml --date 2026-11-30 -o sheet.html
grep -o '[^<>]*pedals give[^<]*' sheet.html
hubphase log own.yaml --undo --quiet

echo "--- with a throttle full throttle is asked for"
hubphase log own.yaml --undo --quiet
log throttle --fitted=yes
hubphase next own.yaml --quiet | sed -n '1p;/^How/,/^To expect/{/^  3/,/^  4/p;}'
