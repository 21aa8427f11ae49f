# Report and pictures; wrong places are told before the work.
write_scenario
run spread small.yaml --motors 1 --starts 1 -o report.txt --plots pictures
run spread small.yaml --motors 1 --starts 1 --quiet --csv -o report.csv --plots pictures --format png
run spread small.yaml --motors 10000 -o missing/report.txt
run spread small.yaml --motors 10000 --plots small.yaml
run spread missing.yaml
tail -1 report.txt
list_files
hubphase spread small.yaml --motors 1 --starts 1 --json >/dev/full
echo "status $?"
