write_scenario
for wiring in 1 8 5 9 2; do
    hubphase explain small.yaml --wiring $wiring --starts 2 | mask_figures
    echo
done
