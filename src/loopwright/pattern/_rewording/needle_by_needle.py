# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A round told needle by needle, in whatever words, as the grammar has it.

"On the first needle, knit to the last 3 sts, k2tog, k1. Knit the second needle. K1, ssk, k to end
on needle 3" is put as ``Needle 1: knit to the last 3 sts, k2tog, k1; needle 2: knit; needle 3: K1,
ssk, k to end``. It is done where each clause of the line names its needle, and no other.
"""

from __future__ import annotations

import re
from typing import Final

from loopwright.pattern._rewording.mapped import MappedText

__all__ = ["with_needles_ahead"]

_NTH: Final = r"(?:first|second|third|fourth|1st|2nd|3rd|4th)"
_NEEDLE: Final = (
    rf"(?:(?:the )?{_NTH} (?:needle|dpn)|(?:needle|dpn|n) ?[1-4]\b|needle (?:one|two|three|four)\b)"
)
_AHEAD: Final = r"(?:(?:and|then|next|now|finally|lastly),? )*"
_ON: Final = r"(?:on|along|over|across|for|of|from|at)"
_WORK: Final = r"(?:k|knit|p|purl|ssk|skp\w?|sl|slip|m1\w?|kfb|k2tog|p2tog|yo|work|\*|\[|\()"
_PLAIN: Final = r"(?: plain| straight| even| in pattern| in patt| as set| without shaping)"
_MANY: Final = r"(?:\d+(?: ?[(\[][^)\]]*[)\]])? )?"
# What a clause may be: its needle first, its needle as all that is worked, or its needle behind.
_FIRST: Final = re.compile(
    rf"(?P<lead>^|: |[.;,] )(?P<ahead>{_AHEAD}(?:{_ON} )?)(?P<needle>{_NEEDLE})(?P<sign>(?: ?[:,–—-])? )(?={_WORK}(?:\b|\d|(?<=\W)))",
    re.IGNORECASE,
)
_ALONE: Final = re.compile(
    rf"(?P<lead>^|: |[.;,] ){_AHEAD}(?:k|knit|work)(?: all)?(?: {_ON})?(?: the)? {_MANY}(?:(?:sts|stitches) )?(?:{_ON} )?(?P<needle>{_NEEDLE})(?P<how>{_PLAIN})?(?= ?[.;,(]|$)",
    re.IGNORECASE,
)
_LAST_OF: Final = re.compile(
    rf"(?P<lead>^|: |[.;] ){_AHEAD}(?P<work>(?:k|knit|work) to (?:the )?last [^,;.]*?(?:sts?|stitches|stitch)) (?:on|of) (?P<needle>{_NEEDLE})(?=,)",
    re.IGNORECASE,
)
_BEHIND: Final = re.compile(
    rf"(?P<lead>^|: |[.;] ){_AHEAD}(?P<work>(?=\b{_WORK}(?:\b|\d))[^.;:]*?),? {_ON} (?P<needle>{_NEEDLE})(?=[.;(]|$)",
    re.IGNORECASE,
)
_LABEL: Final = re.compile(
    r"^(?:(?:step )?\d{1,2}[.)] )?[A-Za-z0-9 ()*]{0,30}(?:rnds?|rounds?)\b[^:.;]{0,20}: ?",
    re.IGNORECASE,
)
_CLAUSE: Final = re.compile(r"needle [1-4]: [^.;:]*$", re.IGNORECASE)
_SAID: Final = re.compile(rf"{_NEEDLE}", re.IGNORECASE)
_COUNT: Final = re.compile(r"(?:\(|\d|you |there |check)", re.IGNORECASE)
_NAMES: Final = (
    ("first", "1", "one"),
    ("second", "2", "two"),
    ("third", "3", "three"),
    ("fourth", "4", "four"),
)
_BETWEEN: Final = re.compile(r"[.;,]( needle [2-4]: )")


def with_needles_ahead(said: MappedText) -> MappedText:
    """Return a line with each needle's name ahead of what is worked on it.

    Examples
    --------
    >>> told = MappedText.of("Rnd 1: K to last 3 sts on needle 1, k2tog, k1. Knit the second needle.")
    >>> with_needles_ahead(told).text
    'Rnd 1: needle 1: K to last 3 sts, k2tog, k1; needle 2: knit.'
    """
    if "eedle" not in said.text or len(_SAID.findall(said.text)) < 2 or "pick" in said.text.lower():
        return said
    named = said.sub(_LAST_OF, lambda m: f"{m['lead']}needle {_number(m)}: {m['work']}")
    named = named.sub(_ALONE, lambda m: f"{m['lead']}needle {_number(m)}: {_plain(m)}")
    named = named.sub(_FIRST, lambda m: f"{m['lead']}needle {_number(m)}: ")
    named = named.sub(_BEHIND, _moved)
    if named.text == said.text or not _is_whole(named.text):
        return said
    return named.sub(_BETWEEN, r";\1")


def _moved(match: re.Match[str]) -> str:
    if _CLAUSE.match(match["work"]) or "needle" in match["work"].lower():
        return match[0]
    return f"{match['lead']}needle {_number(match)}: {match['work']}"


def _plain(match: re.Match[str]) -> str:
    return "work in pattern" if "pat" in (match["how"] or "") else "knit"


def _number(match: re.Match[str]) -> int:
    word = match["needle"].lower()
    return next(
        number for number, names in enumerate(_NAMES, 1) if any(one in word for one in names)
    )


def _is_whole(text: str) -> bool:
    """Tell whether each clause but a count at the end names its needle, in their order."""
    label = _LABEL.match(text)
    clauses = re.split(
        r"[.;] |, (?=needle [1-4]: )", text[label.end() if label else 0 :].rstrip(" .")
    )
    while clauses and _COUNT.match(clauses[-1]):
        clauses.pop()
    numbers = [int(one[7]) for one in clauses if _CLAUSE.match(one)]
    return len(numbers) == len(clauses) > 1 and numbers == sorted(set(numbers))
