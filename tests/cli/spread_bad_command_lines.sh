# Each wrong command line of spread: what was wrong, which value, what was expected; status 2.
run spread
run spread one.yaml two.yaml
run spread file.yaml --motors 0
run spread file.yaml --motors 10001
run spread file.yaml --motors 2.5
run spread file.yaml --seed -1
run spread file.yaml --seed 1e3
run spread file.yaml --starts 0
run spread file.yaml --json --csv
run spread file.yaml --wiring 3
# And a wrong section of the scenario: status 3.
write_scenario
sed 's/^leads:/spread: {motors: none, friction: 20, resistance_percent: -5, rest_angle_deg: 200}\n&/' small.yaml >bad.yaml
run spread bad.yaml
