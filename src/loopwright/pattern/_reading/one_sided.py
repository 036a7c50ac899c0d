"""A row that is worked again on one side of flat work, and the plain rows of the other side."""

from __future__ import annotations

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Run
from loopwright.pattern.values import To, UntilCount

__all__ = ["ON_A_SIDE", "on_one_side"]

ON_A_SIDE = r"(?P<side>[rw]s|right[- ]side|wrong[- ]side) rows?"
_WORKED_ON = WordForm(rf"(?:(?:every|each)(?: foll\w*)?|on (?:the |all )*) ?{ON_A_SIDE}\b")
_BETWEEN = WordForm(
    r"\b(?P<verb>knit|purl|k|p) (?:on )?(?:every |each |all |the )*"
    r"(?:[rw]s|right[- ]side|wrong[- ]side|other|alternate) rows?\b",
)
_ENDS_BETWEEN = WordForm(r"(?P<side>[rw]s|right[- ]side|wrong[- ]side) row")


def on_one_side(
    scribe: Scribe, row: st.Step, until: st.Times, text: str, ending: str
) -> list[Says] | None:
    """Return a row worked on every row of its side, where that side faces now.

    The plain row of the other side comes behind it, and is the last only where the text says so.

    >>> _BETWEEN.search("on every RS row and purl every WS row until 13 sts remain")["verb"]
    'purl'
    """
    on, live = _WORKED_ON.search(text), scribe.now()
    if on is None or not isinstance(until, UntilCount) or live.in_rounds or not live.tallies:
        return None
    faces = {"r" if tally.right_side else "w" for tally in live.tallies}
    side = on["side"][0].lower()
    said = _BETWEEN.search(text)
    verb = said["verb"][0].lower() if said else "k" if side == "w" else "p"
    plain = st.Row((Run(verb, To()),), at=scribe.place)
    last = _ENDS_BETWEEN.search(ending)
    if faces != {side}:
        return [st.RepeatRounds((plain, row), until, at=scribe.place)]
    if last is not None and last["side"][0].lower() != side:
        return [st.RepeatRounds((row, plain), until, at=scribe.place)]
    again = attrs.evolve(row, at=scribe.place)
    return [row, st.RepeatRounds((plain, again), until, at=scribe.place)]
