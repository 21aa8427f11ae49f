# Figures that stand for what was seen are typical of it; nobody read them off a meter. The advice reckons
# with them, and the wiring sheet leaves them out, whichever kind of reading it is.
cp scenarios/minimal.yaml barrow.yaml
# What an entry says beside its time and its values: that its figures are typical.
hubphase log barrow.yaml sensor_supply --supply-v 5 --figures typical --quiet
mark=$(grep '^    figures:' barrow.bench.yaml)
[ -n "$mark" ] || echo "the log does not say that the figures are typical"
rm barrow.bench.yaml
# log_of MARK: readings of every kind with figures, each with this line beside it
log_of() {
    printf 'hubphase_log: 1\nscenario: barrow\nentries:\n'
    while read -r values; do
        printf '  - time: 2026-10-03T10:00:00+01:00\n    %s\n' "$values"
        [ -z "$1" ] || printf '%s\n' "$1"
    done <<'END'
sensor_supply: {supply_v: 4.9876}
winding: {resistance_ohm: {U-V: 0.1234, V-W: open}}
spin: {voltage_v: {U-V: 7.1234}, wheel_speed_rpm: 61.25, meter: peak}
hand_turn: {codes: ["100", "110", "010", "011", "001", "101", "100"]}
park: {plus_lead: U, code: "100"}
trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth, battery_a: 0.2345, wheel_speed_rpm: 77.25}
END
}
on_the_sheet() {
    hubphase sheet barrow.yaml "$1" | grep -oE '4\.988|0\.1234|7\.123|61\.25|0\.2345|77\.25|100 110 010|Hall code 100|Wiring 1 ran smoothly forward' |
        sort -u | tr '\n' ';'
    echo
}
echo "measured:"
log_of "" >measured.yaml
on_the_sheet measured.yaml
# What was seen stays: codes, that it ran, an open pair.
echo "typical:"
log_of "$mark" >typical.yaml
on_the_sheet typical.yaml
hubphase sheet barrow.yaml typical.yaml | grep -o 'open</td>'
