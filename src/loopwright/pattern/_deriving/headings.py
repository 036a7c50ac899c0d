"""Headings for what was derived: the parts of a sock where the fabric says so, else its pieces.

A tube that is closed at one end and open at the other, with rows or an opening over half of its
stitches in between, is a sock: what lies beyond the heel is leg or foot by which end is closed.
Of anything else is said only which piece is begun, and where an opening is taken up.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, TypeAlias

import attrs
import numpy as np

from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import items_of, rounds_in, steps_in
from loopwright.pattern._parts import SockPart
from loopwright.pattern.items import Run
from loopwright.pattern.program import Pattern

__all__ = ["headed"]

_HALF: Final = (0.4, 0.6)  # of the round: a heel; a thumb takes less
_LONG: Final = 6  # rounds worked plainly; between the rounds that shape a toe are fewer
_ORDINALS: Final = ("First", "Second", "Third", "Fourth")
_CASTS: Final = (st.CastOn, st.ClosedCastOn, st.ProvisionalCastOn)
_CLOSES: Final = (st.Graft, st.DrawUp, st.ThreeNeedleBindOff, st.BindOff)
_WORKS: Final = (st.Round, st.Row, st.Part, st.RepeatRounds, st.Recapture, *_CASTS)
_Steps: TypeAlias = Sequence[st.Step]
_Headings: TypeAlias = dict[int, st.Section]  # by the step that they stand before


def headed(pattern: Pattern, fabric: Fabric) -> Pattern:
    """Return the pattern with headings, where there is more than one thing to name."""
    steps = pattern.steps
    headings = _of_a_sock(pattern, fabric) or _of_pieces(steps)
    if len(headings) < 2:
        return pattern
    found: list[st.Step] = []
    for at, step in enumerate(steps):
        if at in headings:
            found.append(headings[at])
        found.append(step)
    return attrs.evolve(pattern, steps=tuple(found))


def _of_pieces(steps: _Steps) -> _Headings:
    """Name each piece that is begun when the one before is closed, and each opening taken up."""
    headings: _Headings = {}
    pieces, closed = 0, True
    for at, step in enumerate(steps):
        if closed and isinstance(step, _CASTS) and pieces < len(_ORDINALS):
            headings[at] = st.Section(f"{_ORDINALS[pieces]} piece")
            pieces += 1
        elif closed and isinstance(step, st.Recapture):
            headings[at] = st.Section("Opening")
        if isinstance(step, _WORKS):
            closed = False
        elif isinstance(step, _CLOSES):
            closed = not isinstance(step, st.BindOff) or step.stitches is None
    return headings


def _of_a_sock(pattern: Pattern, fabric: Fabric) -> _Headings | None:
    """Name the parts of a sock, None where the fabric doesn't say that it is one."""
    steps = pattern.steps
    first = next((at for at, step in enumerate(steps) if isinstance(step, _CASTS)), None)
    if first is None or len(fabric.live) or len(fabric.openings) != 1:
        return None
    heel = _heel(steps, first, fabric)
    if heel is None or not any(isinstance(step, st.Join) for step in steps[: heel[0]]):
        return None
    begins, over = heel  # the heel begins before a step, and what parts leg and foot goes on
    close = next((at for at in range(over, len(steps)) if _closes_all(steps[at])), None)
    if close is None:
        return None
    table, found = fabric.stitches, {begins: "heel"}
    if isinstance(steps[first], st.CastOn):
        worked = [at for at in range(first, over) if _is_in_rounds(steps[at])]
        plain = [at for at in worked if _is_plain(steps[at])]
        found |= {first: "cuff" if worked[:1] != plain[:1] else "leg"}
        found |= {plain[0]: "leg"} if plain and worked[0] != plain[0] else {}
        found |= {over: "foot", _shaped_before(steps, table, over, close): "toe"}
    else:
        found |= {first: "toe", _shaped_after(steps, table, first, begins): "foot", over: "leg"}
        cuff = _ribbed_before(steps, over, close)
        found |= {cuff: "cuff"} if cuff < close else {}
    return {at: st.Section(part.capitalize(), part=SockPart(part)) for at, part in found.items()}


def _heel(steps: _Steps, first: int, fabric: Fabric) -> tuple[int, int] | None:
    """Return where the only heel begins, and what follows where leg and foot are parted."""
    rounds = np.bincount(fabric.course[fabric.ids])
    width = float(np.median(rounds[rounds > 0]))
    openings = [at for at, step in enumerate(steps) if isinstance(step, st.WasteRow)]
    taken_up = [at for at, step in enumerate(steps) if isinstance(step, st.Recapture)]
    rows = [at for at in range(first, len(steps)) if _is_in_rows(steps[at])]
    if len(openings) == len(taken_up) == 1 and not rows:
        (waste,), (later,) = openings, taken_up
        step = steps[waste]
        assert isinstance(step, st.WasteRow)
        return (later, waste + 1) if _is_half(step.stitches, width) else None
    if openings or not rows:
        return _made_at_once(steps, taken_up, width) if not openings else None
    begins = rows[0]
    after = next((at for at in range(begins, len(steps)) if _is_in_rounds(steps[at])), None)
    if after is None or any(at > after for at in rows) or taken_up:
        return None
    while isinstance(steps[begins - 1], st.Hold | st.Part | st.InRows):
        begins -= 1
    return begins, after


def _made_at_once(steps: _Steps, taken_up: list[int], width: float) -> tuple[int, int] | None:
    """Return the heel that is cast on over waste yarn while the instep waits."""
    holds = [at for at, step in enumerate(steps) if isinstance(step, st.Hold)]
    if len(holds) != 1 or len(taken_up) != 1 or taken_up[0] < holds[0]:
        return None
    hold = steps[holds[0]]
    assert isinstance(hold, st.Hold)
    begins = holds[0]
    while isinstance(steps[begins - 1], st.Part):
        begins -= 1
    cast = any(isinstance(step, st.ProvisionalCastOn) for step in steps[begins : taken_up[0]])
    after = taken_up[0] + 1
    return (begins, after) if cast and _is_half(hold.stitches, width) else None


def _is_half(stitches: object, width: float) -> bool:
    return isinstance(stitches, int) and _HALF[0] <= stitches / width <= _HALF[1]


def _is_in_rows(step: st.Step) -> bool:
    return any(isinstance(one, st.Row) for one in steps_in((step,)))


def _is_in_rounds(step: st.Step) -> bool:
    return any(isinstance(one, st.Round) for one in steps_in((step,)))


def _closes_all(step: st.Step) -> bool:
    return isinstance(step, _CLOSES) and (not isinstance(step, st.BindOff) or step.stitches is None)


def _is_plain(step: st.Step) -> bool:
    return _is_in_rounds(step) and all(
        item.stitch == "k" for item in items_of((step,)) if isinstance(item, Run)
    )


def _is_long(step: st.Step) -> bool:
    """Whether a step is many rounds of plain knitting."""
    times = step.times if isinstance(step, st.RepeatRounds) else 1
    many = len(list(rounds_in((step,)))) * (times if isinstance(times, int) else _LONG)
    return _is_plain(step) and many > _LONG


def _shapes(table: StitchTable, step: st.Step) -> int:
    """Return by how many stitches the runs of a step change, each once."""
    return sum(table[item.stitch].change for item in items_of((step,)) if isinstance(item, Run))


def _shaped_before(steps: _Steps, table: StitchTable, start: int, close: int) -> int:
    """Return where the shaping begins that ends with the closing: the toe from the cuff down."""
    found = close
    for at in range(close - 1, start, -1):
        if _is_long(steps[at]) or _is_in_rows(steps[at]):
            break
        if _shapes(table, steps[at]) < 0 or isinstance(steps[at], st.Arrange):
            found = at
    return found


def _shaped_after(steps: _Steps, table: StitchTable, first: int, heel: int) -> int:
    """Return what follows the shaping that begins with the cast-on: the foot from the toe up."""
    found = first + 1
    for at in range(first, heel):
        if _is_long(steps[at]):
            break
        if _shapes(table, steps[at]) > 0:
            found = at + 1
    return found


def _ribbed_before(steps: _Steps, start: int, close: int) -> int:
    """Return where the rounds begin that are not plain up to the closing."""
    found = close
    for at in range(close - 1, start, -1):
        if _is_plain(steps[at]):
            break
        if _is_in_rounds(steps[at]):
            found = at
    return found
