# Wrong command lines, files and places.
write_scenario
run next
run next small.yaml --log ''
run next small.yaml --jobs 0
run next small.yaml other.yaml
run next missing.yaml
printf 'hubphase_log: 1\nentries:\n- time: 2026-11-25T10:40Z\n  park: {plus_lead: pink}\n' >wrong.yaml
run next small.yaml --log wrong.yaml
run next small.yaml --log .
run next scenarios/minimal.yaml -o missing/report.txt
echo "== a log that is named and is not there is a new one, and says so"
hubphase next scenarios/minimal.yaml --log nowhere.yaml 2>&1 >page.txt
hubphase next scenarios/minimal.yaml --log nowhere.yaml --quiet 2>&1 >page.txt
rm page.txt
list_files
