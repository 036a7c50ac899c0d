"""A pattern as data: typed steps from which fabric, text, chart and counts all derive.

A `Pattern` is a head (title, sizes, gauge, materials, abbreviations) and a tuple of *steps*, in
working order. A `Round` or a `Row` holds *items*: runs of a stitch, repeats, turns, markers. Three
rules keep instructions exact:

* **Amounts.** An item is worked a number of times (`int`, or `Sized` where sizes differ) or as far
  as a place (`To`): to end, to last 3 sts, to 2 sts before marker B, to 1 st before gap.
* **Repeats.** ``times`` is always the number of times *in all*. "Every other round" puts plain
  rounds between the repeats, not after the last: shaping stops on a shaping round.
* **Counts.** Any step can state the number of live stitches after it (``count=``). A statement is
  checked when the pattern is knitted or reviewed, never trusted.

A `Round` must use up all stitches to the end of the round. So must a `Row`, which then turns,
unless it says otherwise (`Turn`, `WrapTurn`, `STAY`). A `Part` works some stitches and stops where
it is. Round and row numbers are not stored: text is numbered afresh under each heading.

Examples
--------
Build steps by hand, or write the instructions and let :func:`loopwright.pattern.instructions` read
them; both give the same data, and a `Sized` value drops into an f-string.

>>> from loopwright.pattern import *
>>> half = [k(1), Run("ssk"), k_to(before=3), Run("k2tog"), k(1)]
>>> toe = (
...     CastOn(sized([48, 56])),
...     Join(),
...     Arrange([("instep", sized([24, 28])), ("sole", sized([24, 28]))]),
...     knit_rounds(10),
...     RepeatRounds([Round([On((), half)]), knit_round()], UntilCount(16), ending=1),
...     Graft(),
... )
>>> print(write(Pattern("Toe", toe, sizes=("S", "M"))), end="")
# Toe
Sizes: S (M)
<BLANKLINE>
Cast on 48 (56) sts, long-tail.
Join to work in the round.
Divide sts: instep 24 (28), sole 24 (28).
Rnds 1-10: Knit.
Rnd 11: On each half: k1, ssk, k to last 3 sts, k2tog, k1.
Rnd 12: Knit.
Rep rnds 11 and 12 until 16 sts remain, ending with rnd 11.
Graft the sts of the two needles together, stitch by stitch.
>>> instructions("Cast on 48 (56) sts.") == toe[:1]
True
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

import attrs

from loopwright.border import guard
from loopwright.choice import Choice, one_of
from loopwright.errors import StepError
from loopwright.making import BIND_OFFS, CAST_ONS, GRAFTS
from loopwright.pattern._fields import as_items, as_names, as_numbers, as_parts, of_line
from loopwright.pattern._parts import SockPart
from loopwright.pattern._place import TextPlace
from loopwright.pattern.items import (
    KNIT,
    MAX_DEPTH,
    TURNS,
    Item,
    check_items,
    check_name,
    check_part,
    check_times,
    depth_of,
)
from loopwright.pattern.values import (
    Count,
    Number,
    Sized,
    UntilCount,
    UntilMeasures,
    UntilWorked,
    as_count,
    filled,
    not_negative,
)

__all__ = [
    "MAIN",
    "WASTE",
    "Arrange",
    "BeginHere",
    "BindOff",
    "CastOn",
    "ClosedCastOn",
    "CutYarn",
    "DrawUp",
    "Graft",
    "Hold",
    "InRows",
    "Join",
    "Note",
    "OnlySizes",
    "Part",
    "ProvisionalCastOn",
    "Recapture",
    "RepeatRounds",
    "ReturnHeld",
    "Round",
    "Row",
    "Section",
    "Side",
    "Step",
    "TakeOut",
    "TextPlace",
    "ThreeNeedleBindOff",
    "Times",
    "UseYarn",
    "WasteRow",
    "WeaveIn",
    "knit_round",
    "knit_rounds",
]


# Names that text leaves out: there is one yarn, and one waste yarn, unless a step says otherwise.
MAIN, WASTE = "main", "waste"


class Side(Choice):
    """The side of the fabric that faces the knitter during a row."""

    RS = "RS"
    WS = "WS"


def _as_steps(steps: Iterable[Step]) -> tuple[Step, ...]:
    return tuple(steps)


@attrs.frozen(kw_only=True)
class Step:
    """One instruction; ``count`` states the live stitches after it, ``at`` where it was read.

    Raises
    ------
    StepError, SizeError
        By every step: what it holds contradicts itself, or could not be written.
    """

    count: Count | None = attrs.field(default=None)
    at: TextPlace | None = attrs.field(default=None, eq=False, repr=False)

    @property
    def inner(self) -> tuple[Step, ...]:
        """The steps inside this one."""
        return ()

    @count.validator
    def _check_count(self, field: object, value: Count | None) -> None:
        if value is not None:
            check_times(f"{type(self).__name__}, count", value)


@attrs.frozen
class Section(Step):
    """A heading; rounds are numbered from 1 again. `part` says what of a sock stands under it."""

    title: str = attrs.field(validator=of_line)
    part: SockPart | None = attrs.field(
        default=None, converter=attrs.converters.optional(SockPart), eq=False, kw_only=True
    )

    def __attrs_post_init__(self) -> None:
        if not self.title or self.count is not None:
            raise StepError("Section", "a heading needs a title and states no count")


@attrs.frozen
class Note(Step):
    """A remark for the knitter; `caution` where somebody could be hurt or work lost.

    Numbers that may differ by size are given apart, and stand as ``{}`` in the text.

    Examples
    --------
    >>> Note("Lift the {} strands above it.", numbers=[Sized((24, 28))]).words
    'Lift the 24 (28) strands above it.'
    """

    text: str = attrs.field(validator=of_line)
    caution: bool = False
    numbers: tuple[Number | Sized, ...] = attrs.field(
        default=(), converter=as_numbers, kw_only=True
    )

    def __attrs_post_init__(self) -> None:
        if not self.text or self.count is not None:
            raise StepError("Note", "a note needs a text and states no count")
        if self.numbers and self.text.count("{}") != len(self.numbers):
            raise StepError("Note", f"{len(self.numbers)} numbers need as many {{}} in the text")

    @property
    def words(self) -> str:
        """The text with its numbers."""
        return filled(self.text, self.numbers)


@attrs.frozen
class CastOn(Step):
    """Cast on; after other stitches, they continue the row or round."""

    stitches: Count = attrs.field(converter=as_count, validator=not_negative)
    how: str = attrs.field(default="long-tail", validator=one_of(CAST_ONS))


@attrs.frozen
class ClosedCastOn(Step):
    """Cast on for a closed toe: as many stitches on each of two needles, nothing open.

    Examples
    --------
    >>> from loopwright.pattern import Pattern, write
    >>> steps = [ClosedCastOn(8), Join(), knit_rounds(12), ThreeNeedleBindOff(), WeaveIn()]
    >>> print(write(Pattern("Pouch", steps)), end="")
    # Pouch
    <BLANKLINE>
    With a closed cast-on, cast on 8 sts on each of 2 needles.
    Join to work in the round.
    Rnds 1-12: Knit.
    Work a three-needle bind-off over all sts.
    Weave in all ends.
    """

    each_half: Count = attrs.field(converter=as_count, validator=not_negative)


@attrs.frozen
class ProvisionalCastOn(Step):
    """Cast on over waste yarn, at the start or continuing the round; `waste` names the yarn."""

    stitches: Count = attrs.field(converter=as_count, validator=not_negative)
    waste: str = attrs.field(default=WASTE, validator=check_name)


@attrs.frozen
class Join(Step):
    """Join into a round: from here on the work goes round; the round begins here."""


@attrs.frozen
class InRows(Step):
    """Work back and forth from here; `Join` makes rounds again."""


@attrs.frozen
class BeginHere(Step):
    """The round begins here from now on."""


@attrs.frozen
class Arrange(Step):
    """Share all stitches out over needles or named parts, from the beginning of the round.

    ``parts`` are pairs of name and count; bare counts are named ``needle 1``, ``needle 2`` …
    """

    parts: tuple[tuple[str, Count], ...] = attrs.field(converter=as_parts)

    def __attrs_post_init__(self) -> None:
        names = [name for name, _ in self.parts]
        if not names or len(set(names)) != len(names):
            raise StepError("Arrange", f"expected needles of different names, found {names}")
        numbered = [name == f"needle {number}" for number, name in enumerate(names, start=1)]
        if any(numbered) and not all(numbered):
            raise StepError("Arrange", "give each part a name, or none")
        for name, stitches in self.parts:
            check_part("Arrange", name)
            check_times("Arrange", stitches)


@attrs.frozen
class Round(Step):
    """One round: its items use up all stitches, once."""

    items: tuple[Item, ...] = attrs.field(converter=as_items)

    def __attrs_post_init__(self) -> None:
        check_items("Round", self.items)


@attrs.frozen
class Row(Step):
    """One row, turned at its end; `side` states which side faces the knitter, and is checked.

    Examples
    --------
    >>> from loopwright.pattern.items import Turn, k
    >>> Row([k(4)]).is_turned, Row([k(4), Turn()]).is_turned
    (False, True)
    """

    items: tuple[Item, ...] = attrs.field(converter=as_items)
    side: Side | str | None = attrs.field(
        default=None, converter=attrs.converters.optional(Side), kw_only=True
    )

    def __attrs_post_init__(self) -> None:
        check_items("Row", self.items)
        if any(isinstance(item, TURNS) for item in self.items[:-1]):
            raise StepError("Row", "the turn ends a row; what follows is another row")

    @property
    def is_turned(self) -> bool:
        """Whether the row says itself that it is turned, or that it is not."""
        return isinstance(self.items[-1], TURNS)


@attrs.frozen
class Part(Step):
    """Items that stop where they end, in the midst of a row or round: ``K8, pm`` for one."""

    items: tuple[Item, ...] = attrs.field(converter=as_items)

    def __attrs_post_init__(self) -> None:
        check_items("Part", self.items)


Times: TypeAlias = int | Sized | UntilCount | UntilMeasures | UntilWorked


@attrs.frozen
class RepeatRounds(Step):
    """Rounds or rows repeated.

    Parameters
    ----------
    steps : tuple of Step
        Rounds (or rows) and `RepeatRounds` of them; one kind only.
    times : int, Sized, UntilCount, UntilMeasures or UntilWorked
        How many times in all, or until when.
    every : int
        2 is "every other round": plain rounds stand between the repeats of one round.
    ending : int
        Stop after this round of the last repeat; 0 works it whole. With `UntilCount` the count is
        looked at after that round.
    vague : bool
        As in `Repeat`.
    either_side : bool
        It is one row, worked on both sides: the side that it states is where the first begins.
    """

    steps: tuple[Step, ...] = attrs.field(converter=_as_steps)
    times: Times = attrs.field()
    every: int = attrs.field(default=1, kw_only=True)
    ending: int = attrs.field(default=0, kw_only=True)
    vague: bool = attrs.field(default=False, eq=False, repr=False, kw_only=True)
    either_side: bool = attrs.field(default=False, eq=False, repr=False, kw_only=True)

    depth: int = attrs.field(init=False, eq=False, repr=False)

    def __attrs_post_init__(self) -> None:
        object.__setattr__(self, "depth", depth_of(self.steps))
        if not isinstance(self.times, UntilCount | UntilMeasures | UntilWorked):
            check_times("RepeatRounds", self.times)
        problem = next(self._problems(), None)
        if problem is not None:
            raise StepError("RepeatRounds", problem)

    def _problems(self) -> Iterator[str]:
        many = len(self.steps)
        if self.depth > MAX_DEPTH:
            yield f"repeats nested more than {MAX_DEPTH} deep"
        kinds = _kinds(self.steps)
        if len(kinds) > 1:
            yield "rows and rounds can't be repeated together"
        if self._yarn_at_an_end():
            yield "a change of yarn stands between the rounds of a repeat"
        if not all(isinstance(step, _REPEATED) for step in self.steps):
            yield "only rounds, rows, yarns and their repeats can be repeated"
        if not kinds:
            yield "there is nothing to repeat"
        if many == 1 and isinstance(self.steps[0], RepeatRounds):
            yield "a repeat of a repeat: give the product"
        if self.every < 1:
            yield "every must be 1 or more"
        if self.every > 1 and not self._is_one_round():
            yield "'every' repeats a single round"
        if not 0 <= self.ending < max(2, many):
            yield f"ending must name one of the {many} rounds before the last"

    @property
    def inner(self) -> tuple[Step, ...]:
        """The rounds or rows that are repeated."""
        return self.steps

    def _yarn_at_an_end(self) -> bool:
        """Tell whether it ends with a change of yarn, or has one at its beginning only."""
        changes = [isinstance(step, UseYarn | CutYarn) for step in self.steps]
        if not any(changes):
            return False
        rounds = [at for at, is_change in enumerate(changes) if not is_change]
        return bool(rounds) and (changes[-1] or (changes[0] and not any(changes[rounds[0] :])))

    def _is_one_round(self) -> bool:
        return len(self.steps) == 1 and isinstance(self.steps[0], Round | Row)


def _kinds(steps: Iterable[Step]) -> set[type]:
    """Return whether rounds or rows are in these, or both."""
    found: set[type] = set()
    for step in steps:
        found |= _kinds(step.inner) or ({type(step)} if isinstance(step, Round | Row) else set())
    return found


@attrs.frozen
class OnlySizes(Step):
    """A step that only some sizes work.

    Examples
    --------
    >>> from loopwright.pattern import Pattern, write
    >>> more = OnlySizes(["M"], knit_round())
    >>> print(write(Pattern("Foot", [CastOn((48, 56)), Join(), more], sizes=["S", "M"])), end="")
    # Foot
    Sizes: S (M)
    <BLANKLINE>
    Cast on 48 (56) sts, long-tail.
    Join to work in the round.
    Size M only: Next rnd: Knit.
    >>> [type(step).__name__ for step in more.inner]
    ['Round']
    """

    sizes: tuple[str, ...] = attrs.field(converter=as_names)
    step: Step = attrs.field()

    @property
    def inner(self) -> tuple[Step, ...]:
        """The step that these sizes work."""
        return (self.step,)

    def __attrs_post_init__(self) -> None:
        if not self.sizes or self.count is not None:
            raise StepError("OnlySizes", "name the sizes, and state the count on the step inside")
        if isinstance(self.step, OnlySizes | Section):
            raise StepError("OnlySizes", f"{type(self.step).__name__} is for all sizes")
        if isinstance(self.step, RepeatRounds) and not self.step._is_one_round():
            raise StepError("OnlySizes", "repeat several rounds 0 times in the other sizes instead")


@attrs.frozen
class Hold(Step):
    """Put the next stitches on waste yarn or a holder, under a name, unworked."""

    stitches: Count = attrs.field(converter=as_count, validator=not_negative)
    name: str = attrs.field(validator=check_name)
    on: str = attrs.field(default="holder", validator=one_of(("holder", "waste yarn")))


@attrs.frozen
class ReturnHeld(Step):
    """Put held stitches back on the left needle, after those that wait, or `next_to_work`."""

    name: str = attrs.field(validator=check_name)
    next_to_work: bool = False


@attrs.frozen
class WasteRow(Step):
    """Knit the next stitches with waste yarn and slide them back, for an opening made later."""

    stitches: Count = attrs.field(converter=as_count, validator=not_negative)
    name: str = attrs.field(default=WASTE, validator=check_name)


@attrs.frozen
class TakeOut(Step):
    """Take out a waste yarn, once what it carries is secured.

    Examples
    --------
    >>> from loopwright.pattern import instructions, in_words
    >>> for step in (WasteRow(8), TakeOut(), Recapture()):
    ...     print(in_words(step))
    With waste yarn, knit next 8 sts; slip them back to be worked again.
    Take out the waste yarn.
    Recapture the sts from the waste yarn, taking the strand at the first corner.
    >>> instructions("Take out the waste yarn.") == (TakeOut(),)
    True
    """

    name: str = attrs.field(default=WASTE, validator=check_name)


@attrs.frozen
class Recapture(Step):
    """Put the stitches that a waste yarn carries back on the needle.

    n stitches give n - 1 strands between them and one at either corner: `corner` says which of
    those two is taken, the first or the last.
    """

    name: str = attrs.field(default=WASTE, validator=check_name)
    corner: str = attrs.field(default="first", validator=one_of(("first", "last")))


@attrs.frozen
class Graft(Step):
    """Graft the stitches of the first needle (half) to those of the second."""

    how: str = attrs.field(default=GRAFTS[0], validator=one_of(GRAFTS))


@attrs.frozen
class ThreeNeedleBindOff(Step):
    """Bind the stitches of the first half off together with those of the second."""


@attrs.frozen
class BindOff(Step):
    """Bind off the next stitches, or all (`stitches` None)."""

    stitches: Count | None = None
    how: str = attrs.field(default="plain", validator=one_of(BIND_OFFS))

    def __attrs_post_init__(self) -> None:
        if self.stitches is not None:
            check_times("BindOff", self.stitches)


@attrs.frozen
class DrawUp(Step):
    """Cut the yarn, draw it through all remaining stitches, and pull tight.

    Examples
    --------
    >>> from loopwright.pattern import in_words
    >>> for step in (DrawUp(), CutYarn(), BindOff(4), InRows()):
    ...     print(in_words(step))
    Cut yarn, draw it through the remaining sts and pull tight.
    Cut yarn.
    Bind off 4 sts.
    Work back and forth from here.
    """


@attrs.frozen
class UseYarn(Step):
    """Work on with the yarn of this name; `new` joins another strand of it.

    `held` says that it is in hand already, where stripes end with it: "Go on in A".
    """

    name: str = attrs.field(validator=check_name)
    new: bool = False
    held: bool = False

    def __attrs_post_init__(self) -> None:
        if self.new and self.held:
            raise StepError("UseYarn", f"yarn {self.name} can't be both new and in hand")


@attrs.frozen
class CutYarn(Step):
    """Cut a yarn, leaving a tail; ``""`` is the one in use."""

    name: str = ""

    def __attrs_post_init__(self) -> None:
        if self.name:
            check_name(self, attrs.fields(CutYarn).name, self.name)


_REPEATED = (Round, Row, RepeatRounds, UseYarn, CutYarn)


@attrs.frozen
class WeaveIn(Step):
    """Weave in all ends."""


def knit_round(*, count: Count | None = None) -> Round:
    """Return one plain round."""
    return Round((KNIT,), count=count)


def knit_rounds(times: Times, *, count: Count | None = None) -> RepeatRounds:
    """Return plain rounds: a number, or until a length."""
    return RepeatRounds((Round((KNIT,)),), times, count=count)


guard(globals())
