"""The tip of a heel, by its construction: which loop of it lies farthest out.

A heel that is closed (grafted, bound off) has it in the middle of its closing. One that is not is
worked in rows that grow shorter and then longer again, or in rows narrowed on both sides of a
turn. Where the shortest of them lies, the fabric bends round the heel, and the middle of that row
is the tip. That holds for every heel that turns, whichever way the sock is knitted.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from loopwright.errors import ShapeError
from loopwright.fabric.columns import FLOAT
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind

__all__ = ["heel_tip"]


def heel_tip(fabric: Fabric, heel: NDArray[np.bool_]) -> int:
    """Return the loop at the tip of a heel.

    Parameters
    ----------
    heel : ndarray, shape (n,), bool
        Which loops the heel's steps made.

    Raises
    ------
    ShapeError
        They made none.
    """
    mine = heel & fabric.present
    closing = np.flatnonzero(mine & fabric.kinds(Kind.GRAFTED, Kind.BOUND_OFF))
    if len(closing):
        return int(closing[len(closing) // 2])
    worked = np.flatnonzero(mine & fabric.kinds(Kind.WORKED))
    if not len(worked):
        raise ShapeError("a heel without a stitch", "knit the heel before asking for its tip")
    _, at = np.unique(fabric.course[worked], return_inverse=True)
    # A row that slips every other stitch is as long as one that works them all.
    stitches = 1 + ((fabric.flags[worked] & FLOAT) != 0)
    row = worked[at == np.bincount(at, stitches).argmin()]
    return int(row[len(row) // 2])
