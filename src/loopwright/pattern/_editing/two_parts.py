# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A heel and the stitches that wait beside it: the two are all that there are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Before, Sentences, next_on_line
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["two_parts"]

_PART = r"(?:heel|instep|sole|palm|back|front|flap)"
_FIRST_LAST = WordForm(
    rf"\b{_PART}\b[^.;]{{0,40}}\blast (?P<a>{COUNT}) {STS}[^;]{{0,60}}\bfirst (?P<b>{COUNT}) {STS}[^.;]{{0,24}}\b{_PART}\b|"
    rf"\b{_PART}\b[^.;]{{0,40}}\bfirst (?P<a2>{COUNT}) {STS}[^;]{{0,60}}\blast (?P<b2>{COUNT}) {STS}[^.;]{{0,24}}\b{_PART}\b",
)
_HALVES = WordForm(  # "slip the last 30 sts on to one needle and leave the first 30 sts"
    rf"\blast (?P<a>{COUNT}) {STS}[^;.\d]{{0,60}}\bleave (?:the )?first (?P<b>{COUNT}) {STS}|"
    rf"\bfirst (?P<a2>{COUNT}) {STS}[^;.\d]{{0,60}}\bleave (?:the )?last (?P<b2>{COUNT}) {STS}"
)
_THREADED = WordForm(  # "thread the 13 gusset sts onto waste yarn. Rib the other 42 sts"
    rf"\b(?:thread|slip|put|place|move|transfer) (?:the |these |next )*(?P<a>{COUNT}) (?:gusset |thumb )?{STS} on[^.;\d]{{0,60}}[.;,][^.;\d]{{0,40}}\b(?:rib|knit|work|k|patt)\.? (?:across )?the (?:other|rem\w*\.?) (?P<b>{COUNT}) {STS}"
)
_ON_HOLD = WordForm(  # "Rib 26, put these sts on hold for the instep. The flap is on the last 26 sts"
    rf"(?<![a-z])(?:rib|k|knit|work|patt)\.? ?(?:across |the |first |next )*(?P<a>{COUNT})(?: {STS})?(?: in [a-z ]+)?(?!\d)[,;. ](?:[^.\d]{{0,30}}[kp] ?\d)?[^\d]{{0,50}}\b(?:hold\w*|rest|instep|aside)\b[^\d]{{0,90}}\b(?:last|other|rem\w*\.?) (?P<b>{COUNT}) {STS}"
)
_OF_NEEDLES = WordForm(
    rf"\b(?P<a>{COUNT}) {STS} (?:of|on) needles? \d(?: and \d)?\b[^;]{{0,30}}\b(?P<b>{COUNT}) {STS} (?:of|on) needles? \d(?: and \d)? (?:rest|wait|are|stay)",
)
_OF_WHICH = WordForm(
    rf"\b(?P<a>{COUNT}) {STS}[,;:] (?:of which|of them|and of these|with) (?P<b>{COUNT}) (?:are |is |on |for )(?:the )?{_PART}\b",
)
_THE_OTHER = WordForm(
    rf"\b(?:have|these|are|remain on) (?P<a>{COUNT}) {_PART} {STS}[^.\d]{{0,30}}\bother (?P<b>{COUNT})(?: {STS})? (?:wait|are|rest|stay|hang|for)\b",
)
_TOGETHER = WordForm(
    rf"(?P<a>{COUNT}) {STS}(?:[^:;\d]|needle \d){{0,90}}\band (?:the |those )?(?P<b>{COUNT}) {STS}[^:;.]{{0,30}}[:=] ?(?P<n>{COUNT}) (?:{_PART} )?{STS}",
)
_HALVED = WordForm(
    rf"(?P<n>{COUNT})(?: {STS})?[^\d.;]{{0,24}}[.;,]? ?(?:and )?(?:divide|split|arrange|distribute|share)[^.;]{{0,24}}\b(?:evenly|equally)\b[^.;]{{0,20}}(?:2 needles|needles 1 and 2|n ?1 and n ?2|2 circulars?|two needles|needle 1 and needle 2)",
)
_COUNTED = WordForm(
    rf"(?P<n>{COUNT}) {STS}|\b(?:cast(?:ing)? (?:on|up)|co) (?P<m>{COUNT})(?!\d| ?(?:more|extra|over))"
)
LEAST = 10  # stitches of a part
NEAR = 4  # stitches by which a sum may miss a count, and be meant for it all the same


def two_parts(sentences: Sentences) -> Iterator[Finding]:
    """Find a heel and an instep that are nearly what there was before them, and not quite."""
    told = Before(sentences, _COUNTED, _counted)
    joined = (_FIRST_LAST, _THE_OTHER, _OF_NEEDLES, _THREADED, _TOGETHER, _HALVED)
    for at in sentences.places_about(_HALVES, _OF_WHICH, ahead=joined, beyond=[_ON_HOLD]):
        one, after = sentences.pairs[at]
        text = one.figures
        behind = next_on_line(one, after)
        both = f"{text} {behind.figures}" if behind is not None else text
        line = [
            other.figures for other in sentences[at : at + 3] if other.line - one.line in (0, 1)
        ]
        more = " ".join(line)
        match = (
            _FIRST_LAST.search(both)
            or _THE_OTHER.search(both)
            or _OF_NEEDLES.search(both)
            or _ON_HOLD.search(more)
            or _HALVES.search(text)
            or _THREADED.search(both)
        )
        if match is not None and match.start() < len(text):
            found = match.groupdict()
            a, b = (values(found[name] or found[f"{name}2"]) if f"{name}2" in found else values(found[name]) for name in "ab")  # fmt: skip
            if said := _wrong(a, b, told(at)):
                place = one.place_in_figures(match.start())
                yield Finding(WARNING, "sum", said, place.line, place.column)
        whole = _TOGETHER.search(both)
        if whole is not None and (whole.end() > len(text) or behind is None):
            a, b, total = (values(whole[name]) for name in "abn")
            made = tuple(x + y for x, y in zip(*alike(a, b), strict=True))
            if made != total and is_near(made, total, NEAR):
                place = (one if after is None else after).place(0)
                said = (
                    f"{by_size(a)} and {by_size(b)} sts are {by_size(made)}, not {by_size(total)}"
                )
                yield Finding(WARNING, "sum", said, place.line, place.column)
        part = _OF_WHICH.search(text)
        if part is not None and (said := _rest(values(part["a"]), values(part["b"]), told(at))):
            place = one.place_in_figures(part.start())
            yield Finding(WARNING, "sum", said, place.line, place.column)
        halved = _HALVED.search(both)
        if (
            halved is not None
            and halved.start() < len(text)
            and any(n % 2 for n in values(halved["n"]))
        ):
            place = one.place_in_figures(halved.start())
            said = f"{by_size(values(halved['n']))} sts can't be divided into two halves"
            yield Finding(WARNING, "halves", said, place.line, place.column)


def _counted(text: str) -> Iterator[tuple[int, ...]]:
    return (values(match["n"] or match["m"]) for match in _COUNTED.finditer(text))


def _rest(whole: tuple[int, ...], part: tuple[int, ...], before: Sequence[tuple[int, ...]]) -> str:
    """Say what is left beside a part, where nearly so many were spoken of before, and not quite."""
    whole, part = alike(whole, part)
    rest = tuple(a - b for a, b in zip(whole, part, strict=True))
    if not rest or rest in before or part in before or min(rest) < LEAST:
        return ""
    near = [count for count in before if is_near(count, rest, NEAR)]
    if not near:
        return ""
    return f"{by_size(part)} of {by_size(whole)} sts leave {by_size(rest)}; there were {by_size(near[-1])}"


def _wrong(a: tuple[int, ...], b: tuple[int, ...], before: Sequence[tuple[int, ...]]) -> str:
    a, b = alike(a, b)
    made = tuple(x + y for x, y in zip(a, b, strict=True))
    if not made or made in before:
        return ""
    for count in reversed(before):
        if is_near(count, made, NEAR):
            return f"{by_size(a)} and {by_size(b)} sts are {by_size(made)}; there were {by_size(count)}"
    return ""
