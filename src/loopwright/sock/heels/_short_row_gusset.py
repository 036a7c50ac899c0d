"""The short-row heel with a gusset: room over the instep that a plain short-row heel lacks.

Stitches are increased at both sides of the heel, every other round, before the short rows, which
then run over the wider heel, and decreased away after it. By common practice about 4 a side at
fine gauge; here an eighth of the heel's stitches where no number is given.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

import attrs

from loopwright.pattern.steps import Step
from loopwright.sock.heels._changes import gusset_changes
from loopwright.sock.heels._heel import (
    Corners,
    Heel,
    HeelChange,
    Setting,
    girth_of_courses_mm,
    heel,
)
from loopwright.sock.heels._outline import HeelOutline
from loopwright.sock.heels.short_row import (
    ShortRowHeelNumbers,
    middle_changes,
    short_row_numbers,
    short_row_outline,
    short_row_steps,
)
from loopwright.sock.shortrows import ShortRows

__all__ = ["ShortRowGusset"]


@heel
@attrs.frozen(kw_only=True)
class ShortRowGusset(Heel):
    """A short-row heel between gussets.

    Parameters
    ----------
    rows : ShortRows
    gusset : int, stitches, optional
        At each side.
    corners : Corners

    Raises
    ------
    SizingError
        From its methods: too few stitches for the rows, or a gusset below 0.

    Examples
    --------
    >>> from loopwright.pattern import in_words
    >>> heel, setting = ShortRowGusset(), Setting(heel=32, instep=32)
    >>> numbers = heel.numbers(setting)
    >>> numbers.gusset, numbers.rows.width, numbers.leg_rounds
    (4, 40, 8)
    >>> print(in_words(heel.steps(setting)[1]))
    Rnd 1: Sole: k1, m1r, k to last st, m1l, k1; instep: knit.
    Rnd 2: Knit.
    Rep rnds 1 and 2 another 3 times (4 times in all). (72 sts)
    >>> heel.later_steps(setting)
    []
    """

    name: ClassVar[str] = "short-row with gusset"
    begins: ClassVar[str] = "heel"
    in_rows: ClassVar[bool] = True

    rows: ShortRows = attrs.field(factory=ShortRows)
    gusset: int | None = None
    corners: Corners = attrs.field(default=Corners.CLOSED, converter=Corners)

    def numbers(self, setting: Setting) -> ShortRowHeelNumbers:
        """Return the heel in stitches and rows."""
        return short_row_numbers(setting, self.rows, self._stitches(setting), self.corners)

    def steps(self, setting: Setting) -> list[Step]:
        """Return the steps; the same in both directions."""
        return short_row_steps(setting, self.rows, self._stitches(setting), self.corners)

    def changes(self, setting: Setting, *, roomier: bool) -> Iterator[HeelChange]:
        """Yield a wider gusset and a narrower middle, or the other way."""
        yield from gusset_changes(self, self._stitches(setting), roomier=roomier)
        yield from middle_changes(self, self.rows, self.numbers(setting).rows, roomier=roomier)

    def outline(self, setting: Setting) -> HeelOutline:
        """Lay out the rows in above the rows out, between the gussets."""
        return short_row_outline(self.numbers(setting), setting)

    def girth_mm(self, setting: Setting) -> float | None:
        """Return the girth over the heel by the flattened profile."""
        return girth_of_courses_mm(self.numbers(setting), setting, gusset=self._stitches(setting))

    def _stitches(self, setting: Setting) -> int:
        return max(2, round(setting.heel / 8)) if self.gusset is None else self.gusset
