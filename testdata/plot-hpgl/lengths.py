"""Print the length of all lines in each of the DXF files, as a JSON list."""
import json
import sys

import ezdxf

lengths = []
for name in sys.argv[1:]:
    lines = ezdxf.readfile(name).modelspace().query("LINE")
    lengths.append(sum((line.dxf.end - line.dxf.start).magnitude for line in lines))
print(json.dumps(lengths))
