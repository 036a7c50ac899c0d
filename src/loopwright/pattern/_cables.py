# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Cables that a text defines: read by the stitches they take, which is as many as they leave."""

from __future__ import annotations

import re

from loopwright.pattern._wordings import OwnWording

__all__ = ["cable_wording"]

_NEEDLE = re.compile(r"\bcn\b|cable needle|\bcross|\btwist\b", re.IGNORECASE)
_ON_NEEDLE = re.compile(
    r"(?:slip|sl|place|put|hold)\s+(?:the\s+)?(?:next\s+)?(\d+)\s*(?:sts?|stitches)?\b",
    re.IGNORECASE,
)
_WORKED = re.compile(
    r"\b(?:k|p|knit|purl)\s?(\d+)(?!\s*(?:sts?|stitches)?\s*(?:from|off))(?=\s*(?:sts?|stitches)?\s*(?:[,;.]|from left|then|and|$))",
    re.IGNORECASE,
)
_NAMED = re.compile(r"(?:[ct](\d+)[a-z]{0,3}|(\d)/(\d)\s*[lr]p?[ct])$", re.IGNORECASE)


def cable_wording(short: str, long: str) -> OwnWording | None:
    """Return the wording that a definition of a cable adds to the table; None if it is none.

    Examples
    --------
    >>> cable_wording("C4F", "slip 2 sts to cable needle and hold in front, k2, k2 from cable needle").means
    'k4'
    """
    if not _NEEDLE.search(long):
        return None
    taken = 0
    if match := _NAMED.match(short.strip()):
        taken = int(match[1]) if match[1] else int(match[2]) + int(match[3])
    elif on := _ON_NEEDLE.search(long):
        worked = _WORKED.search(long[on.end() :])
        taken = int(on[1]) + (int(worked[1]) if worked else 0)
    if not 1 < taken < 40:
        return None
    return OwnWording(re.escape(short.strip()) + r"(?![a-z0-9])", f"k{taken}", short)
