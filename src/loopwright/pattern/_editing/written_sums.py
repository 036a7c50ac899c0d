# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sums that are written out, "16 + 22 + 16 = 54" or "8 times 6 is 48", against what they make."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import alike
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._reading.stated import numbers_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["written_sums"]

_NOUN = r"(?: ?(?:(?!(?:plus|minus|less|times|is|are|makes?|equals?|gives?|on|to|in|and|then|each|of)\b)[a-z][a-z'’-]*\.?)){0,3}"
_SIGN = r"(?:\+|×|x|−|–|-|plus|minus|less|times)"
_BEGINS = r"(?<![\w.)\]/+×=-])(?<![+×x−–=-] )(?<!multiple of )(?<!repeat of )"
_TERMS = rf"{COUNT}{_NOUN}(?: ?(?:\+|×) ?{COUNT}{_NOUN}| {_SIGN} {COUNT}{_NOUN})+"
_IS = r"(?:=|,? (?:(?:that |which |and that |this )?(?:is|are|makes?|equals?|gives?|comes to))) ?"
_SUM = WordForm(
    rf"{_BEGINS}(?P<terms>{_TERMS}) ?{_IS}(?P<sum>{COUNT})(?![.\d]*\d)(?! ?(?:[+×/x−–-] ?\d|times|plus|minus))"
)
_TURNED = WordForm(
    rf"{_BEGINS}(?P<sum>{COUNT})(?: (?:{STS}|rows|rounds|rnds))?(?: in all| in total| altogether)? ?= ?(?P<terms>{_TERMS})(?!\d| ?(?:[+×=]|cm\b|in\b|\"|g\b|m\b))"
)
_UNIT = WordForm(r"(?:cm|mm|in|inch|inches|g|m|yds?|yards)\b|\"")  # "30 sts = 10 cm x 10 cm"
_GAUGE = WordForm(
    r"\bst\w*\.? [x×+] \d+ ?(?:rows?|rounds?|rnds?|r)\b|\brows? [x×]"
)  # "22 sts x 30 rows = 10 cm"
_TERM = WordForm(rf"(?P<sign>\+|×|\bx\b|−|–|-|\bplus\b|\bminus\b|\bless\b|\btimes\b)? ?(?P<n>{COUNT})")  # fmt: skip
_TIMES = ("×", "x", "times")
_LESS = ("−", "–", "-", "minus", "less")


def written_sums(sentences: Sentences) -> Iterator[Finding]:
    """Find written sums that do not come out."""
    for one in sentences.about(_TURNED, _SUM):
        turned = (match for match in _TURNED.finditer(one.figures) if not _UNIT.search(match[0]))
        sums = (match for match in _SUM.finditer(one.figures) if not _GAUGE.search(match["terms"]))
        for match in (*sums, *turned):
            if said := _wrong(match["terms"], numbers_in(match["sum"])):
                place = one.place_in_figures(match.start())
                yield Finding(WARNING, "sum", said, place.line, place.column)


def _wrong(terms: str, told: tuple[float, ...]) -> str:
    """Say what some terms make, where it is not what is told."""
    found = [(match["sign"] or "+", numbers_in(match["n"])) for match in _TERM.finditer(terms)]
    numbers = alike(*(many for _, many in found), told)
    if len(found) < 2 or not numbers[0]:
        return ""
    made = []
    for column in zip(*numbers[:-1], strict=True):
        products: list[float] = []
        for (sign, _), n in zip(found, column, strict=True):
            if sign.lower() in _TIMES and products:
                products[-1] *= n
            else:
                products.append(-n if sign.lower() in _LESS else n)
        made.append(sum(products))
    if all(abs(a - b) < 0.051 for a, b in zip(made, numbers[-1], strict=True)):
        return ""
    return f"this sum is {_shown(made)}, not {_shown(told)}"


def _shown(numbers: Sequence[float]) -> str:
    return re.sub(r"\.0\b", "", by_size([round(n, 2) for n in numbers]))
