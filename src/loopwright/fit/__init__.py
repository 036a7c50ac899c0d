"""Shape and fit: from the graph alone to the relaxed fabric, its girths, and the foot in it."""

from loopwright.fit.closed_forms import (
    flap_heel_girth_mm,
    gain_of_a_plain_round_mm,
    wedge_heel_girth_mm,
)
from loopwright.fit.compare import Compared, Comparison, compare
from loopwright.fit.drape import Draped, Membrane, drape, press
from loopwright.fit.export import FORMATS, export
from loopwright.fit.fit import Fit, Passage, Place, fit
from loopwright.fit.footform import FootForm, foot_form, tape_mm
from loopwright.fit.geodesic import Line, shortest_line, shortest_loop
from loopwright.fit.girths import Measures, girth_through, measure, route
from loopwright.fit.limits import Feel, Limit, StretchLimits
from loopwright.fit.remedies import Remedies, Remedy, remedies
from loopwright.fit.sample import HeelCounts, Sample, sample
from loopwright.fit.shape import Quality, Shape, shape
from loopwright.fit.surface import Surface

__all__ = [
    "FORMATS",
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
