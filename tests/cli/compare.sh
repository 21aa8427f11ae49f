# Two logs of one machine: nothing changed, a dry bearing, shorted turns; and what cannot be compared.
cp scenarios/barrow.yaml .
steps() { # LOG FULL_A HALF_A AFTER_3_S_RPM STOP_S START_V
    hubphase log barrow.yaml idle_draw --log "$1" --idle-a 0.05 --quiet
    hubphase log barrow.yaml coast_down --log "$1" --coast-from-rpm 215 --after-1-s 3 --after-1-rpm "$4" --coast-s "$5" --quiet
    hubphase log barrow.yaml no_load --log "$1" --full-speed-rpm 217 --full-a "$2" --full-v 37.4 --half-speed-rpm 108 --half-a "$3" --half-v 37.5 --quiet
    hubphase log barrow.yaml heating --log "$1" --heating-a 18 --winding-c 17 --start-v "$6" --heated-1-s 120 --heated-1-v 4 --quiet
}
steps then.yaml 0.25 0.14 146 10.1 3.72
steps same.yaml 0.26 0.14 148 10.3 3.70
steps dry.yaml 0.45 0.25 76 5.0 3.73
steps turns.yaml 0.6 0.25 147 10.2 3.3
run compare barrow.yaml then.yaml same.yaml
run compare barrow.yaml then.yaml dry.yaml
run compare barrow.yaml then.yaml turns.yaml
hubphase log barrow.yaml sag --log other.yaml --low-a 1 --low-v 37 --high-a 9 --high-v 36 --quiet
run compare barrow.yaml then.yaml other.yaml
hubphase compare barrow.yaml then.yaml dry.yaml --json | grep -E '"(name|change)": "(drag|changed)'
# More than any ageing does: another motor or a slip.
hubphase log barrow.yaml no_load --log faster.yaml --full-speed-rpm 300 --full-a 0.25 --full-v 37.4 --quiet
hubphase log barrow.yaml coast_down --log faster.yaml --coast-from-rpm 215 --after-1-s 30 --after-1-rpm 146 --coast-s 101 --quiet
hubphase compare barrow.yaml then.yaml faster.yaml | sed -n '/^What that/,/^"Changed"/p'
# The same figures, and controls that are no longer safe; then mended.
cp then.yaml unsafe.yaml
hubphase log barrow.yaml throttle --log then.yaml --throttle-rest-v 0.9 --throttle-full-v 4.1 --quiet
hubphase log barrow.yaml throttle --log unsafe.yaml --turned-with-off ground --quiet
hubphase log barrow.yaml brake --log unsafe.yaml --left-stops no --quiet
run compare barrow.yaml then.yaml unsafe.yaml
hubphase compare barrow.yaml then.yaml unsafe.yaml --json | grep -A5 '"kind": "brake"'
hubphase compare barrow.yaml unsafe.yaml then.yaml | sed -n '/^What steps/,$p'
hubphase log barrow.yaml brake --log brake.yaml --left-stops yes --quiet
run compare barrow.yaml unsafe.yaml brake.yaml
# The later log given first: a worn bearing would look mended.
hubphase log barrow.yaml idle_draw --log later.yaml --idle-a 0.05 --time 2027-05-14T10:00:00+01:00 --quiet
hubphase log barrow.yaml idle_draw --log sooner.yaml --idle-a 0.05 --time 2026-10-03T10:00:00+01:00 --quiet
run compare barrow.yaml later.yaml sooner.yaml
run compare barrow.yaml sooner.yaml later.yaml
hubphase compare barrow.yaml later.yaml sooner.yaml --json | grep -E '"(until|order)'
run compare barrow.yaml then.yaml
run compare barrow.yaml then.yaml nowhere.yaml
run compare barrow.yaml then.yaml dry.yaml --output then.yaml
# The same meters: what they are all off by cancels.
hubphase log barrow.yaml heating --log ohm.yaml --heating-a 18 --winding-c 17 --start-v 3.72 --heated-1-s 120 --heated-1-v 4 --quiet
hubphase log barrow.yaml heating --log more.yaml --heating-a 18 --winding-c 17 --start-v 3.87 --heated-1-s 120 --heated-1-v 4.16 --quiet
run compare barrow.yaml ohm.yaml more.yaml
run compare barrow.yaml ohm.yaml more.yaml --same-meters
hubphase compare barrow.yaml ohm.yaml more.yaml --same-meters --json | grep -E '"(same_meters|change)"'
# A lead half torn since: pair beside pair, no mean.
hubphase log barrow.yaml winding --log whole.yaml --resistance-ohm yellow-green=0.28 --resistance-ohm green-blue=0.34 --resistance-ohm blue-yellow=0.29 --quiet
hubphase log barrow.yaml winding --log torn.yaml --resistance-ohm yellow-green=0.28 --resistance-ohm green-blue=0.65 --resistance-ohm blue-yellow=0.68 --quiet
run compare barrow.yaml whole.yaml torn.yaml
hubphase compare barrow.yaml whole.yaml torn.yaml --json | sed -n '/"pairs": {/,/^  }/p'
hubphase compare barrow.yaml whole.yaml whole.yaml --json | grep '"pairs"'
