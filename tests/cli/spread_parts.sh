# An ensemble in four parts, joined out of order: the bytes of one run, in every form.
write_scenario
spread() { hubphase spread small.yaml --motors 6 --starts 1 --quiet "$@"; }
join() { spread --join "$@"; }
for k in 3 1 4 2; do spread --part $k/4 -o part-$k --jobs $((k % 2 + 1)); done
for form in --json --csv --output=-; do
    spread $form >whole
    join part-3 part-1 part-4 part-2 $form >joined
    cmp whole joined && echo "same $form"
done
for format in svg png; do
    spread --plots whole-$format --format $format -o whole
    join part-2 --plots joined-$format --format $format part-1 -o joined part-3 part-4
    cmp whole joined && diff -r whole-$format joined-$format && echo "same $format"
done
# To a pipe likewise; one part is as good as four.
spread --part 1/1 | cat >all
join all --csv | cmp - <(spread --csv) && echo "same from one part"
# Whichever says the throttle, option or scenario, one part at a time.
spread --throttle 35 --part 2/4 -o by-option
join part-3 part-1 by-option part-4 --csv | cmp - <(spread --csv) && echo "same by option"
{ sed '/^controller:/q' small.yaml; echo "  throttle_percent: 57"; sed '1,/^controller:/d' small.yaml; } >stated.yaml
stated() { hubphase spread stated.yaml --motors 2 --starts 1 --quiet "$@"; }
unstated() { hubphase spread small.yaml --throttle 57 --motors 2 --starts 1 --quiet "$@"; }
stated --part 1/2 -o stated-1 && unstated --part 2/2 -o unstated-2
stated --csv --join stated-1 unstated-2 | cmp - <(unstated --csv) && echo "same by scenario"
# What is wrong is told by the file's name; the parts, and an older report, are left alone.
echo kept >report
run spread small.yaml --motors 6 --starts 1 --join part-1 part-2 part-4 -o report
run spread small.yaml --motors 6 --starts 1 --join part-1 part-2 part-3 part-4 part-2 -o report
run spread small.yaml --motors 6 --starts 1 --join part-1 part-2 part-3 -o report all
run spread small.yaml --motors 6 --starts 1 --join part-1 part-2 none -o report
run spread small.yaml --motors 6 --starts 1 --join part-1 small.yaml -o report
run spread small.yaml --motors 6 --starts 1 --join . -o report
run spread small.yaml --motors 6 --starts 1 --seed 9 --join part-1 -o report
run spread small.yaml --motors 7 --starts 1 --join part-1 -o report
run spread small.yaml --motors 6 --starts 1 --join part-3
run spread small.yaml --motors 6 --starts 1 --throttle 40 --join part-1 -o report
sed 's/pole_pairs: 10/pole_pairs: 11/' small.yaml >other.yaml
run spread other.yaml --motors 6 --starts 1 --join part-1 -o report
head -c 5000 part-2 >cut
run spread small.yaml --motors 6 --starts 1 --join part-1 cut -o report
cat report
cat part-1 part-2 part-3 part-4 >before
run spread small.yaml --motors 6 --starts 1 --join part-1 part-2 part-3 part-4 -o part-2
cat part-1 part-2 part-3 part-4 | cmp - before && echo "parts untouched"
# A part that is whole is left as it is; another part, or spread, is not written over.
run spread small.yaml --motors 6 --starts 1 --part 2/4 -o part-2
run spread small.yaml --motors 6 --starts 1 --part 1/4 -o part-2
run spread small.yaml --motors 6 --starts 1 --seed 9 --part 2/4 -o part-2
cat part-1 part-2 part-3 part-4 | cmp - before && echo "parts untouched"
# A name that is no figure may change meanwhile.
sed 's/name: .*/name: Renamed/' small.yaml >renamed.yaml
hubphase spread renamed.yaml --motors 6 --starts 1 --csv --join part-? | cmp - <(spread --csv) && echo "same renamed"
# Wrong command lines.
for part in 0/4 5/4 1 /4 1/ 1/2/3 a/b -1/4 1/0 1/10001 ''; do
    run spread small.yaml --part "$part" | sed -n '1,2p;$p'
done
run spread small.yaml --motors 2 --part 3/4
run spread small.yaml --part 1/4 --json
run spread small.yaml --part 1/4 --plots pictures
run spread small.yaml --part 1/4 --join part-1
run spread small.yaml --join
run spread --join
