# Commissioning step by step at the bench: the order of the work, what ticks a step, notes that stay.
cp scenarios/barrow.yaml scenarios/barrow.bench.yaml .
# The first line of each card: which step is offered.
titles() { awk '/^-----/ { if ((getline line) > 0 && line !~ /^(-|$)/) print line }'; }
answers() { printf '%s\n' "$@" | hubphase bench barrow.yaml 2>&1; }
entries() { sed -n '/^  - time/,$p' barrow.bench.yaml | sed -E 's/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/' | tail -n "$1"; }
echo '# each left out in turn'
hubphase log barrow.yaml --quiet trial --wiring='yellow, green, blue / yellow, green, blue' \
    --throttle-percent=100 --motion=forward --feel=smooth --battery-a=0.4
answers steps cannot 'no "bench" supply: lent' cannot '' cannot a cannot b cannot c cannot d cannot e \
    cannot f cannot g cannot h cannot i cannot j cannot k cannot l stop | titles
grep -c left_out barrow.bench.yaml
hubphase commission barrow.yaml | grep -A1 -E '^  left out +(hub|key|throttle) '
cp scenarios/barrow.bench.yaml .
echo '# done, taken back, another one, back to the wiring'
answers steps '' none free dry torqued '' good none 'turned by "hand"' '' undo other idle_draw 0.05 0 no '' '' \
    wiring stop | titles
entries 9
echo '# back and help write nothing; neither does an entry without an answer'
before=$(cksum <barrow.bench.yaml)
answers steps cannot back help other back '' '' '' '' '' '' '' back wiring stop |
    grep -E '^(A few words|Do the step|Nothing was noted)'
[ "$before" = "$(cksum <barrow.bench.yaml)" ] && echo unchanged
# The end of the input in the middle of a reason drops it.
printf 'steps\ncannot\n' | hubphase bench barrow.yaml >/dev/null 2>&1
[ "$before" = "$(cksum <barrow.bench.yaml)" ] && echo unchanged
echo '# a step that finds a stop is offered again until it is mended'
answers steps done none free wet torqued '' good none '' '' stop | grep -A30 '^> $' | grep -E '^(stop|Stop)'
answers steps stop | titles
# ... what is done is that step, whose first question follows; it cannot be left out in either menu
answers done back stop | grep -A2 -E '^  1  done|^> done' | grep -E 'done|[?]'
answers steps stop | grep -c 'cannot: '
# ... and nothing that runs the wheel is asked for, nor to be logged, before that
hubphase next barrow.yaml --quiet | grep -c 'To log it'
hubphase commission barrow.yaml --json | grep -oE '"(why|next)": "[a-z_]*"'
