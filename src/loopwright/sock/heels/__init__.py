"""Heels, a file each. Importing this package makes all of them known by name."""

from loopwright.sock.heels.afterthought import Afterthought
from loopwright.sock.heels.flap import Flap, FlapFabric
from loopwright.sock.heels.forethought import Forethought
from loopwright.sock.heels.heel import (
    Corners,
    Direction,
    Heel,
    HeelNumbers,
    Setting,
    corner_round,
    heel,
    heel_named,
    heels,
)
from loopwright.sock.heels.short_row import ShortRow
from loopwright.sock.heels.short_row_gusset import ShortRowGusset
from loopwright.sock.heels.turns import HeelTurn, Turned

__all__ = [
    "Afterthought",
    "Corners",
    "Direction",
    "Flap",
    "FlapFabric",
    "Forethought",
    "Heel",
    "HeelNumbers",
    "HeelTurn",
    "Setting",
    "ShortRow",
    "ShortRowGusset",
    "Turned",
    "corner_round",
    "heel",
    "heel_named",
    "heels",
]
