# kill -9 at any moment, three programs at once: the file can be read after it, and every entry that
# was acknowledged is there once.
cp scenarios/barrow.yaml barrow.yaml
write() { # writer: 40 entries, most of them shot at, each a little later than the one before
    for k in $(seq 10 49); do
        hubphase log barrow.yaml learn --worked no --note "$1 $k" --quiet &
        sleep "0.00$((k % 10 * 2))"
        [ $((k % 10)) -gt 7 ] || kill -9 $!
        wait $! && echo "$1 $k" >>acknowledged
    done 2>/dev/null
}
for round in 1 2; do
    for writer in a b c; do
        write "$writer$round" &
    done
    wait
    hubphase log barrow.yaml >list || echo "unreadable"
done
sort -u acknowledged >want
grep -oE 'note: [abc][0-9] [0-9]+' barrow.bench.yaml | sed 's/note: //' | sort >have
uniq -d have
[ $(wc -l <want) -gt 40 ] && [ $(wc -l <have) -lt 240 ] && echo "some were killed, some were not"
comm -23 want have
rm -f list want have acknowledged
run log barrow.yaml learn --worked yes --quiet
list_files
