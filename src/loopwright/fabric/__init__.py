"""The thing itself: loops, the edges between them, and what can be asked of them."""

from loopwright.fabric.fabric import Fabric, Strand
from loopwright.fabric.stitches import STITCHES, Kind, Lean, Stitch, StitchTable
from loopwright.fabric.surface import Cell, Surface

__all__ = [
    "STITCHES",
    "Cell",
    "Fabric",
    "Kind",
    "Lean",
    "Stitch",
    "StitchTable",
    "Strand",
    "Surface",
]
