"""The fabric that is in work: whether it is plain now, and moss stitch over any count."""

from __future__ import annotations

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.growth import shapes
from loopwright.pattern._reading.scribe import Scribe, made
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import KNIT, Item, Repeat, Run, items_in
from loopwright.pattern.values import To

__all__ = ["is_plain", "is_plain_now", "moss"]


def is_plain_now(scribe: Scribe) -> bool:
    """Tell whether plain rounds were worked since those of the ground, or one that shapes them."""
    for entry in reversed(scribe.assembler.entries):
        step = entry.step
        rows = list(rounds_in((step,)))
        if _shapes_in_knit(step):
            return True
        if any(getattr(row, "items", ()) == scribe.context.ground for row in rows):
            return False
        several = isinstance(step, st.RepeatRounds) and step.times != 1 and len(step.steps) == 1
        if several and isinstance(rows[0], st.Round) and rows[0].items == (KNIT,):
            return True
    return False


def is_plain(scribe: Scribe, words: str) -> bool:
    """Tell whether a round is to be knitted that says it is plain, or worked without shaping.

    That the ground is a rib does not count behind a round that shapes and purls nothing.
    """
    if words.lower() in ("plain", "knit plain"):
        return True
    entries = scribe.assembler.entries
    return bool(entries) and _shapes_in_knit(entries[-1].step) and not _AS_SET.search(words)


_AS_SET = WordForm(
    r"\b(?:patt|pattern|rib|ribbing|set|established|panel|cable|lace|instep|front|as)\b"
)


def _shapes_in_knit(step: st.Step) -> bool:
    """Tell whether a step is a round that shapes and purls nothing."""
    return (
        isinstance(step, st.Round)
        and shapes(step)
        and not any(isinstance(item, Run) and item.stitch == "p" for item in items_in(step.items))
    )


def moss(scribe: Scribe, course: str) -> tuple[st.Round | st.Row, ...]:
    """Return moss stitch: a purl over each knit stitch, whatever the count is."""
    odd = {tally.count % 2 for tally in scribe.now().tallies} if scribe.now().sure else set()
    if len(odd) != 1:
        return (made(course, (KNIT,), ""),)
    first, second = Run("k", 1), Run("p", 1)
    if odd == {0}:
        pairs = ((Repeat((first, second)),), (Repeat((second, first)),))
        return tuple(made(course, items, "") for items in pairs)
    row: tuple[Item, ...] = (Repeat((first, second), To(before=1)), first)
    if course == "ROW":
        return (made(course, row, ""),)
    return made(course, row, ""), made(course, (Repeat((second, first), To(before=1)), second), "")
