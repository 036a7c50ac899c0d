"""The pocket: a heel worked in the round on twice its stitches, shaped and closed like a toe."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterator

import attrs

from loopwright.errors import SizingError
from loopwright.pattern.steps import Step
from loopwright.sock.heels._changes import gusset_changes, plain_round_changes
from loopwright.sock.heels._gusset import MiniGusset
from loopwright.sock.heels._heel import (
    RIDGE,
    Corners,
    Heel,
    HeelChange,
    HeelNumbers,
    Setting,
    girth_of_courses_mm,
)
from loopwright.sock.heels._outline import (
    DEPTH,
    HeelMeasure,
    HeelOutline,
    HeelPart,
    MeasureLine,
    across,
    gusset_part,
    mirrored,
)
from loopwright.sock.needles import Layout
from loopwright.sock.rounds import plain
from loopwright.sock.wedge import Wedge, WedgeClosing, WedgeNumbers

__all__ = ["Pocket", "RoundHeelNumbers", "pocket", "pocket_numbers"]


@attrs.frozen(kw_only=True)
class RoundHeelNumbers(HeelNumbers):
    """A heel in the round: half of its stitches and its wedge."""

    half: int
    wedge: WedgeNumbers
    plain_rounds: int
    gusset: int


@attrs.frozen(kw_only=True)
class Pocket(Heel):
    """What heels in the round have in common: all but when they are made.

    Parameters
    ----------
    wedge : Wedge
        Its shaping, stopping point and closing.
    plain_rounds : int
        Before the shaping.
    gusset : int
        Stitches increased at each side before the heel, and taken away after it.
    corners : Corners
    """

    wedge: Wedge = attrs.field(factory=Wedge)
    plain_rounds: int = 1
    gusset: int = 0
    corners: Corners = attrs.field(default=Corners.CLOSED, converter=Corners)

    @abstractmethod
    def numbers(self, setting: Setting) -> RoundHeelNumbers:
        """Return the heel in stitches and rounds."""

    def girth_mm(self, setting: Setting) -> float | None:
        """Return the girth over the heel by the flattened profile."""
        # The graft is half a course more on either side.
        return girth_of_courses_mm(self.numbers(setting), setting, gusset=self.gusset, more=1)

    def changes(self, setting: Setting, *, roomier: bool) -> Iterator[HeelChange]:
        """Yield plain rounds, a small gusset, and fewer stitches left, or the other way."""
        yield from plain_round_changes(self, self.plain_rounds, roomier=roomier)
        yield from gusset_changes(self, self.gusset, roomier=roomier)
        if self.wedge.phases is not None:
            return  # what somebody asked for, round by round
        now = self.numbers(setting).wedge
        least = self.wedge.least - 1
        lefts = range(now.left - 4, least, -4) if roomier else range(now.left + 4, now.start, 4)
        for left in lefts:
            words = f"heel decreased {'to' if roomier else 'no further than'} {left} stitches"
            heel = attrs.evolve(self, wedge=attrs.evolve(self.wedge, left=left))
            yield HeelChange("decreased further", words, left - now.left, heel)

    def outline(self, setting: Setting) -> HeelOutline:
        """Narrow a tube as the wedge's phases do: each decrease takes two stitches of a half."""
        numbers, stitch, course = self.numbers(setting), setting.stitch_mm, setting.course_mm
        half, low = numbers.half * stitch, -(numbers.plain_rounds + numbers.wedge.set_up) * course
        edge = [(half / 2, 0.0), (half / 2, low)]
        for phase in numbers.wedge.phases:
            half -= 2 * phase.rounds * stitch
            low -= phase.rounds * (1 + phase.plain) * course
            edge.append((half / 2, low))
        tip = -numbers.foot_courses * course  # the rounds after the last decrease aren't worked
        edge[-1] = (half / 2, tip)
        right = edge[0][0]
        gusset = gusset_part(
            self.gusset, 0.0, heel_mm=setting.heel * stitch, stitch_mm=stitch, course_mm=course
        )
        return HeelOutline(
            title="the heel by itself, lying flat",
            parts=(HeelPart("heel", mirrored(edge)), *gusset),
            measures=(
                across("heel, width at its opening", 2 * right, 0.0, MeasureLine.ABOVE),
                HeelMeasure(DEPTH, (right, 0.0), (right, tip), MeasureLine.BESIDE),
                across("heel, width where it is closed", half, tip, MeasureLine.BELOW),
            ),
            closed_mm=half,
            is_closed=True,
        )


def pocket_numbers(
    setting: Setting, wedge: Wedge, plain_rounds: int, gusset: int, *, rounds_more: int = 0
) -> RoundHeelNumbers:
    """Return the numbers of a heel made in the round on twice the heel's stitches.

    Parameters
    ----------
    setting : Setting
    wedge : Wedge
    plain_rounds : int
        Before the shaping.
    gusset : int, stitches
    rounds_more : int
        Whole rounds that the heel's steps work after it, besides a gusset's.
    """
    half = setting.heel + 2 * gusset
    numbers = wedge.numbers(2 * half)
    if plain_rounds < 0:
        raise SizingError("heel", f"{plain_rounds} plain rounds", "expected none or more")
    courses = plain_rounds + numbers.courses + wedge.closing.courses / 2
    rounds = MiniGusset(gusset)
    before, after = rounds.rounds_before, rounds.rounds_after + rounds_more
    return RoundHeelNumbers(
        foot_courses=courses,
        leg_courses=courses,
        foot_rounds=before if setting.is_toe_up else after,
        leg_rounds=after if setting.is_toe_up else before,
        half=half,
        wedge=numbers,
        plain_rounds=plain_rounds,
        gusset=gusset,
    )


def pocket(numbers: RoundHeelNumbers, wedge: Wedge, layout: Layout) -> list[Step]:
    """Return the rounds of the heel, from twice its stitches, arranged, to the closing."""
    return [
        *plain(numbers.plain_rounds),
        *wedge.steps(numbers.wedge, layout),
        *([RIDGE] if wedge.closing in (WedgeClosing.BIND_OFF, WedgeClosing.DRAWN_UP) else []),
    ]
