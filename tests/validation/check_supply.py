#!/usr/bin/env python3
"""First power through a limit: what the advice reckons of it against SciPy's own supply.

  check_supply.py FIGURES_DUMP RESULT_FOLDER short|full

The advice simulates no supply but a battery. It takes a run to be held at a limit when the same run
on a battery would draw more than the limit, and to be as on the battery when it would draw less.
Here the whole drive is simulated with the supply (supply_ode.py), in demo scenarios and at the limit
that the advice gives for them. It warns of a bench supply, too, that a braked wheel pumps up: here
the throttle of a correct wiring is closed.

short: of each scenario a correct wiring, a reverse one, a rough one of either kind, a stalled one.
full: the 12 distinct wirings, from two start positions; from one of them at half of the limit too.
"""
import os
import sys
from concurrent.futures import ProcessPoolExecutor

import drive_ode
import results
import supply_ode

SCENARIOS = ("barrow", "trailer", "trainer")
KINDS = ("correct", "reverse", "rough early", "rough late", "stalled")
WIRINGS = "1,2,3,4,5,6,7,8,9,10,11,12"
ANGLES = 40, 23  # [deg] none near an ideal sensor edge
SECONDS, SETTLE = 1.2, 0.8
TOLERANCE = 1e-6
CLOSING = 0.5, 1.0, 2.0  # [1/s] of the duty: a hand that lets go within a quarter of a second to one
BRAKE = 1.0  # [s] as long as the slowest
# Of the time, and of a lamp's rated watts at the end: above the one a person calls it at its limit
# or bright, below the other not; between, nobody says. Chosen, as for the hidden bench.
REACHED, NOT_REACHED = 0.2, 0.05
# Nearer to the limit than this a run may be on either side of it: two deviations of what the belief
# takes for granted (LIMIT_WITHIN of weigh_trial.c).
NEAR = 0.30
# A battery takes back what a smooth wiring with misplaced sensors returns, a supply does not.
BELOW = "3 %, what a meter is taken to err, and of a current a tenth of its zero's 0.05 A"
COUNT = "every run that is not within 30 % of the limit, and of which a person can say it"
# chosen: a current that pulsates touches a limit well above its mean now and then.
UNSAID_SHARE = 0.1


class Run:
    """One wiring of one scenario behind one supply; `closing`: see BenchSupply."""

    def __init__(self, machine, run, lamps=False, share=1.0, closing=0.0):
        power = machine["first_power"]
        self.drive, self.options = machine["drive"], dict(machine["options"])
        self.run, self.lamps, self.closing = run, lamps, closing
        self.options["seconds"] += BRAKE if closing else 0.0
        self.limit, self.watts = share * power["limit_a"], share * power["lamp_w"]

    def simulate(self):
        order = self.run["sensor"], self.run["phase"]
        drive = (supply_ode.Lamps(self.drive, *order, self.watts) if self.lamps else
                 supply_ode.BenchSupply(self.drive, *order, self.limit, self.closing))
        return drive_ode.run(self.drive, self.options, *order, tolerance=TOLERANCE, drive=drive,
                             extremes=False)[0]


def simulate(run):
    return run.simulate()


def on_battery(program, scenario, cache, angle):
    """Runs of the 12 wirings on the battery, each with its verdict."""
    machine = results.dump_machine(program, scenario, cache, wirings=WIRINGS, angle_deg=angle,
                                   seconds=SECONDS, settle=SETTLE)
    judged = results.judge(program, [run["figures"] for run in machine["runs"]])
    for run, verdict in zip(machine["runs"], judged):
        run["word"] = results.verdict_word(verdict)
    return machine


def some_of(runs):
    """The first of each kind."""
    return [next(r for r in runs if r["word"] == kind) for kind in KINDS
            if any(r["word"] == kind for r in runs)]


def reckoned(run):
    """How far the current on a battery is above the limit, as a factor."""
    return run.run["figures"]["battery_current"] / run.limit


def said(f):
    """What a person says of supply or lamp."""
    share = max(f["at_limit"], f["bright"])
    return "yes" if share > REACHED else "no" if share < NOT_REACHED else "neither"


def report(out, name, pairs):
    """Rows of one scenario and supply."""
    clear = [(r, f) for r, f in pairs if not 1 / (1 + NEAR) < reckoned(r) < 1 + NEAR]
    told = [(r, f) for r, f in clear if said(f) != "neither"]
    out.row("%s: nobody can say whether it is at the limit" % name, len(clear) - len(told), 0,
            int(UNSAID_SHARE * len(clear)), "one in ten of %d runs" % len(clear),
            "SciPy, with the supply", "run")
    out.same("%s: at the limit, wiring by wiring" % name,
             ", ".join("yes" if reckoned(r) > 1 else "no" for r, f in told),
             ", ".join(said(f) for r, f in told), "SciPy, with the supply", "run", COUNT)
    below = [(r.run["figures"], f) for r, f in told if said(f) == "no"]
    for figure, unit, zero in (("battery_current", "A", 0.005), ("speed", "rad/s", 0.0)):
        def share(pair):
            here, there = pair[0][figure], pair[1][figure]
            return abs(here - there) / (0.03 * abs(there) + zero)
        here, there = (f[figure] for f in max(below, key=share))
        out.row("%s: below it, %s, worst of %d runs" % (name, figure.replace("_", " "), len(below)),
                here, there, 0.03 * abs(there) + zero, BELOW, "SciPy, with the supply", "run", unit)


def report_pumped(out, scenario, machine, shown):
    """The highest volts at the controller of a correct wiring whose throttle is closed."""
    most, bound = max(f["bus_most"] for f in shown), machine["first_power"]["pumped_v"]
    out.row("%s: pumped up, share of the volts that the card warns of (%.1f of %.1f)" % (
        scenario, most, bound), most / bound, 0.85, 0.15,
        "a bound that is of use: never above 1, and not below 0.7", "SciPy, with the supply", "run")


def rpm(speed):
    return "%.1f" % (9.5493 * speed + 0.0 if abs(speed) > 5e-3 else 0.0)


def table(out, title, pairs):
    rows = [[r.run["wiring"], r.run["word"], "lamps" if r.lamps else "bench supply",
             "%.3g" % r.limit, "%.3g" % r.run["figures"]["battery_current"], "%.2f" % reckoned(r),
             said(f), "%.0f" % (100 * max(f["at_limit"], f["bright"])),
             "%.3g" % f["battery_current"], "%.1f" % f["bus_voltage"], "%.1f" % f["bus_most"],
             rpm(f["speed"]), rpm(r.run["figures"]["speed"])]
            for r, f in pairs]
    out.table(title, ["wiring", "on the battery", "supply", "limit [A]", "current on the battery [A]",
                      "times the limit", "at the limit, SciPy", "% of the time, or of the lamps' watts",
                      "current [A]", "bus, mean [V]", "bus, highest [V]", "rotor [rev/min]",
                      "on the battery"], rows)


class Plan:
    """What is simulated of one scenario."""

    def __init__(self, program, folder, scenario, full):
        path = os.path.join(results.ROOT, "scenarios", scenario + ".yaml")
        self.scenario, self.runs = scenario, []
        for angle in ANGLES if full else ANGLES[:1]:
            machine = on_battery(program, path, os.path.join(folder, "tables"), angle)
            chosen = machine["runs"] if full else some_of(machine["runs"])
            half = full and angle == ANGLES[0]
            self.runs += [Run(machine, run, lamps, share) for lamps in (False, True)
                          for share in ((1.0, 0.5) if half else (1.0,)) for run in chosen]
        self.machine = machine
        correct = next(run for run in machine["runs"] if run["word"] == "correct")
        self.brakes = [] if full else [Run(machine, correct, closing=rate) for rate in CLOSING]

    def report(self, out, shown):
        power = self.machine["first_power"]
        pairs = list(zip(self.runs, shown))
        for lamps in (False, True):
            report(out, "%s, %s" % (self.scenario, "lamps" if lamps else "bench supply"),
                   [pair for pair in pairs if pair[0].lamps == lamps])
        if self.brakes:
            report_pumped(out, self.scenario, self.machine, shown[len(self.runs):])
        table(out, "%s, limit %.3g A or lamps of %.0f W:" % (
            self.machine["case"], power["limit_a"], power["lamp_w"]), pairs)


def main(program, folder, mode):
    full = mode == "full"
    out = results.Results(folder, "first_power_full" if full else "first_power")
    if full:
        out.sources()
    plans = [Plan(program, folder, scenario, full) for scenario in SCENARIOS]
    with ProcessPoolExecutor(max_workers=2) as pool:
        shown = [list(pool.map(simulate, plan.runs + plan.brakes)) for plan in plans]
    for plan, figures in zip(plans, shown):
        plan.report(out, figures)
    return out.finish()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
