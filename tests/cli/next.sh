# From an empty log to the finished machine by the program's own log command; shares and times masked,
# since they move with every change of the reckoning.
cat >bench.yaml <<'YAML'
hubphase: 1
name: Seed drill
motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}
leads:
  motor_phases: {U: yellow, V: grün, W: blue}
  motor_sensors: {U: red, V: white, W: black}
  controller_outputs: {U: A, V: B, W: C}
  controller_inputs: {U: yellow, V: green, W: blue}
YAML
# The steps of commissioning are other tests' business.
mask() { sed -E 's/(over |under )?[0-9.]+ %/N %/g; s/about [0-9.]+ (powered|minutes)/about N \1/g' | sed '/^Afterwards/,/^Log/{/^Log/!d}'; }
next() { hubphase next bench.yaml "$@" | mask; }
log() { hubphase log bench.yaml --quiet --time 2026-11-25T10:40:00+01:00 "$@" || echo "status $?"; }

echo "--- nothing measured"
next
log pins --continuity yes --touches-shell no --phase-touches-sensor no
log sensor_supply --supply-v 5.06
next | head -6
log hand_turn --codes 100,110,010,011,001,101,100
log park --plus-lead yellow --code 100
next | head -1
log park --plus-lead grün --code 010
echo "--- all measured"
next
log trial --wiring 1 --throttle-percent 35 --motion forward --feel smooth --starts 6 --starts-tried 6 \
    --battery-a 0.1 --wheel-speed-rpm 77
next | head -1
log trial --wiring 1 --throttle-percent 35 --motion forward --feel smooth --starts 6 --starts-tried 6 \
    --battery-a 0.1 --wheel-speed-rpm 77
echo "--- done"
next
echo "--- why"
hubphase next bench.yaml --why | sed -n '/^How each/,$p' | sed -E 's/[0-9]+\.[0-9]|[0-9]+ %/N/g' | head -12
hubphase next bench.yaml --why | grep -c 'less likely; --json has them'
hubphase next bench.yaml -o bench.bench.yaml
echo "status $?"
hubphase next bench.yaml | awk 'length($0) > 90' # bytes; none is longer than 80 columns
