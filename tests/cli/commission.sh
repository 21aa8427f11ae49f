# The list of commissioning: what is asked for and what is refused. Each step's own words: test_commission.
cp scenarios/barrow.yaml scenarios/barrow.bench.yaml .
run log barrow.yaml idle_draw --idle-a 0.4 --off-a 0 --load-on no --quiet
hubphase commission barrow.yaml | grep -A3 -E '(look|good) +idle_draw'
run log barrow.yaml idle_draw --idle-a 0.04 --off-a 0 --load-on no --quiet
hubphase commission barrow.yaml | grep -A3 -E '(look|good) +idle_draw'
run commission barrow.yaml nowhere.bench.yaml
hubphase commission barrow.yaml --step trial 2>&1 | sed 's/must be one of .*/must be one of ../'
run commission barrow.yaml barrow.bench.yaml --log barrow.bench.yaml
run commission
run commission barrow.yaml --output barrow.bench.yaml
# What the runs tell: the machine's own figures, and as JSON.
run log barrow.yaml coast_down --coast-from-rpm 215 --after-1-s 3 --after-1-rpm 146 --after-2-s 6 --after-2-rpm 80 --coast-s 10.1 --rim-kg 1.3 --rim-radius-m 0.29 --quiet
run log barrow.yaml no_load --full-speed-rpm 217 --full-a 0.24 --full-v 37.4 --half-speed-rpm 108 --half-a 0.13 --half-v 37.5 --quiet
run log barrow.yaml sag --low-a 0.6 --low-v 37.4 --high-a 9.5 --high-v 36.5 --terminal-v 36.8 --quiet
run log barrow.yaml heating --heating-a 18 --winding-c 17 --start-v 3.72 --heated-1-s 30 --heated-1-v 3.84 --heated-2-s 60 --heated-2-v 3.91 --heated-3-s 120 --heated-3-v 3.99 --heating-s 120 --rested-1-s 30 --rested-1-v 3.87 --rested-2-s 120 --rested-2-v 3.79 --quiet
for kind in key throttle brake pedal_sensor speed_switch learn_lead; do
    hubphase log barrow.yaml $kind --fitted no --quiet
done
run log barrow.yaml hub --pricks none --bearings free --inside not_seen --covers torqued --cable good --clutch none --quiet
run log barrow.yaml display --what none --quiet
run log barrow.yaml shared_pack --shared no --quiet
hubphase commission barrow.yaml | sed -n '/^What was/,/^Not ready/p'
hubphase commission barrow.yaml --json | grep -oE '"(why|next|finding)": "[a-z_]*"'
# Written back into the scenario: comments kept, every changed key with its origin.
run commission barrow.yaml --write own.yaml
diff barrow.yaml own.yaml | sed 's/print: .*/print: .../'
# The new one goes on with its log, and counts no reading twice: the very same figures and findings; it
# does not ask to be written any more.
hubphase commission own.yaml | sed -n 1,5p
hubphase commission barrow.yaml | sed -n '/^What was/,/^Not ready/p' | grep -vE '^(With --write|then reckon)' >then
hubphase commission own.yaml | sed -n '/^What was/,/^Not ready/p' | diff then - && echo the same
run log own.yaml idle_draw --idle-a 0.05 --quiet
hubphase log own.yaml --undo | head -1
run commission own.yaml --write again.yaml
# A later log beside the one that it was learnt from: both are held against what it was before.
hubphase log barrow.yaml no_load --log spring.yaml --full-speed-rpm 217 --full-a 0.5 --full-v 37.4 --quiet
for scenario in barrow own; do hubphase compare $scenario.yaml barrow.bench.yaml spring.yaml; done >both
awk 'NR == 1 { first = $0 } $0 == first { n++ } { half[n] = half[n] $0 "\n" } END { print half[1] == half[2] ? "the same" : half[1] half[2] }' both
for scenario in barrow own; do hubphase compare $scenario.yaml spring.yaml barrow.bench.yaml; done >both
awk 'NR == 1 { first = $0 } $0 == first { n++ } { half[n] = half[n] $0 "\n" } END { print half[1] == half[2] ? "the same" : half[1] half[2] }' both
mkdir away
run commission barrow.yaml --write away/own.yaml
grep -A1 '^learnt_from' away/own.yaml; grep '  log:' away/own.yaml | sed 's#"/.*/#".../#'
cp away/own.yaml gone.yaml
sed -i 's/  log: .*/  log: lost.bench.yaml/' gone.yaml
hubphase commission gone.yaml | sed -n 1,5p
run commission barrow.yaml --write barrow.yaml
# What is there already is never written over.
echo 'another machine' >another.yaml
run commission barrow.yaml --write another.yaml
cat another.yaml
run commission scenarios/seeddrill.yaml --write one.yaml # its log has the Hall supply
cp scenarios/seeddrill.yaml fresh.yaml
run commission fresh.yaml --write none.yaml
ls none.yaml 2>&1
# Good leads: the battery's own volts a digit below those at the controller.
run log barrow.yaml sag --low-a 0.6 --low-v 37.4 --high-a 9.5 --high-v 36.5 --terminal-v 36.49 --quiet
run log barrow.yaml sag --low-a 0.6 --low-v 37.4 --high-a 9.5 --high-v 36.5 --terminal-v 35.5
# A run that draws more than its drag explains, and one that draws what only a wrong wiring does.
run log barrow.yaml no_load --full-speed-rpm 215 --full-a 0.6 --full-v 37.4 --quiet
hubphase commission barrow.yaml | grep -A9 '^  look *no_load *no-load'
run log barrow.yaml no_load --full-speed-rpm 240 --full-a 4.1 --full-v 37.0 --quiet
hubphase commission barrow.yaml | grep -A6 '^  stop *no_load *no-load'
hubphase commission barrow.yaml | grep -A1 '^Stop:'
run commission barrow.yaml --write stopped.yaml
# Volts with a slipped decimal point are to be checked, and teach nothing.
hubphase log barrow.yaml no_load --full-speed-rpm 217 --full-a 0.24 --full-v 3.74 --quiet
hubphase commission barrow.yaml | grep -A9 '^  look *no_load *no-load'
hubphase commission barrow.yaml | grep -E '^  (speed per volt|no-load speed)'
run commission barrow.yaml --write slipped.yaml
# What does not fit together is told by its names.
run log barrow.yaml coast_down --coast-from-rpm 215 --after-1-s 3
run log barrow.yaml coast_down --coast-from-rpm 215 --after-1-s 3 --after-1-rpm 230
run log barrow.yaml coast_down --coast-from-rpm 215
run log barrow.yaml no_load --full-v 37
run log barrow.yaml sag --low-a 9 --low-v 37 --high-a 2 --high-v 36
run log barrow.yaml heating --heating-a 18 --start-v 3.7 --rested-1-s 30 --rested-1-v 3.8
# An entry must say something; a partial one takes nothing back that it does not speak of.
cp scenarios/barrow.yaml bare.yaml
run log bare.yaml hub --note "had a look"
hubphase log bare.yaml hub --inside wet --quiet
hubphase log bare.yaml hub --bearings free --quiet
hubphase commission bare.yaml | grep -A1 -E '^  stop *hub'
hubphase log bare.yaml hub --inside dry --quiet
hubphase commission bare.yaml | grep -A1 -E '^  noted *hub'
# A scenario and a log whose lines end in CR alone are gone on with as if they ended in LF.
cp scenarios/barrow.yaml plain.yaml
hubphase log plain.yaml no_load --full-v 36 --full-speed-rpm 210 --full-a 0.8 --quiet
hubphase log plain.yaml idle_draw --idle-a 0.05 --quiet
mkdir old
for file in plain.yaml plain.bench.yaml; do tr '\n' '\r' <$file >old/$file; done
hubphase commission plain.yaml --write lf.yaml 2>/dev/null
(cd old && hubphase commission plain.yaml --write lf.yaml 2>/dev/null)
cmp lf.yaml <(tr '\r' '\n' <old/lf.yaml) && echo "the same of lines that end in CR"
hubphase log old/plain.yaml learn --worked no --quiet && hubphase log old/plain.yaml --undo | head -n 1
hubphase log plain.yaml | cmp - <(hubphase log old/plain.yaml) && echo "the log, too"
