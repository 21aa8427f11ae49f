"""Mutations of the sources, and what catches them: see tests/sabotage.sh.

  sabotage.py ROOT LIST RESULT_FOLDER [NUMBER...]   break, build, test, record
  sabotage.py ROOT LIST check DOC                   only see whether every mutation still has its place
                                                    in the sources, and DOC lists just those

LIST names a module beside this one (sabotage_simulation, sabotage_advice) with

  SECTION     name of the result file
  TESTS       tests to run for each mutation, in this order
  EVERY_TEST  True: run all of them and record all that catch it; False: stop at the first, those
              that the mutation names itself before the others
  PATTERNS    True: places are regular expressions; False: plain text, blanks and line ends alike
  NOTE        what a reader should know of how the tests were run
  MUTATIONS   (what is broken, file, place, what stands there instead[, tests that come first])

A file is given by its name alone, which is unique in the tree, so that a move changes nothing. A
place must be found exactly once. Results go to RESULT_FOLDER: SECTION.jsonl, from which
docs/validation.md is written, and SECTION.md, for the target advisor_doc.
"""
import importlib
import os
import re
import shutil
import subprocess
import sys

import results

SCRIPTS = {"validation_units": ("check_units.py",),
           "validation_scipy": ("check_scipy.py", "1,4,5,22"),
           "validation_ngspice": ("check_ngspice.py", "short", "1,22")}
SECONDS = 120  # for one test, thrice what the slowest takes; a broken model may never end


# ---- the sources ---------------------------------------------------------------------------------

def find(root, name):
    """Path of the one source of this name."""
    found = [os.path.join(folder, name) for top in ("src", "include")
             for folder, _, files in os.walk(os.path.join(root, top)) if name in files]
    if len(found) != 1:
        raise SystemExit("%s: %d files of this name, must be 1: the sources have moved, mend the "
                         "mutations" % (name, len(found)))
    return found[0]


def pattern_of(plan, place):
    """A plain text may be laid out anew by the formatter and is still found."""
    if plan.PATTERNS:
        return re.compile(place, re.S)
    return re.compile(r"\s+".join(re.escape(word) for word in place.split()))


def broken(plan, root, mutation):
    """Path, text as it is, text as it is broken."""
    name, place, instead = mutation[1:4]
    path = find(root, name)
    with open(path) as file:
        text = file.read()
    pattern = pattern_of(plan, place)
    found = len(pattern.findall(text))
    if found != 1:
        raise SystemExit("\"%s\": %d places of %s match %s, must be 1: the source has changed, "
                         "mend the mutation" % (mutation[0], found, name, place))
    new = pattern.sub(instead if plan.PATTERNS else lambda _: instead, text)
    if new == text:
        raise SystemExit("\"%s\" breaks nothing" % mutation[0])
    return path, text, new


def put(path, text):
    with open(path, "w") as file:
        file.write(text)


def wanted(folder, names):
    return [n for n in names if n in (".git", "build", "node_modules", "__pycache__")]


def refresh(source, root):
    """Makes root a copy of the tree. A file that is the same keeps its age, so that a copy made
    before need not be built anew; one that differs gets the time of now."""
    kept = set()
    for folder, names, files in os.walk(source):
        names[:] = [n for n in names if n not in wanted(folder, names)]
        for name in files:
            path = os.path.join(folder, name)
            copy = os.path.join(root, os.path.relpath(path, source))
            kept.add(copy)
            with open(path, "rb") as file:
                new = file.read()
            if os.path.exists(copy):
                with open(copy, "rb") as file:
                    if file.read() == new:
                        continue
            os.makedirs(os.path.dirname(copy), exist_ok=True)
            with open(copy, "wb") as file:
                file.write(new)
            shutil.copymode(path, copy)
    for folder, _, files in os.walk(root):
        for name in files:
            if os.path.join(folder, name) not in kept:
                os.remove(os.path.join(folder, name))


# ---- building and testing ------------------------------------------------------------------------

class Room:
    """A copy of the sources beside the results, and its build."""

    def __init__(self, source, folder):
        self.root, self.build = os.path.join(folder, "copy"), os.path.join(folder, "build")
        refresh(source, self.root)
        fast = ["-DCMAKE_C_COMPILER_LAUNCHER=ccache"] if shutil.which("ccache") else []
        subprocess.run(["cmake", "-S", self.root, "-B", self.build, "-G", "Ninja",
                        "-DCMAKE_BUILD_TYPE=RelWithDebInfo"] + fast, check=True,
                       capture_output=True)

    def make(self, tests):
        """Builds what these tests need."""
        targets = {"figures_dump" if t in SCRIPTS else t if t.startswith("test_") else "hubphase"
                   for t in tests}
        done = subprocess.run(["cmake", "--build", self.build, "-j", "2", "--target"] +
                              sorted(targets), capture_output=True, text=True)
        if done.returncode:
            raise SystemExit("it does not build:\n" + done.stdout[-3000:])

    def command(self, test):
        program = os.path.join(self.build, "hubphase")
        if test in SCRIPTS:
            script, *rest = SCRIPTS[test]
            return [sys.executable, "-B", os.path.join(self.root, "tests/validation", script),
                    os.path.join(self.build, "tests/validation/figures_dump"),
                    os.path.join(self.build, "validation")] + rest
        if test.startswith("cli_"):
            return ["bash", os.path.join(self.root, "tests/run_cli.sh"), program, self.root,
                    test[4:]]
        return [os.path.join(self.build, "tests", test)]

    def run(self, test):
        """Whether a test passes, and what it printed."""
        try:
            done = subprocess.run(self.command(test), cwd=os.path.join(self.build, "tests"),
                                  stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                                  errors="replace", timeout=SECONDS, stdin=subprocess.DEVNULL,
                                  env=dict(os.environ, HP_PROPERTY_MOTORS="30"))
            return done.returncode in (0, 77), done.stdout
        except subprocess.TimeoutExpired:
            return False, "no end after %d s" % SECONDS


def failing(room, tests, every, loud=False):
    """Names of the tests that fail, or of the first that does; loud: says what they printed."""
    names = []
    if every:
        room.make(tests)
    for test in tests:
        if not every:
            room.make([test])
        good, printed = room.run(test)
        if good:
            continue
        names.append(test)
        if loud:
            print("%s fails:\n%s" % (test, printed[-2000:]), flush=True)
        if not every:
            break
    return names


# ---- the list ------------------------------------------------------------------------------------

def tests_of(plan, mutation):
    first = list(mutation[4]) if len(mutation) > 4 else []
    return first + [t for t in plan.TESTS if t not in first]


def one(plan, room, number):
    """Breaks one thing, tests, mends it again; a row of the table."""
    mutation = plan.MUTATIONS[number - 1]
    path, text, new = broken(plan, room.root, mutation)
    put(path, new)
    try:
        caught = failing(room, tests_of(plan, mutation), plan.EVERY_TEST)
    finally:
        put(path, text)
    print("%2d %s (%s): %s" % (number, mutation[0], mutation[1], ", ".join(caught) or "NOT CAUGHT"),
          flush=True)
    return [number, mutation[0], mutation[1], ", ".join(caught) or NOTHING]


def run(plan, source, folder, numbers):
    for mutation in plan.MUTATIONS:  # before the long wait
        broken(plan, source, mutation)
    room = Room(source, os.path.join(folder, "sabotage"))
    chosen = [int(n) for n in numbers] or range(1, len(plan.MUTATIONS) + 1)
    print("unbroken", flush=True)
    needed = plan.TESTS if not numbers else sorted(
        {t for n in chosen for t in tests_of(plan, plan.MUTATIONS[n - 1])})
    room.make(needed)
    bad = [t for t in needed if not room.run(t)[0]]
    if bad:
        raise SystemExit("the unbroken copy fails: " + ", ".join(bad))
    rows = [one(plan, room, number) for number in chosen]
    if not numbers:
        record(plan, folder, rows)
    return 0 if all(row[3] != NOTHING for row in rows) else 1


COLUMNS = ["no.", "broken", "in", "caught by"]
NOTHING = "**nothing**"


def record(plan, folder, rows):
    caught = sum(row[3] != NOTHING for row in rows)
    out = results.Results(folder, plan.SECTION)
    out.sources()
    out.note("Tried with: %s. %s" % (", ".join(plan.TESTS), plan.NOTE))
    out.same("mutations caught", caught, len(rows), "tests/sabotage.sh", "run", "every one")
    out.table("Each mutation and what caught it:", COLUMNS, rows)
    out.finish()
    with open(os.path.join(folder, plan.SECTION + ".md"), "w") as file:
        file.write("%d mutations, %d caught. %s\n\n" % (len(rows), caught, plan.NOTE))
        file.write("\n".join(results.markdown(COLUMNS, rows)) + "\n")


def listed(document):
    """Rows of the document's table of mutations."""
    with open(document) as file:
        lines = [[cell.strip() for cell in line.split("|")[1:-1]] for line in file]
    first = lines.index(COLUMNS) + 2 if COLUMNS in lines else len(lines)
    rows = []
    while first < len(lines) and len(lines[first]) == len(COLUMNS):
        rows.append(lines[first])
        first += 1
    return rows


def check(plan, source, document):
    """Without building anything."""
    expected = [[str(k + 1), m[0], m[1]] for k, m in enumerate(plan.MUTATIONS)]
    for mutation in plan.MUTATIONS:
        broken(plan, source, mutation)
    rows = listed(document)
    found = [[row[0], row[1], os.path.basename(row[2])] for row in rows]
    for row in expected + found:
        if (row in expected) != (row in found):
            print("only in the %s: %s" % ("list" if row in expected else document, " | ".join(row)))
    uncaught = [row[1] for row in rows if row[3] == NOTHING]
    print("%d mutations have their places; %s lists %d, %d of them caught by nothing" % (
        len(expected), document, len(found), len(uncaught)))
    return 1 if uncaught or found != expected else 0


def main(source, name, folder, *rest):
    plan = importlib.import_module(name)
    if folder == "check":
        return check(plan, source, *rest)
    return run(plan, source, folder, rest)


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
