"""Studies: many heels on many feet."""

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
    "Study",
    "Variant",
    "draw_feet",
    "graded_feet",
    "read_feet",
    "study",
    "variants",
]
