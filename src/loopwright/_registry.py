"""The one registry of units, which `loopwright.units` hands on.

It has a module of its own because pint takes long to import, and most programs never ask for it.
Lengths that are told in words are read without (see `loopwright.units`).
"""

from __future__ import annotations

from typing import Any, Final

import pint

__all__ = ["YARN_COUNTS", "registry"]

# pint knows a thousand units more, and takes 0.15 s to read them. The international yard and pound
# are exact since 1959.
_LENGTHS_AND_WEIGHTS: Final = (
    "mega- = 1e6 = M-",
    "kilo- = 1e3 = k-",
    "hecto- = 1e2 = h-",
    "deca- = 1e1 = da- = deka-",
    "deci- = 1e-1 = d-",
    "centi- = 1e-2 = c-",
    "milli- = 1e-3 = m-",
    "micro- = 1e-6 = µ- = μ- = u-",
    "meter = [length] = m = metre",
    "gram = [mass] = g",
    "second = [time] = s = sec",
    "yard = 0.9144 * meter = yd = international_yard",
    "foot = yard / 3 = ft = international_foot = feet = international_feet",
    "inch = yard / 36 = in = international_inch = inches = international_inches",
    "mile = 1760 * yard = mi",
    "pound = 453.59237 * gram = lb = avoirdupois_pound",
    "ounce = pound / 16 = oz = avoirdupois_ounce",
)
registry: Final[pint.UnitRegistry[Any]] = pint.UnitRegistry(_LENGTHS_AND_WEIGHTS, cache_folder=None)
"""The registry that every quantity of this package belongs to: lengths, weights, what is below."""

# Stitch and course as base units with no symbol ("_"), then the words that knitters write.
registry.define("stitch = [stitch] = _ = stitches = st = sts")
registry.define("course = [course] = _ = row = round = rnd")
registry.define("loop = stitch * course")
# Every yarn count, since not every pint knows each (0.26 has no Nm); shared/standards.toml,
# [yarn_counts]. The cotton count is hanks of 840 yd to the pound, the worsted one of 560 yd.
YARN_COUNTS: Final = (
    "tex = gram / kilometer",
    "decitex = tex / 10 = dtex",
    "denier = gram / (9 * kilometer) = den",
    "number_meter = kilometer / kilogram = Nm",
    "number_english = 840 * yard / pound = Ne",
    "number_worsted = 560 * yard / pound = NeW",
)
for _line in YARN_COUNTS:
    registry.define(_line)
