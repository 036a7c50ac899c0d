# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Numbered steps of a class sheet: what repeating them makes of the count, and a number left out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

import attrs

from loopwright.pattern._editing.figures import alike, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["numbered_steps"]

_Values = tuple[int, ...]
_NUMBER = WordForm(r"\s*(?:step )?(?P<n>\d{1,2})[.)](?=\s|$)")
_AGAIN = WordForm(
    rf"\b(?:repeat|rep|work|do) (?:the )?steps (?P<a>\d+) (?:and|to|-|–|&) (?P<b>\d+),? (?:(?P<more>another |a further )?(?P<n>{COUNT}) (?:times )?(?P<more2>more|further)?(?: times?)?|(?P<once>once)(?P<more3> more)?|(?P<twice>twice)(?P<more4> more)?)(?P<rest>[^.]*)",
)
_ONE = WordForm(
    rf"\bthen (?:work |repeat |do )?step (?P<a>\d+)(?: on its own| alone| only)? (?P<n>once|twice|{COUNT} (?:more )?times)(?: more| again)?\W*$",
)
_STATED = WordForm(
    rf"\b(?:check|have|are|is|leaves?|count|total|remain|left|now)\b:? (?:now |left with )?(?P<n>{COUNT}) {STS}(?! (?:less|fewer|more|between|before|after|beyond|on|at|in the|for the|each|either)\b)|(?:^|[.(] ?)(?P<m>{COUNT}) {STS}(?: (?:remain|left|now|in all))?[.)]*$|[,;:] (?P<k>{COUNT}) (?:{STS} )?(?:altogether|in all|in total)\b",
)
_LESS = WordForm(
    r"(?<![a-z])(?:k2tog|ssk|skpo?|p2tog|ssp)(?![a-z])|\b(?:knit|purl) (?:2|two) together"
)
_MORE = WordForm(r"(?<![a-z])(?:m1[lr]?|yo|kfb|pfb)(?![a-z])|\bmake (?:1|one)\b")
_OPEN = WordForm(
    r"[*\[(]|\b(?:rep\w*|each|every|both|times|twice|pick|cast|bind|bo\b|co ?\d|hold|turn|around|half|needles)\b",
)
_PLAIN = WordForm(
    r"\b(?:knit|purl|work) (?:1|2|3|one|two|three|a) (?:plain )?(?:rounds?|rows?|rnds?)\b|\bknit all\b",
)
_TIMES = {"once": 1, "twice": 2}
MOST = 60  # steps; no sheet has more


@attrs.define
class _Step:
    """A numbered step: its sentences, the count it states, and by how many it changes the count."""

    number: int
    first: Spoken
    text: str = ""
    stated: _Values | None = None
    before: _Values | None = None


def numbered_steps(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find counts that repeated steps do not give, and a number of a step that is left out."""
    steps = _steps(sentences)
    if len(steps) < 4:
        return
    yield from _in_order(steps)
    known: dict[int, _Step] = {}
    count: _Values | None = None
    for step in steps:
        step.before = count
        again = _AGAIN.search(step.text)
        if again is not None:
            made = _repeated(again, known, count)
            if made is not None and step.stated is not None:
                made, stated = alike(made, step.stated)
                if made != stated and made:
                    said = f"repeated so often, these steps make {by_size(made)} sts, not {by_size(stated)}"
                    place = step.first.place()
                    yield Finding(WARNING, "chain", said, place.line, place.column)
            count = step.stated
        elif step.stated is not None:
            count = step.stated
        else:
            change = _change(step)
            count = None if change is None or count is None else tuple(n + change for n in count)
        known[step.number] = step


def _steps(sentences: Sequence[Spoken]) -> list[_Step]:
    """Return the numbered steps of a text; nothing where its numbers begin more than once."""
    found = list[_Step]()
    line = 0
    for one in sentences:
        begins = one.line != line
        line = one.line
        number = _NUMBER.match(one.text) if begins else None
        if number is not None:
            found.append(_Step(int(number["n"]), one))
        elif begins and found:
            found.append(_Step(0, one))  # something else between the steps
        if found and found[-1].number:
            figures = one.figures
            said = figures[number.end() :] if number is not None else figures
            found[-1].text = f"{found[-1].text} {said}".strip()
            for match in _STATED.finditer(said):
                found[-1].stated = values(match["n"] or match["m"] or match["k"])
    found = [one for one in found if one.number]
    numbers = [one.number for one in found]
    return found if len(numbers) <= MOST and numbers == sorted(set(numbers)) else []


def _in_order(steps: Sequence[_Step]) -> Iterator[Finding]:
    """Find a number that is left out, where all others follow one another."""
    if steps[0].number == 2:
        place = steps[0].first.place()
        said = "the steps begin with number 2: was the first left out?"
        yield Finding(WARNING, "numbers", said, place.line, place.column)
    gaps = [
        (a, b) for a, b in pairwise(steps) if b.number != a.number + 1
    ]  # fmt: skip
    if len(gaps) == 1 and gaps[0][1].number == gaps[0][0].number + 2:
        place = gaps[0][1].first.place()
        said = f"step {gaps[0][1].number} follows step {gaps[0][0].number}: was a step left out?"
        yield Finding(WARNING, "numbers", said, place.line, place.column)


def _change(step: _Step) -> int | None:
    """Return by how many a step changes the count; None where that is open."""
    if step.stated is not None and step.before is not None:
        a, b = alike(step.before, step.stated)
        differ = {y - x for x, y in zip(a, b, strict=True)}
        return differ.pop() if len(differ) == 1 else None
    if _PLAIN.search(step.text) and not _LESS.search(step.text) and not _MORE.search(step.text):
        return 0
    if _OPEN.search(step.text):
        return None
    change = len(_MORE.findall(step.text)) - len(_LESS.findall(step.text))
    return change or None


def _often(again: re.Match[str]) -> _Values:
    return values(again["n"]) if again["n"] else (1 if again["once"] else 2,)


def _repeated(
    again: re.Match[str], known: dict[int, _Step], count: _Values | None
) -> _Values | None:
    """Return what is there after steps were repeated; None where it is not known."""
    first, last = int(again["a"]), int(again["b"])
    steps = [known.get(n) for n in range(first, last + 1)]
    more = any(again[name] for name in ("more", "more2", "more3", "more4"))
    if count is None or not steps or not more or None in steps or last != max(known):
        return None
    changes = [_change(one) for one in steps if one is not None]
    if None in changes:
        return None
    each = sum(change or 0 for change in changes)
    times = _often(again)
    start, often = alike(count, times)
    if not each or not start:
        return None
    made = tuple(n + each * t for n, t in zip(start, often, strict=True))
    rest = again["rest"].strip(" ,")
    if not rest:
        return made
    one = _ONE.search(again["rest"])
    by = _change(known[int(one["a"])]) if one is not None and int(one["a"]) in known else None
    if one is None or by is None:
        return None
    word = one["n"].lower().split()[0]
    so_often = _TIMES.get(word) or values(word)[0]
    return tuple(n + by * so_often for n in made)
