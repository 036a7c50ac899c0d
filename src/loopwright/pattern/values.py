"""Values that instructions hold: counts and lengths that differ by size, and places to work to."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any, TypeAlias, overload

import attrs

from loopwright.border import guard
from loopwright.choice import Choice, one_of
from loopwright.errors import SizeError

__all__ = [
    "NOT_LABELS",
    "Amount",
    "Count",
    "Sized",
    "SizedLength",
    "To",
    "UntilCount",
    "UntilMeasures",
    "UntilWorked",
    "Where",
    "as_count",
    "as_many",
    "at_size",
    "count",
    "filled",
    "in_text",
    "not_negative",
    "plus",
    "sized",
    "values_of",
]

Number: TypeAlias = int | float
# Words that can follow "marker" in a sentence, and so can't be the name of one.
NOT_LABELS = (
    "and", "here", "for", "to", "on", "then", "slip", "tbl", "through", "kwise", "knitwise",
    "pwise", "purlwise", "wyib", "wyb", "wyif", "wyf", "with", "picking",
)  # fmt: skip
MM_PER = {"mm": 1.0, "cm": 10.0, "in": 25.4}  # inch: exact by the international definition (1959)


def _numbers(values: Iterable[Number]) -> tuple[Number, ...]:
    return tuple(values)


@attrs.frozen
class Sized:
    """One value per size, smallest size first; written ``48 (56, 64)``.

    Raises
    ------
    SizeError
        Fewer than two values.

    Examples
    --------
    >>> str(Sized((48, 56, 64)))
    '48 (56, 64)'
    """

    values: tuple[Number, ...] = attrs.field(converter=_numbers)

    def __attrs_post_init__(self) -> None:
        if len(self.values) < 2:
            raise SizeError(self.values, "a value by size needs two entries or more")

    def __str__(self) -> str:
        first, *others = (_number(value) for value in self.values)
        return f"{first} ({', '.join(others)})"


Count: TypeAlias = int | Sized


def in_text(value: Number | Sized) -> str:
    """Return a value as text has it, ``48`` or ``48 (56)``, a length to four decimals at most.

    Examples
    --------
    >>> in_text(2.50), in_text(Sized((2.5, 3.0)))
    ('2.5', '2.5 (3)')
    """
    return str(value) if isinstance(value, Sized) else _number(value)


def filled(text: str, numbers: Sequence[Number | Sized | str]) -> str:
    """Return a text with numbers where ``{}`` stands; without numbers, as it is.

    Examples
    --------
    >>> filled("lift {} of {} strands", (2, Sized((24, 28))))
    'lift 2 of 24 (28) strands'

    Raises
    ------
    SizeError
        There are more or fewer numbers than places for them.
    """
    if not numbers:
        return text
    parts = text.split("{}")
    if len(numbers) != len(parts) - 1:
        problem = f"{text!r} has {len(parts) - 1} places for numbers, not {len(numbers)}"
        raise SizeError(tuple(numbers), problem)
    shown = (one if isinstance(one, str) else in_text(one) for one in numbers)
    return "".join(a + b for a, b in zip(parts, (*shown, ""), strict=True))


def _number(value: Number) -> str:
    return f"{value:.4f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)


@overload
def sized(values: Iterable[int]) -> Count: ...
@overload
def sized(values: Iterable[Number]) -> int | float | Sized: ...
def sized(values: Iterable[Number]) -> int | float | Sized:
    """Return one value where all sizes agree, a `Sized` where they do not.

    Raises
    ------
    SizeError
        No values at all.

    Examples
    --------
    >>> sized([64, 64, 64])
    64
    """
    entries = tuple(values)
    if not entries:
        raise SizeError(entries, "there is no size to give a value for")
    return entries[0] if len(set(entries)) == 1 else Sized(entries)


def count(values: int | Iterable[int]) -> Count:
    """Return a count for one or several sizes: ``count(64)``, ``count([48, 56, 64])``."""
    if isinstance(values, int):
        return values
    found = sized(values)
    return found if isinstance(found, Sized) else int(found)


def plus(value: Count, more: int) -> Count:
    """Return a count that is larger by `more` in every size.

    Examples
    --------
    >>> str(plus(Sized((48, 56)), 2)), plus(48, 2)
    ('50 (58)', 50)
    """
    if isinstance(value, Sized):
        return Sized(tuple(int(entry) + more for entry in value.values))
    return value + more


def as_many(value: Count, like: Count) -> tuple[int, ...]:
    """Return the entries of a count, one for each size that another has.

    Examples
    --------
    >>> as_many(3, Sized((48, 56)))
    (3, 3)
    """
    values = tuple(int(entry) for entry in values_of(value))
    return values * len(values_of(like)) if len(values) == 1 else values


def values_of(value: Number | Sized) -> tuple[Number, ...]:
    """Return the entries of a value: one if it is the same in every size."""
    return value.values if isinstance(value, Sized) else (value,)


def at_size(value: Number | Sized, size: int) -> Number:
    """Return the entry for the size of this index.

    Raises
    ------
    SizeError
        The value has fewer entries than that; carries ``values``, ``problem``.
    """
    if not isinstance(value, Sized):
        return value
    if not 0 <= size < len(value.values):
        raise SizeError(
            value.values, f"{value} has {len(value.values)} entries, none for size {size + 1}"
        )
    return value.values[size]


def as_count(value: int | Sized | Iterable[int]) -> Count:
    """Return a count from one number, or from one per size: the converter of all count fields."""
    if type(value) is int:
        return value
    if isinstance(value, bool | float):
        raise SizeError((value,), f"a count is a whole number, and {value!r} is none")
    return value if isinstance(value, int | Sized) else count(value)


def not_negative(instance: object, field: attrs.Attribute[Any], value: Any) -> None:
    """Refuse a count below 0 or broken: the validator of all count fields."""
    if type(value) is int and value >= 0:
        return
    for entry in values_of(value):
        if not isinstance(entry, int) or entry < 0:
            raise SizeError(
                values_of(value), f"{field.name}: expected whole numbers from 0, found {entry!r}"
            )


def _rounded(amount: float | Sized) -> float | Sized:
    """Keep four decimals, as many as are written."""
    if isinstance(amount, Sized):
        return Sized(tuple(round(value, 4) for value in amount.values))
    return round(amount, 4)


@attrs.frozen
class SizedLength:
    """A length on the fabric, the same or different by size, in the unit it was written in.

    Raises
    ------
    SizeError
        A length of nothing or below, or of a kilometre or more.

    Examples
    --------
    >>> leg = SizedLength(Sized((15, 17.5)))
    >>> print(leg)
    15 (17.5) cm
    >>> leg.mm(), leg.mm(1)
    (150.0, 175.0)
    """

    amount: float | Sized = attrs.field(converter=_rounded)
    unit: str = attrs.field(default="cm", validator=one_of(tuple(MM_PER)))

    def __attrs_post_init__(self) -> None:
        if not all(1e-3 < entry < 1e6 for entry in values_of(self.amount)):
            raise SizeError(
                values_of(self.amount), "a length must be above nothing, and below a kilometre"
            )

    def mm(self, size: int = 0) -> float:
        """Return millimetres for the size of this index.

        Raises
        ------
        SizeError
            The length has no entry for that size.
        """
        return at_size(self.amount, size) * MM_PER[self.unit]

    def __str__(self) -> str:
        shown = self.amount if isinstance(self.amount, Sized) else _number(self.amount)
        return f"{shown} {self.unit}"


class Where(Choice):
    """Places in a row or round that stitches can be worked to.

    Examples
    --------
    >>> from loopwright.pattern import Row, WrapTurn, in_words, k_to
    >>> print(in_words(Row([k_to(Where.GAP, before=1), WrapTurn()])))
    Row 1: K to 1 st before gap, w&t.
    """

    END = "end"  # of the row or round; of the needle inside `On`
    MARKER = "marker"
    GAP = "gap"  # where an earlier row was turned and stitches beyond it were left


@attrs.frozen
class To:
    """Work as far as a place, or as far as `before` stitches short of it.

    ``To()`` is *to end*, ``To(before=3)`` *to last 3 sts*, ``To(Where.MARKER, name="B")`` *to
    marker B*, ``To(Where.GAP, before=1)`` *to 1 st before gap*.

    Raises
    ------
    SizeError
        A name for what is no marker, or one that a sentence could not hold.

    Examples
    --------
    >>> from loopwright.pattern import Round, in_words, k, k_to
    >>> print(in_words(Round([k_to(before=3), k(3)])))
    Rnd 1: K to last 3 sts, k3.
    >>> To(before=3) == k_to(before=3).amount
    True
    """

    where: Where = attrs.field(default=Where.END)
    before: Count = attrs.field(default=0, converter=as_count, validator=not_negative)
    name: str = ""

    def __attrs_post_init__(self) -> None:
        if self.name and self.where is not Where.MARKER:
            raise SizeError((self.name,), "only a marker has a name")
        if self.name.lower() in NOT_LABELS:
            raise SizeError((self.name,), f"no marker can be called {self.name!r}")


Amount: TypeAlias = int | Sized | To


@attrs.frozen
class UntilCount:
    """Repeat until this many stitches remain or, `growing`, until there are as many."""

    count: Count = attrs.field(converter=as_count, validator=not_negative)
    growing: bool = False


@attrs.frozen
class UntilMeasures:
    """Repeat for a length; the gauge turns it into rounds.

    ``since`` is ``"here"`` (from the first repeat on), ``"cast-on"``, or ``"wanted"``: until the
    piece is this much shorter than its wearer wants it, or as long (no length at all). What is
    wanted no pattern knows, so a program works the rounds once.

    Examples
    --------
    >>> from loopwright.pattern import in_words, knit_rounds
    >>> print(in_words(knit_rounds(UntilMeasures(SizedLength(15), since="cast-on"))))
    Until piece measures 15 cm from cast-on: Knit.
    >>> print(in_words(knit_rounds(UntilMeasures(SizedLength(2, "in"), since="wanted"))))
    Until piece is 2 in short of the length wanted: Knit.
    """

    length: SizedLength | None
    since: str = attrs.field(default="here", validator=one_of(("here", "cast-on", "wanted")))

    def __attrs_post_init__(self) -> None:
        if self.length is None and self.since != "wanted":
            raise SizeError((), "a length is missing")


@attrs.frozen
class UntilWorked:
    """Repeat until no stitch is left beyond a turn (a heel is turned).

    Examples
    --------
    >>> from loopwright.pattern import instructions
    >>> turn = instructions('''Row 1: Sl 1 pwise wyib, k to 1 st before gap, ssk, turn.
    ... Row 2: Sl 1 pwise wyif, p to 1 st before gap, p2tog, turn.
    ... Rep rows 1 and 2 until all sts are worked.''')
    >>> turn[0].times
    UntilWorked()
    """


guard(globals())
