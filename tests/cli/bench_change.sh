# Any entry can be changed or taken out, and a log that somebody else changed is read again. What the steps
# say is left out here.
cp scenarios/seeddrill.yaml drill.yaml
brief() { sed -E '/^-{40}/,/^-{40}/d; s/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/'; }
talk() { # answers, one an argument
    printf '%s\n' "$@" | hubphase bench drill.yaml 2>&1 | brief
    echo "status ${PIPESTATUS[1]}"
}
talk change stop
# (A ring of one way, and then its mirror.)
hubphase log drill.yaml sensor_supply --supply-v 5.1 --note "the good meter" --time 2026-11-25T10:40:00+01:00 --quiet
hubphase log drill.yaml hand_turn --codes 101,100,110 --time 2026-11-25T10:50:00+01:00 --quiet
hubphase log drill.yaml learn --worked no --time 2026-11-25T11:00:00+01:00 --quiet
talk change 0 4 one back change 2 keep change 2 '' stop
talk change 1 answers 4.9 '' '' stop
talk change 1 answers 4.8 - back other '' stop
talk change 2 drop change 2 answers yes '' save undo stop
brief <drill.bench.yaml
# Enter alone keeps an answer, also what no question asks for; a hyphen leaves it out; another way leads to new
# questions.
hubphase log drill.yaml trial --wiring 7 --throttle-percent 35 --motion forward --feel smooth --starts 6 --starts-tried 6 \
    --fed-by bench_supply --limit-reached no --battery-a 0.4 --wheel-speed-rpm 81 --quiet
hubphase log drill.yaml controls --found brake --battery-v 37 --quiet
hubphase log drill.yaml throttle --throttle-rest-v 0.8 --throttle-full-v 4.2 --supply-off-v 0 --ground-off-v 0.1 --quiet
talk change 2 answers '' '' '' '' '' '' '' '' '' '' '' '' '' save stop
talk change 2 answers 8 '' '' '' '' '' battery - - '' '' '' save stop
talk change 2 answers '' '' still '' '' '' '' '' '' save stop
talk change 3 answers '' '' '' '' save stop
talk change 4 answers '' '' 4.1 '' '' - '' '' '' '' '' save stop
brief <drill.bench.yaml | grep -v '^#'
# Somebody else: after the greeting, at the menu, within a form.
slowly() { # lines, "!command" is run in between
    for line in "$@"; do
        case $line in
        !*) sleep 1.5 && eval "${line#!}" ;;
        *) echo "$line" ;;
        esac
    done | hubphase bench drill.yaml 2>&1 | brief
    echo "status ${PIPESTATUS[1]}"
}
slowly '!hubphase log drill.yaml learn --worked no --quiet' undo stop
slowly other learn '!hubphase log drill.yaml learn --worked no --quiet' yes '' save stop
slowly change 1 answers 5 '' '!hubphase log drill.yaml learn --worked no --quiet' save stop
slowly change 1 '!hubphase log drill.yaml learn --worked no --quiet' drop stop
slowly '!cp drill.bench.yaml kept; echo rubbish >>drill.bench.yaml' again again '!mv kept drill.bench.yaml' again stop
hubphase log drill.yaml | grep -c learn
# What is saved is said to be saved when nothing can be printed.
printf 'other\nlearn\nno\n\n\n' | hubphase bench drill.yaml >/dev/full
echo "status $?"
list_files
