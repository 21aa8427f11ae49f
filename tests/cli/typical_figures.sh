# What a button of the page writes for a range of figures is typical of the answer; nobody read it off a
# meter. The advice reckons with it, and the wiring sheet leaves it out, whichever kind of reading it is.
cp scenarios/minimal.yaml barrow.yaml
cp scenarios/minimal.yaml bare.yaml
echo 'bench: {readings: {pins: no, sensor_supply: no, hand_turn: no, park: no, controller_probe: no}}' >>bare.yaml
# The log that each button would write, one a line, as the pages hold it: one page with readings, one
# with trials alone.
for page in barrow bare; do
    hubphase page $page.yaml --one-in 5 --quiet -o $page.html
    grep -oE '"  - time: 1970([^"\\]|\\.)*"' $page.html | sed 's/^"//; s/"$//; s/\\"/"/g'
done | sort -u >answers
# entry KIND: the first of them of a kind that has a figure, as lines of a log. At a limit there is none.
entry() {
    printf '%b' "$(grep -F "    $1:" answers | grep -m 1 -E 'battery_a|_v: ')"
}
# mark KIND: what it says beside its time and its values: that the figures are typical
mark() {
    entry "$1" | grep -E '^    [a-z]' | grep -vE "^    ($1|time):"
}
for kind in sensor_supply trial; do
    [ -n "$(entry $kind)" ] || echo "the page has no $kind"
    [ -n "$(mark $kind)" ] || echo "a button for $kind does not say that its figures are typical"
done
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
    hubphase sheet barrow.yaml "$1" | grep -oE '4\.988|0\.1234|7\.123|61\.25|0\.2345|77\.25|100 110 010|Hall code 100|Wiring 1 is correct' |
        sort -u | tr '\n' ';'
    echo
}
echo "measured:"
log_of "" >measured.yaml
on_the_sheet measured.yaml
# What was seen stays: codes, that it ran, an open pair.
echo "typical:"
log_of "$(mark trial)" >typical.yaml
on_the_sheet typical.yaml
hubphase sheet barrow.yaml typical.yaml | grep -o 'open</td>'
