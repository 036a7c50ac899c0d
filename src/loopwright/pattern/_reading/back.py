"""A row that goes back over more stitches than were worked: into those before the round began.

"K11, turn. Sl 1, p21, turn": half of the heel lies behind the beginning of the round. What was
turned is left unturned first, the instep is held, and the other half of the heel taken along.
However a text words it, in one sentence or in several, this is done where steps are handed on.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.live import between_turns
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._tally import Tally
from loopwright.pattern.items import On, Run, Stay, Turn, WrapTurn
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.values import Count, Sized, To, Where, as_many, sized, values_of

__all__ = ["across_start", "gone_back", "is_turned_amid_round", "leave_unturned"]


def gone_back(scribe: Scribe, says: Sequence[Says]) -> list[Says]:
    """Return what is said, with what must wait where a row goes back over the round's start."""
    rows = [row for one in says for row in _rows_of(one)]
    if (laid_aside := _half_worked(scribe, says)) is not None:
        return laid_aside
    if not rows or not (scribe.is_turned() or any(map(_is_turned, rows[:-1]))):
        return list(says)
    live = scribe.now()
    if not live.in_rounds or not live.sure or set(live.held()) - {"instep"}:
        return list(says)
    for at, row in enumerate(rows):
        turned = _is_turned(rows[at - 1]) if at else scribe.is_turned()
        if turned and (heel := _heel_of(scribe, rows[:at], row)) is not None:
            scribe.loose = True
            scribe.context.course = "ROW"
            if at == 0:
                scribe.turn_later()
            return [*_unturned(rows[:at]), *heel, *map(_as_row, rows[at:])]
    return list(says)


def _half_worked(scribe: Scribe, says: Sequence[Says]) -> list[Says] | None:
    """Return half of a heel that was told, with the instep laid aside behind it."""
    heel = scribe.context.heel
    if heel is None or len(says) != 1 or not _is_turned(says[0]):
        return None
    live = scribe.now()
    if not live.in_rounds or not live.sure or live.held() or live.behind_any():
        return None
    many, there = as_many(heel, live.count), _after(scribe, _unturned(says))
    if not there or any(2 * one.behind != n for one, n in zip(there, many, strict=True)):
        return None
    rest = [one.count - int(n) for one, n in zip(there, many, strict=True)]
    if min(rest) <= 0:
        return None
    scribe.context.course, scribe.loose = "ROW", True
    return [
        *_unturned(says), st.Hold(sized(rest), "instep"),
        st.Hold(sized([one.behind for one in there]), "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"),
    ]  # fmt: skip


def across_start(scribe: Scribe, stitches: Count) -> list[Says]:
    """Return the steps that leave as many alone on both sides of the round's start.

    "K12, turn. Work on these 24 sts": half of them lie behind the beginning of the round.
    """
    live = scribe.now()
    if not (scribe.is_turned() and live.in_rounds and live.sure) or live.held():
        return []
    many = as_many(stitches, live.count)
    sides = list(zip(live.tallies, many, strict=True))
    if not all(2 * tally.ahead == one < tally.count for tally, one in sides):
        return []
    scribe.turn_later()
    scribe.context.course = "ROW"
    return [
        st.Hold(sized([tally.count - one for tally, one in sides]), "instep"),
        st.Hold(sized([one - tally.ahead for tally, one in sides]), "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"),
    ]  # fmt: skip


def _step(one: Says) -> Says:
    return one.step if isinstance(one, Numbered) else one


def _is_turned(one: Says) -> bool:
    step = _step(one)
    return isinstance(step, st.Row | st.Part) and step.items[-1] == Turn()


def _rows_of(one: Says) -> Iterator[Says]:
    """Yield a part row by row, where the work is turned inside it."""
    if not isinstance(one, st.Part):
        yield one
        return
    for row in between_turns(one.items):
        yield st.Part(row, at=one.at)


def _unturned(rows: Sequence[Says]) -> list[Says]:
    """Return rows of which the last is left unturned: what waits is held first."""
    if not rows:
        return []
    last = _step(rows[-1])
    assert isinstance(last, st.Row | st.Part)
    items = last.items[:-1]
    return [*rows[:-1], *([st.Part(items, at=last.at, count=last.count)] if items else [])]


def _as_row(one: Says) -> Says:
    """Return a part as the row that it is once the heel alone is worked."""
    if isinstance(one, st.Part) and one.items != (Turn(),):
        return st.Row(one.items, at=one.at, count=one.count)
    return one


def _heel_of(scribe: Scribe, before: Sequence[Says], row: Says) -> list[st.Step] | None:
    """Return the steps that leave a row the heel alone; None if it needs no more than there is."""
    step, live = _step(row), scribe.now()
    if not isinstance(step, st.Row | st.Part) or any(isinstance(item, On) for item in step.items):
        return None
    more, rest = [], []
    for size, tally in enumerate(_after(scribe, before)):
        (one,) = of_size(Pattern("", (step,), sizes=live.size_names), size).steps
        found = change_of(one.items, scribe.table)  # type: ignore[attr-defined]
        to_end = any(isinstance(item, Run) and item.amount == _TO_END for item in one.items)  # type: ignore[attr-defined]
        many = _told_heel(scribe, tally, size) if found is None or to_end else found[0]
        whole = bool(tally.held)  # the instep waits, and these are all of the heel
        if many is None or not tally.ahead < many < tally.count + whole:
            return None
        more.append(many - tally.ahead)
        rest.append(tally.count - many)
    if not more or (any(rest) and (min(rest) == 0 or live.held())):
        return None
    if (waited := _waited_before(scribe)) is not None:
        known = as_many(waited, live.count)
        if any(a < b for a, b in zip(known, rest, strict=True)):
            return _in_the_middle(_after(scribe, before), known)
    waiting: list[st.Step] = [st.Hold(sized(rest), "instep")] if any(rest) else []
    return [*waiting, st.Hold(sized(more), "heel"), st.Part((Turn(),)), st.ReturnHeld("heel")]


NEAR = "near side"


def _waited_before(scribe: Scribe) -> Count | None:
    """Return how many stitches waited for the heel before this one, or its first half."""
    steps = (entry.step for entry in scribe.assembler.entries)
    waited = [one.stitches for one in steps if isinstance(one, st.Hold) and one.name == "instep"]
    return waited[-1] if waited else None


def _in_the_middle(tallies: Sequence[Tally], instep: Sequence[int]) -> list[st.Step] | None:
    """Return the steps that leave the heel alone, some stitches of which wait on the near side.

    "K5, turn. DS, p9, turn", in the middle of a heel of 30: 10 of it wait behind the 5.
    """
    half = [tally.count - many for tally, many in zip(tallies, instep, strict=True)]
    near = [many // 2 - tally.ahead for tally, many in zip(tallies, half, strict=True)]
    if any(many % 2 for many in half) or min(near) <= 0:
        return None
    return [
        st.Hold(sized(near), NEAR), st.Hold(sized(instep), "instep"),
        st.Hold(sized([many // 2 for many in half]), "heel"),
        st.ReturnHeld(NEAR), st.Part((Turn(),)), st.ReturnHeld("heel"),
    ]  # fmt: skip


_TO_END = To(Where.END)


def _told_heel(scribe: Scribe, tally: Tally, size: int) -> int | None:
    """Return how many stitches the heel was told to have, where half of them are worked."""
    told = scribe.context.heel
    if told is None:
        return None
    many = as_many(told, scribe.now().count)[size]
    return int(many) if 2 * tally.ahead == many else None


def _after(scribe: Scribe, before: Sequence[Says]) -> list[Tally]:
    """Return what is on the needles of each size after some rows; nothing where they fail."""
    live, steps = scribe.now(), [_step(one) for one in before]
    if not all(isinstance(step, st.Row | st.Part | st.Note) for step in steps):
        return []
    tries = [live.trial(steps, size) for size in range(len(live.tallies))]  # type: ignore[arg-type]
    fit = all(one.tally.in_rounds and not one.troubles for one in tries)
    return [one.tally for one in tries] if fit else []


def leave_unturned(scribe: Scribe) -> None:
    """Let the row that was told last end without its turn: of a repeat, the last time."""
    entries = scribe.assembler.entries
    entry = entries[-1] if entries else None
    if entry is None:
        return
    step = entry.step
    if isinstance(step, st.Row):
        whole = not any(tally.behind for tally in scribe.now().tallies)
        bare = attrs.evolve(step, items=step.items[:-1]) if whole and _is_turned(step) else step
        entry.step, entry.span = _without_turn(bare), None
    elif isinstance(step, st.RepeatRounds) and isinstance(step.times, int | Sized):
        *others, last = step.steps[: step.ending or None]
        times = [int(each) - 1 for each in values_of(step.times)]
        if step.every > 1 or not isinstance(last, st.Row) or min(times) < 1:
            return
        entry.step = attrs.evolve(step, times=sized(times), count=None, ending=0)
        for row in (*others, _without_turn(last)):
            scribe.assembler.add_plain(attrs.evolve(row, at=scribe.place))


_STAYS = WordForm(
    r"(?:do not|don't|without) turn(?:ing)?(?: (?:the |your )?work)?(?:[;:,.]| but| and| instead)*"
    r"(?: (?:but|and|instead|then|just|simply))*(?P<slides> (?:slide|push|slip)\b[^;:*\d]*)?$"
)


def stays_there(scribe: Scribe, text: str) -> bool:
    """Let the row told last on its line end where it is: "K4. Do not turn; slide the sts."."""
    stays = _STAYS.match(text)
    slides = stays and (stays["slides"] or scribe.following[:5].lower() == "slide")
    if not stays or not (scribe.loose or slides):
        return False
    entries = scribe.assembler.entries
    step = entries[-1].step if entries else None
    if not isinstance(step, st.Row | st.Round) or step.at is None:
        return False
    if step.at.line < scribe.first_line or isinstance(step.items[-1], Turn | WrapTurn | Stay):
        return False
    entries[-1].step, scribe.loose = attrs.evolve(step, items=(*step.items, Stay())), True
    for rows in (scribe.context.rows, scribe.context.named):
        for name, row in list(rows.items()):
            if row.items == step.items and name in (scribe.context.last, "last"):
                rows[name] = attrs.evolve(row, items=(*step.items, Stay()))  # type: ignore[index]
    return True


def _without_turn(row: st.Row) -> st.Row | st.Part:
    """Return a row without its turn; one that is turned in its midst is a part."""
    if row.items[-1] == Turn() and len(row.items) > 1:
        return st.Part(row.items[:-1], at=row.at, count=row.count)
    return attrs.evolve(row, items=(*row.items, Stay())) if not row.is_turned else row


def is_turned_amid_round(scribe: Scribe) -> bool:
    """Tell whether a round was turned for the first time, amid it, by the last step."""
    live = scribe.now()
    amid = live.is_free and live.in_rounds and live.behind_any() and scribe.is_turned()
    return amid and not any(tally.right_side for tally in live.tallies)
