"""A sock on a foot: its girths, how it sits, what mends it, and how it looks there."""

from typing import TYPE_CHECKING

from loopwright._late import late
from loopwright.border import guard
from loopwright.fitting._compare import Compared, Comparison, compare
from loopwright.fitting._drape import Draped, Membrane, drape, press
from loopwright.fitting._estimate import estimated_fit
from loopwright.fitting._fit import UNMEASURED, Fit, Passage, Place, Stretch, fit
from loopwright.fitting._footform import FootForm, foot_form, tape_mm
from loopwright.fitting._hands import hands_of, learned, with_hands
from loopwright.fitting._mending import remedies
from loopwright.fitting._remedies import LeftOut, Remedies, Remedy
from loopwright.fitting._sample import EXACT, QUICK, HeelCounts, Sample, sample
from loopwright.fitting._verdict import Sits, Verdict, per_cent
from loopwright.fitting.girths import Measures, Route, measure, route
from loopwright.fitting.limits import Feel, Limit, StretchLimits

if TYPE_CHECKING:
    from loopwright.fitting._scan_form import scanned_form
else:  # few feet are scanned
    __getattr__, __dir__ = late(globals(), {"_scan_form": ("scanned_form",)})

__all__ = [
    "EXACT",
    "QUICK",
    "UNMEASURED",
    "Compared",
    "Comparison",
    "Draped",
    "Feel",
    "Fit",
    "FootForm",
    "HeelCounts",
    "LeftOut",
    "Limit",
    "Measures",
    "Membrane",
    "Passage",
    "Place",
    "Remedies",
    "Remedy",
    "Route",
    "Sample",
    "Sits",
    "Stretch",
    "StretchLimits",
    "Verdict",
    "compare",
    "drape",
    "estimated_fit",
    "fit",
    "foot_form",
    "hands_of",
    "learned",
    "measure",
    "per_cent",
    "press",
    "remedies",
    "route",
    "sample",
    "scanned_form",
    "tape_mm",
    "with_hands",
]

guard(globals())
