# No output takes the name of the scenario or of a bench log, by whatever way it leads there, nor that of
# another output. Status 4, and nothing is written.
write_scenario
hubphase log small.yaml learn --worked no --quiet
cp small.bench.yaml mine.yaml
mkdir folder pictures
ln small.bench.yaml hard.html
ln -s ../small.bench.yaml folder/soft.html
ln -s . here
sums() { cat small.yaml small.bench.yaml mine.yaml | md5sum; }
sums >before
for place in small.bench.yaml ./here/small.bench.yaml hard.html folder/soft.html; do
    run survey small.yaml --starts 1 -o $place
done
run survey small.yaml --starts 1 --csv -o small.bench.yaml
run survey small.yaml --show-parameters -o small.bench.yaml
run spin small.yaml --wiring 1 --csv small.bench.yaml
run spin small.yaml --wiring 1 -o small.bench.yaml
run explain small.yaml --wiring 1 --starts 1 -o small.bench.yaml
run spread small.yaml --motors 1 --starts 1 --csv -o small.bench.yaml
run next small.yaml --quiet -o small.bench.yaml
run next small.yaml --log mine.yaml -o mine.yaml
run next small.yaml --log mine.yaml -o small.bench.yaml
run sheet small.yaml -o hard.html
run sheet small.yaml --log hard.html -o folder/soft.html
# The standard output may lead there, too.
hubphase survey small.yaml --starts 1 >>small.bench.yaml
echo "status $?"
# Pictures.
ln -s ../small.bench.yaml pictures/map.svg
run survey small.yaml --starts 1 --plots pictures -o report.txt
rm pictures/map.svg
ln small.yaml pictures/six-steps-03.svg
run explain small.yaml --wiring 3 --starts 1 --plots pictures/
rm pictures/six-steps-03.svg
# A log that is not there yet has its name already.
mv small.bench.yaml kept
run survey small.yaml --starts 1 -o small.bench.yaml
run survey small.yaml --starts 1 -o here/small.bench.yaml
ln -s small.bench.yaml early
run next small.yaml -o early
run next small.yaml --log new.yaml -o new.yaml
run next small.yaml --plots small.bench.yaml
rm early
mv kept small.bench.yaml
# Two outputs of one name, there already or not.
run spin small.yaml --wiring 1 --csv wave -o wave
run spin small.yaml --wiring 1 --csv here/wave -o folder/../wave
: >wave
ln wave twin
run spin small.yaml --wiring 1 --csv twin -o wave
run survey small.yaml --starts 1 --plots pictures -o pictures/map.svg
run survey small.yaml --starts 1 --plots new -o new
run spread small.yaml --motors 1 --starts 1 --plots pictures -o here/pictures/spread-bands.svg
run spin small.yaml --wiring 7 --plots pictures --csv pictures/waveforms-07.svg -o spin.txt
# The folder of the pictures is made for other outputs too, and goes when nothing is written.
run survey small.yaml --starts 1 --plots fresh -o fresh/map.svg
run spin small.yaml --wiring 7 --plots fresh/ --csv fresh/waveforms-07.svg -o fresh/spin.txt
run explain small.yaml --wiring 7 --starts 1 --plots fresh -o fresh/none/explain.txt
run spread small.yaml --motors 1 --starts 1 --plots fresh -o fresh/
run next small.yaml --plots fresh -o small.yaml
[ ! -e fresh ] || echo "fresh is there"
run survey small.yaml --starts 1 --plots fresh -o fresh/table.txt --quiet
ls fresh
rm -r fresh
# Devices may be written to twice; names that only look alike may be written.
hubphase spin small.yaml --wiring 1 --csv /dev/null -o /dev/null
echo "status $?"
run spin small.yaml --wiring 1 --csv pictures/waveforms-02.svg -o spin.txt --plots pictures
sums | cmp - before
list_files
