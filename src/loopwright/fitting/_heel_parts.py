"""What the line over the heel runs across: how many mm lie on the heel, its gusset, the instep.

Loops are told apart by the heading they were made under, and in rounds by the needles that these
were divided on, up their wales. The line is the one that is measured: each piece of it belongs to
the loop that lies nearest.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from loopwright.fabric import Fabric
from loopwright.geometry import SurfaceLine
from loopwright.pattern import Arrange, Journal, Row, SockPart, rounds_in

__all__ = ["heel_parts"]

_NAMES = ("heel", "gusset", "sole", "instep", "leg", "toe")
_INSTEP, _SOLE = 1, 2  # sides of a round


def heel_parts(
    fabric: Fabric,
    journal: Journal,
    line: SurfaceLine,
    loops: NDArray[np.integer],
    *,
    has_gusset: bool,
) -> dict[str, float]:
    """Return how much of a line lies on each part of a sock, mm, in the order of `_NAMES`.

    Parameters
    ----------
    fabric : Fabric
    journal : Journal
        Of its knitting.
    line : SurfaceLine
    loops : ndarray
        Ids of the loops at the vertices of the surface that it lies on.
    has_gusset : bool
        Whether the rounds of the heel widen or narrow the sole; else these are the sole's.
    """
    part = _parts(fabric, journal, has_gusset=has_gusset)[loops[line.vertices]]
    steps = np.linalg.norm(np.diff(line.points_mm, axis=0), axis=1)
    found = np.zeros(len(_NAMES))
    for (here, there), mm in zip(pairwise(part.tolist()), steps.tolist(), strict=True):
        found[here] += mm / 2
        found[there] += mm / 2
    found *= line.length_mm / max(found.sum(), 1e-9)
    return {name: float(mm) for name, mm in zip(_NAMES, found, strict=True) if mm > 0}


def _parts(fabric: Fabric, journal: Journal, *, has_gusset: bool) -> NDArray[np.int64]:
    """Return the place in `_NAMES` of the part that each loop belongs to."""
    side = _sides(fabric, journal)
    found = np.full(len(side), _NAMES.index("leg"))
    heel, foot = (journal.made_by(part) for part in (SockPart.HEEL, SockPart.FOOT))
    found[heel] = _NAMES.index("heel")
    found[foot] = _NAMES.index("sole")
    found[heel & (side == _SOLE)] = _NAMES.index("gusset" if has_gusset else "sole")
    found[(heel | foot) & (side == _INSTEP)] = _NAMES.index("instep")
    found[journal.made_by(SockPart.TOE)] = _NAMES.index("toe")
    return found


def _sides(fabric: Fabric, journal: Journal) -> NDArray[np.int64]:
    """Return on which side of its round each loop is: as it was divided, or as the loop below.

    What is worked to and fro has none: it is a heel.
    """
    below = np.full(len(fabric.flags), -1)
    below[fabric.child[::-1]] = fabric.parent[::-1]
    side = np.zeros(len(below), dtype=np.int64)
    for entry in journal:
        step, now = entry.step, entry.after
        if isinstance(step, Arrange) and len(step.parts) == len(now.needles):
            codes = [{"instep": _INSTEP, "sole": _SOLE}.get(name, 0) for name, _ in step.parts]
            side[now.live] = np.repeat(codes, now.needles)
        if not any(isinstance(row, Row) for row in rounds_in((step,))):
            for loop in entry.loops:
                side[loop] = side[below[loop] if below[loop] >= 0 else max(loop - 1, 0)]
    return side
