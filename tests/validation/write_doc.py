#!/usr/bin/env python3
"""Writes docs/validation.md from result files, and nothing into it that is not in one.

  write_doc.py RESULT_FOLDER STORED_FOLDER OUT [DOC_IN_REPOSITORY]

RESULT_FOLDER holds what this test run found, STORED_FOLDER the latest results of the long runs.
With a fourth argument the new text is held against the one in the repository: same comparisons,
references, tolerances, sources and outcomes; measured digits may differ from machine to machine.

Exit status 77 when a result file is missing: the tests that write it were not run.
"""
import json
import os
import re
import sys

import results

SECTIONS = [
    # file, stored, title, text
    ("scipy", False, "SciPy, an independent solver",
     "The drive's equations a second time, in Python, with event location of its own "
     "(tests/validation/drive_ode.py): ramp, limiters, sticking friction, cogging, diodes. All "
     "figures of the 12 distinct wirings; each row is the figure's worst wiring. Every run starts from "
     "one start position, 40 degrees, so the verdicts are of that start alone: with the misplaced sensors "
     "wiring 5 is held just before an edge from there where wiring 9 runs late, and the pattern of 3, 3, "
     "12 and 18 is not to be looked for here. Left out on this side are gear, clutch, sensor faults, "
     "an open lead and the cut-outs; those stand on the tests of the engine and on the last two "
     "sections."),
    ("ngspice_short", False, "ngspice, in every test run",
     "The drive as a circuit (tests/validation/netlist.py): switches, junction diodes, star "
     "winding, behavioural back-EMF, mechanics and sensors. A plain bench supply, duty 1, no "
     "limiter, no ramp, smoothed friction on both sides. The 12 distinct wirings of two "
     "motors, from 40 degrees."),
    ("ngspice_full", True, "ngspice, all 36 wirings and real PWM",
     "The long comparison, run by hand with `ctest -L full`. What is left in the rough wirings "
     "is named in the last table: shorter steps and a stiff diode together take it to a tenth "
     "of a percent. Of the torque's rms about half is the step length of the circuit simulator "
     "and a third the junction's curve; of the currents nearly all is step length. Shivering "
     "wirings differ most where a swing's timing adds up to the last instant. The averaged duty, "
     "which the program runs by default, is held against the circuit's real edges as well, at a battery "
     "without resistance: there they agree within the aims. At a battery with resistance they differ by "
     "a cause that a table below names."),
    ("closed_forms", False, "Closed forms",
     "Commutation interval in units of U = L = I = 1; sinusoidal motor under forced six-step "
     "current; d.c. step responses."),
    ("worked_examples", False, "Worked examples and copper",
     "Run through the engine as d.c. machines."),
    ("published_tables", False, "Six-step tables in print",
     "A survey of an ideal motor under each. For sensors at 60 degrees the 3 / 3 / 12 / 18 "
     "cannot hold over all sensor orders: with the middle sensor at another input the code "
     "visits states that the table lacks. Where it is at its own input the split is the same, "
     "a third of it. Spoiled: every change of one row to any other pair, to an output that does "
     "not exist or to one output only, and every exchange of two rows; that each refusal names its "
     "row and reason is tested in tests/test_commutation.c."),
    ("units", False, "Unit conversions",
     "What the scenario reader makes of a value. The program does no wire, wheel or road "
     "arithmetic so far; copper's temperature is all."),
    ("properties", False, "Properties of random machines",
     "Seeded, over the ranges that hub motors span, one in ten with a fault. A failure prints "
     "the seed and writes a scenario file that reproduces the machine. Leads are renamed in all 36 "
     "wirings of every tenth machine, in one wiring of the others. Scaling: voltages doubled, times "
     "halved; speeds double exactly."),
    ("limited_supply", False, "A supply that limits its current",
     "The engine has a battery alone. What a bench supply that limits its current and takes none back, "
     "or filament lamps in the plus lead, make of a run is reckoned by the advice from the same run on a "
     "battery; here they are simulated, by the hidden bench's own simulator (tests/hidden_bench, "
     "written from the equations, no line shared), with 1000 uF at the controller and, in one row, a logic "
     "that goes out below 16 V. Motors drawn from the ensemble, the 12 distinct wirings of each."),
    ("first_power", False, "First power through a limit, under SciPy",
     "The same question put to a general solver: the drive's equations in Python (the first section) with "
     "a supply of its own (tests/validation/supply_ode.py): a limit that is reached and left, a supply "
     "that blocks, 1000 uF at the controller; lamps whose filament follows tungsten's resistivity and "
     "radiates with the fourth power, a diode across them. Demo scenarios at the limit that the advice "
     "gives for them, from one start position; a correct wiring, a reverse one, a rough one of either kind, "
     "a stalled one. A person calls the supply at its limit above a fifth of the time, a lamp bright above a "
     "fifth of its rated watts at the end. And the warning of a bench supply that a braked wheel pumps up: "
     "the throttle of a correct wiring closed within a quarter of a second to one. Why the engine has no such "
     "supply: the bus and the filament would be two more states under error control, so that every figure "
     "would change in its last digits and every table of likelihoods be built twice, for answers that the "
     "reckoning gives as well."),
    ("first_power_full", True, "First power, all wirings",
     "The long comparison, run by hand with `ctest -L full`: the 12 distinct wirings of each scenario from "
     "two start positions, from one of them at half of the advised limit too. There a correct wiring whose "
     "sensors are misplaced (the trainer's) touches its limit for a twentieth of the time, though its mean "
     "current is a seventh of it: its current pulsates, and a supply takes nothing back. Of such a run nobody "
     "can say whether it is at the limit, and the log leaves it open."),
    ("commissioning", True, "Commissioning hidden machines",
     "200 random finished machines, direct drive and geared with and without a clutch, by a bench that shares "
     "neither code nor fit with the program (tests/commission_bench): currents of the winding with diodes and PWM "
     "edges, iron drag along a curve, a sag that takes time, heat in seven places; a person with ordinary meters "
     "(gains off by 1 to 2 %, digits, a zero, a turn miscounted now and then, moments by hand), a scenario from "
     "what was believed, two in three with one reading left out. Driven through `hubphase log` and "
     "`hubphase commission --json`; run by hand with `ctest -R bench_full`. What is true of a curve of drag is "
     "the straight line nearest to it. Most of the drags that miss their aim are of hubs behind a one-way clutch, "
     "where an ammeter at a few tenths of an ampere is all that tells of the rotor. The bands of heat are the tightest against what they state: that of `copper_j_per_k` leaves out "
     "15 of 162, where 16 are to be expected of a true 90 %. Of an earlier state, drawn from two other "
     "seeds besides (COMMISSION_BENCH_SEED=501 and 502), it left out 52 of 495, so it held for 89 % (Wilson, 95 %: 86 "
     "to 92); `copper_to_hub_k_per_w` for 90 % (87 to 92), `winding_s` for 91 % (88 to 94). That is scatter, and no "
     "shortfall; its middle is too high in three cases of four, by less than its band."),
    ("comparing", True, "Comparing a machine with itself",
     "The same bench: a machine commissioned twice by the same person on two days, unchanged in every other case, "
     "with one thing changed in the others; then `hubphase compare --json`. The meters are the same on both days, "
     "first unsaid and then said (--same-meters), or others altogether: a winding with 4 % more ohm, and magnets "
     "8 % weaker, are named only where the meters are the same and somebody says so. The last number of each four: "
     "they are others, though they are said to be the same, which takes the meters' differences for the machine's."),
    ("sabotage", True, "Sabotage",
     "The model broken on purpose, in copies of the sources (tests/sabotage.sh), and what "
     "caught it."),
]

HEAD = """# Validation

What the simulation was held against that nobody here wrote, or that follows from theory alone.
Written by the test run from its result files (tests/validation/write_doc.py); do not edit.

The status of a reference: *run*, the outside program ran here; *read*, the text or number was read
in a stored page; *second-hand*, read in a document that quotes it; *memory*, not seen; *derived*,
worked out here; *common practice*, no source. Difference is value minus reference; the tolerance
is absolute, in the same unit.
"""


def load(folder, name, is_stored):
    path = os.path.join(folder, name + ".jsonl")
    if not os.path.exists(path) and is_stored:
        return [{"kind": "note", "text": "**Not run yet** for these sources: `ctest -L full` runs "
                 "it, the target `validation_doc` takes its results over."}]
    if not os.path.exists(path):
        print("no results of \"%s\": %s is missing; run its test first" % (name, path))
        sys.exit(77)
    with open(path) as file:
        return [json.loads(line) for line in file]


def number(x, digits=6):
    if isinstance(x, str):
        return x
    return "%.*g" % (digits, x)


def comparison(entry):
    value, reference = entry["value"], entry["reference"]
    difference = "" if isinstance(value, str) else number(value - reference, 2)
    unit = " " + entry["unit"] if entry["unit"] else ""
    source = "%s (%s)" % (entry["source"], entry["status"])
    return [entry["name"], number(value) + unit, number(reference) + unit, difference,
            number(entry["tolerance"], 2), entry["reason"], source,
            "yes" if entry["ok"] else "**no**"]


def share(entry):
    """How much of its tolerance a difference takes; None for text and counts."""
    if isinstance(entry["value"], str) or not entry["tolerance"]:
        return None
    return abs(entry["value"] - entry["reference"]) / entry["tolerance"]


def summary(entries):
    """One line a section: how many comparisons, and the one nearest to its tolerance."""
    rows = []
    for name, _, title, _ in SECTIONS:
        found = [e for e in entries[name] if e["kind"] == "row"]
        shares = [(share(e), e["name"]) for e in found if share(e) is not None]
        nearest = "%.0f %%: %s" % (100 * max(shares)[0], max(shares)[1]) if shares else "counts only"
        rows.append([title, len(found), sum(not e["ok"] for e in found), nearest])
    return results.markdown(["held against", "comparisons", "outside tolerance",
                             "nearest to its tolerance, share of it"], rows)


def section(entries, title, text):
    lines = ["", "## " + title, "", text]
    notes = [e["text"] for e in entries if e["kind"] == "note"]
    for e in entries:
        if e["kind"] == "sources":
            same = e["hash"] == results.sources_hash()
            notes.append("Taken with the sources of the simulation as they stand." if same else
                         "**Taken with older sources** of the simulation: run it again.")
    if notes:
        lines += ["", " ".join(notes)]
    rows = [comparison(e) for e in entries if e["kind"] == "row"]
    if rows:
        lines += [""] + results.markdown(["what", "value", "reference", "difference", "tolerance",
                                          "why that tolerance", "source (status)", "within"], rows)
    for table in (e for e in entries if e["kind"] == "table"):
        lines += ["", table["title"], ""] + results.markdown(table["columns"], table["rows"])
    return lines


def skeleton(text):
    """What must not differ between machines: each comparison without its measured digits."""
    rows = set()
    for line in text.splitlines():
        cells = [c.strip() for c in re.split(r"(?<!\\)\|", line)[1:-1]]
        if len(cells) == 8 and cells[0] not in ("what", "---"):
            name = re.sub(r"\([^)]*\)", "()", cells[0])
            rows.add((name, cells[5], cells[6], cells[7]))
    return rows


def main(results, stored, out, doc=None):
    lines = HEAD.splitlines()
    entries = {name: load(stored if is_stored else results, name, is_stored)
               for name, is_stored, _, _ in SECTIONS}
    rows = [e for part in entries.values() for e in part if e["kind"] == "row"]
    outside = sum(not e["ok"] for e in rows)
    lines += ["", "%d comparisons, %s." % (
        len(rows), "all within their tolerance" if not outside else "**%d outside**" % outside)]
    lines += [""] + summary(entries)
    for name, _, title, text in SECTIONS:
        lines += section(entries[name], title, text)
    text = "\n".join(lines) + "\n"
    with open(out, "w") as file:
        file.write(text)
    print("%d comparisons, %d outside their tolerance; %s" % (len(rows), outside, out))
    if doc:
        with open(doc) as file:
            old, new = skeleton(file.read()), skeleton(text)
        if old != new:
            for row in sorted(old - new):
                print("only in the repository: %s" % " | ".join(row))
            for row in sorted(new - old):
                print("only in this run: %s" % " | ".join(row))
            print("%s is out of date: build the target validation_doc" % doc)
            return 1
    return 1 if outside else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
