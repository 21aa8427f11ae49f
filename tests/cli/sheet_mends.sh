# What was mended stays on the sheet, with its day and note; another controller leaves the scenario
# saying what was of the one before, and nothing that is known of the hub is lost with the old one.
sed '/^bench:/,$d' scenarios/barrow.yaml >own.yaml
log() { hubphase log own.yaml "$@" --time=2026-11-30T10:00:00+01:00 --quiet; }
mends() {
    hubphase sheet own.yaml --date 2026-11-30 | sed -n '/Found and mended/,/<\/table>/p' |
        sed 's/<[^>]*>/ /g' | grep -v '^ *$'
}
log pins --touches-shell=no --phase-touches-sensor=no
log winding --resistance-ohm=green-yellow=0.2 --resistance-ohm=yellow-blue=0.2 \
    --resistance-ohm=blue-green=0.2
echo "--- nothing"
mends
log contacts --loose=phase_lead --note="black, crimp in the axle; renewed"
log mend --part=other_controller --note="another 36 V one"
echo "--- a lead and a controller"
mends
hubphase sheet own.yaml --date 2026-11-30 | grep -c "before the mend"
hubphase next own.yaml 2>/dev/null | sed -n '1p;/^Why/,/^How/p;/^Correct/,/^Parts/p'
log trial --wiring=1 --throttle-percent=35 --motion=backward --feel=smooth
echo "--- told until something was tried"
hubphase next own.yaml 2>/dev/null | grep -c 'label of the new controller'
hubphase commission own.yaml | grep -A3 'The controller of entry'
