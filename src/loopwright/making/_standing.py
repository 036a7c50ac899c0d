"""How the work stands at one moment: what a record of it keeps, and what a picture shows."""

from __future__ import annotations

import attrs

from loopwright.choice import Choice
from loopwright.fabric.columns import Ints

__all__ = ["Hand", "Standing"]


class Hand(Choice):
    """Which hand works; left-handed knitting mirrors the fabric."""

    RIGHT = 1
    LEFT = -1


def _kept(loops: Ints) -> Ints:
    view = loops.view()
    view.flags.writeable = False
    return view


@attrs.frozen(eq=False)
class Standing:
    """How the work stands: what is on the needles, and where and which way it goes on.

    Parameters
    ----------
    live : ndarray of int32
        Loops on the needles, in working order of the right side.
    at : int
        How many of them lie between the beginning of the needles and the place of the work.
    needles : tuple of int
        Stitches on each needle.
    course : int
    in_rounds, right_side : bool
        Whether the work goes round, and which side faces the knitter.
    made : int
        Loops made so far; the next one gets this id.
    yarn : str
        Name of the yarn in use, ``""`` when it is cut.
    wrapped : frozenset of int
        Stitches that a wrap, or the second leg of a double stitch, waits beside.
    hand : Hand

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 6)
    >>> work.join_round()
    >>> work.work(["k"] * 2)
    >>> now = work.standing()
    >>> now.count, now.left, now.upcoming.tolist(), now.made
    (6, 4, [2, 3, 4, 5], 8)
    """

    live: Ints = attrs.field(converter=_kept)
    at: int
    needles: tuple[int, ...]
    course: int
    in_rounds: bool
    right_side: bool
    made: int
    yarn: str
    wrapped: frozenset[int]
    hand: Hand

    @property
    def count(self) -> int:
        """Live stitches on the needles; those on holders are not counted."""
        return len(self.live)

    @property
    def left(self) -> int:
        """Stitches still to be worked in this row or round."""
        left = self.count - self.at if self.right_side else self.at
        return left or (self.count if self.in_rounds else 0)

    @property
    def upcoming(self) -> Ints:
        """Ids of the loops still to be worked in this row or round, in working order."""
        if self.right_side:
            return self.live[self.count - self.left :]
        return self.live[: self.left][::-1]
