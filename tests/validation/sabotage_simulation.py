"""Mutations of the sources, and what catches them: see tests/sabotage.sh."""
import os
import re
import shutil
import subprocess
import sys
import tempfile

import results

# Tests that are quick enough to run for each mutation, in the order in which a reader would look.
TESTS = [
    "test_backemf", "test_commutation", "test_sensors", "test_motor", "test_stand",
    "test_drive", "test_circuit", "test_figures_measure", "test_verdict",
    "test_engine_circuit_forms", "test_engine_motion_forms", "test_engine_balance",
    "test_engine_symmetry", "test_events", "test_scenario", "test_closed_forms",
    "test_worked_examples", "test_published_surveys", "test_properties", "validation_units",
    "validation_scipy", "validation_ngspice",
]
SCRIPTS = {"validation_units": ("check_units.py",),
           "validation_scipy": ("check_scipy.py", "1,4,5,22"),
           "validation_ngspice": ("check_ngspice.py", "short", "1,22")}
SECONDS = 120  # for one test, thrice what the slowest takes; a broken model may never end

# What is broken; file; pattern that must occur exactly once; what stands there instead.
MUTATIONS = [
    ("sign of the back-EMF turned round", "src/model/circuit.c",
     r"\* i - backemf\[k\];", "* i + backemf[k];"),
    ("no star point: the sum of currents is not zero", "src/model/circuit.c",
     r"circuit->star = sum \* law->per_count;", "circuit->star = 0.5 * bus;"),
    ("no diode: the current of a lead switched off vanishes", "src/model/circuit.c",
     r"leg\[k\] = current\[k\] > 0\.0 \? HP_LEG_LOWER : HP_LEG_UPPER;",
     "current[k] = 0.0, leg[k] = HP_LEG_FLOAT;"),
    ("missed event: a floating lead never begins to conduct", "src/model/circuit.c",
     r"return below < above \? below : above;", "return 1.0;"),
    ("diode drop of the wrong sign", "src/model/circuit.c",
     r"== HP_LEG_UPPER( +)\? params->diode_drop_v", r"== HP_LEG_UPPER\1? -params->diode_drop_v"),
    ("battery current without the duty", "src/model/circuit.c",
     r"from_bus \+= share\[k\] \* current\[k\];",
     "from_bus += (law->share_duty[k] + law->share_whole[k]) * current[k];"),
    ("line for phase: the winding's resistance doubled", "src/model/circuit.c",
     r"\.winding_ohm = hp_motor", ".winding_ohm = 2.0 * hp_motor"),
    ("two rows of the commutation table exchanged", "src/model/commutation.c",
     r"table\.row\[hp_code\(1, 0, 0\)\](.{1,60}?)table\.row\[hp_code\(1, 1, 0\)\]",
     r"table.row[hp_code(1, 1, 0)]\1table.row[hp_code(1, 0, 0)]"),
    ("sensor order read the wrong way", "src/sim/machine.c",
     r"int sensor = m->wiring\.sensor\[j\];",
     "int sensor = 0; while (m->wiring.sensor[sensor] != j) sensor++;"),
    ("missed event: edges are not seen backward", "src/sim/machine.c",
     r"guard\[HP_GUARD_BACKWARD\] = y\[HP_Y_THETA\] - m->bound_backward;",
     "guard[HP_GUARD_BACKWARD] = 1.0;"),
    ("pole pairs forgotten between rotor and field", "src/sim/machine.c",
     r"= m->pole_pairs \* w;", "= w;"),
    ("torque constant too large by 3 %", "src/sim/machine.c",
     r"now->torque \+= m->ke", "now->torque += 1.03 * m->ke"),
    ("phase current limit ignored", "src/sim/machine.c",
     r"m->phase_share = c->phase_limit_a > 0\.0 \? 1\.0 / c->phase_limit_a : 0\.0;",
     "m->phase_share = 0.0;"),
    ("sensors' hysteresis of the wrong sign", "src/model/sensors.c",
     r"inside \? sensors->hysteresis_rad : -sensors->hysteresis_rad",
     "inside ? -sensors->hysteresis_rad : sensors->hysteresis_rad"),
    ("misplaced sensors displaced the other way", "src/model/sensors.c",
     r"\+ sensors->placement_rad\[phase\]", "- sensors->placement_rad[phase]"),
    ("copper's resistance falls with temperature", "src/model/motor.c",
     r"\(motor->winding_c - 20\.0\)", "(20.0 - motor->winding_c)"),
    ("wheel's inertia not divided by the gear's square", "src/model/stand.c",
     r"\(stand->gear_ratio \* stand->gear_ratio\)", "stand->gear_ratio"),
    ("a resting rotor breaks away too soon", "src/sim/motion.c",
     r"return level \* \(1\.0 \+ TORQUE_SLACK\)", "return 0.8 * level * (1.0 + TORQUE_SLACK)"),
    ("no viscous friction", "src/sim/motion.c",
     r" \+ friction->viscous_nm_s_rad \* speed;", ";"),
    ("rms taken about zero, not about the mean", "src/sim/measure.c",
     r"squares / duration - mean \* mean", "squares / duration"),
    ("means over broken turns", "src/sim/measure.c",
     r"fabs\(turned\) > HP_PI", "fabs(turned) > 1e9"),
    ("current excess upside down", "src/sim/figures.c",
     r"figures->battery_power / figures->friction_power",
     "figures->friction_power / figures->battery_power"),
    ("rms for peak in the back-EMF constant", "src/record/scenario/scenario_backemf.c",
     r"line->rms \* gear", "line->peak * gear"),
]


def mutate(root, name, pattern, replacement):
    path = os.path.join(root, name)
    with open(path) as file:
        text = file.read()
    found = len(re.findall(pattern, text, re.S))
    if found != 1:
        raise SystemExit("%s: %d places match %s, must be 1: the source has changed, mend the "
                         "mutation" % (name, found, pattern))
    with open(path, "w") as file:
        file.write(re.sub(pattern, replacement, text, flags=re.S))
    return text


def build(folder):
    """Whether everything that the tests need builds."""
    targets = [t for t in TESTS if t.startswith("test_")] + ["figures_dump"]
    return subprocess.run(["cmake", "--build", folder, "-j", "2", "--target"] + targets,
                          capture_output=True, text=True)


def run(root, folder, test):
    """Whether a test passes, and what it printed."""
    if test in SCRIPTS:
        script, *rest = SCRIPTS[test]
        command = [sys.executable, "-B", os.path.join(root, "tests/validation", script),
                   os.path.join(folder, "tests/validation/figures_dump"),
                   os.path.join(folder, "validation")] + rest
    else:
        command = [os.path.join(folder, "tests", test)]
    try:
        done = subprocess.run(command, cwd=os.path.join(folder, "tests"), text=True,
                              stdout=subprocess.PIPE, stderr=subprocess.STDOUT, timeout=SECONDS,
                              env=dict(os.environ, HP_PROPERTY_MOTORS="30"))
        return done.returncode == 0, done.stdout
    except subprocess.TimeoutExpired:
        return False, "no end after %d s" % SECONDS


def failing(root, folder, loud=False):
    """Names of the tests that fail; loud: says what they printed."""
    done = build(folder)
    if done.returncode:
        raise SystemExit("it does not build:\n" + done.stdout[-2000:])
    names = []
    for test in TESTS:
        good, printed = run(root, folder, test)
        if good:
            continue
        names.append(test)
        if loud:
            print("%s fails:\n%s" % (test, printed[-2000:]), flush=True)
    return names


def main(source, folder, *numbers):
    chosen = [int(n) for n in numbers] or range(1, len(MUTATIONS) + 1)
    with tempfile.TemporaryDirectory() as room:
        root, build_folder = os.path.join(room, "copy"), os.path.join(room, "build")
        shutil.copytree(source, root, ignore=shutil.ignore_patterns(".git", "build"))
        subprocess.run(["cmake", "-S", root, "-B", build_folder, "-G", "Ninja",
                        "-DCMAKE_BUILD_TYPE=RelWithDebInfo"], check=True, capture_output=True)
        print("unbroken", flush=True)
        bad = failing(root, build_folder, loud=True)
        if bad:
            raise SystemExit("the unbroken copy fails: " + ", ".join(bad))
        rows = []
        for number in chosen:
            what, name, pattern, replacement = MUTATIONS[number - 1]
            original = mutate(root, name, pattern, replacement)
            caught = failing(root, build_folder)
            with open(os.path.join(root, name), "w") as file:
                file.write(original)
            rows.append((what, name, caught))
            print("%2d %s (%s): %s" % (number, what, name, ", ".join(caught) or "NOT CAUGHT"),
                  flush=True)
    if not numbers:
        record(folder, rows)
    return 0 if all(caught for _, _, caught in rows) else 1


def record(folder, rows):
    out = results.Results(folder, "sabotage")
    out.sources()
    out.note("Tried with: %s. The comparisons with SciPy and ngspice in four and two wirings, "
             "test_properties with 30 machines." % ", ".join(TESTS))
    out.same("mutations caught", sum(bool(c) for _, _, c in rows), len(rows),
             "tests/sabotage.sh", "run", "every one")
    out.table("Each mutation and what caught it:", ["no.", "broken", "in", "caught by"],
              [[k + 1, what, name, ", ".join(caught) or "**nothing**"]
               for k, (what, name, caught) in enumerate(rows)])
    out.finish()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
