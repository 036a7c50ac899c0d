"""The pocket: a heel worked in the round on twice its stitches, shaped and closed like a toe."""

from __future__ import annotations

import attrs

from loopwright.pattern.steps import Step
from loopwright.sock.heels._gusset import MiniGusset
from loopwright.sock.heels._heel import RIDGE, HeelNumbers, Setting
from loopwright.sock.needles import Layout
from loopwright.sock.rounds import plain
from loopwright.sock.wedge import Closing, Wedge, WedgeNumbers

__all__ = ["RoundHeelNumbers", "pocket", "pocket_numbers"]


@attrs.frozen(kw_only=True)
class RoundHeelNumbers(HeelNumbers):
    """A heel in the round: half of its stitches and its wedge."""

    half: int
    wedge: WedgeNumbers
    plain_rounds: int
    gusset: int


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
        *([RIDGE] if wedge.closing in (Closing.BIND_OFF, Closing.DRAWN_UP) else []),
    ]
