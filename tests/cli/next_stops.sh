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
next | head -3
echo "--- an open lead, measured twice"
log pins --continuity U-V=yes --continuity V-W=no --continuity W-U=no --touches-shell no --phase-touches-sensor no
log winding --resistance-ohm U-V=0.2 --resistance-ohm V-W=open --resistance-ohm W-U=open
log winding --resistance-ohm U-V=0.2 --resistance-ohm V-W=open --resistance-ohm W-U=open
next
echo "--- mended"
log mend --part phase_lead_open --lead blue
next | head -1
echo "--- a contradiction"
log park --plus-lead yellow --code 100
log park --plus-lead yellow --code 011
log park --plus-lead yellow --code 011
log park --plus-lead yellow --code 011
next | grep -A2 Contradiction
