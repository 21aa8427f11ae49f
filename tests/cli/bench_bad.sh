# What stops bench before its first question; an entry that cannot be saved.
cp scenarios/seeddrill.yaml drill.yaml
run bench
run bench drill.yaml other.yaml
run bench drill.yaml --log ""
run bench missing.yaml </dev/null
printf 'hubphase_log: 1\nscenario: Seed drill\nentries:\n- trial: {wirings: 3}\n' >drill.bench.yaml
run bench drill.yaml </dev/null
rm drill.bench.yaml
talk() { # log, answers
    printf "$2" | hubphase bench drill.yaml --log "$1" 2>&1 |
        sed -E '/^-{40}/,/^-{40}/d; s/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/'
    echo "status ${PIPESTATUS[1]}"
}
talk no/such.yaml 'other\nlearn\nno\n\n\nagain\n'
talk no/such.yaml 'other\nlearn\nno\n\n\nleave\nstop\n'
# A full disk.
hubphase log drill.yaml learn --worked no --quiet
while [ $(wc -c <drill.bench.yaml) -lt 1024 ]; do hubphase log drill.yaml learn --worked no --quiet; done
cp drill.bench.yaml before
(
    fill_disk 1
    printf 'other\nlearn\nno\n\n\nleave\nstop\n' | hubphase bench drill.yaml 2>&1
) | tail -24 | sed -E 's/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/'
cmp before drill.bench.yaml && rm before
list_files
# The folder goes while it asks: it does not say that entries are in a log that is not there.
mkdir gone
cp scenarios/seeddrill.yaml scenarios/seeddrill.bench.yaml gone
mkfifo answers
: >said
hubphase bench gone/seeddrill.yaml <answers >said 2>&1 &
exec 3>answers
until grep -q 'What now?' said; do sleep 0.1; done
rm -r gone
echo stop >&3
exec 3>&-
wait $!
echo "status $?"
tail -n 1 said
