"""Yarn: how long a loop is, and what a piece needs."""

from loopwright.border import guard
from loopwright.yarn._loop import (
    CONSTANTS,
    Constants,
    loop_length,
    loops_per_cm2,
    mass_per_m2,
    tightness,
)
from loopwright.yarn._need import Range, StrandUse, YarnNeed, strand_uses, yarn_need
from loopwright.yarn._path import YarnCurve, yarn_path
from loopwright.yarn._spec import Yarn

__all__ = [
    "CONSTANTS",
    "Constants",
    "Range",
    "StrandUse",
    "Yarn",
    "YarnCurve",
    "YarnNeed",
    "loop_length",
    "loops_per_cm2",
    "mass_per_m2",
    "strand_uses",
    "tightness",
    "yarn_need",
    "yarn_path",
]

guard(globals())
