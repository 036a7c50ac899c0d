# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Whether what was taken for a fabric ends before, and goes on to another: "12 rounds of rib, then …"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["goes_further"]


def goes_further(match: re.Match[str]) -> bool:
    """Tell whether a fabric has an end of its own, or another follows: "12 rounds of rib, then …"."""
    found = match.groupdict()
    fabric = found.get("fabric")
    if fabric is None:
        fabric = match[0][: match.start("length")] if found.get("length") else ""
    fabric = _IN_BRACKETS.sub("", fabric)
    if _OR_SO_FAR.search(fabric) or match[0].lower().startswith(
        "keep the "
    ):  # "knit 40 rounds, or until …", stripes of so many rounds
        return False
    ended = _AND_SOME if found.get("n") else _HAS_END
    return bool(
        ended.search(fabric) or _AND_THEN.search(fabric) or _OTHER.search(found.get("tail") or "")
    )


_OR_SO_FAR = WordForm(r"\bor\s*$|\bstripes?\b")
_IN_BRACKETS = WordForm(r" ?\([^()]*\)", re.NOFLAG)
_MANY_ROWS = rf"{COUNT} (?:more |plain )*(?:rounds?|rnds?|rows?)\b"
_HAS_END = re.compile(
    rf"\b{_MANY_ROWS}|(?<![a-z\d]){COUNT} ?(?:cm|mm|\"|inch(?:es)?|ins?(?=[,;.]| of |$))",
    re.IGNORECASE,
)
_AND_SOME = re.compile(
    rf"(?:,|\band|\bthen) (?:{_MANY_ROWS}|{COUNT} ?(?:cm|mm|\"|inch(?:es)?|in) of\b)", re.IGNORECASE
)
_AND_THEN = WordForm(
    r"(?:,|\band|\bthen)(?: and| then| now)* (?:knit|work|go on|change)\b(?! (?:the )?(?:sole|instep|back|front|palm)\b)",
)
_OTHER = WordForm(  # "for 1 in, st st for 5 in", "for 6 cm, then in plain knitting until …"
    r"\b(?:then|after (?:that|this|which)|afterwards)\b[^;]*? (?:for|until|till?)\b|(?:,|\band|\bthen)(?: and| then| now)* (?:(?:knit|work|go on|change)\b|(?:in )?(?:st\.? st|stock\w+|garter)\b[^;]* (?:for|until|till)\b)",
)
