# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The row that closes one side of short rows, and the round behind a heel: known by their numbers."""

from __future__ import annotations

import re

from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import GAP
from loopwright.pattern._words import whole_number
from loopwright.pattern.values import sized

__all__ = ["may_close_side", "may_go_round", "round_in_short", "side_closed"]

Numbers = tuple[int, ...]

_WRAPPED = WordForm(
    r"\b(?:wraps?|wrapped|ds|d|doubles?|double (?:sts?|stitch(?:es)?)|shadows?|shadow wraps?|twins?|turning sts)\b"
)
_SIDE = WordForm(
    rf"(?<![\w-])(?P<stitch>k|knit|p|purl) ?(?:these |those |the )?(?:middle |cent(?:re|er) |plain )?(?P<n>{COUNT})(?!\d| ?[(\[]| ?(?:tog|times|rounds?|rnds?|rows?))",
)
_BEHIND = WordForm(rf"(?P<n>{COUNT})")
_DS_FIRST = WordForm(r"\b(?:ds|double st(?:itch)?|d)\b,? ")
_OTHERWISE = WordForm(
    r"\b(?:ssk|ssp|[kp]\d?tog|skpo?|m1\w?|yo|pick up and|cast|bind|rep\w*|times|rows? \d+ (?:and|to)|until?|gusset|w&t|rounds?|rnds?|again|instep|front|first needle|second needle)\b|\bturn\b.*\bturn\b"
)


_SPELT = WordForm(
    r"\b(?:four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen)\b",
)


def may_close_side(text: str) -> bool:
    """Tell whether a row knits the middle, and then the turned stitches behind it.

    Examples
    --------
    >>> may_close_side("Make a DS, k10, then k the 10 DS as single sts.")
    True
    >>> may_close_side("K10, turn.")
    False
    """
    return bool(_WRAPPED.search(text) and _SIDE.search(text)) and not _OTHERWISE.search(text)


def side_closed(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short that a row goes to its end and closes what was turned, and its stitches."""
    there = tuple(tally.count for tally in live.tallies)
    if live.in_rounds or not live.sure or not there:
        return None
    if not all(tally.has(GAP) for tally in live.tallies):
        return None
    text = _SPELT.sub(lambda word: str(whole_number(word[0])), text)
    first = _SIDE.search(text)
    middle = numbers_of_sizes(first["n"], len(there)) if first else None
    if first is None or middle is None:
        return None
    rest = (numbers_of_sizes(one["n"], len(there)) for one in _BEHIND.finditer(text, first.end()))
    sides = [n for n in rest if n]
    if not sides:
        return None
    side = sides[0]
    others = [whole - a - b for whole, a, b in zip(there, middle, side, strict=True)]
    if any(not 0 <= b - other <= 1 for b, other in zip(side, others, strict=True)):
        return None
    stitch = first["stitch"][0].lower()
    lead = _DS_FIRST.search(text[: first.start()])
    doubled = lead is not None or re.search(r"\b(?:ds|double|d)\b", text, re.IGNORECASE)
    how = "working each DS as one stitch" if doubled else "picking up the wraps"
    turn = ", turn" if re.search(r"\bturn\b", text[first.end() :], re.IGNORECASE) else ""
    return f"{'DS, ' if lead else ''}{stitch} to end, {how}{turn}.", there


_ROUND = WordForm(
    r"\b(?:rounds?|rnds?|go (?:a)?round|around|circle)\b|\bthat (?:waited|were waiting|rested)\b"
)
_WORKS = WordForm(r"\b(?:knit|k|work|go|one|complete|finish|continue|resume|join)\b")
_NOT_ROUND = WordForm(
    r"\b(?:ssk|ssp|[kp]\d?tog|skpo?|m1\w?|yo|pick(?:ing)? up (?:and|\d)|cast|bind|rep\w*|dec\w*|inc\w*|purl|rib|until?|w&t|[kp]\d+, ?[kp]\d+|turn|thumb|waste|scrap|graft|back and forth)\b"
)
_ALL = WordForm(
    r"\b(?:rest of the (?:round|rnd)|(?:that|which) (?:waited|were waiting|rested|have waited)|other half|front half|instep half)\b",
)

_ONCE = WordForm(  # one round, and not "go back to working in the round"
    r"\b(?:(?:one|1|a|next|last|complete|whole) (?:\w+ )?(?:rounds?|rnds?)|(?:go|knit|work) (?:a)?round|(?:round|around) once|once (?:a)?round)\b",
)


def may_go_round(text: str) -> bool:
    """Tell whether a line goes round once more over all stitches, and does no more.

    Examples
    --------
    >>> may_go_round("Go round once over all 60 sts, closing the 10 DS of the other side.")
    True
    >>> may_go_round("Knit 1 round, decreasing 2 sts. 58 sts.")
    False
    """
    return bool(_ROUND.search(text) and _WORKS.search(text)) and not _NOT_ROUND.search(text)


def round_in_short(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short that a round goes over all stitches behind a heel, and how many they are."""
    held = live.held()
    if live.in_rounds or not live.sure or len(held) != 1 or "thumb" in held or live.is_within:
        return None
    there = tuple(tally.count for tally in live.tallies)
    name = next(iter(held))
    rest = tuple(tally.held.get(name, 0) for tally in live.tallies)
    whole = tuple(a + b for a, b in zip(there, rest, strict=True))
    told = [numbers_of_sizes(one, len(there)) for one in re.findall(COUNT, text)]
    many = [n for n in told if n]
    known = (
        whole in many or (rest in many and _ALL.search(text)) or (not many and _ALL.search(text))
    )
    if not known or any(n > all_of for one in many for n, all_of in zip(one, whole, strict=True)):
        return None
    again = f"Resume working in rounds over all {sized(whole)} sts."
    return f"{again} Knit 1 round." if _ONCE.search(text) or _ALL.search(text) else again, whole
