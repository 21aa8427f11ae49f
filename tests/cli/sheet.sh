# The wiring sheet: what decides on its kind, what is refused, and nothing left behind.
write_scenario
run sheet
run sheet small.yaml -o sheet.txt
run sheet small.yaml -o sheet
run sheet small.yaml --wiring 37 -o sheet.html
run sheet small.yaml --wiring "yellow yellow green / U V W" -o sheet.html
run sheet small.yaml none.yaml -o sheet.html
run sheet small.yaml --log none.yaml -o sheet.pdf
run sheet small.yaml one.yaml two.yaml -o sheet.html
run sheet small.yaml one.yaml --log two.yaml -o sheet.html
run sheet small.yaml -o nowhere/sheet.html
cp small.yaml own.html
run sheet own.html -o own.html
run sheet missing.yaml -o sheet.html
printf 'hubphase_log: 1\nscenario: Allotment barrow\nentries:\n  - time: 2026-10-03T10:00:00+01:00\n    winding: {resistance_ohm: 0.2}\n' >bad.yaml
run sheet small.yaml bad.yaml -o sheet.pdf
list_files
run sheet small.yaml -o sheet.HTML
run sheet small.yaml --wiring 1 --date "3 October" -o sheet.pdf
head -c 5 sheet.pdf
echo
head -c 15 sheet.HTML
echo
hubphase sheet small.yaml | cmp - sheet.HTML
hubphase sheet small.yaml -o - | cmp - sheet.HTML
list_files
# A figure that a button of the page put in is no reading; one that somebody read is. Of the usual drive, whose
# likelihoods are part of the program.
cp scenarios/minimal.yaml usual.yaml
cat >typical.yaml <<'END'
hubphase_log: 1
scenario: usual
entries:
  - time: 2026-10-03T10:00:00+01:00
    sensor_supply: {supply_v: 4.96}
  - time: 2026-10-03T10:10:00+01:00
    trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth, battery_a: 0.1234, wheel_speed_rpm: 77.25}
    note: "By a button: the figures are typical of the answer, not measured."
END
hubphase sheet usual.yaml typical.yaml | grep -oE '4\.96 V|0\.1234|77\.25|Wiring [0-9]+ (is correct|ran smoothly forward)'
grep -v 'By a button' typical.yaml >measured.yaml
hubphase sheet usual.yaml measured.yaml | grep -oE '4\.96 V|0\.1234|77\.25|Wiring [0-9]+ (is correct|ran smoothly forward)'
# The controller's table was metered and is not the stated one: the sheet's equals are those that
# `next` holds for right, and not the ones of the stated table, two of which would stall.
cp scenarios/minimal.yaml metered.yaml
cat >metered.bench.yaml <<'END'
hubphase_log: 1
scenario: metered
entries:
  - time: 2026-10-03T10:00:00+01:00
    controller_probe:
      rows: {"100": W>V, "110": W>U, "010": V>U, "011": V>W, "001": U>W, "101": U>V}
  - time: 2026-10-03T10:10:00+01:00
    trial: {wiring: 3, throttle_percent: 35, motion: forward, feel: smooth, starts: 6, starts_tried: 6, battery_a: 0.2, wheel_speed_rpm: 78}
END
hubphase sheet metered.yaml | grep -oE '(correct|not proved|equal): wiring [0-9]+|follow from the controller.s table as metered'
hubphase next metered.yaml | grep '^Correct '
# A place that cannot be written is told before anything is simulated for the advice; a machine that no advice
# is for gets its sheet, which calls nothing correct, and the reason is said.
export XDG_CACHE_HOME=$PWD/cache
sed 's/scenario: usual/scenario: Allotment barrow/' measured.yaml >barrow-measured.yaml
run sheet small.yaml barrow-measured.yaml -o nowhere/sheet.html
ls cache 2>&1
sed 's/name: grey box/&\n  throttle_percent: 0/' small.yaml >odd.yaml
hubphase sheet odd.yaml barrow-measured.yaml | grep -oE 'the advice was not asked'
