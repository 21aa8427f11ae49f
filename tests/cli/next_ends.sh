# The ends that name a wiring say the same in next, commission and on the sheet, and send nobody round in a circle.
log() { hubphase log own.yaml --quiet --time 2026-11-30T17:00:00+01:00 "$@" || echo "status $?"; }
run() { log trial --wiring=5 --motion=forward --feel=smooth --starts=6 --starts-tried=6 "$@"; }
says() {
    echo "--- $*"
    hubphase next own.yaml 2>/dev/null | sed -n '1p;/^Why/,/^$/p;/^To expect/,/^$/p' | grep -v '^or be\|^$'
    hubphase next own.yaml --json | grep -E '"(made|felt_entry|learnt_entry|runs_without_sensors)": '
    hubphase commission own.yaml | sed -n '/^What is left\|^Not ready\|^Stop\|^Do not\|^Every/,/^$/p' | grep -v '^$'
    hubphase sheet own.yaml --date 2026-11-30 | grep -o 'Wiring 5 [^<]*\|[^<>]*known yet[^<]*'
}

# Neither ammeter nor tachometer: a lamp first, then half a minute on the battery.
sed '/^bench:/,$d' scenarios/barrow.yaml >own.yaml
printf 'bench: {first_power: lamp, meters: {ammeter: no, tachometer: no}}\n' >>own.yaml
run --throttle-percent=35 --fed-by=lamp --limit-reached=no
run --throttle-percent=35 --fed-by=lamp --limit-reached=no
says "behind the lamp, twice"
run --throttle-percent=35 --cut-out=no --warm=no
says "as far as it can be told, but for the Hall leads"
log hall_plug --turns=no
says "as far as it can be told"
run --throttle-percent=100 --cut-out=no --warm=no --battery-a=0.4
says "with a borrowed meter"

# The controller learns by itself: its order has no equals.
sed '/^bench:/,$d' scenarios/barrow.yaml >own.yaml
printf 'bench: {learn_lead: yes}\n' >>own.yaml
rm own.bench.yaml
log pins --continuity=yes --touches-shell=no --phase-touches-sensor=no
log sensor_supply --supply-v=4.9
log learn --worked=yes
says "learnt"
run --throttle-percent=35 --battery-a=0.2 --wheel-speed-rpm=78
says "learnt, and run"
hubphase next own.yaml | grep -A2 '^Correct'
hubphase sheet own.yaml --date 2026-11-30 | grep -o 'The two equal wirings are not given[^<]*'

# Full throttle by its speed alone, where an ammeter is at hand; then far too fast, in either entry.
run --throttle-percent=35 --battery-a=0.2 --wheel-speed-rpm=78
log no_load --turned=forward --full-v=37.4 --full-speed-rpm=217
says "nobody read the amperes"
log no_load --turned=forward --full-v=37.4 --full-speed-rpm=400 --full-a=0.4
says "far too fast, as the no-load run"
hubphase log own.yaml --undo --quiet
run --throttle-percent=100 --battery-a=0.4 --wheel-speed-rpm=400
says "far too fast, as a trial"

# Nobody pulls the Hall plug; then somebody does, and the motor runs on.
sed '/^bench:/,$d' scenarios/barrow.yaml >own.yaml
printf 'bench: {readings: {hand_turn: no, park: no, controller_probe: no, spin: no}}\n' >>own.yaml
rm own.bench.yaml
run --throttle-percent=35 --battery-a=0.2 --wheel-speed-rpm=78
run --throttle-percent=35 --battery-a=0.2 --wheel-speed-rpm=78
run --throttle-percent=100 --battery-a=0.4 --wheel-speed-rpm=217
says "the Hall plug"
log left_out --step=hall_plug --note="the plug is glued"
says "the Hall plug cannot be pulled"
log hall_plug --turns=yes
says "it runs without Hall sensors"
hubphase next own.yaml | sed -n '/^How/,/^Write/p;/^Correct/,/^Parts/p'
hubphase commission own.yaml | grep -A4 'without Hall'
hubphase sheet own.yaml --date 2026-11-30 | grep -o '[^<>.]*without Hall sensors[^<]*'
run --throttle-percent=35 --battery-a=0.2 --wheel-speed-rpm=78
echo "--- ... and was not run at full throttle since"
hubphase next own.yaml | sed -n '1p;/^How/,/^Write/{/^  2/,/!/p;}'
run --throttle-percent=35 --battery-a=0.2 --wheel-speed-rpm=78 --warm=yes
echo "--- ... and grew warm"
hubphase next own.yaml | sed -n 1p
