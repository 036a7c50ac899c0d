"""What happens within a row or round: runs of a stitch, repeats, turns, markers, pick-ups.

Examples
--------
>>> from loopwright.pattern import *
>>> for row in (
...     Row([k(10), WrapTurn()], side="RS"),
...     Row([p(4), Run("p2tog"), p(1), Turn()], side="WS"),
...     Row([Mark(), k(4), Mark(), p_to(before=2), p(2)]),
...     Row([Repeat([k(2), p(2)], To(before=2)), k(2), Stay()]),
...     Part([PickUp(12, "left edge of the flap"), Lift()]),
... ):
...     print(in_words(row))
Row 1 (RS): K10, w&t.
Row 1 (WS): P4, p2tog, p1, turn.
Row 1: Place marker, k4, place marker, p to last 2 sts, p2.
Row 1: *K2, p2; rep from * to last 2 sts, k2, do not turn.
Pick up and knit 12 sts along left edge of the flap, lift strand across corner and k2tog
 with next st.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import TypeAlias

import attrs

from loopwright.border import guard
from loopwright.choice import Choice, one_of
from loopwright.errors import StepError
from loopwright.fabric.stitches import STITCHES
from loopwright.pattern._words import scanned
from loopwright.pattern.values import (
    NOT_LABELS,
    Amount,
    Count,
    Sized,
    To,
    Where,
    as_count,
    not_negative,
    values_of,
)

__all__ = [
    "KNIT",
    "LIFTED",
    "MAX_DEPTH",
    "PURL",
    "STAY",
    "TURNS",
    "Item",
    "Lift",
    "Mark",
    "Marking",
    "On",
    "PickUp",
    "Repeat",
    "Run",
    "Stay",
    "Turn",
    "With",
    "WorkPanel",
    "WrapTurn",
    "check_items",
    "check_name",
    "check_part",
    "check_times",
    "depth_of",
    "items_in",
    "k",
    "k_to",
    "p",
    "p_to",
]


def _name_problem(name: str) -> str:
    if not name:
        return "a name is missing"
    plain = name.isascii() and all(ch.isalnum() or ch in " -" for ch in name)
    if not plain or name != " ".join(name.split()) or not name[0].isalnum():
        return f"the name {name!r} may hold letters, digits, single spaces and hyphens"
    return f"leave 'the' out of {name!r}" if name.lower().startswith("the ") else ""


def check_name(instance: object, field: attrs.Attribute[str], value: str) -> None:
    """Refuse a name that text could not hold."""
    if problem := _name_problem(value):
        raise StepError(type(instance).__name__, problem)


def _one_word(instance: object, field: attrs.Attribute[str], value: str) -> None:
    if value and not (value.isascii() and value.isalnum() and value.lower() not in NOT_LABELS):
        raise StepError(type(instance).__name__, f"the name {value!r} must be one plain word")


def _as_items(items: Iterable[Item]) -> tuple[Item, ...]:
    return tuple(items)


def _as_names(names: Iterable[str]) -> tuple[str, ...]:
    return tuple(names)


@attrs.frozen
class _Told:
    """What is worked, and the column where a text says so: not a part of what it is."""

    column: int = attrs.field(default=0, eq=False, repr=False, kw_only=True)


@attrs.frozen
class Run(_Told):
    """A stitch worked a number of times, or as far as a place.

    Parameters
    ----------
    stitch : str
        A key of the stitch table: ``k``, ``ssk``, ``sl`` …; ``ds`` makes a double stitch, first
        after a turn.
    amount : int, Sized or To
        How many times, or how far.
    with_wraps : bool
        Work wrapped stitches together with their wraps, and the two legs of a double stitch as one.

    Raises
    ------
    StepError
        The stitch is no key, or the amount neither a number from 0 nor a place.
    """

    stitch: str = attrs.field()
    amount: Amount = attrs.field(default=1)
    with_wraps: bool = False

    @stitch.validator
    def _check_stitch(self, field: object, value: str) -> None:
        if not value or not value.isascii() or value != value.lower() or " " in value:
            raise StepError("Run", f"{value!r} is no key of a stitch")

    @amount.validator
    def _check_amount(self, field: object, value: Amount) -> None:
        if not isinstance(value, To):
            check_times("Run", value)


@attrs.frozen
class Repeat(_Told):
    """Items repeated a number of times in all, or as far as a place.

    ``vague`` marks a text that said "repeat n times" and neither "more" nor "in all"; ``times``
    then holds the reading *n times more*, and a review tries the other one too.
    """

    items: tuple[Item, ...] = attrs.field(converter=_as_items)
    times: Amount = attrs.field(factory=To)
    vague: bool = attrs.field(default=False, eq=False, repr=False, kw_only=True)

    depth: int = attrs.field(init=False, eq=False, repr=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "depth", depth_of(self.items))
        check_items("Repeat", self.items, nested=True)
        if not isinstance(self.times, To):
            check_times("Repeat", self.times)


@attrs.frozen
class On(_Told):
    """Items worked on some needles (or named parts); ``()`` stands for each needle.

    Inside, *to end* and *to last 3 sts* mean those of the needle.
    """

    parts: tuple[str, ...] = attrs.field(converter=_as_names)
    items: tuple[Item, ...] = attrs.field(converter=_as_items)

    def __attrs_post_init__(self) -> None:
        for part in self.parts:
            check_part("On", part)
        if len(self.parts) > 1 and not all(part.startswith("needle ") for part in self.parts):
            raise StepError("On", "name several needles by number, or one part by its name")
        check_items("On", self.items, nested=True)


class Marking(Choice):
    """What is done with a marker."""

    PLACE = "place"
    SLIP = "slip"
    REMOVE = "remove"


@attrs.frozen
class Mark(_Told):
    """Place, slip or remove a marker, here. Passing a marker needs no item: it is slipped."""

    doing: Marking | str = attrs.field(default=Marking.PLACE, converter=Marking)
    name: str = attrs.field(default="", validator=_one_word)


@attrs.frozen
class With(_Told):
    """Work on with the yarn of this name, from this stitch on; it is joined where it is new.

    Examples
    --------
    >>> from loopwright.pattern import Round, in_words
    >>> in_words(Round([Repeat([With("A"), k(1), With("B"), k(3)])]))
    'Rnd 1: *K1 A, k3 B; rep from * to end.'
    >>> in_words(Round([With("B"), KNIT]))
    'Rnd 1: With B, knit.'
    """

    yarn: str = attrs.field(validator=check_name)


@attrs.frozen
class WorkPanel(_Told):
    """Work the next round of the panel, see `loopwright.pattern.panels`."""


@attrs.frozen
class Turn(_Told):
    """Turn the work here, whatever is left on the needle."""


@attrs.frozen
class WrapTurn(_Told):
    """Wrap the next stitch, then turn."""


@attrs.frozen
class Stay(_Told):
    """Do not turn at the end of this row: the work goes on from here."""


@attrs.frozen
class PickUp(_Told):
    """Pick up and knit stitches along a named edge.

    The edge's name is for the knitter; the stitches come from the selvedge that starts at the
    point of the right needle. ``twisted`` knits them through the back loop.
    """

    amount: Count = attrs.field(converter=as_count, validator=not_negative)
    along: str = attrs.field(validator=check_name)
    twisted: bool = False


LIFTED = ("k2tog", "ssk", "m1l")


@attrs.frozen
class Lift(_Told):
    """Close a corner: lift a strand there and work it together with its neighbour.

    ``strand`` is ``"across"`` the corner (which closes it) or ``"beside"`` the stitch (which does
    not); ``stitch`` is ``"k2tog"`` or ``"ssk"``, or ``"m1l"``, which works the strand alone,
    twisted, as a stitch more. ``beyond`` lifts it behind the next stitch, the last of its half,
    and works it after that one.

    Examples
    --------
    >>> from loopwright.pattern import Part, in_words
    >>> in_words(Part([k_to(before=1), Lift("ssk", beyond=True)]))
    'K to last st, lift strand across corner and ssk with last st.'
    """

    stitch: str = attrs.field(default="k2tog", validator=one_of(LIFTED))
    strand: str = attrs.field(default="across", validator=one_of(("across", "beside")))
    beyond: bool = attrs.field(default=False, kw_only=True)

    def __attrs_post_init__(self) -> None:
        if self.beyond and self.stitch == "m1l":
            raise StepError("Lift", "a strand that is worked alone needs no stitch before it")


Item: TypeAlias = (
    Run | Repeat | On | Mark | With | WorkPanel | Turn | WrapTurn | Stay | PickUp | Lift
)
_ITEMS = (Run, Repeat, On, Mark, With, WorkPanel, Turn, WrapTurn, Stay, PickUp, Lift)
MAX_DEPTH = 12  # people lose count at three
TURNS = (Turn, WrapTurn, Stay)
KNIT = Run("k", To())
PURL = Run("p", To())
STAY = Stay()


def check_times(where: str, value: object) -> None:
    """Refuse anything but a number of times from 0."""
    if type(value) is int and value >= 0:
        return
    if not isinstance(value, int | Sized) or isinstance(value, bool):
        raise StepError(where, f"expected a number of times or a place, found {value!r}")
    if not all(isinstance(entry, int) and entry >= 0 for entry in values_of(value)):
        raise StepError(where, f"expected whole numbers from 0, found {value}")


@lru_cache(maxsize=256)
def _is_part(part: str) -> bool:
    """Tell whether text can name a part so: "needle 1", or a word that means nothing else."""
    number = part.removeprefix("needle ")
    if number != part:
        return number.isdigit() and number[0] != "0" and len(number) < 4
    if not (part.isascii() and part.isalpha() and part.islower()):
        return False
    return all(
        next(scanned(part + after, STITCHES), None) == ("PART", part, 0) for after in (":", " 4")
    )


def check_part(where: str, part: str) -> None:
    """Refuse a name that no needle or part can have."""
    if not _is_part(part):
        raise StepError(where, f"a part is 'needle 1' or one word such as 'instep', not {part!r}")


def depth_of(inner: Iterable[object]) -> int:
    """Return how deep repeats are nested in these items or steps, those themselves included."""
    return 1 + max((getattr(one, "depth", 0) for one in inner), default=0)


def items_in(items: Iterable[Item]) -> Iterator[Item]:
    """Yield items and those inside them, each before what is inside it."""
    for item in items:
        yield item
        if isinstance(item, Repeat | On):
            yield from items_in(item.items)


def check_items(where: str, items: tuple[Item, ...], *, nested: bool = False) -> None:
    """Refuse items that are none, or stand where they cannot."""
    if not items:
        raise StepError(where, "there is nothing to work")
    after_part = False
    for item in items:
        if type(item) is Run and not after_part:
            continue
        if getattr(item, "depth", 0) >= MAX_DEPTH:
            raise StepError(where, f"repeats nested more than {MAX_DEPTH} deep")
        if not isinstance(item, _ITEMS):
            raise StepError(where, f"{item!r} is no item of a row or round")
        if after_part and not isinstance(item, On | Stay):
            raise StepError(where, "what follows the name of a needle belongs to that needle")
        after_part = after_part or isinstance(item, On)
        if nested and isinstance(item, On | Stay):
            raise StepError(where, f"{type(item).__name__} can't stand inside a repeat or a part")


def k(amount: Count = 1) -> Run:
    """Knit this many."""
    return Run("k", amount)


def p(amount: Count = 1) -> Run:
    """Purl this many."""
    return Run("p", amount)


def k_to(where: Where = Where.END, *, before: Count = 0, name: str = "") -> Run:
    """Knit to a place, by default the end."""
    return Run("k", To(where, before, name))


def p_to(where: Where = Where.END, *, before: Count = 0, name: str = "") -> Run:
    """Purl to a place, by default the end."""
    return Run("p", To(where, before, name))


guard(globals())
