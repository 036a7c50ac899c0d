"""The list of abbreviations that a pattern needs: what its text uses, and what that stands for."""

from __future__ import annotations

import re
from collections.abc import Iterator

import attrs

from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern._words import crossing_named, stitch_word
from loopwright.pattern._write import Words, write
from loopwright.pattern.program import Pattern

__all__ = ["EXPLAINED", "explained"]

# Terms of the text besides stitches: how they are spelt, and what they stand for.
EXPLAINED = {
    "RS": "right side: the outside of the finished piece",
    "WS": "wrong side: the inside of the finished piece",
    "cdd": "centred double decrease: slip 2 sts together knitwise, k1, pass the slipped sts over",
    "ds": "double stitch: after a turn, slip the next st purlwise with yarn in front and pull the "
    "yarn up and over the needle until both legs show: they count as one st",
    "gap": "the place where an earlier row was turned",
    "kwise": "knitwise: as if to knit",
    "m1l": "make one left: lift the strand before the next st with the needle from "
    "front to back, and knit it through the back loop",
    "m1lp": "make one left, purled: lift the strand before the next st with the needle from "
    "front to back, and purl it through the back loop",
    "m1r": "make one right: lift the strand before the next st with the needle from "
    "back to front, and knit it through the front loop",
    "m1rp": "make one right, purled: lift the strand before the next st with the needle from "
    "back to front, and purl it through the front loop",
    "pwise": "purlwise: as if to purl",
    "rep": "repeat",
    "rnd": "round (rnds: rounds)",
    "sl": "slip",
    "st": "stitch (sts: stitches)",
    "tbl": "through the back loop, so that the stitch is twisted",
    "w&t": "wrap and turn: bring the yarn round the next st, which stays unworked, and turn",
    "with wraps": "work each st together with the wrap or the second leg that belongs to it",
    "wyib": "with yarn in back",
    "wyif": "with yarn in front",
}
_OTHER_WORDS = {"skpo": "skp", "sk2po": "sk2p", "s2kpo": "cdd"}  # British names of stitches


def explained(
    pattern: Pattern, *, words: Words | str = Words.US, stitches: StitchTable = STITCHES
) -> Pattern:
    """Return the pattern with the list of abbreviations that its text needs, and no others.

    Parameters
    ----------
    pattern : Pattern
        Its own explanations are kept.
    words : Words or str
        The terms that it will be written in.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> pattern = explained(read("Rnd 1: K1, ssk, knit."))
    >>> [short for short, _ in pattern.abbreviations]
    ['k', 'rnd', 'ssk']
    """
    bare = attrs.evolve(pattern, abbreviations=(), materials=(), title="")
    own = dict(pattern.abbreviations)
    found = {**dict(_needed(write(bare, words=words), stitches)), **own}
    if any(re.search(r"\bcn\b", long) for long in found.values()):
        found.setdefault("cn", "cable needle")
    return attrs.evolve(
        pattern, abbreviations=sorted(found.items(), key=lambda one: one[0].lower())
    )


def _needed(text: str, stitches: StitchTable) -> Iterator[tuple[str, str]]:
    lines = (line for line in text.split("\n") if not re.match(r"Note:|Caution:|#", line))
    body = "\n".join(lines)
    for short, long in EXPLAINED.items():
        if re.search(rf"(?<![a-z&]){re.escape(short)}s?(?![a-z&])", body, re.IGNORECASE):
            yield short, long
    for over, under, way in sorted(set(re.findall(r"\b(\d+)/(\d+) ([LR]P?C)\b", body))):
        yield f"{over}/{under} {way}", stitches[f"{over}/{under}{way.lower()}"].name
    for short in sorted(set(re.findall(r"\bC\d+[FB]\b", body))):
        yield short, stitches[crossing_named(short.lower())].name
    for word in sorted(set(re.findall(r"[a-z][a-z0-9]*", body.lower()))):
        key = _OTHER_WORDS.get(word, word)
        stem = key if key in stitches else key.rstrip("0123456789")
        short = word if key in stitches else stem
        if stem in stitches and short not in EXPLAINED and stitch_word(stem, stitches):
            yield short, EXPLAINED.get(stem, stitches[stem].name)
