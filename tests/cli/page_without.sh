# A program that was built without the library as WebAssembly says so at once, whatever it is asked
# for, and how to get one that has it; no page is left behind.
hubphase page -o - >page 2>/dev/null
possible=$?
rm page
[ $possible != 0 ] || { echo "this program can put itself into a page" >&2; exit 77; }
cp scenarios/seeddrill.yaml drill.yaml # wants a table of likelihoods, which takes long
run page -o page.html
run page drill.yaml -o page.html
run page drill.yaml -o -
run lesson drill.yaml -o evening --groups 1 # the hand-outs need none
list_files
