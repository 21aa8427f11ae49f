# The window, real PWM edges, and waveforms on the standard output.
write_scenario
hubphase spin small.yaml --wiring 1 --window 1:1.1 --csv wave.csv -o report.txt
head -2 wave.csv | cut -d, -f1 | tr -d '\r'
tail -1 wave.csv | cut -d, -f1
hubphase spin small.yaml --wiring 1 --seconds 0.4 --switched --window 0.3:0.302 --csv - -o report.txt |
    tr -d '\r' | cut -d, -f11-13 | sort -u | wc -l | sed 's/^[0-9]*$/&/' | {
        read -r levels
        [ "$levels" -gt 100 ] && echo "edges are there"
    }
run spin small.yaml --wiring 1 --window 1:2
run spin small.yaml --wiring 1 --window 1:1.6 --seconds 1.55
hubphase spin small.yaml --wiring 1 --json | sed -n '/"wirings"/,$p' | mask_figures
