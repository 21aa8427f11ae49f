"""Machine-readable results: one JSON object a line, from which docs/validation.md is written.

A row compares one value with one reference. A table is for the many numbers of one comparison,
whose worst ones stand as rows beside it. A note says which tool and version a section was taken
with.

Status of a reference: run (the outside program ran here), read, second-hand, memory, derived,
common practice; as in the lists of sources.
"""
import glob
import hashlib
import json
import math
import os
import subprocess

ROOT = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))


BASE = ("random", "rank", "result")  # what figures depend on; texts and files they do not


def figure_sources():
    """Files that a simulation's figures and verdicts depend on, by name: a move changes nothing."""
    found = [path for layer in ("model", "sim", "base") for top in ("include/hubphase/", "src/")
             for path in glob.glob(os.path.join(ROOT, top + layer, "*.[ch]"))
             if layer != "base" or os.path.splitext(os.path.basename(path))[0] in BASE]
    found.append(os.path.join(ROOT, "src/decide/judge/verdict.c"))
    return sorted(found, key=os.path.basename)


def sources_hash():
    """Of everything that figures and verdicts depend on, but for where headers stand."""
    total = hashlib.sha256()
    for path in figure_sources():
        with open(path, "rb") as source:
            total.update(b"".join(line for line in source if not line.startswith(b"#include")))
    return total.hexdigest()[:12]


class Results:
    def __init__(self, folder, section):
        os.makedirs(folder, exist_ok=True)
        self.path = os.path.join(folder, section + ".jsonl")
        self.file = open(self.path, "w")
        self.failures = self.count = 0

    def _put(self, entry):
        self.file.write(json.dumps(entry) + "\n")

    def note(self, text):
        self._put({"kind": "note", "text": text})

    def sources(self):
        """Notes which sources the section was taken with, so that an old result shows."""
        self._put({"kind": "sources", "hash": sources_hash()})

    def row(self, name, value, reference, tolerance, reason, source, status, unit="", strict=True):
        """strict=False: the difference is shown but does not fail; the reason must explain it."""
        value, reference, tolerance = float(value), float(reference), float(tolerance)
        good = abs(value - reference) <= tolerance  # false for NaN
        if not good and strict:
            self.failures += 1
            print("FAILED %s: %.9g %s, reference %.9g, difference %.3g, tolerance %.3g (%s)" % (
                name, value, unit, reference, value - reference, tolerance, reason))
        self.count += 1
        self._put({"kind": "row", "name": name, "value": value, "reference": reference,
                   "tolerance": tolerance, "unit": unit, "reason": reason, "source": source,
                   "status": status, "ok": good})

    def same(self, name, value, reference, source, status, reason="exact"):
        """Text or whole numbers that must be equal."""
        good = value == reference
        if not good:
            self.failures += 1
            print("FAILED %s: %s, reference %s" % (name, value, reference))
        self.count += 1
        self._put({"kind": "row", "name": name, "value": str(value), "reference": str(reference),
                   "tolerance": 0, "unit": "", "reason": reason, "source": source,
                   "status": status, "ok": good})

    def table(self, title, columns, rows):
        self._put({"kind": "table", "title": title, "columns": columns, "rows": rows})

    def finish(self):
        self.file.close()
        print("%d comparisons, %d failed; %s" % (self.count, self.failures, self.path))
        return 1 if self.failures or not self.count else 0


def dump(program, *case, **arguments):
    """Parameters and figures from the C library."""
    words = [program, *case] + ["%s=%s" % item for item in arguments.items()]
    return json.loads(subprocess.check_output(words))


def dump_machine(program, scenario, cache, **arguments):
    """The same of a scenario, with what the advice says of its first power."""
    return dump(program, "machine", scenario, cache, **arguments)


def judge(program, runs):
    """The library's verdict on figures, wherever they come from; one run a wiring."""
    text = json.dumps({"runs": [{"figures": f} for f in runs]})
    return json.loads(subprocess.run([program, "judge"], input=text, text=True, check=True,
                                     capture_output=True).stdout)


def verdict_word(judged):
    """rough early, rough late, rough, correct, ..."""
    return (judged["verdict"] + " " + judged["kind"]).strip()


def cell(text):
    return str(text).replace("|", "\\|")


def markdown(columns, rows):
    return ["| %s |" % " | ".join(columns), "|" + "---|" * len(columns)] + [
        "| %s |" % " | ".join(cell(c) for c in row) for row in rows]


def wrapped(x):
    return (x + math.pi) % (2 * math.pi) - math.pi
