"""Where a finding is, in words."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from loopwright.fabric._report import Flaw
from loopwright.fabric.fabric import Fabric

__all__ = ["finding", "place_in_words"]


def place_in_words(fabric: Fabric, loops: Sequence[int]) -> str:
    """Return where these loops are: course, place in it, stitch, strand."""
    if not len(loops):
        return "the whole fabric"
    first = int(loops[0])
    if not 0 <= first < len(fabric.flags):
        return f"loop {first}"
    course = int(fabric.course[first])
    mates = np.flatnonzero((fabric.course == course) & fabric.present)
    nth = int(np.searchsorted(mates, first)) + 1
    strand = fabric.strand[first]
    name = fabric.strands[strand].name if 0 <= strand < len(fabric.strands) else "an unknown yarn"
    stitch = fabric.stitches.rows[fabric.stitch[first]].key
    more = f" and {len(loops) - 1} more" if len(loops) > 1 else ""
    return f"course {course}, stitch {nth} of {len(mates)}: loop {first} ({stitch}, {name}){more}"


def finding(
    fabric: Fabric, kind: str, loops: Sequence[int] | NDArray[np.generic], problem: str,
    advice: str, *, is_mistake: bool = True,
) -> Flaw:  # fmt: skip
    """Return a finding about these loops, with its place in words: for a check of your own.

    Parameters
    ----------
    fabric : Fabric
    kind : str
        Name of the check.
    loops : sequence of int
        Ids of the loops concerned, the most telling first.
    problem, advice : str
        What was found and expected; what to do.
    is_mistake : bool
        False for a blemish.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 3)
    >>> print(finding(work.fabric(), "edge", [1, 2], "loops of an edge", "none"))
    edge: loops of an edge (course 0, stitch 2 of 3: loop 1 (co, main) and 1 more); none
    """
    ids = tuple(int(loop) for loop in loops)
    return Flaw(kind, ids, place_in_words(fabric, ids), problem, advice, is_mistake)
