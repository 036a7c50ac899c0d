"""The short-row heel: rows that turn a stitch earlier each time, then out again; no gusset, no
picking up.

The rows in make the back of the heel, those out its underside, or the reverse toe up: the steps
are the same in both directions.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, ClassVar

import attrs

from loopwright.border import guard
from loopwright.pattern.steps import BeginHere, Step
from loopwright.sock.heels._changes import gusset_changes
from loopwright.sock.heels._gusset import MiniGusset
from loopwright.sock.heels._heel import (
    Corners,
    Heel,
    HeelChange,
    HeelNumbers,
    Setting,
    corner_round,
    girth_of_courses_mm,
    heel,
)
from loopwright.sock.heels._outline import (
    DEPTH,
    HeelMeasure,
    HeelOutline,
    HeelPart,
    MeasureLine,
    across,
    band,
    gusset_part,
)
from loopwright.sock.heels._told import worked_in_rows
from loopwright.sock.rounds import across_again
from loopwright.sock.shortrows import ShortRowNumbers, ShortRows

__all__ = ["ShortRow", "ShortRowHeelNumbers"]


@attrs.frozen(kw_only=True)
class ShortRowHeelNumbers(HeelNumbers):
    """A short-row heel: its turns, and the stitches of the gusset at each side."""

    rows: ShortRowNumbers
    gusset: int


@heel
@attrs.frozen(kw_only=True)
class ShortRow(Heel):
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
    >>> for step in heel.steps(setting)[1:3]:
    ...     print(in_words(step))
    Row 1 (RS): K31, w&t.
    Row 1 (WS): P30, w&t.
    >>> heel.later_steps(setting)
    []
    """

    name: ClassVar[str] = "short-row"
    begins: ClassVar[str] = "heel"
    in_rows: ClassVar[bool] = True

    rows: ShortRows = attrs.field(factory=ShortRows)
    gusset: int = 0
    corners: Corners = attrs.field(default=Corners.CLOSED, converter=Corners)

    def numbers(self, setting: Setting) -> ShortRowHeelNumbers:
        """Return the heel in stitches and rows."""
        return short_row_numbers(setting, self.rows, self.gusset, self.corners)

    def steps(self, setting: Setting) -> list[Step]:
        """Return the steps; the same in both directions."""
        return short_row_steps(setting, self.rows, self.gusset, self.corners)

    def changes(self, setting: Setting, *, roomier: bool) -> Iterator[HeelChange]:
        """Yield a small gusset and a narrower middle, or the other way."""
        yield from gusset_changes(self, self.gusset, roomier=roomier)
        yield from middle_changes(self, self.rows, self.numbers(setting).rows, roomier=roomier)

    def outline(self, setting: Setting) -> HeelOutline:
        """Lay out the rows in above the rows out."""
        return short_row_outline(self.numbers(setting), setting)

    def girth_mm(self, setting: Setting) -> float | None:
        """Return the girth over the heel by the flattened profile."""
        return girth_of_courses_mm(self.numbers(setting), setting, gusset=self.gusset)


def short_row_numbers(
    setting: Setting, rows: ShortRows, gusset: int, corners: Corners
) -> ShortRowHeelNumbers:
    """Return the numbers of a short-row heel between two small gussets."""
    numbers = rows.numbers(setting.heel + 2 * gusset)
    mini = MiniGusset(gusset)
    before, after = mini.rounds_before, mini.rounds_after + (corners is not Corners.LEFT)
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
    foot = setting.beyond(heel=numbers.rows.width)
    later = setting.yarn.into_stripes
    return [
        *mini.increases(setting, first="heel"),
        *setting.on_one_needle(numbers.rows.width),
        *worked_in_rows(numbers.rows.width, setting.instep),
        *setting.yarn.before(),
        *rows.inward(numbers.rows),
        *rows.outward(numbers.rows),
        # A yarn of the round waits where the rows end: with it across, and on.
        *([] if later else setting.yarn.after()),
        *across_again(numbers.rows.width),
        rows.across(numbers.rows),
        *(setting.yarn.after() if later else []),
        BeginHere(count=foot.stitches),
        *foot.arranged(),
        *corner_round(foot, corners, setting.yarn.strands),
        *mini.decreases(setting),
    ]


def middle_changes(
    heel: Heel, rows: ShortRows, now: ShortRowNumbers, *, roomier: bool
) -> Iterator[HeelChange]:
    """Yield a heel whose short rows go to a narrower middle, or to a wider one."""
    made: Any = heel
    sides = range(now.side + 1, now.width // 2) if roomier else range(now.side - 1, 0, -1)
    for side in sides:
        words = f"short rows to a middle of {now.width - 2 * side} stitches"
        changed = attrs.evolve(made, rows=attrs.evolve(rows, side=side))
        yield HeelChange("narrower middle", words, 2 * (side - now.side), changed)


def short_row_outline(numbers: ShortRowHeelNumbers, setting: Setting) -> HeelOutline:
    """Lay out the rows in above the rows out: each turn is a stitch earlier, then one later."""
    stitch, course = setting.stitch_mm, setting.course_mm
    wide, narrow = numbers.rows.width * stitch, numbers.rows.middle * stitch
    deep = numbers.foot_courses * course

    def gusset(at_mm: float, *, down: bool) -> list[HeelPart]:
        return gusset_part(
            numbers.gusset, at_mm, heel_mm=setting.heel * stitch, stitch_mm=stitch,
            course_mm=course, down=down,
        )  # fmt: skip

    return HeelOutline(
        title="short rows, laid out",
        parts=(
            HeelPart("back of the heel", band(wide, deep, narrow, 0.0)),
            HeelPart("under the heel", band(narrow, 0.0, wide, -deep)),
            *gusset(deep, down=False),
            *gusset(-deep, down=True),
        ),
        measures=(
            across("heel, width before the turns", wide, deep, MeasureLine.ABOVE),
            HeelMeasure(DEPTH, (wide / 2, 0.0), (wide / 2, -deep), MeasureLine.BESIDE),
            across("between the turns", narrow, 0.0, MeasureLine.ACROSS),
        ),
        closed_mm=narrow,
    )


guard(globals())
