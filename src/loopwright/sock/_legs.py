"""Legs: what lies between the cuff and the heel.

A leg says what its stitches must divide by, how many there are at its upper end, and gives the
rounds between. Cuff down a shaped leg decreases at the centre back from the calf to the ankle, toe
up it increases.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable
from itertools import groupby
from typing import Any, ClassVar

import attrs

from loopwright.errors import SizingError
from loopwright.fabric.stitches import STITCHES
from loopwright.gauge import Gauge
from loopwright.pattern.items import Item, Mark, Marking, Repeat, Run, k, k_to
from loopwright.pattern.steps import Note, RepeatRounds, Round, Step
from loopwright.pattern.values import To, Where
from loopwright.plurals import plural
from loopwright.sock._cuffs import Cuff
from loopwright.sock._parts import Parts
from loopwright.sock._sizing import Multiple, fit_stitches
from loopwright.sock.needles import taken
from loopwright.sock.rounds import plain, repeated

__all__ = ["Leg", "LegSetting", "PatternedLeg", "PlainLeg", "RibbedLeg", "ShapedLeg", "leg",
           "leg_named", "leg_names"]  # fmt: skip


@attrs.frozen(kw_only=True)
class LegSetting:
    """The place in a sock that a leg is made for.

    Parameters
    ----------
    stitches : int
        At the ankle.
    rounds : int
        Of the leg, without the cuff.
    back : int, stitches
        From the round's beginning to the centre back, at the ankle.
    girth_mm : float, mm
        Of the sock at its upper end, ease taken off.
    gauge : Gauge
    cuff : Cuff
    is_toe_up : bool
    """

    stitches: int
    rounds: int
    back: int
    girth_mm: float
    gauge: Gauge
    cuff: Cuff
    is_toe_up: bool


class Leg(ABC):
    """What a sock asks of a leg; one of your own needs a `name` and its `steps`.

    Examples
    --------
    >>> from loopwright import Gauge
    >>> from loopwright.sock import LegSetting, cuff_named, leg_named
    >>> rib = cuff_named("2x2 rib")
    >>> setting = LegSetting(
    ...     stitches=64, rounds=20, back=16, girth_mm=200.0, gauge=Gauge.of(32, 44), cuff=rib,
    ...     is_toe_up=False,
    ... )
    >>> ribbed = leg_named("ribbed")
    >>> ribbed.multiple(rib), ribbed.top(setting), [step.times for step in ribbed.steps(setting)]
    (4, 64, [20])
    """

    __slots__ = ()

    name: ClassVar[str]

    def multiple(self, cuff: Cuff) -> int:
        """Return what the sock's stitches must divide by; usually 1, any number will do."""
        return 1

    def top(self, setting: LegSetting) -> int:
        """Return the stitches at the upper end; usually the ankle's."""
        return setting.stitches

    @abstractmethod
    def steps(self, setting: LegSetting) -> list[Step]:
        """Return the rounds of the leg."""


leg: Parts[Leg] = Parts("leg", Leg, {"name": ()}, is_usual=False)
"""Class decorator: let socks ask for this leg by its ``name``; see `loopwright.sock.Parts`."""


def leg_names() -> tuple[str, ...]:
    """Return the names of all legs.

    Examples
    --------
    >>> leg_names()
    ('plain', 'ribbed', 'patterned', 'shaped')
    """
    return leg.names()


def leg_named(name: str, **options: Any) -> Leg:
    """Return a leg by its name.

    Raises
    ------
    SizingError
        No leg is called that, or it has no such option.

    Examples
    --------
    >>> leg_named("shaped", widest=72)
    ShapedLeg(widest=72)
    >>> leg_named("ribbed").multiple(Cuff(repeat=(k(2), Run("p", 2))))
    4
    """
    return leg.named(name, **options)


@leg
@attrs.frozen(kw_only=True)
class PlainLeg(Leg):
    """A tube of plain knitting."""

    name: ClassVar[str] = "plain"

    def steps(self, setting: LegSetting) -> list[Step]:
        """Return plain rounds."""
        return plain(setting.rounds, count=setting.stitches)


@leg
@attrs.frozen(kw_only=True)
class RibbedLeg(Leg):
    """The cuff's rib, carried on to the heel."""

    name: ClassVar[str] = "ribbed"

    def multiple(self, cuff: Cuff) -> int:
        """Return the rib's."""
        return cuff.multiple

    def steps(self, setting: LegSetting) -> list[Step]:
        """Return rounds of the rib."""
        return repeated((setting.cuff.round,), setting.rounds)


def _as_rounds(rounds: Iterable[Iterable[Run]]) -> tuple[tuple[Run, ...], ...]:
    return tuple(tuple(items) for items in rounds)


@leg
@attrs.frozen(kw_only=True)
class PatternedLeg(Leg):
    """A stitch pattern, repeated round the leg and up it.

    Parameters
    ----------
    rounds : tuple of tuple of Run
        One repeat: its rounds, each one repeat wide. Every round takes as many stitches as it
        leaves.

    Raises
    ------
    SizingError
        The rounds don't fit on each other.

    Examples
    --------
    >>> eyelets = PatternedLeg(rounds=[[k(6)], [Run("yo"), Run("k2tog"), k(4)]])
    >>> eyelets.width
    6
    >>> from loopwright import Gauge
    >>> from loopwright.sock import LegSetting, cuff_named
    >>> rib = cuff_named("2x2 rib")
    >>> setting = LegSetting(
    ...     stitches=66, rounds=20, back=16, girth_mm=200.0, gauge=Gauge.of(32, 44), cuff=rib,
    ...     is_toe_up=False,
    ... )
    >>> eyelets.multiple(rib), [step.times for step in eyelets.steps(setting)]
    (6, [10])
    """

    name: ClassVar[str] = "patterned"

    rounds: tuple[tuple[Run, ...], ...] = attrs.field(converter=_as_rounds)

    def __attrs_post_init__(self) -> None:
        if not self.rounds:
            raise SizingError("stitch pattern", "no rounds", "give its rounds, one repeat wide")
        for number, items in enumerate(self.rounds, start=1):
            takes, leaves = taken(items), _left(items)
            if takes != leaves or takes != self.width or not takes:
                found = f"round {number} takes {plural(takes, 'stitch')} and leaves {leaves}"
                raise SizingError("stitch pattern", found, f"expected {self.width} of both")

    @property
    def width(self) -> int:
        """Stitches of one repeat."""
        return taken(self.rounds[0])

    def multiple(self, cuff: Cuff) -> int:
        """Return the width of the repeat."""
        return self.width

    def steps(self, setting: LegSetting) -> list[Step]:
        """Return the repeats, and as much of the last one as there are rounds for."""
        whole, rest = divmod(setting.rounds, len(self.rounds))
        once, more = _gathered(self.rounds), _gathered(self.rounds[:rest])
        return [RepeatRounds(once, whole), *more]


def _gathered(rounds: tuple[tuple[Run, ...], ...]) -> tuple[Step, ...]:
    """Return rounds, like ones one after the other as a repeat."""
    found: list[Step] = []
    for items, those in groupby(rounds):
        found += repeated((Round((_repeat(items),)),), len(list(those)))
    return tuple(found)


def _repeat(items: tuple[Run, ...]) -> Item:
    if len(items) == 1 and items[0].stitch in ("k", "p"):
        return attrs.evolve(items[0], amount=To())
    return Repeat(items, To())


def _left(items: tuple[Run, ...]) -> int:
    return sum(STITCHES[i.stitch].leaves * i.amount for i in items if isinstance(i.amount, int))


@leg
@attrs.frozen(kw_only=True)
class ShapedLeg(Leg):
    """A leg that widens to the calf: two stitches at the centre back, at even distances.

    Parameters
    ----------
    widest : int, stitches, optional
        At the upper end; by default what the leg's girth there asks for.
    """

    name: ClassVar[str] = "shaped"

    widest: int | None = None

    def top(self, setting: LegSetting) -> int:
        """Return the stitches at the upper end, which suit the cuff."""
        step = setting.cuff.multiple * (1 if setting.cuff.multiple % 2 == 0 else 2)
        if self.widest is not None:
            top = self.widest
        else:
            rule = Multiple(step)
            top = fit_stitches(setting.girth_mm, setting.gauge, ease=0.0, multiple=rule).count
            # A leg that is no wider than the ankle stays as it is.
            top = max(top, step * -(-setting.stitches // step))
        times = (top - setting.stitches) // 2
        if top % step or (top - setting.stitches) % 2 or top < setting.stitches:
            found = f"{plural(top, 'stitch')} at the cuff, {setting.stitches} at the ankle"
            raise SizingError(
                "leg", found, f"expected more, an even difference, a multiple of {step}"
            )
        if times > setting.rounds - 2:
            found = f"{times} shaping rounds in {setting.rounds}"
            raise SizingError("leg", found, "make the leg longer, or its upper end narrower")
        return top

    def steps(self, setting: LegSetting) -> list[Step]:
        """Return the shaping and the plain rounds."""
        top, ankle = self.top(setting), setting.stitches
        times = (top - ankle) // 2
        if not times:
            return plain(setting.rounds, count=ankle)
        every = min((setting.rounds - 2) // times, 10)
        last = setting.rounds - every * times
        back = setting.back + (0 if setting.is_toe_up else times)
        place = Round((k(back), Mark(Marking.PLACE, _BACK), k_to()))
        remove = Round((k_to(Where.MARKER, name=_BACK), Mark(Marking.REMOVE, _BACK), k_to()))
        shaping, count = _shaping(setting.is_toe_up), top if setting.is_toe_up else ankle
        body = RepeatRounds((shaping, *plain(every - 1)), times, count=count)
        where = Note(f"Marker {_BACK} stands at the centre back.")
        return [place, where, body, *plain(last - 2), remove]


_BACK = "C"  # a letter: "place marker back" would say something else


def _shaping(widens: bool) -> Round:
    middle = (k(1), Mark(Marking.SLIP, _BACK), k(1))
    if widens:
        items: tuple[Item, ...] = (k_to(Where.MARKER, before=1, name=_BACK), Run("m1r"), *middle,
                                   Run("m1l"), k_to())  # fmt: skip
    else:
        items = (
            k_to(Where.MARKER, before=3, name=_BACK),
            Run("k2tog"),
            *middle,
            Run("ssk"),
            k_to(),
        )
    return Round(items)
