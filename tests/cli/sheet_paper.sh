# The sheet on paper: a machine with all that a sheet can hold, one of which nothing is known, and one with
# a stop. Of the usual drive, whose likelihoods are part of the program.
command -v pdftotext >/dev/null || { echo "pdftotext is missing" >&2; exit 77; }
{
    cat scenarios/minimal.yaml
    cat <<'END'
name: paper machine
leads:
  motor_phases: {U: amber, V: mint with a long white tracer, W: navy}
  motor_sensors: {U: rose, V: sand, W: teal}
harness:
  - part: throttle grip of the first owner, mended twice, with a lamp
    leads: {red: 5 V supply, black: ground, white: "signal, 0.9 V at rest to 4.1 V", "blue and yellow, twisted, from the old lamp": nothing}
    note: Must spring back by itself.
  - part: fuse
    note: 20 A blade.
  - part: lamp
    leads: {brown: plus}
END
} >paper.yaml
long=$(printf 'Word %s of a remark that goes on and on. ' $(seq 1 18))
cat >paper.bench.yaml <<END
hubphase_log: 1
scenario: paper machine
entries:
  - time: 2026-10-03T10:00:00+01:00
    pins: {phase_pins: {amber: A1, mint with a long white tracer: A2, navy: A3}, sensor_pins: {rose: B1, sand: B2, teal: B3}, supply_plus_pin: C1, supply_minus_pin: C2}
    note: "$long"
  - time: 2026-10-03T10:20:00+01:00
    hand_turn: {codes: ["101", "100", "110", "010", "011", "001"], edges_per_wheel_turn: 46}
  - time: 2026-10-03T10:50:00+01:00
    trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth, battery_a: 0.3, wheel_speed_rpm: 77}
  - time: 2026-10-03T10:51:00+01:00
    trial: {wiring: 1, throttle_percent: 100, motion: forward, feel: smooth, battery_a: 0.6, wheel_speed_rpm: 217}
  - time: 2026-10-04T09:00:00+01:00
    hub: {pricks: none, bearings: free, inside: not_seen, covers: torqued, cable: good, clutch: none}
  - time: 2026-10-04T09:00:00+01:00
    hall_plug: {turns: no}
  - time: 2026-10-04T09:00:00+01:00
    no_load: {full_v: 36, full_speed_rpm: 214, full_a: 0.5, turned: forward}
  - time: 2026-10-04T09:00:00+01:00
    idle_draw: {idle_a: 0.04, off_a: 0, load_on: no}
END
# The same pins by their places, and a lever that stops nothing.
{
    sed "s/ A1/ 10 o'clock outer/; s/ A2/ 12 o'clock outer/; s/ A3/ 2 o'clock outer/; s/ B1/ 4 o'clock outer/
        s/ B2/ 6 o'clock outer/; s/ B3/ 8 o'clock outer/; s/C1, supply_minus_pin: C2/3 o'clock inner, supply_minus_pin: X9, half_seen: motor/" paper.bench.yaml
    printf '  - time: 2026-10-04T10:00:00+01:00\n    brake: {left_stops: no}\n'
} >stop.bench.yaml
sed '/^leads:/,$d' paper.yaml >bare.yaml # and nothing of a harness
# What of it stands on which page, top to bottom; how lines break is the fonts' affair.
paper() { # PDF WORDS...
    local pdf=$1 words
    shift
    echo "== $pdf"
    pdftotext -layout "$pdf" - | tr -s ' \f\n' ' ' >read
    words="$(IFS='|'; echo "$*")"
    grep -oE "page [0-9] of [0-9]|Which lead goes where|Plugs|Readings of the good parts|Settings|Figures of this machine|Commissioning|The rest of the harness|Name and signature|$words" read
}
hubphase sheet paper.yaml --date "4 October" -o paper.pdf
paper paper.pdf "Date 4 October" "Wiring 1 is correct" "equal: wiring (22|29)" "Plug motor: pin A1: phase amber" \
    "Word (1|9|10|18) of a remark" "Resistance navy-amber not measured" "Speed per volt" \
    "Idle draw 0.04 A" "red: 5 V supply black: ground" "fuse 20 A blade" "lamp brown: plus"
hubphase sheet paper.yaml --log stop.bench.yaml -o stop.pdf
paper stop.pdf "Do not ride before" "Brake .log entry 9.: A lever does not" "pin X9: Hall minus" "7 Hall plus 3 o.clock inner"
hubphase sheet bare.yaml -o bare.pdf
paper bare.pdf "controller correct equal equal" "lists none of it" "Speed switch" "Battery fuse"
