# The fit of a whole machine, of one that says little, and what is refused. Figures of simulated lines are
# held by test_fit; here by their state.
hubphase fit --quiet --starts 1 scenarios/trike.yaml >fit.txt
echo "status $?"
grep -E '^(ok|LOOK|STOP|not known) ' fit.txt | sed -E 's/[:.].*//'
grep -A1 '^ok *Fuse:' fit.txt
hubphase fit --quiet --starts 1 scenarios/minimal.yaml | grep -E '^not known|Not stated'
hubphase fit --quiet --starts 1 scenarios/watercart.yaml | grep -c 'No wiring of these parts is correct'
# The same for any number of threads; JSON is one object.
hubphase fit --quiet --starts 1 --jobs 1 scenarios/trike.yaml | cmp - fit.txt && echo same
hubphase fit --quiet --starts 1 --json scenarios/trike.yaml >fit.json
python3 - <<'PY'
import json
fit = json.load(open("fit.json"))
print(sorted(fit))
print(fit["worst"], fit["correct"], fit["reverse"], len(fit["lines"]), len(fit["slopes"]))
print(fit["lines"][4])
print(sorted(fit["curves"]["full"]["points"][0]))
PY
# Columns: a terminal of 50 has no longer line.
COLUMNS=50 hubphase fit --quiet --starts 1 scenarios/trike.yaml >narrow.txt
awk 'length >= 50' narrow.txt
<narrow.txt sed -n '/^slope/,/^ *2 /p' | sed 's/[0-9]/0/g'
hubphase fit --show-parameters scenarios/trike.yaml | sed -n '/^fuse/,/^cable/p'
run fit
run fit scenarios/trike.yaml --json --show-parameters
run fit missing.yaml
run fit --quiet --throttle=0 scenarios/trike.yaml
run fit scenarios/trike.yaml -o missing/fit.txt
# A hub mounted the other way round: the leads to exchange go by their names.
sed 's/^ *no_load_current.*//' scenarios/barrow.yaml >round.yaml
printf 'vehicle: {mounted: other_way}\n' >>round.yaml
hubphase fit --quiet --starts 1 round.yaml | grep -A3 'Direction'
# What a log tells of the machine is named, and used where it is asked for.
cp scenarios/barrow.yaml .
hubphase fit --quiet --starts 1 barrow.yaml >stated.txt
hubphase log barrow.yaml no_load --full-speed-rpm 250 --full-a 0.24 --full-v 37.4 --quiet
hubphase log barrow.yaml heating --heating-a 18 --winding-c 17 --start-v 3.72 --heated-1-s 30 --heated-1-v 3.84 --heated-2-s 60 --heated-2-v 3.91 --heated-3-s 120 --heated-3-v 3.99 --quiet
hubphase fit --starts 1 barrow.yaml 2>told.txt | cmp - stated.txt && echo "as stated"
grep -o 'hubphase fit: .*' told.txt
hubphase fit --quiet --starts 1 barrow.yaml --log barrow.bench.yaml --show-parameters | grep -E ' (copper_j_per_k|no_load_speed_rpm_at_v.speed_rpm) '
hubphase commission barrow.yaml --write own.yaml 2>/dev/null
hubphase fit --quiet --starts 1 own.yaml | tail -n +3 >own.txt
hubphase fit --quiet --starts 1 barrow.yaml --log barrow.bench.yaml | tail -n +3 | cmp - own.txt && echo "as written back"
hubphase fit --starts 1 own.yaml 2>&1 >/dev/null | grep -c 'tells figures'
run fit --quiet barrow.yaml --log nowhere.yaml
mkdir folder
run fit --quiet barrow.yaml --log folder
