# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Shaping that goes on to a number of stitches, told in any words."""

from __future__ import annotations

import re

from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern.values import sized

__all__ = ["has_plain_between", "may_go_on_shaping", "shaping_in_short"]

Numbers = tuple[int, ...]

_SHAPES = WordForm(
    r"\b(?:dec\w*|inc\w*|shap\w*)\b|\bthese (?:two|2)\b|\b(?:last|two) (?:two )?rounds\b|\bplain (?:rounds|rnds)\b|\bone (?:round|rnd) with\b"
)
_GOES_ON = WordForm(
    r"\b(?:alternat\w*|repeat\w*|rep|carry|keep|cont\w*|go on|work|every|each|more|again|times|do|next|by turns|in turn)\b"
)
_STITCHES = WordForm(
    r"\b[kp] ?\d|\b(?:[kp]\d?tog|ssk|skpo?|m1\w?|kfb|yo|sl)\b|\*|\b(?:needle|marker|sole|instep|heel)s?\b|\b(?:row|w&t|turn)s?\b",
    re.IGNORECASE,
)
_REACHED = WordForm(
    rf"(?P<n>{COUNT}) ?(?:sts?|stitches)\b(?! (?:in|on|at|between|each|per)\b)"
    rf"|\b(?:down to|up to|(?:until|till|when) (?:(?:there are|you have|you are|you're|down|left|with|at|to|only|just) ?)+)(?P<alone>{COUNT})(?=\W*$|[.,;] )",
)
_LESS_EACH_TIME = WordForm(  # "always 2 fewer between ssk and k2tog", "one fewer knit st ahead of each k2tog"
    rf"[,;(–—-]*\s*(?:(?:and|so|with|always|now|then|each time|every time|having|working|knitting|leaving|there (?:are|is|will be)) ?)*\b(?:{COUNT}|one|two|an?) (?:[a-z]+ )?(?:{STS} )?(?:fewer|less|more)\b"
    r"(?: (?:plain|knit|purl|sts?|stitch(?:es)?))* (?:before|between|after|in between|ahead of|in front of|in the middle|preceding|following)\b(?: (?:(?:each|every|the|both|two|of|and|or|pairs?|to|a|time|row|round|rnd|middle|half|group|section)|[kp]\d?tog|ssk|ssp|skpo?|m1[lr]?|kfb|yo|dec\w*|inc\w*|shap\w*)\b)*\)?",
)
_NO_PLAIN = r"(?:drop|omit|skip|leave out|leaving out|dropping|omitting|skipping|stop|forget|without|no|no more|not? any|without any) (?:(?:more|the|any|those|these|further|all) )*(?:plain|knit|even|straight) (?:rounds?|rnds?|ones?)(?: (?:now|in between|between))*"
_PLAIN = r"(?:every|each|on the) (?:other|second|2nd|alt\w*)|alternat\w*|\bplain\b|\bthese (?:two|2)\b|(?:last|two) (?:two )?rounds|by turns|in turn|\bone (?:round|rnd) with(?: it)?,? (?:and )?(?:then )?one (?:round |rnd )?without\b"
_PLAIN_BETWEEN = WordForm(_PLAIN)
_WITHOUT_PLAIN = WordForm(_NO_PLAIN)
_EVERY = WordForm(
    rf"{_NO_PLAIN}|\b(?:every|each) (?:round|rnd)|\b(?:dec|inc)\w*\.? (?:rounds|rnds) (?:only|alone)|\b(?:dec|inc)\w*\.? (?:round|rnd) (?:every|each) time|without (?:the |any )?plain|nothing (?:in )?between|all (?:be )?dec\w*|no plain",
)


def may_go_on_shaping(text: str) -> bool:
    """Tell whether a line asks for shaping told before, to a number of stitches.

    Examples
    --------
    >>> may_go_on_shaping("Keep alternating dec rounds and plain rounds. Stop at 32 sts.")
    True
    >>> may_go_on_shaping("Dec round: k1, ssk, k to last 3 sts, k2tog, k1. 56 sts.")
    False
    """
    text = _LESS_EACH_TIME.sub("", text)
    return bool(
        _SHAPES.search(text) and _GOES_ON.search(text) and _REACHED.search(text)
    ) and not _STITCHES.search(text)


def has_plain_between(text: str) -> bool:
    """Tell whether words ask for a plain round between two that shape.

    Examples
    --------
    >>> has_plain_between("a dec rnd and a plain one"), has_plain_between("drop the plain rnds")
    (True, False)
    """
    return _PLAIN_BETWEEN.search(_WITHOUT_PLAIN.sub("", text)) is not None


def shaping_in_short(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short how far shaping goes on, and the stitches then; None where that is not told."""
    there = tuple(tally.count for tally in live.tallies)
    if not there or not all(there) or live.held() or live.is_within:
        return None
    text = _LESS_EACH_TIME.sub("", text)
    counts = [
        (numbers_of_sizes(one["n"] or one["alone"], len(there)), one.start())
        for one in _REACHED.finditer(text)
    ]
    reached = [
        (n, at) for n, at in counts if n and all(a != b for a, b in zip(n, there, strict=True))
    ]
    last = reached[-1][0] if reached else ()
    reached = [one for one in reached if one[0] == last or _between(there, one[0], last)]
    if not reached or len(reached) > 2:
        return None
    fewer = all(a < b for a, b in zip(last, there, strict=True))
    how = "Dec" if fewer else "Inc"
    said, done = [], 0
    for place, (n, at) in enumerate(reached, start=1):
        part = text[done : at if place < len(reached) else len(text)]
        every, plain = _EVERY.search(part), has_plain_between(part)
        if plain == bool(every) and not (plain and every and len(reached) == 1):
            return None
        often = "every rnd" if every and not plain else "every other rnd"
        said.append(f"{how} {often} until {sized(n)} sts {'rem' if fewer else 'are there'}.")
        done = at
    return " ".join(said), reached[-1][0]


def _between(first: Numbers, n: Numbers, last: Numbers) -> bool:
    return all(a > b > c or a < b < c for a, b, c in zip(first, n, last, strict=True))
