"""Sections that are told once for each hand: the second of a pair is no further work."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._reading.front import heading_in
from loopwright.pattern._reading.lines import Line
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["told_for_each_hand"]

_SIDE = WordForm(r"\b(right|left)\b", re.NOFLAG)
_PAIRED = WordForm(
    r"\b(?:mitt\w*|gloves?|hands?|socks?|stockings?|slippers?|foot|thumb\w*)\b", re.NOFLAG
)
_NO_NAME = WordForm(
    r"\b(?:right|left|the|for|of|on|only|mitt\w*|gloves?|hands?|socks?|stockings?|slippers?)\b|\W+",
    re.NOFLAG,
)
_BEGINS = re.compile(
    r"(?:\d+[.)] )?(?:(?:using|with|on) [^.]{1,40}?,? )?(?:loosely )?(?:cast on|co)\b"
    r"|.*\bas (?:given )?for\b",
    re.IGNORECASE,
)
_WORKS = re.compile(r"(?:r(?:ou)?n?ds?|rows?|next|set-?up|dec\w*|inc\w*|k|knit|work)\b", re.I)


def told_for_each_hand(lines: Sequence[Line]) -> tuple[frozenset[int], frozenset[int]]:
    r"""Return the numbers of lines that are told of one hand, and of those that tell of the other.

    Examples
    --------
    >>> from loopwright.pattern._reading.lines import logical_lines
    >>> text = "Gusset, right hand\n\nRnd 1: K1, m1, k9.\n\nGusset, left hand\n\nRnd 1: K9, m1, k1."
    >>> told_for_each_hand(logical_lines(text))
    (frozenset({3}), frozenset({7}))
    """
    told: dict[str, tuple[str, list[Line]]] = {}
    firsts, others = list[Line](), list[Line]()
    for title, section in _sections(lines):
        low = title.lower()
        side = _SIDE.search(low)
        texts = [line.text.strip() for line in section]
        if side is None or len({*_SIDE.findall(low)}) > 1 or _PAIRED.search(low) is None:
            continue
        if any(map(_BEGINS.match, texts)) or not any(map(_WORKS.match, texts)):
            continue
        name = _NO_NAME.sub(" ", low).strip()
        first = told.setdefault(name, (side[0], section))
        if first[0] != side[0]:
            firsts += first[1]
            others += section
    return _numbers(firsts), _numbers(others)


def _numbers(lines: Sequence[Line]) -> frozenset[int]:
    return frozenset(line.pieces[0][1] for line in lines)


def _sections(lines: Sequence[Line]) -> Iterator[tuple[str, list[Line]]]:
    """Yield each heading with the lines under it."""
    title, section = "", list[Line]()
    for line in lines:
        if not line.text.startswith("##") and heading_in(line) is None:
            section.append(line)
            continue
        yield title, section
        title, section = line.text, []
    yield title, section
