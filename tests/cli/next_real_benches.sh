# Benches as they are, each advice obeyed until it ends. Shown: steps in order, and how it ends.
. cases/../cli_bench.sh
write_bench no ""
hubphase survey bench.yaml --csv --quiet >survey.csv

for amps in 0.20 0.40 0.45 0.80; do
    write_bench no ""
    usual
    smooth_a=$amps smooth_rpm=78 rubs=yes
    follow "no load $amps A at 78 rpm"
done
rubs=
write_bench no ""
usual
smooth_a=0.30 smooth_rpm=115
follow "0.30 A at 115 rpm"
for limit in 2 1; do
    write_bench no ""
    usual_limit=$limit
    usual
    limit=$usual_limit
    try_wiring 4 $limit
    try_wiring 5 $limit
    follow "supply of $usual_limit A, an early and a late one first"
done
write_bench no ""
usual
duty=0.7
try_wiring 4 ""
follow "the hand's 35 % is 25 %"
write_bench no ""
usual
silent=brake
follow "silent for the brake input"
swapped=($(awk -F, 'NR > 1 { at[$2 $3 $4 "/" $5 $6 $7] = $1; order[$1] = $2 $3 $4 "/" $5 $6 $7 }
    END { printf "0"; for (n = 1; n <= 36; n++) {
        k = order[n]; other = substr(k, 2, 1) substr(k, 1, 1) substr(k, 3); printf " %d", at[other] } }' survey.csv))
write_bench yes ""
usual
swap=yes
follow "another table, with readings"
write_bench no ""
usual
sine=yes
try_wiring 4 ""
follow "sine drive"
write_bench no "  meters: {ammeter: no, tachometer: no}"
usual
meters=no sine=yes
try_wiring 4 1.8
follow "sine drive, no meters"
write_bench no ""
usual
follow "wiring 1 smooth at once, nothing measured"
write_bench no ""
usual
cuts=yes
follow "cuts out each time"
write_bench no ""
usual
loose=hall_lead
follow "a Hall lead that makes contact now and then"
