# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that are repeated to change the count, and change nothing: "rep rnd 2 until 20 sts remain"."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Sequence

from loopwright.pattern._editing.figures import values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["plain_again"]

_CRS = r"(?:rounds?|rnds?|rows?|steps?)"
_AGAIN = WordForm(
    rf"\b(?:rep(?:eat)?(?:ing)?|work(?:ing)?|do|knit|continue (?:with|working|repeating)|alternate)\b (?:only |just )?(?:the )?(?:[a-z]+ )?(?P<kind>{_CRS}) (?P<a>\d{{1,2}})"
    rf"(?: ?(?P<to>-|–|to|and|&|,) ?(?:the )?(?:{_CRS} )?(?P<b>\d{{1,2}}))?\b(?P<rest>[^;]*)",
)
_UNTIL = WordForm(
    rf"\b(?:until|till|to) (?:only |just |there are (?:only )?|you have (?:only )?)?(?P<n>{COUNT}) {STS}(?: (?:are |is )?(?:left|rem\w*\.?))?",
)
_SHAPED_AS = WordForm(  # "decrease 10 sts, as set in rnd 39"
    rf"\b(?:dec|inc)(?:reas)?(?:e|ing)?\b[^.;:]*?\b(?:as|like)(?: (?:set|established|told|given|before|you did))*(?: (?:in|on|for|by|at))? (?:the )?{_CRS} (?P<n>\d{{1,3}})\b(?! ?(?:-|–|to|and|&|,) ?\d)"
)
_PLAIN = WordForm(
    r"\W*(?:(?:k|knit|p|purl)\b\.?(?: (?:to (?:the )?end|all (?:the )?sts|across|around|every st\w*|plain|even|(?:one|1|a) (?:plain )?(?:round|rnd|row))\b[^,;]{0,20})?"
    r"|(?:work|rib|knit|patt)\w*(?: (?:even|straight|plain|in (?:pattern|patt|rib|st st|stocking st\w*)|as (?:set|est\w*)|(?:one|1|a) (?:plain )?(?:round|rnd|row)))*(?: (?:with no|without) (?:dec|inc)\w*)?)\W*$",
)
_STEP = WordForm(r"\s*(?:step )?(?P<n>\d{1,2})(?:[.)](?= |$)|(?: ?:))")
_STATED = WordForm(rf"(?P<n>{COUNT}) {STS}")


def plain_again(sentences: Sentences) -> Iterator[Finding]:
    """Find plain rows that are repeated until there are fewer stitches, or more."""
    asked = set(sentences.places_about(_AGAIN, _SHAPED_AS))
    if not asked:
        return
    rows: dict[int, bool] = {}
    elsewhere: dict[int, bool] = {}  # rows of all sections so far
    steps: dict[int, bool] = {}
    picking: set[int] = set()  # steps that pick stitches up
    section: int | None = None
    line, step = 0, 0
    for at, one in enumerate(sentences):
        text = one.figures
        if one.section != section:
            elsewhere.update((n, plain and elsewhere.get(n, True)) for n, plain in rows.items())
            section, rows = one.section, {}
        again = _AGAIN.search(text) if at in asked else None
        numbered = _STEP.match(text) if one.line != line else None
        own = int(numbered["n"]) if numbered is not None else step if one.line == line else 0
        if again is not None and (
            said := _said(again, rows, steps, sentences[:at])
            or _itself(again, own)
            or _picks(again, picking)
        ):
            place = one.place_in_figures(again.start())
            yield Finding(WARNING, "sum", said, place.line, place.column)
        if at in asked and (shaped := _SHAPED_AS.search(text)):
            number = int(shaped["n"])
            if rows.get(number, elsewhere.get(number, False)):
                place = one.place_in_figures(shaped.start("n"))
                said = f"row {number} is a plain one: which row shapes as is meant here?"
                yield Finding(WARNING, "sum", said, place.line, place.column)
        if one.label is not None and (one.label.numbers or one.label.which):
            plain = _plain(text, one.label.end)
            rows.update((number, plain) for number in one.label.numbers)
        elif rows and one.line == line:
            rows[next(reversed(rows))] &= _plain(text, 0)  # the row goes on
        if numbered is not None:
            step = own
            alone = numbered.end() >= len(text.rstrip())
            steps[step] = alone or _plain(text, max(numbered.end(), one.start))
        elif step and one.line == line:
            steps[step] &= _plain(text, one.start)
        else:
            step = 0
        if step and _PICKS_UP.search(text):
            picking.add(step)
        line = one.line


def _plain(text: str, start: int) -> bool:
    return _PLAIN.match(text, start) is not None


def _said(
    again: re.Match[str],
    rows: dict[int, bool],
    steps: dict[int, bool],
    before: Sequence[Spoken],
) -> str:
    until = _UNTIL.search(again["rest"])
    if until is None or re.search(r"\b(?:times|then|between|on (?:each|the))\b", again["rest"][: until.end() + 24]):  # fmt: skip
        return ""
    known = steps if again["kind"].lower().startswith("step") else rows
    first = int(again["a"])
    end = int(again["b"]) if again["b"] else first
    if again["to"] and again["to"].lower() in ("and", "&", ","):
        numbers = [first, end]
    else:
        numbers = list(range(first, end + 1))
    if not numbers or not all(known.get(number, False) for number in numbers):
        return ""
    wanted = values(until["n"])
    stated = (match for one in reversed(before) for match in [*_STATED.finditer(one.figures)][-1:])
    last = next(stated, None)
    if last is not None and values(last["n"]) == wanted:
        return ""
    kind = again["kind"].lower().rstrip("s")
    rest = [n for n in known if n not in numbers and not known[n]]
    which = f"{kind} {first}" if len(numbers) == 1 else f"{kind}s {first} and {end}"
    change = "changes" if len(numbers) == 1 else "change"
    meant = f": is {kind} {rest[-1]} meant too?" if rest else ""
    return f"{which} {change} no count, so that {by_size(wanted)} sts are never reached{meant}"


def _itself(again: re.Match[str], own: int) -> str:
    """Find a step that repeats itself."""
    named = {int(again["a"]), int(again["b"] or again["a"])}
    if not own or own not in named or not again["kind"].lower().startswith("step"):
        return ""
    return f"step {own} is this one, and can't be repeated in it: which steps are meant?"


_PICKS_UP = WordForm(r"\b(?:pick(?:ing)? up|pu \d)")


def _picks(again: re.Match[str], picking: Container[int]) -> str:
    """Find a step that picks stitches up, and is to be repeated until so many are there."""
    first = int(again["a"])
    if not again["kind"].lower().startswith("step") or first not in picking:
        return ""
    if _UNTIL.search(again["rest"]) is None:
        return ""
    return f"step {first} picks stitches up: is it one of those to repeat?"
