# The tables of a small ensemble; figures and shares masked where machines may differ.
write_scenario
hubphase spread small.yaml --motors 2 --starts 1 >report.txt
sed -n '/^Ensemble/,/^MOTOR SENSOR/p' report.txt
sed -n '/share of the motors/,/^  1 /p; /5, 50 and 95 %/p' report.txt | mask_figures
grep -E '^(correct|reverse|stalled): ' report.txt
grep -c '^Cautions' report.txt
# Options win over the file, and are said to.
hubphase spread small.yaml --motors 1 --starts 1 --seed 9 --json >out.json
sed -n '/"spread.motors"/,/}/p; /"spread.seed"/,/}/p; /"ensemble"/,/"varied"/p' out.json
grep -c '"number":' out.json
# What varies comes from the file; nothing varies where it says so.
sed 's/^leads:/spread: {motors: 1, seed: 3, friction_percent: 25, sensor_each_deg: 1.5}\n&/' small.yaml >own.yaml
hubphase spread own.yaml --starts 1 | sed -n '/^Ensemble/,/^The likeliest/p'
