"""The thing itself: loops, the edges between them, and what can be asked of them."""

from loopwright.fabric.checks import CHECKS, Finding, Limits, Report, check
from loopwright.fabric.fabric import Fabric, Strand
from loopwright.fabric.queries import Closing, closings, run_down, same_fabric
from loopwright.fabric.stitches import STITCHES, Kind, Lean, Stitch, StitchTable
from loopwright.fabric.surface import Cell, Surface

__all__ = [
    "CHECKS",
    "STITCHES",
    "Cell",
    "Closing",
    "Fabric",
    "Finding",
    "Kind",
    "Lean",
    "Limits",
    "Report",
    "Stitch",
    "StitchTable",
    "Strand",
    "Surface",
    "check",
    "closings",
    "run_down",
    "same_fabric",
]
