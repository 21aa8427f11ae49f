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
