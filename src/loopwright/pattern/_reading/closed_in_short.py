# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The last line of a piece, told in any words: its stitches are grafted, or drawn up."""

from __future__ import annotations

import re

from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["closed_in_short", "may_close"]

_DO = r"(?:^|[.,;:–—] |\b(?:and|then|to|now|by|or) )"
_GRAFTS = WordForm(
    rf"{_DO}graft\b(?! in pattern)|\bkitchener\b|{_DO}grafting(?=[.,;]|$)|\b(?:close|join)[^.;]*\bgrafting\b|{_DO}(?:cast|bind) off (?:(?:the|all|these|those|both|\d+) )*pairs\b"
)
_DRAWS = WordForm(
    rf"{_DO}(?:thread|draw|run|pull|pass|weave|bring|take|slip|fasten|feed|sew|lead|stitch)\b[^.;]*\b(?:through|thru)\b[^.;]*\b(?:sts|stitches|loops|them)\b"
    rf"|(?:^|[.,;] |\bthen )(?:break |cut |pull |thread )*(?:(?:the |your )?(?:yarn|tail|end|thread|wool))?,? ?(?:through|thru) (?:(?:the|all|of|these|last|rem\w*|remaining) )*(?:(?:\d{{1,3}}|{'|'.join(NUMBER_WORDS)})(?: (?:rem\w* )?(?:sts|stitches|loops))?|sts|stitches|loops|them)(?=[.,;]|$| and\b)"  # "Yarn through the 8, pull"
    rf"|{_DO}(?:draw|gather)(?: (?:it|them|the (?:top|tip|toe|sts|stitches|loops)))? up\b(?! (?:to|a|the)\b)"
)
_LATER = WordForm(
    r"\b(?:for|ready|later|before|until|when|after|will be|to be) (?:the )?(?:graft\w*|kitchener)\b|\bleave (?:the |these |those |them |all )?(?:sts|stitches|on)\b|\bif you\b|\bcast(?:ing)? on \d|(?<!k )(?<!knit )(?<!work )\bthe first \d|\b(?:thread|length|piece|strand) of (?!the)"
)
_WORKS_ON = WordForm(
    r"\b(?:[kp]\d?tog|ssk|skpo?|ssp|m1\w?|kfb|yo|w&t|pick(?:ing)? up|repeat|rep|(?<!of the )(?:rounds?|rnds?)|rows?|waste|unpick|turn(?! (?:it|them|(?:the |your )?[a-z]+) (?:inside|right[- ]side|wrong[- ]side))|sl ?1|(?:bind|cast) off \d|bo \d)\b"
)
_NO_COUNT = WordForm(
    r"\b(?:needles?|n|ndls?) ?\d(?:(?: ?,| and| &|-)+ ?\d)*\b|\b\d[\d.]*(?: ?\([^()]*\))?[- ]?(?:cm|mm|in\b|inch\w*|\"|yd|needle)"
    r"|\b(?:one|two|2|both) (?:needles?|sets?)\b",
)


def may_close(text: str) -> bool:
    """Tell whether a line closes a piece and does little else.

    Examples
    --------
    >>> may_close("K N1 onto N3. Graft 14 sts to 14 sts.")
    True
    >>> may_close("Leave the sts on the needle for grafting.")
    False
    """
    closes = _GRAFTS.search(text) or _DRAWS.search(text)
    return bool(closes) and not _LATER.search(text) and not _WORKS_ON.search(text)


def closed_in_short(live: Live, text: str) -> str | None:
    """Return in short how all that is on the needles is closed; None where its numbers differ."""
    there = tuple(tally.count for tally in live.tallies)
    if not there or not all(there) or live.held():
        return None
    sizes = len(there)
    told = [whole_numbers(one) for one in re.findall(COUNT, _NO_COUNT.sub("", text))]
    numbers = [one * sizes if len(one) == 1 else one for one in told if len(one) in (1, sizes)]
    if not all(_fits(one, numbers, there) for one in numbers):
        return None
    draws = not _GRAFTS.search(text)
    if not draws and any(count % 2 for count in there):
        return None
    said = (
        "Cut yarn and draw through all sts."
        if draws
        else "Graft the sts of the two needles together."
    )
    return f"{said} Weave in all ends." if _WOVEN.search(text) else said


_WOVEN = WordForm(
    r"\b(?:weave|darn|sew|hide|work|run|tuck) (?:in |away )?(?:all |the |your |any )*(?:loose |yarn )?(?:ends|tails)\b"
)


def _fits(one: tuple[int, ...], numbers: list[tuple[int, ...]], whole: tuple[int, ...]) -> bool:
    """Tell whether a number is that of all stitches, of a half, or of a part whose rest is told."""
    if one in (whole, tuple(n // 2 for n in whole)) or all(n <= 2 for n in one):
        return True
    rest = tuple(a - b for a, b in zip(whole, one, strict=True))
    return rest in numbers or all(n <= count // 4 for n, count in zip(one, whole, strict=True))
