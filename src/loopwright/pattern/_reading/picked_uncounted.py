# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches picked up in each of what no count in the text tells: slipped stitches, so many rows."""

from __future__ import annotations

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import Stated
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["picked_uncounted", "picks_uncounted"]

_IN_EACH = WordForm(
    r"\bpick(?:ing)? up (?:and k(?:nit)? )?(?:(?:1|one|a) st(?:itch)? "
    r"(?:in|for|from|into|through|along) (?:each|every)\b(?! (?:corner|side|end|gap|of)\b)"
    r"|(?:about |roughly )?\d (?:sts|stitches) (?:for|in|from|out of|to|per|along) (?:each|every) (?:\d|two|three|four|five) rows)",
)


_PIECES = WordForm(  # stitches of pieces that were made apart
    r"\b(?:knit|k|work|purl)\b(?! (?:rows?|rounds?|rnds?) \d)[^;.]*\b(?:of|from|on) (?:the )?"
    r"(?:first|second|other|1st|2nd|left|right) "
    r"(?:ear ?flap|flap|piece|strap|panel|half|mitten|sleeve|wing)\b",
)


def picks_uncounted(text: str) -> bool:
    """Tell whether a sentence picks up as many stitches as something has, or takes up a piece."""
    return bool(_IN_EACH.search(text) or _PIECES.search(text))


def _goes_round_before(scribe: Scribe) -> bool:
    return any(isinstance(e.step, st.Join | st.Round) for e in scribe.assembler.entries)


def picked_uncounted(scribe: Scribe, said: MappedText, stated: Stated) -> str:
    """Take "pick up 1 st in each slipped st": how many that is, no count in the text tells."""
    flat = not _goes_round_before(scribe)
    back: list[Says] = [st.ReturnHeld(name) for name in scribe.now().held()]
    scribe.give(back if flat else scribe.together() if back else ())
    scribe.context.course = "ROW" if flat else "RND"
    # what is stated holds behind the steps, not behind the first of them
    scribe.place = attrs.evolve(scribe.place, column=scribe.place.column + 1)
    scribe.note(said.text)
    scribe.claim("lost", 0)
    if stated.count is not None:
        scribe.claim("adopt", stated.count)
    return "instruction"
