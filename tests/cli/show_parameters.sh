write_scenario
hubphase survey small.yaml --show-parameters --throttle 40 | sed -n '1,20p; /throttle/p'
