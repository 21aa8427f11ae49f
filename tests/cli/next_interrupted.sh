# Ctrl-C while a table is simulated: no half-written cache, no report; the next call begins anew.
write_scenario
export XDG_CACHE_HOME=$PWD/cache
set -m
hubphase next small.yaml -o report.txt 2>errors &
exec 2>/dev/null
sleep 0.5
kill -INT $!
wait $!
echo "status $?"
cat errors
rm errors
list_files
# A cache that cannot be made is a remark, and --quiet keeps even that back.
sed 's/seconds: 1.5/seconds: 0.02/; s/settle_seconds: 1.0/settle_seconds: 0.01/' small.yaml >quick.yaml
echo "in the way" >cache
hubphase next quick.yaml 2>&1 >/dev/null | sed "s|$PWD|HERE|g; s|likelihood-.*txt|likelihood.txt|"
hubphase next quick.yaml --quiet 2>&1 >/dev/null
rm cache
hubphase next quick.yaml 2>&1 >/dev/null
hubphase next quick.yaml 2>&1 >/dev/null
ls cache/hubphase | wc -l
