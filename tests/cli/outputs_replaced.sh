# What is written again keeps its link and its mode; what killed programs left is removed.
write_scenario
mkdir place
echo old >place/report.txt
chmod 604 place/report.txt
ln -s place/report.txt report.txt
ln -s place/new.csv wave.csv
mkdir pictures
ln -s ../place/map.svg pictures/map.svg
echo half >place/.unfinished-4194305.0-report.txt
echo half >place/.unfinished-4194306-wave.csv
echo mine >place/.unfinished-notes
run survey small.yaml --starts 1 -o report.txt --plots pictures
run spin small.yaml --wiring 1 --csv wave.csv -o report.txt
ls -l | cut -c1 | sort | uniq -c | sed 's/^ *//'
[ -L report.txt ] && [ -L wave.csv ] && [ -L pictures/map.svg ] && echo "links are links"
stat -c %a place/report.txt
tail -1 report.txt
wc -l <place/new.csv
list_files
