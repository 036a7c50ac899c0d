# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Words beside an instruction that change nothing of it: what for, from when, with what in hand."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["without_adjunct"]

_PART = r"(?:heel|sole|instep|front|back|palm|top of (?:the )?(?:foot|hand)|top|foot|flap|heel flap|leg|cuff|toe|thumb|crown|brim|hand|body|hem|edge|edging|border|band|strap|sock|hat|mitten)"
_MADE = (
    r"(?:ridge|fold|fold ?line|turning line|line|crease|turn|welt|roll|transition|finish|picots?)"
)
_COURSE = r"(?:rounds?|rnds?|rows?)"
_WITH = r"(?:work|knitt?|purl|treat|count|tak|pick|lift)ing"
_BEHIND = tuple(
    re.compile(rf"[,;]?\s+(?:{said})\s*[.!,;]*$", re.IGNORECASE)
    for said in (
        rf"(?:for|as|to (?:form|make|create|give|get|mark|define|begin|start)) (?:the |an? |your |this )*(?:[a-z]+ ){{0,2}}?(?:{_PART}(?: sts| stitches| flap)?|{_MADE})",
        rf"to (?:end|complete|finish|close|begin|start)(?: off)? (?:the |this )?{_COURSE}",
        r"(?:from (?:here|now|there|this point)(?: on(?:wards?)?)?|for now|for the (?:time being|moment)|at this point|as you go(?: along)?|this time|straight away|at once|too|as well)",
        rf"(?:and )?{_WITH} (?:each|every|both|all|the|its|their|up|of)\b[^;.\d]*?(?:as (?:one|a single|1)(?: (?:st|stitch))?|together|tog|wraps?|(?:with|in) (?:the |its |their |each )?(?:sts?|stitch(?:es)?|one)|off as one(?: stitch)?)",
        r"(?:in|with) (?:the )?(?:usual|normal|ordinary) (?:way|manner)",
        r"(?:very |quite |fairly |nice and )?(?:loosely|firmly|tightly|snugly|gently|carefully|neatly|evenly)",
        r"so that (?!the (?:rounds?|rnds?) )(?:it|they|the (?:knit|purl|rib|pattern|edge|work|holes?|gaps?))\b[^;.\d]*",
        r"changing to (?:the |your |a set of )?(?:dpns?|double[- ]pointed needles|double-pointeds)\b[^;.\d]*",
    )
)
_BEFORE = WordForm(
    r"(?:with (?:the )?(?:rs|ws|right side|wrong side)(?: of (?:the )?(?:work|heel|flap|sock|piece))? (?:facing|towards you)(?: you)?,?|"
    r"(?:without (?:cutting|breaking) (?:the )?(?:yarn|wool)),?|"
    r"(?:using|with) the (?:same|free|empty|working) needle,?|as before,|once again,?)\s+(?=\S)",
)


def without_adjunct(said: MappedText) -> MappedText | None:
    """Return a clause without the last such words, or the first; None if it has none.

    Examples
    --------
    >>> without_adjunct(MappedText.of("work 40 rows in garter stitch for the top of the foot")).text
    'work 40 rows in garter stitch'
    """
    for behind in _BEHIND:
        if (match := behind.search(said.text)) is not None and match.start() > 1:
            return said.piece(0, match.start())
    if (match := _BEFORE.match(said.text)) is not None:
        return said.piece(match.end(), len(said.text))
    return None
