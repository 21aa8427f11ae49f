# The head, one parameter and two wirings; figures masked.
write_scenario
hubphase survey small.yaml --json --throttle 40 --starts 2 >out.json
sed -n 1,10p out.json
sed -n '/"controller.throttle_percent"/,/}/p; /"run.starts"/,/}/p; /"motor.pole_pairs"/,/}/p' out.json
sed -n '/"number": 1,/,/}/p; /"number": 2,/,/}/p' out.json | mask_figures
grep -c '"number"' out.json
