# Bad input: every problem at once, status 3, and nothing written.
run survey missing.yaml -o out --plots pictures
mkdir folder
run survey folder -o out --plots pictures
rmdir folder
: >empty.yaml
run survey empty.yaml -o out --plots pictures
write_scenario
sed -i 's/pole_pairs: 10/pole_pears: 10/; s/0\.3/0,3/; s/inductance_between_leads_mh: 0.5/inductance_between_leads_mh: 0.5 mH/' small.yaml
run survey small.yaml -o out --plots pictures --json
run spin small.yaml --wiring 1 -o out --plots pictures --csv wave.csv
run explain small.yaml --wiring 1 -o out
list_files
