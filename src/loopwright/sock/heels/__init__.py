"""Heels, a file each. Importing this package makes all of them known by name."""

from loopwright.sock.heels._afterthought import Afterthought
from loopwright.sock.heels._forethought import Forethought
from loopwright.sock.heels._heel import (
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
from loopwright.sock.heels._outline import HeelMeasure, HeelOutline, HeelPart, MeasureLine
from loopwright.sock.heels._pocket import RoundHeelNumbers
from loopwright.sock.heels._short_row_gusset import ShortRowGusset
from loopwright.sock.heels._turns import HeelTurn, Turned
from loopwright.sock.heels.flap import Flap, FlapFabric
from loopwright.sock.heels.short_row import ShortRow

__all__ = [
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
    "Turned",
    "corner_round",
    "heel",
    "heel_named",
    "heel_names",
]
