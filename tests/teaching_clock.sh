#!/usr/bin/env bash
# The plans of docs/teaching.md against the clock: sections follow on one another and add up to what the
# heading says; what is read aloud in a section - the scene's words by the page's own table, the larger of the two
# machines, and what stands in quotation marks - takes at most two thirds of its minutes at 130 words a minute.
# Guesses, looks and keys are walked through in a browser: browser/plan.test.mjs.
#
#   teaching_clock.sh SOURCE
set -u
page=$1/docs/teaching.md
LC_ALL=C.UTF-8 awk -F ' *[|] *' -v words_a_minute=130 '
function count(text,   part) { gsub(/^[ ]+|[ ]+$/, "", text); return text == "" ? 0 : split(text, part, /[ ]+/) }
function quoted(text,   at, sum) {
    sum = 0
    while (match(text, /"[^"]*"/)) {
        sum += count(substr(text, RSTART + 1, RLENGTH - 2))
        text = substr(text, RSTART + RLENGTH)
    }
    return sum
}
function wrong(text) { print FILENAME ":" FNR ": " text; bad = 1 }
# First pass: the words of the scenes.
NR == FNR { if ($2 ~ /^[1-9]$/ && NF == 6) scene[$2] = $4 > $5 ? $4 + 0 : $5 + 0; next }
/^## / {
    if (plan && at != plan) wrong("a plan of " plan " minutes ends at " at)
    plan = /^## Sixty minutes/ ? 60 : /^## Twenty minutes/ ? 20 : 0
    at = 0
}
plan && $2 ~ /^[0-9]:[0-9][0-9]$/ {
    begins = substr($2, 1, 1) * 60 + substr($2, 3)
    if (begins != at) wrong("section " $2 " begins at " begins " min, the one before ends at " at)
    at += $3
    said = quoted($7)
    if ($4 != "-") {
        if (!($4 in scene)) wrong("there is no scene " $4)
        said += scene[$4]
    }
    minutes = said / words_a_minute
    if (minutes > 2 * $3 / 3) wrong(sprintf("section %s talks for %.1f of %d minutes", $2, minutes, $3))
    rows[plan]++
}
END {
    for (p = 20; p <= 60; p += 40)
        if (rows[p] < 5) { print "the plan of " p " minutes has " rows[p] + 0 " sections"; bad = 1 }
    exit bad
}' "$page" "$page"
