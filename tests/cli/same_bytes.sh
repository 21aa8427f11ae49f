# The number of threads changes nothing, and a second run gives the same bytes.
write_scenario
hubphase survey small.yaml --json --jobs 1 >one
hubphase survey small.yaml --json --jobs 4 >four
hubphase survey small.yaml --json --jobs 4 >again
cmp one four && cmp four again && echo same
hubphase survey small.yaml --jobs 1 >one
hubphase survey small.yaml --jobs 3 >three
cmp one three && echo same
