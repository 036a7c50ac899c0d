"""Shape and fit: from the graph alone to the relaxed fabric, its girths, and the foot in it."""

from loopwright.fitting._closed_forms import (
    flap_heel_girth_mm,
    gain_of_a_plain_round_mm,
    wedge_heel_girth_mm,
)
from loopwright.fitting._compare import Compared, Comparison, compare
from loopwright.fitting._drape import Draped, Membrane, drape, press
from loopwright.fitting._export import FORMATS, export
from loopwright.fitting._fit import UNMEASURED, Fit, Passage, Place, Stretch, fit, per_cent
from loopwright.fitting._footform import FootForm, foot_form, tape_mm
from loopwright.fitting._geodesic import Line, shortest_line, shortest_loop
from loopwright.fitting._modifications import MODIFICATIONS
from loopwright.fitting._remedies import Remedies, Remedy, remedies
from loopwright.fitting._sample import EXACT, QUICK, HeelCounts, Sample, sample
from loopwright.fitting._shape import Quality, Shape, shape
from loopwright.fitting._surface import Surface
from loopwright.fitting.girths import Measures, girth_through, measure, route
from loopwright.fitting.limits import Feel, Limit, StretchLimits

__all__ = [
    "EXACT",
    "FORMATS",
    "MODIFICATIONS",
    "QUICK",
    "UNMEASURED",
    "Compared",
    "Comparison",
    "Draped",
    "Feel",
    "Fit",
    "FootForm",
    "HeelCounts",
    "Limit",
    "Line",
    "Measures",
    "Membrane",
    "Passage",
    "Place",
    "Quality",
    "Remedies",
    "Remedy",
    "Sample",
    "Shape",
    "Stretch",
    "StretchLimits",
    "Surface",
    "compare",
    "drape",
    "export",
    "fit",
    "flap_heel_girth_mm",
    "foot_form",
    "gain_of_a_plain_round_mm",
    "girth_through",
    "measure",
    "per_cent",
    "press",
    "remedies",
    "route",
    "sample",
    "shape",
    "shortest_line",
    "shortest_loop",
    "tape_mm",
    "wedge_heel_girth_mm",
]
