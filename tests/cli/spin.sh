# Figures masked: digits differ from machine to machine.
write_scenario
for options in "--wiring 1" "--wiring 4 --from-angle -30 --seconds 1" "--wiring 2 --throttle 20"; do
    echo "== $options"
    hubphase spin small.yaml $options | sed -E 's/[0-9]+/0/g; s/ +/ /g'
done
