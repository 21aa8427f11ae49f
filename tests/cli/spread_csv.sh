# CR LF at every line's end; 37 lines of as many fields; the smooth ones.
write_scenario
hubphase spread small.yaml --csv --motors 1 --starts 1 >out.csv
head -1 out.csv | cut -d, -f1-26 | tr '\r' '!'
grep -c $'\r$' out.csv
awk -F, '{print NF}' out.csv | sort | uniq -c | tr -s ' '
cut -d, -f1-11 out.csv | grep -E 'correct|reverse'
