"""The sock: foot, sizes, constructions, plan, pattern; and several sizes in one design."""

from loopwright.border import guard
from loopwright.sock._all_round import AllRound, Catch, narrowest
from loopwright.sock._at_rest import AtRest, at_rest, kind_of
from loopwright.sock._changes import Change, changes
from loopwright.sock._cuffs import TIGHT_BAND, Cuff, cuff, cuff_named, cuff_names
from loopwright.sock._hands import PIECE_SD, Hands, TapeLine
from loopwright.sock._legs import (
    Leg,
    LegSetting,
    PatternedLeg,
    RibbedLeg,
    leg,
    leg_named,
    leg_names,
)
from loopwright.sock._measured import Measured
from loopwright.sock._own import load_file, load_installed
from loopwright.sock._panels import Panel, PanelFit, PatternRound, StitchPattern
from loopwright.sock._parts import GROUP, Parts
from loopwright.sock._plan import FinishedMeasure, Plan
from loopwright.sock._remarks import remarks
from loopwright.sock._shoes import ShoeSize
from loopwright.sock._sizing import fit_rounds, fit_stitches, heel_share, rounds_between
from loopwright.sock._sock import Sock
from loopwright.sock._toes import Toe, toe, toe_named, toe_names
from loopwright.sock._yarns import SockStripes, SockYarn
from loopwright.sock.foot import Foot
from loopwright.sock.grading import Design, SizeTable
from loopwright.sock.heels import Corners, Direction, Heel, heel, heel_named, heel_names
from loopwright.sock.needles import Needles
from loopwright.sock.sizes import ChartSize, chart_size, size_chart
from loopwright.sock.survey import Sex

__all__ = [
    "GROUP",
    "PIECE_SD",
    "TIGHT_BAND",
    "AllRound",
    "AtRest",
    "Catch",
    "Change",
    "ChartSize",
    "Corners",
    "Cuff",
    "Design",
    "Direction",
    "FinishedMeasure",
    "Foot",
    "Hands",
    "Heel",
    "Leg",
    "LegSetting",
    "Measured",
    "Needles",
    "Panel",
    "PanelFit",
    "Parts",
    "PatternRound",
    "PatternedLeg",
    "Plan",
    "RibbedLeg",
    "Sex",
    "ShoeSize",
    "SizeTable",
    "Sock",
    "SockStripes",
    "SockYarn",
    "StitchPattern",
    "TapeLine",
    "Toe",
    "at_rest",
    "changes",
    "chart_size",
    "cuff",
    "cuff_named",
    "cuff_names",
    "fit_rounds",
    "fit_stitches",
    "heel",
    "heel_named",
    "heel_names",
    "heel_share",
    "kind_of",
    "leg",
    "leg_named",
    "leg_names",
    "load_file",
    "load_installed",
    "narrowest",
    "remarks",
    "rounds_between",
    "size_chart",
    "toe",
    "toe_named",
    "toe_names",
]

guard(globals())
