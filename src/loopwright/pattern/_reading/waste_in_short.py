# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches knit on waste yarn, slid back and knit again: told in any words."""

from __future__ import annotations

from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.values import sized

__all__ = ["may_knit_on_waste", "opens_with_few", "waste_in_short"]

_YARN = r"(?:(?:waste|scrap|spare|contrast\w*|smooth|different|other|bright|odd) ?-?(?:yarn|wool|thread|cotton|string|colou?r)|waste yarn|(?:a|some|the|your|that) (?:[a-z-]+ ){0,2}?(?:thread|string|cotton)\b|(?:piece|strand|length|bit|end) of (?:[a-z]+ ){0,2}(?:cotton|thread|wool|string|yarn)\b|(?:a |some )?(?:leftovers?|oddment|scrap)\b)"
_WASTE = WordForm(rf"\b{_YARN}")
_BACK = WordForm(
    r"\b(?:slip|slide|sl|push|put|move|return|transfer|place|pass)\b[^.;]*\b(?:back|left|lh|other (?:tip|end|needle))\b|\bover (?:them|these|those)\b"
    r"|\b(?:go(?:ing)? back|back|return|over again|(?:begin|start) (?:the |this )?(?:round|rnd) (?:again|over)|sliding them back)\b[^.;]*[.;:]?[^.;]*\b(?:k|knit|knitting|work)\b"
)
_NOT = WordForm(
    r"\b(?:cast|co|bind|bo|provisional|crochet|remove|unpick|undo|take out|pull out|unravel|hold|holder|dec\w*|inc\w*|m1\w?|ssk|[kp]\d?tog|rep|repeat|pick up (?!(?:the |your |again )*(?:own |old |real |usual |bright |odd |other |waste |scrap |spare |contrast\w* |smooth )*(?:working|main|sock|mc|yarn|wool|ball|thread|colou?r))|purl)\b"
)
_WITH = WordForm(  # the stitches that are knit with it, before or behind its name
    rf"(?:k|knit|work)\b[^.;,:\d]*(?:\(?(?P<a>{COUNT})\)?)(?:(?!\bthen\b)[^.;:\d])*?\b(?:with|in|using|on ?to|on)\b[^.;,]*?(?:{_YARN}|\bit\b)"
    rf"|(?:k|knit|work) ?(?:the )?(?:first |next )?(?P<d>{COUNT})(?:(?!\bthen\b)[^.;:\d]|: once)*?\b(?:with|in|using|on ?to|on)\b[^.;,]*?{_YARN}"
    rf"|{_YARN}[^.;\d]*?\b(?:k|knit|work)\b[^.;\d]*?(?P<b>{COUNT})|{_YARN}[^.;\d]*?\bk(?P<c>{COUNT})",
)
_NEEDLES = WordForm(
    r"\b(?:needles?|n|ndls?) ?\d(?:(?: ?,| and| &|-)+ ?\d)*\b|\b\d(?:st|nd|rd|th)(?: and \d(?:st|nd|rd|th))? needles?\b|\b(?:rounds?|rnds?) \d+",
)
_NEXT_ROUNDS = WordForm(  # "… to the end of the round. Knit 12 rounds."
    r"[.;] ((?:now |then )?(?:knit|work|k|purl|cont\w*)\b[^.;]*\b(?:\d[^.;]* (?:rounds|rnds)|every round|until|till|for \d|even)\b.*)$",
)
_TO_LAST = WordForm(rf"\bto (?:the )?last ({COUNT})")
_FIRST = WordForm(rf"\b(?:k|knit|work|p|purl) ?(?:the )?(?:first |next )?({COUNT})")


def may_knit_on_waste(text: str) -> bool:
    """Tell whether a line knits stitches on waste yarn and slides them back.

    Examples
    --------
    >>> may_knit_on_waste("Using scrap yarn, knit the next 20 sts. Move them back and knit on.")
    True
    >>> may_knit_on_waste("Put the 20 sts on waste yarn.")
    False
    """
    return bool(_WASTE.search(text) and _BACK.search(text)) and not _NOT.search(text)


_FEW_FIRST = WordForm(  # "Thumb round: Knit 1. Drop your yarn and …, knit to the end of the round"
    r"[^:.;]{3,24}: (?:k|knit|work|p|purl) ?\d+[^.;:]{0,24}\. .*\b(?:end of|end\b|rest|remaining|round|rnd)",
)


def opens_with_few(text: str) -> bool:
    """Tell whether the round of such a line begins with a sentence that is no round by itself."""
    return bool(_FEW_FIRST.match(text)) and may_knit_on_waste(text)


def waste_in_short(live: Live, text: str) -> str | None:
    """Return in short which stitches are knit on waste yarn; None where that is not told."""
    there = tuple(tally.count for tally in live.tallies)
    said = _NEEDLES.sub("needle", text)
    found = _WITH.search(said)
    if not live.in_rounds or live.held() or found is None:
        return None
    waste = numbers_of_sizes(next(one for one in found.groups() if one), len(there))
    if waste is None or any(n >= count or n < 2 for n, count in zip(waste, there, strict=True)):
        return None
    before = _before(said[: found.start()], there)
    if before and any(a + b > c for a, b, c in zip(before, waste, there, strict=True)):
        return None
    begin = f"K{sized(before)}. " if before and any(before) else ""
    many = sized(waste)
    done = before and all(a + b == c for a, b, c in zip(before, waste, there, strict=True))
    rest = (
        "" if done else " Knit to end of rnd."
    )  # where they are the last, the round is at its end
    further = _NEXT_ROUNDS.search(text, found.end())
    behind = f" {further[1]}" if further else ""
    return f"{begin}Knit {many} sts with waste yarn, slide these {many} sts back to the left needle and knit them again.{rest}{behind}"


def _before(said: str, there: tuple[int, ...]) -> tuple[int, ...] | None:
    """Return how many stitches are worked before them."""
    if last := _TO_LAST.search(said):
        left = numbers_of_sizes(last[1], len(there))
        return tuple(a - b for a, b in zip(there, left, strict=True)) if left else None
    first = _FIRST.search(said)
    return numbers_of_sizes(first[1], len(there)) if first else None
