# The same as next_real_benches, for machines whose likelihood table must be built first.
. cases/../cli_bench.sh
write_bench no ""
hubphase survey bench.yaml --csv --quiet >survey.csv

write_bench no "controller: {pwm: one_sided}"
usual
coast=1.7
try_wiring 4 ""
follow "one-sided edges, stated"
write_bench no "stand: {gear_ratio: 4.8, clutch: yes}"
sed -i "s/46, resis/20, rotor_inertia_kg_m2: 0.0008, resis/" bench.yaml
hubphase survey bench.yaml --csv --quiet >survey.csv
usual
try_wiring 2 1.5
follow "geared, with a one-way clutch: the wheel as the survey has it"
