# A bench log must be a plain file: nothing waits for a pipe, and nothing reads a device.
cp scenarios/barrow.yaml barrow.yaml
mkfifo barrow.bench.yaml
for line in "log barrow.yaml" "log barrow.yaml learn --worked no" "log barrow.yaml --undo" "next barrow.yaml" \
    "sheet barrow.yaml" "bench barrow.yaml" "sheet barrow.yaml /dev/zero"; do
    echo "\$ hubphase $line"
    timeout 20 hubphase $line 2>&1 </dev/null
    echo "status $?"
done
rm barrow.bench.yaml
# A zone beyond what the log takes: the time is then that of UTC.
for zone in XYZ+99 XYZ-99:59 UTC nonsense '<+1430>-14:30' XYZ+14; do
    TZ=$zone hubphase log barrow.yaml learn --worked no --quiet || echo "not with $zone"
done
grep -oE '[+-][0-9]{2}:[0-9]{2}$' barrow.bench.yaml | sort | uniq -c | sed 's/^ *//'
# Room for one more entry, but not for the marks that make the last a comment: said before anything changes.
printf '  # %120s\n' $(seq 1 8370) >>barrow.bench.yaml
while hubphase log barrow.yaml learn --worked yes --quiet 2>full; do :; done
sed -E 's/[0-9]{7} bytes/N bytes/' full
cp barrow.bench.yaml before
undo() { run log barrow.yaml --undo --quiet | sed -E 's/[0-9]{7} bytes/N bytes/'; }
undo
cmp before barrow.bench.yaml || echo "it changed"
