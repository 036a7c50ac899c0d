# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Cables that come in pairs: two in a row that should cross both ways, and those of a right and a left hand."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["cable_pairs"]

_CABLE = WordForm(
    r"(?<!\w)(?:C(?P<n>\d)(?P<way>[FB])|(?P<a>\d)/(?P<b>\d) ?(?P<way2>[LR])P?C)(?!\w)", re.NOFLAG
)
_HAND = r"(?P<hand>right|left)(?:[- ]hand)? ?(?:mitten|mitt|glove|sock|wrist\w*|hand|cuff)?"
_OF_HAND = WordForm(
    rf"(?P<cable>(?-i:C\d[FB]|\d/\d ?[LR]P?C))(?:, [kp] ?\d+)? ?(?:\(|(?:for|on|in) (?:the )?){_HAND}",
)
_MADE_AS = WordForm(
    r"\bas (?:for )?(?:the )?(?P<other>right|left)\b[^.;]{0,40}\b(?:with|using|working|cross\w*)\b[^.;]{0,30}?(?P<cable>(?-i:C\d[FB]|\d/\d ?[LR]P?C))(?! (?:in place|instead))",
)
_OTHER = {"right": "left", "left": "right"}


def cable_pairs(sentences: Sentences) -> Iterator[Finding]:
    """Find rows whose two cables cross one way, where those of the other rows cross both ways."""
    yield from _of_rows(sentences)
    yield from _of_hands(sentences)


def _way(match: re.Match[str]) -> int:
    """Return 1 for a cable that crosses to the left, held in front; -1 for one to the right."""
    return 1 if (match["way"] or match["way2"]) in ("F", "L") else -1


def _of_rows(sentences: Sentences) -> Iterator[Finding]:
    rows = []
    for one in sentences.about(_CABLE):
        cables = list(_CABLE.finditer(one.text, one.start))
        sizes = {int(c["n"] or int(c["a"]) + int(c["b"])) for c in cables}
        if (
            len(cables) > 1
            and len(cables) % 2 == 0
            and len(sizes) == 1
            and not _OF_HAND.search(one.text)
        ):
            rows.append((one, cables, sum(map(_way, cables))))
    odd = [row for row in rows if row[2]]
    if len(odd) != 1 or len(rows) < 2:
        return
    ((one, cables, _),) = odd
    place = one.place(cables[0].start())
    said = f"the cables of this row cross {'one way' if abs(odd[0][2]) == len(cables) else 'more often one way'}; those of the other rows mirror each other"
    yield Finding(WARNING, "mirror", said, place.line, place.column)


def _of_hands(sentences: Sentences) -> Iterator[Finding]:
    """Find a cable of the right hand that is said of the left one too, or two cables of one hand."""
    known: dict[str, str] = {}
    for one in sentences.about(_OF_HAND, _MADE_AS):
        told = [
            (m["hand"].lower(), m["cable"].replace(" ", ""), m.start())
            for m in _OF_HAND.finditer(one.text)
        ]
        told += [
            (_OTHER[m["other"].lower()], m["cable"].replace(" ", ""), m.start("cable"))
            for m in _MADE_AS.finditer(one.text)
        ]
        for hand, cable, at in told:
            message = ""
            if known.get(hand, cable) != cable:
                message = (
                    f"the {hand} one is crossed with {cable} here, and with {known[hand]} elsewhere"
                )
            elif known.get(_OTHER[hand]) == cable:
                message = f"{cable} is the cable of the {_OTHER[hand]} one: the two should mirror each other"
            if message:
                place = one.place(at)
                yield Finding(WARNING, "mirror", message, place.line, place.column)
                return
            known[hand] = cable
