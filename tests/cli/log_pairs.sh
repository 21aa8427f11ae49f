# Phase leads whose names hold the signs that stand between two leads, or before a value: each pair can
# be named as the refusal of a wrong one names it.
sed 's/motor_phases: .*/motor_phases: {U: "-", V: "a=b", W: W2}/' scenarios/barrow.yaml >odd.yaml
run log odd.yaml winding --resistance-ohm x=1
run log odd.yaml winding --resistance-ohm '--a=b=0.2' --resistance-ohm 'a=b-W2=0.3' --resistance-ohm 'W2--=0.4' --quiet
grep resistance_ohm odd.bench.yaml
run log odd.yaml pins --continuity 'W2--=no' --continuity 'a=b-W2=yes' --quiet
grep continuity odd.bench.yaml
run log odd.yaml winding --resistance-ohm 'W2-c=0.2'
# Several with commas between, as they are spoken; a value's own comma is no such one.
cp scenarios/barrow.yaml plain.yaml
run log plain.yaml pins --continuity yellow-green=yes,green-blue=yes,blue-yellow=no --quiet
grep continuity plain.bench.yaml
run log plain.yaml winding --resistance-ohm 'yellow-green=0.2, green-blue=0.3' --quiet
grep resistance_ohm plain.bench.yaml
run log plain.yaml winding --resistance-ohm yellow-green=0,2,green-blue=0.3
run log plain.yaml pins --continuity yellow-green=yes,green-blue=
run log plain.yaml pins --continuity yellow-green=yes, green-blue=no
