"""The sock: foot, sizes, constructions, plan, pattern; and several sizes in one design."""

from loopwright.sock._cuffs import TIGHT_BAND, Cuff, cuff_named, cuffs
from loopwright.sock._legs import PatternedLeg, RibbedLeg, leg, leg_named, legs
from loopwright.sock._plan import Measure, Plan
from loopwright.sock._shoes import ShoeSize
from loopwright.sock._sizing import fit_rounds, fit_stitches, heel_share, rounds_between
from loopwright.sock._sock import Sock
from loopwright.sock._toes import toe, toe_named, toes
from loopwright.sock.foot import Foot
from loopwright.sock.grading import Design, SizeTable
from loopwright.sock.heels import Corners, Direction, heel, heel_named, heels
from loopwright.sock.needles import Needles
from loopwright.sock.survey import Sex

__all__ = [
    "TIGHT_BAND",
    "Corners",
    "Cuff",
    "Design",
    "Direction",
    "Foot",
    "Measure",
    "Needles",
    "PatternedLeg",
    "Plan",
    "RibbedLeg",
    "Sex",
    "ShoeSize",
    "SizeTable",
    "Sock",
    "cuff_named",
    "cuffs",
    "fit_rounds",
    "fit_stitches",
    "heel",
    "heel_named",
    "heel_share",
    "heels",
    "leg",
    "leg_named",
    "legs",
    "rounds_between",
    "toe",
    "toe_named",
    "toes",
]
