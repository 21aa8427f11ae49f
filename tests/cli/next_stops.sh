# What stops the work: pack voltage on the sensor supply, a lead on the shell, a broken part, entries
# that contradict one another; and a part mended.
write_scenario
cat >bench.yaml <<'YAML'
hubphase: 1
motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}
leads: {motor_phases: {U: yellow, V: green, W: blue}}
YAML
mask() { sed -E 's/(over |under )?[0-9.]+ %/N %/g; s/about [0-9.]+ (powered|minutes)/about N \1/g'; }
next() { hubphase next bench.yaml "$@" | mask; }
log() { hubphase log bench.yaml --quiet --time 2026-11-25T10:40:00+01:00 "$@" || echo "status $?"; }

echo "--- pack voltage"
log pins --continuity yes --touches-shell no --phase-touches-sensor no
log sensor_supply --supply-v 37.4
next
echo "--- a lead on the shell"
log sensor_supply --supply-v 5
log pins --touches-shell yes
next | sed -n 1,3p
echo "--- two pairs that beep and one that does not"
log pins --continuity U-V=yes --continuity V-W=no --continuity W-U=yes --touches-shell no --phase-touches-sensor no
next | sed -n '1p;/^Why/,/^How/p'
hubphase log bench.yaml --undo --quiet
echo "--- an open lead, measured twice"
log pins --continuity U-V=yes --continuity V-W=no --continuity W-U=no --touches-shell no --phase-touches-sensor no
log winding --resistance-ohm U-V=0.2 --resistance-ohm V-W=open --resistance-ohm W-U=open
log winding --resistance-ohm U-V=0.2 --resistance-ohm V-W=open --resistance-ohm W-U=open
next
echo "--- mended"
log mend --part phase_lead_open --lead blue
next | sed -n 1p
echo "--- a contradiction"
log park --plus-lead yellow --code 100
log park --plus-lead yellow --code 011
log park --plus-lead yellow --code 011
log park --plus-lead yellow --code 011
next | grep -A2 Contradiction
echo "--- pairs that are not alike, by ohms, then by volts; read alike it goes on"
rm bench.bench.yaml
log pins --continuity yes --touches-shell no --phase-touches-sensor no
log sensor_supply --supply-v 5
log winding --resistance-ohm U-V=0.28 --resistance-ohm V-W=0.28 --resistance-ohm W-U=0.05
next | sed -n '1p;/^Why/,/^How/p'
hubphase commission bench.yaml | tail -n 6
log winding --resistance-ohm U-V=0.21 --resistance-ohm V-W=0.2 --resistance-ohm W-U=0.2
log spin --voltage-v U-V=8.8 --voltage-v V-W=8.8 --voltage-v W-U=1.5 --wheel-speed-rpm 60 --meter average
next --json | grep '"danger"'
log spin --voltage-v U-V=8.8 --voltage-v V-W=8.7 --voltage-v W-U=8.8 --wheel-speed-rpm 60 --meter average
next | sed -n 1p
echo "--- what grew warm is found before the next run; a mend lifts it"
warm() { log trial --wiring 1 --throttle-percent 35 --motion forward --feel smooth --starts 6 --starts-tried 6 --battery-a 0.15 --warm yes; }
warm; warm
next | sed -n '1p;/^Why/,/^How/p'
log trial --wiring 1 --throttle-percent 35 --motion forward --feel smooth --starts 6 --starts-tried 6 --battery-a 0.15 --warm no
next | sed -n 1p
echo "--- another controller: its leads are joined again, not just run once more"
log mend --part controller
log sensor_supply --supply-v 5
next | sed -n '1,/^How/p'
echo "--- it drives with the throttle closed"
log trial --wiring 1 --throttle-percent 0 --motion forward --feel smooth --battery-a 0.2
next | sed -n '1p;/^Why/,/^How/p;/^To log/,/^$/p'
next | sed -n '/^  4/,/^  5/p'
log trial --wiring 1 --throttle-percent 0 --motion still
next | sed -n 1p
echo "--- by its signal, whatever the hand meant"
log throttle --throttle-rest-v 0.85 --throttle-full-v 4.2
log trial --wiring 1 --throttle-percent 40 --throttle-signal-v 0.86 --motion forward --feel smooth
next | sed -n '1p;/^Why/,/^How/p;/^  4/,/^  5/p'
hubphase log bench.yaml --undo --quiet
hubphase log bench.yaml --undo --quiet
hubphase log bench.yaml --undo --quiet
hubphase log bench.yaml --undo --quiet
echo "--- what the fit stops is said before the first power"
sed 's/^motor/ratings: {controller_most_v: 40}\npack: {in_series: 10}\nsupply: {battery_v: 37}\nmotor/' bench.yaml >over.yaml
sed 's/^scenario: bench/scenario: over/' bench.bench.yaml >over.bench.yaml
hubphase next over.yaml --quiet | mask | sed -n '1,/^Why/p'
hubphase commission over.yaml | tail -n 6
