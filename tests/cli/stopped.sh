# Whatever the program is at, Ctrl-C, a request to end and a hang-up end it at once and leave nothing
# behind. Job control, because a shell has its background commands ignore Ctrl-C otherwise.
write_scenario
export XDG_CACHE_HOME=$PWD/cache
# Long for spin; many starts for a survey, whose runs end once they are settled.
sed 's/seconds: 1.5/seconds: 3600/; s/settle_seconds: 1.0/settle_seconds: 3500/
    s/starts: .*/starts: 1000/' small.yaml >long.yaml
mkfifo pipe.yaml
exec 9<>pipe.yaml
set -m
exec 3>&2 2>/dev/null
# stop SIGNAL SECONDS ARGUMENT...: runs, signals after that time, tells how it ended. The bound is a
# second more than the half that is promised: the machine has other work too.
stop() {
    local signal=$1 wait=$2 begun status
    shift 2
    hubphase "$@" >shown 2>errors &
    sleep "$wait"
    if ! kill -0 $!; then
        echo "$1: over before it was stopped"
        cat errors
    fi
    begun=${EPOCHREALTIME/./}
    kill "-$signal" $!
    wait $!
    status=$?
    echo "$1, $signal: status $status"
    [ $((${EPOCHREALTIME/./} - begun)) -lt 1500000 ] || echo "took $((${EPOCHREALTIME/./} - begun)) us"
    cat errors
    rm -f shown errors
}
stop INT 1 spin long.yaml --wiring 1 -o report.txt --csv waves.csv --plots pictures
stop TERM 1 explain long.yaml --wiring 1 -o report.txt
stop INT 1 survey long.yaml --jobs 2 -o report.txt
stop HUP 1 spread long.yaml --jobs 2 -o report.txt
stop INT 1 survey pipe.yaml
stop HUP 1 next long.yaml --quiet -o report.txt
# A sheet that asks the advice: the one that was there stays.
cat >long.bench.yaml <<'END'
hubphase_log: 1
scenario: Allotment barrow
entries:
  - time: 2026-10-03T10:00:00+01:00
    trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth, battery_a: 0.1}
END
echo "the sheet of yesterday" >sheet.html
stop INT 1 sheet long.yaml -o sheet.html
stop TERM 1 sheet long.yaml -o sheet.pdf
cat sheet.html
list_files
rm long.bench.yaml sheet.html
# A signal that whoever started the program chose to ignore stays ignored.
(
    trap '' HUP
    hubphase spin small.yaml --wiring 1 --seconds 20 >shown 2>errors &
    sleep 0.3
    kill -HUP $!
    wait $!
    echo "status $?"
)
