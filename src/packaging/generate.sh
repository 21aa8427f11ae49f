#!/usr/bin/env bash
# Writes what other programs know hubphase by, from the program itself: its commands and options as --help
# lists them, and the words that a value can be as the completion for bash has them.
#
#   generate.sh PROGRAM SOURCE OUT
#
# OUT gets hubphase-COMMAND.1 for each command, _hubphase (zsh) and hubphase.fish.
set -eu
program=$1 source=$2 out=$3
export LC_ALL=C.UTF-8
# One option a line, one paragraph a line.
export ARGP_HELP_FMT='rmargin=20000,opt-doc-col=60,dup-args-note=0'
mkdir -p "$out"
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
cp "$program" "$room/hubphase"
program=$room/hubphase
version=$("$program" --version)

commands() { "$program" --help | sed -n '/^Commands:/,/^[^ C]/s/^  \([a-z]*\)  *\(.*\)$/\1\t\2/p'; }

# GROUP <tab> SHORT <tab> LONG <tab> ARGUMENT <tab> DOC of each option; GROUP is empty or "pins".
options() {
    "$program" "$1" --help | awk '
        /^ Of .*:$/ { group = $0; sub(/^ Of /, "", group); sub(/:$/, "", group); next }
        /^ +-/ {
            short = long = argument = ""; line = $0; sub(/^ */, "", line)
            if (line ~ /^-[^-]/) { short = substr(line, 2, 1); sub(/^-., /, "", line) }
            if (line !~ /^--/) next
            name = line; sub(/^--/, "", name); sub(/  +.*/, "", name)
            doc = line; if (!sub(/^--[^ ]*( [^ ]+)*  +/, "", doc)) doc = ""
            long = name; if (match(long, /\[?=/)) { argument = substr(long, RSTART + RLENGTH); sub(/\]$/, "", argument); long = substr(long, 1, RSTART - 1) }
            if (long == "help" || long == "usage" || long == "version") group = ""
            printf "%s\t%s\t%s\t%s\t%s\n", group, short, long, argument, doc
        }'
}

# shellcheck source=/dev/null
. "$source/docs/hubphase.bash-completion"
compopt() { :; }
mkdir "$room/empty"

# The words that a value of an option can be, where the completion for bash names some.
words() { # COMMAND OPTION
    (
        cd "$room/empty"
        COMP_WORDS=("$program" "$1" "--$2" "") COMP_CWORD=3 COMPREPLY=()
        _hubphase 2>/dev/null || true
        echo "${COMPREPLY[*]}"
    )
}

# The kinds of entries that may stand behind the scenario of `log'.
kinds() { (COMP_WORDS=("$program" log x.yaml "") COMP_CWORD=3 COMPREPLY=() && _hubphase && echo "${COMPREPLY[*]}") </dev/null; }

# A value that is the name of a file or a folder.
place() {
    case $1 in
    FILE | LOG) echo file ;;
    DIR) echo folder ;;
    esac
}

# ---- manual pages -----------------------------------------------------------------------------------

# A line as roff shows it, into $shown.
shown=
show() {
    shown=${1//\\/\\e}
    shown=${shown//-/\\-}
    case $shown in [.\']*) shown="\\&$shown" ;; esac
}
# The same for text that comes in.
roff() { sed -e 's/\\/\\e/g; s/-/\\-/g; s/^\([.'"'"']\)/\\\&\1/'; }

manual() { # COMMAND SUMMARY
    local help line group short long argument doc last=
    help=$("$program" "$1" --help)
    echo ".TH HUBPHASE\\-${1^^} 1 \"\" \"$version\" \"User Commands\""
    printf '.SH NAME\n'
    printf '%s\n' "hubphase-$1 - $2" | roff | sed 's/ \\- / \\- /'
    printf '.SH SYNOPSIS\n'
    sed -n 's/^Usage: //p; s/^  or:  //p' <<<"$help" | while read -r line; do
        printf '.br\n.B hubphase %s\n' "$(roff <<<"$1")"
        printf '%s\n' "${line#hubphase "$1" }" | roff
    done
    printf '.SH DESCRIPTION\n'
    awk '/^Usage:|^  or:/ { next } /^$/ { exit } { print }' <<<"$help" | roff
    printf '.SH OPTIONS\n'
    while IFS=$'\x1f' read -r group short long argument doc; do
        show "${group:-every command}"
        [ "$group" = "$last" ] || printf '.SS Of %s\n' "$shown"
        last=$group
        show "${short:+-$short, }--$long${argument:+=$argument}"
        printf '.TP\n.B %s\n' "$shown"
        show "${doc:-No more is to be said.}"
        printf '%s\n' "$shown"
    done < <(options "$1" | tr '\t' '\037')
    printf '.SH NOTES\n'
    awk '/^ *-V, --version/ { on = 1; next } on' <<<"$help" | sed '1{/^$/d}' | roff |
        awk '/^$/ { print ".PP"; plain = 0; next }
             /^ / { if (!plain) print ".nf"; plain = 1; print; next }
             { if (plain) print ".fi"; plain = 0; print }
             END { if (plain) print ".fi" }'
    cat <<'END'
.SH EXIT STATUS
0 all went well, 1 the work failed, 2 the command line was wrong, 3 an input file was wrong, 4 something could
not be written, 130 stopped by Ctrl\-C.
.SH SEE ALSO
.BR hubphase (1)
END
}

# ---- completions ------------------------------------------------------------------------------------

# Within single quotes.
quoted() { printf '%s' "${1//\'/\'\\\'\'}"; }

fish() {
    local name summary group short long argument doc choice
    echo "# fish completion for hubphase(1), made from its options"
    echo "complete -c hubphase -f"
    commands | while IFS=$'\t' read -r name summary; do
        echo "complete -c hubphase -n __fish_use_subcommand -a $name -d '$(quoted "$summary")'"
    done
    commands | while IFS=$'\t' read -r name summary; do
        local seen="__fish_seen_subcommand_from $name"
        echo "complete -c hubphase -n '$seen' -F"
        while IFS=$'\x1f' read -r group short long argument doc; do
            printf "complete -c hubphase -n '%s' -l %s%s" "$seen" "$long" "${short:+ -s '$short'}"
            if [ -n "$argument" ]; then
                choice=$(words "$name" "$long" </dev/null)
                case $(place "$argument") in
                file) printf ' -r -F' ;;
                folder) printf " -x -a '(__fish_complete_directories)'" ;;
                *) printf ' -x'; [ -z "$choice" ] || printf " -a '%s'" "$(quoted "$choice")" ;;
                esac
            fi
            printf " -d '%s'\n" "$(quoted "$doc")"
        done < <(options "$name" | tr '\t' '\037')
    done
    echo "complete -c hubphase -n '__fish_seen_subcommand_from log; and string match -qr \"[.]ya?ml\\\$\" -- (commandline -opc)'" \
        "-a '$(quoted "$(kinds)")' -d 'kind of entry'"
}

# What _arguments means something by.
zsh_text() {
    local text=${1//\\/\\\\}
    text=${text//:/\\:}
    text=${text//\[/\\[}
    text=${text//\]/\\]}
    quoted "$text"
}

zsh() {
    local name summary group short long argument doc choice value
    echo "#compdef hubphase"
    echo "# zsh completion for hubphase(1), made from its options"
    echo
    echo "_hubphase_commands() {"
    echo "    local -a commands=("
    commands | while IFS=$'\t' read -r name summary; do
        echo "        '$name:$(zsh_text "$summary")'"
    done
    echo "    )"
    echo "    _describe command commands"
    echo "}"
    echo
    echo "_hubphase() {"
    echo "    local context state line"
    echo "    _arguments -C '(- *)--help[Give this help list]' '(- *)--version[Print program version]' \\"
    echo "        '1: :_hubphase_commands' '*:: :->rest'"
    echo "    [[ \$state = rest ]] || return"
    echo "    case \$words[1] in"
    commands | while IFS=$'\t' read -r name summary; do
        echo "    $name)"
        echo "        _arguments \\"
        while IFS=$'\x1f' read -r group short long argument doc; do
            value=
            if [ -n "$argument" ]; then
                choice=$(words "$name" "$long" </dev/null)
                case $(place "$argument") in
                file) value=":$argument:_files" ;;
                folder) value=":$argument:_files -/" ;;
                *) value=":$(zsh_text "$argument"):${choice:+($(zsh_text "$choice"))}" ;;
                esac
            fi
            printf "            '%s--%s%s[%s]%s' \\\\\n" "" "$long" "${argument:+=}" "$(zsh_text "$doc")" "$value"
            [ -z "$short" ] || [ "$short" = '?' ] ||
                printf "            '-%s%s[%s]%s' \\\\\n" "$short" "${argument:++}" "$(zsh_text "$doc")" "$value"
        done < <(options "$name" | tr '\t' '\037')
        if [ "$name" = log ]; then
            echo "            '1:file:_files' '*:kind of entry:($(zsh_text "$(kinds)"))'"
        else
            echo "            '*:file:_files'"
        fi
        echo "        ;;"
    done
    echo "    esac"
    echo "}"
    echo
    echo '_hubphase "$@"'
}

commands | while IFS=$'\t' read -r name summary; do
    manual "$name" "$summary" >"$out/hubphase-$name.1" </dev/null
done
fish >"$out/hubphase.fish"
zsh >"$out/_hubphase"
