#!/usr/bin/env bash
# Makes the hand-outs of a club evening and reads them back with other people's tools: every PDF is A4, says word
# for word what its page of HTML says, and no word lies on another or beside the paper; the same seed gives the same
# bytes, another seed other sheets.
#
#   handouts.sh PROGRAM SOURCE
set -u
program=$1 source=$2 tests=$(dirname "$(realpath "$0")")
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
cd "$room" || exit 1
wrong=0
fail() {
    echo "$*"
    wrong=1
}
evening() { # folder, seed, scenario
    env -i HOME="$room" LC_ALL=C.UTF-8 LSAN_OPTIONS="${LSAN_OPTIONS:-}" "$program" lesson "$3" -o "$1" --seed "$2" \
        --groups 2 --quiet || fail "lesson $3 left with $?"
}
words_of_page() {
    perl -0pe 's/<style.*?<\/style>//s; s/<title>.*?<\/title>//gs; s/<[^>]*>/\n/g; s/&lt;/</g; s/&gt;/>/g; s/&amp;/&/g' "$1"
}
sorted() { tr -s ' \n\f' '\n' | grep . | LC_ALL=C sort; }

cat >long.yaml <<'YAML'
hubphase: 1
name: A machine with a very long name that goes on and on, from the shed behind the glasshouse & the <old> pump
motor: {pole_pairs: 23, resistance_between_leads_ohm: 0.21, no_load_speed_rpm_at_v: {speed_rpm: 218, volts: 36}}
leads:
  motor_phases: {U: "yellow with a green stripe, thick", V: "yellow with a green stripe, thin", W: "blue & <white>"}
  motor_sensors: {U: "yellow thin with a knot in it", V: "grün", W: "weiß"}
  controller_outputs: {U: "the one beside the fuse holder", V: "B", W: "C"}
YAML

evening first 7 "$source/scenarios/minimal.yaml"
evening again 7 "$source/scenarios/minimal.yaml"
evening other 8 "$source/scenarios/minimal.yaml"
evening long 7 long.yaml
for name in work-sheet-group-1 work-sheet-group-2 six-steps-group-1 six-steps-group-2 lead-dial bench-card answers; do
    for folder in first long; do
        pdf=$folder/$name.pdf page=$folder/$name.html
        if [ ! -s "$pdf" ] || [ ! -s "$page" ]; then
            fail "$pdf and $page are not both there"
            continue
        fi
        pdfinfo "$pdf" | grep -q 'Page size.*A4' || fail "$pdf is not A4"
        diff <(pdftotext -raw "$pdf" - | sorted) <(words_of_page "$page" | sorted) >/dev/null ||
            fail "$pdf and $page differ in their words"
        found=$(pdftotext -bbox "$pdf" - | awk -f "$tests/overlap.awk" | head -5)
        [ -z "$found" ] || fail "$pdf: $found"
        pdftotext -bbox "$pdf" - | grep -o '<word xMin="[0-9.-]*" yMin="[0-9.-]*" xMax="[0-9.]*"' |
            awk -F'"' '$2 < 20 || $6 > 575 { bad = 1 } END { exit bad }' || fail "$pdf: a word leaves the page"
        xmllint --html --nonet --noout "$page" 2>/dev/null || fail "$page is no HTML"
    done
    for form in pdf html; do
        cmp -s "first/$name.$form" "again/$name.$form" || fail "$name.$form differs with the same seed"
    done
done
for name in work-sheet-group-1 six-steps-group-2 answers; do
    cmp -s "first/$name.html" "other/$name.html" && fail "$name.html is the same with another seed"
done
cmp -s first/work-sheet-group-1.html first/work-sheet-group-2.html && fail "two groups have one sheet"
pdftotext -f 2 -l 2 first/answers.pdf - | grep -q 'Group 2 of 2, seed 7' || fail "the answers lack group 2"
exit $wrong
