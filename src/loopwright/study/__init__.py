"""Studies: many heels on many feet.

Pictures are in `loopwright.study.plots`, which workers have no need to import.
"""

from loopwright.study.cover import (
    SizeSet,
    StockSize,
    StretchLimits,
    cover,
    served,
    share_served,
    stock_sizes,
)
from loopwright.study.feet import SURVEY_NAMES, Feet, draw_feet, graded_feet, read_feet
from loopwright.study.measures import MEASURES, Made, Measure
from loopwright.study.run import Progress, Study, study
from loopwright.study.variants import Variant, variants

__all__ = [
    "MEASURES",
    "SURVEY_NAMES",
    "Feet",
    "Made",
    "Measure",
    "Progress",
    "SizeSet",
    "StockSize",
    "StretchLimits",
    "Study",
    "Variant",
    "cover",
    "draw_feet",
    "graded_feet",
    "read_feet",
    "served",
    "share_served",
    "stock_sizes",
    "study",
    "variants",
]
