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
sed 's/^controller:/&\n  table: six_step_60/' small.yaml >sixty.yaml
run next sixty.yaml
run next scenarios/minimal.yaml -o missing/report.txt
list_files
