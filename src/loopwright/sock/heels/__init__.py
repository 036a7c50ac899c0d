"""Heels, a file each. Importing this package makes all of them known by name."""

from loopwright.border import guard
from loopwright.sock.heels._afterthought import Afterthought
from loopwright.sock.heels._forethought import Forethought
from loopwright.sock.heels._heel import (
    DRAWN_OUT,
    RIDGE,
    SCISSORS,
    Corners,
    Direction,
    Heel,
    HeelChange,
    HeelNumbers,
    Setting,
    corner_round,
    heel,
    heel_named,
    heel_names,
)
from loopwright.sock.heels._outline import (
    DEPTH,
    HeelMeasure,
    HeelOutline,
    HeelPart,
    MeasureLine,
    Spot,
)
from loopwright.sock.heels._pocket import RoundHeelNumbers
from loopwright.sock.heels._profile import (
    flap_heel_girth_mm,
    gain_of_a_plain_round_mm,
    wedge_heel_girth_mm,
)
from loopwright.sock.heels._short_row_gusset import ShortRowGusset
from loopwright.sock.heels._turns import HeelTurn, Turned
from loopwright.sock.heels.flap import Flap, FlapFabric
from loopwright.sock.heels.short_row import ShortRow

__all__ = [
    "DEPTH",
    "DRAWN_OUT",
    "RIDGE",
    "SCISSORS",
    "Afterthought",
    "Corners",
    "Direction",
    "Flap",
    "FlapFabric",
    "Forethought",
    "Heel",
    "HeelChange",
    "HeelMeasure",
    "HeelNumbers",
    "HeelOutline",
    "HeelPart",
    "HeelTurn",
    "MeasureLine",
    "RoundHeelNumbers",
    "Setting",
    "ShortRow",
    "ShortRowGusset",
    "Spot",
    "Turned",
    "corner_round",
    "flap_heel_girth_mm",
    "gain_of_a_plain_round_mm",
    "heel",
    "heel_named",
    "heel_names",
    "wedge_heel_girth_mm",
]

guard(globals())
