"""Lines and branches that the tests ran, by layer, from what `llvm-cov export -summary-only` writes.

    coverage_sum.py EXPORT.json [FILES]     FILES: how many of the sources with the most branches not taken to name
"""
import json
import re
import sys

LAYERS = ("base", "model", "sim", "decide", "record", "report")

data = json.load(open(sys.argv[1]))["data"][0]
named = int(sys.argv[2]) if len(sys.argv) > 2 else 0
sums = {layer: {"lines": [0, 0], "branches": [0, 0]} for layer in LAYERS}
missed = []
for file in data["files"]:
    place = re.search(r"/src/((\w+)/.*\.c)$", file["filename"])
    if not place or place.group(2) not in sums:
        continue
    for what, (covered, count) in sums[place.group(2)].items():
        summary = file["summary"][what]
        sums[place.group(2)][what] = [covered + summary["covered"], count + summary["count"]]
    branches = file["summary"]["branches"]
    missed.append((branches["count"] - branches["covered"], branches["count"], place.group(1)))


def share(pair):
    return "%6d of %6d %5.1f %%" % (pair[0], pair[1], 100 * pair[0] / max(1, pair[1]))


total = {what: [sum(sums[layer][what][k] for layer in LAYERS) for k in (0, 1)] for what in ("lines", "branches")}
for name, sum_ in list(sums.items()) + [("all", total)]:
    print("%-7s lines %s   branches %s" % (name, share(sum_["lines"]), share(sum_["branches"])))
for count, of, name in sorted(missed, reverse=True)[:named]:
    print("%5d of %4d branches not taken: src/%s" % (count, of, name))
