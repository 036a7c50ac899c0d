"""Studies: many heels on many feet."""

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
from loopwright.study.plots import plot_heatmap, plot_share_against_ease, plot_stretch
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
    "plot_heatmap",
    "plot_share_against_ease",
    "plot_stretch",
    "read_feet",
    "served",
    "share_served",
    "stock_sizes",
    "study",
    "variants",
]
