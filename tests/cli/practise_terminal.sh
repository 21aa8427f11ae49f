# Ctrl-C at a terminal, at a question and while a run is reckoned: the path so far is told in whole lines.
need_terminal
await() { # text: until it stands in what the terminal shows, or half a minute is over
    for _ in $(seq 300); do
        grep -q "$1" shown 2>/dev/null && return
        sleep 0.1
    done
}
for moment in asked reckoning; do
    rm -f shown
    {
        await 'What will you do'; printf 'pins\n'
        await 'What now'
        if [ $moment = reckoning ]; then
            printf 'trial\n'; await 'Which wiring'
            printf '5\n'; await 'What feeds'
            printf 'battery\n'; sleep 0.1
        else
            sleep 0.5
        fi
        printf '\003'; await status
    } | TERM=dumb script -qefc 'trap : INT; hubphase practise --seed 3; echo status $?' shown >/dev/null
    tr -d '\r' <shown >talk
    echo "$moment:"
    grep -E '^Your steps so far, |^  1  pins: all|^The same machine|^status' talk | sort -u | sed 's/, [0-9]* minutes/, some minutes/'
    grep -c stopped talk
done
rm -f talk shown
