"""Write graded.dxf, pattern data of one size with grade points, and graded.rul,
its rule table, with ezdxf, and graded.json with what every size must be: run by
hand in this directory.

    python3 graded.py

The style is invented: half a skirt front on the fold, and a band that does not
grade. The sizes are made here by the rules of ASTM D6673 as public notes have
them: a grade point moves by its rule, and the points between two grade points in
proportion to the way along the line, here with numpy's interpolation. Lines
without grade points move as the nearest place of the cut line, which is looked
for here at 200000 places all round.
"""
import json
import math

import ezdxf
import numpy as np

SIZES = ["34", "36", "38", "40", "44"]
SAMPLE = "38"
# The way of a point for each size, in mm.
RULES = {
    1: [(0, 0)] * 5,
    2: [(-11.25, 0.5), (-5.5, 0.25), (0, 0), (5.5, -0.25), (17.25, -0.75)],
    3: [(-12, -2), (-6, -1), (0, 0), (6, 1), (19.01, 3)],
    4: [(-14.5, 20), (-7.25, 10), (0, 0), (7.25, -10), (23.5, -30)],
    5: [(0, 20), (0, 10), (0, 0), (0, -10), (0, -30)],
    9: [(-5.5, 3), (-2.75, 1.5), (0, 0), (2.75, -1.5), (8.5, -5)],
}


def curve(a, b, rise, n):
    """Return n points between a and b on a parabola that rises to its left."""
    a, b = np.array(a, float), np.array(b, float)
    left = np.array([-(b - a)[1], (b - a)[0]]) / np.linalg.norm(b - a)
    ts = np.linspace(0, 1, n + 2)[1:-1]
    return [tuple(np.round(a + (b - a) * t + left * rise * 4 * t * (1 - t), 2)) for t in ts]


def panel(inset):
    """Return a closed line and the rules of its grade points by their index."""
    fold_hem, hem, hip, waist, fold_waist = (
        (0, inset * 3), (310 - inset, 12 + inset * 3), (270 - inset, 480), (205.5 - inset, 662 - inset), (0, 640.25 - inset))
    points, rules = [], {}
    for corner, rule, after in [
        (fold_hem, 5, curve(fold_hem, hem, -9, 23)),
        (hem, 4, []),
        (hip, 3, curve(hip, waist, -6.5, 14)),
        (waist, 2, curve(waist, fold_waist, 5, 9)),
        (fold_waist, 1, [(0, 400), (0, 120)]),
    ]:
        rules[len(points)] = rule
        points.append(corner)
        points += after
    return points, rules


CUT, CUT_RULES = panel(0)
SEW, SEW_RULES = panel(10)
side = np.array(CUT[24]) + (np.array(CUT[25]) - np.array(CUT[24])) * 0.375
side = tuple(np.round(side, 2))
# Layer, points, rules by index, closed.
FRONT = [
    ("1", CUT, CUT_RULES, True),
    ("14", SEW, SEW_RULES, True),
    ("6", [(0, 0), (0, 640.25)], {}, False),
    ("7", [(80, 150), (80, 450)], {}, False),
    ("8", [(120, CUT[45][1] + 0.5), (130, 540), (140, 650)], {0: 9, 2: 9}, False),  # a dart
    ("8", [(20, 300), (60, 330), (100, 300)], {0: 1, 2: 9}, False),
    ("8", [(230, 200), (250, 220), (260, 190)], {}, False),
    ("11", [(20, 200), (30, 200), (30, 212), (21, 212)], {}, True),
    ("5", [(0, 480), (270, 480)], {}, False),
    ("13", [(150, 520)], {0: 9}, False),
    ("13", [(40, 30)], {}, False),
]
NOTCHES = [  # layer, place, depth, width, angle
    ("4", side, 5, 3, 180),
    ("80", CUT[25], 6, 4, 175.5),
]
BAND = [("1", [(0, 0), (420, 0), (420, 60), (0, 60)], {}, True)]


def lengths(points, closed):
    p = np.array(points + points[:1] if closed else points, float)
    return np.concatenate([[0], np.cumsum(np.linalg.norm(np.diff(p, axis=0), axis=1))])


def moves_along(points, rules, closed, size, places):
    """Return how the places, distances along the line, move in the size."""
    s = lengths(points, closed)
    known = sorted(rules)
    at = [s[i] for i in known]
    way = [RULES[rules[i]][size] for i in known]
    if closed:  # once round to both sides
        at = [x - s[-1] for x in at] + at + [x + s[-1] for x in at]
        way = way * 3
    return np.stack([np.interp(places, at, [w[k] for w in way]) for k in (0, 1)], axis=1)


S = lengths(CUT, True)
PLACES = np.linspace(0, S[-1], 200001)
_closed = np.array(CUT + CUT[:1], float)
ROUND = np.stack([np.interp(PLACES, S, _closed[:, k]) for k in (0, 1)], axis=1)


def nearest(points):
    """Return the distance along the cut line of its place nearest to any of the points."""
    best = min((np.min(d), PLACES[np.argmin(d)]) for d in (np.linalg.norm(ROUND - np.array(q), axis=1) for q in points))
    return best


def graded(line, size):
    layer, points, rules, closed = line
    p = np.array(points, float)
    if rules:
        return p + moves_along(points, rules, closed, size, lengths(points, closed)[: len(points)])
    if layer in ("6", "5"):  # their ends are on the cut line
        ends = [nearest([q])[1] for q in points]
        return p + moves_along(CUT, CUT_RULES, True, size, ends)
    return p + moves_along(CUT, CUT_RULES, True, size, [nearest(points)[1]])


def write():
    doc = ezdxf.new("R12")
    msp = doc.modelspace()

    def text(to, s, at=(0, 0)):
        to.add_text(s, dxfattribs={"layer": "1", "height": 3, "insert": at})

    for name, lines, notches, quantity in [("FRONT", FRONT, NOTCHES, "1,0"), ("BAND", BAND, [], "1,1")]:
        block = doc.blocks.new(name)
        text(block, "Piece Name: " + name.capitalize(), (50, 60))
        text(block, "Quantity: " + quantity, (50, 55))
        text(block, "Material: linen", (50, 50))
        text(block, "Annotation: press flat", (50, 45))
        for layer, points, rules, closed in lines:
            if layer == "13":
                block.add_point(points[0], dxfattribs={"layer": layer})
            elif len(points) == 2:
                block.add_line(*points, dxfattribs={"layer": layer})
            else:
                block.add_polyline2d(points, close=closed, dxfattribs={"layer": layer})
            for i, rule in rules.items():
                text(block, f"# {rule}", points[i])
            if layer in ("1", "14"):
                for i, q in enumerate(points):
                    block.add_point(q, dxfattribs={"layer": "2" if i in rules else "3"})
        for layer, at, depth, width, angle in notches:
            block.add_point((*at, depth), dxfattribs={"layer": layer, "thickness": width, "angle": angle})
        block.add_text("centre front", dxfattribs={"layer": "15", "height": 5, "insert": (10, 300)})
        msp.add_blockref(name, (0, 0), dxfattribs={"layer": "1"})
    for s in ["ASTM/D13 Proposal 1 Version: D6673-10", "Style Name: Sedge skirt", "Author: bench;table;1", "Sample Size: " + SAMPLE,
              "Grade Rule Table: SEDGE", "Units: METRIC"]:
        text(msp, s, (0, -20))
    doc.saveas("graded.dxf")

    with open("graded.rul", "w", newline="\r\n") as f:
        print("ASTM/D13 Proposal 1 Version: D6673-10", "AUTHOR: bench;table;1", "CREATION DATE: 09-03-2026", "CREATION TIME: 14:05",
              "UNITS: METRIC", "GRADE RULE TABLE: SEDGE", f"NUMBER OF SIZES: {len(SIZES)}", "SIZE LIST: " + " ".join(SIZES),
              "SAMPLE SIZE: " + SAMPLE, sep="\n", file=f)
        for n, rule in RULES.items():
            print(f"RULE: DELTA {n}", *(f"{x:.2f},{y:.2f}" for x, y in rule), sep="\n", file=f)
        print("END", file=f)


def expect():
    sizes = {}
    for k, size in enumerate(SIZES):
        front = {}
        for line in FRONT:
            front.setdefault(line[0], []).append(graded(line, k).tolist())
        for layer, at, depth, width, angle in NOTCHES:
            at = np.array(at)
            front.setdefault("notches", []).append((at + moves_along(CUT, CUT_RULES, True, k, [nearest([at])[1]])[0]).tolist())
        sizes[size] = {"Front": front, "Band": {"1": [[list(q) for q in BAND[0][1]]]}}
    with open("graded.json", "w") as f:
        json.dump(sizes, f, indent=0)


write()
expect()
