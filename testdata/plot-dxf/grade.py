"""Print, as JSON, the outlines of a graded file in every size.

    python3 grade.py FILE.dxf FILE.rul

The file is read by ezdxf and graded here, by numpy's interpolation along the
closed polyline on layer 1 between the points that texts "# n" are at.
"""
import json
import sys

import ezdxf
import numpy as np

lines = [line.strip() for line in open(sys.argv[2])]
head = dict(line.split(": ", 1) for line in lines if ": " in line and not line.startswith("RULE"))
sizes = head["SIZE LIST"].split()
rules, rule = {}, None
for line in lines:
    if line.startswith("RULE: DELTA "):
        rule = rules.setdefault(line.split()[2], [])
    elif rule is not None and "," in line:
        rule.append([float(x) for x in line.split(",")])

doc = ezdxf.readfile(sys.argv[1])
out = {size: {} for size in sizes}
for insert in doc.modelspace().query("INSERT"):
    block = doc.blocks[insert.dxf.name]
    outline = next(e for e in block.query("POLYLINE") if e.dxf.layer == "1")
    points = np.array([(v.dxf.location.x, v.dxf.location.y) for v in outline.vertices])
    steps = np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1)
    along, length = np.concatenate([[0], np.cumsum(steps)[:-1]]), steps.sum()
    tags = {}
    for text in block.query("TEXT"):
        if text.dxf.text.startswith("# "):
            off = np.linalg.norm(points - np.array([text.dxf.insert.x, text.dxf.insert.y]), axis=1)
            if off.min() < 0.001:
                tags[int(off.argmin())] = rules[text.dxf.text[2:]]
    for k, size in enumerate(sizes):
        moved = points
        if tags:
            known = sorted(tags)
            at = [along[i] + round * length for round in (-1, 0, 1) for i in known]
            way = [tags[i][k] for i in known] * 3
            moved = points + np.stack([np.interp(along, at, [w[c] for w in way]) for c in (0, 1)], axis=1)
        out[size][insert.dxf.name] = moved.tolist()
json.dump(out, sys.stdout)
