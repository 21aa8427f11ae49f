# Who went through the steps without a trial has a wheel that runs: nothing is looked for from the
# beginning. A run that draws what only a wrong wiring does leads back to the wiring.
cp scenarios/barrow.yaml .
log() { hubphase log barrow.yaml --quiet --time 2026-11-25T10:40:00+01:00 "$@" || echo "status $?"; }
says() { hubphase next barrow.yaml --quiet | sed -n '/^Next/,/^How/p' | grep -v '^How\|^$'; hubphase commission barrow.yaml --json | grep -E '"(wired|why)"'; }
fresh() { rm -f barrow.bench.yaml; echo "--- $*"; }
# The controller needs its Hall sensors: nobody asks for the plug.
needs() { log hall_plug --turns=no; }
run="--full-v=37.4 --full-speed-rpm=217"

fresh "forward, as it ought to be"
log no_load --turned=forward $run --full-a=0.4
says
echo "--- and logged as a trial, as advised"
log trial --wiring=1 --throttle-percent=100 --motion=forward --feel=smooth --battery-a=0.4
needs
says
echo "--- which the parked rotor had spoken against"
rm barrow.bench.yaml
for lead in yellow:010 green:001 blue:100; do log park --plus-lead=${lead%%:*} --code=${lead##*:}; done
log no_load --turned=forward $run --full-a=0.4
log trial --wiring=1 --throttle-percent=100 --motion=forward --feel=smooth --battery-a=0.4
says
fresh "nobody noted which way"
log no_load $run --full-a=0.4
says
fresh "backward"
log no_load --turned=backward $run --full-a=0.4
says
fresh "a trial that ran, then a run that draws too much"
log trial --wiring=5 --throttle-percent=35 --motion=forward --feel=smooth --battery-a=0.2 --wheel-speed-rpm=78
log trial --wiring=5 --throttle-percent=35 --motion=forward --feel=smooth --battery-a=0.2 --wheel-speed-rpm=78
needs
says
log no_load $run --full-a=8
says
hubphase commission barrow.yaml | grep -A5 '^Stop'
echo "--- and a good one"
log no_load --turned=forward $run --full-a=0.4
says
echo "--- and a gentle one after it takes nothing back"
log trial --wiring=5 --throttle-percent=35 --motion=forward --feel=smooth --battery-a=0.2 --wheel-speed-rpm=78
says
echo "--- but one that is half again too fast does"
log no_load --turned=forward --full-v=37.4 --full-speed-rpm=330 --full-a=0.4
says
hubphase log barrow.yaml --undo --quiet
echo "--- and a wheel that did not turn in between: both ask for the run once more"
log trial --wiring=5 --throttle-percent=35 --motion=still --starts=0 --starts-tried=6 --battery-a=0.05
log trial --wiring=5 --throttle-percent=35 --motion=forward --feel=smooth --battery-a=0.2 --wheel-speed-rpm=78
log trial --wiring=5 --throttle-percent=35 --motion=forward --feel=smooth --battery-a=0.2 --wheel-speed-rpm=78
says
hubphase commission barrow.yaml | grep -A2 'open again'
hubphase commission barrow.yaml --json | grep -E '"other_(entry|failed)": [0-9]'
echo "--- a run at full throttle after the good one that draws a little too much: no check stands"
rm barrow.bench.yaml
log trial --wiring=5 --throttle-percent=35 --motion=forward --feel=smooth --battery-a=0.2 --wheel-speed-rpm=78
needs
log trial --wiring=5 --throttle-percent=35 --motion=forward --feel=smooth --battery-a=0.2 --wheel-speed-rpm=78
log no_load --turned=forward $run --full-a=0.4
log trial --wiring=5 --throttle-percent=100 --motion=forward --feel=smooth --battery-a=0.8 --wheel-speed-rpm=217
says
