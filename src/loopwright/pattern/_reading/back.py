"""A row that goes back over more stitches than were worked: into those before the round began.

"K11, turn. Sl 1, p21, turn": half of the heel lies behind the beginning of the round. What was
turned is left unturned first, the instep is held, and the other half of the heel taken along.
"""

from __future__ import annotations

from loopwright.pattern import steps as st
from loopwright.pattern._certain_changes import change_of
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern.items import Turn
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.values import sized

__all__ = ["back_over"]


def back_over(scribe: Scribe, step: st.Step) -> list[Says] | None:
    """Return a row with what must be held for it; None if it takes no more than was worked."""
    entries = scribe.assembler.entries
    last = entries[-1].step if entries else None
    if not isinstance(step, st.Row) or not isinstance(last, st.Part | st.Row):
        return None
    if not isinstance(last.items[-1], Turn):
        return None
    live = scribe.now()
    if not live.in_rounds or not live.sure or live.held():
        return None
    more, rest = [], []
    for size, tally in enumerate(live.tallies):
        (one,) = of_size(Pattern("", (step,), sizes=live.size_names), size).steps
        found = change_of(one.items, scribe.table)  # type: ignore[attr-defined]
        if found is None or found[0] <= tally.ahead or found[0] >= tally.count:
            return None
        more.append(found[0] - tally.ahead)
        rest.append(tally.count - found[0])
    scribe.loose = True
    scribe.turn_later()
    scribe.context.course = "ROW"
    return [
        st.Hold(sized(rest), "instep"), st.Hold(sized(more), "heel"),
        st.Part((Turn(),)), st.ReturnHeld("heel"), step,
    ]  # fmt: skip
