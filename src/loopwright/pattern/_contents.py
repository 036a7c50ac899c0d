"""What is in steps and items: the one way to go through them, to change them, and their one form.

`steps_in`, `items_of` and `things_in` go through; `rewritten` changes; `simplified` gives the form
that a `Pattern` keeps. A step says itself what steps are inside it: `Step.inner`.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator
from functools import cache
from typing import Any, Final, TypeVar

import attrs

from loopwright.errors import StepError
from loopwright.pattern.items import Item, items_in
from loopwright.pattern.steps import (
    Note,
    OnlySizes,
    Part,
    RepeatRounds,
    Round,
    Row,
    Section,
    Step,
    TextPlace,
)
from loopwright.pattern.values import Sized, at_size, filled

__all__ = [
    "LEFT_OUT",
    "courses_in",
    "entries_in",
    "held_in",
    "items_of",
    "rewritten",
    "rounds_in",
    "simplified",
    "stands_at",
    "steps_in",
    "steps_of_size",
    "things_in",
    "with_fields",
]

_T = TypeVar("_T")
LEFT_OUT: Final = object()


@cache
def _fields(kind: Hashable) -> tuple[str, ...]:
    """Names of the fields of an attrs class, none for any other."""
    assert isinstance(kind, type)
    return tuple(one.name for one in attrs.fields(kind)) if attrs.has(kind) else ()


_NOTHING_INSIDE = (int, str, float, type(None), Step)  # or nothing of the step that is looked into
_PLAIN_KINDS = frozenset((int, str, float, bool, type(None)))  # most of what steps hold
_PLAIN = ("int", "bool", "str", "float", "int | None", "Side | str | None")


@cache
def _holding(kind: Hashable) -> tuple[str, ...]:
    """Names of the fields that may hold more than a plain value or a place in a text."""
    assert isinstance(kind, type)
    if not attrs.has(kind):
        return ()
    return tuple(
        one.name
        for one in attrs.fields(kind)
        if one.name != "at" and getattr(one.type, "__name__", one.type) not in _PLAIN
    )


def with_fields(thing: _T, **new: Any) -> _T:
    """Return a copy of a step, an item or a sentence with some fields put in, without a check.

    It is for values that were checked before, such as a place or a count.

    Examples
    --------
    >>> from loopwright.pattern.items import k
    >>> with_fields(k(3), column=7).column
    7
    """
    kind = type(thing)
    made = object.__new__(kind)
    for name in _fields(kind):  # type: ignore[arg-type]
        object.__setattr__(made, name, new[name] if name in new else getattr(thing, name))
    return made


def steps_in(steps: Iterable[Step]) -> Iterator[Step]:
    """Yield these steps and those inside them, each before what is inside it.

    Examples
    --------
    >>> from loopwright.pattern import read, steps_in
    >>> pattern = read("CO 8. Join. Rnd 1: K8. Rnd 2: Knit. Rep rnds 1 and 2 3 times more.")
    >>> [type(step).__name__ for step in steps_in(pattern.steps)]
    ['CastOn', 'Join', 'RepeatRounds', 'Round', 'Round']
    >>> [len(step.inner) for step in pattern.steps]
    [0, 0, 2]
    """
    for step in steps:
        yield step
        yield from steps_in(step.inner)


def rounds_in(steps: Iterable[Step]) -> Iterator[Round | Row]:
    """Yield the rounds and rows in these steps, in order, each once.

    Examples
    --------
    >>> from loopwright.pattern import read, rounds_in
    >>> len(list(rounds_in(read("CO 8. Join. Knit 20 rnds.").steps)))
    1
    """
    return (step for step in steps_in(steps) if isinstance(step, Round | Row))


def courses_in(steps: Iterable[Step]) -> int:
    """Return how many rounds or rows these steps are, one after another.

    What is repeated until something happens counts once.

    Examples
    --------
    >>> from loopwright.pattern import instructions
    >>> courses_in(instructions("Rnds 1-4: Knit. Rnd 5: Purl."))
    5
    """
    many = 0
    for step in steps:
        if isinstance(step, RepeatRounds):
            each = courses_in(step.steps) + step.every - 1
            many += each * step.times if isinstance(step.times, int) else each
        else:
            many += isinstance(step, Round | Row)
    return many


def items_of(steps: Iterable[Step]) -> Iterator[Item]:
    """Yield the items in these steps, each before what is inside it.

    Examples
    --------
    >>> from loopwright.pattern import items_of, read
    >>> [item.stitch for item in items_of(read("CO 8. K2, ssk, k4.").steps)]
    ['k', 'ssk', 'k']
    """
    for step in steps_in(steps):
        if isinstance(step, Round | Row | Part):
            yield from items_in(step.items)


def things_in(value: Any) -> Iterator[Any]:
    """Yield what a step holds, however deep, but for plain values and the steps inside it.

    Itself first; where it stands in a text is not looked into.
    """
    waiting = [value]
    while waiting:
        thing = waiting.pop()
        held: Iterable[Any] = thing
        if type(thing) is not tuple:
            yield thing
            held = [getattr(thing, name) for name in _holding(type(thing))]  # type: ignore[arg-type]
        for inner in reversed(tuple(held)):
            kind = type(inner)
            if kind is tuple or (_fields(kind) and not isinstance(inner, Step)):  # type: ignore[arg-type]
                waiting.append(inner)


def held_in(things: Iterable[Any], kinds: tuple[type, ...]) -> list[Any]:
    """Return what is of some kinds in each of these, in no order, but not in the steps inside it.

    Examples
    --------
    >>> from loopwright.pattern.steps import CastOn
    >>> held_in([CastOn((48, 56))], (Sized,))
    [Sized(values=(48, 56))]
    """
    found: list[Any] = []
    known: dict[type, tuple[bool, tuple[str, ...]]] = {}
    waiting = list(things)
    while waiting:
        thing = waiting.pop()
        kind = type(thing)
        held = thing
        if kind is not tuple:
            if kind not in known:
                known[kind] = issubclass(kind, kinds), _holding(kind)  # type: ignore[arg-type]  # every class has a hash
            wanted, names = known[kind]
            if wanted:
                found.append(thing)
            held = [getattr(thing, name) for name in names]
        for one in held:
            if type(one) not in _PLAIN_KINDS and not isinstance(one, _NOTHING_INSIDE):
                waiting.append(one)
    return found


def rewritten(value: Any, change: Callable[[Any], Any]) -> Any:
    """Return a step, item or tuple of them with a change made to all that is in it, from the
    inside out.

    `change` returns what it was given, another thing in its place, or `LEFT_OUT` for what a tuple
    is to lose. What it leaves alone stays the same object.

    Examples
    --------
    >>> from loopwright.pattern import Run, read, rewritten
    >>> def purled(thing):
    ...     return Run("p", thing.amount) if isinstance(thing, Run) else thing
    >>> rewritten(read("CO 8. K8.").steps[1], purled).items
    (Run(stitch='p', amount=8, with_wraps=False),)
    """
    return _rewritten(value, change, _fields)


def steps_of_size(steps: tuple[Step, ...], index: int, name: str) -> tuple[Step, ...]:
    """Return the steps for the size of this index and name.

    Raises
    ------
    SizeError
        A value has no entry for this size.
    """

    def chosen(value: Any) -> Any:
        if isinstance(value, Sized):
            return at_size(value, index)
        if isinstance(value, OnlySizes):
            return value.step if name in value.sizes else LEFT_OUT
        return value

    found: tuple[Step, ...] = _rewritten(steps, chosen, _holding)
    return found


def _rewritten(
    value: Any, change: Callable[[Any], Any], fields: Callable[[Any], tuple[str, ...]]
) -> Any:
    if isinstance(value, tuple):
        found = tuple(
            new for one in value if (new := _rewritten(one, change, fields)) is not LEFT_OUT
        )
        return value if same_things(found, value) else found
    changed = {}
    for name in fields(type(value)):
        before = getattr(value, name)
        after = _rewritten(before, change, fields)
        if after is not before:
            changed[name] = after
    return change(attrs.evolve(value, **changed) if changed else value)


def same_things(these: tuple[object, ...], those: tuple[object, ...]) -> bool:
    """Tell whether two tuples hold the very same objects."""
    return len(these) == len(those) and all(a is b for a, b in zip(these, those, strict=True))


def simplified(steps: Iterable[Step]) -> tuple[Step, ...]:
    """Return the steps in their one form: without repeats that are worked once or never.

    A count that a repeat of 0 times states is that of the step before it; a number of a note that
    is the same for all sizes goes into its text.

    Examples
    --------
    >>> from loopwright.pattern.steps import CastOn, Join, knit_rounds
    >>> for step in simplified([CastOn(8), Join(), knit_rounds(0, count=8), knit_rounds(1)]):
    ...     print(type(step).__name__, step.count)
    CastOn None
    Join 8
    Round None
    """
    return tuple(plain for part in _parts(steps) for plain in part)


def _parts(steps: Iterable[Step]) -> list[list[Step]]:
    """Return what comes of each step."""
    parts: list[list[Step]] = []
    for step in steps:
        parts.append(list(_plain(step)))
        if isinstance(step, RepeatRounds) and _always(step, 0) and step.count is not None:
            before = next((part for part in reversed(parts) if part), None)
            if before and not isinstance(before[-1], Section | Note | OnlySizes):
                before[-1] = with_fields(before[-1], count=step.count)
    return parts


def _plain(step: Step) -> Iterator[Step]:
    """Yield a step, or what a repeat of once or never is."""
    if isinstance(step, Note):
        yield _in_one_form(step)
    elif isinstance(step, OnlySizes):
        for inner in _plain(step.step):
            yield step if inner is step.step else attrs.evolve(step, step=inner)
    elif isinstance(step, RepeatRounds):
        yield from _plain_repeat(step)
    else:
        yield step


def _in_one_form(note: Note) -> Note:
    """Return the note with the numbers that are the same for all sizes in its text."""
    apart = tuple(number for number in note.numbers if isinstance(number, Sized))
    if len(apart) == len(note.numbers):
        return note
    shown = ["{}" if isinstance(number, Sized) else number for number in note.numbers]
    return with_fields(note, text=filled(note.text, shown), numbers=apart)


def _plain_repeat(step: RepeatRounds) -> Iterator[Step]:
    parts = _parts(step.steps)
    body = tuple(plain for part in parts for plain in part)
    if _always(step, 0) or not body:
        return
    # "Ending with" counts steps: those that were undone or left out move it.
    ending = sum(map(len, parts[: step.ending])) % len(body)
    if step.ending and not sum(map(len, parts[: step.ending])):
        raise StepError("RepeatRounds", "the round that it ends with is worked 0 times")
    if _always(step, 1):
        *before, last = body[: ending or len(body)]
        yield from before
        yield last if step.count is None else with_fields(last, count=step.count)
    elif len(body) == 1 and isinstance(body[0], RepeatRounds):
        yield from _plain(_product(step, body[0]))
    elif same_things(body, step.steps):
        yield step
    else:
        yield attrs.evolve(step, steps=body, ending=ending)


def _always(step: RepeatRounds, times: int) -> bool:
    """Tell whether a repeat is worked so often in every size."""
    said = step.times
    return said == times or (isinstance(said, Sized) and set(said.values) == {times})


def _product(outer: RepeatRounds, inner: RepeatRounds) -> RepeatRounds:
    """Return one repeat for a repeat of nothing but a repeat."""
    if not isinstance(outer.times, int) or not isinstance(inner.times, int) or inner.ending:
        raise StepError("RepeatRounds", "a repeat of a repeat: give the product")
    return attrs.evolve(inner, times=outer.times * inner.times, count=outer.count or inner.count)


def stands_at(step: Step, place: TextPlace) -> bool:
    """Tell whether a step, or one inside it, stands at a place."""
    if step.at is not None and (step.at.line, step.at.column) == (place.line, place.column):
        return True
    if isinstance(step, RepeatRounds):
        return any(stands_at(inner, place) for inner in step.steps)
    return isinstance(step, OnlySizes) and stands_at(step.step, place)


def entries_in(value: object) -> list[int]:
    """Return for how many sizes each value in a step has numbers."""
    if isinstance(value, Sized):
        return [len(value.values)]
    if isinstance(value, tuple):
        return [many for one in value for many in entries_in(one)]
    if not attrs.has(type(value)):
        return []
    names = [field.name for field in attrs.fields(type(value))]  # type: ignore[arg-type]
    return [many for name in names for many in entries_in(getattr(value, name))]
