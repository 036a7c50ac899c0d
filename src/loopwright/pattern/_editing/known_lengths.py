# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Lengths that are spoken of as known: "fold the 5 in of ribbing in half", where 3 in were worked."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.pattern._editing.figures import sizes_in_brackets
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, plain_lines
from loopwright.pattern._reading.stated import numbers_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["known_lengths"]

_Values = tuple[float, ...]
_UNIT = r"(?:cm|mm|inch(?:es)?|ins?\b|\")"
_WHAT = r"(?P<what>rib(?:bing)?|brim|cuff|hem|border|edging|turn-?up|flap|tube|facing)"
_KNOWN = WordForm(
    rf"\b(?:the|this|that|fold|turn|all|whole)\b(?: the| in| under| up| back)?(?: first| whole| full)? (?P<n>{COUNT}) ?-?(?P<unit>{_UNIT}) ?(?:of |deep |long |wide )?(?:the )?(?:[a-z]+ )?{_WHAT}\b",
)
_WORKED = WordForm(
    rf"\b(?:measures?|for|is|are) (?:about |another )?(?P<n>{COUNT}) ?(?P<unit>{_UNIT})",
)
_LENGTH = WordForm(rf"(?P<n>{COUNT}) ?-?(?P<unit>{_UNIT})")
_NAMED = WordForm(rf"\b{_WHAT}\b")
_SAME = {"ribbing": "rib", "turnup": "brim", "turn-up": "brim"}
NEAR = (0.45, 2.2)  # other lengths are not of the same piece


def known_lengths(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find a length of a piece that is spoken of as known, and is worked to another."""
    if next(plain_lines(text).about(_KNOWN), None) is None:
        return
    by_sign = sizes_in_brackets(text)
    lines = [line if by_sign is None else line.sub(*by_sign) for line in plain_lines(text)]
    worked: dict[str, _Values] = {}
    for one in sentences.about(_WORKED):
        match = _WORKED.search(one.text)
        if match is not None:
            for what in _NAMED.finditer(f"{one.title} {one.text}"):
                worked.setdefault(_name(what["what"]), numbers_in(match["n"]))
    everywhere = [
        (number, match.start("n"), numbers_in(match["n"]), match["unit"][0].lower())
        for number, line in enumerate(lines, start=1)
        for match in _LENGTH.finditer(line.text)
    ]
    for number, line in enumerate(lines, start=1):
        for match in _KNOWN.finditer(line.text):
            said, there = numbers_in(match["n"]), worked.get(_name(match["what"]), ())
            here = (number, match.start("n"))
            elsewhere = [
                values
                for at, start, values, unit in everywhere
                if (at, start) != here and unit == match["unit"][0].lower()
            ]
            if not there or len(there) != len(said) or said in elsewhere:
                continue
            if all(NEAR[0] < a / b < NEAR[1] for a, b in zip(said, there, strict=True) if b):
                yield Finding(
                    WARNING, "measure",
                    f"{_shown(said)} {match['unit']} of {match['what'].lower()} are spoken of; it is worked to {_shown(there)}",
                    number, line.at[match.start("n")] + 1,
                )  # fmt: skip


def _name(what: str) -> str:
    return _SAME.get(what.lower(), what.lower())


def _shown(values: _Values) -> str:
    more = f" ({', '.join(f'{n:g}' for n in values[1:])})" if len(values) > 1 else ""
    return f"{values[0]:g}{more}"
