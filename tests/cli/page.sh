# The page: one file, the same bytes every time, under a megabyte, needing nothing beside it.
cp scenarios/minimal.yaml barrow.yaml
run page barrow.yaml --one-in 5 -o page.html
hubphase page barrow.yaml --one-in 5 --jobs 1 --quiet -o - | cmp - page.html && echo same
[ $(wc -c <page.html) -lt 1000000 ] && echo small enough
grep -c '<script' page.html
grep -oE ' (src|href|action|style|on[a-z]+)="[^#"][^"]*"' page.html
grep -oE "https?://[^\"' ]*" page.html | sort -u # the name of SVG, which is no address
grep -o 'Content-Security-Policy[^>]*' page.html | sed -E 's/sha256-[A-Za-z0-9+/]{43}=/sha256-HASH/g'
hash_of() { # of a part of page.html, as the policy states it
    local hex
    hex=$(perl -0ne "print \$1 if m{<$1>(.*?)</$1>}s" page.html | sha256sum | cut -d ' ' -f 1)
    printf "$(sed 's/../\\x&/g' <<<"$hex")" | base64
}
for part in style script; do
    grep -qF "$part-src 'sha256-$(hash_of $part)'" page.html && echo "the hash of the $part is right"
done
# What is in the log has been done; the page copies out what stands in it and goes on from there.
hubphase log barrow.yaml pins --continuity yes --touches-shell no --phase-touches-sensor no --quiet
hubphase log barrow.yaml sensor_supply --supply-v 5.03 --note 'measured <twice> & "noted"' --quiet
run page barrow.yaml --one-in 5 --quiet -o logged.html
sed -n '/id="standing"/,/<\/ol>/p' logged.html
grep -oE 'note: .{60}' logged.html
grep -oE '<b>1\. [^<]*' page.html logged.html
mv barrow.bench.yaml elsewhere.yaml
hubphase page barrow.yaml elsewhere.yaml --one-in 5 --quiet -o given.html
hubphase page barrow.yaml --log elsewhere.yaml --one-in 5 --quiet -o option.html
cmp given.html option.html && echo same
grep -o 'hubphase next [^"]*' given.html | sort -u
list_files
