"""Studies: many heels on many feet.

Pictures are in `loopwright.study.plots`, which workers have no need to import.
"""

from loopwright.study.cover import (
    SizeSet,
    StockSize,
    cover,
    served,
    stock_share,
    stock_sizes,
)
from loopwright.study.feet import SURVEY_NAMES, Feet, draw_feet, graded_feet, read_feet
from loopwright.study.measures import MEASURES, Measure
from loopwright.study.run import Progress, Study, study
from loopwright.study.share import Share, share_served
from loopwright.study.variants import Variant, variants

__all__ = [
    "MEASURES",
    "SURVEY_NAMES",
    "Feet",
    "Measure",
    "Progress",
    "Share",
    "SizeSet",
    "StockSize",
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
