"""The short-row heel: rows that turn a stitch earlier each time, then out again; no gusset, no
picking up.

The rows in make the back of the heel, those out its underside, or the reverse toe up: the steps
are the same in both directions.
"""

from __future__ import annotations

from typing import ClassVar

import attrs

from loopwright.pattern.steps import BeginHere, Step
from loopwright.sock.heels._gusset import MiniGusset
from loopwright.sock.heels._heel import Corners, HeelNumbers, Setting, corner_round, heel
from loopwright.sock.shortrows import ShortRowNumbers, ShortRows

__all__ = ["ShortRow", "ShortRowHeelNumbers"]


@attrs.frozen(kw_only=True)
class ShortRowHeelNumbers(HeelNumbers):
    """A short-row heel: its turns, and the stitches of the gusset at each side."""

    rows: ShortRowNumbers
    gusset: int


@heel
@attrs.frozen(kw_only=True)
class ShortRow:
    """A heel of short rows, wrapped or with double stitches.

    Parameters
    ----------
    rows : ShortRows
        How they turn and how many stitches are left in the middle.
    gusset : int
        Stitches increased at each side before the heel, and taken away after it.
    corners : Corners

    Raises
    ------
    SizingError
        From its methods: too few stitches for the rows, or a gusset below 0.

    Examples
    --------
    >>> from loopwright.pattern import in_words
    >>> heel, setting = ShortRow(), Setting(heel=32, instep=32)
    >>> rows = heel.numbers(setting).rows
    >>> rows.side, rows.width - 2 * rows.side
    (11, 10)
    >>> for step in heel.steps(setting)[:2]:
    ...     print(in_words(step))
    Row 1 (RS): K31, w&t.
    Row 1 (WS): P30, w&t.
    >>> heel.later_steps(setting)
    []
    """

    name: ClassVar[str] = "short-row"
    begins: ClassVar[str] = "heel"

    rows: ShortRows = attrs.field(factory=ShortRows)
    gusset: int = 0
    corners: Corners = attrs.field(default=Corners.CLOSED, converter=Corners)

    def numbers(self, setting: Setting) -> ShortRowHeelNumbers:
        """Return the heel in stitches and rows."""
        return short_row_numbers(setting, self.rows, self.gusset, self.corners)

    def steps(self, setting: Setting) -> list[Step]:
        """Return the steps; the same in both directions."""
        return short_row_steps(setting, self.rows, self.gusset, self.corners)

    def later_steps(self, setting: Setting) -> list[Step]:
        """Return no steps: the heel is done when it is made."""
        return []


def short_row_numbers(
    setting: Setting, rows: ShortRows, gusset: int, corners: Corners
) -> ShortRowHeelNumbers:
    """Return the numbers of a short-row heel between two small gussets."""
    numbers = rows.numbers(setting.heel + 2 * gusset)
    mini = MiniGusset(gusset)
    before, after = mini.rounds_before, mini.rounds_after + (corners is Corners.CLOSED)
    return ShortRowHeelNumbers(
        # Each half of the rows, and a share of the row that goes back into the round.
        foot_courses=numbers.courses + 0.5,
        leg_courses=numbers.courses + 0.5,
        foot_rounds=before if setting.is_toe_up else after,
        leg_rounds=after if setting.is_toe_up else before,
        rows=numbers,
        gusset=gusset,
    )


def short_row_steps(setting: Setting, rows: ShortRows, gusset: int, corners: Corners) -> list[Step]:
    """Return the steps of a short-row heel between two small gussets."""
    numbers, mini = short_row_numbers(setting, rows, gusset, corners), MiniGusset(gusset)
    foot = setting.layout(first="instep", heel=numbers.rows.width)
    return [
        *mini.increases(setting, first="heel"),
        *rows.inward(numbers.rows),
        *rows.outward(numbers.rows),
        rows.across(numbers.rows),
        BeginHere(count=foot.stitches),
        *foot.arranged(),
        *corner_round(foot, corners),
        *mini.decreases(setting),
    ]
