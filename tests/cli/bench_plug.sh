# Pins are noted by their places: bench asks for them and for the half that was looked at. The same plug
# noted from its other half, mirrored by hand, is told alike; next draws both halves.
cp scenarios/seeddrill.yaml drill.yaml
cp scenarios/seeddrill.yaml other.yaml
printf '%s\n' '' yes no no yes "10 o'clock outer" '12h' "2 o'clock" "14 o'clock" help "r1 c1" "r1 c2" "row 1 column 2" \
    "row 1 column 4" "8 o'clock inner" centre controller 3 5 '' '' stop |
    hubphase bench drill.yaml 2>&1 | sed -n '/Write down now/,/^Saved/p' | sed -E 's/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/'
hubphase log other.yaml pins --continuity yes --touches-shell no --phase-touches-sensor no --half-seen motor \
    --phase-pins "yellow=2 o'clock" --phase-pins green=12h --phase-pins "blue=10 o'clock" --plug-columns 5 \
    --sensor-pins white='r1 c5' --sensor-pins grey='r1 c4' --sensor-pins brown='r1 c2' \
    --supply-plus-pin "4 o'clock inner" --supply-minus-pin centre >/dev/null
for file in drill other; do
    hubphase next $file.yaml --plots $file >/dev/null 2>&1
    hubphase sheet $file.yaml -o $file.html 2>/dev/null
    grep -o '<h2>Plugs.*' $file.html >/dev/null && echo "$file.html has the plug"
done
cmp drill/plug.svg other/plug.svg && echo "the same drawing"
sed -E 's/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/' drill.bench.yaml
rm -r drill other *.html
