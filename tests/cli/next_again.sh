# What is to be measured again: `next', the list of steps, the sheet and JSON heed the same readings,
# and whoever measures honestly comes to an end.
cp scenarios/barrow.yaml .
log() { hubphase log barrow.yaml --quiet --time 2026-11-25T10:40:00+01:00 "$@" || echo "status $?"; }
fresh() { rm -f barrow.bench.yaml; echo "--- $*"; }
# The controller needs its Hall sensors: nobody asks for the plug.
needs() { log hall_plug --turns=no; }
full() { log trial --wiring=1 --throttle-percent=100 --motion=forward --feel=smooth --battery-a=0.4 --wheel-speed-rpm=217; }
runs() {
    log trial --wiring=1 --throttle-percent=35 --motion=forward --feel=smooth --starts=6 --starts-tried=6 --battery-a=0.2 --wheel-speed-rpm=78
    needs
    full
    full
}
next() { hubphase next barrow.yaml 2>>errors | sed -n '/^Next/p;/^Why/,/^How/p' | grep -v '^How\|^$'; }
sheet() {
    hubphase sheet barrow.yaml -o sheet.html >sheet.out
    grep -o 'Wiring 1 [^<]*entry [^<]*' sheet.html | head -1
}
finds() { hubphase commission barrow.yaml | sed -n '/^What was found/,/^Next\|^Figures/p' | grep -v '^Next\|^Figures\|^$'; }
again() { for what in "next" commission; do hubphase $what barrow.yaml --json 2>>errors | sed -n '/"measure_again": \[\]/p;/"measure_again": \[$/,/\]/p' | grep -E '"(entry|kind|value)"|\[\]'; done; }

fresh "an impossible code after runs that were good"
runs
next
log hand_turn --codes=100,110,010,111,001,101
next
sheet
again
echo "--- measured again, and it stays"
log hand_turn --codes=100,110,010,111,001,101
next
sheet
echo "--- one more good run"
full
next
sheet
fresh "the same, and right the second time"
runs
log hand_turn --codes=100,110,010,111,001,101
log hand_turn --codes=100,110,010,011,001,101
next
fresh "the same where the reading cannot be taken again"
runs
log hand_turn --codes=100,110,010,111,001,101
log left_out --step=hand_turn --note="the clips went home"
next
fresh "what was found is not asked for again"
runs
log drag --rubs=yes
next

fresh "40 A at rest"
runs
log idle_draw --idle-a=40 --off-a=0
next
again
finds
hubphase commission barrow.yaml --json | grep -c '"idle_a"'
echo "--- read twice"
log idle_draw --idle-a=41 --off-a=0
finds
again
fresh "battery volts at the brake, noted bit by bit"
log brake --pins red=37/0 --pins black=0/0
log brake --left-stop-s=0.3 --right-stop-s=0.3
finds
echo "--- read again"
log brake --pins red=5.0/0 --pins black=0/0
finds
fresh "a decimal point in the throttle"
log throttle --throttle-full-v=0.41
finds
fresh "the same among the controls"
log controls --found=nothing --throttle-rest-v=0.8 --throttle-full-v=0.82 --key-v=60
next
log controls --found=nothing --brake-v=5
again

fresh "why a reading, though what is joined ran well"
log trial --wiring=1 --throttle-percent=35 --motion=forward --feel=smooth --battery-a=0.2 --wheel-speed-rpm=78
needs
full
next
fresh "what would make an end surer"
for k in 1 2; do log trial --wiring=1 --throttle-percent=100 --motion=forward --feel=smooth --wheel-speed-rpm=217; done
needs
next
fresh "correct, and not checked yet"
for k in 1 2; do log trial --wiring=1 --throttle-percent=35 --motion=forward --feel=smooth --starts=6 --starts-tried=6 --battery-a=0.2 --wheel-speed-rpm=78; done
needs
sheet
echo "--- where the bands come from"
hubphase next barrow.yaml 2>>errors | sed -n '/^To expect/,/^Write/p'
hubphase commission barrow.yaml --step=no_load | sed -n '/^To expect/,/^Write/p'
hubphase commission barrow.yaml | grep -A1 coast_down
