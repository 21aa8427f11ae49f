#!/usr/bin/env python3
"""Measures everything in one run and writes docs/performance.md.

  performance.py BUILD_FOLDER [--no-outside] [--no-large] [--output FILE]
  performance.py BUILD_FOLDER --count      only the instruction counts, on standard output

Wants a build with optimisation; valgrind, ngspice, octave-cli and Python's SciPy where they are there.
Takes some fifteen minutes. Times are processor times, so that other work on the machine shows less.
"""
import argparse
import json
import os
import platform
import re
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
sys.path[:0] = [HERE, os.path.join(ROOT, "tests", "validation")]

import before_after  # beside this file

WIRINGS = "1,2,4,5"  # smooth, opposed, early, late
REPEATS = 9
# Figures and the size below which each no longer matters; torque goes by its ripple. As in bench.c.
SIZES = {"net_turn": 1.0, "speed": 1.0, "battery_current": 0.1, "battery_power": 1.0,
         "phase_rms": 0.1, "friction_power": 1.0}


def error_of(figures, exact):
    torque = abs(exact["torque_mean"]) + exact["torque_rms"]
    worst = max(abs(figures[k] - exact[k]) / torque for k in ("torque_mean", "torque_rms"))
    return max(worst, max(abs(figures[k] - exact[k]) / (abs(exact[k]) + size)
                          for k, size in SIZES.items()))


def program(build, name):
    return os.path.join(build, "tests", "bench", name)


def probe(build, case, who, **arguments):
    words = ["%s=%s" % item for item in arguments.items()]
    return json.loads(subprocess.check_output([program(build, "hubphase_probe"), case, who] + words))


def text_of(words):
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout


class Document:
    def __init__(self):
        self.parts = []

    def add(self, text):
        self.parts.append(text.rstrip("\n") + "\n")

    def block(self, text):
        self.add("```text\n" + text.rstrip("\n") + "\n```")

    def table(self, head, rows):
        lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
        self.add("\n".join(lines + ["| " + " | ".join(map(str, row)) + " |" for row in rows]))


# ---- against other programs -----------------------------------------------------------------------

def row_of(name, runs, exact, seconds):
    """Means over the wirings: time, right-hand sides, steps, events; the largest error."""
    def mean(key):
        values = [run[key] for run in runs if run.get(key) is not None]
        return statistics.mean(values) / seconds if len(values) == len(runs) else None
    errors = [error_of(run["figures"], exact[run["wiring"]]) for run in runs]
    return {"name": name, "ms": mean("ms"), "rhs": mean("rhs"), "steps": mean("steps"),
            "events": mean("events"), "error": max(errors)}


def floor_row(build, case, exact, seconds, error):
    """The longest step of the floor, in halves, at which it is as accurate as asked for."""
    step = 1e-3
    while True:
        runs = probe(build, case, "floor", wirings=WIRINGS, setting=step, repeats=REPEATS)["runs"]
        row = row_of("floor, steps up to %.0f us" % (1e6 * step), runs, exact, seconds)
        # The floor knows no swings: what shivers it measures over a window of another length.
        row["error"] = max(error_of(run["figures"], exact[run["wiring"]]) for run in runs
                           if exact[run["wiring"]]["window_swings"] == 0)
        if row["error"] <= error or step < 2e-6:
            return row
        step *= 0.5


def scipy_rows(fine, exact, seconds, error):
    import scipy
    import scipy_drive
    for tolerance in (1e-5, 1e-6, 1e-7, 1e-8, 1e-9):
        runs = []
        for run in fine["runs"]:
            begin = time.process_time()
            figures, count = scipy_drive.run(fine["drive"], fine["options"], run["sensor"],
                                             run["phase"], tolerance)
            runs.append({"wiring": run["wiring"], "figures": figures,
                         "ms": 1e3 * (time.process_time() - begin), **count})
        row = row_of("SciPy %s solve_ivp, tolerance %g" % (scipy.__version__, tolerance), runs, exact,
                     seconds)
        if row["error"] <= error:
            break
    return row


def children_ms():
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return 1e3 * (usage.ru_utime + usage.ru_stime)


def ngspice_row(fine, exact, seconds, max_step):
    import netlist
    runs = []
    with tempfile.TemporaryDirectory() as folder:
        for run in fine["runs"]:
            begin = children_ms()
            wave = netlist.simulate(fine["drive"], fine["options"], run["sensor"], run["phase"],
                                    max_step, folder, "w%d" % run["wiring"], stiff=True)
            runs.append({"wiring": run["wiring"], "ms": children_ms() - begin,
                         "steps": len(wave["time"]),
                         "figures": netlist.figures(wave, fine["options"], fine["drive"])})
    return row_of("ngspice, steps up to %g us" % (1e6 * max_step), runs, exact, seconds)


def octave_row(fine, exact, seconds, tolerance):
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "case.json")
        with open(path, "w") as file:
            json.dump(fine, file)
        out = subprocess.run(["octave-cli", "--no-gui", os.path.join(HERE, "drive_ode45.m"), path,
                              "%g" % tolerance], capture_output=True, text=True).stdout
    runs = [json.loads(line) for line in out.splitlines() if line.startswith("{")]
    for run in runs:
        run["figures"]["phase_rms"] = run["figures"]["phase_rms"] or 0.0
    return row_of("Octave ode45, tolerance %g" % tolerance, runs, exact, seconds)


def compare(build, document, case, title, real_pwm):
    fine = probe(build, case, "brute", wirings=WIRINGS, setting=1e-6)
    exact = {run["wiring"]: run["figures"] for run in fine["runs"]}
    seconds = fine["options"]["seconds"]
    ours = probe(build, case, "engine", wirings=WIRINGS, setting=1e-7, repeats=REPEATS)
    rows = [row_of("engine, tolerance 1e-7", ours["runs"], exact, seconds)]
    error, base = rows[0]["error"], rows[0]["ms"]
    rows.append(floor_row(build, case, exact, seconds, error))
    print("engine and floor on", case, file=sys.stderr)
    if not real_pwm:
        try:
            rows.append(scipy_rows(fine, exact, seconds, error))
        except ImportError:
            document.add("SciPy is not there.")
        if shutil.which("octave-cli"):
            rows.append(octave_row(fine, exact, seconds, 1e-6))
    if shutil.which("ngspice"):
        for max_step in (2e-6,) if not real_pwm else (1e-6,):
            rows.append(ngspice_row(fine, exact, seconds, max_step))
    document.add("### " + title)
    document.table(
        ["", "ms a simulated second", "times the engine", "largest error", "right-hand sides a second",
         "steps a second", "events a second"],
        [[r["name"], "%.3g" % r["ms"], "%.3g" % (r["ms"] / base), "%.1e" % r["error"]] +
         ["%.0f" % r[k] if r[k] is not None else "" for k in ("rhs", "steps", "events")]
         for r in rows])
    ratios = {}
    for r in rows:
        ratios.setdefault(r["name"].split(",")[0].split(" ")[0], r["ms"] / base)
    return ratios, ours["peak_mb"]


# ---- instructions ------------------------------------------------------------------------------

def instructions(build, case, who, **arguments):
    """Executed instructions of a run of two lengths; the difference leaves the start of the program
    out."""
    counts = []
    with tempfile.TemporaryDirectory() as folder:
        for seconds in (0.05, 0.1):
            words = ["%s=%s" % item for item in arguments.items()]
            run = subprocess.run(
                ["valgrind", "--tool=callgrind", "--callgrind-out-file=" + os.path.join(folder, "out"),
                 program(build, "hubphase_probe"), case, who, "wirings=" + WIRINGS,
                 "seconds=%g" % seconds, "settle=%g" % (0.5 * seconds)] + words,
                capture_output=True, text=True, check=True)
            counts.append(int(re.search(r"Collected : (\d+)", run.stderr).group(1)))
    return (counts[1] - counts[0]) / (0.05 * len(WIRINGS.split(",")))


def count_rows(build):
    rows = []
    for case in ("bench-trapezoid", "full-trapezoid", "pwm-complementary"):
        engine = instructions(build, case, "engine", setting=1e-7)
        floor = instructions(build, case, "floor", setting=6.25e-5)
        rows.append([case, "%.1f" % (1e-6 * engine), "%.1f" % (1e-6 * floor),
                     "%.2f" % (engine / floor)])
    return ["case", "engine, million a simulated second", "floor (steps up to 62.5 us)", "ratio"], rows


def profile(build, case):
    """Where the engine's instructions go, by function, those above one in a hundred."""
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "out")
        subprocess.run(["valgrind", "--tool=callgrind", "--callgrind-out-file=" + out,
                        program(build, "hubphase_probe"), case, "engine", "setting=1e-7",
                        "wirings=" + WIRINGS], capture_output=True, check=True)
        text = text_of(["callgrind_annotate", out])
    lines = []
    for match in re.finditer(r"\(\s*([\d.]+)%\)\s+\S*?:(\S+)(?: \[(\S+)\])?", text):
        share, name, where = float(match.group(1)), match.group(2), match.group(3) or ""
        if share >= 1.0 and "TOTALS" not in name:
            library = os.path.basename(where)
            lines.append("%6.1f %%  %-34s %s" % (share, name, library if ".so" in library else ""))
    return "\n".join(lines)


# ---- the document --------------------------------------------------------------------------------

def machine():
    model = "unknown processor"
    with open("/proc/cpuinfo") as file:
        for line in file:
            if line.startswith("model name"):
                model = line.split(":", 1)[1].strip()
                break
    compiler = text_of(["cc", "--version"]).splitlines()[0]
    return "%s, %d cores; Linux %s; %s" % (model, os.cpu_count(), platform.machine(), compiler)


def aim(document, rows, name, wanted, value, good):
    rows.append([name, wanted, value, "met" if good else "**not met**"])


def number(pattern, text):
    found = re.findall(pattern, text)
    return [float(x) for x in found]


def first_answers(build, document, aims):
    """`next` with nothing kept: half of both threads' processor time is what two idle cores take. A survey."""
    scenarios = os.path.join(ROOT, "scenarios")
    build = os.path.abspath(build)
    with tempfile.TemporaryDirectory() as folder:
        edges = before_after.one_sided(os.path.join(scenarios, "barrow.yaml"), folder)
        for name, path, limit in (("barrow", os.path.join(scenarios, "barrow.yaml"), 3.0),
                                  ("trike", os.path.join(scenarios, "trike.yaml"), 10.0),
                                  ("barrow with one-sided edges", edges, 40.0)):
            used = 0.5 * before_after.first_answer(build, path)[1]
            aim(document, aims, "first answer, %s: half the processor time of two threads" % name,
                "under %g s" % limit, "%.1f s" % used, used < limit)
    used = min(before_after.survey(build, os.path.join(scenarios, "barrow.yaml")) for _ in range(5))
    aim(document, aims, "survey of 36 wirings from 7 starts, barrow: processor time", "at most 0.8 s",
        "%.2f s" % used, used <= 0.8)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("build")
    parser.add_argument("--no-outside", action="store_true")
    parser.add_argument("--no-large", action="store_true")
    parser.add_argument("--count", action="store_true")
    parser.add_argument("--output", default=os.path.join(ROOT, "docs", "performance.md"))
    given = parser.parse_args()
    if given.count:
        head, rows = count_rows(given.build)
        for row in [head] + rows:
            print("  ".join("%-24s" % cell for cell in row))
        return
    body, aims = Document(), []
    load = os.getloadavg()[0]
    print("engine against floor ...", file=sys.stderr)
    ladder = text_of([program(given.build, "hubphase_bench")])
    print("growth ...", file=sys.stderr)
    growth = text_of([program(given.build, "hubphase_growth")] +
                     ([] if given.no_large else ["--large"]))
    means = number(r"mean .*\|\s+([\d.]+)\n", ladder)
    aim(body, aims, "averaged, times the floor at equal error", "at most 1", "%.1f" % means[0],
        means[0] <= 1.0)
    aim(body, aims, "real PWM, times the floor at equal error", "at most 2",
        ", ".join("%.1f" % m for m in means[1:]), max(means[1:]) <= 2.0)
    if not given.no_outside:
        body.add("## Against other programs\n\nOne drive, four wirings (smooth, opposed, early, late), "
                 "means over the four. Each is as accurate as the engine or comes as near as it was "
                 "tried. Errors: the largest difference of a figure from a brute fine run, over the "
                 "figure's size. An ngspice diode's drop varies with its current, which is most of its "
                 "error. Octave draws straight lines through the ends of a step to find an event, which "
                 "is most of its own. SciPy and ngspice count no right-hand sides alike. The floor's error "
                 "leaves out the opposed wiring: that shivers, which it does not measure over whole swings.")
        ratios, peak = compare(given.build, body, "bench-trapezoid", "Full duty, no limiters", False)
        pwm, _ = compare(given.build, body, "pwm-complementary", "Real PWM edges, 16 kHz", True)
        if "ngspice" in ratios:
            aim(body, aims, "faster than ngspice", "at least 200", "%.0f; real PWM %.0f" % (
                ratios["ngspice"], pwm["ngspice"]), ratios["ngspice"] >= 200)
        if "SciPy" in ratios:
            aim(body, aims, "faster than SciPy, at equal or smaller error", "at least 100",
                "%.0f" % ratios["SciPy"], ratios["SciPy"] >= 100)
        body.add("Peak memory of the engine's process: %.1f MB." % peak)
    attainable = number(r"attainable ratio ([\d.]+)", growth)[0]
    threads = number(r"threads ratio ([\d.]+)", growth)[0]
    aim(body, aims, "second core", "at least 1.9", 
        "%.2f by the clock; %.2f on idle cores by processor time" % (threads, attainable),
        threads >= 1.9)
    large = number(r"large ensemble ([\d.]+) s", growth)
    used = number(r"of both ([\d.]+) s", growth)
    if large:
        aim(body, aims, "36 wirings x 12 start positions x 100 motors on two cores", "under 120 s",
            "%.0f s by the clock; %.0f s of processor time, both cores" % (large[0], used[0]),
            large[0] < 120)
    memory = number(r"\n +\d+ +[\d.]+ +[\d.]+ +[\d.]+ +([\d.]+)(?=\n)", growth)
    aim(body, aims, "memory over the number of motors", "flat",
        " to ".join("%.1f MB" % m for m in (memory[0], memory[-1])), memory[-1] < 1.5 * memory[0])
    first_answers(given.build, body, aims)
    body.add("## Against the floor\n\nThe floor is a hand-written Runge-Kutta loop whose steps are aimed "
             "at events. Its step is the longest at which it is as accurate as the engine.")
    body.block(ladder)
    body.add("## Growth")
    body.block(growth)
    if shutil.which("valgrind"):
        print("instructions ...", file=sys.stderr)
        body.add("## Instructions\n\nCounted under callgrind, so that a change shows however busy the "
                 "machine is.")
        body.table(*count_rows(given.build))
        for case, title in (("full-trapezoid", "averaged"), ("pwm-complementary", "real PWM edges")):
            body.add("Share of the engine's instructions, %s:" % title)
            body.block(profile(given.build, case))
    calm = os.path.join(given.build, "tests", "test_calm")
    print("runs that end early ...", file=sys.stderr)
    text = subprocess.run([calm, "10"], capture_output=True, text=True)
    body.add("## Runs that end early\n\nMotors drawn at random around three drives, 12 wirings, 3 start "
             "positions: runs that end once their means over blocks move by less than a share, against "
             "runs to the full 2 s (`tests/test_calm.c`). Differences are relative.")
    body.block("\n".join(line for line in text.stdout.splitlines() if not line.startswith("[")))
    head = Document()
    head.add("# What a run costs\n\nWritten by `tests/bench/performance.py` from one run; do not edit. "
             "Its last sections are `tests/bench/before_after.md`, which `before_after.py` writes, and "
             "`tests/bench/notes.md`.\n\nMachine: " + machine() + ". Load when "
             "it began: %.1f." % load)
    head.add("## Aims")
    head.table(["", "aim", "measured", ""], aims)
    for name in ("before_after.md", "notes.md"):
        with open(os.path.join(HERE, name)) as file:
            body.add(file.read())
    with open(given.output, "w") as file:
        file.write("\n".join(head.parts + body.parts))


if __name__ == "__main__":
    main()
