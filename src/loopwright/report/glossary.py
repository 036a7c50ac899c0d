"""The abbreviations that a pattern uses, explained in words that need no glossary."""

from __future__ import annotations

import re

from loopwright.fabric.stitches import STITCHES, Kind
from loopwright.pattern import Pattern, Words, write

__all__ = ["glossary"]

# Short words that are no stitches; trade standard meanings, from memory.
_WORDS = {
    "st": "stitch (sts: stitches)", "rnd": "round (rnds: rounds)", "rep": "repeat",
    "RS": "right side: the outside of the sock", "WS": "wrong side: the inside of the sock",
    "kwise": "knitwise: as if to knit", "pwise": "purlwise: as if to purl",
    "wyib": "with the yarn at the back", "wyif": "with the yarn in front",
    "tbl": "through the back loop, so that the stitch is twisted",
    "w&t": "wrap and turn: bring the yarn round the next stitch, unworked, and turn",
    "pm": "place a marker", "sm": "slip the marker", "sl": "slip",
    "ds": "double stitch: slip it purlwise with the yarn in front, then pull the yarn up and over "
          "the needle until both legs show",
    "cdd": "centred double decrease: slip 2 together knitwise, k1, pass the slipped ones over",
}  # fmt: skip
_SINGULAR = {"sts": "st", "rnds": "rnd"}
_BRITISH = {"skpo": "skp", "sk2po": "sk2p", "s2kpo": "cdd"}
_NO_WORK = frozenset((Kind.CAST_ON, Kind.CLOSED, Kind.LIFTED, Kind.BOUND_OFF, Kind.GRAFTED))
_TOKEN = re.compile(r"[A-Za-z][A-Za-z0-9&]*")
_COUNTED = re.compile(r"([kp])[0-9]+")


def glossary(pattern: Pattern, *, words: Words = Words.US) -> tuple[tuple[str, str], ...]:
    """Return what is short in a pattern's text and what it stands for, in the order of use.

    Parameters
    ----------
    pattern : Pattern
    words : Words
        American or British terms.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> ring = read("CO 8 sts. Join in the round. Rnd 1: *K2, k2tog; rep from * to end.")
    >>> for short, long in glossary(ring):
    ...     print(f"{short}: {long}")
    st: stitch (sts: stitches)
    rnd: round (rnds: rounds)
    k: knit
    k2tog: knit two together
    rep: repeat
    """
    spoken = (line for line in write(pattern, words=words).splitlines() if not _is_prose(line))
    found: dict[str, str] = {}
    for token in _TOKEN.findall("\n".join(spoken)):
        short = _short(token)
        long = _WORDS.get(short) or _of_stitch(short)
        if long:
            found.setdefault(short, long)
    return tuple(found.items())


def _is_prose(line: str) -> bool:
    return line.startswith(("#", "Note: ", "Caution: ", "Sizes: ", "Abbreviations: "))


def _short(token: str) -> str:
    """Return what a word of the text is a form of: ``K2`` of ``k``, ``Rnd`` of ``rnd``."""
    if token in _WORDS:
        return token
    low = _SINGULAR.get(token.lower(), token.lower())
    counted = _COUNTED.fullmatch(low)
    return counted[1] if counted else low


def _of_stitch(short: str) -> str:
    key = _BRITISH.get(short, short)
    if key not in STITCHES or STITCHES[key].kind in _NO_WORK:
        return ""
    return STITCHES[key].name
