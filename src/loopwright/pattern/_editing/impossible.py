# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What can't be meant as it stands: no stitches at all, one stitch together, ranges that run back."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken, plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["impossible"]

_NOTHING = WordForm(  # not of one size: "k0 (1, 2)"
    r"(?<![\w.,])(?:k|p|sl|m|knit|purl|slip|make|rep(?:eat)?(?: the)? last|work)\.? ?0(?![\d.]| ?[(\[:/-] ?\d)(?: (?:sts?|stitch(?:es)?|rounds?|rnds?|rows?|times))?",
)
_TOGETHER = WordForm(
    r"(?<![a-z0-9])(?:k|p|knit|purl)\.? ?[01] ?tog(?:ether)?\b",
)
_M0 = WordForm(r"(?<![a-z0-9])(?:m(?:0|\d{2,})[lr]?(?![a-z0-9])|[kp](?:[6-9]|\d{2,}) ?tog\b)")
_ONE_OF_MANY = WordForm(
    r"(?<![\d.,:/(\[–—+×-])(?<!\d )(?<!or )(?<!of )(?<!only )\b1 (?P<what>stitches|rounds|rnds|rows|times|inches)\b(?! ?\()",
)
_MANY_OF_ONE = WordForm(
    r"(?<![\d.,:/(\[–—#-])(?<!\bus )(?<!\buk )(?<!\bno )(?<!\bno\. )(?<!\bsize )(?<!\bnumber )(?:[2-9]|[1-9]\d{1,2}) (?:more )?(?P<what>stitch|round|row|needle|marker)(?=[.;,)]|$)",
)
_RUNS_BACK = WordForm(
    r"(?<![\d./-])(?P<a>\d{1,3}(?:\.\d+)?) ?(?:-|–|to) ?(?P<b>\d{1,3}(?:\.\d+)?)(?= ?(?:cm|mm|inch(?:es)?|ins?\b|months|years|g\b|m\b|yards|metres|meters))",
)
_BACKWARDS = WordForm(
    r"\b(?:rep(?:eat)?|work|do) (?:the )?(?:steps|rows|rounds|rnds) (?P<a>\d+) (?:and|to|-|–|&) (?P<b>\d+)\b(?! (?:of|in) )",
)
_SLIPS = WordForm(r"\W*(?:sl|slip)\.? ?(?P<n>\d{1,2})\b")
_TURNS = WordForm(r"\b(?:turn|tog|ssk|skpo?|to end|across)\b|k2tog|p2tog")
_AT_A_MARKER = WordForm(
    r"\b(?:k|knit|p|purl|work) (?:until|to) (?:the |next )*(?:m|marker)(?: [a-d])?, ?(?P<dec>k2tog|ssk|skpo?|p2tog), ?(?:sm|slm|(?:sl|slip) (?:the )?(?:m|marker))\b"
)
ENOUGH = 3  # rows that slip their first stitch, before another that slips more is asked about


def impossible(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find what can't be worked, or be meant, whatever stands around it."""
    lone = (_NOTHING, _TOGETHER, _M0, _ONE_OF_MANY, _MANY_OF_ONE)
    for number, line in plain_lines(text).about(*lone, _AT_A_MARKER, _RUNS_BACK, _BACKWARDS):
        for said, at in _in_line(line.text):
            yield Finding(WARNING, "slip of the pen", said, number, line.at[at] + 1)
    yield from _first_slips(sentences)


def _in_line(line: str) -> Iterator[tuple[str, int]]:
    for form in (_NOTHING, _TOGETHER):
        for match in form.finditer(line):
            yield f"{match[0].strip()}: nothing is worked so", match.start()
    for match in _M0.finditer(line):
        yield f"{match[0]}: is that meant?", match.start()
    for match in _ONE_OF_MANY.finditer(line):
        yield f"{match[0]}: one, or more?", match.start()
    for match in _MANY_OF_ONE.finditer(line):
        yield f"{match[0]}: one, or more?", match.start()
    for match in _AT_A_MARKER.finditer(line):
        yield (
            f"{match['dec']} in front of the marker: the 2 sts before it are worked by then",
            match.start("dec"),
        )
    for match in _RUNS_BACK.finditer(line):
        if float(match["a"]) > float(match["b"]) and "away" not in line:
            yield f"{match[0]} runs back: are the two swapped?", match.start()
    for match in _BACKWARDS.finditer(line):
        if int(match["a"]) == int(match["b"]) + 1:
            yield f"{match['a']} comes behind {match['b']}: are the two swapped?", match.start()


def _first_slips(sentences: Sentences) -> Iterator[Finding]:
    """Find the one row that slips more than one stitch first, or none."""
    rows: dict[int, list[tuple[Spoken, re.Match[str]]]] = {}
    for one in sentences.about(_SLIPS):
        match = _SLIPS.match(one.text, one.start) if one.label is not None else None
        if match is not None and "*" not in one.text and _TURNS.search(one.text):
            rows.setdefault(one.section, []).append((one, match))
    for found in rows.values():
        odd = [(one, match) for one, match in found if match["n"] != "1"]
        if len(odd) == 1 and len(found) - 1 >= ENOUGH:
            ((one, match),) = odd
            place = one.place(match.start("n"))
            said = f"{match['n']} sts are slipped at the beginning of this row, and 1 in the others"
            yield Finding(WARNING, "slip of the pen", said, place.line, place.column)
