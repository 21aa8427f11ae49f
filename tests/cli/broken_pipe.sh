# A reader that goes away: status 4 and a message, for every kind of report.
write_scenario
mkfifo pipe
for command in "survey small.yaml --starts 1" "survey small.yaml --starts 1 --json" \
    "spin small.yaml --wiring 1 --csv - -o spin.txt" "explain small.yaml --wiring 3 --starts 1"; do
    sleep 10 <pipe &
    exec 3>pipe
    kill $!
    wait $! 2>/dev/null
    hubphase $command >&3
    echo "status $?"
    exec 3>&-
done
