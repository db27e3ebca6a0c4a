"""Makes the three embedded faces from the full fonts named in README.md.

Use: python3 subset.py FOLDER, where FOLDER holds the full fonts under the file names in FACES.
Needs fonttools and brotli. The same fonts and versions give the same bytes.
"""

import sys
from pathlib import Path

from fontTools import subset
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

SIGNS = (
    list(range(0x20, 0x7F))
    + list(range(0xA0, 0x180))
    + [0x292, 0x2010, 0x2011, 0x2012, 0x2013, 0x2014, 0x2018, 0x2019, 0x201A, 0x201C, 0x201D, 0x201E]
    + [0x2020, 0x2021, 0x2022, 0x2026, 0x2032, 0x2033, 0x2039, 0x203A, 0x2042, 0x2044, 0x204A]
    + [0x2108, 0x2114, 0x211E, 0x2125]
    + list(range(0x2150, 0x215F))
    + [0x2190, 0x2191, 0x2192, 0x2193, 0x2212, 0x2248, 0x261E, 0xFB00, 0xFB01, 0xFB02, 0xFB03, 0xFB04]
)
FEATURES = "kern mark mkmk ccmp locl liga calt onum lnum pnum tnum frac numr dnom sups smcp".split()
# Fraction signs put together from a font's own numerators and denominators where it has no sign.
FRACTIONS = {"⅓": "13", "⅔": "23", "⅕": "15", "⅖": "25", "⅗": "35", "⅘": "45", "⅙": "16", "⅚": "56",
             "⅛": "18", "⅜": "38", "⅝": "58", "⅞": "78"}
FACES = [
    ("JunicodeTwoBeta-Regular.otf", "text-regular.woff2", "Quartern Text"),
    ("JunicodeTwoBeta-Italic.otf", "text-italic.woff2", "Quartern Text"),
    ("alegreya-sans-latin-400-normal.woff2", "figures-regular.woff2", "Quartern Figures"),
    ("alegreya-sans-latin-700-normal.woff2", "figures-bold.woff2", "Quartern Figures"),
]


def single(font, feature):
    """Returns what a feature puts for each glyph, one for one."""
    table, found = font["GSUB"].table, {}
    for record in table.FeatureList.FeatureRecord:
        if record.FeatureTag == feature:
            for index in record.Feature.LookupListIndex:
                for lookup in table.LookupList.Lookup[index].SubTable:
                    lookup = getattr(lookup, "ExtSubTable", lookup)
                    found.update(getattr(lookup, "mapping", {}))
    return found


def add_fractions(font):
    """Adds the signs of FRACTIONS that are missing, for fonts with TrueType outlines."""
    cmap = font.getBestCmap()
    missing = [sign for sign in FRACTIONS if ord(sign) not in cmap]
    if not missing or "glyf" not in font:
        return
    over, under = single(font, "numr"), single(font, "dnom")
    glyphs, names = font.getGlyphSet(), {}
    for sign in missing:
        top, bottom = FRACTIONS[sign]
        parts = [over[cmap[ord(top)]], cmap[0x2044], under[cmap[ord(bottom)]]]
        pen, along = TTGlyphPen(glyphs), 0
        for part in parts:
            pen.addComponent(part, (1, 0, 0, 1, along, 0))
            along += font["hmtx"][part][0]
        name = f"uni{ord(sign):04X}"
        names[ord(sign)] = name
        font.setGlyphOrder(font.getGlyphOrder() + [name])
        font["glyf"].glyphs[name] = pen.glyph()
        font["hmtx"].metrics[name] = (along, font["hmtx"][parts[0]][1])
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap.update(names)


def redraw_old_style_one(font):
    """Gives the old-style 1, which looks like a small capital I, the form of the lining 1.

    Beside modern measures "12 ml" must not be read as "I2 ml". The lining figure is brought to the
    height of the old one, and narrowed less than lowered, so that its stem keeps its weight.
    """
    if "CFF " not in font:
        return
    glyphs = font.getGlyphSet()
    cff = font["CFF "].cff
    top = cff[cff.fontNames[0]]

    def bounds(name):
        pen = BoundsPen(glyphs)
        glyphs[name].draw(pen)
        return pen.bounds

    lining = bounds("one.lf")
    for name in ("one.osf", "one.tosf"):
        old, width = bounds(name), font["hmtx"][name][0]
        tall, wide = old[3] / lining[3], 0.9
        shift = width / 2 - wide * (lining[0] + lining[2]) / 2
        place = top.CharStrings[name]
        pen = T2CharStringPen(width - place.private.nominalWidthX, glyphs)
        glyphs["one.lf"].draw(TransformPen(pen, (wide, 0, 0, tall, shift, 0)))
        drawn = pen.getCharString(place.private, place.globalSubrs)
        top.CharStrings[name] = drawn
        font["hmtx"].metrics[name] = (width, round(shift + wide * lining[0]))


def main(folder):
    for full, short, family in FACES:
        font = TTFont(Path(folder) / full, recalcTimestamp=False)
        add_fractions(font)
        redraw_old_style_one(font)
        options = subset.Options()
        options.layout_features = FEATURES
        options.flavor = "woff2"
        options.hinting = False
        options.desubroutinize = True
        options.name_IDs = [0, 1, 2, 5, 13, 14]
        options.notdef_outline = True
        options.recalc_timestamp = False
        worker = subset.Subsetter(options)
        worker.populate(unicodes=SIGNS)
        worker.subset(font)
        for record in font["name"].names:
            if record.nameID == 1:
                record.string = family
        font.flavor = "woff2"
        font.save(Path(__file__).parent / short)


main(sys.argv[1])
