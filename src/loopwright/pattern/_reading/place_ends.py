# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rounds told up to the end of a place: "k to last 3 sts of the palm, k2tog, k1; same on the back"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["up_to_place_ends"]

_STS = r"(?:sts?|stitch(?:es)?)"
_NAMES = r"(?:instep|sole|heel|front|back|palm|top of (?:the )?foot)"
_LAST = WordForm(  # how far, by a place: "to last 3 sts of palm", "to 3 sts before the end of the palm"
    rf"\bto (?:the )?(?:last )?(?P<n>\d+) (?:(?P<name>{_NAMES}) {_STS}|{_STS} (?:of|on|from|before|before the end of|from the end of) (?:the )?(?P<name2>{_NAMES})\b(?: {_STS})?)"
)
_TWICE = WordForm(
    r"[;,.] ?rep(?:eat)? from \*(?: (?:once(?: more| again)?|(?:on|over|across|for) (?:the )?(?:other|"
    + _NAMES
    + r")(?: sts| stitches| half)?))*(?=[.;]|\s*$)"
)
_LABEL = WordForm(r"^(?:[^:*]{1,60}: )?", re.NOFLAG)
_ITEM = re.compile(r"\s*(?P<item>[^,;.()\[\]*]+?)\s*(?P<stop>[,;.]|$)")
_WIDE = re.compile(r"(?P<verb>k|p|knit|purl) ?(?P<n>\d+)", re.IGNORECASE)
_TOGETHER = re.compile(
    r"(?P<n>[kp](?P<many>[23])tog|ssk|skp|skpo|ssp|s2kp|sk2po?|sssk)(?: tbl)?", re.IGNORECASE
)
_THREE = ("s2kp", "sk2p", "sk2po", "sssk")


def up_to_place_ends(said: MappedText, places: Mapping[str, int]) -> MappedText:
    """Return a round with a needle ahead of what is worked at each of two places.

    The stitches told behind "to last 3 sts of the palm" are the place's last; what stands behind
    those is worked on the other place.

    Examples
    --------
    >>> told = MappedText.of("Rnd 1: Ssk, k to last 3 sts of the palm, k2tog, k2, ssk, k to last 2 sts of the back, k2tog.")
    >>> up_to_place_ends(told, {"palm": 1, "back": 2}).text
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
        return _put(said, start, twice.end(), told)
    if [places[name] for name in names] != [1, 2] or re.search(r"[*()\[\]]", said.text[start:]):
        return said
    cut = _cut(said.text, found[0])
    if cut is None:
        return said
    at, kept, over = cut
    first = said.text[start : found[0].start()] + _plain(found[0]) + ", " + ", ".join(kept)
    second = ", ".join([*over, said.text[at:].strip()])
    return _put(
        said, start, len(said.text), f"needle 1: {first}; needle 2: {_LAST.sub(_plain, second)}"
    )


def _plain(far: re.Match[str]) -> str:
    return f"to last {far['n']} sts"


def _put(said: MappedText, start: int, end: int, words: str) -> MappedText:
    where = said.cut(start, end)
    told = MappedText(words, (where.at[0],) * len(words) + (where.at[-1],))
    return said.cut(0, start).and_then(told).and_then(said.cut(end, len(said.text)))


def _cut(text: str, far: re.Match[str]) -> tuple[int, Sequence[str], Sequence[str]] | None:
    """Return where the other place begins, what is worked before it, and what an item has left over."""
    left, at = int(far["n"]), far.end()
    while text[at : at + 1] in (",", " "):
        at += 1
    kept: list[str] = []
    while left > 0:
        match = _ITEM.match(text, at)
        if match is None:
            return None
        item = re.sub(r"^(?:and|then) ", "", match["item"])
        at = match.end()
        wide, tog = _WIDE.fullmatch(item), _TOGETHER.fullmatch(item)
        if wide is not None:
            many = int(wide["n"])
        elif tog is not None:
            many = 3 if tog["n"].lower() in _THREE else int(tog["many"] or 2)
        else:
            return None
        if many > left:
            if wide is None:
                return None
            kept.append(f"{wide['verb']}{left}")
            return at, kept, [f"{wide['verb'].lower()}{many - left}"]
        kept.append(item)
        left -= many
    while re.match(r"\s|(?:and|then|now)\b", text[at:]):
        at += len((re.match(r"\s+|(?:and|then|now)\b", text[at:]) or [""])[0])
    return at, kept, []
