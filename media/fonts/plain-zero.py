"""Owns making the plain zero: the zero of Atkinson Hyperlegible Next without its slash.

The typeface has no plain zero to switch to. This takes the one glyph out of the variable
font and puts an open counter in place of the two halves beside the slash, from their upper
right quarter, in every weight. Run once; the font beside it is what is used.

    pip install fonttools==4.66.1 brotli==1.2.0
    python3 media/fonts/plain-zero.py

The typeface is under the SIL Open Font License 1.1 (LICENSE beside this file), which wants
the altered font under the same licence; it has no reserved name.
"""
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables._g_l_y_f import GlyphCoordinates
from fontTools.varLib.iup import iup_delta

here = Path(__file__).parent
files = here.parent.parent / "node_modules/@fontsource-variable/atkinson-hyperlegible-next/files"
font = TTFont(files / "atkinson-hyperlegible-next-latin-wght-normal.woff2")

options = subset.Options()
options.layout_features = ["tnum", "pnum"]
options.name_IDs = [0, 1, 2, 3, 4, 5, 6, 13, 14]
subsetter = subset.Subsetter(options)
subsetter.populate(unicodes=[0x30])
subsetter.subset(font)

glyph = font["glyf"]["zero"]
points, ends, flags = glyph.getCoordinates(font["glyf"])
OUTER = ends[0] + 1
on = [i for i in range(ends[1] + 1, ends[2] + 1) if flags[i] & 1]
right, top = on[2], on[3]  # after the two corners of the slash
assert points[right][0] == max(points[i][0] for i in range(ends[1] + 1, ends[2] + 1)), "the glyph is not the one that this was made for"


def counter(at):
    """The open counter from one quarter, mirrored about its middle. Linear, so that it holds for deltas too."""
    (cx, _), (_, cy) = at[top], at[right]
    quarter = [at[i] for i in range(right, top)]
    across = [(2 * cx - x, y) for x, y in quarter]
    ring = quarter + [at[top]] + across[:0:-1] + [across[0]]
    ring += [(2 * cx - x, 2 * cy - y) for x, y in quarter[1:]] + [(at[top][0], 2 * cy - at[top][1])]
    return ring + [(x, 2 * cy - y) for x, y in quarter[:0:-1]]


new_flags = [1] + [0] * (top - right - 1)
ring_flags = new_flags + [1] + new_flags[:0:-1] + [1] + new_flags[1:] + [1] + new_flags[:0:-1]
dense = list(points)
phantoms = len(dense)
coordinates = dense[:OUTER] + counter(dense)
for variation in font["gvar"].variations["zero"]:
    deltas = variation.coordinates
    inked = iup_delta(deltas, [*dense, *[(0, 0)] * 4], ends)
    variation.coordinates = [*inked[:OUTER], *counter(inked), *deltas[phantoms:]]
glyph.coordinates = GlyphCoordinates([(round(x), round(y)) for x, y in coordinates])
glyph.flags = bytearray([*flags[:OUTER], *ring_flags])
glyph.endPtsOfContours = [OUTER - 1, len(coordinates) - 1]
glyph.numberOfContours = 2
glyph.program.fromBytecode(b"")
glyph.recalcBounds(font["glyf"])

for record in font["name"].names:
    if record.nameID in (1, 3, 4, 6):
        record.string = "HallclockZero" if record.nameID == 6 else "Hallclock Zero"
font.flavor = "woff2"
font.save(here / "plain-zero.woff2")
