"""Toes: how the foot is closed, or begun.

A toe is asked for its numbers, for the steps that close a foot (cuff down) and for those that
begin one (toe up). A foot to be closed begins with either half of the toe, as many stitches on
each; a foot that was begun ends the same way, joined in the round.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from typing import Any, ClassVar, Protocol

import attrs

from loopwright.errors import SizingError
from loopwright.pattern.items import Item, Lift, Repeat, Run, k, k_to
from loopwright.pattern.steps import (
    BeginHere,
    ClosedCastOn,
    DrawUp,
    Join,
    Note,
    Part,
    ProvisionalCastOn,
    Recapture,
    Round,
    Row,
    Side,
    Step,
)
from loopwright.pattern.values import To
from loopwright.plurals import plural
from loopwright.sock._parts import Parts
from loopwright.sock.heels import DRAWN_OUT, RIDGE
from loopwright.sock.needles import Layout
from loopwright.sock.rounds import across_again, plain
from loopwright.sock.shortrows import ShortRowNumbers, ShortRows
from loopwright.sock.wedge import Wedge, WedgeClosing, WedgeNumbers

__all__ = [
    "ShortRowToe",
    "StarNumbers",
    "StarToe",
    "Toe",
    "ToeNumbers",
    "WedgeToe",
    "toe",
    "toe_named",
    "toe_names",
]


class ToeNumbers(Protocol):
    """What the sock must know of a toe."""

    @property
    def courses(self) -> float:
        """Courses that the toe adds to the foot's length."""
        ...


class Toe(ABC):
    """What a sock asks of a toe.

    Examples
    --------
    >>> from loopwright.sock import toe_named
    >>> from loopwright.sock.needles import Layout
    >>> wedge, layout = toe_named("wedge"), Layout((("instep", 32), ("sole", 32)))
    >>> [type(step).__name__ for step in wedge.steps(layout)]
    ['Arrange', 'RepeatRounds', 'Graft']
    >>> [type(step).__name__ for step in wedge.first_steps(layout)]
    ['ClosedCastOn', 'Join', 'Arrange', 'RepeatRounds', 'RepeatRounds']
    """

    __slots__ = ()

    name: ClassVar[str]

    @abstractmethod
    def numbers(self, stitches: int) -> ToeNumbers:
        """Return the toe for a round of `stitches`; `SizingError` where it can't be made."""

    @abstractmethod
    def steps(self, layout: Layout) -> list[Step]:
        """Return the steps that close the foot."""

    @abstractmethod
    def first_steps(self, layout: Layout) -> list[Step]:
        """Return the steps that begin the foot, from nothing to a round."""


toe: Parts[Toe] = Parts("toe", Toe, {"name": ()})
"""Class decorator: let socks ask for this toe by its ``name``; see `loopwright.sock.Parts`."""


def toe_names() -> tuple[str, ...]:
    """Return the names of all toes.

    Examples
    --------
    >>> toe_names()
    ('wedge', 'round', 'short-row')
    """
    return toe.names()


def toe_named(name: str, **options: Any) -> Toe:
    """Return a toe by its name.

    Raises
    ------
    SizingError
        No toe is called that, or it has no such option.

    Examples
    --------
    >>> star = toe_named("round", sectors=8).numbers(64)
    >>> star.counts, star.courses
    ((56, 48, 40, 32, 24, 16, 8), 28)
    """
    return toe.named(name, **options)


@toe
@attrs.frozen(kw_only=True)
class WedgeToe(Toe):
    """The usual toe: four stitches every other round down to about a third, closed half to half.

    Toe up it is a closed cast-on, with the same rounds as increases.

    Parameters
    ----------
    wedge : Wedge
    """

    name: ClassVar[str] = "wedge"

    wedge: Wedge = attrs.field(factory=Wedge)

    def numbers(self, stitches: int) -> WedgeToeNumbers:
        """Return the toe's numbers."""
        return WedgeToeNumbers(self.wedge.numbers(stitches), self.wedge.closing)

    def steps(self, layout: Layout) -> list[Step]:
        """Return the decreases and the closing."""
        return [
            *layout.arranged(),
            *self.wedge.steps(self.wedge.numbers(layout.stitches), layout),
            *_ridge(self.wedge.closing),
        ]

    def first_steps(self, layout: Layout) -> list[Step]:
        """Return a closed cast-on and the increases."""
        numbers = self.wedge.numbers(layout.stitches)
        half = numbers.left // 2
        return [
            ClosedCastOn(half, count=numbers.left),
            Join(),
            *_tip(layout, half).arranged(),
            *plain(1),
            *self.wedge.increase_steps(numbers, layout),
        ]


@attrs.frozen
class WedgeToeNumbers:
    """A wedge and what its closing adds."""

    wedge: WedgeNumbers
    closing: WedgeClosing = WedgeClosing.GRAFT

    @property
    def courses(self) -> float:
        """Courses that the toe adds to the foot's length."""
        return self.wedge.courses + self.closing.courses / 2


def _ridge(closing: WedgeClosing) -> list[Step]:
    return [RIDGE] if closing in (WedgeClosing.BIND_OFF, WedgeClosing.DRAWN_UP) else []


@attrs.frozen
class StarNumbers:
    """A star toe: a decrease in each sector, as many plain rounds after it as stitches between.

    Parameters
    ----------
    stitches : int
    sectors, width : int
        What is left of the round after the set-up, divided.
    last : int, stitches
        Left in each sector.
    """

    stitches: int
    sectors: int
    width: int
    last: int = 1

    @property
    def set_up(self) -> int:
        """Stitches that one round takes away first, so that the sectors are equal."""
        return self.stitches - self.sectors * self.width

    @property
    def counts(self) -> tuple[int, ...]:
        """Stitches after each decrease round."""
        return tuple(self.sectors * width for width in range(self.width - 1, self.last - 1, -1))

    @property
    def courses(self) -> float:
        """All rounds to the last decrease, with the set-up."""
        return sum(width for width in range(self.last, self.width)) + (2 if self.set_up else 0)


@toe
@attrs.frozen(kw_only=True)
class StarToe(Toe):
    """The round toe: the round in sectors, a decrease in each, drawn up at the end.

    Plain rounds after each decrease are as many as the stitches between the decreases, so that
    they get fewer towards the tip (Glasgow Herald 1939: 7 sectors of 8, down to 7 stitches).

    Parameters
    ----------
    sectors : int, optional
        By default 8, or what divides the stitches among 7, 9, 10 and 6.
    last : int, stitches
        Left in each sector when the tip is drawn up.
    """

    name: ClassVar[str] = "round"

    sectors: int | None = None
    last: int = 1

    def numbers(self, stitches: int) -> StarNumbers:
        """Return the toe's numbers."""
        sectors = self.sectors or next(
            (each for each in (8, 7, 9, 10, 6) if stitches % each == 0 and stitches // each > 3), 8
        )
        width = stitches // sectors
        if sectors < 3 or self.last < 1 or width <= self.last:
            found = f"{plural(stitches, 'stitch')} in {plural(sectors, 'sector')}"
            found += f", {self.last} left in each"
            raise SizingError("round toe", found, "expected 3 sectors or more, wide enough")
        return StarNumbers(stitches, sectors, width, self.last)

    def steps(self, layout: Layout) -> list[Step]:
        """Return the decreases; the strand is drawn through the last stitches."""
        numbers = self.numbers(layout.stitches)
        steps = self._set_up(numbers, "k2tog")
        for between in range(numbers.width - 2, numbers.last - 2, -1):
            count = numbers.sectors * (between + 1)
            steps += [_round_of(_some(between), Run("k2tog"), count=count), *plain(between)]
        if numbers.last > 1:
            steps.pop()  # the plain rounds after the last decrease
        return [*steps, DrawUp()]

    @staticmethod
    def _set_up(numbers: StarNumbers, stitch: str) -> list[Step]:
        """Return the round that brings the stitches to a multiple of the sectors, or from it."""
        away = numbers.set_up
        if not away:
            return []
        narrows = stitch == "k2tog"
        now = numbers.stitches if narrows else numbers.stitches - away
        each = now // away
        items: tuple[Item, ...] = (Repeat((k(each - 2 * narrows), Run(stitch)), away),)
        if now % away:
            items += (k_to(),)
        count = numbers.stitches - away if narrows else numbers.stitches
        shaping = Round(items, count=count)
        return [shaping, *plain(1)] if narrows else [*plain(1), shaping]

    def first_steps(self, layout: Layout) -> list[Step]:
        """Return a closed cast-on of two stitches a pair of sectors, and the increases."""
        numbers = self.numbers(layout.stitches)
        if numbers.sectors % 2:
            even = 8 if numbers.sectors == 7 else numbers.sectors + 1
            numbers = StarToe(sectors=even, last=self.last).numbers(layout.stitches)
        start = numbers.sectors * numbers.last
        needles = _tip(layout, start // 2).arranged() if layout.is_numbered else []
        steps: list[Step] = [
            ClosedCastOn(start // 2, count=start),
            Join(),
            *needles,
            *plain(1),
        ]
        for width in range(numbers.last, numbers.width):
            count = numbers.sectors * (width + 1)
            steps.append(_round_of(k(width), Run("m1l"), count=count))
            if width + 1 < numbers.width:
                steps += plain(width)
        return [*steps, *self._set_up(numbers, "m1l")]


def _tip(layout: Layout, half: int) -> Layout:
    """Return how the stitches lie that a toe begins with, `half` of them in each half."""
    (first, _), (second, _) = layout.parts
    return Layout(((first, half), (second, half)), layout.needles)


def _some(stitches: int) -> Run | None:
    return k(stitches) if stitches else None


def _round_of(*items: Run | None, count: int) -> Round:
    return Round((Repeat(tuple(item for item in items if item is not None), To()),), count=count)


@toe
@attrs.frozen(kw_only=True)
class ShortRowToe(Toe):
    """A toe of short rows over one half, joined to the other half; toe up begun over waste yarn.

    Parameters
    ----------
    rows : ShortRows
    closing : WedgeClosing
        Of the two halves, cuff down and toe up alike.
    """

    name: ClassVar[str] = "short-row"

    rows: ShortRows = attrs.field(factory=ShortRows)
    closing: WedgeClosing = attrs.field(default=WedgeClosing.GRAFT, converter=WedgeClosing)

    def numbers(self, stitches: int) -> ShortRowNumbers:
        """Return the toe's numbers."""
        return self.rows.numbers(stitches // 2)

    def steps(self, layout: Layout) -> list[Step]:
        """Return the short rows over the first half and the closing."""
        numbers = self.numbers(layout.stitches)
        return [
            *layout.arranged(),
            Note(
                "The toe is worked back and forth on the {} sts of the first half; the other half "
                "rests.",
                numbers=[numbers.width],
            ),
            *self.rows.inward(numbers),
            *self.rows.outward(numbers),
            # Past the last turn, so that the closing begins at the corner where the yarn is.
            *across_again(numbers.width),
            self.rows.across(numbers),
            BeginHere(),
            self.closing.step(),
            *_ridge(self.closing),
        ]

    def first_steps(self, layout: Layout) -> list[Step]:
        """Return a provisional cast-on, the short rows, and the round with what was cast on."""
        numbers = self.numbers(layout.stitches)
        half = numbers.width
        corner = Lift("k2tog", "across")
        return [
            ProvisionalCastOn(half),
            Note("Turn the work: the first row is on the wrong side."),
            Row((Run("p", To()),), side=Side.WS),
            *self.rows.inward(numbers),
            *self.rows.outward(numbers),
            *across_again(numbers.width),
            self.rows.across(numbers),
            Note(
                "Lift the strands between the {} sts cast on over waste yarn on a second needle "
                "that points to the right: {} lie between them, and the last is the one at the "
                "corner where they end.",
                numbers=[half, half - 1],
            ),
            DRAWN_OUT,
            Recapture(corner="last", count=2 * half),
            Note(
                "The {} sts from the waste yarn come next: half a rnd, up to where it begins.",
                numbers=[half],
            ),
            Join(),
            Part((corner, k_to())),
            *layout.arranged(),
            Round((corner, k_to())),
        ]
