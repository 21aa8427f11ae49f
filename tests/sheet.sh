#!/usr/bin/env bash
# Writes wiring sheets and reads them back with other people's tools: xmllint for the page, pdftotext
# for the paper. Every lead, join and reading that went in must come out; a text that looks like markup
# must stay text.
#
#   sheet.sh PROGRAM
set -u
program=$1 tests=$(dirname "$(realpath "$0")")
room=$(mktemp -d)
trap 'rm -rf "$room"' EXIT
cd "$room" || exit 1
wrong=0
fail() {
    echo "$*"
    wrong=1
}
sheet() {
    env -i HOME="$room" LC_ALL=C.UTF-8 LSAN_OPTIONS="${LSAN_OPTIONS:-}" "$program" sheet "$@" ||
        fail "sheet $* left with $?"
}
# What an XPath expression gives in a page.
look() { xmllint --html --nonet --encode utf-8 --xpath "$2" "$1" 2>/dev/null; }
expect() { # page, expression, value
    local got
    got=$(look "$1" "$2")
    [ "$got" = "$3" ] || fail "$1: $2 is \"$got\", must be \"$3\""
}
# The page's own words in a PDF, a line a row.
paper() { pdftotext -layout "$1" - | tr -d '\f' | sed -E 's/ +/ /g; s/^ //; s/ $//'; }
on_paper() { # pdf, line
    paper "$1" | grep -qxF -- "$2" || fail "$1 lacks the line \"$2\""
}

# No word on paper lies on another: their boxes are measured, but for the room above and below letters.
clear_words() { # pdf
    local found
    found=$(pdftotext -bbox "$1" - | awk -f "$tests/overlap.awk" | head -5)
    [ -z "$found" ] || fail "$1: $found"
}

cat >trike.yaml <<'YAML'
hubphase: 1
name: Seed-box trike
motor:
  name: hub of the test
  pole_pairs: 23
  resistance_between_leads_ohm: 0.21
  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}
controller:
  name: box of the test
  battery_current_limit_a: 14
leads:
  motor_phases: {U: amber, V: mint, W: navy}
  motor_sensors: {U: rose, V: sand, W: teal}
  controller_outputs: {U: plum, V: lime, W: rust}
  controller_inputs: {U: ash, V: bone, W: coal}
harness:
  - part: throttle grip
    leads: {crimson: five volts, black: ground, ivory: signal}
    note: springs back
  - part: fuse
    note: twenty amperes
YAML
cat >trike.bench.yaml <<'YAML'
hubphase_log: 1
scenario: Seed-box trike
entries:
  - time: 2026-10-03T10:00:00+01:00
    pins:
      phase_pins: {amber: A1, mint: A2, navy: A3}
      sensor_pins: {rose: B1, sand: B2, teal: B3}
      supply_plus_pin: C1
      supply_minus_pin: C2
    note: Seen from the cable, <b>notch</b> up.
  - time: 2026-10-03T10:10:00+01:00
    winding: {resistance_ohm: {amber-mint: 0.211, mint-navy: 0.212, navy-amber: 0.213}, winding_c: 17}
  - time: 2026-10-03T10:20:00+01:00
    hand_turn: {codes: ["101", "100", "110", "010", "011", "001"], edges_per_wheel_turn: 46}
  - time: 2026-10-03T10:30:00+01:00
    spin: {voltage_v: {amber-mint: 12, mint-navy: 12.5}, wheel_speed_rpm: 100, meter: peak}
  - time: 2026-10-03T10:40:00+01:00
    trial: {wiring: 5, throttle_percent: 35, motion: backward, feel: rough}
  - time: 2026-10-03T10:50:00+01:00
    trial: {wiring: 20, throttle_percent: 35, motion: forward, feel: smooth, battery_a: 0.47, wheel_speed_rpm: 77}
  - time: 2026-10-03T10:55:00+01:00
    trial: {wiring: 20, throttle_percent: 35, motion: forward, feel: smooth, battery_a: 0.47, wheel_speed_rpm: 77}
YAML

# Wiring 20 hears the sensors V W U at inputs U V W and feeds the leads U W V. The usual table stays
# the same when its inputs and outputs are turned together, so the equals are the same moved on by one
# and by two places: U V W with V U W (wiring 3) and W U V with W V U (wiring 30).
joins="plum (output U)|amber|mint|navy
lime (output V)|navy|amber|mint
rust (output W)|mint|navy|amber
ash (input U)|sand|rose|teal
bone (input V)|teal|sand|rose
coal (input W)|rose|teal|sand"
readings="Resistance amber-mint|0.211 ohm at 17 °C|log entry 2
Resistance mint-navy|0.212 ohm at 17 °C|log entry 2
Resistance navy-amber|0.213 ohm at 17 °C|log entry 2
Resistance of any pair, stated|0.21 ohm|scenario, line 6
Back-EMF amber-mint|12 V peak at 100 rev/min: 120 V at 1000|log entry 4
Back-EMF mint-navy|12.5 V peak at 100 rev/min: 125 V at 1000|log entry 4
Back-EMF navy-amber||not measured
Pole pairs|23 (46 changes of one sensor in a wheel turn)|log entry 3
Hall codes in order (rose, sand, teal)|101 100 110 010 011 001 (wheel turned forward)|log entry 3
Hall supply from the controller||not measured
No-load battery current|0.47 A at 35 % throttle, wiring 20|log entry 7
No-load speed|77 rev/min at 35 % throttle, wiring 20|log entry 7
Final check, wheel lifted, full throttle: 0.49 to 0.93 A, 200 to 243 rev/min||still to be made
Battery current limit|14 A|scenario, line 10
Phase current limit||not stated"

check_whole_page() {
    local page=$1 a b c d k=0
    [ "$(look "$page" 'count(//script | //link | //img | //iframe | //object | //form | //@src | //@href)')" = 0 ] ||
        fail "$page runs or fetches something"
    look "$page" 'string(//meta[@http-equiv="Content-Security-Policy"]/@content)' |
        grep -q "^default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'$" ||
        fail "$page has no policy, or another one"
    grep -q 'url(\|@import' "$page" && fail "$page fetches something by its styles"
    expect "$page" 'string(//h1)' "Wiring sheet: Seed-box trike"
    expect "$page" 'string(//p[contains(@class, "standing")])' \
        "Wiring 20 is correct: it ran smoothly forward in entry 7 of trike.bench.yaml."
    expect "$page" 'string(//dl/dd[1])' "hub of the test"
    expect "$page" 'string(//dl/dd[2])' "box of the test"
    expect "$page" 'string(//dl/dd[3])' "2026-10-03 (last entry of the bench log)"
    look "$page" 'string(//p[@class="cautions"])' | grep -q "Battery off" || fail "$page lacks the cautions"
    look "$page" 'string(//div[@class="sign"])' | grep -q "signature" || fail "$page lacks room for a signature"
    while IFS='|' read -r a b c d; do
        for k in 1 2 3; do
            expect "$page" "string(//table[@class='joins']//tr[th='$a']/td[$k])" "$(echo "$b|$c|$d" | cut -d'|' -f$k)"
        done
        # The picture says so too, side by side and in words: the lead, and the motor's that it joins.
        [ "$(look "$page" "count(//*[.='$a'][local-name()='text'])")" = 1 ] || fail "no picture of $page names $a"
        [ "$(look "$page" "count(//*[.='$b'][local-name()='text'])")" = 1 ] || fail "no picture of $page names $b"
        look "$page" "string(//*[local-name()='svg'][contains(., '$a')])" | grep -qF "controller's $a joins motor's $b" ||
            fail "no picture of $page joins $b"
    done <<<"$joins"
    while IFS='|' read -r a b c; do
        expect "$page" "string(//table[@class='lists']//tr[th='$a']/td[1])" "$b"
        expect "$page" "string(//table[@class='lists']//tr[th='$a']/td[2])" "$c"
        [ -n "$b" ] || expect "$page" "count(//table[@class='lists']//tr[th='$a']/td[1]/span[@class='blank'])" 1
    done <<<"$readings"
    for a in "phase amber" "phase mint" "phase navy" "Hall rose" "Hall sand" "Hall teal" \
        A1 A2 A3 B1 B2 B3 C1 C2; do
        [ "$(look "$page" "count(//*[.='$a'][local-name()='text'])")" = 1 ] || fail "the plug on $page lacks $a"
    done
    expect "$page" 'string(//p[starts-with(., "motor: ")])' "motor: Seen from the cable, <b>notch</b> up."
    expect "$page" 'string(//p[starts-with(., "Plug motor: ")])' "Plug motor: pin A1: phase amber, pin A2: phase mint, \
pin A3: phase navy, pin B1: Hall rose, pin B2: Hall sand, pin B3: Hall teal, pin C1: Hall plus, pin C2: Hall minus."
    expect "$page" 'count(//div[@class="part"])' 2
    for a in "crimson: five volts" "black: ground" "ivory: signal"; do
        expect "$page" "count(//div[@class='part']//li[.='$a'])" 1
    done
    # Plus and minus of the Hall sensors and the fuse are drawn too, and the harness in its colours.
    for a in "Hall plus" "Hall minus"; do # at the joints and in the plug
        [ "$(look "$page" "count(//*[.='$a'][local-name()='text'])")" = 2 ] || fail "no picture of $page shows $a"
    done
    for a in "supply plus (+)" "red (+)" "plus (+): fuse"; do
        [ "$(look "$page" "count(//*[.='$a'][local-name()='text'])")" = 1 ] || fail "no picture of $page shows $a"
    done
    [ "$(look "$page" 'count(//li/span[@class="lead"])')" = 1 ] || fail "$page draws no lead of the harness"
    look "$page" 'string(//div[@class="part"][2])' | grep -q "fuse. twenty amperes" || fail "$page lacks the fuse"
}

check_whole_paper() {
    local pdf=$1 a b c d
    pdfinfo "$pdf" >info || fail "$pdf is no PDF"
    grep -q '^Pages: *[12]$' info || fail "$pdf has more than two pages"
    grep -q '^Page size: *595.* x 84.*(A4)' info || fail "$pdf is not A4"
    on_paper "$pdf" "Wiring sheet: Seed-box trike"
    on_paper "$pdf" "Wiring 20 is correct: it ran smoothly forward in entry 7 of trike.bench.yaml."
    paper "$pdf" | grep -qF "entry 7; final check open" || fail "$pdf does not say that the final check is open"
    while IFS='|' read -r a b c d; do
        on_paper "$pdf" "$a $b $c $d"
        paper "$pdf" | grep -qE "(^| )$b (.* )?${a//[()]/.}( |\$)" || fail "no picture of $pdf joins $b"
    done <<<"$joins"
    # A long name takes two lines; its value stands on the first.
    while IFS='|' read -r a b c; do
        d=${a%% (*}
        paper "$pdf" | grep -F "${b:+$b }$c" | grep -qF "${d%%, full throttle:*}" || fail "$pdf lacks $a: $b ($c)"
    done <<<"$readings"
    for a in "phase amber" "phase mint" "phase navy" "Hall rose" "Hall sand" "Hall teal" "Hall plus" \
        "Hall minus" "crimson: five volts" "black: ground" "ivory: signal" "supply plus (+)" "plus (+): fuse" "Seen from the cable, <b>notch</b> up." "pin A1: phase amber," "twenty amperes" "Name and signature"; do
        paper "$pdf" | grep -qF "$a" || fail "$pdf lacks $a"
    done
    # No page stands on its head: what comes later is read later.
    paper "$pdf" | grep -oE '^(Readings of the good|Settings$|The rest of the harness|Date Name and sig)' |
        tr '\n' ';' >order
    [ "$(cat order)" = "Readings of the good;Settings;The rest of the harness;Date Name and sig;" ] ||
        fail "$pdf is read in the order $(cat order)"
}

sheet trike.yaml -o one.html
check_whole_page one.html
sheet trike.yaml trike.bench.yaml -o one.pdf
check_whole_paper one.pdf
sheet trike.yaml --log trike.bench.yaml >two.html
cmp one.html two.html || fail "the page on the standard output is another one"
sheet trike.yaml --log trike.bench.yaml -o two.pdf
cmp one.pdf two.pdf || fail "the same sheet has other bytes the next time"

# A commissioned machine's sheet is one leaf, written on both sides: every step, figure, part and plug.
mkdir whole
sed '/^harness:$/,$d; s/rose/thin yellow/' trike.yaml >whole/trike.yaml
cat >>whole/trike.yaml <<'YAML'
harness:
  - part: throttle grip
    leads: {red: 5 V supply, black: ground, white: "signal, 0.9 V at rest to 4.1 V"}
    note: Must spring back by itself. Seen at 0.9 V before the battery is joined.
  - part: brake switches, left and right
    leads: {red: input, black: ground}
    note: Both in parallel; each closes when its lever is pulled and cuts the motor.
  - part: pedal sensor
    note: None on a trike that nobody pedals; its plug is taped up and tied back.
  - part: speed switch
    leads: {brown: low, black: common, blue: high}
    note: Left on low, the boxes slide otherwise.
  - part: battery
    leads: {thick red: plus, thick black: minus}
    note: 10 cells in a row, 42 V full. Lives in the shed, never in the glasshouse.
  - part: key switch
    leads: {orange: battery to controller logic}
  - part: fuse
    note: 20 A blade in the thick red lead, a hand's breadth from the battery.
YAML
{
    sed "s/rose/thin yellow/; s/ \([A-C][1-3]\)/ '\1'/g; s/ 'A1'/ 10 o'clock outer/; s/ 'A2'/ 12 o'clock outer/
        s/ 'A3'/ 2 o'clock outer/; s/ 'B1'/ 4 o'clock outer/; s/ 'B2'/ 6 o'clock outer/; s/ 'B3'/ 8 o'clock outer/
        s/ 'C1'/ 3 o'clock inner/; s/ 'C2'/ 9 o'clock inner\n      half_seen: motor/" trike.bench.yaml
    cat <<'YAML'
  - time: 2026-10-04T09:00:00+01:00
    trial: {wiring: 20, throttle_percent: 100, motion: forward, feel: smooth, battery_a: 0.6, wheel_speed_rpm: 217}
  - time: 2026-10-04T09:00:00+01:00
    hub: {pricks: none, bearings: free, inside: not_seen, covers: torqued, cable: good, clutch: none}
  - time: 2026-10-04T09:00:00+01:00
    key: {off_v: 0, on_v: 37.4, stops: yes}
  - time: 2026-10-04T09:00:00+01:00
    throttle: {pins: {red: [5, 5], black: [0, 0], white: [0.9, 4.1]}, minus_pin: black, supply_off_v: 0, ground_off_v: 4.9, signal_off_v: 0, turned_with_off: none, springs_back: yes}
  - time: 2026-10-04T09:00:00+01:00
    brake: {pins: {black: [0, 0], red: [4.8, 0.03]}, minus_pin: black, left_stops: yes, left_stop_s: 0.3, right_stops: yes, right_stop_s: 0.4, unplugged_drives: yes}
  - time: 2026-10-04T09:00:00+01:00
    pedal_sensor: {fitted: no}
  - time: 2026-10-04T09:00:00+01:00
    speed_switch: {pins: {brown: [0, 4.9], black: [0, 0], blue: [4.9, 0]}, minus_pin: black, first_rpm: 120, second_rpm: 217}
  - time: 2026-10-04T09:00:00+01:00
    display: {what: none}
  - time: 2026-10-04T09:00:00+01:00
    learn_lead: {fitted: no}
  - time: 2026-10-04T09:00:00+01:00
    idle_draw: {idle_a: 0.04, off_a: 0, load_on: no}
  - time: 2026-10-04T09:00:00+01:00
    coast_down: {coast_from_rpm: 215, coast_s: 10.1, after_1_s: 3, after_1_rpm: 146, after_2_s: 6, after_2_rpm: 80, rim_kg: 1.3, rim_radius_m: 0.29}
  - time: 2026-10-04T09:00:00+01:00
    no_load: {full_v: 37.4, full_speed_rpm: 217, full_a: 0.24, half_v: 37.5, half_speed_rpm: 108, half_a: 0.13, turned: forward}
  - time: 2026-10-04T09:00:00+01:00
    sag: {low_a: 0.6, low_v: 37.4, high_a: 9.5, high_v: 36.5, terminal_v: 36.8}
  - time: 2026-10-04T09:00:00+01:00
    heating: {heating_a: 18, winding_c: 17, start_v: 3.72, heated_1_s: 30, heated_1_v: 3.84, heated_2_s: 60, heated_2_v: 3.91, heated_3_s: 120, heated_3_v: 3.99, heating_s: 120, rested_1_s: 30, rested_1_v: 3.87, rested_2_s: 120, rested_2_v: 3.79}
  - time: 2026-10-04T09:00:00+01:00
    shared_pack: {shared: no}
YAML
} >whole/trike.bench.yaml
sheet whole/trike.yaml -o whole.pdf
pdfinfo whole.pdf | grep -q '^Pages: *2$' || fail "a commissioned machine's sheet takes$(pdfinfo whole.pdf | sed -n 's/^Pages: */ /p') pages"
for a in "Thermal time of the winding" "Heating test" "log entry 10: good" "Name and signature" \
    "Not there pedal sensor (entry 13), lamp or display (entry 15), learn lead (entry 16), shared log: noted" \
    "thin yellow coal (input W)"; do
    paper whole.pdf | grep -qF "$a" || fail "whole.pdf lacks $a"
done

# No log, an empty one, one without a working wiring: said, and nothing joined.
mkdir bare
cp trike.yaml bare
printf 'hubphase_log: 1\nscenario: Seed-box trike\nentries: []\n' >bare/empty.yaml
grep -v "wiring: 20" trike.bench.yaml | sed "/10:5[05]:/d" >bare/rough.yaml # without the smooth trials
sheet bare/trike.yaml -o none.html
sheet bare/trike.yaml bare/empty.yaml -o empty.html
sheet bare/trike.yaml bare/rough.yaml -o rough.html
look none.html 'string(//p[contains(@class, "standing")])' | grep -q "^There is no bench log" || fail "none.html does not say so"
look empty.html 'string(//p[contains(@class, "standing")])' | grep -q "empty.yaml holds no entries" || fail "empty.html does not say so"
look rough.html 'string(//p[contains(@class, "standing")])' | grep -q "None of the .* is a trial that ran smoothly" ||
    fail "rough.html does not say so"
for page in none empty rough; do
    expect $page.html 'count(//table[@class="joins"]//td/span[@class="blank"])' 18
    grep -q "joins motor" $page.html && fail "$page.html joins leads that nobody joined"
    sheet bare/trike.yaml $([ $page = none ] || echo bare/$page.yaml) -o $page.pdf
    paper $page.pdf | grep -q "not known yet" || fail "$page.pdf does not say so"
    paper $page.pdf | grep -q "joins motor" && fail "$page.pdf joins leads that nobody joined"
done

# A stop heads both forms, before the wiring; no colour says that all is well.
sed '/^entries:$/q' trike.bench.yaml >stop.yaml
sed -n '/wiring: 20/{x;p;x;p};h' trike.bench.yaml >>stop.yaml
printf '  - time: 2026-10-03T11:00:00+01:00\n    brake: {left_stops: no}\n' >>stop.yaml
sheet trike.yaml stop.yaml -o stop.html
sheet trike.yaml stop.yaml -o stop.pdf
expect stop.html 'count(//div[@class="stops"]/following::p[contains(@class, "standing")])' 1
expect stop.html 'string(//div[@class="stops"]//li)' "Brake (log entry 3): A lever does not stop the drive."
expect stop.html 'count(//p[@class="standing"])' 0
expect one.html 'count(//p[@class="standing"])' 1
paper stop.pdf | grep -oE '^(Do not ride before|Brake \(log entry 3\): A lever|Motor hub|Wiring 20 ran smoothly)' |
    tr '\n' ';' >order
[ "$(cat order)" = "Do not ride before;Brake (log entry 3): A lever;Motor hub;Wiring 20 ran smoothly;" ] ||
    fail "the head of stop.pdf is read in the order $(cat order)"
paper one.pdf | grep -q "Do not ride" && fail "one.pdf forbids to ride"

# Markup in every text stays text. From here on the drive is the usual one, whose likelihoods are part of the program.
m='<script>x</script>'
i='<img src=x onerror=y>'
cat >hostile.yaml <<YAML
hubphase: 1
name: "$m&amp;\"'\"
motor:
  name: "$i"
  pole_pairs: 23
  resistance_between_leads_ohm: 0.2
  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}
controller:
  name: "</title></style>$m"
leads:
  motor_phases: {U: "<b>1</b>", V: "<b>2</b>", W: "--><b>3"}
  motor_sensors: {U: "]]>1", V: "&lt;2", W: "<svg onload=z>3"}
  controller_outputs: {U: "</text>1", V: "</svg>2", W: "#gu<sub>3"}
  controller_inputs: {U: "<1", V: ">2", W: "\"3\""}
harness:
  - part: "$i"
    leads: {"<i>red</i>": "$m", "<a href='x'>k</a>": "</ul></main>"}
    note: "<style>*{display:none}</style>"
YAML
sed -i 's/^name: .*/name: "<script>x<\/script>\&amp;"/' hostile.yaml
sheet hostile.yaml --wiring 20 --date "$m" -o hostile.html
expect hostile.html 'count(//script | //img | //b | //i | //a | //sub | //@onerror | //@onload | //@href | //@src)' 0
expect hostile.html 'count(//style)' 1
expect hostile.html 'count(//svg)' 2
expect hostile.html 'string(//h1)' "Wiring sheet: $m&amp;"
expect hostile.html 'string(//dl/dd[1])' "$i"
expect hostile.html 'string(//dl/dd[2])' "</title></style>$m"
expect hostile.html 'string(//dl/dd[3])' "$m"
expect hostile.html 'string(//table[@class="joins"]//tr[4]/th)' "<1 (input U)"
expect hostile.html 'string(//table[@class="joins"]//tr[3]/th)' "#gu<sub>3 (output W)"
expect hostile.html 'string(//table[@class="joins"]//tr[1]/td[1])' "<b>1</b>"
expect hostile.html 'string(//table[@class="joins"]//tr[4]/td[3])' "<svg onload=z>3"
expect hostile.html 'string(//div[@class="part"]/strong)' "$i"
expect hostile.html 'string(//div[@class="part"]//li[1])' "<i>red</i>: $m"
expect hostile.html 'string(//div[@class="part"]//li[2])' "<a href='x'>k</a>: </ul></main>"
look hostile.html 'string(//div[@class="part"])' | grep -qF '<style>*{display:none}</style>' || fail "the note is not text"
cat >'<b>.yaml' <<'YAML'
hubphase_log: 1
scenario: <script>x</script>&amp;
entries:
  - time: 2026-10-03T10:00:00+01:00
    pins:
      phase_pins: {U: "<i>", V: "</svg>", W: "#g"}
      sensor_pins: {U: "&lt;", V: "]]>", W: "-->"}
      supply_plus_pin: "<a>"
      supply_minus_pin: "'"
    note: "</p><script>x</script>"
YAML
sheet hostile.yaml '<b>.yaml' -o hostile2.html
expect hostile2.html 'count(//script | //b | //i | //a)' 0
expect hostile2.html 'count(//svg)' 3
expect hostile2.html 'string(//p[starts-with(., "motor: ")])' "motor: </p>$m"
look hostile2.html 'string(//p[contains(@class, "standing")])' | grep -qF "of <b>.yaml is not a trial" || fail "the log's name is not text"
for place in '#g' '&lt;' ']]>' '-->' '<a>' "'"; do
    expect hostile2.html "count((//svg)[3]//*[local-name()='text'][.=\"$place\"])" 1
done
look hostile2.html 'string(//p[starts-with(., "Plug motor: ")])' |
    grep -qF "pin <i>: phase <b>1</b>, pin </svg>: phase <b>2</b>, pin #g: phase --><b>3, pin &lt;: Hall ]]>1," ||
    fail "the pins are not told in words"
sheet hostile.yaml --wiring 20 --date "$m" -o hostile.pdf
paper hostile.pdf | grep -qF "Wiring sheet: $m&amp;" || fail "the paper's title is not text"
paper hostile.pdf | grep -qF "<svg onload=z>3" || fail "a lead is not text on paper"

[ "$(find . -name '.unfinished*' | wc -l)" = 0 ] || fail "an unfinished file was left"
# Names as long as they may be, and the largest plug: still no word on another. A wiring named by hand is
# not called proved.
cat >long.yaml <<'YAML'
hubphase: 1
name: A very long name of a machine that somebody once gave to it, and another half of a line behind that, so it goes on
motor:
  name: a hub with a long description
  pole_pairs: 23
  resistance_between_leads_ohm: 0.2
  no_load_speed_rpm_at_v: {speed_rpm: 215, volts: 36}
leads:
  motor_phases: {U: thick yellow with a black stripe and tape, V: "thickgreenwithoutanyblankinitsnamewhichisverylongindeedandmore", W: blue}
  motor_sensors: {U: thin yellow with a black stripe and tape, V: "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", W: blue}
  controller_outputs: {U: thick yellow with a black stripe and tape, V: "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", W: blue}
  controller_inputs: {U: thin yellow with a black stripe and tape, V: "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", W: blue}
harness:
  - part: a throttle grip of a long name that somebody gave it one day
    leads: {"WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW": five volts from the controller when its key is turned on, black: ground}
    note: springs back, as it must, and should be looked at each spring because of the mice in the shed that like its cable
YAML
cat >long.bench.yaml <<'YAML'
hubphase_log: 1
scenario: A very long name of a machine that somebody once gave to it, and another half of a line behind that, so it goes on
entries:
  - time: 2026-11-25T10:40:00+01:00
    pins:
      continuity: yes
      phase_pins: {U: 12h, V: 3h, W: a bullet of a long name here}
      sensor_pins: {U: "350 degrees inner", V: 100 degrees inner, W: WWWWWWWWWWWWWWWWWWWWWWWW}
      supply_plus_pin: 1:30 o'clock outer
      supply_minus_pin: row 6 column 12
      half_seen: motor
  - time: 2026-11-25T10:41:00+01:00
    trial: {wiring: 1, throttle_percent: 35, motion: forward, feel: smooth, battery_a: 0.2}
YAML
sheet long.yaml --output long.pdf
sheet long.yaml --wiring 5 --output named.pdf
for pdf in *.pdf; do
    clear_words "$pdf"
done
[ "$(pdftotext -bbox long.pdf - | grep -c '<word')" -gt 200 ] || fail "long.pdf has no words to measure"
paper named.pdf | grep -qF "not proved: wiring 5" || fail "named.pdf calls a wiring proved"

exit $wrong
