# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Both sides of an opening put on needles, and a round picked up at its corners: told in any words."""

from __future__ import annotations

import re

from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import number_of, numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import Tally
from loopwright.pattern.values import Count, sized

__all__ = [
    "corners_picked", "may_open", "may_open_and_pick", "may_pick_corners", "opened", "opened_and_picked",
]  # fmt: skip

Numbers = tuple[int, ...]
MOST = 8  # stitches that are picked up at the corners of an opening, all together

_YARN = r"(?:(?:waste|scrap|contrast\w*|spare|bright|odd) (?:yarn|wool|thread|cotton|strand)|(?:the|that|your) (?:cotton|string|thread|strand))"
_WASTE = WordForm(rf"\b{_YARN}")
_TAKES = WordForm(
    r"\b(?:pick\w*(?: up)?|tak\w+(?: up)?|slip\w*|run\w*|catch\w*|plac\w+|thread\w*|put\w*|insert\w*|slid\w+|lift\w*|return\w*|collect\w*|get\w*|mov\w+|distribut\w+|divid\w+|arrang\w+|releas\w+|free\w*)\b"
)
_WITH = WordForm(  # "Unravel the waste yarn. With 14 sts above the gap and 14 below, …"
    rf"\bwith (?:the )?{COUNT} (?:[a-z]+ )?(?:sts?|stitches|loops)? ?(?:above|below|over|under)\b"
)
_OUT = WordForm(
    r"\b(?:unpick|take out|draw out|ease out|remove|pull (?:it |the \w+ \w+ )?out|undo|unzip|unravel|snip|pick out|rip out|get rid of|draw\w*|pull\w*|pick\w*|removing|taking|unpicking)\b"
)
_SIDES = WordForm(
    r"\b(?:below|beneath|underneath|under|lower|bottom)\b.*\b(?:above|over|upper|top)\b|\b(?:above|upper|top)\b.*\b(?:below|beneath|underneath|lower|bottom)\b"
    r"|\b(?:both|each|either|two) (?:sides?|edges?|rows?|needles?|ends?)\b|\b(?:same|likewise|again)\b.*\bother side\b"
    r"|\b(?:freed|exposed|released|live|open)\b.*\b(?:sole|heel|palm|instep|thumb|half|and)\b"
)
_WORKS = WordForm(
    r"\b(?:knit|[kp] ?\d|round \d|rnd \d|rep|repeat|cast|co|bind|bo|inc\w*|dec\w*|turn(?! the (?:sock|mitten|mitt|work|piece))|graft)\b"
)
_LABEL = WordForm(r"^[^:.]{0,30}: ", re.NOFLAG)
_AT_CORNER = WordForm(
    r"\b(?:\d|an?|one|two)(?: (?:extra |more )?(?:sts?|stitch(?:es)?|loops?))? (?:at|in|from|on) (?:the|each|either|both|one|every) (?:\w+ )?(?:corners?|gaps?)\b",
)
_CORNER = WordForm(
    r"\b(?:corners?|gaps?|ends? of the (?:opening|slit|hole|thumb)|ends? of (?:each|the|every|both)|sides? of the opening|between (?:the )?(?:two )?needles)\b"
)
_PICKS = WordForm(
    rf"\b(?:pick(?:ing)?(?:ed)? up|p/?u|take up|raise|lift|m1|make)\b(?: ?(?:and|&) ?k(?:nit(?:ting)?)?\b)? ?(?P<n>{COUNT}|an?|one|two|three|another)\b",
)
_AT_FOUR = WordForm(
    r"\b(?:(?:both|each|either) ends?|the ends) of (?:each|both|every|the(?! (?:opening|slit|hole|gap|thumb)\b))\b|\bbefore and (?:one |1 )?after each\b"
)
_AT_TWO = WordForm(
    r"\b(?:each|both|either|every|two|the) (?:corners?|gaps?|ends?|sides?)\b|\bend of (?:each|every|both)\b|\btwice\b|\brep(?:eat)?\b|\bagain\b|\bonce more\b"
)
_MARKED = WordForm(
    r"\b(?:pm|marker)\b[^.;,]*\bbetween\b|\bbetween (?:them|these)\b[^.;,]*\b(?:pm|marker)\b"
)
_STATED = WordForm(
    rf"(?P<n>{COUNT}) ?(?:sts?|stitches|in all|altogether|in total|on the needles?)\b|(?:=|:) ?(?P<m>{COUNT})(?!\w| ?[(\[]\d)",
)


def may_open(text: str) -> bool:
    """Tell whether a line puts both sides of an opening on needles, and does no more.

    Examples
    --------
    >>> may_open("Run a needle through the 7 sts below the waste yarn and another through the 7 above.")
    True
    >>> may_open("Knit the next 7 sts with waste yarn, slip them back, and knit the 7 above them.")
    False
    """
    takes = _TAKES.search(text) or (_OUT.search(text) and _WITH.search(text))
    return bool(_WASTE.search(text) and takes and _SIDES.search(text)) and not (
        _WORKS.search(_LABEL.sub("", text)) or _AT_CORNER.search(text)
    )


def opened(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short how an opening is put on needles, and the stitches on them then."""
    hung = [_hung(tally) for tally in live.tallies]
    if not live.tallies or None in hung or (live.in_rounds and live.behind_any()):
        return None
    sides = tuple(n for n in hung if n is not None)
    both = tuple(2 * n for n in sides)
    told = [numbers_of_sizes(one, len(sides)) for one in re.findall(COUNT, text)]
    many = [n for n in told if n]
    if sides not in many + [sides] * (_EITHER.search(text) is not None) or any(
        n not in (sides, both) and max(n) > 2 for n in many
    ):
        return None
    n = sized(sides)
    return (
        f"Remove the waste yarn and put the freed sts on needles, {n} below and {n} above.",
        both,
    )


_EITHER = WordForm(r"\b(?:either|both|each) sides? of (?:the )?(?:waste|scrap)\b")


def _hung(tally: Tally) -> int | None:
    """Return how many stitches hang on either side of the one waste yarn; None if there is none."""
    there = [*tally.opened.values(), *(above for _, above in tally.waste.values())]
    return there[0] if len(there) == 1 else None


def may_pick_corners(text: str) -> bool:
    """Tell whether a line picks up stitches at the corners of an opening, as it is worked round.

    Examples
    --------
    >>> may_pick_corners("K7, pick up and knit 1 in the corner, k7, pick up and knit 1 in the corner.")
    True
    >>> may_pick_corners("Pick up and knit 14 sts along the flap and 1 in the corner.")
    False
    """
    if not _CORNER.search(text) or _OTHERWISE.search(text):
        return False
    return len(list(_PICKS.finditer(text))) in (1, 2, 4)


_OTHERWISE = WordForm(
    r"\b(?:flap|edge|along|cast|[kp]\d?tog|ssk|inc\w*|dec\w*|held|holder|waste|rows?|turn|thumb sts)\b"
)


def corners_picked(live: Live, text: str) -> tuple[str, Count] | None:
    """Return in short how a round is picked up at its corners, and its stitches then."""
    there = tuple(tally.count for tally in live.tallies)
    if not live.sure or live.held() or live.behind_any() or not there or any(n % 2 for n in there):
        return None
    return _round_with_corners(there, text)


_THEN = WordForm(r"[.;] |,? (?:and )?(?=(?:re)?join |pick(?:ing)? up )")


def _parted(text: str) -> tuple[str, str] | None:
    """Return what a line tells of opening, and what of the round that is picked up then."""
    parts = ((text[: at.start()], text[at.end() :]) for at in _THEN.finditer(text))
    return next((both for both in parts if may_open(both[0]) and may_pick_corners(both[1])), None)


def may_open_and_pick(text: str) -> bool:
    """Tell whether a line puts both sides of an opening on needles, and picks up at its corners."""
    return _parted(text) is not None


def opened_and_picked(live: Live, text: str) -> tuple[str, Count] | None:
    """Return in short an opening and its first round, and the stitches then."""
    parts = _parted(text)
    if parts is None or (on := opened(live, parts[0])) is None:
        return None
    told = _round_with_corners(on[1], parts[1])
    return told and (f"{on[0]} Join yarn. {told[0]}", told[1])


def _round_with_corners(there: Numbers, text: str) -> tuple[str, Count] | None:
    """Return in short a round over so many stitches that is picked up at its corners."""
    around = _around_a_half(text, len(there))
    if around is None:
        return None
    before, behind = around
    whole = tuple(n + 2 * (a + b) for n, a, b in zip(there, before, behind, strict=True))
    half = tuple(n // 2 for n in there)
    stated = [numbers_of_sizes(one["n"] or one["m"], len(there)) for one in _STATED.finditer(text)]
    totals = [
        n for n in stated if n and all(0 < a - b <= MOST for a, b in zip(n, there, strict=True))
    ]
    told = [numbers_of_sizes(one, len(there)) for one in re.findall(COUNT, text)]
    if not totals or (whole not in totals and half not in told):
        return None
    mark = ["pm"] if _MARKED.search(text) and not any(behind) else []
    if mark:
        if any(n % 2 for n in before):
            return None
        before = tuple(n // 2 for n in before)
        items = [*_pick(before), "pm", *_pick(before), f"k{sized(half)}"]
    else:
        items = [*_pick(before), f"k{sized(half)}", *_pick(behind)]
    said, total = ", ".join(items * 2), whole if whole in totals else totals[-1]
    return f"{said[:1].upper()}{said[1:]}. {sized(total)} sts", sized(whole)


def _pick(many: Numbers) -> list[str]:
    return [f"pick up and k {sized(many)} sts"] if any(many) else []


def _around_a_half(text: str, sizes: int) -> tuple[Numbers, Numbers] | None:
    """Return how many stitches are picked up before and behind each half of the round."""
    picks, none = [], (0,) * sizes
    for pick in _PICKS.finditer(text):
        word = (max(1, number_of(pick["n"])),) * sizes  # "an extra st", "another"
        many = numbers_of_sizes(pick["n"], sizes) if pick["n"][0].isdigit() else word
        if many is None or max(many) * 2 > MOST:
            return None
        picks.append(many)
    first, worked = _PICKS.search(text), _WORKED.search(text)
    before = bool(first and worked and first.start() < worked.start())
    if len(picks) == 4 and picks[:2] == picks[2:]:  # told for each of two needles
        return (picks[0], picks[1]) if before else None
    if len(picks) == 2:
        if _AGAIN.search(text):
            return (picks[0], picks[1]) if before else None
        if picks[0] != picks[1]:
            return None
    elif _AT_FOUR.search(text):
        return picks[0], picks[0]
    elif len(picks) > 2 or not _AT_TWO.search(text):
        return None
    return (picks[0], none) if before else (none, picks[0])


_WORKED = WordForm(r"\bk(?:nit)? ?(?:the |across|\d)|\bwork\b")
_AGAIN = WordForm(
    r"\btwice\b|\brep(?:eat)?\b|\b2 times\b|\bonce more\b|\bsame (?:again|(?:on|for|with) (?:the )?(?:other|second))\b"
)
