"""Mutations of the sources, and what catches them: see tests/sabotage.sh."""
import os
import re
import shutil
import subprocess
import sys
import tempfile

import results

# Tests that are quick enough to run for each mutation, in the order in which a reader would look.
TESTS = ["test_backemf", "test_commutation", "test_sensors", "test_motor", "test_stand", "test_drive",
         "test_circuit", "test_figures", "test_engine_circuit_forms", "test_engine_motion_forms",
         "test_engine_balance", "test_engine_symmetry", "test_events", "test_scenario",
         "test_closed_forms", "test_worked_examples", "test_published_surveys", "test_properties",
         "validation_units", "validation_scipy", "validation_ngspice"]
SCRIPTS = {"validation_units": ("check_units.py",), "validation_scipy": ("check_scipy.py",),
           "validation_ngspice": ("check_ngspice.py", "short")}
SECONDS = 300  # for one test; a broken model may never end

# What is broken; file; text or pattern that must occur exactly once; what stands there instead.
MUTATIONS = [
    ("sign of a back-EMF turned round in the circuit", "src/model/circuit.c",
     r"- backemf\[k\];", "+ backemf[k];"),
    ("two rows of the commutation table exchanged", "src/model/commutation.c",
     r"hp_code\(1, 1, 0\)\] = \(hp_commutation_row\)\{HP_V, HP_U\}",
     "hp_code(1, 1, 0)] = (hp_commutation_row){HP_W, HP_U}"),
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
        file.write(re.sub(pattern, lambda _: replacement, text, flags=re.S))
    return text


def build(folder):
    """Whether everything that the tests need builds."""
    targets = [t for t in TESTS if t.startswith("test_")] + ["figures_dump"]
    return subprocess.run(["cmake", "--build", folder, "-j", "2", "--target"] + targets,
                          capture_output=True, text=True)


def run(root, folder, test):
    """Whether a test passes."""
    if test in SCRIPTS:
        script, *rest = SCRIPTS[test]
        command = [sys.executable, "-B", os.path.join(root, "tests/validation", script),
                   os.path.join(folder, "tests/validation/figures_dump"),
                   os.path.join(folder, "validation")] + rest
    else:
        command = [os.path.join(folder, "tests", test)]
    try:
        return subprocess.run(command, cwd=os.path.join(folder, "tests"), capture_output=True,
                              timeout=SECONDS, env=dict(os.environ, HP_PROPERTY_MOTORS="30"),
                              ).returncode == 0
    except subprocess.TimeoutExpired:
        return False


def failing(root, folder):
    done = build(folder)
    if done.returncode:
        raise SystemExit("a mutation does not build:\n" + done.stdout[-2000:])
    return [test for test in TESTS if not run(root, folder, test)]


def main(source, folder, *numbers):
    chosen = [int(n) for n in numbers] or range(1, len(MUTATIONS) + 1)
    with tempfile.TemporaryDirectory() as room:
        root, build_folder = os.path.join(room, "copy"), os.path.join(room, "build")
        shutil.copytree(source, root, ignore=shutil.ignore_patterns(".git", "build"))
        subprocess.run(["cmake", "-S", root, "-B", build_folder, "-G", "Ninja",
                        "-DCMAKE_BUILD_TYPE=RelWithDebInfo"], check=True, capture_output=True)
        print("unbroken", flush=True)
        bad = failing(root, build_folder)
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
    out.note("Tried with: %s; test_properties with 30 machines." % ", ".join(TESTS))
    out.same("mutations caught", sum(bool(c) for _, _, c in rows), len(rows),
             "tests/sabotage.sh", "run", "every one")
    out.table("", ["no.", "broken", "in", "caught by"],
              [[k + 1, what, name, ", ".join(caught) or "**nothing**"]
               for k, (what, name, caught) in enumerate(rows)])
    out.finish()


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
