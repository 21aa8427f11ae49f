# Neither the number of threads nor a second run changes a byte; the seed does.
write_scenario
for form in --json --csv ""; do
    for jobs in 1 4 3; do
        hubphase spread small.yaml --motors 2 --starts 1 $form --jobs $jobs >out$jobs
    done
    cmp out1 out4 && cmp out1 out3 && echo same
done
hubphase spread small.yaml --motors 2 --starts 1 --seed 5 >other
cmp -s out1 other || echo "another seed, other motors"
