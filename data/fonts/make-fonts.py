"""Makes the two report fonts from the web fonts of @fontsource-variable/atkinson-hyperlegible-next 5.3.0.

The Latin and extended Latin files are unpacked, fixed at weights 400 and 700, joined, and written as TrueType,
which PDF readers need. Glyph outlines and spacing are untouched; hinting is dropped.

    /usr/bin/python3 data/fonts/make-fonts.py

Made with fontTools 4.38.0 and brotli 1.0.9 (Debian 12: python3-fonttools, python3-brotli).
"""

import os
import tempfile
from pathlib import Path

os.environ["SOURCE_DATE_EPOCH"] = "0"  # a font's "modified" time, so that a second run writes the same bytes

from fontTools.merge import Merger
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

here = Path(__file__).parent
files = here.parent.parent / "node_modules/@fontsource-variable/atkinson-hyperlegible-next/files"


def part(script, weight, folder):
    font = TTFont(files / f"atkinson-hyperlegible-next-{script}-wght-normal.woff2", recalcTimestamp=False)
    font = instantiateVariableFont(font, {"wght": weight}, inplace=True)
    options = Options()
    options.hinting = False
    options.layout_features = ["kern", "mark", "mkmk", "ccmp", "locl"]
    options.name_IDs = ["*"]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=font.getBestCmap().keys())
    subsetter.subset(font)
    font.flavor = None
    path = Path(folder) / f"{script}-{weight}.ttf"
    font.save(path)
    return str(path)


for name, weight in [("regular", 400), ("bold", 700)]:
    with tempfile.TemporaryDirectory() as folder:
        joined = Merger().merge([part(script, weight, folder) for script in ("latin", "latin-ext")])
    joined["head"].created = joined["head"].modified = 0
    joined.recalcTimestamp = False
    for record in joined["name"].names:
        if record.nameID == 6:
            record.string = f"AtkinsonHyperlegibleNext-{name.capitalize()}"
        if record.nameID == 2:
            record.string = name.capitalize()
    joined.save(here / f"atkinson-hyperlegible-next-{name}.ttf")
