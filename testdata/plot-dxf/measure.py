"""Print what ezdxf finds in each of the DXF files, as a JSON list.

errors    what its audit could not mend
fixes     what it could
layers    for each layer of model space, or with blocks of each block: the
          length of its lines, their box, and how many entities of each kind
texts     for each layer the texts, as shown
notches   the POINTs on layer 4: x, y, depth, width, angle
"""
import json
import math
import sys

import ezdxf
import ezdxf.bbox


def length(entity):
    kind = entity.dxftype()
    if kind == "LINE":
        return (entity.dxf.end - entity.dxf.start).magnitude
    if kind == "ARC":
        sweep = (entity.dxf.end_angle - entity.dxf.start_angle) % 360
        return entity.dxf.radius * math.radians(sweep)
    return sum(length(part) for part in entity.virtual_entities())


def measure(entities):
    layers, texts, notches = {}, {}, []
    for entity in entities:
        kind, layer = entity.dxftype(), entity.dxf.layer
        if kind == "INSERT":
            continue
        if kind == "TEXT":
            texts.setdefault(layer, []).append(entity.plain_text())
            continue
        found = layers.setdefault(layer, {"length": 0.0, "kinds": {}, "entities": []})
        found["kinds"][kind] = found["kinds"].get(kind, 0) + 1
        found["entities"].append(entity)
        if kind == "POINT":
            if layer == "4":
                at = entity.dxf.location
                notches.append([at.x, at.y, at.z, entity.dxf.thickness, entity.dxf.angle])
            continue
        found["length"] += length(entity)
    for found in layers.values():
        box = ezdxf.bbox.extents(found.pop("entities"), flatten=1e-5)
        found["box"] = [box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y]
    return {"layers": layers, "texts": texts, "notches": notches}


def read(name):
    doc = ezdxf.readfile(name)
    result = measure(doc.modelspace())
    audit = doc.audit()
    result["errors"] = [e.message for e in audit.errors]
    result["fixes"] = [f.message for f in audit.fixes]
    result["version"] = doc.dxfversion
    result["units"] = doc.header.get("$INSUNITS", 0)
    result["inserts"] = [insert.dxf.name for insert in doc.modelspace().query("INSERT")]
    result["blocks"] = {
        block.name: measure(block) for block in doc.blocks if not block.name.startswith(("*", "$"))
    }
    return result


print(json.dumps([read(name) for name in sys.argv[1:]]))
