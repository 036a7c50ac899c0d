"""The sock: foot, sizes, constructions, plan, pattern; and several sizes in one design."""

from loopwright.sock.cuffs import Cuff, cuff_named, cuffs
from loopwright.sock.foot import Foot
from loopwright.sock.grading import Design, SizeTable
from loopwright.sock.heels import Corners, Direction, heel, heel_named, heels
from loopwright.sock.legs import leg, leg_named, legs
from loopwright.sock.needles import Needles
from loopwright.sock.plan import Measure, Plan
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
    "SizeTable",
    "Sock",
    "cuff_named",
    "cuffs",
    "heel",
    "heel_named",
    "heels",
    "leg",
    "leg_named",
    "legs",
    "toe",
    "toe_named",
    "toes",
]
