# A bench as it is, for cases that obey each advice and answer it truthfully until it ends: what the meters
# show is the survey's of the wiring that is joined (survey.csv), changed by what this bench adds. Wiring 1 is
# correct, with 22 and 29.
write_bench() { # write_bench READINGS MORE_KEYS
    cat >bench.yaml <<YAML
hubphase: 1
name: Bench as it is
motor: {magnets: 46, resistance_between_leads_ohm: 0.2, no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}}
bench:
  readings: {pins: no, sensor_supply: no, hand_turn: $1, winding: no, spin: no, park: $1, controller_probe: $1}
$2
YAML
    rm -f bench.bench.yaml
}
log() { hubphase log bench.yaml --quiet --time 2026-11-25T10:40:00+01:00 "$@" || echo "status $?"; }

# What this bench adds; each case sets some.
usual() {
    idle=0 smooth_a= smooth_rpm= duty=1 coast=1 limit= meters=yes silent= sine= cuts= loose= swap=no
}

# try_wiring NUMBER LIMITED: one trial, in the words of somebody who looks and listens.
looks=0
try_wiring() {
    local at=$1
    # Another table: inputs U and V of the controller are marked the other way round.
    [ "$swap" = no ] || at=${swapped[$1]}
    looks=$((looks + 1))
    awk -F, -v number="$at" -v idle="$idle" -v smooth_a="$smooth_a" -v smooth_rpm="$smooth_rpm" -v duty="$duty" \
        -v coast="$coast" -v limit="$2" -v meters="$meters" -v silent="$silent" -v sine="$sine" -v cuts="$cuts" \
        -v loose="$loose" -v look="$looks" '
        $1 == number {
            verdict = $8; way = $9; amps = $15; rpm = $22 < 0 ? -$22 : $22
            turns = verdict != "stalled" && !silent
            smooth = verdict == "correct" || verdict == "reverse"
            rpm *= duty * (smooth ? coast : 1); amps *= duty * (smooth ? coast : duty)
            if (smooth && smooth_a != "") amps = smooth_a
            if (smooth && smooth_rpm != "") rpm = smooth_rpm
            if (silent) amps = 0.02
            starts = turns ? 6 : 0
            if (loose && turns && look % 2) { starts = 4; amps = amps * 2 }
            reached = "no"
            if (limit != "" && amps > limit) { reached = "yes"; rpm *= sqrt(limit / amps); amps = limit }
            amps += idle
            printf "--motion %s", turns ? way : "still"
            if (turns) printf " --feel %s", smooth || sine ? "smooth" : "rough"
            printf " --starts %d --starts-tried 6", starts
            if (meters == "yes" && !cuts) {
                printf " --battery-a %.2f", amps
                if (turns) printf " --wheel-speed-rpm %.0f", rpm
            }
            if (cuts) printf " --cut-out yes"
            if (limit != "") {
                printf " --fed-by bench_supply --supply-limit-a %s", limit
                if (!cuts) printf " --limit-reached %s", reached
            }
        }' survey.csv >words
    # shellcheck disable=SC2046
    log trial --wiring "$1" --throttle-percent 35 $(cat words)
}

# The readings of a good motor whose leads sit as they are marked.
take() {
    case $1 in
    hand_turn) log hand_turn --codes 100,110,010,011,001,101,100 ;;
    park)
        case $2 in
        U) log park --plus-lead U --code 100 ;;
        V) log park --plus-lead V --code 010 ;;
        W) log park --plus-lead W --code 001 ;;
        esac
        ;;
    controller_probe)
        if [ "$swap" = no ]; then
            log controller_probe --rows '100=V>W' --rows '110=V>U' --rows '010=W>U' --rows '011=W>V' --rows '001=U>V' --rows '101=U>W'
        else
            log controller_probe --rows '010=V>W' --rows '110=V>U' --rows '100=W>U' --rows '101=W>V' --rows '001=U>V' --rows '011=U>W'
        fi
        ;;
    controls)
        log controls --found "${silent:-${protection:-nothing}}"
        silent=
        ;;
    contacts)
        log contacts --loose "${loose:-nothing}"
        loose=
        ;;
    drag) log drag --rubs "${rubs:-no}" --other-load "${other:-no}" --idle-a "$idle" ;;
    esac
}

follow() {
    local kind number reading lead fault why limited steps=
    for _ in $(seq 20); do
        hubphase next bench.yaml --json --quiet >next.json
        sed -n '/"advice"/,/"expected"/p' next.json >advice
        kind=$(sed -n 's/^    "kind": "\(.*\)",*/\1/p' advice | head -1)
        number=$(sed -n 's/^ *"number": \([0-9]*\),*/\1/p' advice | head -1)
        reading=$(sed -n 's/^    "reading": "\(.*\)",*/\1/p' advice | head -1)
        lead=$(sed -n 's/^    "lead": "\(.*\)",*/\1/p' advice | head -1)
        limited=$limit
        [ -n "$limit" ] || limited=$(sed -n 's/.*"--supply-limit-a=\(.*\)".*/\1/p' advice)
        case $kind in
        read)
            steps="$steps, $reading${lead:+ $lead}"
            take "$reading" "$lead"
            ;;
        try | look)
            steps="$steps, $kind $number"
            try_wiring "$number" "$limited"
            ;;
        *)
            fault=$(sed -n 's/^ *"fault": "\(.*\)",*/\1/p' advice | head -1)
            [ "$fault" = none ] && fault=
            echo "$1:${steps#,}; $kind${number:+ $number}${fault:+, $fault}"
            [ -z "$cuts" ] || sed -n 's/^    "reason": "\(.*\)",*/    \1/p' advice | fold -s -w 96
            return 0
            ;;
        esac
    done
    echo "$1:${steps#,}; no end"
}

