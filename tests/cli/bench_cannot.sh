# What cannot be done here goes into the log: `bench' offers it, `next' does without it, also where it is
# asked by somebody else's log; an entry of the step itself takes it back. Without trials it ends with what is
# likeliest; what has to be mended first is never left out.
cp scenarios/seeddrill.yaml drill.yaml
title() { hubphase next drill.yaml | sed -n 's/^Next: //p'; }
title
printf '%s\n' cannot '' stop | hubphase bench drill.yaml | sed -nE '/^Saved/p; s/^Next: //p; /^What now/,/^>/p' |
    sed -E 's/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/'
title
for step in hand_turn winding park spin controls drag contacts trial; do
    hubphase log drill.yaml left_out --step $step --note 'no tools' >/dev/null
done
title
hubphase log drill.yaml left_out --step sensor_supply >/dev/null
title
hubphase log drill.yaml sensor_supply --supply-v 5 >/dev/null
hubphase log drill.yaml trial --wiring 1 --motion still --feel smooth >/dev/null
title
hubphase log drill.yaml left_out --step trial >/dev/null
hubphase log drill.yaml sensor_supply --supply-v 48 >/dev/null
title
printf '%s\n' 7 stop | hubphase bench drill.yaml 2>&1 | grep 'none of the answers'
hubphase log drill.yaml left_out --step mend
sed -nE 's/^    (left_out.*)/\1/p' drill.bench.yaml | sort | uniq -c
