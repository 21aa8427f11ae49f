# Command lines of `controls' that cannot be, each told by what is wrong with it.
write_scenario
for what in grip grip=50 "grip=x@1" "grip=101@1" "grip=50@-1" "grip=50@x" "key=yes@1" "brake=on@1" \
    "pedals=301@1" "speed=2@1" "speed=1.5@1" "off=seat@1" "horn=1@1" "" "grip=50@5"; do
    echo "== --do \"$what\""
    hubphase controls small.yaml --wiring 1 --seconds 5 --do "$what"
    echo "status $?"
done
echo "== too many"
hubphase controls small.yaml --wiring 1 --do "$(for k in $(seq 33); do printf 'key=on@%s ' $k; done)"
echo "status $?"
for options in "--case brakes" "--case pedals_stop" "--case brake --do key=on@1" "--plots p" "--switched" \
    "--seconds 3" "--seconds 3 --case brake" "--json --show-parameters" "--wiring 37 --case brake"; do
    echo "== $options"
    hubphase controls small.yaml $options
    echo "status $?"
done
echo "== no key, no throttle"
{
    cat small.yaml
    echo 'controls: {key: {fitted: no}, throttle: {fitted: no}, pedal: {mode: drives}}'
} > pedals.yaml
for options in "--do grip=50@1" "--do off=throttle_signal@1" "--do key=off@1" "--case throttle_ground_off" "--do pedals=60@0.2"; do
    echo "== $options"
    hubphase controls pedals.yaml --wiring 1 $options > out.txt
    echo "status $?"
done
sed -n '/^Key/,/^Brake/p' out.txt
rm out.txt
ls
