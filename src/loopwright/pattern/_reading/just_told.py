# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The one round or row told just before, by a small word: "do 24 rounds of that"."""

from __future__ import annotations

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Turn

__all__ = ["just_told"]

_OF_THAT = WordForm(
    r"\s*(?:of |in |like )?(?:just )?(?:that|this|it|the same)(?: rib\w*| pattern| (?:round|rnd|row))?\s*"
)


def just_told(scribe: Scribe, words: str, course: str) -> tuple[st.Round | st.Row, ...] | None:
    """Return the round that "of that" means: the one told last, if none was told with it."""
    entries = scribe.assembler.entries
    last = entries[-1].step if entries else None
    kind = st.Round if course == "RND" else st.Row
    if not isinstance(last, kind) or len(scribe.context.rows) > 1 or not _OF_THAT.fullmatch(words):
        return None
    live = scribe.now()
    ends = [live.trial([last], size) for size in range(len(live.tallies))]
    if isinstance(last.items[-1], Turn) or any(
        end.troubles or end.tally.count != now.count
        for end, now in zip(ends, live.tallies, strict=True)
    ):
        return None
    return (attrs.evolve(last, count=None, at=None),)
