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
# A figure that a button of the page put in is no reading; one that somebody read is.
cat >typical.yaml <<'END'
hubphase_log: 1
scenario: Allotment barrow
entries:
  - time: 2026-10-03T10:00:00+01:00
    sensor_supply: {supply_v: 4.96}
  - time: 2026-10-03T10:10:00+01:00
    trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth, battery_a: 0.1234, wheel_speed_rpm: 77.25}
    note: "By a button: the figures are typical of the answer, not measured."
END
hubphase sheet small.yaml typical.yaml | grep -oE '4\.96 V|0\.1234|77\.25|Wiring [0-9]+ works'
grep -v 'By a button' typical.yaml >measured.yaml
hubphase sheet small.yaml measured.yaml | grep -oE '4\.96 V|0\.1234|77\.25|Wiring [0-9]+ works'
