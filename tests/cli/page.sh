# The page: one file, the same bytes every time, that holds scenario and log as they stand and needs
# nothing beside it; wrong files and places.
if ! hubphase page -o empty.html 2>cannot && grep -q 'built without the library as WebAssembly' cannot; then
    cat cannot >&2
    exit 77
fi
cat cannot
rm cannot
cp scenarios/minimal.yaml barrow.yaml
run page barrow.yaml -o page.html
hubphase page barrow.yaml --jobs 1 --quiet -o - | cmp - page.html && echo same
[ $(wc -c <page.html) -lt 1500000 ] && echo small enough
perl -0pe 's{<script.*?</script>}{}gs' page.html | grep -oE ' (src|href|action|style|on[a-z]+)="[^#"][^"]*"'
sed '/id="notices"/,/<.script>/d' page.html | grep -oE "https?://[^\"' ]*" | sort -u # the name of SVG, which is no address; notices name some
grep -o 'Content-Security-Policy[^>]*' page.html | sed -E 's/sha256-[A-Za-z0-9+/]{43}=/sha256-HASH/g'
hash_of() { # of a part of page.html, as the policy states it
    local hex
    hex=$(perl -0ne "print \$1 if m{<$1>(.*?)</$1>}s" page.html | sha256sum | cut -d ' ' -f 1)
    printf "$(sed 's/../\\x&/g' <<<"$hex")" | base64
}
for part in style script; do
    grep -qF "$part-src 'sha256-$(hash_of $part)'" page.html && echo "the hash of the $part is right"
done
# What it holds is what the files hold: as JSON that cannot end its element.
held() { # file, name
    grep -o '{"name":.*"table":[^}]*}' "$1" | python3 -c 'import json, sys
held = json.load(sys.stdin)[sys.argv[1]]
sys.stdout.write("nothing" if held is None else held)' "$2"
}
held page.html scenario | cmp - barrow.yaml && echo "the scenario is there"
held page.html log && echo " of a log"
hubphase log barrow.yaml sensor_supply --supply-v 5.03 --note 'measured </script><!-- & "noted"' --quiet
run page barrow.yaml --quiet -o logged.html
held logged.html log | cmp - barrow.bench.yaml && echo "the log is there"
[ "$(grep -c '</script>' logged.html)" = "$(grep -c '</script>' page.html)" ] && echo "nothing was ended"
mv barrow.bench.yaml elsewhere.yaml
hubphase page barrow.yaml elsewhere.yaml --quiet -o given.html
hubphase page barrow.yaml --log elsewhere.yaml --quiet -o option.html
cmp given.html option.html && cmp given.html logged.html && echo same
held empty.html scenario && echo " of a machine"
rm *.html
# Wrong files and places leave what there is.
run page missing.yaml -o page.html
printf 'hubphase_log: 1\nentries:\n- time: 2026-11-25T10:40Z\n  park: {plus_lead: pink}\n' >wrong.yaml
run page barrow.yaml wrong.yaml -o page.html
mkfifo pipe.yaml
timeout 20 hubphase page barrow.yaml pipe.yaml -o page.html 2>&1
echo "status $?"
rm pipe.yaml
run page barrow.yaml -o barrow.yaml
run page barrow.yaml -o nowhere/page.html
mv elsewhere.yaml barrow.bench.yaml
ln -s barrow.bench.yaml soft.html
run page barrow.yaml -o soft.html
cp barrow.bench.yaml mine.yaml
run page barrow.yaml mine.yaml -o ./mine.yaml
cmp barrow.bench.yaml mine.yaml && echo "both logs are as they were"
list_files
