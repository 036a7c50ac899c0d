"""The wedge: a round of two halves, decreased at both sides and closed half to half.

A heel made in the round and a toe are both one. Common practice: a decrease round takes four
stitches, one at each end of each half. It is worked every other round until about a third of the
stitches is left, and the last round is a decrease round. 48 stitches become 16, and 64 become 20,
since a third of 64 can't be reached four at a time.

Worked from the tip, as a toe-up toe, the same numbers are increases.
"""

from __future__ import annotations

from typing import TypeAlias

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import SizingError
from loopwright.making import GRAFTS
from loopwright.pattern.items import Item, Mark, Marking, Run, k, k_to
from loopwright.pattern.steps import (
    BeginHere,
    DrawUp,
    Graft,
    Note,
    Part,
    RepeatRounds,
    Round,
    Step,
    ThreeNeedleBindOff,
)
from loopwright.pattern.values import UntilCount, Where
from loopwright.plurals import plural
from loopwright.sock.needles import Layout
from loopwright.sock.rounds import plain

__all__ = ["Phase", "Placement", "Wedge", "WedgeClosing", "WedgeNumbers"]


class Placement(Choice):
    """Where the decreases stand at either side."""

    BAND = "band"  # a band of plain stitches at the side, decreases leaning away from it
    PAIR = "pair"  # at the side itself, leaning towards each other
    LINE = "line"  # one line of centred double decreases


class WedgeClosing(Choice):
    """How the last stitches are closed."""

    GRAFT = "graft"
    GRAFT_TOGETHER = "graft, front and back in one pass"
    BIND_OFF = "three-needle bind-off"
    DRAWN_UP = "drawn up"

    @classmethod
    def what(cls) -> str:
        """Return what is chosen, as the key of a design file has it."""
        return "closing"

    def step(self) -> Step:
        """Return the step that closes."""
        if self is WedgeClosing.BIND_OFF:
            return ThreeNeedleBindOff()
        if self is WedgeClosing.DRAWN_UP:
            return DrawUp()
        return Graft(GRAFTS[self is WedgeClosing.GRAFT_TOGETHER])

    @property
    def courses(self) -> int:
        """Courses that the closing adds to the length, over both halves."""
        return 0 if self is WedgeClosing.DRAWN_UP else 1


@attrs.frozen
class Phase:
    """Decrease rounds, with a number of plain rounds after each."""

    rounds: int
    plain: int = 1


@attrs.frozen
class WedgeNumbers:
    """A wedge in stitches and rounds.

    Parameters
    ----------
    start, left : int, stitches
    phases : tuple of Phase
        The plain rounds after the very last decrease are left out.
    moved : float, stitches
        How far `left` is from what was asked.
    set_up : int
        Plain rounds that the shaping needs besides.
    """

    start: int
    left: int
    phases: tuple[Phase, ...]
    moved: float = 0.0
    set_up: int = 0

    @property
    def decrease_rounds(self) -> int:
        """How many decrease rounds there are."""
        return sum(phase.rounds for phase in self.phases)

    @property
    def courses(self) -> int:
        """All rounds, up to the last decrease."""
        whole = sum(phase.rounds * (1 + phase.plain) for phase in self.phases)
        return self.set_up + whole - (self.phases[-1].plain if self.phases else 0)


@attrs.frozen(kw_only=True)
class Wedge:
    """How a wedge is shaped.

    Parameters
    ----------
    placement : Placement
    band : int, stitches
        Width of the band at each side, even: half of it belongs to either half of the round.
    stop : float
        Share of the stitches that is left: 1/3, 3/8.
    left : int, stitches, optional
        So many are left, instead of a share.
    plain : int, rounds
        After each decrease round; 1 is every other round.
    every_round_last : int
        So many decreases at the end are worked in every round.
    phases : tuple of Phase, optional
        Instead of `plain`, `every_round_last` and `stop`: as the old patterns slow and quicken.
    closing : WedgeClosing

    Examples
    --------
    >>> Wedge().numbers(64)
    WedgeNumbers(start=64, left=20, phases=(Phase(rounds=11, plain=1),), moved=-1.33...)
    >>> Wedge(stop=3 / 8, every_round_last=3).numbers(64).phases
    (Phase(rounds=7, plain=1), Phase(rounds=3, plain=0))
    """

    placement: Placement = attrs.field(default=Placement.BAND, converter=Placement)
    band: int = 2
    stop: float = 1 / 3
    left: int | None = None
    plain: int = 1
    every_round_last: int = 0
    phases: tuple[Phase, ...] | None = None
    closing: WedgeClosing = attrs.field(default=WedgeClosing.GRAFT, converter=WedgeClosing)

    def __attrs_post_init__(self) -> None:
        for wrong, what, found, expected in (
            (self.band < 2 or self.band % 2, "wedge's band", self.band, "expected 2, 4, 6 ..."),
            (not 0 < self.stop < 1, "wedge's stop", self.stop, "expected a share from 0 to 1"),
            (
                self.plain < 0 or self.every_round_last < 0,
                "wedge's rounds",
                min(self.plain, self.every_round_last),
                "expected numbers from 0",
            ),
        ):
            if wrong:
                raise SizingError(what, str(found), expected)

    @property
    def least(self) -> int:
        """The fewest stitches that can be left.

        Each half keeps a stitch of either decrease and, outside them, half a band at either side.
        A line of double decreases could leave two, but knitted from the tip it needs a stitch on
        each of four needles.
        """
        return 2 * self.band + 4 if self.placement is Placement.BAND else 4

    def numbers(self, start: int) -> WedgeNumbers:
        """Return the numbers for a round of `start` stitches.

        Raises
        ------
        SizingError
            The halves aren't equal, or the number asked for can't be left.
        """
        if start % 2 or start < self.least + 4:
            expected = f"expected an even number from {self.least + 4}"
            raise SizingError("wedge", plural(start, "stitch"), expected)
        if self.phases is not None:
            left = start - 4 * sum(phase.rounds for phase in self.phases)
            self._refuse_left(start, left)
            return WedgeNumbers(start, left, self.phases, 0.0, self._set_up)
        asked = self.stop * start if self.left is None else float(self.left)
        if self.left is not None and (start - self.left) % 4:
            found = f"{plural(self.left, 'stitch')} left of {start}"
            raise SizingError("wedge", found, "a decrease round takes four at a time")
        rounds = [(start - left) // 4 for left in range(start - 4, self.least - 1, -4)]
        # Of two numbers as near, the smaller is left: a narrower tip makes a deeper pocket.
        best = min(rounds, key=lambda n: (abs(start - 4 * n - asked), start - 4 * n))
        self._refuse_left(start, start - 4 * best)
        last = min(self.every_round_last, best - 1)
        phases = (Phase(best - last, self.plain), Phase(last, 0))
        if self.left is not None and start - 4 * best != self.left:
            self._refuse_left(start, self.left)
        moved = start - 4 * best - asked
        return WedgeNumbers(
            start, start - 4 * best, phases[: 2 if last else 1], moved, self._set_up
        )

    @property
    def _set_up(self) -> int:
        # The markers are placed in one round, and another leads back from the middle of a half.
        return 2 if self.placement is Placement.LINE else 0

    def _refuse_left(self, start: int, left: int) -> None:
        if not self.least <= left < start:
            expected = f"expected {self.least} to {start - 4}"
            raise SizingError("wedge", f"{plural(left, 'stitch')} left of {start}", expected)

    def steps(self, numbers: WedgeNumbers, layout: Layout) -> list[Step]:
        """Return the decrease rounds and the closing; the round begins with the first half."""
        if self.placement is Placement.LINE:
            return [*self._line(numbers), self.closing.step()]
        start, end = _decreases(self.placement, self.band // 2)
        narrow = Round(layout.each(start=start, end=end))
        return [*_phased(narrow, numbers), self.closing.step()]

    def _line(self, numbers: WedgeNumbers) -> list[Step]:
        """Centred double decreases; the last stitch of either half is the middle of each.

        A decrease takes in stitches of both halves, so that the round begins in the middle of the
        first half meanwhile, and markers follow the two middle stitches.
        """
        half, quarter = numbers.start // 2, numbers.start // 4
        one = (k_to(Where.MARKER, before=2, name="B"), Run("cdd"))
        two = (k_to(Where.MARKER, before=2, name="A"), Run("cdd"))
        ready: list[Step] = [
            Part((Mark(Marking.PLACE, "A"), k(quarter))),
            BeginHere(),
            Part((k(half - quarter), Mark(Marking.PLACE, "B"), k_to())),
            Note(
                "Each cdd takes the 2 sts before a marker and the one after it: take the marker "
                "off for it, and put it back on the left of the st made."
            ),
        ]
        done: list[Step] = [
            Part((k_to(Where.MARKER, name="A"),)),
            BeginHere(),
        ]
        return [*ready, *_phased(Round((*one, *two, k_to())), numbers), *done]

    def increase_steps(self, numbers: WedgeNumbers, layout: Layout) -> list[Step]:
        """Return the same wedge from its tip: increases, from `left` to `start` stitches."""
        start, end = _increases(self.placement, self.band // 2)
        widen = Round(layout.each(start=start, end=end))
        return list(_phased(widen, attrs.evolve(numbers, start=numbers.left, left=numbers.start,
                                                phases=numbers.phases[::-1])))  # fmt: skip


Sides: TypeAlias = tuple[tuple[Item, ...], tuple[Item, ...]]


def _decreases(placement: Placement, edge: int) -> Sides:
    """Return what stands at the beginning and end of each half, for a band of 2 * `edge`."""
    if placement is Placement.PAIR:
        return (Run("k2tog"),), (Run("ssk"),)
    return (k(edge), Run("ssk")), (Run("k2tog"), k(edge))


def _increases(placement: Placement, edge: int) -> Sides:
    if placement is Placement.PAIR:
        return (k(1), Run("m1l")), (Run("m1r"), k(1))
    if placement is Placement.LINE:
        return (k(1), Run("m1l")), (Run("m1r"),)
    return (k(edge), Run("m1r")), (Run("m1l"), k(edge))


def _phased(shaping: Round, numbers: WedgeNumbers) -> list[Step]:
    """Return the shaping rounds of all phases; the last one ends on a shaping round."""
    steps: list[Step] = []
    count, each = numbers.start, 4 if numbers.left > numbers.start else -4
    for place, phase in enumerate(numbers.phases, start=1):
        if not phase.rounds:
            continue
        last = place == len(numbers.phases)
        count += each * phase.rounds
        between = plain(phase.plain)
        until = UntilCount(count, growing=each > 0)
        ending = 1 if last and phase.plain else 0
        steps.append(RepeatRounds((shaping, *between), until, ending=ending, count=count))
    return steps


guard(globals())
