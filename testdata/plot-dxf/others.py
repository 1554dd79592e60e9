"""Write the DXF files others-*.dxf with ezdxf, and others.json with what ezdxf
itself measures in them: run by hand in this directory.

    python3 others.py

Every file has the same drawing, a layer for each thing; a release has of it
what it can hold. The figures are in the file's units: for each layer the
length, the box and the area between its curves and the chords that close them,
all from fine chords of ezdxf's own curves (of scipy's where ezdxf guesses). Texts and layers that are not shown
are not measured.
"""
import json
import math

import ezdxf
import numpy
from ezdxf.math import Vec3
from ezdxf.enums import TextEntityAlignment as Align
from scipy.interpolate import CubicSpline

VERSIONS = {"R12": 4, "R2000": 1, "R2007": 5, "R2010": 4, "R2013": 4, "R2018": 14}  # and $INSUNITS
INTERLACED = [(0, 0), (4, 7), (9, -3), (14, 5), (20, 0), (26, 6)]


def draw(doc):
    """Draw everything, some 50 units across."""
    msp = doc.modelspace()
    new = doc.dxfversion > "AC1009"

    def on(layer, **attribs):
        if layer not in doc.layers:
            doc.layers.add(layer)
        return {"layer": layer, **attribs}

    msp.add_line((1, 2), (30, 17), dxfattribs=on("LINE"))
    msp.add_line((1, 2, 3), (3, 17, 30), dxfattribs=on("LINE in space"))
    msp.add_circle((10, 10), 7, dxfattribs=on("CIRCLE"))
    msp.add_arc((10, 10), 9, 350, 130, dxfattribs=on("ARC"))
    msp.add_arc((10, 10), 9, 20, 130, dxfattribs=on("ARC from below", extrusion=(0, 0, -1)))
    msp.add_point((5, 6), dxfattribs=on("POINT"))
    shape = [(0, 0, 0.3), (20, 0, 0), (20, 12, -0.5), (10, 15, 1), (0, 12, 0)]
    line = msp.add_polyline2d(shape, format="xyb", close=True, dxfattribs=on("POLYLINE"))
    line.dxf.flags |= 1
    msp.add_polyline2d(shape, format="xyb", dxfattribs=on("POLYLINE from below", extrusion=(0, 0, -1)))
    msp.add_polyline3d([(0, 0, 1), (10, 0, 5), (10, 10, 9)], dxfattribs=on("POLYLINE in space"))
    msp.add_text("Waist 5%%d", dxfattribs=on("TEXT", height=2.5, insert=(3, 4), rotation=30))
    msp.add_text("centred", dxfattribs=on("TEXT", height=2)).set_placement((8, 9), align=Align.MIDDLE_CENTER)
    msp.add_text("hidden", dxfattribs=on("frozen", height=2))
    msp.add_text("hidden", dxfattribs=on("off", height=2))
    doc.layers.get("frozen").freeze()
    doc.layers.get("off").off()

    part = doc.blocks.new("PART", base_point=(2, 1))
    part.add_line((0, 0), (5, 0), dxfattribs=on("0"))
    part.add_arc((0, 0), 5, 0, 90, dxfattribs=on("0"))
    part.add_polyline2d([(0, 0, 0.4), (0, 5, 0)], format="xyb", dxfattribs=on("0"))
    part.add_circle((1, 1), 0.5, dxfattribs=on("0"))
    part.add_attdef("SIZE", (1, 2), "38", dxfattribs=on("0", height=1))
    outer = doc.blocks.new("OUTER", base_point=(1, 1))
    outer.add_blockref("PART", (3, 4), dxfattribs=on("0", xscale=2, yscale=2, rotation=40))
    outer.add_blockref("PART", (9, 4), dxfattribs=on("0", xscale=1, yscale=-2, rotation=10))
    msp.add_blockref("PART", (20, 10), dxfattribs=on("INSERT"))
    msp.add_blockref("PART", (20, 10), dxfattribs=on("INSERT turned", xscale=1.5, yscale=1.5, rotation=75))
    msp.add_blockref("PART", (20, 10), dxfattribs=on("INSERT mirrored", xscale=-1, rotation=15))
    msp.add_blockref("PART", (20, 10), dxfattribs=on("INSERT stretched", xscale=3, yscale=1.25, rotation=25))
    msp.add_blockref("PART", (20, 10), dxfattribs=on("INSERT from below", xscale=1, yscale=2, rotation=25, extrusion=(0, 0, -1)))
    msp.add_blockref("OUTER", (20, 10), dxfattribs=on("INSERT nested", rotation=30))
    msp.add_blockref("OUTER", (20, 10), dxfattribs=on("INSERT nested and stretched", xscale=2, yscale=-0.5, rotation=30))
    msp.add_blockref("PART", (20, 10), dxfattribs=on(
        "INSERT in rows", rotation=20, column_count=3, row_count=2, column_spacing=8, row_spacing=9))
    given = msp.add_blockref("PART", (20, 10), dxfattribs=on("INSERT with text"))
    given.add_attrib("SIZE", "42", (25, 12), dxfattribs=on("INSERT with text", height=1.5))
    if not new:
        return
    msp.add_ellipse((10, 5), (8, 3), 0.4, dxfattribs=on("ELLIPSE"))
    msp.add_ellipse((10, 5), (8, 3), 0.4, 0.5, 4, dxfattribs=on("ELLIPSE part"))
    msp.add_ellipse((10, 5), (8, 3), 0.4, 5, 1, dxfattribs=on("ELLIPSE part through 0"))
    msp.add_ellipse((10, 5), (8, 3), 0.4, 0.5, 4, dxfattribs=on("ELLIPSE from below", extrusion=(0, 0, -1)))
    msp.add_lwpolyline(shape, format="xyb", close=True, dxfattribs=on("LWPOLYLINE"))
    msp.add_lwpolyline(shape, format="xyb", dxfattribs=on("LWPOLYLINE from below", extrusion=(0, 0, -1)))
    msp.add_open_spline(INTERLACED, degree=3, dxfattribs=on("SPLINE"))
    msp.add_open_spline(INTERLACED, degree=2, dxfattribs=on("SPLINE of degree 2"))
    msp.add_open_spline(INTERLACED, degree=5, dxfattribs=on("SPLINE of degree 5"))
    msp.add_open_spline(INTERLACED, degree=1, dxfattribs=on("SPLINE of degree 1"))
    msp.add_spline(dxfattribs=on("SPLINE closed")).set_closed(flat3(INTERLACED), degree=3)
    msp.add_spline(dxfattribs=on("SPLINE uniform")).set_uniform(flat3(INTERLACED), degree=3)
    msp.add_rational_spline(INTERLACED, [1, 3, 0.5, 2, 1, 1], degree=3, dxfattribs=on("SPLINE rational"))
    half = math.sqrt(0.5)
    ring = [(10, 0), (10, 10), (0, 10), (-10, 10), (-10, 0), (-10, -10), (0, -10), (10, -10), (10, 0)]
    msp.add_rational_spline(ring, [1, half] * 4 + [1], degree=2, dxfattribs=on("SPLINE circle"),
                            knots=[0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4])
    msp.add_open_spline([(0, 0), (4, 8), (8, 8), (12, 0), (14, 9), (18, 9), (22, 0)], degree=3,
                        knots=[0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2], dxfattribs=on("SPLINE with a corner"))
    msp.add_spline_control_frame(INTERLACED, dxfattribs=on("SPLINE through points"))
    long = [(i * 1.5, 4 * math.sin(1.7 * i) + (i % 5)) for i in range(24)]
    msp.add_open_spline(long, degree=3, dxfattribs=on("SPLINE of many spans"))
    msp.add_spline(INTERLACED, dxfattribs=on("SPLINE of fit points"))
    msp.add_spline(INTERLACED, dxfattribs=on(
        "SPLINE of fit points with tangents", start_tangent=(1, 0), end_tangent=(0, 3)))
    msp.add_spline(INTERLACED, dxfattribs=on("SPLINE closed through fit points")).closed = True
    msp.add_mtext("{\\fArial|b1;Front} 5%%d\\P\\H2x;on \\Lfold\\l, \\S1/2;", dxfattribs=on(
        "MTEXT", char_height=2, insert=(4, 30), attachment_point=1))
    hatch = msp.add_hatch(dxfattribs=on("LINE"))
    hatch.paths.add_polyline_path([(0, 0), (1, 0), (1, 1)])


def flat3(points):
    return [(x, y, 0) for x, y in points]


def parts(entity):
    """The entities that an INSERT draws, each with the matrices of the blocks
    around it from the inside out; others themselves."""
    if entity.dxftype() != "INSERT":
        yield entity, []
        return
    inserts = entity.multi_insert() if entity.mcount > 1 else [entity]
    for one in inserts:
        for part in one.block():
            if part.dxftype() != "ATTDEF":
                for inner, matrices in parts(part):
                    yield inner, matrices + [one.matrix44()]


def measure(doc, error):
    layers = {}
    for entity in doc.modelspace():
        found = layers.setdefault(entity.dxf.layer, {"length": 0.0, "area": 0.0, "points": []})
        for part, matrices in parts(entity):
            kind = part.dxftype()
            if kind in ("TEXT", "MTEXT", "ATTRIB", "HATCH"):
                continue
            points = flat(part, kind, error)
            for m in matrices:
                points = [m.transform(Vec3(p[0], p[1])) for p in points]
            points = [(p[0], p[1]) for p in points]
            found["length"] += sum(math.dist(a, b) for a, b in zip(points, points[1:]))
            found["area"] += abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))) / 2
            found["points"] += points
    for found in layers.values():
        points = found.pop("points")
        if points:
            found["box"] = [min(p[0] for p in points), min(p[1] for p in points),
                            max(p[0] for p in points), max(p[1] for p in points)]
    return {name: found for name, found in layers.items() if "box" in found}


def flat(entity, kind, error):
    if kind == "POINT":
        points = [entity.dxf.location]
    elif kind == "SPLINE" and entity.fit_point_count() and not entity.dxf.hasattr("start_tangent"):
        points = scipy_spline(entity)
    elif kind == "SPLINE":
        points = entity.construction_tool().flattening(error, segments=16)
    elif kind == "ELLIPSE":
        ellipse = entity.construction_tool()
        points = ellipse.vertices(ellipse.params(20000))
    elif kind in ("ARC", "CIRCLE"):
        points = entity.flattening(error)
    else:
        return flat_polyline(entity, error)
    return [(p[0], p[1]) for p in points]


def scipy_spline(entity):
    """A cubic spline through points, for which ezdxf guesses tangents: with
    natural ends, or periodic, over the chords' lengths."""
    points = [(p[0], p[1]) for p in entity.fit_points]
    if entity.closed:
        points.append(points[0])
    t = numpy.cumsum([0] + [math.dist(a, b) for a, b in zip(points, points[1:])])
    curve = CubicSpline(t, points, bc_type="periodic" if entity.closed else "natural")
    return curve(numpy.linspace(0, t[-1], 50001)).tolist()


def flat_polyline(entity, error):
    """Chords of a line or of the lines and arcs that ezdxf takes a polyline
    apart into."""
    flat = lambda points: [(p[0], p[1]) for p in points]
    if entity.dxftype() == "LINE":
        return flat([entity.dxf.start, entity.dxf.end])
    points = []
    for part in entity.virtual_entities():
        if part.dxftype() == "LINE":
            chords = flat([part.dxf.start, part.dxf.end])
        else:
            chords = flat(part.flattening(error))
        last = points[-1] if points else first_point(entity)
        if math.dist(last, chords[0]) > math.dist(last, chords[-1]):
            chords.reverse()
        points += chords
    return points


def first_point(entity):
    if entity.dxftype() == "POLYLINE" and entity.is_3d_polyline:
        p = entity.vertices[0].dxf.location
    elif entity.dxftype() == "POLYLINE":
        p = entity.ocs().to_wcs(entity.vertices[0].dxf.location)
    else:
        p = entity.ocs().to_wcs((*entity[0][:2], 0))
    return p[0], p[1]


figures = {}
for version, units in VERSIONS.items():
    doc = ezdxf.new(version)
    doc.header["$INSUNITS"] = units
    draw(doc)
    name = f"others-{version}.dxf"
    doc.saveas(name)
    back = ezdxf.readfile(name)
    figures[name] = {"layers": measure(back, 1e-5 if units == 4 else 1e-6), "units": units}
with open("others.json", "w") as f:
    json.dump(figures, f, indent=1, sort_keys=True)
    f.write("\n")
