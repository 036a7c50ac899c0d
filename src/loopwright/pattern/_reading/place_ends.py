# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rounds told up to the end of a place: "k to last 3 sts of the palm, k2tog, k1; same on the back"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from loopwright.fabric.stitches import StitchTable
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import stitch_word

__all__ = ["PLACES", "up_to_place_ends"]

_STS = r"(?:sts?|stitch(?:es)?)"
PLACES = r"(?:instep|sole|heel|front|back|palm|top of (?:the )?foot)"
_LAST = WordForm(  # how far, by a place: "to last 3 sts of palm", "to 3 sts before the end of the palm"
    rf"\bto (?:the )?(?:last )?(?P<n>\d+) (?:(?P<name>{PLACES}) {_STS}|{_STS} (?:of|on|from|before|before the end of|from the end of) (?:the )?(?P<name2>{PLACES})\b(?: {_STS})?)"
)
_TWICE = WordForm(
    r"[;,.] ?rep(?:eat)? from \*(?: (?:once(?: more| again)?|(?:on|over|across|for) (?:the )?(?:other|"
    + PLACES
    + r")(?: sts| stitches| half)?))*(?=[.;]|\s*$)"
)
_LABEL = WordForm(r"^(?:[^:*]{1,60}: )?", re.NOFLAG)
_ITEM = re.compile(r"\s*(?:and |then )?(?P<item>[^,;.()\[\]*]+?)\s*(?:[,;.]|$)")
_SPELT = re.compile(r"^(?P<stitch>k|p)(?:nit|url)? ?(?=\d)", re.IGNORECASE)
_JOINT = re.compile(r"(?:[\s,]+|(?:and|then|now)\b)*")


def up_to_place_ends(said: MappedText, places: Mapping[str, int], table: StitchTable) -> MappedText:
    """Return a round with a needle ahead of what is worked at each of two places.

    The stitches told behind "to last 3 sts of the palm" are the place's last; what stands behind
    those is worked on the other place.

    Examples
    --------
    >>> from loopwright.fabric.stitches import STITCHES
    >>> told = MappedText.of("Rnd 1: Ssk, k to last 3 sts of the palm, k2tog, k2, ssk, k to last 2 sts of the back, k2tog.")
    >>> up_to_place_ends(told, {"palm": 1, "back": 2}, STITCHES).text
    'Rnd 1: needle 1: Ssk, k to last 3 sts, k2tog, k1; needle 2: k1, ssk, k to last 2 sts, k2tog.'
    """
    found = [*_LAST.finditer(said.text)]
    names = [(one["name"] or one["name2"]).lower() for one in found]
    label = _LABEL.match(said.text)
    if not found or label is None or any(name not in places for name in names):
        return said
    start = label.end()
    twice = _TWICE.search(said.text)
    if twice is not None and said.text[start : start + 1] == "*" and len(found) == 1:
        body = said.text[start + 1 : twice.start()]
        told = f"On each needle: {_LAST.sub(_plain, body).strip()}"
        return said.put(start, twice.end(), told)
    if [places[name] for name in names] != [1, 2] or re.search(r"[*()\[\]]", said.text[start:]):
        return said
    cut = _cut(said.text, found[0], table)
    if cut is None:
        return said
    at, kept, over = cut
    first = said.text[start : found[0].start()] + _plain(found[0]) + ", " + ", ".join(kept)
    second = ", ".join([*over, said.text[at:].strip()])
    return said.put(
        start, len(said.text), f"needle 1: {first}; needle 2: {_LAST.sub(_plain, second)}"
    )


def _plain(far: re.Match[str]) -> str:
    return f"to last {far['n']} sts"


def _cut(
    text: str, far: re.Match[str], table: StitchTable
) -> tuple[int, Sequence[str], Sequence[str]] | None:
    """Return where the other place begins, what is worked before it, and what an item has left over."""
    left, at = int(far["n"]), _after(text, far.end())
    kept: list[str] = []
    while left > 0:
        match = _ITEM.match(text, at)
        found = (
            stitch_word(_SPELT.sub(r"\g<stitch>", match["item"]).lower(), table) if match else None
        )
        if match is None or found is None:
            return None
        (stitch, times), at = found, match.end()
        many = table[stitch].takes * (times or 1)
        if many > left:
            if stitch not in ("k", "p"):
                return None
            kept.append(f"{stitch}{left}")
            return at, kept, [f"{stitch}{many - left}"]
        kept.append(match["item"])
        left -= many
    return _after(text, at), kept, []


def _after(text: str, at: int) -> int:
    """Return where the next item begins."""
    match = _JOINT.match(text, at)
    return match.end() if match else at
