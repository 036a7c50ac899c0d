"""The thing itself: loops, the edges between them, and what can be asked of them."""

from loopwright.border import guard
from loopwright.fabric._certificate import Certificate, certify
from loopwright.fabric._difference import Difference, difference
from loopwright.fabric._place import finding
from loopwright.fabric._queries import Closing, closings, run_down, same_fabric
from loopwright.fabric._surface import Cell, CellMap, surface
from loopwright.fabric.checks import CHECKS, Flaw, Limits, Report, check
from loopwright.fabric.fabric import Fabric, Strand
from loopwright.fabric.stitches import STITCHES, Kind, Lean, Stitch, StitchTable, crossing

__all__ = [
    "CHECKS",
    "STITCHES",
    "Cell",
    "CellMap",
    "Certificate",
    "Closing",
    "Difference",
    "Fabric",
    "Flaw",
    "Kind",
    "Lean",
    "Limits",
    "Report",
    "Stitch",
    "StitchTable",
    "Strand",
    "certify",
    "check",
    "closings",
    "crossing",
    "difference",
    "finding",
    "run_down",
    "same_fabric",
    "surface",
]

guard(globals())
