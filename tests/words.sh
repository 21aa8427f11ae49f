#!/usr/bin/env bash
# One word for one thing (docs/words.md): refuses the words that were given up, in what users see.
#
#   words.sh SOURCE
#
# Looked at are the string literals of the program (not paths, keys and formats, which are one word
# with an underscore or a point in it), the strings of the page's scripts, the documents, the demo
# scenarios. Literals that follow one another are read as one.
set -u
cd "$1" || exit 2

# pattern (extended, whole words) -> what to say instead
refused='sensor leads? -> Hall lead
rest (angles?|places?) -> start position
telephones? -> phone
in reverse -> backward
forwards -> forward
backwards -> backward
locks -> does not turn
namesakes? -> colour to colour
[Ww]ho joins whom -> which lead goes where
halvings -> how many questions are open
no bound -> no limit
in the mean -> on average
right wirings? -> correct wiring
(is|it) right([.,;:]| with| or) -> correct
wiring that works -> correct wiring
sound (motors?|sensors?|parts?|winding) -> good
all sound -> all good
healthy -> good
all broken -> faulty
dead sensors? -> faulty Hall sensor
signal pins? -> Hall pin
[Ss]ensor (supply|codes?) -> Hall supply, Hall code
put right -> mended
nothing safer would tell -> No safer check is worth the effort
run alike -> behave alike
few come this way -> what happens then
the pack -> the battery
pack voltage -> battery voltage
[Pp]rove it -> check it
stands still -> does not turn'
makers='Honeywell|Allegro|Infineon|Melexis|Diodes Inc|Texas Instruments'

# Of C and JavaScript the literals, a line each behind the file's name; of texts the lines.
literals() {
    local file
    for file in $(find src -name '*.c' ! -name '*_case.c' | sort) src/web/page/*.js src/web/wall/*.js; do
        grep -vE '^ *(/?\*|#include|//)' "$file" | sed -zE 's/"[ \n]+"//g' |
            grep -oE "\"([^\"\\\\]|\\\\.)*\"|'[^']*'" | grep ' ' | sed "s|^|$file: |"
    done
    for file in README.md docs/{fit,benchlog,commissioning,page,scenario,json,safety,questions,advisor,verdicts,validation,performance,walkthrough}.md DEVELOPERS.md plots/README.md docs/hubphase.1 scenarios/*.yaml; do
        [ -f "$file" ] && sed "s|\`[^\`]*\`||g; s|^|$file: |" "$file"
    done
}

text=$(literals)
[ "$(wc -l <<<"$text")" -gt 1000 ] || { echo "hardly any text was found: the search is broken"; exit 1; }
failed=0
while IFS= read -r line; do
    found=$(grep -E ": .*(^|[^A-Za-z_])(${line% -> *})([^A-Za-z_]|$)" <<<"$text")
    [ -z "$found" ] || { printf 'say "%s" instead:\n%s\n' "${line#* -> }" "$found"; failed=1; }
done <<<"$refused"
# What says how it was worked out names its sources.
method="docs/(advisor|verdicts|validation|performance)\\.md|DEVELOPERS\\.md"
found=$(grep -vE "^($method): " <<<"$text" | grep -E "$makers") && { printf 'a maker is named:\n%s\n' "$found"; failed=1; }
exit $failed
