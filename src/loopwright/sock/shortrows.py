"""Short rows: turns one stitch earlier each row until the middle is left, then out again.

Common practice on half the stitches: about a third is left in the middle, with as many turns out
as in. Where thirds don't divide, the remainder goes to the sides or to the middle (30: 10, 10, 10;
32: 11, 10, 11; 26: 8, 10, 8). Here the number of turns is rounded to the nearest, unless it is
given.

A stitch is *wrapped* at each turn, or the last one made a *double stitch* after it; wraps and legs
are worked together with their stitches.
"""

from __future__ import annotations

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import SizingError
from loopwright.pattern.items import Item, Run, Turn, WrapTurn
from loopwright.pattern.steps import Part, Row, Side, Step
from loopwright.pattern.values import To, Where
from loopwright.plurals import plural
from loopwright.sock.rounds import repeated

__all__ = ["ShortRowNumbers", "ShortRows", "Turning"]


class Turning(Choice):
    """What closes the gap at a turn."""

    WRAP = "wrapped"
    DOUBLE = "double stitch"


@attrs.frozen
class ShortRowNumbers:
    """Short rows in stitches: as many turns at either side, once in and once out.

    Parameters
    ----------
    width : int, stitches
    side : int
        Turns at either side.
    moved : float, stitches
        How far the middle is from what was asked.
    """

    width: int
    side: int
    moved: float = 0.0

    @property
    def middle(self) -> int:
        """Stitches that every row works."""
        return self.width - 2 * self.side

    @property
    def courses(self) -> int:
        """Rows of one half, in or out, along its middle."""
        return 2 * self.side


@attrs.frozen(kw_only=True)
class ShortRows:
    """How short rows are worked.

    Parameters
    ----------
    turning : Turning
    middle : float
        Share of the stitches that is left in the middle.
    side : int, optional
        So many turns at either side, instead of a share.

    Examples
    --------
    >>> [(n.side, n.middle) for n in map(ShortRows().numbers, (30, 32))]
    [(10, 10), (11, 10)]
    >>> ShortRows(side=8).numbers(26).middle
    10
    """

    turning: Turning = attrs.field(default=Turning.WRAP, converter=Turning)
    middle: float = 1 / 3
    side: int | None = None

    def numbers(self, width: int) -> ShortRowNumbers:
        """Return the numbers for a heel of that many stitches.

        Raises
        ------
        SizingError
            No turn fits, or no stitch is left in the middle.
        """
        asked = self.middle * width
        if self.side is not None:
            side, asked = self.side, float(width - 2 * self.side)
        else:
            if not 0 < self.middle < 1:
                expected = "expected a share from 0 to 1"
                raise SizingError("short rows' middle", f"{self.middle:g}", expected)
            side = round((width - asked) / 2 - 1e-9)
            side -= side * 2 > width - 2
        if side < 1 or width - 2 * side < 2:
            found = f"{plural(side, 'turn')} at each side of {plural(width, 'stitch')}"
            raise SizingError("short rows", found, "expected 1 or more, and 2 stitches between")
        return ShortRowNumbers(width, side, width - 2 * side - asked)

    def inward(self, numbers: ShortRowNumbers) -> list[Step]:
        """Return the rows in, from the first stitch on a right-side row."""
        width = numbers.width
        first = (
            self._one(Side.RS, width - 1, begins=True),
            self._one(Side.WS, width - 2 - (self.turning is Turning.DOUBLE)),
        )
        shorter = (self._one(Side.RS, To(Where.GAP, 1)), self._one(Side.WS, To(Where.GAP, 1)))
        return [*first, *repeated(shorter, numbers.side - 1)]

    def outward(self, numbers: ShortRowNumbers) -> list[Step]:
        """Return the rows out; the last ends, turned, at the first stitch."""
        longer = tuple(
            self._one(side, To(Where.GAP), Run(key, 1, with_wraps=True))
            for side, key in ((Side.RS, "k"), (Side.WS, "p"))
        )
        if self.turning is Turning.DOUBLE:
            return repeated(longer, numbers.side)
        last = tuple(attrs.evolve(row, items=(*row.items[:-1], Turn())) for row in longer)
        return [*repeated(longer, numbers.side - 1), *last]

    def across(self, numbers: ShortRowNumbers) -> Part:
        """Return what goes across all of it then; a double stitch may still wait, no wrap does."""
        return Part((Run("k", numbers.width, with_wraps=self.turning is Turning.DOUBLE),))

    def _one(self, side: Side, to: To | int, *more: Item, begins: bool = False) -> Row:
        key = "k" if side is Side.RS else "p"
        if self.turning is Turning.WRAP:
            return Row((Run(key, to), *more, WrapTurn()), side=side)
        double = () if begins else (Run("ds"),)
        return Row((*double, Run(key, to, with_wraps=bool(more)), *more, Turn()), side=side)


guard(globals())
