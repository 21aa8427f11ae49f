# An evening at a hidden machine through a pipe: every level to its end.
talk() {
    printf "$1" | hubphase practise "${@:2}" 2>&1
    echo "status ${PIPESTATUS[1]}"
}
# Numbers, words, beginnings of words; a step asked by lead; the log, a hint, the end.
talk '1\nsens\nhand_turn\npark\n1\npa\ngreen\nlog\nhint\nanswer\nwiring\n12\n' --seed 8
# Power first, and what came of it.
talk 'trial\n1\n\ntrial\nwhite,grey,brown / yellow,green,blue\nbattery\ntrial\n12\nfull\nanswer\nnothing\n' --seed 8
# A faulty part, named with its lead; by another lead; something else.
talk 'hand\nanswer\nfault\nhall_inverted\nwhite\n' --level fault --seed 4
talk 'answer\nfault\nhall_inverted\ngrey\n' --level fault --seed 4 | grep -E '^(Half|Hidden|status)'
talk 'answer\nfault\nloose\n' --level fault --seed 4 | grep -E '^(Wrong|Hidden|status)'
# The entry that is wrong: named, or taken out.
talk 'answer\nentry\n3\n' --level slip --seed 3 | grep -E '^(Right|Every|wrong|hand|status|Said)'
talk 'drop\n3\nanswer\nwiring\n10\n' --level slip --seed 3 | grep -E '^(Right|number|Said|status|Entry 3)'
# One minute; and where the log alone was enough the advice took no step.
talk 'sens\nanswer\nnothing\n' --level slip --seed 21 | grep -E '(minutes? so far|^No step|status)'
