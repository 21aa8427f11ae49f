# From 50 columns on no line is longer than the terminal, whatever is printed: COLUMNS says the width, or
# a real terminal does. A terminal of 79 columns and one of 80 lay out what a pipe gets.
need_terminal
write_scenario
cp scenarios/seeddrill.yaml drill.yaml
cp scenarios/seeddrill.bench.yaml drill.bench.yaml
{ cat small.yaml; echo 'colours: {frame: green, lamp: red, saddle: brown, bell: brass, basket: willow}'; } >bad.yaml
cp drill.yaml worse.yaml
sed 's/code: [01]*/code: one hundred and ten, which is longer than a code and no code either/' drill.bench.yaml |
    sed 's/supply_v:.*/supply_v: none that could be measured by anybody who was there at that time/' >worse.bench.yaml
too_long() { # WIDTH: lines that reach it
    tr -d '\r' | sed 's/\x1b\[[0-9;]*m//g' | awk -v width="$1" 'length >= width'
}
for width in 50 60 80 120; do
    export COLUMNS=$width
    for command in 'survey small.yaml' 'survey small.yaml --show-parameters' 'explain small.yaml --wiring 12' \
        'spin small.yaml --wiring 9' 'spread small.yaml --motors 2 --starts 1' 'next drill.yaml --why' \
        'log drill.yaml' 'survey bad.yaml' 'next worse.yaml' 'log worse.yaml' --help 'survey --help' 'spin --help' 'explain --help' 'spread --help' \
        'log --help' 'bench --help' 'next --help' 'page --help' 'sheet --help'; do
        hubphase $command 2>&1 | too_long $width | sed "s/^/$width $command: /"
    done
    { echo trial; echo; echo; echo stop; } | hubphase bench drill.yaml 2>&1 | too_long $width | sed "s/^/$width bench: /"
    unset COLUMNS
done
COLUMNS=50 hubphase survey bad.yaml 2>&1
COLUMNS=50 hubphase log worse.yaml 2>&1
shown() { # COLUMNS COMMAND...: on a terminal so wide
    TERM=dumb script -qec "stty cols $1; hubphase ${*:2}" /dev/null | tr -d '\r'
}
for width in 50 60 80 120; do
    shown $width survey small.yaml --quiet | too_long $width
    shown $width next drill.yaml --why | too_long $width
    shown $width survey nowhere-at-all-in-a-folder-of-a-long-name.yaml | too_long $width
    COLUMNS=$width hubphase survey small.yaml >told
    shown $width survey small.yaml --quiet | cmp - told && echo "$width columns: the terminal and COLUMNS agree"
done
hubphase survey small.yaml >piped
COLUMNS=80 hubphase survey small.yaml | cmp - piped && echo "80 columns are what a pipe gets"
for odd in 0 -3 eighty 79x; do
    COLUMNS=$odd hubphase survey small.yaml | cmp - piped && echo "COLUMNS=$odd says nothing"
done
