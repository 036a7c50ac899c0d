# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How often something is worked beyond the first time, in the usual words: "3 more times"."""

from __future__ import annotations

from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._words import MANY

__all__ = ["MORE_TIMES"]

_AGAIN = (
    r"(?P<what>\b(?:rep(?:eat)?|work|knit|k|purl|p|(?:rows?|rnds?|rounds?)(?: \d+)?)\b[^.;:]*?) "
)
MORE_TIMES = Rewordings(
    (
        (rf"\b(?:an? )?(?:additional|extra) (?P<n>{MANY}) times\b", r"another \g<n> times"),
        (rf"\bfor another (?P<n>{MANY}) times\b", r"another \g<n> times"),
        (
            rf"{_AGAIN}(?:(?:one|1) (?:more time|time more|additional time|further time|extra time)|1 ?[x×] more|an(?:other| additional| extra) time)(?=[.,;:)]|$| [(])",
            r"\g<what> once more",
        ),
        (rf"\b(?P<n>{MANY}) (?:additional|further|extra) times\b", r"\g<n> more times"),
        (rf"\b(?P<n>{MANY}) ?(?:[x×] more|more ?[x×](?!\w))", r"\g<n> more times"),
    )
)
