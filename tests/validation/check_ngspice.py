#!/usr/bin/env python3
"""Figures, verdicts and waveforms against ngspice: see netlist.py.

  check_ngspice.py FIGURES_DUMP RESULT_FOLDER short|full [WIRINGS]

short: the 12 distinct wirings of two motors. full: all 36 of both with finer steps, three with
real PWM edges (against edges here, and against the averaged duty that the program runs by default),
and what diode and step length do to one of the rougher wirings.
"""
import math
import re
import subprocess
import sys
import tempfile

import numpy as np

import netlist
import results

SHORT_STEP, FULL_STEP, PWM_STEP = 1e-5, 5e-6, 2e-6
NAMES = {"bench-trapezoid": "trapezoidal", "bench-sine": "sinusoidal, sensors misplaced",
         "pwm-complementary": "complementary PWM", "pwm-one-sided": "one-sided PWM"}

SHIVER_SIZE = 6.0  # [rad] 1 % of it is 3.4 degrees

# Figure: tolerance, unit.
AIM = {"speed": (0.01, "rad/s"), "speed_sd": (0.01, "rad/s"), "torque_balanced": (0.01, "N m"),
       "torque_rms": (0.02, "N m"), "torque_peak_to_peak": (0.02, "N m"),
       "battery_current": (0.01, "A"), "phase_peak": (0.01, "A"), "phase_rms": (0.01, "A"),
       "net_turn": (0.01, "rad")}
REASON = {
    "speed": "aim: 1 % of the speed (of its rms where the rotor shivers)",
    "speed_sd": "1 % of it or 0.01 % of the speed",
    "torque_balanced": "1 % of it or 0.1 % of the torque's rms",
    "torque_rms": "aim: 2 %", "torque_peak_to_peak": "2 %, as for its rms",
    "battery_current": "aim: 1 %", "phase_peak": "aim: 1 %", "phase_rms": "aim: 1 %",
    "net_turn": "1 % of it, or 3.4 degrees where the rotor shivers 60 to 70 degrees to and fro: "
                "where it is at the last instant hangs on the timing of a dozen swings"}


def complete(f, inertia):
    """Adds what is put together from other figures."""
    f = dict(f)
    f["torque_peak_to_peak"] = f["torque_max"] - f["torque_min"]
    f["torque_balanced"] = f["torque_mean"] - inertia * (
        f["speed_last"] - f["speed_first"]) / f["window_s"]
    return f


def size(name, f):
    floor = {"speed": f["speed_sd"], "speed_sd": 0.01 * abs(f["speed"]),
             "torque_balanced": 0.1 * f["torque_rms"], "net_turn": SHIVER_SIZE}.get(name, 0.0)
    return max(abs(f[name]), floor)


def compare(program, case, wirings, step, folder):
    """Both sides' figures of these wirings: dump of the C side, list of ngspice's."""
    ours = results.dump(program, case, wirings=wirings, max_step=2e-5)

    def one(run):
        wave = netlist.simulate(ours["drive"], ours["options"], run["sensor"], run["phase"], step,
                                folder, "%s-%d" % (case, run["wiring"]))
        return netlist.figures(wave, ours["options"], ours["drive"])

    theirs = [one(run) for run in ours["runs"]]
    inertia = ours["drive"]["stand"]["wheel_inertia_kg_m2"]
    for run in ours["runs"]:
        run["figures"].update(speed_first=run["speed_first"], speed_last=run["speed_last"])
        run["figures"] = complete(run["figures"], inertia)
    return ours, [complete(f, inertia) for f in theirs]


def percent(x):
    return "%.2f" % (100 * x)


def report(out, program, case, ours, theirs):
    """Rows of the worst differences, a table of all, the verdicts."""
    here = [run["figures"] for run in ours["runs"]]
    words = [[results.verdict_word(j) for j in results.judge(program, f)]
             for f in (here, theirs)]
    count = len(here)
    rows = []
    for k, run in enumerate(ours["runs"]):
        f, g = here[k], theirs[k]
        off = {name: (f[name] - g[name]) / size(name, g) for name in AIM}
        rows.append([run["wiring"], words[0][k], words[1][k], "%.2f" % (f["speed"] * 30 / math.pi),
                     "%.3f" % f["battery_current"], "%.3f" % f["torque_rms"]] +
                    [percent(off[name]) for name in AIM])
    for name, (aim, unit) in AIM.items():
        worst = max(range(count), key=lambda k: abs(here[k][name] - theirs[k][name]) /
                    size(name, theirs[k]))
        g = theirs[worst]
        out.row("%s: %s, worst of %d wirings (%d, %s)" % (
            NAMES[case], name.replace("_", " "), count, ours["runs"][worst]["wiring"],
            words[0][worst]), here[worst][name], g[name], aim * size(name, g), REASON[name],
            "ngspice", "run", unit)
    out.same("%s: verdicts of %d wirings alike" % (NAMES[case], count),
             sum(a == b for a, b in zip(*words)), count, "ngspice, figures judged alike", "run",
             "aim: the same verdict, direction and kind on every wiring")
    out.table("%s: here against ngspice; differences in %% of the size that a figure is judged by" %
              NAMES[case],
              ["wiring", "verdict here", "ngspice", "speed [rev/min]", "battery [A]",
               "torque rms [N m]"] + ["%s %%" % name.replace("_", " ") for name in AIM], rows)


def grid_difference(a, b):
    """rms of the difference of two sampled waveforms over the rms of the second."""
    return math.sqrt(np.mean((a - b) ** 2) / np.mean(b ** 2))


def waveforms(out, program, step, folder):
    """Phase current and torque, sample by sample: over time where the rotor runs smoothly, over its
    angle where a difference of speed would pile up along the run."""
    for wiring, over in ((1, "time"), (4, "theta")):
        ours = results.dump(program, "bench-trapezoid", wirings=wiring, max_step=2e-5, wave=2e-5)
        run = ours["runs"][0]
        there = netlist.simulate(ours["drive"], ours["options"], run["sensor"], run["phase"], step,
                                 folder, "wave-%d" % wiring)
        here = {name: np.array(column) for name, column in run["wave"].items()}
        if over == "theta":
            # Running backward: the axis must rise. The last part only.
            end = min(abs(here["theta"][-1]), abs(there["theta"][-1]))
            grid = -np.arange(end - 20 * math.pi, end, 0.005)
            a = {n: np.interp(-grid, -here["theta"], here[n]) for n in ("i_u", "torque")}
            b = {n: np.interp(-grid, -there["theta"], there[n]) for n in ("i_u", "torque")}
        else:
            grid = here["time"]
            a = here
            b = {n: np.interp(grid, there["time"], there[n]) for n in ("i_u", "torque")}
        for name, text in (("i_u", "current of lead U"), ("torque", "torque")):
            out.row("trapezoidal, wiring %d: %s, %d samples over %s, rms difference over rms" % (
                wiring, text, len(grid), "time" if over == "time" else "angle"),
                grid_difference(a[name], b[name]), 0.0, 0.01 if name == "i_u" else 0.02,
                "aim: 1 %, as for currents" if name == "i_u" else "aim: 2 %, as for torque rms",
                "ngspice", "run")


# Averaged duty against real edges.
AVERAGED = {"speed": (0.01, "aim: 1 %"), "torque_balanced": (0.01, REASON["torque_balanced"]),
            "battery_current": (0.01, "aim: 1 %"), "phase_rms": (0.01, "aim: 1 %")}
STIFF_OHM = 1e-6
# A smooth wiring runs at less current than the ripple that the average leaves out.
RIPPLE = {"speed": (0.01, "aim: 1 %"), "torque_balanced": (0.01, REASON["torque_balanced"])}


def averaged(out, program, folder):
    """The averaged duty against real edges, both at a battery without resistance, where they are the
    same machine but for the ripple."""
    edges = results.dump(program, "pwm-complementary", wirings="1,4,5", max_step=2e-5,
                         battery_ohm=STIFF_OHM)
    ours = results.dump(program, "pwm-averaged", wirings="1,4,5", max_step=2e-5,
                        battery_ohm=STIFF_OHM)
    inertia = ours["drive"]["stand"]["wheel_inertia_kg_m2"]
    for run in ours["runs"]:
        wave = netlist.simulate(edges["drive"], edges["options"], run["sensor"], run["phase"],
                                PWM_STEP, folder, "average-%d" % run["wiring"])
        theirs = complete(netlist.figures(wave, edges["options"], edges["drive"]), inertia)
        run["figures"].update(speed_first=run["speed_first"], speed_last=run["speed_last"])
        f = complete(run["figures"], inertia)
        words = [results.verdict_word(results.judge(program, [g])[0])
                 for g in (f, theirs)]
        name = "averaged here, complementary PWM there, wiring %d (%s)" % (run["wiring"], words[0])
        for figure, (aim, reason) in (RIPPLE if words[0] == "correct" else AVERAGED).items():
            out.row("%s: %s" % (name, figure.replace("_", " ")), f[figure], theirs[figure],
                    aim * size(figure, theirs), reason, "ngspice", "run", AIM[figure][1])
        out.same("%s: verdict" % name, words[0], words[1], "ngspice, figures judged alike", "run")


def left_out(out, program, compared):
    """Table of what the averaged duty leaves out, against ngspice's real edges."""
    rows = []
    for case, ours, theirs in compared:
        runs = results.dump(program, "pwm-averaged", max_step=2e-5,
                            wirings=",".join(str(run["wiring"]) for run in ours["runs"]))
        for run, there in zip(runs["runs"], theirs):
            rows.append([NAMES[case], run["wiring"]] + [
                percent(run["figures"][n] / there[n] - 1)
                for n in ("speed", "torque_rms", "battery_current", "phase_peak", "phase_rms")])
    out.table("What the averaged duty leaves out: figures here with it against real edges there, in %. "
              "Edges draw the battery's current in pulses, which its resistance of 0.1 ohm feels in "
              "full; the average spreads them evenly, as the capacitors of a controller do. One-sided "
              "edges freewheel through a diode and cannot brake. A smooth wiring's small current is "
              "mostly ripple.",
              ["edges there", "wiring", "speed", "torque rms", "battery current", "phase peak",
               "phase rms"], rows)


def causes(out, program, folder):
    """What the junction and the step length do to a rough wiring."""
    ours = results.dump(program, "bench-trapezoid", wirings=4, max_step=2e-5)
    run = ours["runs"][0]
    rows = []
    for stiff in (False, True):
        for step in (1e-5, 5e-6, 2e-6):
            wave = netlist.simulate(ours["drive"], ours["options"], run["sensor"], run["phase"],
                                    step, folder, "cause", stiff)
            f = netlist.figures(wave, ours["options"], ours["drive"])
            rows.append(["stiff" if stiff else "junction", "%g" % (step * 1e6)] +
                        [percent(run["figures"][n] / f[n] - 1) for n in (
                            "speed", "torque_rms", "battery_current", "phase_peak", "phase_rms")])
    out.table("Trapezoidal, wiring 4 (rough, early): difference in % by diode and step length. The "
              "junction's drop changes by 60 mV a decade; the stiff one keeps its 0.8 V.",
              ["diode", "longest step [us]", "speed", "torque rms", "battery current",
               "phase peak", "phase rms"], rows)
    out.row("trapezoidal, wiring 4, stiff diode, 2 us: torque rms against ngspice, ratio",
            1 + float(rows[-1][3]) / 100, 1.0, 0.003,
            "with the junction's curve gone and short steps, 0.3 % is what is left of 2 %",
            "ngspice", "run")


def main(program, folder, mode, wirings=None):
    full = mode == "full"
    out = results.Results(folder, "ngspice_full" if full else "ngspice_short")
    text = subprocess.run(["ngspice", "--version"], capture_output=True, text=True).stdout
    version = re.search(r"ngspice-\d+", text)
    if full:
        out.sources()
    out.note("%s; longest step %g us%s." % (
        version.group() if version else "ngspice", 1e6 * (FULL_STEP if full else SHORT_STEP),
        ", %g us with PWM edges" % (PWM_STEP * 1e6) if full else ""))
    with tempfile.TemporaryDirectory() as room:
        for case in ("bench-trapezoid", "bench-sine"):
            chosen = wirings or ",".join(map(str, range(1, 37 if full else 13)))
            ours, theirs = compare(program, case, chosen, FULL_STEP if full else SHORT_STEP, room)
            report(out, program, case, ours, theirs)
        if full:
            compared = []
            for case, chosen in (("pwm-complementary", "1,5"), ("pwm-one-sided", "4")):
                ours, theirs = compare(program, case, chosen, PWM_STEP, room)
                report(out, program, case, ours, theirs)
                compared.append((case, ours, theirs))
            averaged(out, program, room)
            left_out(out, program, compared)
            causes(out, program, room)
        if not wirings:
            waveforms(out, program, FULL_STEP, room)
    return out.finish()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
