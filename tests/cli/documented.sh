# Every option that --help names stands in the manual page and in the bash completion, and the
# commands do. A value of a kind of reading may stand in the section of its kind in the document of bench
# logs alone, by the name that it has there.
page=$(sed 's/\\-/-/g' cases/../../docs/hubphase.1)
logs=cases/../../docs/benchlog.md
. cases/../../docs/hubphase.bash-completion
complete_words() { # "words before" "word begun"
    COMP_WORDS=(hubphase $1 "$2")
    COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
    _hubphase 2>/dev/null
    echo " ${COMPREPLY[*]} "
}
checked=0
for command in survey spin explain spread log bench next commission controls compare fit lesson page sheet; do
    grep -qx ".B $command" <<<"$page" || echo "the manual page lacks $command"
    [[ $(complete_words "" "") == *" $command "* ]] || echo "completion lacks $command"
    completed=$(complete_words "$command" "--")
    for option in $(hubphase $command --help | grep -oE -- '--[a-z0-9-]+' | sort -u); do
        case $option in --usage | --version) continue ;; esac
        checked=$((checked + 1))
        value=${option#--}
        grep -q -e "$option" <<<"$page" || grep -qF "\`${value//-/_}\`" "$logs" ||
            echo "manual page and document lack $option"
        [[ $completed == *" $option "* ]] || echo "completion of $command lacks $option"
    done
    # And the other way: completion offers nothing that the command does not know.
    help=$(hubphase $command --help)
    for option in $completed; do
        grep -q -e "$option" <<<"$help" || echo "completion of $command invents $option"
    done
done
for kind in $(hubphase log --help | sed -n 's/^ Of \(.*\):$/\1/p'); do
    checked=$((checked + 1))
    [[ $(complete_words "log x.yaml" "") == *" $kind "* ]] || echo "completion lacks $kind"
    grep -qF "\`$kind\`" "$logs" || echo "the document lacks $kind"
done
[ $checked -gt 25 ] && echo "all options are documented"
