# Logs that cannot be read or written: said so, left as they were, nothing beside them.
cp scenarios/barrow.yaml barrow.yaml
run log missing.yaml learn --worked yes
refused() { # contents of the log
    printf "$1" >barrow.bench.yaml
    cp barrow.bench.yaml before
    run log barrow.yaml learn --worked yes
    run log barrow.yaml --undo
    run log barrow.yaml
    cmp before barrow.bench.yaml
    rm before
}
refused ''
refused 'hubphase: 1\n'
refused 'hubphase_log: 1\nscenario: Parcel trike\nentries:\n'
refused 'hubphase_log: 1\nscenario: Allotment barrow\nentries:\n- trial: {wirings: 3}\n'
refused 'hubphase_log: 1\nscenario: Allotment barrow\nentries: # gr\374n\n'
# Read well, but with no place for one more.
refused 'hubphase_log: 1\nscenario: Allotment barrow\nentries: []\n'
head -c 1100000 /dev/zero | tr '\0' '#' >barrow.bench.yaml
run log barrow.yaml learn --worked yes
rm barrow.bench.yaml
mkdir barrow.bench.yaml
run log barrow.yaml learn --worked yes
rmdir barrow.bench.yaml
ln -s nowhere barrow.bench.yaml
run log barrow.yaml learn --worked yes
rm barrow.bench.yaml
run log barrow.yaml learn --worked yes --log no/such/folder.yaml
run log barrow.yaml learn --worked yes --log barrow.yaml
# A link stays a link.
mkdir real
run log barrow.yaml learn --worked yes --log real/x.yaml --quiet
ln -s real/x.yaml barrow.bench.yaml
run log barrow.yaml learn --worked no --quiet
[ -L barrow.bench.yaml ] && grep -c worked real/x.yaml
# A full disk, in the guise of a limit on the size of files: blocks of 1024 bytes.
while [ $(wc -c <real/x.yaml) -lt 1024 ]; do hubphase log barrow.yaml learn --worked no --quiet; done
cp real/x.yaml before
# (The pipe keeps the limit off what is printed.)
(fill_disk 1 && run log barrow.yaml learn --worked yes) | cat
cmp before real/x.yaml
rm before
list_files
