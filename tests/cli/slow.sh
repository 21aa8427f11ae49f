# A machine that takes too many steps: spread and what simulates for the advice say it like survey, by the numbers
# that make it so; of a usual one they say nothing.
write_scenario
hubphase spread small.yaml --motors 1 --starts 1 --quiet >out
timeout -s INT 4 hubphase next small.yaml --quiet 2>&1 >out | grep -c long
sed -i 's/inductance_between_leads_mh: 0.5/inductance_between_leads_mh: 0.0085/; s/wheel_inertia_kg_m2: 0.02/wheel_inertia_kg_m2: 0.000001/; s/seconds: 1.5/seconds: 0.01/; s/settle_seconds: 1.0/settle_seconds: 0.005/' small.yaml
told() { hubphase "$@" 2>&1 >out | mask_figures; }
told spread small.yaml --motors 1 --starts 1 --quiet
told spread small.yaml --motors 1 --starts 1 --quiet --part 1/1 -o part
# What the advice simulates takes minutes: it says so before.
timeout -s INT 4 hubphase next small.yaml --quiet >out 2>errors
mask_figures <errors | head -3
