"""Holds the SVG that the pen writes itself against what PLplot draws of the same picture.

    two_pens.py PROGRAM PNG_DIFFERENCE FOLDER

PROGRAM (draw_two_pens.c) draws each picture with both into FOLDER. Then, in the order in which they
are drawn: the same texts at the same places, the same areas with the same corners, the same lines,
each in the same colour. And where rsvg-convert is there, the SVG as a picture of points against the
PNG that Cairo draws for PLplot. At the end the SVG is changed on purpose, and the comparison must see it.
"""
import glob
import math
import os
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree

import numpy
from scipy.spatial import KDTree

# [units] PLplot counts places in steps of its own: a page is 32767 of them high or wide.
PLACE = 0.25
TEXT_PLACE = 0.5
# [units] A curve of ours may be off by 0.05, and both are rounded to hundredths.
LINE_PLACE = 0.3
STEP = 0.5  # [units] between the samples of a line


class Mark:
    """What is drawn without a change of look: kind "text", "area" or "line"."""

    def __init__(self, kind, look):
        self.kind, self.look = kind, look
        self.text, self.place, self.points, self.dash = "", None, [], None

    def named(self):
        where = self.place if self.kind == "text" else self.points[0][0] if self.points else None
        return f"{self.kind} {self.look} {self.text!r} at {where}"


def tag(element):
    return element.tag.split("}")[-1]


def add_line(marks, look, points, dash=None):
    """Lines that follow one another and look alike are one mark: who draws may part or join them."""
    last = marks[-1] if marks else None
    if not last or last.kind != "line" or last.look != look or last.dash != dash:
        marks.append(Mark("line", look))
        marks[-1].dash = dash
    marks[-1].points.append(numpy.array(points))


def add_area(marks, look, points):
    marks.append(Mark("area", look))
    marks[-1].points.append(numpy.array(points))


# ---- PLplot ---------------------------------------------------------------------------------------

def read_plplot(file):
    root = ElementTree.parse(file).getroot()
    height = float(root.get("height").rstrip("pt"))
    marks = []
    for element in root.iter():
        if tag(element) == "text":
            span = element.find("{*}tspan")
            m = [float(v) for v in re.findall(r"[-\d.]+", element.get("transform"))]
            mark = Mark("text", element.get("fill"))
            mark.text = "".join(span.itertext())
            mark.place = (m[4], height - m[5] + float(element.get("y")))
            mark.more = (element.get("text-anchor"), span.get("font-weight"), span.get("font-family"))
            mark.size = float(element.get("font-size"))
            marks.append(mark)
        elif tag(element) in ("polyline", "polygon"):
            pairs = [tuple(float(v) for v in p.split(",")) for p in element.get("points").split()]
            points = [(x, height - y) for x, y in pairs]
            if element.get("fill") != "none":
                add_area(marks, element.get("fill"), points)
            else:
                width = round(float(element.get("stroke-width")), 2)
                add_line(marks, (element.get("stroke"), width), points)
    return marks


# ---- ours -----------------------------------------------------------------------------------------

def path_lines(d):
    """The lines of a path of M, l and z."""
    lines = []
    for start, steps in re.findall(r"M([-\d. ]+)(?:l([-\d. ]+))?", d):
        x, y = (float(v) for v in start.split())
        points = [(x, y)]
        numbers = [float(v) for v in (steps or "").split()]
        for dx, dy in zip(numbers[::2], numbers[1::2]):
            x, y = x + dx, y + dy
            points.append((x, y))
        lines.append(points)
    return lines


def read_ours(file):
    root = ElementTree.parse(file).getroot()
    marks = []
    for element in root:
        if tag(element) == "text":
            mark = Mark("text", element.get("fill"))
            mark.text = "".join(element.itertext())
            mark.place = (float(element.get("x")), float(element.get("y")))
            mark.more = (element.get("text-anchor", "start"), element.get("font-weight", "normal"),
                         root.get("font-family"))
            mark.size = float(element.get("font-size"))
            marks.append(mark)
        elif tag(element) == "path":
            lines = path_lines(element.get("d"))
            if element.get("fill") != "none":
                assert len(lines) == 1 and element.get("d").endswith("z")
                add_area(marks, element.get("fill"), lines[0])
                continue
            look = (element.get("stroke"), round(float(element.get("stroke-width")), 2))
            dash = element.get("stroke-dasharray")
            for line in lines:
                add_line(marks, look, line, dash)
        else:
            assert tag(element) in ("title", "rect"), tag(element)
    return marks


# ---- comparison -----------------------------------------------------------------------------------

def fold(marks):
    """PLplot draws dashes as lines, so that it has no dash, and areas of nothing not at all."""
    folded = []
    for mark in marks:
        last = folded[-1] if folded else None
        if mark.kind == "line" and last and last.kind == "line" and last.look == mark.look:
            last.points += mark.points
            last.dashes.append((mark.dash, mark.points))
            continue
        mark.dashes = [(mark.dash, list(mark.points))]
        folded.append(mark)
    return folded


def samples(points):
    """Places along lines, every STEP at most, their ends among them."""
    out = []
    for line in points:
        if len(line) == 1:
            out.append(line)
        for a, b in zip(line[:-1], line[1:]):
            count = int(math.hypot(*(b - a)) / STEP) + 2
            out.append(a + (b - a) * numpy.linspace(0.0, 1.0, count)[:, None])
    return numpy.vstack(out) if out else numpy.zeros((0, 2))


def length(points):
    return sum(float(numpy.hypot(*numpy.diff(line, axis=0).T).sum()) for line in points if len(line) > 1)


def strays(places, others, reach):
    """Those of the places that have none of the others within reach."""
    places = numpy.asarray(places)
    if len(others) == 0:
        return places.tolist()
    far, _ = KDTree(others).query(places, distance_upper_bound=reach)
    return numpy.round(places[~(far <= reach)], 2).tolist()


def compare_text(theirs, ours):
    if theirs.text != ours.text or theirs.more != ours.more:
        return f"{theirs.text!r} {theirs.more} is {ours.text!r} {ours.more}"
    if math.floor(ours.size + 0.2) != theirs.size:  # PLplot drops the fraction
        return f"{ours.text!r} has letters of {ours.size}, not {theirs.size}"
    off = max(abs(a - b) for a, b in zip(theirs.place, ours.place))
    return f"{ours.text!r} is off by {off:.2f}" if off > TEXT_PLACE else None


def compare_area(theirs, ours):
    a, b = theirs.points[0], ours.points[0]
    lost = strays(a, b, PLACE) + strays(b, a, PLACE)
    return f"area {ours.look}: corners {lost[:4]} have none beside them" if lost else None


def apart(lines):
    """Number of lines, those that go on where the one before ended taken as one: PLplot begins a new line
    at each point of a curve, within a dash, too."""
    return sum(k == 0 or math.dist(lines[k - 1][-1], line[0]) > PLACE for k, line in enumerate(lines))


def compare_lines(theirs, ours):
    dashed = any(dash for dash, _ in ours.dashes)
    them, us = samples(theirs.points), samples(ours.points)
    lost = strays(them, us, LINE_PLACE + STEP / 2)
    if lost:
        return f"line {ours.look}: lacks {len(lost)} of {len(them)} places, {lost[:4]}"
    # Between dashes of PLplot's there is nothing for as long as a space, and half a round end.
    spaces = [max(float(v) for v in dash.split()[1::2]) if dash else 0.0 for dash, _ in ours.dashes]
    more = strays(us, them, LINE_PLACE + STEP / 2 + max(spaces))
    if more:
        return f"line {ours.look}: has {len(more)} of {len(us)} places more, {more[:4]}"
    # Along straight lines PLplot's dashes can be counted.
    if dashed and all(dash and len(line) == 2 for dash, lines in ours.dashes for line in lines):
        pieces = sum(length(lines) / sum(map(float, dash.split())) * len(dash.split()) / 2
                     for dash, lines in ours.dashes)
        drawn = apart(theirs.points)
        if abs(pieces - drawn) > 0.06 * pieces + len(ours.points):
            return f"line {ours.look}: {pieces:.1f} dashes, not {drawn}"
    wanted = 0.0
    for dash, points in ours.dashes:
        steps = [float(v) for v in dash.split()] if dash else []
        share = sum(steps[::2]) / sum(steps) if steps else 1.0
        wanted += length(points) * share
    there = length(theirs.points)
    slack = 0.15 if dashed else 0.01
    if abs(wanted - there) > slack * there + 1.0:
        return f"line {ours.look}: {wanted:.1f} units long, not {there:.1f}"
    return None


COMPARE = {"text": compare_text, "area": compare_area, "line": compare_lines}


def compare(theirs, ours):
    """The first difference between folded marks in words, or None."""
    for them, us in zip(theirs, ours):
        if (them.kind, them.look) != (us.kind, us.look):
            return f"{them.named()} is {us.named()}"
        difference = COMPARE[them.kind](them, us)
        if difference:
            return difference
    if len(theirs) != len(ours):
        rest = (theirs + ours)[min(len(theirs), len(ours))]
        return f"{len(theirs)} marks are {len(ours)}, {rest.named()}"
    return None


# ---- points of a screen ---------------------------------------------------------------------------

# Share of the fields of 16 x 16 units whose grey differs by more than 1/8. Letters of PLplot's PNG are one
# hundredth larger; chosen, three times what there is.
FIELDS = 0.02


def compare_points(png_difference, svg):
    drawn = svg[:-4] + ".rsvg.png"
    subprocess.run(["rsvg-convert", "-z", "2", "-o", drawn, svg], check=True)
    said = subprocess.run([png_difference, svg[:-4] + ".png", drawn], check=True, capture_output=True, text=True)
    return float(said.stdout)


# ---- changes on purpose ---------------------------------------------------------------------------

def moved(match):
    return f'{match[1]}{float(match[2]) + 2.0:.2f}'


# What, how often it is in a picture at least, and what is put in its place.
CHANGES = [
    ("a text moved across", r'(<text x=")([\d.]+)', moved),
    ("a text moved down", r'(<text x="[\d.]+" y=")([\d.]+)', moved),
    ("a text smaller", r'(font-size=")([\d.]+)(?=" fill)', lambda m: f'{m[1]}{float(m[2]) - 2.0:.2f}'),
    ("a text bold", r'(font-size="[\d.]+")( fill)', r'\1 font-weight="bold"\2'),
    ("another word", r'(">)[^<\n]+(</text>)', r"\1other\2"),
    ("a text less", r"<text [^\n]*\n", ""),
    ("an area moved", r'(<path fill="#[^\n]*? d="M)([\d.]+)', moved),
    ("a corner moved", r'(<path fill="#[^\n]*? d="M[\d.]+ [\d.]+l)(-?[\d.]+)', moved),
    ("an area less", r'<path fill="#[^\n]*\n', ""),
    ("an area in another colour", r'(<path fill=")#......', r"\1#123456"),
    ("a line moved", r'(<path fill="none"[^\n]*? d="M)([\d.]+)', moved),
    ("a line longer", r'(<path fill="none"[^\n]*? d="M[\d.]+ [\d.]+l)(-?[\d.]+)', moved),
    ("a line less", r'<path fill="none"[^\n]*\n', ""),
    ("a part of a line less", r'M[\d.]+ [\d.]+l[-\d. ]+(?=M)', ""),
    ("a line in another colour", r'(stroke=")#......', r"\1#123456"),
    ("a line wider", r'(stroke-width=")[\d.]+', r"\g<1>9"),
    ("a dash less", r' stroke-dasharray="[^"]*"', ""),
    ("longer dashes", r'(stroke-dasharray=")[\d.]+', r"\g<1>20"),
    ("an area later", r'(<path fill="#[^\n]*\n)(<text[^\n]*\n)', r"\2\1"),
]


def changes_unseen(files, folder):
    """Each change at two places in four pictures that have one; those that the comparison lets pass."""
    unseen = []
    texts = {file: open(file, encoding="utf-8").read() for file in files}
    theirs = {file: fold(read_plplot(file[:-4] + ".plplot.svg")) for file in files}
    for turn, (what, pattern, instead) in enumerate(CHANGES):
        tried = 0
        for file in files[turn % len(files):] + files[:turn % len(files)]:
            text = texts[file]
            found = [m for m in re.finditer(pattern, text)] if tried < 8 else []
            for match in found[1:: max(2, len(found) // 2)][:2]:
                changed = os.path.join(folder, "changed.svg")
                with open(changed, "w", encoding="utf-8") as out:
                    out.write(text[:match.start()] + match.expand(instead) + text[match.end():]
                              if isinstance(instead, str)
                              else text[:match.start()] + instead(match) + text[match.end():])
                tried += 1
                if not compare(theirs[file], fold(read_ours(changed))):
                    unseen.append(f"{what} in {os.path.basename(file)}: {match[0][:60]!r}")
        if tried < 3:
            unseen.append(f"{what}: found {tried} times only")
    return unseen


def main(program, png_difference, folder):
    shutil.rmtree(folder, ignore_errors=True)
    os.makedirs(folder)
    subprocess.run([program, os.path.abspath(folder)], check=True, cwd=folder)
    files = sorted(f for f in glob.glob(os.path.join(folder, "*.svg")) if not f.endswith(".plplot.svg"))
    bad = []
    for file in files:
        difference = compare(fold(read_plplot(file[:-4] + ".plplot.svg")), fold(read_ours(file)))
        if difference:
            bad.append(f"{os.path.basename(file)}: {difference}")
    print(f"{len(files)} pictures compared")
    usual = [f for f in files if os.path.exists(f[:-4] + ".png")]
    if shutil.which("rsvg-convert"):
        shares = [(compare_points(png_difference, f), os.path.basename(f)) for f in usual]
        bad += [f"{name}: {share:.1%} of its fields differ from the PNG" for share, name in shares if share > FIELDS]
        print(f"{len(shares)} compared as points: {max(shares)[0]:.2%} of the fields differ at most, in {max(shares)[1]}")
    else:
        print("rsvg-convert is not there: points are not compared")
    bad += changes_unseen([f for f in usual if f.endswith("-a4.svg")], folder)
    print("\n".join(bad))
    if len(usual) < 30 or len(files) < 100:
        bad.append("too few")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
