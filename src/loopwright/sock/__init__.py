"""The sock: foot, sizes, constructions, plan, pattern; and several sizes in one design."""

from loopwright.sock.cuffs import Cuff, cuff_named, cuffs
from loopwright.sock.foot import Foot
from loopwright.sock.grading import Design, SizeTable
from loopwright.sock.heels import Corners, Direction, heel, heel_named, heels
from loopwright.sock.legs import leg, leg_named, legs
from loopwright.sock.needles import Needles
from loopwright.sock.plan import Measure, Plan
from loopwright.sock.shoes import ShoeSize
from loopwright.sock.sizing import fit_rounds, fit_stitches, heel_share, rounds_between
from loopwright.sock.sock import Sock
from loopwright.sock.survey import Sex
from loopwright.sock.toes import toe, toe_named, toes

__all__ = [
    "Corners",
    "Cuff",
    "Design",
    "Direction",
    "Foot",
    "Measure",
    "Needles",
    "Plan",
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
