# A run that breaks off: the report says so, the command fails with the reason, and waveforms of an
# earlier run are not replaced by none.
write_scenario
sed -i 's/inductance_between_leads_mh: 0.5/inductance_between_leads_mh: 0.0085/; s/wheel_inertia_kg_m2: 0.02/wheel_inertia_kg_m2: 0.000001/' small.yaml
mkdir pictures
echo good >wave.csv
echo good >pictures/waveforms-01.svg
broken() { run "$@" | mask_figures; }
broken spin small.yaml --wiring 1 --switched --csv wave.csv --plots pictures -o spin.txt
grep -E 'undecided|broke off' spin.txt | mask_figures
cat wave.csv pictures/waveforms-01.svg
broken spin small.yaml --wiring 1 --switched --window 1.4:1.5 --csv wave.csv --plots pictures -o spin.txt
broken spin small.yaml --wiring 1 --switched -o spin.txt
cat wave.csv pictures/waveforms-01.svg
# What there is before the end is shown.
broken spin small.yaml --wiring 1 --switched --window 0:1.5 --csv wave.csv --plots pictures -o spin.txt
[ $(wc -l <wave.csv) -gt 10 ] && grep -c '</svg>' pictures/waveforms-01.svg
list_files
