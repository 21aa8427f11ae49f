#!/usr/bin/env python3
"""Sets two builds side by side and writes tests/bench/before_after.md, which performance.py puts into
docs/performance.md: instructions by group, and what the first answer on each scenario costs.

  before_after.py BEFORE AFTER [--output FILE] [--scenario NAME ...] [--one-sided-before]

BEFORE and AFTER are folders of optimised builds of the two states. Each pair of runs follows directly
one upon the other, so that what else the machine does meets both alike. With one-sided edges the state
before simulates each edge, for many minutes: timed only when asked for. Wants valgrind.
"""
import argparse
import glob
import os
import re
import resource
import shutil
import subprocess
import tempfile
import time

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))

# The first pattern that "file:function [library]" matches says its group. What a header's inline functions
# do counts for the function that they are in: there only the name is left.
GROUPS = [
    ("ARKODE", r"libsundials"),
    ("vector sums and norms", r"vector_|\bcombine|weight_callback"),
    ("measuring, known times, calm", r"measure|run_|calm|snapshot|balance|deviation|extremes|note_|set_pwm|"
     r"look_beyond|speed_root|hp_paths|sizes|waypoint"),
    ("events: guards, rates, steps, settling",
     r"dip|guard|hp_step_|step\.c|settle|find_past|\blook\b|take_third|interpolate|fire|set_legs|law_of|"
     r"is_consistent|rotor_angle_(bounds|cross)|sensor|corner|cubic|\blocate|bracket|set_commands|circuit_rates|"
     r"shape_slopes|kink_time|boundary_time|aim|step_length|clean_currents|read_code"),
    ("equations", r"machine|motion|circuit|shapes|backemf|motor|instant|slope|coulomb|friction|sine|rotor_angle"),
    ("mathematics library", r"libm|_fma\b|tanh|expm1|\bpow|fmin|fmax|fmod"),
    ("copies, comparisons", r"mem(p?cpy|move|cmp|set)"),
    ("the loop of a run", r"engine\.c|\b(hp_engine_\w+|run|loop|advance|begin|restart|enter_mode|goes_on|"
     r"(end|adapt)_callback|(keep|take|watch|close|first)_step)\b"),
]

# Cases of the probe (tests/bench/probe.c): simulated seconds to count over.
CASES = [("full-trapezoid", "averaged"), ("pwm-complementary", "complementary edges, 16 kHz"),
         ("pwm-one-sided", "one-sided edges, 16 kHz")]


def group_of(name):
    for group, pattern in GROUPS:
        if re.search(pattern, name):
            return group
    return "else"


def count(build, case, seconds):
    """Instructions of a run by group: of the engine alone, without start and output of the probe."""
    probe = os.path.join(build, "tests", "bench", "hubphase_probe")
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "out")
        run = subprocess.run(["valgrind", "--tool=callgrind", "--toggle-collect=hp_engine_run",
                              "--callgrind-out-file=" + out, probe, case, "engine", "setting=1e-7",
                              "wirings=1,2,4,5", "seconds=%g" % seconds, "settle=%g" % (0.5 * seconds)],
                             capture_output=True, text=True)
        if run.returncode != 0:
            return None
        text = subprocess.run(["callgrind_annotate", "--auto=no", "--threshold=100", out], check=True,
                              capture_output=True, text=True).stdout
    groups = {}
    for line in text.splitlines():
        match = re.match(r"\s*([\d,]+) \(\s*[\d.]+%\)\s+(\S+.*)", line)
        if not match or "PROGRAM TOTALS" in line:
            continue
        name = re.sub(r"\S*/(?=[^/]*:)", "", match.group(2).replace(build, ""))
        name = re.sub(r"^[\w.-]+\.h:", "", name)
        group = group_of(name)
        groups[group] = groups.get(group, 0) + int(match.group(1).replace(",", ""))
    return groups


def processor_seconds():
    usage = resource.getrusage(resource.RUSAGE_CHILDREN)
    return usage.ru_utime + usage.ru_stime


def first_answer(build, scenario):
    """Seconds by the clock, processor seconds and peak memory [MB] of `next` with nothing kept or logged."""
    with tempfile.TemporaryDirectory() as cache:
        scenario = shutil.copy(scenario, cache)
        begin, used = time.time(), processor_seconds()
        run = subprocess.run(
            ["/usr/bin/time", "-f", "%M", os.path.join(build, "hubphase"), "next", scenario],
            env=dict(os.environ, XDG_CACHE_HOME=cache), capture_output=True, text=True, cwd=cache)
        if run.returncode not in (0, 3):
            raise SystemExit("%s %s: %s" % (build, scenario, run.stderr))
        if run.returncode == 3:
            return None  # a key that this state does not know yet
        memory = float(run.stderr.split()[-1]) / 1024.0
        return time.time() - begin, processor_seconds() - used, memory


def survey(build, scenario):
    used = processor_seconds()
    subprocess.run([os.path.join(build, "hubphase"), "survey", "--jobs", "1", scenario], check=True,
                   capture_output=True)
    return processor_seconds() - used


def floor_ratios(build):
    """Times the floor at equal error: averaged, complementary, one-sided edges; and ms a second."""
    text = subprocess.run([os.path.join(build, "tests", "bench", "hubphase_bench")], check=True,
                          capture_output=True, text=True).stdout
    return re.findall(r"mean +([\d.]+) +\| +([\d.]+) +\|", text)


def one_sided(scenario, folder):
    """The same scenario with one-sided edges."""
    with open(scenario) as file:
        text = file.read()
    path = os.path.join(folder, "one-sided.yaml")
    with open(path, "w") as file:
        file.write(re.sub(r"(?m)^controller:\n", "controller:\n  pwm: one_sided\n", text, count=1))
    return path


def table(head, rows):
    lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    return "\n".join(lines + ["| " + " | ".join(map(str, row)) + " |" for row in rows]) + "\n"


def groups_table(before, after, title, seconds):
    names = [g for g, _ in GROUPS] + ["else"]
    scale = 1e-6 / (4.0 * seconds)
    rows = []
    for name in names:
        a, b = before.get(name, 0) * scale, after.get(name, 0) * scale
        rows.append([name, "%.1f" % a, "%.1f" % b])
    a, b = sum(before.values()) * scale, sum(after.values()) * scale
    rows.append(["all", "%.1f" % a, "%.1f" % b])
    return "%s: %.2f of the instructions.\n\n" % (title, b / a) + \
        table(["million a simulated second", "before", "after"], rows)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("before")
    parser.add_argument("after")
    parser.add_argument("--output", default=os.path.join(HERE, "before_after.md"))
    parser.add_argument("--scenarios", default=os.path.join(ROOT, "scenarios"))
    parser.add_argument("--scenario", action="append", help="only these, by name; default: all")
    parser.add_argument("--one-sided-before", action="store_true")
    given = parser.parse_args()
    given.before, given.after = os.path.abspath(given.before), os.path.abspath(given.after)
    parts = ["## Before and after\n", "Two states of the program in one run of `tests/bench/before_after.py`: "
             "before shivers were measured over whole swings and runs of a survey ended once they repeat "
             "themselves, and now. Load of the machine when it began: %.1f on %d cores.\n" % (
                 os.getloadavg()[0], os.cpu_count())]
    parts.append("### Instructions by group\n\nUnder callgrind, four wirings (smooth, opposed, early, "
                 "late), tolerance 1e-7, the engine alone.\n")
    for case, title in CASES:
        seconds = 0.2 if case.startswith("full") else 0.05
        before, after = count(given.before, case, seconds), count(given.after, case, seconds)
        if before and after:
            parts.append(groups_table(before, after, title[0].upper() + title[1:], seconds))
    ratios = [floor_ratios(build) for build in (given.before, given.after)]
    parts.append("### Against the floor\n\n`hubphase_bench` of both: milliseconds a simulated second, and "
                 "times those of the floor, the bare loop at equal error.\n")
    parts.append(table(["", "before", "after", "floor beside it"],
                       [["%s" % name, "%s ms, %.1f times" % (a[0], float(a[0]) / float(a[1])),
                         "%s ms, %.1f times" % (b[0], float(b[0]) / float(b[1])), "%s, %s ms" % (a[1], b[1])]
                        for name, a, b in zip(("averaged", "complementary edges", "one-sided edges"),
                                              *ratios)]))
    parts.append("### To the first answer\n\n`next` on a scenario of which nothing is kept. Processor "
                 "seconds of both threads; half of them is what two idle cores take by the clock.\n")
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        scenarios = sorted(s for s in glob.glob(os.path.join(given.scenarios, "*.yaml"))
                           if ".bench." not in s and (
                               not given.scenario or
                               os.path.basename(s)[:-len(".yaml")] in given.scenario))
        edges = one_sided(os.path.join(given.scenarios, "barrow.yaml"), folder)
        for scenario in scenarios + [edges]:
            timed = scenario != edges or given.one_sided_before
            before = first_answer(given.before, scenario) if timed else None
            after = first_answer(given.after, scenario)
            name = os.path.basename(scenario).replace(".yaml", "")
            if scenario == edges:
                name = "barrow, one-sided edges"
            was = ["%.1f" % before[1], "%.1f" % after[1], "%.2f" % (before[1] / after[1])] if before else \
                ["does not know it" if timed else "not timed", "%.1f" % after[1], ""]
            rows.append([name] + was + ["%.1f" % (0.5 * after[1])] +
                        ["%.1f" % before[0] if before else "", "%.1f" % after[0]] +
                        ["%.0f, %.0f" % (before[2], after[2]) if before else "%.0f" % after[2]])
            print(*rows[-1], flush=True)
    parts.append(table(["scenario", "processor s before", "after", "ratio", "half of after",
                        "clock before", "after", "peak MB"], rows))
    barrow = os.path.join(given.scenarios, "barrow.yaml")
    pair = [min(survey(build, barrow) for _ in range(5)) for build in (given.before, given.after)]
    parts.append("The survey of 36 wirings from 7 starts of the barrow: %.2f s of processor time before, "
                 "%.2f s after (least of five).\n" % tuple(pair))
    with open(given.output, "w") as file:
        file.write("\n".join(parts))


if __name__ == "__main__":
    main()
