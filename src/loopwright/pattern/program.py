"""The pattern: a head and the steps under it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cached_property

import attrs

from loopwright.border import guard
from loopwright.errors import StepError
from loopwright.making import Hand
from loopwright.pattern._contents import held_in, simplified, steps_in, steps_of_size
from loopwright.pattern.steps import OnlySizes, Step
from loopwright.pattern.values import Number, Sized, SizedLength
from loopwright.plurals import plural
from loopwright.shown import Shown

__all__ = ["MATERIAL_HEADS", "GaugeLine", "Pattern", "of_size"]

# Heads of lines that belong to the materials; any other line there is headed "Materials".
MATERIAL_HEADS = (
    "materials", "yarn", "needles", "notions", "finished size", "finished sizes",
    "finished measurements", "skill level",
)  # fmt: skip


def _one_line(instance: object, field: attrs.Attribute[str], value: str) -> None:
    if value != " ".join(value.split()):
        raise StepError(
            type(instance).__name__, f"{field.name} must be one line, single-spaced: {value!r}"
        )


def _as_lines(lines: Iterable[str]) -> tuple[str, ...]:
    return tuple(lines)


def _as_pairs(pairs: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    return tuple((short.strip(), long.strip().rstrip(".")) for short, long in pairs)


@attrs.frozen
class GaugeLine:
    """Stitches and courses over a length, as a pattern's head states them.

    Parameters
    ----------
    stitches, courses : float
        Counted over the length `over`.
    over : SizedLength
        The same for all sizes; 10 cm by default.
    fabric : str
        What was knitted: ``"stockinette in the round"``.

    Raises
    ------
    StepError
        Counts that aren't above nothing, or a length for each size.

    Examples
    --------
    >>> swatch = GaugeLine(32, 44)
    >>> swatch.stitches_per_mm, swatch.courses_per_mm
    (0.32, 0.44)
    """

    stitches: Number
    courses: Number
    over: SizedLength = attrs.field(factory=lambda: SizedLength(10, "cm"))
    fabric: str = ""

    def __attrs_post_init__(self) -> None:
        if not (0 < self.stitches < 1e4 and 0 < self.courses < 1e4):
            raise StepError("GaugeLine", "stitches and rounds must be above nothing")
        if isinstance(self.over.amount, Sized):
            raise StepError("GaugeLine", "one gauge serves all sizes")

    @property
    def courses_per_mm(self) -> float:
        """Rounds or rows per millimetre."""
        return self.courses / self.over.mm()

    @property
    def stitches_per_mm(self) -> float:
        """Stitches per millimetre."""
        return self.stitches / self.over.mm()


@attrs.frozen(repr=False)
class Pattern(Shown):
    """A head and steps in working order.

    Repeats of once are undone and repeats of 0 times left out, so that one thing has one form.

    Parameters
    ----------
    title : str
    steps : tuple of Step
    sizes : tuple of str
        Names of the sizes, smallest first; empty where there is one size without a name.
    gauge : GaugeLine or None
    materials : tuple of str
        One line each: yarn, needles, notions, finished measures.
    abbreviations : tuple of (str, str)
        What is short, and what it stands for.
    hand : Hand
        Whose instructions they are; what is said of leans and sides holds for that hand.

    Raises
    ------
    StepError
        A title, size or abbreviation that can't be written, or two sizes of one name.

    Examples
    --------
    >>> from loopwright.pattern.steps import CastOn, Join, knit_rounds
    >>> tube = Pattern("Tube", [CastOn((48, 56)), Join(), knit_rounds(20)], sizes=["S", "M"])
    >>> tube.size_count, tube.size_index("M")
    (2, 1)
    """

    title: str = attrs.field(validator=_one_line)
    steps: tuple[Step, ...] = attrs.field(converter=simplified)
    sizes: tuple[str, ...] = attrs.field(default=(), converter=_as_lines, kw_only=True)
    gauge: GaugeLine | None = attrs.field(default=None, kw_only=True)
    materials: tuple[str, ...] = attrs.field(default=(), converter=_as_lines, kw_only=True)
    abbreviations: tuple[tuple[str, str], ...] = attrs.field(
        default=(), converter=_as_pairs, kw_only=True
    )
    hand: Hand = attrs.field(default=Hand.RIGHT, kw_only=True)

    def __str__(self) -> str:
        sizes = f" in sizes {', '.join(self.sizes)}" if self.sizes else ""
        return f"{self.title or 'pattern'}: {plural(len(self.steps), 'step')}{sizes}"

    def __attrs_post_init__(self) -> None:
        if len(set(self.sizes)) != len(self.sizes):
            raise StepError("Pattern", f"two sizes have the same name: {', '.join(self.sizes)}")
        for name in self.sizes:
            sound = name and all(ch.isalnum() or ch in " -/.'" for ch in name)
            if not sound or name != " ".join(name.split()).rstrip(".") or " and " in name.lower():
                raise StepError("Pattern", f"a size can't be called {name!r}")
        for pair in self.abbreviations:
            if not all(pair) or ";" in "".join(pair) or "=" in pair[0] or "\n" in "".join(pair):
                raise StepError("Pattern", f"an abbreviation can't be written as {pair!r}")
        for line in (self.title, *self.materials):
            if line != " ".join(line.split()):
                raise StepError("Pattern", f"expected one line, single-spaced: {line!r}")

    @property
    def size_count(self) -> int:
        """How many sizes there are: those named, or the most numbers that any value has."""
        return len(self.sizes) or self._most_entries

    @cached_property
    def _by_size(self) -> tuple[Sized | OnlySizes, ...]:
        """Whatever differs between sizes, wherever it stands."""
        return tuple(held_in(steps_in(self.steps), (Sized, OnlySizes)))

    @property
    def _most_entries(self) -> int:
        entries = (len(thing.values) for thing in self._by_size if isinstance(thing, Sized))
        return max(entries, default=1)

    def size_index(self, size: str | int | None) -> int:
        """Return the index of a size given by name or index; None is the first.

        Raises
        ------
        StepError
            There is no such size.
        """
        if size is None:
            return 0
        if isinstance(size, int) and 0 <= size < self.size_count:
            return size
        if isinstance(size, str) and size in self.sizes:
            return self.sizes.index(size)
        known = ", ".join(self.sizes) or "one, without a name"
        raise StepError("Pattern", f"there is no size {size!r}; the sizes are: {known}")


def of_size(pattern: Pattern, size: str | int | None = None) -> Pattern:
    """Return the pattern for one size: one value everywhere, steps of other sizes left out.

    Raises
    ------
    SizeError
        A value has no entry for this size.
    StepError
        There is no such size.

    Examples
    --------
    >>> from loopwright.pattern.steps import CastOn
    >>> of_size(Pattern("Tube", [CastOn((48, 56))], sizes=["S", "M"]), "M").steps
    (CastOn(count=None, stitches=56, how='long-tail'),)
    """
    index = pattern.size_index(size)
    if not pattern._by_size and len(pattern.sizes) <= 1:
        return pattern
    name = pattern.sizes[index] if pattern.sizes else ""
    count = pattern.size_count
    return attrs.evolve(
        pattern,
        steps=steps_of_size(pattern.steps, index, name),
        sizes=(name,) if name else (),
        materials=tuple(_text_of_size(line, index, count) for line in pattern.materials)
        if count > 1
        else pattern.materials,
    )


_NUMBERS = re.compile(r"(\d+(?:\.\d+)?) \((\d+(?:\.\d+)?(?:, \d+(?:\.\d+)?)*)\)")


def _text_of_size(text: str, index: int, count: int) -> str:
    """Return a text with one number where it has one for each size, as ``24 (28, 32)``."""

    def one(match: re.Match[str]) -> str:
        entries = [match[1], *match[2].split(", ")]
        return entries[index] if len(entries) == count else match[0]

    return _NUMBERS.sub(one, text)


guard(globals())
