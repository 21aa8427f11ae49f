# The conversation: every kind of entry, answers by digit and by word, defaults, wrong answers. What
# the steps say is left out here: it is tested with the advice.
cp scenarios/seeddrill.yaml drill.yaml
talk() { # answers, one an argument
    printf '%s\n' "$@" | hubphase bench drill.yaml 2>&1 |
        sed -E '/^-{40}/,/^-{40}/d; s/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/'
    echo "status ${PIPESTATUS[1]}"
}
# How-to and cautions stand before the questions, of the advised step and of any other.
printf 'other\npark\nback\nother\ntrial\n' | hubphase bench drill.yaml | grep -oE '^(Next: [A-Z]|Try a wiring|How|Safe now|Cautions|Which).{0,9}'
# The advised pins, with a slip and a pin named twice; the volts, with wrong answers; then stop.
talk '' ja yes 2 n y A B C 3 4 4 5 1 '' 2 'two: plugs' 1 \
    done 'five' '5 mV' 500 '5,1 V' '' save stop
# Everything else by "other".
talk 2 hand '101 1x0' '101 100 110' '' 46 '' '' \
    other winding 0.25 open shut '' '' 14 '' '' \
    2 5 plain 2 60 '' '' '' 9.8 '' '' \
    2 park 7 blue '' 12 001 '' '' \
    2 controller 'A C' 'off' 'red A' '' '' '' '' '' '' '' '' \
    2 learn no '' '' \
    2 mend 2 grey '' '' \
    2 mend inverted white '' '' \
    2 pins yes 2 n n '' '' \
    2 hand '101 100 110' '' '' '' '' \
    stop
talk 2 trial 99 12 '' 1 rough 6 9 6 '' 4.4 110 no '' 'growls' '' \
    2 trial 'white grey brown / yellow green blue' 20 still 3 2 1.5 '' 2 '' '' '' '' \
    stop
sed -E 's/20[0-9-]{8}T[0-9:]{8}[+-][0-9:]{5}/TIME/' drill.bench.yaml
list_files
# A step of commissioning by its name, or the next one, whatever the wiring is at; nothing said is no entry.
talk 2 hub '' '' '' '' '' '' stop
talk 2 brake yes '' '' '' '' '' stop | tail -12
talk 2 hub '' '' '' '' '' none '' '' stop
talk 2 brake no '' '' 2 step '' back stop | sed -n '/^> brake/,/^What now/p; /^Which step/p'
