"""Words in any order: a clause cut into phrases, each of which says one thing.

Other rules are expressions for whole clauses, and take the order that was thought of. Here a clause
is known if each of its phrases is: what is done, over which stitches, on which rounds, how far.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

import attrs

from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["WordGroup", "by_kind", "phrases_in"]


@attrs.frozen
class WordGroup:
    """Some words that say one thing, such as how far: ``"until 40 sts remain"``."""

    kind: str
    match: re.Match[str]

    @property
    def text(self) -> str:
        return self.match[0]


_BETWEEN = WordForm(r"[\s,;:–—-]*", re.NOFLAG)


def phrases_in(
    text: str, kinds: Sequence[tuple[str, re.Pattern[str]]]
) -> tuple[WordGroup, ...] | None:
    """Return the phrases that a clause is made of, None if some of its words are in no phrase.

    Of the kinds the first that fits is taken, so the longer ones stand first. Those whose name is
    empty say nothing, and are left out.
    """
    found: list[WordGroup] = []
    at = _between(text, 0)
    while at < len(text):
        for kind, said in kinds:
            match = said.match(text, at)
            if match is not None and match.end() > at:
                found += [WordGroup(kind, match)] if kind else []
                at = _between(text, match.end())
                break
        else:
            return None
    return tuple(found)


def by_kind(phrases: Iterable[WordGroup]) -> dict[str, list[WordGroup]]:
    """Return the phrases of each kind, in the order in which they stand."""
    found: dict[str, list[WordGroup]] = {}
    for phrase in phrases:
        found.setdefault(phrase.kind, []).append(phrase)
    return found


def _between(text: str, at: int) -> int:
    match = _BETWEEN.match(text, at)
    return match.end() if match else at
