# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What is done at one place of a round, and at all the others: at each marker, two by two."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_all_round"]

_AROUND = r"(?:(?:all )?(?:the way )?(?:a?round|across)|throughout|(?:to|till|until) (?:the )?end(?: of (?:the )?(?:round|rnd|row))?)"
_SAME = r"(?:and so on|(?:and )?(?:do|work|knit) (?:(?:the|it the) same(?: way| again)?|this(?: again)?|so|likewise|in the same way)|(?:and )?repeat(?:ing)?(?: this| it)?|(?:and )?rep(?:eat)? so|(?:and )?continue(?: so| like this| in this way)?|likewise)"
_AT_MARKERS = WordForm(
    rf"(?P<b>^\s*|: )(?P<body>(?:k|knit) to (?:\d|one|two|three|four) (?:sts?|stitch(?:es)?)? ?before (?:(?:the|each|next|every|first) )*(?:marker|m)\b[^.;:*()]*?)(?:,? (?P<n>two|three|four|five|six|seven|eight|nine|ten|twelve|\d{{1,2}}) times|[;,.] (?i:{_SAME})(?: (?:at|before|for|to) (?:(?:each|every|all|the|other) )+(?:of the )?markers?(?: {_AROUND})?| {_AROUND}))(?=[.;]|\s*$)"
)
_SLIPS = re.compile(r"\b(?:sm|slip (?:the )?(?:marker|m)|move (?:the )?marker)\b", re.IGNORECASE)

_TWO = r"(?:k ?2 ?tog|knit (?:2|two) tog(?:ether)?\b)"
_OVER_AGAIN = WordForm(  # "k2tog all round, twice over"
    rf"(?P<b>^\s*|[.;:] )(?P<two>{_TWO}) {_AROUND},? (?:(?P<twice>twice)|(?P<thrice>three times|thrice)|(?:for|in|on) (?P<n>two|three|2|3) (?:rounds|rnds))(?: over| running)?(?=[.;(]|\s*$| \()"
)
_IN_PAIRS = WordForm(
    r"(?P<b>^\s*|[.;:)] )(?:nothing but k2tog|only k2tog|k2tog and nothing else|knit (?:every|each) (?:two|2|pair of) (?:sts|stitches) together)(?: all round| around)?(?=[.:;,(]|\s*$)"
)
_THE_SAME = WordForm(
    r"^(?P<lead>\s*)(?P<crs>round|rnd|row) (?P<n>\d{1,2}): (?:the same(?: again| once more)?|same(?: again)?|likewise|again the same)(?=\.|\s*$)"
)

_AS_ELSEWHERE = WordForm(  # "Row 2 and every wrong-side row: as in Part 1"
    r"^(?P<label>\s*(?:round|rnd|row) \d{1,2} and (?:every|all|each) [^:.]{0,30}(?:rounds?|rnds?|rows?)): (?:work(?:ed)? )?(?:the same )?(?:as|like) (?:you did |were worked )?(?:(?:in|for|of|(?:round|rnd|row) \d{1,2} of|(?:the )?[a-z -]+ (?:rounds|rnds|rows) (?:of|in)) )+(?:(?:part|section|step|sheet) (?:\d|[a-h]|one|two|three)|the [a-z]+(?: (?:part|section))?)(?=\.|\s*$)"
)


def with_all_round(said: MappedText) -> MappedText:
    """Return a line where what is done all round is told as a repeat.

    Examples
    --------
    >>> for text in ("Dec round: Knit to 2 sts before the marker, k2tog; do the same at each marker.", "K2tog all round, twice over.", "Nothing but k2tog: 32 sts."):
    ...     print(with_all_round(MappedText.of(text)).text)
    Dec round: *Knit to 2 sts before the marker, k2tog, slip marker; rep from * to end.
    Next 2 rounds: *k2tog; rep from * to end.
    *K2tog; rep from * to end: 32 sts.
    """
    said = said.sub(_AT_MARKERS, _repeated).sub(_OVER_AGAIN, _rounds)
    said = said.sub(_IN_PAIRS, lambda one: f"{one['b']}*K2tog; rep from * to end")
    said = said.sub(_AS_ELSEWHERE, r"\g<label>: As before")
    return said.sub(
        _THE_SAME,
        lambda one: (
            f"{one['lead']}{one['crs']} {one['n']}: As {one['crs'].lower()} {int(one['n']) - 1}"
        ),
    )


def _repeated(match: re.Match[str]) -> str:
    body = match["body"] + ("" if _SLIPS.search(match["body"]) else ", slip marker")
    if match["n"]:
        return f"{match['b']}({body}) {match['n']} times"
    return f"{match['b']}*{body}; rep from * to end"


def _rounds(match: re.Match[str]) -> str:
    many = 2 if match["twice"] else 3 if match["thrice"] else match["n"]
    return f"{match['b']}Next {many} rounds: *k2tog; rep from * to end"
