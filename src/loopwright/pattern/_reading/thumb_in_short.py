# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A thumb set aside, and taken up again: told in any words, known by its numbers."""

from __future__ import annotations

import re

from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import MARKER, Tally
from loopwright.pattern.values import as_many, sized

__all__ = ["may_set_thumb_aside", "may_take_up_thumb", "thumb_aside", "thumb_taken_up"]

Numbers = tuple[int, ...]

_PUTS = WordForm(
    r"\b(?:slip|sl|put|place|thread|transfer|leave|slide|move|set|hang)\b[^.;]*\b(?:hold|holder|waste|scrap|spare|thread|yarn|pin|string|wool|cotton)\b"
)
_GAP = re.compile(
    rf"\b(?:cast(?:ing)? on|co|make|making)\b\D{{0,45}}?(?P<a>{COUNT})|\b(?P<b>{COUNT}) new (?:sts?|stitch)|\bclose the gap with (?P<c>{COUNT})",
    re.IGNORECASE,
)
_THUMB = WordForm(r"\b(?:thumb|gusset|between (?:the |these )?(?:two )?(?:markers|them))\b")
_TAKES_UP = WordForm(r"\b(?:held|holder|waste|thumb|resting|waiting|pin)\b")
_PICKS = re.compile(
    rf"\b(?:pick(?:ing)?(?:ed)? up|pu)\b\D{{0,40}}?(?P<n>{COUNT})(?! ?\.?\d* ?mm)", re.IGNORECASE
)
_MORE = re.compile(
    rf"(?:,| and| plus) ({COUNT}) (?:sts? )?(?:in|at|before|after|from|on)\b", re.IGNORECASE
)
_SHAPES = WordForm(
    r"\b(?:[kp]\d?tog|ssk|skpo?|inc\w*|dec\w*|rep|repeat|bind off|until)\b|\brounds? \d"
)


def may_set_thumb_aside(text: str) -> bool:
    """Tell whether a line puts stitches aside and casts others on in their place."""
    return bool(
        _THUMB.search(text) and _PUTS.search(text) and _GAP.search(text)
    ) and not _SHAPES.search(text)


def may_take_up_thumb(text: str) -> bool:
    """Tell whether a line takes up stitches that wait, and picks up more."""
    return bool(_TAKES_UP.search(text) and _PICKS.search(text)) and not _SHAPES.search(text)


def thumb_aside(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short how a thumb is set aside, and the stitches left; None where that is not told."""
    there = tuple(tally.count for tally in live.tallies)
    gap = _GAP.search(text)
    if not live.sure or not live.in_rounds or live.held() or gap is None:
        return None
    new = numbers_of_sizes(gap["a"] or gap["b"] or gap["c"], len(there))
    told = _told(text, len(there))
    between = [_between_markers(tally) for tally in live.tallies]
    marked = all(between)
    thumbs = [tuple(between)] if marked else told
    for thumb in thumbs:
        if (
            new is None
            or len(thumb) != len(there)
            or any(a >= b for a, b in zip(thumb, there, strict=True))
        ):
            continue
        left = tuple(a - b + c for a, b, c in zip(there, thumb, new, strict=True))
        if left in told and thumb != left:
            go = "Knit to marker, remove marker, " if marked else ""
            off = "remove marker, " if marked else ""
            return (
                f"Next rnd: {go}place next {sized(thumb)} sts on waste yarn, {off}cast on {sized(new)} sts, knit to end. {sized(left)} sts",
                left,
            )
    return None


def _between_markers(tally: Tally) -> int:
    """Return how many stitches lie between the next two markers, 0 where there are none."""
    first = tally.next_of(MARKER)
    second = None if first is None else tally.next_of(MARKER, beyond=first + 1)
    return 0 if first is None or second is None else second - first


def thumb_taken_up(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short how a thumb is taken up, and its stitches; None where its numbers differ."""
    held = live.held()
    if len(held) != 1 or any(tally.count for tally in live.tallies):
        return None
    sizes = len(live.tallies)
    waits = as_many(next(iter(held.values())), sized(range(sizes)))
    pick = _PICKS.search(text)
    if pick is None:
        return None
    picked = (0,) * sizes
    for said in (pick["n"], *(more[1] for more in _MORE.finditer(text, pick.end()))):
        many = numbers_of_sizes(said, sizes)
        if many is None:
            return None
        picked = tuple(a + b for a, b in zip(picked, many, strict=True))
    whole = tuple(int(a) + b for a, b in zip(waits, picked, strict=True))
    if whole not in _told(text, sizes):
        return None
    resting, new = sized([int(n) for n in waits]), sized(picked)
    return (
        f"Place the {resting} held sts back on the needles. Join yarn; k{resting}, pick up and k {new} sts across the gap. {sized(whole)} sts",
        whole,
    )


def _told(text: str, sizes: int) -> list[Numbers]:
    """Return all numbers that a line tells, for each size."""
    found = [numbers_of_sizes(one, sizes) for one in re.findall(COUNT, text)]
    return [one for one in found if one]
