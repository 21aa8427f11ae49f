#!/usr/bin/env python3
"""All figures of the 12 distinct wirings of two drives, against SciPy: see drive_ode.py.

  check_scipy.py FIGURES_DUMP RESULT_FOLDER [WIRINGS]

Twelve, since the other 24 are these with all leads renamed; the first two sensor orders with all
six phase orders hold one of each.
"""
import sys

import numpy
import scipy

import drive_ode
import results

WIRINGS = "1,2,3,4,5,6,7,8,9,10,11,12"
TOLERANCE = 1e-5
REASON = "a tenth of the aim of 1e-4; two solvers at 1e-10 a step"
EXTREME_TOLERANCE = 5e-5
EXTREME = "half the aim of 1e-4; SciPy's extremes are looked for every us near the torque's, every 20 us elsewhere"
EXTREMES = ("swing", "torque_min", "torque_max", "phase_peak")

# Figures and the size against which a difference is judged, where it is not the figure itself: a
# mean about zero against the deviation, a small ripple against its mean.
UNIT = {"net_turn": "rad", "window_turn": "rad", "swing": "rad", "window_s": "s", "speed": "rad/s",
        "speed_sd": "rad/s", "wheel_speed": "rad/s", "torque_mean": "N m", "torque_rms": "N m",
        "torque_min": "N m", "torque_max": "N m", "battery_current": "A", "battery_power": "W",
        "friction_power": "W", "copper_power": "W", "diode_power": "W", "phase_peak": "A",
        "phase_rms": "A", "bus_voltage": "V", "duty": ""}


def scale(name, f):
    floor = {"net_turn": 1.0, "window_turn": 1.0, "swing": 1.0, "speed": f["speed_sd"],
             "wheel_speed": f["speed_sd"], "speed_sd": 0.1 * abs(f["speed"]),
             "torque_mean": f["torque_rms"], "torque_rms": abs(f["torque_mean"]),
             "torque_min": f["torque_max"] - f["torque_min"],
             "torque_max": f["torque_max"] - f["torque_min"]}.get(name, 0.0)
    # Powers and currents of a drive at rest are zero on both sides.
    return max(abs(f[name]), floor, {"W": 1e-3, "A": 1e-3}.get(UNIT[name], 1e-6))


def main(program, folder, wirings=WIRINGS):
    out = results.Results(folder, "scipy")
    out.note("SciPy %s, NumPy %s; relative and absolute tolerance 1e-10 there, 1e-10 a step "
             "here." % (scipy.__version__, numpy.__version__))
    for case in ("full-trapezoid", "full-sine"):
        ours = results.dump(program, case, wirings=wirings, max_step=2e-5)
        worst = {}
        theirs = []
        for run in ours["runs"]:
            expected = drive_ode.run(ours["drive"], ours["options"], run["sensor"], run["phase"],
                                     tolerance=1e-10)[0]
            theirs.append(expected)
            for name in UNIT:
                size = scale(name, expected)
                off = abs(run["figures"][name] - expected[name]) / size
                if name not in worst or not off <= worst[name][0]:
                    worst[name] = off, run["wiring"], run["figures"][name], expected[name], size
        count = len(ours["runs"])
        for name, (off, wiring, value, expected, size) in worst.items():
            extreme = name in EXTREMES
            out.row("%s: %s, worst of %d wirings (%d)" % (case, name.replace("_", " "), count,
                                                          wiring),
                    value, expected, (EXTREME_TOLERANCE if extreme else TOLERANCE) * size,
                    EXTREME if extreme else REASON, "SciPy, DOP853 and own event location", "run",
                    UNIT[name])
        words = [[results.verdict_word(j) for j in results.judge(program, runs)]
                 for runs in ([r["figures"] for r in ours["runs"]], theirs)]
        out.same("%s: verdicts of %d wirings" % (case, count), ", ".join(words[0]),
                 ", ".join(words[1]), "SciPy, figures judged alike", "run")
    return out.finish()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
