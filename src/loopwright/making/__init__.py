"""Hands: operations that change the graph."""

from loopwright.border import guard
from loopwright.making._closing import (
    BIND_OFFS,
    GRAFTS,
    Pass,
    bind_off,
    draw_up,
    graft,
    graft_passes,
    three_needle_bind_off,
    weave_in,
)
from loopwright.making._corners import (
    CornerStrand,
    corner_strands,
    edge_stitches,
    lift_strand,
    selvedge,
)
from loopwright.making._standing import Hand, Standing
from loopwright.making._waste import (
    hold,
    provisional_cast_on,
    recapture,
    return_held,
    take_out,
    waste_row,
)
from loopwright.making._work import Work
from loopwright.making.casting import CAST_ONS, cast_on, closed_cast_on, edge_loops, pick_up

__all__ = [
    "BIND_OFFS",
    "CAST_ONS",
    "GRAFTS",
    "CornerStrand",
    "Hand",
    "Pass",
    "Standing",
    "Work",
    "bind_off",
    "cast_on",
    "closed_cast_on",
    "corner_strands",
    "draw_up",
    "edge_loops",
    "edge_stitches",
    "graft",
    "graft_passes",
    "hold",
    "lift_strand",
    "pick_up",
    "provisional_cast_on",
    "recapture",
    "return_held",
    "selvedge",
    "take_out",
    "three_needle_bind_off",
    "waste_row",
    "weave_in",
]

guard(globals())
