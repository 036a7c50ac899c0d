# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How many stitches lie on each needle, told in any words and known by its sum."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from loopwright.pattern import steps as st
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._tally import NEEDLE, Tally
from loopwright.pattern.values import Count, sized

__all__ = [
    "NTH_NEEDLES",
    "arranged_on_needles",
    "holds_pairs",
    "moved_on_needles",
    "parted",
    "told_by_place",
]

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
_NEEDLE = WordForm(
    rf"(?:needles?|ndls?\.?|dpns?|n) ?#?[1-5]\b(?:{_TOO}(?:(?:needle|ndl\.?|n) ?)?[1-5]\b(?! ?(?:{STS}|on\b)))*"
    rf"|{_ORDINAL}(?:{_TOO}{_ORDINAL})*(?: (?:needles?|ndls?|dpns?)\b|(?=[,;.]|$| and| with))",
)
_NUMBER = WordForm(COUNT, re.NOFLAG)
_TALK = WordForm(
    r"(?:the|a|an|and|with|on|onto|of|has|have|holds?|holding|carry|carries|carrying|contains?|is|are|be|should|will|must|you|your|there|now|then|so|that|which|these|those|they|them|all|each|for|as|in|to|over|needles?|dpns?|"
    r"sts?|stitch(?:es)?|place|put|divided?|arranged?|distributed?|shared?|set up|lie|follows|follow|thus|like this|this|way|instep|sole|heel|gusset|top|bottom|front|back|foot|half|side|left|right|first|second|remaining|rest|other|total|in all|altogether|makes?|making|gives?|giving|check|spread|out|change|evenly|equally|between|among|across|one|knitting|use|begin|start|using|set|slip|hang|let|give|gets?|go|goes|takes?|receives?)\b\.?"
    r"|[\s,;:.=()\[\]–—+-]",
)


def arranged_on_needles(live: Live, text: str) -> tuple[st.Arrange, Count | None] | None:
    """Return how a sentence shares the round out, and the total that it states, if it does.

    None where it says more, or its sum is another.

    Nothing is asked of the order of its words: "needle 1 has 12 sts, needle 2 has 24" and "12 sts
    on the first needle, 24 on the second" both name each needle once, with a number.
    """
    whole = tuple(tally.count for tally in live.tallies)
    return parted(whole, text) if whole and live.is_whole_round else None


def parted(whole: Numbers, text: str) -> tuple[st.Arrange, Count | None] | None:
    """Return how a sentence shares out so many stitches of each size, and the total it states."""
    if (alike := _alike(whole, text)) is not None:
        return alike, None
    if (listed := _listed(whole, text)) is not None:
        return listed
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
        on = _of_both(named, told)
        made = tuple(sum(each) for each in zip(*on.values(), strict=True))
    if made != whole:
        return None
    total = sized(whole) if is_total_told else None
    return st.Arrange(tuple(sized(on[number]) for number in sorted(on))), total


def _of_both(named: Sequence[_Token | None], told: Sequence[_Token | None]) -> dict[int, Numbers]:
    """Share out evenly what two needles have together: "needles 1 and 2 hold 30 sts"."""
    return {
        number: tuple(each // len(names) + (at < each % len(names)) for each in many)
        for (names, _), (_, many) in zip(_all(named), _all(told), strict=True)
        for at, number in enumerate(names)
    }


_INSTEP = r"(?:instep|front|top)(?:'s)? needle|needle (?:for|of|with) the (?:instep|front|top)"
_EACH = r"(?:each|every one|both|all)(?: of)?"
_OTHERS = r"(?:the )?(?:(?:other|remaining|sole|back|heel)(?: (?:two|2)(?: needles| ones)?| needles)|two (?:other|sole|back|remaining) needles|two others|others|other two(?: needles| ones)?)"
_BY_PLACE = WordForm(  # "the instep needle has 22 and the other two 11 each", either number first
    rf"(?:[a-z,: -]*?\b)?(?:(?P<a>{COUNT})(?: {STS})? (?:lie |are )?(?:on|to|for|onto) (?:the |your )?(?:{_INSTEP})|(?:the |your )?(?:{_INSTEP})(?: (?:now|should|must|then|has|have|had|holds?|carry|carries|with|gets|takes|to))*[:,=]?(?: with)? (?P<a2>{COUNT})(?: {STS})?)"
    rf"(?:,|;| and| with)+ (?:(?P<b>{COUNT})(?: {STS})? (?:lie |are )?(?:on|to|for|onto) {_EACH} {_OTHERS}|{_OTHERS}(?: (?:now|have|hold|carry|with|get|take))*[:,=]? (?P<b2>{COUNT})(?: {STS})?(?: (?:each|apiece)|(?: on)? each one))[.!]?"
)


def told_by_place(live: Live, text: str) -> list[st.Arrange] | None:
    """Return how three needles lie of which one holds the instep; [] where it may be any of them."""
    whole = tuple(tally.count for tally in live.tallies)
    if (match := _BY_PLACE.fullmatch(text)) is None or not whole or not live.is_whole_round:
        return None
    a, b = (numbers_of_sizes(match[one] or match[f"{one}2"], len(whole)) for one in "ab")
    if not a or not b or tuple(x + 2 * y for x, y in zip(a, b, strict=True)) != whole:
        return None
    lying = [_lying(tally) for tally in live.tallies]
    largest = {parts.index(max(parts)) if len(parts) == 3 else -1 for parts in lying}
    at = largest.pop() if len(largest) == 1 else -1
    needles = tuple(sized(a if number == at else b) for number in range(3))
    return [st.Arrange(needles)] if at >= 0 else []


def _alike(whole: Numbers, text: str) -> st.Arrange | None:
    """Return as many stitches on each needle, if a sentence tells both numbers and their product."""
    if (many := _MANY_NEEDLES.search(text)) is None:
        return None
    rest = text[: many.start()] + " " + text[many.end() :]
    if (each := _ON_EACH.search(rest)) is None:
        return None
    needles = _WORDS[many[1].lower()]
    told = numbers_of_sizes(each["n"], len(whole))
    rest = rest[: each.start()] + " " + rest[each.end() :]
    if not told or tuple(needles * one for one in told) != whole or _TALK.sub("", rest):
        return None
    return st.Arrange((sized(told),) * needles)


_PAIR = rf"needles? (?P<a>[1-4]) (?:and|&) (?:needle )?(?P<b>[1-4])\b[^\d.;:]{{0,40}}[(,:=] ?(?P<n>{COUNT})(?: {STS})?"
_PAIRS = WordForm(
    rf"(?=[^.;:]*\b(?:put|slip|sl|join|combine|bring|place|set|take|hold|together|as one|on one)\b)[^\d.;:]{{0,60}}{_PAIR}[),;]*[^\d.;:]{{0,40}}{_PAIR.replace('>', '2>')}[^\d.;:]{{0,40}}[.]?"
)


def holds_pairs(live: Live, text: str) -> bool:
    """Tell whether a sentence puts four needles together by twos, with all the stitches there are."""
    match = _PAIRS.fullmatch(text)
    if match is None or {match[one] for one in ("a", "b", "a2", "b2")} != set("1234"):
        return False
    sizes = len(live.tallies)
    parts = [numbers_of_sizes(match[one], sizes) for one in ("n", "n2")]
    whole = tuple(tally.count for tally in live.tallies)
    return all(parts) and tuple(map(sum, zip(*parts, strict=True))) == whole


_MOVES = r"(?:slip|sl|move|transfer|shift|pass|put|take|goes|go|moves|passes|belongs)"
_TO_NEEDLE = rf"(?:needles?|ndls?|dpns?|n) ?[1-4]\b|{_ORDINAL} (?:needles?|ndls?|dpns?)\b"
_LISTED = WordForm(  # "slip the first st of needle 2 to needle 1: 15, 30 and 15 sts"
    rf"(?=[^;]*\b(?:{_TO_NEEDLE}))(?P<moved>[^;*]*?\b{_MOVES}\b[^;*]*?\b{STS}\b[^;*]*?|[^;*]*?\b{STS}\b[^;*]*?\b{_MOVES}\b[^;*]*?)"
    rf"(?:[:,.(=–—]| so\b| that\b| there\b| you\b| now\b| are\b| have\b| with\b| gives?\b| makes?\b)+ ?(?P<parts>{COUNT}(?:(?:,? and |, ?| ?/ ?|-){COUNT}){{1,4}})(?: {STS})?\)?[.!]?"
)
_MOVED = WordForm(  # "slip the last 2 sts of needle 1 to needle 2"
    rf"(?:(?:and|now|then),? )*{_MOVES} (?:the )?(?P<which>first|last) (?:(?P<n>\d) )?{STS} (?:of|from|on) (?:the )?(?P<a>{_TO_NEEDLE}) (?:over )?(?:on ?to|to) (?:the )?(?:(?:end|beginning|start) of (?:the )?)?(?P<b>{_TO_NEEDLE})[.!]?"
)


def moved_on_needles(live: Live, text: str) -> st.Arrange | None:
    """Return how the round lies on its needles after stitches went from one to the next.

    The sentence tells what lies on each then, or it is known what lay there before.
    """
    whole = tuple(tally.count for tally in live.tallies)
    if not whole or not live.is_whole_round:
        return None
    if match := _LISTED.fullmatch(text):
        told = [numbers_of_sizes(one[0], len(whole)) for one in _NUMBER.finditer(match["parts"])]
        listed = [many for many in told if many]
        if len(listed) == len(told) and tuple(map(sum, zip(*listed, strict=True))) == whole:
            return st.Arrange(tuple(map(sized, listed)))
        return None
    if (match := _MOVED.fullmatch(text)) is None:
        return None
    (a,), (b,) = _needles(match["a"]), _needles(match["b"])
    many = int(match["n"] or 1)
    if b - a != (1 if match["which"].lower() == "last" else -1):
        return None
    before = [_lying(tally) for tally in live.tallies]
    if any(len(parts) < max(a, b) or parts[a - 1] <= many for parts in before):
        return None
    for parts in before:
        parts[a - 1] -= many
        parts[b - 1] += many
    return st.Arrange(tuple(sized(list(part)) for part in zip(*before, strict=True)))


def _lying(tally: Tally) -> list[int]:
    """Return how many stitches lie on each needle, at the beginning of the round."""
    ends = [tally.distance((NEEDLE, number)) for number in range(len(tally.parts) - 1)]
    if tally.behind or None in ends:
        return []
    places = [0, *(end for end in ends if end is not None), tally.count]
    return [b - a for a, b in pairwise(places)]


def _listed(whole: Numbers, text: str) -> tuple[st.Arrange, Count | None] | None:
    """Return the numbers of "62 sts in all: 18, 27 and 17 on your three needles", and the total."""
    if (many := _MANY_NEEDLES.search(text)) is None:
        return None
    rest = f"{text[: many.start()]} {text[many.end() :]}"
    told = [one[1] for one in _tokens(rest, len(whole)) if one is not None and not one[0]]
    if len(told) != len([*_tokens(rest, len(whole))]) or len(told) < 2:
        return None
    total = told[0] == whole and len(told) > _WORDS[many[1].lower()]
    each = told[1:] if total else told
    if len(each) != _WORDS[many[1].lower()] or tuple(map(sum, zip(*each, strict=True))) != whole:
        return None
    return st.Arrange(tuple(map(sized, each))), sized(whole) if total else None


_WORDS = {**{str(n): n for n in range(2, 6)}, "two": 2, "three": 3, "four": 4, "five": 5}
_MANY_NEEDLES = WordForm(
    rf"\b({'|'.join(_WORDS)}) (?:(?:double[- ]pointed|circular|other) )?(?:needles|dpns|dpn|circulars|circs)\b",
)
_ON_EACH = WordForm(
    rf"(?P<n>{COUNT})(?: {STS})? (?:(?:on|to|for|per) )?(?:each|every|apiece|a needle|needle)\b",
)
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
