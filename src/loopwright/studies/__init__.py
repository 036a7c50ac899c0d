"""Studies: many heels on many feet.

Pictures are in `loopwright.studies.plots`, which workers have no need to import.
"""

import loopwright.studies._needs  # noqa: F401  what is missing is said before it is imported
from loopwright.border import guard
from loopwright.studies._cover import (
    SizeSet,
    StockSize,
    cover,
    served,
    stock_share,
    stock_sizes,
)
from loopwright.studies._feet import SURVEY_NAMES, Feet, draw_feet, graded_feet, read_feet
from loopwright.studies._measures import MEASURES, Measure
from loopwright.studies._run import Study, study
from loopwright.studies._share import Share, share_served
from loopwright.studies._store import Store
from loopwright.studies._variants import Variant, variants

__all__ = [
    "MEASURES",
    "SURVEY_NAMES",
    "Feet",
    "Measure",
    "Share",
    "SizeSet",
    "StockSize",
    "Store",
    "Study",
    "Variant",
    "cover",
    "draw_feet",
    "graded_feet",
    "read_feet",
    "served",
    "share_served",
    "stock_share",
    "stock_sizes",
    "study",
    "variants",
]

guard(globals())
