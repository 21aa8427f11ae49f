# On a terminal: the terminal itself shows what is typed, so it is not printed once more; Ctrl-C ends
# with what was saved.
need_terminal
cp scenarios/seeddrill.yaml drill.yaml
await() { # text: until it stands in what the terminal shows, or half a minute is over
    for _ in $(seq 300); do
        grep -q "$1" shown 2>/dev/null && return
        sleep 0.1
    done
}
{
    await 'What now'; printf 'other\n'
    await 'What do you want'; printf 'learn\n'
    await 'Did it end'; printf 'yes\n'
    await 'A note'; printf '\n'
    await 'Is that right'; printf '\n'
    await Saved; sleep 0.5; printf '\003'; await '^status'
} | TERM=dumb script -qefc 'trap : INT; hubphase bench drill.yaml; echo status $?' shown >/dev/null
tr -d '\r' <shown >talk
grep -c '^> other$' talk
grep -E '^Saved|entry is|^status' talk
rm talk shown
list_files
