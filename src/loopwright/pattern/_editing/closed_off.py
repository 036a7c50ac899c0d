# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How a piece is closed: both halves of a graft, and all that is bound off, against the counts before."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import is_near
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["closed_off"]

_Values = tuple[int, ...]
_PART = r"(?:[a-z]+ ){0,4}?"
_HALVES = WordForm(
    rf"\bgraft\b[^.;\d]{{0,40}}?(?P<a>{COUNT}) {_PART}(?:{STS} )?{_PART}(?:to|with|and|on to) (?:the )?{_PART}(?P<b>{COUNT})(?![\w(])|"
    rf"\bfirst (?P<a2>{COUNT}) {STS}[^.;\d]{{0,40}}\b(?:last|other|rem\w*) (?P<b2>{COUNT})(?![\w(])",
)
_TWICE = WordForm(
    rf"\b(?P<a>{COUNT}) (?:{STS} )?(?:on|on to|onto|to) each (?:of (?:the )?)?(?:2 |two )?(?:needles?|side|half)\b|\b(?:2|two) (?:sets|halves|groups|lots) of (?P<b>{COUNT})(?![\w(])|\b(?P<c>{COUNT}) {STS} each\b|\beach (?:half |needle |side )?(?:has|holds) (?P<d>{COUNT})(?![\w(])",
)
_GRAFTS = WordForm(r"\bgraft|\bkitchener|\b(?:three|3)-needle")
_ALL = WordForm(
    rf"\b(?:bind|cast) off (?:loosely )?(?:all |all of )?(?:the )?(?:rem\w*\.? )?(?P<n>{COUNT}) {STS}(?!,? (?:k|p|knit|purl|work|patt)\b| (?:at|from) (?:the |each |neck |both )*(?:beg|start|end|side|edge|armhole))|\bdraw\w*[^.;\d]{{0,40}}\b(?:through|up) (?:all )?(?:the |these )?(?:last |rem\w*\.? )?(?P<m>{COUNT}) {STS}",
)
_STATED = WordForm(
    rf"(?P<n>{COUNT}) (?:[a-z]+ )?{STS}|\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,12}}(?P<m>{COUNT})|[=(:–—-] ?(?P<o>{COUNT})(?= ?[).]|$)|\b(?:until|down to|only) (?P<p>{COUNT})(?![\w.])",
)
_HALVED = WordForm(  # "K2tog all round"
    r"\b(?:k2tog|ssk|(?:knit|k) ?(?:2|two) tog(?:ether)?)\b[^.;\d]*\b(?:round|around|end|across|all|over|every)\b"
)
NEAR = 4  # stitches by which a closing may miss, and be meant for it all the same


def closed_off(sentences: Sentences) -> Iterator[Finding]:
    """Find grafts of unlike halves, and closings of another number of stitches than there are."""
    texts, forms = [one.figures for one in sentences], (_HALVES, _TWICE, _ALL)
    places = sentences.places_about(*forms)
    closings = [at for at in places if any(form.search(texts[at]) for form in forms)]
    if not closings:
        return
    stated = [[*_stated(text)] for text in texts]
    everywhere = {values for here in stated for values in here}
    for at in closings:
        one, text = sentences[at], texts[at]
        behind = f"{text} {texts[at + 1]}" if at + 1 < len(texts) else text
        before = [values for here in stated[max(0, at - 12) : at] for values in here]
        message = ""
        halves = _HALVES.search(text) if _GRAFTS.search(behind) else None
        if halves is not None:
            message = _unlike(halves, everywhere, before)
            offset = halves.start()
        elif (twice := _TWICE.search(text)) is not None and _GRAFTS.search(behind):
            number = next(g for g in "abcd" if twice[g])
            made = tuple(2 * n for n in whole_numbers(twice[number]))
            message = _other(
                made,
                everywhere,
                before,
                f"two times {by_size(whole_numbers(twice[number]))} are {by_size(made)}",
            )
            offset = twice.start()
        elif (whole := _ALL.search(text, one.start)) is not None and "*" not in text[
            : whole.start()
        ]:
            values = whole_numbers(whole["n"] or whole["m"])
            often = sum(here.count(values) for here in stated)
            lead = " ".join(texts[max(0, at - 1) : at]) + text[: whole.start()]
            halved = _HALVED.search(lead) and tuple(2 * n for n in values) in everywhere
            if often < 2 and not halved:
                message = _other(
                    values,
                    everywhere - {values},
                    [*everywhere, *before] if len(values) > 1 else before,
                    f"{by_size(values)} sts are closed here",
                )
            offset = whole.start()
        if message:
            place = one.place_in_figures(offset)
            yield Finding(WARNING, "sum", message, place.line, place.column)


def _stated(text: str) -> Iterator[_Values]:
    for match in _STATED.finditer(text):
        yield whole_numbers(next(match[g] for g in "nmop" if match[g]))


def _unlike(halves: re.Match[str], everywhere: set[_Values], before: Sequence[_Values]) -> str:
    """Say that the two halves of a graft are not alike, or not what there is."""
    a, b = whole_numbers(halves["a"] or halves["a2"]), whole_numbers(halves["b"] or halves["b2"])
    if len(a) != len(b):
        return ""
    if a != b and is_near(a, b, NEAR):
        return f"{by_size(a)} sts on one side of the graft and {by_size(b)} on the other: should the two be alike?"
    made = tuple(x + y for x, y in zip(a, b, strict=True))
    return _other(made, everywhere, before, f"{by_size(a)} and {by_size(b)} are {by_size(made)}")


def _other(made: _Values, everywhere: set[_Values], before: Sequence[_Values], said: str) -> str:
    """Say that so many stitches are nowhere in a text, and nearly so many were there before."""
    if made in everywhere:
        return ""
    near = [
        one
        for one in before
        if one != made
        and is_near(one, made, NEAR)
        and (len(made) != 2 or sum(x != y for x, y in zip(one, made, strict=True)) == 1)
    ]
    return f"{said}; there were {by_size(near[-1])}" if near else ""
