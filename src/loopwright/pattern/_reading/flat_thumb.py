"""A thumb knitted flat, amid a row: set apart by two turns with stitches left beyond both.

"K25, turn and cast on 1 st. P10, turn and cast on 1 st." Nobody says that what lies on both sides
waits; the stitches that are cast on at the turns tell it, or the number of those worked on.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import Tally
from loopwright.pattern.items import Turn
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__ = ["part_thumb"]

_THESE = re.compile(
    rf"\b(?:these|those) (?P<n>{COUNT})(?: thumb| instep)?(?: sts?\b| stitches)", re.IGNORECASE
)

_THESE_ALONE = WordForm(rf"{_THESE.pattern} (?:alone|only)\b")


@attrs.frozen
class _Turned:
    """Two turned rows and what is cast on behind each, as entries: where they stand."""

    first: int
    near: int | None  # the cast-on behind the first
    second: int
    far: int | None  # the cast-on behind the second


def part_thumb(scribe: Scribe, said: str = "") -> None:
    """Let what lies beyond two turns wait, where a cast-on there tells it, or a number."""
    for turned in _turned_twice(scribe):
        if _is_flat(scribe) and (steps := _told(scribe, turned, said)):
            break
    else:
        return
    last = turned.second if turned.far is None else turned.far
    entry = type(scribe.assembler).entry
    scribe.assembler.entries[turned.first : last + 1] = [entry(step) for step in steps]
    scribe.context.course = "ROW"
    scribe.loose = True


def _is_flat(scribe: Scribe) -> bool:
    live = scribe.now()
    return bool(live.tallies) and not live.in_rounds and live.is_free


def _told(scribe: Scribe, turned: _Turned, said: str) -> list[st.Step] | None:
    """Return the rows with what waits beyond them, where the text tells that it does."""
    these = _THESE.search(said)
    if these is None and turned.near is turned.far is None:
        these = _THESE_ALONE.search(scribe.following or scribe.next_line)
    if turned.far is None and these is None:
        return None
    told = these or _THESE.search(scribe.following) or _THESE.search(scribe.next_line)
    return _parted(scribe, turned, count_in(told["n"]) if told else _count_of(scribe, turned))


def _turned_twice(scribe: Scribe) -> Iterator[_Turned]:
    """Yield two rows that were turned, one behind the other: the last, or before a cast-on."""
    entries = scribe.assembler.entries
    tail = range(max(0, len(entries) - 12), len(entries))
    if sum(_is_turned(entries[at].step) for at in tail) < 2:
        return
    worked = [at for at in tail if not isinstance(entries[at].step, st.Note)][-6:]
    for end in range(len(worked), 1, -1):
        left = worked[:end]
        far = left.pop() if isinstance(entries[left[-1]].step, st.CastOn) else None
        second = left.pop()
        near = left.pop() if left and isinstance(entries[left[-1]].step, st.CastOn) else None
        turned = left and all(_is_turned(entries[at].step) for at in (left[-1], second))
        if turned and (end == len(worked) or far is not None):
            yield _Turned(left[-1], near, second, far)


def _is_turned(step: st.Step) -> bool:
    return (
        isinstance(step, st.Row | st.Part) and len(step.items) > 1 and type(step.items[-1]) is Turn
    )


def _count_of(scribe: Scribe, turned: _Turned) -> Count | None:
    entries = scribe.assembler.entries
    ends = (turned.second, turned.second if turned.far is None else turned.far)
    return next((entries[at].step.count for at in ends if entries[at].step.count), None)


def _parted(scribe: Scribe, turned: _Turned, told: Count | None) -> list[st.Step] | None:
    """Return the rows with what waits held where they are turned; None if nothing is left over."""
    live, entries = scribe.now(), scribe.assembler.entries
    before = live.tallies_after(turned.first)
    after = live.tallies_after(turned.first + 1)
    near, far = (_cast_on(scribe, at, len(before)) for at in (turned.near, turned.far))
    back = live.tallies_after(turned.second), live.tallies_after(turned.second + 1)
    if not before or any(tally.behind for tally in before):
        return None
    worked = [there.ahead - then.behind for there, then in zip(*back, strict=True)]
    rest = [tally.behind for tally in after]
    total = [a + b for a, b in zip(worked, far, strict=True)]
    took_new = told is None or list(as_many(told, live.count)) == total
    with_new = [a + b for a, b in zip(total, near, strict=True)]
    if not took_new and list(as_many(told, live.count)) != with_new:  # type: ignore[arg-type]
        if turned.far is None:
            return None
        took_new = True
    side = [
        tally.ahead - many + (new if took_new else 0)
        for tally, many, new in zip(after, worked, near, strict=True)
    ]
    if not _fits(before, rest, side):
        return None
    one, two = entries[turned.first].step, entries[turned.second].step
    cast_on = [entries[at].step for at in (turned.near,) if at is not None]
    turn = st.Part((Turn(),), at=two.at)
    ahead = [*cast_on, turn] if took_new else [turn, *cast_on]
    ends = [entries[turned.far].step] if turned.far is not None else []
    return [
        _unturned(one), st.Hold(sized(rest), "instep", at=one.at), *ahead,
        _unturned(two), st.Hold(sized(side), "side", at=two.at), *ends, turn,
    ]  # fmt: skip


def _cast_on(scribe: Scribe, at: int | None, many: int) -> list[int]:
    """Return how many stitches are cast on at an entry, for each size."""
    if at is None:
        return [0] * many
    step = scribe.assembler.entries[at].step
    assert isinstance(step, st.CastOn)
    values = [int(value) for value in values_of(step.stitches)]
    return values * many if len(values) == 1 else values


def _fits(before: Sequence[Tally], rest: Sequence[int], side: Sequence[int]) -> bool:
    """Tell whether stitches are left beyond both turns, and some between them."""
    return all(
        left > 0 and right > 0 and left + right < tally.count
        for tally, left, right in zip(before, rest, side, strict=True)
    )


def _unturned(step: st.Step) -> st.Step:
    assert isinstance(step, st.Row | st.Part)
    return st.Part(step.items[:-1], at=step.at, count=step.count)
