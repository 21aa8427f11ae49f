write_scenario
hubphase survey small.yaml | mask_figures
