# back, undo, help, stop at any question; input that ends; a log that was begun before.
cp scenarios/seeddrill.yaml drill.yaml
talk() {
    printf "$1" | hubphase bench drill.yaml 2>&1 |
        sed -E '/^-{40}/,/^-{40}/d; s/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/'
    echo "status ${PIPESTATUS[1]}"
}
# Nothing at all; nothing to take back; help; wrong words.
talk ''
talk 'undo\nhelp\nwhat\n9\n0\nback\nSTOP\n'
# back through answers that open further questions, and before the first.
talk '1\nno\nyes\nno\nback\nback\nback\nyes\nno\nno\nno\nback\nno\n\nback\nback\n2\n\n1\nstop\n'
# Left in the middle of an entry: it is dropped. After the last value: it is saved.
talk '1\n5.1\nback\nstop\n'
talk '1\n'
talk '1\n5.1\n'
# undo in the middle of an entry takes an answer back, between entries an entry.
talk 'other\n3\n101\nundo\nundo\nundo\n4\nstop\n'
# Lines that are no answers.
talk 'gr\374n\n\001\nstop\n'
(head -c 5000 /dev/zero | tr '\0' a; echo; echo stop) | hubphase bench drill.yaml | tail -9
sed -E 's/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/' drill.bench.yaml | tail -25
list_files
