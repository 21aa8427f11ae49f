# An entry that is saved but cannot be printed is said to be saved: status 4, and no second entry is
# asked for.
cp scenarios/minimal.yaml mine.yaml
hubphase log mine.yaml learn --worked no >/dev/full
echo "status $?"
hubphase log mine.yaml learn --worked yes >&-
echo "status $?"
hubphase log mine.yaml learn --worked yes --quiet >/dev/full
echo "status $?"
hubphase log mine.yaml | grep -c learn
hubphase log mine.yaml --undo >/dev/full
echo "status $?"
hubphase log mine.yaml | grep -c learn
# What is printed must not land in a file that got the number of the closed output.
hubphase survey mine.yaml --starts 1 -o report.txt >&-
echo "status $?"
hubphase log mine.yaml >&-
echo "status $?"
hubphase survey mine.yaml --starts 1 --quiet >&-
echo "status $?"
grep -c learn report.txt
tail -1 report.txt
head -1 mine.bench.yaml
hubphase bench mine.yaml <&- >bench.txt
echo "status $?"
tail -2 bench.txt
list_files
