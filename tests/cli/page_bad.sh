# The page: wrong command lines, files and places; nothing is left behind.
write_scenario
run page
run page small.yaml
run page small.yaml -o page.html --one-in 1
run page small.yaml -o page.html --one-in many
run page small.yaml one.yaml two.yaml -o page.html
run page small.yaml one.yaml --log two.yaml -o page.html
run page missing.yaml -o page.html
printf 'hubphase_log: 1\nentries:\n- time: 2026-11-25T10:40Z\n  park: {plus_lead: pink}\n' >wrong.yaml
run page small.yaml wrong.yaml -o page.html
cp scenarios/minimal.yaml minimal.yaml
run page minimal.yaml -o minimal.yaml
run page minimal.yaml -o nowhere/page.html
hubphase log minimal.yaml sensor_supply --supply-v 5 --time 2026-11-25T10:40:00Z --quiet
run page minimal.yaml -o minimal.bench.yaml
list_files
