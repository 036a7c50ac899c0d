"""Several sizes of one design put side by side: one list of steps with sizes in brackets.

Each size is planned and written by itself. Steps of the same shape, which differ in numbers only,
become one step with a value by size. A step that some sizes lack becomes a step that only the
others work. So that no construction need know of sizes at all.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import SequenceMatcher
from typing import Any, TypeAlias

import attrs

from loopwright.errors import SizingError
from loopwright.pattern import simplified
from loopwright.pattern.items import Repeat
from loopwright.pattern.steps import OnlySizes, RepeatRounds, Step
from loopwright.pattern.values import sized
from loopwright.sock.rounds import without_nothing

__all__ = ["merged", "merged_text"]

_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_Column: TypeAlias = dict[int, Step]  # the step of each size that has it


def merged(steps: Sequence[Sequence[Step]], names: Sequence[str]) -> list[Step]:
    """Return one list of steps for all sizes.

    Parameters
    ----------
    steps : sequence of sequences of Step
        Each size's own, as constructions give them.
    names : sequence of str
        Of the sizes, as many.

    Raises
    ------
    SizingError
        A size is made so differently that one text can't say it.

    Examples
    --------
    >>> from loopwright.pattern.steps import CastOn, Join
    >>> merged([[CastOn(48), Join()], [CastOn(56), Join()]], ["S", "M"])[0].stitches
    Sized(values=(48, 56))
    """
    columns: list[_Column] = [{0: step} for step in steps[0]]
    for size, those in enumerate(steps[1:], start=1):
        columns = _aligned(columns, those, size)
    found: list[Step] = []
    for column in columns:
        found += _one(column, names)
    return list(simplified(without_nothing(found)))


def _aligned(columns: list[_Column], steps: Sequence[Step], size: int) -> list[_Column]:
    """Return the columns with one more size put beside those of its own shape."""
    ours = [_shape(next(iter(column.values()))) for column in columns]
    theirs = [_shape(step) for step in steps]
    found: list[_Column] = []
    matcher = SequenceMatcher(None, ours, theirs, autojunk=False)
    for tag, a, b, c, d in matcher.get_opcodes():
        if tag == "equal":
            found += [
                {**column, size: step}
                for column, step in zip(columns[a:b], steps[c:d], strict=True)
            ]
        else:
            found += columns[a:b]
            found += [{size: step} for step in steps[c:d]]
    return found


def _shape(value: Any) -> str:
    """Return a value's structure as text, with no number in it."""
    if isinstance(value, bool) or value is None:
        return repr(value)
    if isinstance(value, int | float):
        return "#"
    if isinstance(value, str):
        return repr(value)
    if isinstance(value, tuple):
        return f"({','.join(map(_shape, value))})"
    if isinstance(value, Repeat):
        # The stitches of a repeat are what makes it this one and no other.
        return f"Repeat({value.items!r},{_shape(value.times)})"
    if not attrs.has(type(value)):
        return repr(value)
    inside = ",".join(_shape(getattr(value, field.name)) for field in attrs.fields(type(value)))
    return f"{type(value).__name__}({inside})"


def _one(column: _Column, names: Sequence[str]) -> list[Step]:
    once = {size: step for size, step in column.items() if _is_once(step)}
    if once and all(_is_once(step) or _is_never(step) for step in column.values()):
        column = once  # worked by some sizes, once: theirs alone
    worked = {size: step for size, step in column.items() if not _is_never(step)}
    if worked and all(map(_is_of_one_round, column.values())):
        column = worked
    steps = list(column.values())
    if len(column) == len(names):
        return [_side_by_side(steps)]
    there = [names[size] for size in column]
    first = steps[0]
    if isinstance(first, RepeatRounds) and len(first.steps) > 1 and not all(map(_is_once, steps)):
        if not isinstance(first.times, int):
            found = f"sizes {', '.join(there)} alone repeat rounds until a count"
            raise SizingError("sizes", found, "give a size made differently a pattern of its own")
        never = attrs.evolve(first, times=0, count=None)
        whole = [column.get(size, never) for size in range(len(names))]
        return [_side_by_side([attrs.evolve(step, count=None) for step in whole])]
    # Sizes share an instruction, with their own numbers; a repeat that is worked once is none.
    shared = _side_by_side(steps, [*column], len(names))
    return [OnlySizes(tuple(there), one) for one in simplified([shared])]


def _is_once(step: Step) -> bool:
    return isinstance(step, RepeatRounds) and step.times == 1


def _is_never(step: Step) -> bool:
    return isinstance(step, RepeatRounds) and step.times == 0


def _is_of_one_round(step: Step) -> bool:
    return isinstance(step, RepeatRounds) and len(step.steps) == 1


def _side_by_side(values: list[Any], places: Sequence[int] = (), many: int = 0) -> Any:
    """Return values of one shape as one, numbers by size where they differ.

    Where these are the values at some `places` of `many` sizes, the others have 0.
    """
    first = values[0]
    if all(value == first for value in values):
        return first
    if isinstance(first, int | float):
        by_place = dict(zip(places or range(len(values)), values, strict=True))
        return sized([by_place.get(at, 0) for at in range(many or len(values))])
    if isinstance(first, tuple):
        each_one = zip(*values, strict=True)
        return tuple(_side_by_side(list(each), places, many) for each in each_one)
    changed = {
        field.name: _side_by_side([getattr(value, field.name) for value in values], places, many)
        for field in attrs.fields(type(first))
        if field.init and field.name not in ("at", "column")
    }
    return attrs.evolve(first, **changed)


def merged_text(texts: Sequence[str]) -> str:
    """Return texts that differ in numbers only as one, with the numbers in brackets.

    Examples
    --------
    >>> merged_text(["lift 24 strands", "lift 28 strands", "lift 32 strands"])
    'lift 24 (28, 32) strands'
    """
    numbers = list(zip(*(_NUMBER.findall(text) for text in texts), strict=True))
    shown = iter(each[0] if len(set(each)) == 1 else f"{each[0]} ({', '.join(each[1:])})"
                 for each in numbers)  # fmt: skip
    return _NUMBER.sub(lambda _: next(shown), texts[0])
