# back, help, stop at any question; input that ends; answers that are none; the log that is kept.
talk() {
    printf "$1" | hubphase practise --seed 3 "${@:2}" 2>&1
    echo "status ${PIPESTATUS[1]}"
}
talk ''
talk 'stop\n'
talk 'help\n\nwhat\n0\nundo\npark\nback\npark\nred\nhelp\nstop\n' | tail -n +20
talk 'pins\nhelp\np\ntrial\n37\nyellow\nback\ntrial\n3\nlamp\nstop\n' | tail -n +20
talk 'answer\nback\nanswer\nfault\nclutch_slips\nback\ndrop\n' | tail -n +20
talk 'pins\nsens\ndrop\n9\nx\n1\n' | tail -n +26
# Menu numbers are the same at any time, and entries keep theirs.
talk '11\n12\n13\npins\n11\nsens\n12\n1\n12\n1\n2\n12\n14\nstop\n' | tail -n +20 | grep -E '^(>|The log|Entry|Hint|  -)'
# What cannot be.
run practise --level easy
run practise --seed 0
run practise --level clutch scenarios/barrow.yaml
run practise nowhere.yaml
run practise -o evening.yaml
# The log is there after every answer, and is one that `next` reads.
talk 'pins\nsens\nhand\n' -o evening.bench.yaml | tail -8
list_files
hubphase next evening.yaml | head -1
talk 'pins\n' -o evening.bench.yaml
talk 'pins\n' scenarios/trainer.yaml --quiet -o mine.bench.yaml | tail -5
