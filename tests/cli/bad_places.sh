# Places that cannot be written: status 4, told before the work, and nothing left behind.
write_scenario
: >file
run survey small.yaml --starts 1 -o missing/report.txt
run survey small.yaml --starts 1 -o scenarios
run survey small.yaml --starts 1 -o ""
run survey small.yaml --starts 1 --plots file
run survey small.yaml --starts 1 --plots file/below
run survey small.yaml --starts 1 --plots missing/below
run spin small.yaml --wiring 1 --csv missing/wave.csv -o spin.txt
run spin small.yaml --wiring 1 --plots file
run explain small.yaml --wiring 1 --starts 1 -o file/below
# The scenario is never written over, by whatever name it is called.
ln -s small.yaml alias.yaml
run survey small.yaml --starts 1 -o alias.yaml
run spin small.yaml --wiring 1 --csv ./small.yaml -o spin.txt
head -1 small.yaml
rm alias.yaml
list_files
# A limit on the size of files stands for a disk that fills up half way.
(fill_disk 8; hubphase spin small.yaml --wiring 1 --csv wave.csv -o spin.txt; echo "status $?")
hubphase survey small.yaml --starts 1 --json >/dev/full
echo "status $?"
hubphase survey small.yaml --starts 1 --output /dev/full
echo "status $?"
list_files
[ -c /dev/full ] && echo "the device is still one"
