#!/usr/bin/env bash
# Makes docs/walkthrough.md: runs the commands of walkthrough.in.md in order, in an empty room with a copy
# of the scenario, and puts what they print behind each.
#
#   walkthrough.sh PROGRAM MACHINE SOURCE            print the document
#   walkthrough.sh PROGRAM MACHINE SOURCE --check    compare it with docs/walkthrough.md
#   walkthrough.sh PROGRAM MACHINE SOURCE --update   write docs/walkthrough.md
#
# MACHINE is walk_machine, which reads the invented machine's meters. In the template:
#   "    $ COMMAND"   is run and shown with its output; a line that ends in \ goes on in the next;
#   "@{NAME}"         is the reading of that name;
#   "@time TIME"      is when what follows is logged (--time, not shown);
#   anything else stays as it is.
set -u
program=$1 machine=$2 source=$3 what=${4:-}
here=$source/tests/walkthrough
wiring="white, brown, grey / blue, yellow, green" # number 11, the one that the advice comes to
document=$source/docs/walkthrough.md

room=$(mktemp -d) || exit 2
trap 'rm -rf "$room"' EXIT
mkdir "$room/here" "$room/cache" && cp "$source/scenarios/seedtrike.yaml" "$room/here" || exit 2
"$machine" "$wiring" >"$room/readings" || exit 1
sed -E 's|^([^=]+)=(.*)$|s/@\\{\1\\}/\2/g|' "$room/readings" >"$room/fill.sed"
sed -E -f "$room/fill.sed" "$here/walkthrough.in.md" >"$room/template" || exit 2
if grep -nE '@\{' "$room/template"; then
    echo "walkthrough.sh: walk_machine has no such reading" >&2
    exit 1
fi

export LC_ALL=C.UTF-8 XDG_CACHE_HOME=$room/cache COLUMNS=80
cd "$room/here" || exit 2
time=
# What the commands call: every entry is logged at a stated time.
hubphase() {
    if [ "$1" = log ] && [[ " $* " != *" --undo "* ]]; then
        "$program" "$@" --time "$time"
    else
        "$program" "$@"
    fi
}

# run COMMAND: shows what it prints, indented; what goes wrong ends the walk.
run() {
    ( set -o pipefail; eval "$1" ) >"$room/out" 2>&1 </dev/null
    local status=$?
    [ $status = 0 ] || { [ $status = 1 ] && [[ $1 == diff\ * ]]; } || {
        printf 'walkthrough.sh: this failed:\n%s\n' "$1" >&2
        cat "$room/out" >&2
        exit 1
    }
    # Indented, without blank lines at the end.
    sed -E 's/^(.)/    \1/; s/ +$//' "$room/out" | sed -e :a -e '/^\n*$/{$d;N;ba' -e '}'
}

make_document() {
    local line command=
    while IFS= read -r line; do
        case $line in
        "@time "*)
            time=${line#@time }
            continue
            ;;
        "    \$ "*) command=${line#    \$ } ;;
        *)
            if [ -n "$command" ]; then
                command+=$'\n'$line
            else
                printf '%s\n' "$line"
                continue
            fi
            ;;
        esac
        printf '%s\n' "$line"
        case $line in *\\) continue ;; esac
        run "$command"
        command=
    done <"$room/template"
}

make_document >"$room/document" || exit 1
case $what in
"") cat "$room/document" ;;
--update) cp "$room/document" "$document" ;;
--check)
    diff -u --label docs/walkthrough.md --label "the walk just now" "$document" "$room/document" || {
        echo "Read the difference, then: cmake --build BUILD --target walkthrough" >&2
        exit 1
    }
    ;;
esac
