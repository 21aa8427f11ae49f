# The fields of the contract, by name; words and figures have tests of their own.
cat >bench.yaml <<'YAML'
hubphase: 1
motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}
YAML
fields() { # FILE PATTERN: names of fields at one depth
    grep -oE "$2" "$1" | tr -d ' ":' | tr '\n' ' '
    echo
}
hubphase log bench.yaml --quiet --time 2026-11-25T10:40:00+01:00 sensor_supply --supply-v 5
hubphase next bench.yaml --json >out.json
fields out.json '^  "[a-z_]+":'
hubphase next bench.yaml --json --why >why.json
fields why.json '^  "[a-z_]+":'
sed -n '/^  "advice"/,/^  },/p' out.json >advice.json
fields advice.json '^    "[a-z_]+":'
grep -E '"(kind|reading|lead|wiring|danger|proof|certainty)"' advice.json
sed -n '/"log_command"/,/]/p' advice.json
sed -n '/^  "log"/,/^  },/p' out.json | mask_figures
grep -c '"right_once_mended"' out.json
sed -n '/^  "hypotheses"/,$p' why.json | sed -n '2,20p' | mask_figures
hubphase next bench.yaml --json -o kept.json && cmp out.json kept.json && echo "the same in a file"
hubphase next bench.yaml --json >/dev/full
echo "status $?"
