# What can be wrong with the controls, one case by itself, a course of one's own. The figures are of the
# simulation: those that a rounding might turn are masked.
write_scenario
mask() { sed -E 's/[0-9]+(\.[0-9]+)? rev/N rev/g; s/from [0-9]+ to/from N to/g; s/after [0-9.]+ s/after N s/g'; }
echo "== all"
hubphase controls small.yaml | mask
echo "== one case"
hubphase controls small.yaml --case brake_other_level --wiring 1 | mask | sed -n '/What if/,/Finding/p'
echo "== a course"
hubphase controls small.yaml --wiring 1 --seconds 5 \
    --do "key=off@2, grip=50@0.2 speed=1@1 off=throttle_ground@1.5" | mask | grep -E -A1 '^ +[0-9.]+ s '
echo "== the controls of a scenario"
cat >> small.yaml <<'END'
controls:
  throttle: {input_pulled: up, fault_above_v: 4.6}
  brake: {switch: normally_closed, expects: normally_closed}
  pedal: {mode: gates}
END
hubphase controls small.yaml --wiring 1 | mask
hubphase controls small.yaml --show-parameters | grep -E "pulled|fault_above|switch|mode"
echo "== a brake switch of the other sort hides the rest: nothing of that is called good"
sed 's/expects: normally_closed/expects: normally_open/; /throttle:/d' small.yaml > other.yaml
hubphase controls other.yaml --wiring 1 | mask | sed -n '/^What if/,/^This follows/p'
hubphase controls other.yaml --wiring 1 --case throttle_ground_off_at_rest | mask | sed -n '/^What if/,/^This follows/p'
hubphase controls other.yaml --wiring 1 --json > other.json
echo "== ... and what is shown of it is with the brake right, in words, figures and picture"
hubphase controls other.yaml --wiring 1 --json --case throttle_ground_off_at_rest > shown.json
hubphase controls other.yaml --wiring 1 --case throttle_ground_off_at_rest --plots shown --shape wall > page.txt
python3 - <<'END'
import json, re
a, b = json.load(open("other.json")), json.load(open("shown.json"))
right = [w for w in a["what_if"] if w["name"] == "throttle_ground_off_at_rest"][0]["once_right"]
moment = b["moments"][-1]
print(b["what_if"]["shown"], "|", moment["outcome"], [n for n in moment if n != "words" and moment[n] != right[n]])
print(max(s["wheel_rpm"] for s in b["samples"]) > 200)
text = " ".join(re.findall(r"<text[^>]*>([^<]*)", open("shown/course.svg").read()))
print([words in text for words in ("(with the brake mended)", "As it is, the brake input holds the drive off")])
END
echo "== a grip that drives at rest"
sed 's/throttle: {/throttle: {rest_v: 1.9, refuses_open_grip: no, /' small.yaml > rest.yaml
hubphase controls rest.yaml --wiring 1 --case throttle_signal_off_at_rest | mask | sed -n '/^What if/,/^This follows/p'
echo "== JSON"
hubphase controls small.yaml --wiring 1 --json > all.json
hubphase controls small.yaml --wiring 1 --json --case brake > one.json
hubphase controls small.yaml --wiring 1 --json --seconds 1 --do grip=50@0.2 > own.json
python3 - <<'END'
import json
a, b, c = (json.load(open(n)) for n in ("all.json", "one.json", "own.json"))
print(len(a["what_if"]), sorted(a))
print(sorted(a["what_if"][0]))
m = [w for w in a["what_if"] if w["name"] == "brake"][0]
print(m["finding"], m["outcome"], m["reason"], m["acts_s"], 0.01 < m["no_torque_s"] < 0.02)
same = [n for n in b["moments"][-1] if b["moments"][-1][n] != m[n]]
print("differs:", same, b["what_if"]["name"], len(b["samples"]), sorted(b["samples"][0]), sorted(b))
other = {w["name"]: w for w in json.load(open("other.json"))["what_if"]}
print(sorted({w["finding"] for w in other.values() if w["held_by"]}), len([w for w in other.values() if w["held_by"]]))
ground = other["throttle_ground_off_at_rest"]
print(ground["held_by"], ground["outcome"], sorted(set(ground["once_right"]) - set(ground)), ground["once_right"]["put_right"],
      ground["once_right"]["finding"], ground["once_right"]["outcome"], other["brake"]["finding"], other["brake"]["once_right"])
print(c["what_if"], [(d["time_s"], d["duty"], d["reason"]) for d in c["demands"]])
END
echo "== nobody knows which lead is which: a correct wiring, whatever number is given"
sed 's/^leads:/&\n  known: no/' small.yaml >unknown.yaml
hubphase controls unknown.yaml --wiring 2 | sed -n '1,3p'
hubphase controls unknown.yaml --wiring 2 --json |
    python3 -c 'import json, sys; print(json.load(sys.stdin)["wiring"])'
echo "== the same bytes again"
hubphase controls small.yaml --wiring 1 --json --case brake | cmp - one.json && echo same
echo "== pictures"
for shape in phone wall a4; do
    hubphase controls small.yaml --wiring 1 --case brake --plots pictures --shape $shape > page.txt
    ls pictures
done
