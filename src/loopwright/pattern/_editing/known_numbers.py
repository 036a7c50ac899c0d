# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches that are spoken of as known, "the 13 held sts", against the numbers that the text has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise

from loopwright.pattern._editing.figures import is_near
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._reading.stated import for_sizes, whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["known_numbers"]

_STS = r"(?:sts?|stitches|loops)\b"
_KNOWN = WordForm(
    rf"\b(?:the|those|these|all|remaining|held|resting|other|on hold:?) (?P<n>{COUNT}) (?:[a-z]+ ){{0,2}}?{_STS}(?! ?(?:before|after|decrease|increase|more|less|fewer))",
)
_COUNTED = WordForm(
    rf"(?P<n>{COUNT})(?= ?(?:[a-z]+ ){{0,2}}?{_STS})|\b(?:cast on|co|k|p|knit|purl|work|sl|slip|next|first|last|pattern|for|rib) ?(?P<m>{COUNT})(?! ?(?:more |further |plain )*(?:rounds?|rnds?|rows?|ridges?|times|cm|inch|ins?\b|mm|\"))|[=(\[] ?(?P<r>{COUNT})(?=[)\]]?\W*$)|\bto (?P<o>{COUNT})\b|(?P<q>{COUNT})(?= of (?:them|these|which)\b)",
)
_BETWEEN = WordForm(r" in the (?:middle|cent(?:er|re))\b| between\b")
NEAR = 2  # stitches by which a known number may miss, and be meant for it all the same
MOST = 500  # different numbers; a text of more is a book, and its numbers lie near each other
SMALL = 5  # fewer stitches are told one by one


_SIDES = WordForm(r"\b(?:below|lower|under\w*|beneath)\b.*\b(?:above|upper|over)\b")


def known_numbers(sentences: Sentences) -> Iterator[Finding]:
    """Find stitches spoken of as known, though no such number stands elsewhere, and a near one does."""
    yield from _just_said(sentences)
    asked = [at for at in sentences.places_about(_KNOWN) if _KNOWN.search(sentences[at].text)]
    if not asked:
        return
    counted = [_counted(one.text) for one in sentences]
    everywhere = Counter(values for here in counted for values in here)
    if len(everywhere) > MOST:
        return
    for at in asked:
        one, here, told = sentences[at], counted[at], _last(6, reversed(counted[:at]))
        for match in _KNOWN.finditer(one.text, one.start):
            values = whole_numbers(match["n"])
            if min(values) < SMALL or everywhere[values] > 1:
                continue
            if tuple(2 * value for value in values) in told:
                continue  # "until 20 (24) remain. Graft the 10 (12) sts of the sole to …"
            if _made_up(values, everywhere) and not _said_twice(values, everywhere):
                continue
            between = _BETWEEN.match(one.text, match.end())  # what both sides leave of the whole
            if (between or len(values) > 2) and _twice_and(values, everywhere):
                continue
            if len(values) == 1 and sum(values[0] in listed for listed in everywhere) > 1:
                continue
            if _SIDES.search(one.text) and tuple(n + 1 for n in values) in here:
                continue  # "the 6 sts below and the 5 loops above": between 6 sts lie 5
            if one.text[: match.start()].lower().endswith("each of "):
                continue  # "1 st in each of the 10 slipped sts": an edge has so many
            if _JUST.search(one.text[max(0, match.start() - 9) : match.end()]):
                continue
            near = [
                other
                for other in everywhere
                if is_near(other, values, NEAR)
                and min(other) >= SMALL
                and sum(a != b for a, b in zip(other, values, strict=True)) == 1
            ]
            if not near:
                continue
            usual = max(near, key=lambda other: everywhere[other])
            said = f"{by_size(values)} sts are spoken of as known, and nowhere else; is {by_size(usual)} meant?"
            place = one.place(match.start("n"))
            yield Finding(WARNING, "known", said, place.line, place.column)


def _twice_and(values: tuple[int, ...], everywhere: Counter[tuple[int, ...]]) -> bool:
    """Tell whether a number lies at both sides of another, or between it, and the text has the whole."""
    return any(
        len(other) == len(values)
        and any(
            tuple(2 * a + b for a, b in zip(*pair, strict=True)) in everywhere
            for pair in ((values, other), (other, values))
        )
        for other in everywhere
        if other != values
    )


def _said_twice(values: tuple[int, ...], everywhere: Counter[tuple[int, ...]]) -> bool:
    """Tell whether a list like this, one entry of it changed a little, stands twice elsewhere."""
    return len(values) > 1 and any(
        often > 1 and is_near(other, values, NEAR)
        and sum(a != b for a, b in zip(other, values, strict=True)) == 1
        for other, often in everywhere.items()
    )  # fmt: skip


_SLIPPED = WordForm(r"\b(?:sl(?:ip)?\.?(?: st)? ?1|1 st|ds|st)\b|\byo\b|\bm1|\bwrap|\bw&t")
_JUST = WordForm(
    rf"\b(?P<how>through|these)(?: the)?(?: last| remaining| rem\w*\.?)? (?P<n>{COUNT}) (?:live |held )?{_STS}(?! (?:below|above|under|over|beneath|along)\b)",
)


_HALVED = WordForm(
    r"\b(?:k2tog|ssk) (?:all |right )?(?:(?:the way )?(?:a?round|across)|to (?:the )?end)\b"
)
_TOG = WordForm(r"[kp] ?\d ?tog\w*")


def _just_said(sentences: Sentences) -> Iterator[Finding]:
    """Find "through the 12 sts", or "these 12 sts", where just before it was 14."""
    for at in sentences.places_about(_JUST):
        one = sentences[at]
        for match in _JUST.finditer(one.text, one.start):
            values = whole_numbers(match["n"])
            earlier = (_counted(_TOG.sub("", other.text)) for other in reversed(sentences[:at]))
            told = [*_last(4, earlier), *_counted(_TOG.sub("", one.text[: match.start()]))]
            if values in told or values in _sums(
                told[-4:], slipped=_SLIPPED.search(one.text[: match.start()]) is not None
            ):
                continue
            if _HALVED.search(one.text[: match.start()]) and tuple(2 * n for n in values) in told:
                continue
            near = [other for other in told[-3:] if is_near(other, values, NEAR)]
            if near and min(values) > NEAR:
                said = f"{by_size(values)} sts are spoken of; just before they were {by_size(near[-1])}"
                place = one.place(match.start("n"))
                yield Finding(WARNING, "known", said, place.line, place.column)


def _last(many: int, numbers: Iterable[tuple[tuple[int, ...], ...]]) -> list[tuple[int, ...]]:
    """Return the last numbers of sentences that are given the last one first."""
    found: list[tuple[int, ...]] = []
    for here in numbers:
        found[:0] = here
        if len(found) >= many:
            break
    return found[-many:]


def _sums(told: Sequence[tuple[int, ...]], *, slipped: bool) -> set[tuple[int, ...]]:
    """Return what neighbouring numbers make together: "sl 1, p29 (31): these 30 (32) sts"."""
    pairs = [*pairwise(told), *(((1,), one) for one in told[-1:] if slipped)]
    return {
        tuple(x + y for x, y in zip(a * (len(b) // len(a)), b, strict=True))
        for pair in pairs
        for a, b in (pair, pair[::-1])
        if len(b) % len(a) == 0
    }


def _made_up(values: tuple[int, ...], everywhere: Counter[tuple[int, ...]]) -> bool:
    """Tell whether a number is the sum, the difference or the half of others of the text."""
    others = [other for other in everywhere if other != values]
    sized = [for_sizes(other, len(values)) for other in others]
    sized = [other for other in sized if len(other) == len(values)]
    if any(
        all(a == 2 * b or 2 * a == b for a, b in zip(other, values, strict=True)) for other in sized
    ):
        return True
    known = set(sized)
    for other in sized:
        rest = tuple(b - a for a, b in zip(values, other, strict=True))
        more = tuple(b - a for a, b in zip(other, values, strict=True))
        if (min(rest) > NEAR and rest in known) or (min(more) > NEAR and more in known):
            return True
    return False


@lru_cache(maxsize=8192)
def _counted(text: str) -> tuple[tuple[int, ...], ...]:
    return tuple(
        whole_numbers(match["n"] or match["m"] or match["o"] or match["q"] or match["r"])
        for match in _COUNTED.finditer(text)
    )
