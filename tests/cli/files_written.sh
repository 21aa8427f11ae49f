# Reports and pictures: which files, what is said about them, and nothing left beside them.
write_scenario
run survey small.yaml --starts 1 --output report.txt --plots pictures
tail -1 report.txt
run survey small.yaml --starts 1 --quiet --json -o report.json --plots pictures/ --format png
run spin small.yaml --wiring 5 --csv wave.csv --plots pictures --format pdf -o spin.txt
run explain small.yaml --wiring 5 --starts 1 --plots pictures -o explain.txt
list_files
head -c 8 pictures/map.png | tail -c 7
head -c 4 pictures/waveforms-05.pdf
echo
wc -l <wave.csv
run spin small.yaml --wiring 5 --switched --seconds 0.1 --throttle 40 --plots pictures -o spin.txt
grep -o '<title>.*</title>' pictures/waveforms-05.svg
