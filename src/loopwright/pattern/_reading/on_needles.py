# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How many stitches lie on each needle, told in any words and known by its sum."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern import steps as st
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern.values import Count, sized

__all__ = ["NTH_NEEDLES", "arranged_on_needles"]

Numbers = tuple[int, ...]

NTH_NEEDLES = {
    "first": 1,
    "1st": 1,
    "second": 2,
    "2nd": 2,
    "third": 3,
    "3rd": 3,
    "fourth": 4,
    "4th": 4,
}
_ORDINAL = rf"(?:the )?(?:{'|'.join(NTH_NEEDLES)})"
_TOO = r"(?:, ?and |,? and |,? ?& ?|, ?|/)"
_NEEDLE = re.compile(
    rf"(?:needles?|ndls?\.?|dpns?|n) ?#?[1-5]\b(?:{_TOO}(?:(?:needle|ndl\.?|n) ?)?[1-5]\b(?! ?(?:{STS}|on\b)))*"
    rf"|{_ORDINAL}(?:{_TOO}{_ORDINAL})*(?: (?:needles?|ndls?|dpns?)\b|(?=[,;.]|$| and| with))",
    re.IGNORECASE,
)
_NUMBER = re.compile(COUNT)
_TALK = re.compile(
    r"(?:the|a|an|and|with|on|onto|of|has|have|holds?|holding|is|are|be|should|will|must|you|your|there|now|then|so|that|which|these|those|they|all|each|for|as|in|to|over|needles?|dpns?|"
    r"sts?|stitch(?:es)?|place|put|divided?|arranged?|distributed?|shared?|set up|lie|follows|follow|thus|like this|this|way|instep|sole|heel|gusset|top|bottom|front|back|foot|half|side|left|right|first|second|remaining|rest|other|total|in all|check)\b\.?"
    r"|[\s,;:.=()\[\]–—+-]",
    re.IGNORECASE,
)


def arranged_on_needles(live: Live, text: str) -> tuple[st.Arrange, Count | None] | None:
    """Return how a sentence shares the round out, and the total that it states, if it does.

    None where it says more, or its sum is another.

    Nothing is asked of the order of its words: "needle 1 has 12 sts, needle 2 has 24" and "12 sts
    on the first needle, 24 on the second" both name each needle once, with a number.
    """
    whole = tuple(tally.count for tally in live.tallies)
    if not whole or not live.is_whole_round:
        return None
    tokens = list(_tokens(text, len(whole)))
    if None in tokens:
        return None
    named = [one for one in tokens if one and one[0]]
    told = [one for one in tokens if one and not one[0]]
    is_total_told = len(told) == len(named) + 1
    if is_total_told:
        told = [one for one in told if one[1] != whole]
        tokens = [one for one in tokens if one and (one[0] or one[1] != whole)]
    alternate = all(bool(one and one[0]) == bool(tokens[0] and tokens[0][0]) for one in tokens[::2])
    if len(named) != len(told) or not alternate:
        return None
    on = {
        number: many
        for (names, _), (_, many) in zip(_all(named), _all(told), strict=True)
        for number in names
    }
    needles = [number for names, _ in _all(named) for number in names]
    if len(needles) < 2 or sorted(needles) != list(range(1, len(needles) + 1)):
        return None
    made = tuple(sum(each) for each in zip(*on.values(), strict=True))
    if made != whole:
        return None
    total = sized(whole) if is_total_told else None
    return st.Arrange(tuple(sized(on[number]) for number in sorted(on))), total


_Token = tuple[tuple[int, ...], Numbers]  # needles, or a number by size


def _all(tokens: Sequence[_Token | None]) -> list[_Token]:
    return [one for one in tokens if one is not None]


def _tokens(text: str, sizes: int) -> Iterator[_Token | None]:
    """Yield needles and numbers in their order; None for what is neither, nor talk."""
    at = 0
    while at < len(text):
        if match := _NEEDLE.match(text, at):
            yield _needles(match[0]), ()
        elif match := _NUMBER.match(text, at):
            many = numbers_of_sizes(match[0], sizes)
            yield ((), many) if many and all(many) else None
        elif not (match := _TALK.match(text, at)):
            yield None
            return
        at = match.end()


def _needles(names: str) -> tuple[int, ...]:
    found = re.findall(rf"(?<!\w)(?:{'|'.join(NTH_NEEDLES)})\b|[1-5](?![a-z])", names.lower())
    return tuple(NTH_NEEDLES.get(one) or int(one) for one in found)
