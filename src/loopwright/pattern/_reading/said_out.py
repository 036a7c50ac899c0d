"""Steps that loose texts leave out, and that no fabric can be made without.

"Pick up 1 st at each corner" is knit on the way round; "do not turn" keeps the edge beside the
point of the needle; a thumb that was held needs yarn. Whoever knits from such a text does so
without being told. Here it is put in, where a text was read by its meaning: steps that are written
down strictly are worked as they stand.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeGuard

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten, rounds_in
from loopwright.pattern.items import (
    KNIT,
    TURNS,
    Item,
    Lift,
    On,
    PickUp,
    Repeat,
    Run,
    Stay,
    Turn,
    With,
)
from loopwright.pattern.values import (
    Count,
    Sized,
    To,
    UntilWorked,
    Where,
    as_many,
    sized,
    values_of,
)

__all__ = ["left_unturned", "said_out"]

_CLOSED = (st.Graft, st.DrawUp, st.ThreeNeedleBindOff, st.CutYarn)
_BACK = (st.ReturnHeld, st.Recapture)
_SILENT = (st.Note, st.UseYarn)
_WORKED = (st.Part, st.Round, st.Row, st.RepeatRounds, st.WasteRow)
_STARTS = (st.CastOn, st.ProvisionalCastOn, st.ClosedCastOn)
_ELSEWHERE = (st.Join, st.OnlySizes, st.Hold, *_CLOSED, *_BACK, st.BindOff)
_AT_CORNERS = ("corner", "gap", "hole")


def said_out(steps: Sequence[st.Step]) -> tuple[st.Step, ...]:
    """Return steps with what a knitter does between them without being told."""
    found = _yarns(_staying(_joined(_held_together(_other_wastes(steps)))))
    found = _sided(_not_turned(found))
    found = _corners(found)
    found = [_gaps(step) for step in found]
    found = _begun(found)
    return tuple(_shared_out(found))


def _joined(steps: Sequence[st.Step]) -> list[st.Step]:
    """Join the work before the first round over stitches that were just cast on.

    A piece behind one that was joined goes round as that did.
    """
    found: list[st.Step] = []
    cast_on = False
    for step in steps:
        rounds = list(rounds_in((step,)))
        if isinstance(step, st.Join):
            return [*found, *steps[len(found) :]]
        if cast_on and rounds and isinstance(rounds[0], st.Round):
            return [*found, st.Join(at=step.at), *steps[len(found) :]]
        if isinstance(step, st.CastOn):
            cast_on = not any(isinstance(one, _WORKED) for one in found[-1:])
        elif not isinstance(step, (*_SILENT, st.Section, st.Arrange)):
            cast_on = False
        found.append(step)
    return found


def _other_wastes(steps: Sequence[st.Step]) -> list[st.Step]:
    """Give the waste yarn of a second piece another name: the fabric knows it from the first."""
    found: list[st.Step] = []
    now: dict[str, str] = {}  # what a name stands for here
    for step in steps:
        if isinstance(step, st.WasteRow | st.TakeOut | st.Recapture):
            called = step.name
            if isinstance(step, st.WasteRow):
                many = sum(
                    isinstance(one, st.WasteRow) and one.name.startswith(called) for one in found
                )
                now[called] = f"{called} {many + 1}" if many else called
            step = attrs.evolve(step, name=now.get(called, called))
        found.append(step)
    return found


def _held_together(steps: Sequence[st.Step]) -> list[st.Step]:
    """Hold the last stitch of a round with the instep from the start, where it is slipped to it."""
    found = list(steps)
    for place, step in enumerate(found):
        if not (isinstance(step, st.Hold) and step.name == "instep2"):
            continue
        before = found[max(0, place - 5) : place]
        kinds = (st.Hold, st.Hold, st.ReturnHeld, st.Part, st.InRows)
        if tuple(map(type, before)) != kinds:
            return list(steps)
        heel, instep, back, across, _ = before
        assert isinstance(heel, st.Hold)
        assert isinstance(instep, st.Hold)
        worked = _told(_items(across))
        less = _sum(heel.stitches, step.stitches, -1)
        if (heel.name, instep.name) != ("heel", "instep") or worked != less:
            return list(steps)
        found[place - 5 : place + 1] = [
            attrs.evolve(heel, stitches=less),
            attrs.evolve(instep, stitches=_sum(instep.stitches, step.stitches)),
            back, across,
        ]  # fmt: skip
        return [one for one in found if one != st.ReturnHeld("instep2")]
    return found


def _yarns(steps: Sequence[st.Step]) -> list[st.Step]:
    """Join yarn to stitches that come back to the needles where it was cut."""
    found: list[st.Step] = []
    used, cut, back = "main", False, 0
    for step in steps:
        if isinstance(step, st.UseYarn):
            used, cut = step.name, False
        elif isinstance(step, _CLOSED) or (isinstance(step, st.BindOff) and not step.stitches):
            cut, back = not isinstance(step, st.CutYarn) or not step.name, 0
        elif isinstance(step, _BACK) and cut:
            back = len(found) + 1
        elif isinstance(step, _WORKED):
            if cut and back and not _names_yarn(step):
                found.insert(back, st.UseYarn(used, new=True, at=step.at))
            cut, back = False, 0
            used = _last_named(step) or used
        found.append(step)
    return found


def _items(step: st.Step) -> tuple[Item, ...]:
    rows = list(rounds_in((step,))) if not isinstance(step, st.Part) else [step]
    return tuple(getattr(rows[-1], "items", ())) if rows else ()


def _names_yarn(step: st.Step) -> bool:
    return isinstance(next(iter(_items(step)), None), With)


def _last_named(step: st.Step) -> str:
    return next((item.yarn for item in reversed(_items(step)) if isinstance(item, With)), "")


# --- edges ----------------------------------------------------------------------------------------


def _not_turned(steps: Sequence[st.Step]) -> list[st.Step]:
    """Leave the work unturned behind a row along whose edge stitches are picked up next."""
    found: list[st.Step] = []
    for step in steps:
        if isinstance(step, st.Part) and isinstance(step.items[0], PickUp):
            at = next((n for n in reversed(range(len(found))) if not _is_silent(found[n])), -1)
            if at >= 0 and _last_on_right_side(found):
                found[at : at + 1] = _unturned(found[at])
        found.append(step)
    return found


def _staying(steps: Sequence[st.Step]) -> list[st.Step]:
    """Leave the last row unturned where a sentence behind it says so."""
    found: list[st.Step] = []
    for step in steps:
        if isinstance(step, st.Part) and isinstance(step.items[0], Stay):
            at = next((n for n in reversed(range(len(found))) if not _is_silent(found[n])), -1)
            if len(step.items) == 1 and at >= 0 and isinstance(found[at], st.Part):
                continue  # it is unturned already
            if at >= 0 and any(isinstance(row, st.Row) for row in rounds_in((found[at],))):
                found[at : at + 1] = _unturned(found[at])
                if len(step.items) > 1:
                    found.append(attrs.evolve(step, items=step.items[1:]))
                continue
        found.append(step)
    return found


def _last_on_right_side(steps: Sequence[st.Step]) -> bool:
    """Tell whether the last row was worked on the right side, or nothing tells its side."""
    since = 0
    for step in reversed(steps):
        rows = [] if isinstance(step, st.Part) else list(rounds_in((step,)))
        for row in reversed(rows):
            if isinstance(row, st.Row) and row.side is not None:
                return (row.side == st.Side.RS) == (since % 2 == 0)
            since += 1
        times = step.times if isinstance(step, st.RepeatRounds) else 1
        if isinstance(step, _STARTS) or not isinstance(times, int):
            return True
        since += len(rows) * (times - 1)
    return True


def _is_silent(step: st.Step) -> bool:
    return isinstance(step, st.Section | st.Note | st.UseYarn)


def left_unturned(row: st.Row) -> st.Row | st.Part:
    """Return a row that is not turned at its end; one that ends before it is a part of a row."""
    kept = row.items[:-1] if isinstance(row.items[-1], Turn | Stay) else row.items
    if not kept or isinstance(kept[-1], TURNS):
        return row
    if _ends_before(kept[-1]):  # "work row 3 once more, but do not turn"
        return st.Part(kept, at=row.at, count=row.count)
    return attrs.evolve(row, items=(*kept, Stay()))


def _ends_before(item: Item) -> bool:
    """Tell whether an item ends where stitches are left in its row."""
    to = item.amount if isinstance(item, Run) else None
    return isinstance(to, To) and (to.where is not Where.END or to.before != 0)


def _unturned(step: st.Step) -> tuple[st.Step, ...]:
    if isinstance(step, st.Row):
        return (left_unturned(step),)
    back = st.Part((Turn(),), at=step.at)
    if isinstance(step, st.OnlySizes) and isinstance(step.step, st.Row):
        return step, back  # other sizes end with a row before
    if not isinstance(step, st.RepeatRounds) or not isinstance(step.steps[-1], st.Row):
        return (step,)
    if isinstance(step.times, UntilWorked):
        return step, back
    if not isinstance(step.times, int) or step.times < 1 or step.every > 1 or step.ending:
        return (step,)
    *others, last = step.steps
    once = (*others, *_unturned(attrs.evolve(last, count=step.count or last.count)))
    if step.times == 1:
        return once
    return attrs.evolve(step, times=step.times - 1, count=None), *once


def _sided(steps: Sequence[st.Step]) -> list[st.Step]:
    """Begin on the wrong side where the first side that is stated, rows later, tells so."""
    found, rows, first = list(steps), 0, -1
    for place, step in enumerate(steps):
        turned = isinstance(step, st.Part) and isinstance(step.items[-1], Turn)
        if turned or isinstance(step, _ELSEWHERE) or (rows and isinstance(step, _STARTS)):
            return found
        if rows and isinstance(step, st.Part) and isinstance(step.items[0], PickUp):
            tab = all(_is_plain(one) for one in steps[first:place])
            return (
                [*found[:first], *_on_wrong_side(steps[first]), *found[first + 1 :]]
                if tab and rows % 2 == 0
                else found
            )
        for row, times in _rows_of(step):
            if not isinstance(row, st.Row) or times is None:
                return found
            first = place if first < 0 else first
            if row.side is not None:
                begun = _on_wrong_side(steps[first])
                late = rows > 0 and (row.side == st.Side.WS) == (rows % 2 == 0)
                return [*found[:first], *begun, *found[first + 1 :]] if late else found
            rows += times
    return found


def _is_plain(step: st.Step) -> bool:
    """Tell whether all rows of a step are knitted: a strip of garter stitch has two right sides."""
    return all(row.items[0] == KNIT for row in rounds_in((step,)))


def _rows_of(step: st.Step) -> list[tuple[st.Step, int | None]]:
    if not isinstance(step, st.RepeatRounds):
        return [(step, 1)] if isinstance(step, st.Round | st.Row) else []
    times = step.times if isinstance(step.times, int) and len(step.steps) == 1 else None
    return [(step.steps[0], times)]


def _on_wrong_side(step: st.Step) -> tuple[st.Step, ...]:
    if isinstance(step, st.Row):
        return (attrs.evolve(step, side=st.Side.WS),)
    if not isinstance(step, st.RepeatRounds) or not isinstance(step.times, int):
        return (step,)
    once = attrs.evolve(step.steps[0], side=st.Side.WS)  # type: ignore[call-arg]
    if step.times == 1:
        return (attrs.evolve(once, count=step.count),)
    return once, attrs.evolve(step, times=step.times - 1)


# --- corners --------------------------------------------------------------------------------------


def _is_corner(item: Item) -> bool:
    return isinstance(item, PickUp) and any(word in item.along for word in _AT_CORNERS)


def _corners(steps: Sequence[st.Step]) -> list[st.Step]:
    """Lift the strands at both corners of an opening in a round over its stitches."""
    found: list[st.Step] = []
    halves: dict[str, Count] = {}
    waiting: Count | None = None
    for step in steps:
        if isinstance(step, st.WasteRow):
            halves[step.name] = step.stitches
        if isinstance(step, st.Recapture):
            waiting = halves.get(step.name)
        elif waiting is not None and isinstance(step, st.Part):
            step = rewritten(step, _at_corner)  # whatever the text calls the place
            before = found[-1]
            both = (*getattr(before, "items", ()), *step.items)
            if isinstance(before, st.Part) and len(both) == 2 and all(map(_is_corner, both)):
                step = attrs.evolve(step, items=both)
                found.pop()
            if len(step.items) == 2 and all(map(_is_corner, step.items)):
                step, waiting = _round_about(step, waiting), None
            elif any(map(_has_corner, step.items)) and not all(map(_is_corner, step.items)):
                step = attrs.evolve(step, items=_with_strands(step.items))
        elif not isinstance(step, (*_SILENT, st.Arrange)):
            waiting = None
        found.append(step)
    return found


def _at_corner(thing: object) -> object:
    few = isinstance(thing, PickUp) and _lifted(thing) is not None
    return attrs.evolve(thing, along="corner") if few else thing  # type: ignore[misc]


def _has_corner(item: Item) -> bool:
    return _is_corner(item) or (isinstance(item, Repeat) and any(map(_has_corner, item.items)))


def _with_strands(items: Sequence[Item]) -> tuple[Item, ...]:
    """Lift a strand wherever a stitch is picked up at a corner, on the way round an opening."""
    found: list[Item] = []
    for item in items:
        if isinstance(item, Repeat):
            item = attrs.evolve(item, items=_with_strands(item.items))
        lifted = _lifted(item) if isinstance(item, PickUp) and _is_corner(item) else None
        found += lifted or (item,)
    return tuple(found)


def _round_about(step: st.Part, half: Count) -> st.Step:
    items: list[Item] = []
    for pick in step.items:
        assert isinstance(pick, PickUp)
        lifted = _lifted(pick)
        if lifted is None:
            return step
        items += [Run("k", half), *lifted]
    return attrs.evolve(step, items=tuple(items))


def _lifted(pick: PickUp) -> tuple[Item, ...] | None:
    many = [int(value) for value in values_of(pick.amount)]
    if not 0 < min(many) <= max(many) <= _AT_MOST:
        return None
    if len(set(many)) > 1:
        return (Repeat((Lift("m1l"),), pick.amount),)
    return tuple(Lift("m1l") for _ in range(many[0]))


_AT_MOST = 2  # strands lifted in one corner


def _gaps(step: st.Step) -> st.Step:
    """Lift the strand of a gap beside the edge along which stitches are picked up."""
    if not isinstance(step, st.Part) or not any(isinstance(one, PickUp) for one in step.items):
        return step
    items: list[Item] = []
    for place, item in enumerate(step.items):
        beside = (*step.items[max(0, place - 1) : place], *step.items[place + 1 : place + 2])
        edge = any(isinstance(one, PickUp) and not _is_corner(one) for one in beside)
        lifted = _lifted(item) if isinstance(item, PickUp) and _is_corner(item) and edge else None
        items += lifted or (item,)
    return attrs.evolve(step, items=tuple(items))


def _begun(steps: Sequence[st.Step]) -> list[st.Step]:
    """Begin the round behind stitches that were picked up at its end."""
    found: list[st.Step] = []
    for place, step in enumerate(steps):
        found.append(step)
        if isinstance(step, st.Part) and isinstance(_last(step.items), PickUp | Lift):
            after = next((one for one in steps[place + 1 :] if not _is_silent(one)), None)
            rounds = list(rounds_in((after,))) if after is not None else []
            if rounds and isinstance(rounds[0], st.Round):
                found.append(st.BeginHere(at=step.at))
    return found


def _last(items: Sequence[Item]) -> Item:
    """Return the item that is worked last, inside a repeat too."""
    return _last(items[-1].items) if isinstance(items[-1], Repeat) else items[-1]


# --- needles --------------------------------------------------------------------------------------


def _shared_out(steps: Sequence[st.Step]) -> list[st.Step]:
    """Share a gusset out on the needles that its rounds name: sole, instep (one or two), sole."""
    found: list[st.Step] = []
    shared: dict[str, str] = {}  # the needles that were shared out, by what the rounds call them
    for place, step in enumerate(steps):
        if shared and isinstance(step, st.Graft | st.ThreeNeedleBindOff):
            found += _half_sole(step)
        if isinstance(step, st.Part | st.Arrange | st.BeginHere | st.Graft | st.ThreeNeedleBindOff):
            shared = {}
        found.append(_renamed(step, shared) if shared else step)
        if isinstance(step, st.BeginHere):
            after = next((one for one in steps[place + 1 :] if not _is_silent(one)), None)
            needles = () if after is None else _needles_of(after)
            parts = _gusset(steps[:place], step.count) if needles else ()
            if parts and len(needles) == 4:
                parts = _halved(parts)
            if parts:
                shared = {name: f"needle {n}" for n, name in enumerate(needles, start=1)}
                named = zip(shared.values(), parts, strict=True)
                found.append(st.Arrange(tuple(named), at=step.at))
    return found


def _renamed(step: st.Step, names: dict[str, str]) -> st.Step:
    """Call the needles of a step by their numbers."""

    def numbered(thing: object) -> object:
        if not isinstance(thing, On) or not names.keys() & set(thing.parts):
            return thing
        return attrs.evolve(thing, parts=tuple(names.get(name, name) for name in thing.parts))

    called: st.Step = rewritten(step, numbered)
    return called


def _half_sole(step: st.Step) -> tuple[st.Step, ...]:
    """Knit the first needle's stitches onto the third, so that sole and instep lie together."""
    return st.Part((On(("needle 1",), (KNIT,)),), at=step.at), st.BeginHere(at=step.at)


def _needles_of(step: st.Step) -> tuple[str, ...]:
    """Return the needles that a round names, in their order; the instep may go by its name."""
    rounds = list(rounds_in((step,)))
    items = (one for row in rounds for one in row.items if isinstance(one, On))
    named = tuple(dict.fromkeys(name for one in items for name in one.parts))
    plain = [f"needle {n}" for n in range(1, len(named) + 1)]
    told = all(name in ("instep", number) for name, number in zip(named, plain, strict=True))
    return named if told and len(named) in (3, 4) else ()


def _gusset(before: Sequence[st.Step], total: Count | None) -> tuple[Count, ...]:
    """Return what stands before, on and behind an instep between two edges, if it is all told."""
    told = (step for step in before[-10:] if not isinstance(step, st.BeginHere))
    worked: list[st.Step] = []
    for step in told:
        if isinstance(step, st.Part) and worked and isinstance(worked[-1], st.Part):
            worked[-1] = attrs.evolve(worked[-1], items=(*worked[-1].items, *step.items))
        elif not _is_silent(step):
            worked.append(step)
    worked = worked[-5:]
    kinds = (st.Part, st.ReturnHeld, st.Part, st.Join, st.Part)
    if tuple(type(step) for step in worked) != kinds:
        return ()
    instep, sole = _items(worked[2]), _items(worked[4])
    second, third = _told(instep[:1]), _told((*instep[1:], *sole))
    if second is None or third is None:
        return ()
    if total is None:
        total = _told_before(before, worked)
    if total is None:
        return ()
    first = _sum(total, _sum(second, third), -1)
    return (first, second, third) if min(values_of(first)) > 0 else ()


def _told_before(before: Sequence[st.Step], worked: Sequence[st.Step]) -> Count | None:
    """Return how many stitches there are behind a pick-up: those of the turned heel, and all new.

    None if the heel's count is not stated.
    """
    heel = next((step.count for step in reversed(before[:-1]) if _is_counted(step)), None)
    instep, *_ = _items(worked[2])
    picked = [item for step in worked for item in _items(step) if isinstance(item, PickUp | Lift)]
    new = _told([instep, *picked])
    return None if heel is None or new is None else _sum(heel, new)


def _is_counted(step: st.Step) -> TypeGuard[st.Row | st.RepeatRounds]:
    return isinstance(step, st.Row | st.RepeatRounds)


def _halved(parts: tuple[Count, ...]) -> tuple[Count, ...]:
    """Share the instep of a gusset out on two needles, if it can be halved."""
    first, second, third = parts
    if any(many % 2 for many in values_of(second)):
        return ()
    half = _sum(second, sized([int(many) // 2 for many in values_of(second)]), -1)
    return first, half, half, third


def _told(items: Sequence[Item]) -> Count | None:
    """Return how many stitches are worked in these items, None if only where they end is told."""
    found: Count = 0
    for item in items:
        amount = 1 if isinstance(item, Lift) else getattr(item, "amount", None)
        if not isinstance(amount, int | Sized):
            return None
        found = _sum(found, amount)
    return found


def _sum(one: Count, other: Count, sign: int = 1) -> Count:
    many = max(values_of(one), values_of(other), key=len)
    like = one if len(values_of(one)) == len(many) else other
    both = zip(as_many(one, like), as_many(other, like), strict=True)
    return sized([int(a) + sign * int(b) for a, b in both])
