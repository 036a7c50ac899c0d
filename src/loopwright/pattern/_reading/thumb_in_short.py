# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A thumb set aside, and taken up again: told in any words, known by its numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator

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
_TAKES_UP = WordForm(
    r"\b(?:held|holder|waste|thumb|resting|waiting|pin)\b"
    r"|\b(?:return|replace|put|place|slip|transfer|move)\b[^.;]*\b(?:sts|stitches)\b[^.;]*\b(?:needles?|dpns)\b"
)
_PICKS = re.compile(
    rf"\b(?:pick(?:ing)?(?:ed)? up|knit up|pu)\b\D{{0,40}}?(?P<n>{COUNT})(?! ?\.?\d* ?mm)",
    re.IGNORECASE,
)
_MORE = re.compile(
    rf"(?:,| and| plus) ({COUNT}) (?:more |extra )?(?:sts? )?(?:in|at|before|after|from|on)\b",
    re.IGNORECASE,
)
_BOTH = WordForm(r"\b(?:each|both|either) (?:sides?|ends?|corners?)\b")
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
    told, resting = _told(text, sizes), tuple(int(n) for n in waits)
    ways = [(picked, _sums(resting, picked)) for picked in _picked(text, sizes)]
    known = next(((picked, whole, whole) for picked, whole in ways if whole in told), None)
    if known is None and resting in told and ways:  # the total alone is another
        ends = [n for n in told if _is_near(n, ways[0][1]) and _is_more(n, resting)]
        known = (*ways[0], ends[-1]) if ends else None
    if known is None:
        return None
    picked, whole, stated = known
    back, new = sized(resting), sized(picked)
    return (
        f"Place the {back} held sts back on the needles. Join yarn; k{back}, pick up and k {new} sts across the gap. {sized(stated)} sts",
        whole,
    )


def _sums(one: Numbers, other: Numbers) -> Numbers:
    return tuple(a + b for a, b in zip(one, other, strict=True))


def _is_near(one: Numbers, other: Numbers) -> bool:
    return all(abs(a - b) <= MOST for a, b in zip(one, other, strict=True))


def _is_more(one: Numbers, other: Numbers) -> bool:
    return all(a > b for a, b in zip(one, other, strict=True))


MOST = 4  # stitches by which a total may miss, and be meant for it all the same


def _picked(text: str, sizes: int) -> Iterator[Numbers]:
    """Yield how many stitches a line may pick up: in one place, or once and once more."""
    picks = list(_PICKS.finditer(text))
    said = [(pick["n"], pick) for pick in picks]
    said += [(more[1], more) for pick in picks[-1:] for more in _MORE.finditer(text, pick.end())]
    many = [numbers_of_sizes(one, sizes) for one, _ in said]
    if not many or None in many:
        return
    once = [
        tuple(2 * n for n in each) if _BOTH.search(text[at.end() : at.end() + 32]) else each
        for each, (_, at) in zip(many, said, strict=True)
        if each
    ]
    for parts in ([each for each in many if each], once):
        yield tuple(sum(each) for each in zip(*parts, strict=True))


def _told(text: str, sizes: int) -> list[Numbers]:
    """Return all numbers that a line tells, for each size."""
    found = [numbers_of_sizes(one, sizes) for one in re.findall(COUNT, text)]
    return [one for one in found if one]
