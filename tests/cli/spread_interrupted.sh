# Ctrl-C: what is done is reported, the status says that it was stopped, and nothing is left behind.
# Job control, because a shell has its background commands ignore Ctrl-C otherwise.
write_scenario
set -m
exec 2>/dev/null
# A busy machine may have no motor done at first: then it is given longer.
for seconds in 6 20 60; do
    hubphase spread small.yaml --motors 10000 --starts 1 --json -o report.json --plots pictures 2>errors &
    sleep "$seconds"
    kill -INT $!
    wait $!
    status=$?
    [ -e report.json ] && break
done
echo "status $status"
sed 's/after [0-9]* of/after N of/' errors
done=$(sed -n 's/.*"motors": \([0-9]*\),/\1/p' report.json)
[ "$done" -ge 1 ] && [ "$done" -lt 10000 ] && echo "some motors are done"
grep '"motors_wanted"' report.json
# Stopped before the first motor is done there is nothing to report.
hubphase spread small.yaml --motors 10 --starts 1000 --jobs 1 -o none.txt 2>errors &
sleep 1
kill -INT $!
wait $!
echo "status $?"
cat errors
rm errors
list_files
# A part keeps what is done, and the same command goes on from there; what is not of it is not written over.
lines() { cat part-1 2>/dev/null | wc -l; }
part() { # given more time where a busy machine had done nothing before it was stopped
    local before seconds
    before=$(lines)
    for seconds in 3 20 60; do
        hubphase spread small.yaml --motors 9000 --starts 1 --part 1/1 -o part-1 "$@" 2>errors &
        sleep "$seconds"
        kill -INT $!
        wait $!
        status=$?
        [ "$status" != 130 ] || [ "$(lines)" -gt "$before" ] && break
    done
    echo "status $status"
    sed 's/after [0-9]* of/after N of/' errors
}
part
head -1 part-1
first=$(lines)
part
[ "$(lines)" -gt "$first" ] && echo "it went on"
hubphase spread small.yaml --motors 9000 --starts 1 --join part-1 2>&1 | sed 's/after [0-9]* of/after N of/'
part --seed 9
rm errors
list_files
