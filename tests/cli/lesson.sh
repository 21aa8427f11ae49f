# A club evening: one file for the projector, the same bytes every time, that holds the scenario as it stands;
# machines that cannot be shown, wrong files and places.
hubphase lesson scenarios/minimal.yaml --quiet -o first 2>cannot
if grep -q 'built without the library as WebAssembly' cannot; then
    cat cannot >&2
    exit 77
fi
cat cannot
rm cannot
cp scenarios/minimal.yaml mine.yaml
run lesson mine.yaml -o evening
run lesson mine.yaml --jobs 1 --quiet -o evening/
sed 's/"name":"minimal.yaml"/"name":"mine.yaml"/' first/wall.html | cmp - evening/wall.html && echo same
[ $(wc -c <first/wall.html) -lt 1500000 ] && echo small enough
perl -0pe 's{<script.*?</script>}{}gs' first/wall.html | grep -oE ' (src|href|action|style|on[a-z]+)="[^#"][^"]*"'
sed '/id="notices"/,/<.script>/d' first/wall.html | grep -oE "https?://[^\"' ]*" | sort -u # the name of SVG, which is no address; notices name some
grep -o 'Content-Security-Policy[^>]*' first/wall.html | sed -E 's/sha256-[A-Za-z0-9+/]{43}=/sha256-HASH/g'
grep -o '{"name":.*"table":[^}]*}' first/wall.html | python3 -c 'import json, sys
sys.stdout.write(json.load(sys.stdin)["scenario"])' | cmp - scenarios/minimal.yaml && echo "the scenario is there"
rm -r first evening
# Nothing can be shown of a machine that nothing turns.
printf 'hubphase: 1\nmotor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}\nstand: {wheel: {friction_nm: 400, breakaway_nm: 400}}\nrun: {starts: 1}\n' >stuck.yaml
run lesson stuck.yaml -o evening
run lesson missing.yaml -o evening
run lesson mine.yaml
run lesson mine.yaml -o ""
run lesson -o evening
run lesson mine.yaml stuck.yaml -o evening
run lesson mine.yaml -o missing/evening
run lesson mine.yaml -o mine.yaml
mkdir place
ln -s ../mine.yaml place/wall.html
run lesson mine.yaml -o place
rm place/wall.html
ln -s ../mine.yaml place/answers.pdf
run lesson mine.yaml --groups 1 --quiet -o place
run lesson mine.yaml --groups 0 -o place
run lesson mine.yaml --groups 25 -o place
run lesson mine.yaml --seed seven -o place
cmp scenarios/minimal.yaml mine.yaml && echo "the scenario is as it was"
rm -r place
list_files
