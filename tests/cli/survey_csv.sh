# CR LF at every line's end; 37 lines; the smooth ones.
write_scenario
hubphase survey small.yaml --csv --starts 2 >out.csv
head -1 out.csv | tr '\r' '!'
grep -c $'\r$' out.csv
cut -d, -f1-10 out.csv | grep -E 'correct|reverse'
