# The machine's own figures are written into a scenario with the line ends that it has, whichever
# these are: but for them it is the same text. What is told as written is there.
mkdir lf crlf cr
cp scenarios/barrow.yaml lf
sed 's/$/\r/' lf/barrow.yaml >crlf/barrow.yaml
tr '\n' '\r' <lf/barrow.yaml >cr/barrow.yaml
for ends in lf crlf cr; do
    hubphase log $ends/barrow.yaml no_load --full-v 36 --full-speed-rpm 210 --full-a 0.8 --turned forward --time 2026-11-22T10:00:00+00:00 --quiet
    hubphase log $ends/barrow.yaml idle_draw --idle-a 0.05 --time 2026-11-22T10:00:00+00:00 --quiet
    run commission $ends/barrow.yaml --write $ends/own.yaml
done
sed 's/\r$//' crlf/own.yaml | cmp - lf/own.yaml
tr '\r' '\n' <cr/own.yaml | cmp - lf/own.yaml
echo "line feeds: $(tr -cd '\n' <cr/own.yaml | wc -c)"
echo "lines without a carriage return: $(grep -cv $'\r$' crlf/own.yaml)"
