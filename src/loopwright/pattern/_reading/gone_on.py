# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What rows that go on come to: those worked last, their plain rounds, and how their numbers grow.

"Decrease on every other round until 28 sts remain" needs the row that decreased, what lies between
two of them, and whether the next is the same or has a stitch less in each part.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._reading.free_repeats import GoingOn, going_on_in
from loopwright.pattern._reading.growth import changes, cycle_of, growth_of, one_less, shapes
from loopwright.pattern._reading.named_rows import last_shaping
from loopwright.pattern._reading.once_more import so_often
from loopwright.pattern._reading.onward import carry_on, rows_before
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import for_sizes, number_of, stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.items import Run
from loopwright.pattern.values import Count, To, UntilCount, as_many, plus, sized, values_of

__all__ = ["in_any_order", "rows_in_this_way"]

_Row = st.Round | st.Row


def rows_in_this_way(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "work 4 more rows in the same way, with 2 sts less between the decs": so many rows."""
    text = said.text.strip(" .")
    match = _SO_MANY.fullmatch(text)
    if match is None or _WAY.search(text) is None:
        return None
    cycle = cycle_of(rows_before(scribe))
    many = number_of(match["n"])
    if cycle is None and many and (alike := _alike(scribe)):
        return _more_of(scribe, alike, many)
    if cycle is None or not many or many % len(cycle[0]) or not scribe.now().sure:
        return None
    return carry_on(scribe, *cycle, None, cycles=many // len(cycle[0]))


def _alike(scribe: Scribe) -> list[_Row]:
    """Return the flat rows told last by their numbers, from the first on."""
    told = [scribe.context.rows.get(number) for number in range(1, scribe.context.last + 1)]
    rows = [row for row in told if isinstance(row, st.Row) and not row.is_turned]
    worked = rows_before(scribe)[-len(rows) :] if rows else []
    same = [row.items for row in worked] == [row.items for row in rows]
    return [*rows] if same and len(rows) == len(told) else []


def _more_of(scribe: Scribe, rows: list[_Row], many: int) -> list[Says] | None:
    """Return so many more rows like those: one over and over, or all of them in their order."""
    often, left = divmod(many, len(rows))
    if left and len(rows) > 2:
        return None
    last: list[st.Step] = [attrs.evolve(row, at=scribe.place) for row in rows[:left]]
    again = [one for one in so_often(rows, often, scribe.place) if isinstance(one, st.Step)]
    steps, live = [*(again if often else ()), *last], scribe.now()
    fails = any(live.trial(steps, size).troubles for size in range(len(live.tallies)))
    return None if fails else [*steps]


_WAY = re.compile(
    r"\b(?:in (?:exactly )?(?:this|that|the same|like) (?:way|manner|fashion)|like (?:this|that|these)|thus)\b",
    re.IGNORECASE,
)
_SO_MANY = WordForm(  # and how the rows change is known from those before
    rf"(?:(?:and|then|now) )*(?:work|continue|cont|go on|knit|keep on|carry on)(?: {_WAY.pattern})?,? (?:for )?(?:another |a further |the next )?(?P<n>\d{{1,2}}|{'|'.join(NUMBER_WORDS)}) (?:more |further )?(?:rows|rounds|rnds)(?: more)?(?:,? {_WAY.pattern})?"
    r"(?:,? (?:(?:but|each|always|and|every time) )*with [^.;:*]*\b(?:more|fewer|less)\b[^.;:*]*)?",
)


def in_any_order(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read that rows go on, in whatever order it is told, and how others do behind them."""
    *first, last = _THEN.split(said.text)
    if not first:
        return _one(scribe, last, scribe.stated)
    kept, remarks = scribe.assembler.kept(), list(scribe.assembler.remarks)
    place = scribe.place
    for part in first:
        stated = stated_in(MappedText.of(part))
        steps = _one(scribe, stated.said.text, stated.count)
        if not steps:
            break
        scribe.give(steps, stated.count)
        scribe.place = attrs.evolve(scribe.place, column=scribe.place.column + 1)
    else:
        steps = _one(scribe, last, scribe.stated)
        if steps is not None:
            return steps
    scribe.assembler.back_to(kept)
    scribe.assembler.remarks[:] = remarks
    scribe.place = place
    return None


_THEN = re.compile(
    r"(?:[,;.]? (?:and )?then|[,;] and|; (?=every|on|dec|inc|rep|work)) ", re.IGNORECASE
)


def _one(scribe: Scribe, text: str, stated: Count | None) -> list[Says] | None:
    going = going_on_in(text, stated)
    live = scribe.now()
    if going is None or not live.sure or live.behind_any():
        return None
    rows = _rows(scribe, going)
    going = going if rows is None else _in_all(scribe, going, rows)
    return None if rows is None or not going.is_whole else _gone_on(scribe, going, rows)


def _in_all(scribe: Scribe, going: GoingOn, rows: Sequence[_Row]) -> GoingOn:
    """Put so many stitches on each needle as all of them, so many rounds as so many times."""
    if going.each:
        needles = {len(tally.parts) for tally in scribe.now().tallies}
        many = needles.pop() if len(needles) == 1 else 0
        whole = going.target and sized([int(n) * many for n in values_of(going.target)])
        return attrs.evolve(going, target=whole or None)
    if going.rounds is not None:
        times = [int(n) // len(rows) for n in values_of(going.rounds)]
        fits = all(int(n) % len(rows) == 0 for n in values_of(going.rounds))
        return attrs.evolve(going, times=sized(times) if fits and min(times) else None, rounds=None)
    return going


def _rows(scribe: Scribe, going: GoingOn) -> list[_Row] | None:
    """Return the rows of one cycle, the one that shapes among them."""
    before = rows_before(scribe)
    if len(going.numbers) > 1:
        numbered = [scribe.context.row(number) for number in going.numbers]
        return None if None in numbered else [row for row in numbered if row is not None]
    if going.last:
        return before[-going.last :] if len(before) >= going.last else None
    shaping = _shaping(scribe, going, before)
    if shaping is None:
        return None
    behind = _behind(before, shaping)
    if going.numbers and going.stride == 0:
        return [shaping]
    if going.stride == 0:
        return _in_this_way(scribe, shaping, behind)
    plain = behind[0] if behind else scribe.plain(ground=False)[0]
    between = [plain] * (going.stride - 1)
    return [shaping, *between] if len(behind) >= len(between) else [*between, shaping]


def _shaping(scribe: Scribe, going: GoingOn, before: Sequence[_Row]) -> _Row | None:
    if going.numbers:
        return scribe.context.row(going.numbers[0])
    wanted = "" if going.kind in ("", "shaping") else going.kind
    named = scribe.context.named.get(wanted) if wanted else None
    found = last_shaping(scribe, wanted) or named
    if found is None and not wanted:
        found = next((row for row in reversed(before) if shapes(row)), None)
    return found


def _behind(before: Sequence[_Row], shaping: _Row) -> list[_Row]:
    """Return the rows that were worked since."""
    found: list[_Row] = []
    for row in reversed(before):
        if row.items == shaping.items:
            break
        found.insert(0, row)
    return found if not any(shapes(row) for row in found) else []


def _in_this_way(scribe: Scribe, shaping: _Row, behind: list[_Row]) -> list[_Row]:
    """Return the cycle that nobody spells out: rows 1 to the last, or the one and those behind."""
    told = scribe.context.rows
    block = [told[number] for number in sorted(told)]
    ends = block and (behind[-1] if behind else shaping).items == block[-1].items
    if ends and sum(map(shapes, block)) == 1:
        return list(block)
    return [shaping, *behind]


def _gone_on(scribe: Scribe, going: GoingOn, rows: list[_Row]) -> list[Says] | None:
    rows = [attrs.evolve(row, count=None, at=scribe.place) for row in rows]
    if _growth(scribe) is None and _can_be_worked(scribe, rows):
        if going.purled and not _is_purled(going.purled, rows):
            return None
        if going.target is not None:
            until = UntilCount(going.target, _grown(scribe, going.target))
            return [st.RepeatRounds(tuple(rows), until, at=scribe.place)]
        times = _times(scribe, going, rows)
        ends = going.ends and not going.last and len(going.numbers) < 2
        return None if times is None else _so_often(scribe, rows, times, ends=ends)
    return _growing(scribe, going, rows)


def _can_be_worked(scribe: Scribe, rows: Sequence[_Row]) -> bool:
    live = scribe.now()
    return not any(live.trial(rows, size).troubles for size in range(len(live.tallies)))


def _growth(scribe: Scribe) -> tuple[list[_Row], list[Any]] | None:
    """Return the last cycle whose numbers differ from those before (k7, k8), and by what."""
    found = cycle_of(rows_before(scribe))
    return found if found is not None and any(changes(by) for by in found[1]) else None


def _grown(scribe: Scribe, target: Count) -> bool:
    now = as_many(scribe.now().count, scribe.now().count)
    return as_many(target, scribe.now().count)[0] > now[0]


def _times(scribe: Scribe, going: GoingOn, rows: Sequence[_Row]) -> Count | None:
    if going.times is None or not going.total:
        return going.times
    shaping = next((row for row in rows if shapes(row)), rows[0])
    done = 0
    for row in reversed(rows_before(scribe)):
        if row.items == shaping.items:
            done += 1
        elif shapes(row):
            break
    left = [int(value) - done for value in values_of(going.times)]
    return sized(left) if min(left) > 0 else None


def _so_often(
    scribe: Scribe, rows: Sequence[_Row], times: Count, *, ends: bool = False
) -> list[Says]:
    """Return rows so often; the last time no plain ones stand behind the shaping, if it `ends` so."""
    last = list(rows)
    while ends and not shapes(last[-1]):
        last.pop()
    if len(last) < len(rows) and (times == 1 or min(values_of(times)) > 1):
        return [*(_so_often(scribe, rows, plus(times, -1)) if times != 1 else ()), *last]
    if times == 1:
        return list(rows)
    return [st.RepeatRounds(tuple(rows), times, at=scribe.place)]


def _growing(scribe: Scribe, going: GoingOn, rows: list[_Row]) -> list[Says] | None:
    """Return rows whose numbers change from one to the next; None where that leads nowhere."""
    if going.target is None and going.times is None:
        return None
    found = _growth(scribe)
    plain = [row for row in rows if not shapes(row)]
    if found is None:
        grown = [one_less(row) if shapes(row) else None for row in rows]
        if not any(changes(by) for by in grown):
            return None
        found = rows, grown
    elif len(found[0]) == 1 or going.stride == 1:
        last, by = next(pair for pair in zip(*found, strict=True) if shapes(pair[0]))
        between = [] if going.stride == 1 else plain
        found = [*between, last], [*[None] * len(between), by]
    if going.purled and not _is_purled(going.purled, found[0]):
        return None
    target, cycles = going.target, None
    if target is None:
        cycles = _cycles(scribe, going, found[0])
        if cycles is None:
            return None
        if going.ends:
            target = _at_end(scribe, cycles, found[0])
    claims = dict(scribe.claims)
    steps = carry_on(scribe, *found, target, cycles=None if target is not None else cycles)
    while steps and going.ends and isinstance(steps[-1], _Row) and not shapes(steps[-1]):
        steps = steps[:-1]
    made = {claim.kind for key in scribe.claims for claim in scribe.claims[key]}
    if steps or made - {claim.kind for key in claims for claim in claims[key]} == {"adopt"}:
        return steps
    scribe.claims.clear()
    scribe.claims.update(claims)
    return None


def _cycles(scribe: Scribe, going: GoingOn, cycle: Sequence[_Row]) -> Count | None:
    """Return how many cycles are left, where those that were worked are part of the number."""
    shaping = next(row for row in cycle if shapes(row))
    done = 0
    for row in reversed(rows_before(scribe) if going.ends else ()):
        if shapes(row) and growth_of(row.items, shaping.items) is None:
            break
        done += shapes(row)
    left = [int(many) - done for many in values_of(going.times or 0)]
    return sized(left) if min(left) > 0 else None


def _at_end(scribe: Scribe, cycles: Count, cycle: Sequence[_Row]) -> Count | None:
    """Return the count behind the last row that shapes, where it changes by so many each time."""
    shaping = next(row for row in cycle if shapes(row))
    live = scribe.now()
    often = for_sizes(values_of(cycles), len(live.tallies))
    ends = list[int]()
    for size, (many, tally) in enumerate(zip(often, live.tallies, strict=True)):
        (row,) = live.of_size((shaping,), size)
        change = change_of(getattr(row, "items", ()), scribe.table)
        if change is None or not change[1]:
            return None
        ends.append(tally.count + change[1] * int(many))
    return sized(ends)


def _is_purled(nth: int, rows: Sequence[_Row]) -> bool:
    """Tell whether every so many of the rows that go on is purled, and no other."""
    purled = [row.items == (Run("p", To()),) for row in rows]
    return len(rows) == nth and sum(purled) == 1
