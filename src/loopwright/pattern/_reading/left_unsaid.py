"""Put into the steps what a text leaves to the knitter: where she does not turn, where the yarn is.

A designer writes "K to end of Needle 2; K across Needle 1" and means that the row is not turned;
she works a heel on needle 2, and the yarn hangs before needle 1. Who knits by the steps alone must
be told. This hangs on what is on the needles, so it is done where a text is read; `said_out` adds
what the steps themselves tell.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeGuard

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten, rounds_in, with_fields
from loopwright.pattern._reading.between_turns import up_to_the_edge
from loopwright.pattern._reading.closed_edges import closed_at_edges
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.said_out import left_unturned
from loopwright.pattern._tally import GAP, Key, Tally
from loopwright.pattern.items import KNIT, On, PickUp, Run, Stay, Turn, WrapTurn
from loopwright.pattern.values import Sized, To, UntilWorked, Where, values_of

__all__ = ["left_unsaid"]


def left_unsaid(steps: tuple[st.Step, ...], live: Live) -> tuple[st.Step, ...]:
    """Return the steps with what they leave to the knitter; `live` has followed them."""
    found: list[st.Step] = []
    for number, step in enumerate(steps):
        if across := _to_the_heel(steps, number, live):
            found += across
        elif _goes_back(steps, number, live):
            found += [step, st.Part((Turn(),), at=step.at)]
        elif _goes_on(steps[number + 1 :]) and _turned(live.tallies_after(number + 1)):
            for one in _unturned(step):
                found += _double_stitches(one, live.tallies_after(number))
        elif (
            isinstance(step, st.BeginHere) and step.count is None and live.tallies_after(number + 1)
        ):
            many = [tally.count for tally in live.tallies_after(number + 1)]
            found.append(
                attrs.evolve(step, count=_of_sizes(many))
                if _is_on_needles(steps[number + 1 :])
                else step
            )
        elif isinstance(step, st.Recapture) and _in_rows_since(step.name, steps[:number]):
            found.append(attrs.evolve(step, corner="last"))
        else:
            for one in _closing_rows(step, live.tallies_after(number)):
                found += _double_stitches(one, live.tallies_after(number))
            short = isinstance(step, st.Row | st.RepeatRounds)
            if short and _round_goes_on(steps[number + 1 :], live.tallies_after(number + 1)):
                found[-1:] = _unturned(found[-1])
    return tuple(rewritten(step, _in_order) for step in _closing_wraps(found))


def _is_on_needles(steps: tuple[st.Step, ...]) -> bool:
    """Tell whether a round comes next that is told needle by needle."""
    after = next((one for one in steps if not isinstance(one, _WORDS)), None)
    rows = list(rounds_in((after,))) if after is not None else []
    return bool(rows) and any(isinstance(item, On) for item in rows[0].items)


# rows that are not turned


def _goes_on(steps: tuple[st.Step, ...]) -> bool:
    """Tell whether the work goes on from here in the direction of the row before it."""
    for number, step in enumerate(steps):
        if isinstance(step, st.Join):
            after = next((one for one in steps[number + 1 :] if not isinstance(one, _WORDS)), None)
            return not (isinstance(after, st.BindOff) and after.stitches is None)
        if isinstance(step, st.Part):
            if any(isinstance(item, PickUp | Turn) for item in step.items):
                return False
        elif not isinstance(step, (*_WORDS, st.ReturnHeld)):
            return False
    return False


def _turned(tallies: tuple[Tally, ...]) -> bool:
    """Tell whether a right-side row was worked to its end, and turned, in each size."""
    return bool(tallies) and not any(
        tally.in_rounds or tally.right_side or tally.behind for tally in tallies
    )


def _round_goes_on(steps: tuple[st.Step, ...], tallies: tuple[Tally, ...]) -> bool:
    """Tell whether short rows end on the right side, and the round is knit on from there."""
    after = next((one for one in steps if not isinstance(one, _WORDS)), None)
    if isinstance(after, st.RepeatRounds) and isinstance(after.steps[0], st.Round):
        after = after.steps[0]
    knit_on = isinstance(after, st.Part | st.Round) and after.items[0] == KNIT
    back = all(tally.in_rounds and not tally.right_side for tally in tallies)
    return knit_on and bool(tallies) and back


def _unturned(step: st.Step) -> Iterator[st.Step]:
    """Yield a row, or rows that are repeated, of which the last ends without a turn."""
    if isinstance(step, st.Row) and not isinstance(step.items[-1], Stay):
        yield left_unturned(step)
    elif isinstance(step, st.RepeatRounds) and _is_more_than_once(step.times):
        *others, last = step.steps[: step.ending or None]
        if step.every > 1 or not isinstance(last, st.Row):
            yield step
            return
        yield with_fields(step, times=_less_one(step.times), count=None, ending=0)
        yield from others
        yield from _unturned(last if step.count is None else with_fields(last, count=step.count))
    else:
        yield step


def _is_more_than_once(times: st.Times) -> TypeGuard[int | Sized]:
    return isinstance(times, int | Sized) and min(values_of(times)) > 1


def _less_one(times: int | Sized) -> int | Sized:
    return _of_sizes([int(each) - 1 for each in values_of(times)])


# where the yarn is


def _to_the_heel(steps: tuple[st.Step, ...], number: int, live: Live) -> tuple[st.Step, ...]:
    """Knit across the instep first, where the round begins with it and a heel row comes next.

    The yarn hangs before the instep: slipped to a holder, it would be passed by a float.
    """
    step, tallies = steps[number], live.tallies_after(number)
    if not isinstance(step, st.Hold):
        return ()
    after = next((one for one in steps[number + 1 :] if not isinstance(one, _WORDS)), None)
    right = isinstance(after, st.Row) and after.side is not None and after.side == st.Side.RS
    if not right or _last_round(steps[:number]) != st.Round((KNIT,)):
        return ()
    if not tallies or any(tally.behind or not tally.in_rounds for tally in tallies):
        return ()
    held = [tally.held.get(step.name, 0) for tally in live.tallies_after(number + 1)]
    rest = [tally.count - many for tally, many in zip(tallies, held, strict=True)]
    if min(rest) < 1 or "heel" in tallies[0].held:
        return ()
    return (
        st.Part((Run("k", step.stitches),), at=step.at), st.BeginHere(at=step.at),
        st.Hold(_of_sizes(rest), "heel", at=step.at), with_fields(step, count=None),
        st.ReturnHeld("heel", at=step.at, count=step.count),
    )  # fmt: skip


def _goes_back(steps: tuple[st.Step, ...], number: int, live: Live) -> bool:
    """Tell whether a wrong-side row comes next over the last stitches of the round just worked.

    The others are held, and nobody says that the work is turned.
    """
    step, tallies = steps[number], live.tallies_after(number)
    if not isinstance(step, st.Hold):
        return False
    after = next((one for one in steps[number + 1 :] if not isinstance(one, _WORDS)), None)
    row = next(iter(rounds_in((after,))), None) if after is not None else None
    if not isinstance(row, st.Row) or row.side is None or row.side != st.Side.WS:
        return False
    if not isinstance(_last_round(steps[:number]), st.Round):
        return False
    return bool(tallies) and not any(tally.behind or not tally.in_rounds for tally in tallies)


def _last_round(before: tuple[st.Step, ...]) -> st.Round | st.Row | None:
    """Return the last round or row of these steps."""
    rows = (list(rounds_in((step,))) for step in reversed(before))
    return next((some[-1] for some in rows if some), None)


def _in_rows_since(name: str, before: tuple[st.Step, ...]) -> bool:
    """Tell whether rows alone were worked since a cast-on: its yarn begins at the first corner."""
    for step in reversed(before):
        if isinstance(step, st.Join):
            return False
        if isinstance(step, st.ProvisionalCastOn) and step.waste == name:
            return True
    return False


# wrapped stitches that are worked again


def _closing_rows(step: st.Step, tallies: tuple[Tally, ...]) -> tuple[st.Step, ...]:
    """Return rows until all are worked, with the last two as they must end."""
    found = _outwards(step, tallies)
    return found if len(found) > 1 else closed_at_edges(step, tallies)


def _outwards(step: st.Step, tallies: tuple[Tally, ...]) -> tuple[st.Step, ...]:
    """Let rows that wrap the next stitch, until all are worked, end with two that wrap none."""
    if not (isinstance(step, st.RepeatRounds) and isinstance(step.times, UntilWorked)):
        return (step,)
    rows = step.steps
    wrapping = [row for row in rows if isinstance(row, st.Row) and row.items[-1] == WrapTurn()]
    times = [len(_gaps(tally.ahead_at)) for tally in tallies]
    if len(wrapping) != 2 or len(rows) != 2 or not times or min(times) < 2:
        return (step,)
    many = _of_sizes([each - 1 for each in times])
    last = [attrs.evolve(row, items=row.items[:-1], count=None) for row in wrapping]
    last[-1] = attrs.evolve(last[-1], count=step.count)
    return (with_fields(step, times=many, count=None), *last)


def _gaps(there: Mapping[Key, int]) -> set[int]:
    """Return the places where rows were turned; where two were, that is one place."""
    return {place for key, place in there.items() if key[0] == GAP}


def _of_sizes(values: Sequence[int]) -> int | Sized:
    return values[0] if len(set(values)) == 1 else Sized(tuple(values))


def _double_stitches(step: st.Step, tallies: tuple[Tally, ...]) -> tuple[st.Step, ...]:
    """Let the first rows "to the double stitch" end before it, where it stands at the edge.

    The row before was turned at the end of the heel, so that no gap is there yet.
    """
    if isinstance(step, st.Row | st.Part) and tallies:
        at_edge = [up_to_the_edge(step, tally) for tally in tallies]
        return (at_edge[0] if all(row == at_edge[0] for row in at_edge) else step,)
    if not (isinstance(step, st.RepeatRounds) and _is_more_than_once(step.times)):
        return (step,)
    rows = step.steps
    doubled = [row for row in rows if isinstance(row, st.Row) and row.items[0] == Run("ds", 1)]
    if len(doubled) != 2 or len(rows) != 2 or step.every > 1:
        return (step,)
    there = [[bool(_gaps(one.ahead_at)), bool(_gaps(one.behind_at))] for one in tallies]
    if not there or any(each != there[0] for each in there) or all(there[0]):
        return (step,)
    if any(tally.in_rounds and tally.behind for tally in tallies):
        return (step,)
    first = [
        row if gap else rewritten(row, _to_the_end)
        for row, gap in zip(doubled, there[0], strict=True)
    ]
    return (*first, with_fields(step, times=_less_one(step.times)))


def _to_the_end(thing: object) -> object:
    is_gap = isinstance(thing, To) and thing.where is Where.GAP
    return attrs.evolve(thing, where=Where.END) if is_gap else thing  # type: ignore[misc]


def _closing_wraps(steps: list[st.Step]) -> list[st.Step]:
    """Work what is left of the wraps in the first round over all stitches, as she comes to them.

    The row before has ended at the instep: that is knit on the way to where the round begins.
    """
    found: list[st.Step] = []
    back: list[st.Step] = []  # what came since a row that took wraps up
    for step in steps:
        if isinstance(step, st.Row | st.Part):
            back = [step] if step.items[0] == _taking_up() else []
        elif isinstance(step, st.Round) and step.items == (KNIT,) and len(back) == 3:
            found.append(st.Part((KNIT,), at=step.at))
            step, back = attrs.evolve(step, items=(_taking_up(),)), []
        elif not isinstance(step, _WORDS):
            back = [*back, step] if back and isinstance(step, st.ReturnHeld | st.Join) else []
        found.append(step)
    return found


# needles


def _in_order(thing: object) -> object:
    """Name needles in the order in which they are worked: "needles 1 and 3: …; 2 and 4: …"."""
    if not isinstance(thing, st.Round):
        return thing
    ons = [item for item in thing.items if isinstance(item, On)]
    names = [name for item in ons for name in item.parts]
    if len(ons) < len(thing.items) or not all(map(_is_numbered, names)) or names == sorted(names):
        return thing
    each = [attrs.evolve(item, parts=(name,)) for item in ons for name in item.parts]
    each.sort(key=lambda item: item.parts)
    return attrs.evolve(thing, items=tuple(each))


def _is_numbered(name: str) -> bool:
    return name in ("needle 1", "needle 2", "needle 3", "needle 4", "needle 5")


_WORDS = (st.Section, st.Note)


def _taking_up() -> Run:
    """Return stitches knitted to the end, with their wraps."""
    return Run("k", To(Where.END), with_wraps=True)
