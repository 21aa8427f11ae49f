# Cards in the machine's own figures: what its full pack has, what its brake lever does to the drive, what
# its grip gives, which position of the speed switch the runs are reckoned in, whether there is a key.
write_scenario
machine() { # NAME LINES: small.yaml with more sections
    { cat small.yaml && printf '%b' "$2"; } >"$1.yaml"
}
# Lines of a card without its line breaks, those that hold a word.
said() {
    hubphase commission "$1.yaml" --step "$2" | awk '/^ +[0-9!]|^[A-Z]/ { print line; line = "" } { sub(/^ +/, ""); line = line " " $0 } END { print line }' | grep -E "$3"
}

machine lead 'pack: {cells: lead, in_series: 18}\n'
machine iron 'pack: {cells: lifepo4, in_series: 12}\n'
machine own 'pack: {in_series: 10, full_v: 41.5}\n'
for pack in small lead iron own; do
    echo "$pack:"
    said $pack shared_pack 'on the charger|charged full|not stated'
    hubphase fit $pack.yaml | tr -s ' \n' ' ' | grep -oE 'battery full [0-9.]+ V' | uniq
done

machine none 'controls:\n  brake: {switch: none}\n'
machine closed 'controls:\n  brake: {switch: normally_closed, expects: normally_closed}\n'
machine listed 'harness:\n  - part: levers\n    control: brake\n    leads: {black: ground, yellow: signal}\n'
for lever in small none closed listed; do
    echo "$lever:"
    said $lever sag 'within five|in a row|Bulbs|brake'
done
hubphase log small.yaml brake --left-stops yes --right-stops yes --unplugged-drives yes --quiet
echo 'a lever that was tried:'
said small sag 'within five|brake plug'
hubphase log small.yaml brake --unplugged-drives no --quiet
said small sag 'brake plug'
hubphase log small.yaml brake --fitted no --quiet
said small sag 'within five|brake plug'

hubphase log small.yaml key --fitted no --quiet
for key in small none; do said $key idle_draw ' [kK]ey'; done
