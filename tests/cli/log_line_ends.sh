# Whatever the lines of a log end in, what is added, changed or taken back ends likewise; but for the ends the
# file is what it would be with line feeds.
cp scenarios/seeddrill.yaml drill.yaml
cp scenarios/seeddrill.bench.yaml lf.yaml
sed 's/$/\r/' lf.yaml >crlf.yaml
sed 's/$/\r/' lf.yaml | head -c -2 >open.yaml # its last line has no end
at() { hubphase log drill.yaml --quiet --time 2026-11-25T10:40:00+01:00 --log "$@"; }
for ends in lf crlf open; do
    at $ends.yaml learn --worked no --note "first line" && at $ends.yaml sensor_supply --supply-v 5
    hubphase log drill.yaml --log $ends.yaml --undo --quiet
    printf '%s\n' change 2 answers 5 '' save change 1 drop stop | hubphase bench drill.yaml --log $ends.yaml >/dev/null
    sed -E 's/^# (taken back|changed) [^ ]*:/# \1 TIME:/' $ends.yaml >$ends.told
done
for ends in crlf open; do
    echo "$ends: $(grep -c $'\r$' $ends.yaml) lines with a carriage return, $(grep -cv $'\r$' $ends.yaml) without"
    sed 's/\r$//; s/^# \(taken back\|changed\) [^ ]*:/# \1 TIME:/' $ends.yaml | cmp - lf.told && echo "the same log"
done
cat lf.told
# Carriage returns alone: the same, as far as entries can be told apart.
tr '\n' '\r' <scenarios/seeddrill.bench.yaml >cr.yaml
at cr.yaml learn --worked no
echo "status $?, $(tr -cd '\n' <cr.yaml | wc -c) line feeds"
hubphase log drill.yaml --log cr.yaml | tail -n 3
hubphase log drill.yaml --log cr.yaml --undo --quiet
echo "status $?"
