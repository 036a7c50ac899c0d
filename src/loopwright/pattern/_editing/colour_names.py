# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Colours by their names: one that is not among the yarns, one changed to twice, one that is not in work."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.needle_names import FIRST_LOOPS
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["colour_names"]

_NAME = r"(?:MC|CC ?\d|CC|C\d|[A-F])"
_LISTED = WordForm(rf"(?<![\w'&]){_NAME}(?![\w'&])", re.NOFLAG)
_USED = WordForm(
    rf"\b(?i:with|in|join|joining|cut|break|breaking|change to|changing to|colou?r|yarn|shade|drop|carry|using|use|hold|(?:rounds?|rnds?|rows?)(?: \d+[-–]\d+)?|stripes?)(?: (?:yarn|colou?r|shade|in|of|with|a|an|the|full))* (?P<a>{_NAME})(?![\w'&]|\.?[A-Z])|"
    rf"\b[kKpP] ?\d+ (?P<b>{_NAME})(?![\w'&])|(?<![\d.\w])\d+ (?P<c>MC|CC|[B-F])(?![\w'&])|[(](?P<d>{_NAME})(?: only)?[)]",
    re.NOFLAG,
)
_CHART = WordForm(r"^\W*(?:rows?|rounds?|rnds?|r)\W*\d+(?:\W+\d+)?:")
_IN_CHART = WordForm(rf"(?<![\d.\w])\d+ (?P<a>{_NAME}), \d+ (?P<b>{_NAME})(?![\w'&])", re.NOFLAG)
_STEP = WordForm(
    r"\b(?i:step|part|section|chart|size|row|version|option|marker|needle|view) $", re.NOFLAG
)
_CHANGE = WordForm(
    rf"(?P<how>[Cc]hange(?: back)? to|[Cc]hanging to|[Jj]oin(?:ing)?|[Ss]witch(?: back)? to|[Cc]ut|[Bb]reak|[Ww]ith|[Cc]ontinue (?:with|in)|[Ii]n)(?: (?:yarn|colou?r))? (?P<name>{_NAME})(?![\w'&])(?! and (?:MC|CC|[A-F])\b)",
    re.NOFLAG,
)
_STITCHES = WordForm(
    rf"(?<!\w)[kKpP] ?\d+ (?P<a>{_NAME}), [kKpP] ?\d+ (?P<b>{_NAME})(?![\w'&])", re.NOFLAG
)


def colour_names(text: str) -> Iterator[Finding]:
    r"""Find colours that the yarns don't have, and changes to the colour that is in work.

    Examples
    --------
    >>> text = "Yarn: 50 g in A, 20 g in B.\nWith A, cast on 60 sts.\nChange to C."
    >>> [one.message for one in colour_names(text)]
    ['there is no colour C; the yarns are A and B']
    """
    lines = plain_lines(text)
    said = [line.text for line in lines]
    start = next((n for n, line in enumerate(said) if FIRST_LOOPS.match(line)), 0)
    listed: dict[str, int] = {}
    found: list[_Found] = []
    for number, line in enumerate(said[:start]):
        if _CHART.match(line) or not _YARN.search(line):
            continue
        here = set[str]()
        for match in _LISTED.finditer(line):
            name = _plain(match[0])
            if _STEP.search(line[: match.start()]):
                continue
            amount = re.search(
                r"(?:\d ?(?:[a-z]+ )?(?:of |in |colou?r )*|[(])$", line[: match.start()]
            )
            if amount and name in here and _TWO_OF.search(line):
                found.append(
                    (
                        number,
                        match.start(),
                        f"{name} is listed twice: is one of them another colour?",
                    )
                )
            if amount:
                here.add(name)
            listed.setdefault(name, number)
    if not listed:
        return
    if len(listed) > 1 or found:
        found += _unknown(said, {*listed.values()}, {*listed})
    found += [*_twice(said, start), *_runs(said)]
    for number, offset, message in found:
        at = lines[number].at
        yield Finding(
            WARNING, "colour", message, number + 1, at[min(offset, max(0, len(at) - 1))] + 1
        )


_TWO_OF = WordForm(
    r"\d+ ?(?:[(\[][^)\]]*[)\]] ?)?(?:g|yards|yds?|m|metres|balls?)\b.*\d+ ?(?:[(\[][^)\]]*[)\]] ?)?(?:g|yards|yds?|m|metres|balls?)\b|\bmain\b.*\bcontrast",
)
_YARN = WordForm(
    r"\b(?:MC|CC|yarn|wool|colou?rs?|shades?|balls?|skeins?|g|grams|yards|yds|metres|m)\b",
)
_Found = tuple[int, int, str]


def _plain(name: str) -> str:
    return name.replace(" ", "")


def _unknown(lines: Sequence[str], of_yarn: set[int], listed: set[str]) -> Iterator[_Found]:
    """Find a colour that is none of the yarns."""
    for number, line in enumerate(lines):
        if number in of_yarn or number < min(of_yarn):
            continue
        for match in _USED.finditer(line):
            group = next(g for g in "abcd" if match[g])
            name = _plain(match[group])
            if name in listed or (name == "CC" and any(one.startswith("CC") for one in listed)):
                continue
            shown = " and ".join(sorted(listed)) if len(listed) < 3 else ", ".join(sorted(listed))
            yield number, match.start(group), f"there is no colour {name}; the yarns are {shown}"
            break


_OTHER = WordForm(
    rf"\b(?:[Cc]hange to|[Jj]oin|[Ss]witch to|[Cc]ut|[Bb]reak)\b(?! {_NAME}\b)", re.NOFLAG
)


def _twice(lines: Sequence[str], start: int) -> Iterator[_Found]:
    """Find a change to a colour that is in work, and the end of one that is not."""
    here = ""
    for number, line in enumerate(lines[start:], start):
        if re.search(r"\b[kKpP] ?\d+ (?:MC|CC|[A-F])\b|[Rr]ep|stripe|pattern", line):
            here = ""
            continue
        if _OTHER.search(line):
            here = ""
        for match in _CHANGE.finditer(line):
            how, name = match["how"].lower(), _plain(match["name"])
            if how[0] in "cs" and "to" in how and name == here:
                yield (
                    number,
                    match.start("name"),
                    f"{name} is in work already: is another colour meant?",
                )
            if how.startswith("join") and name == here:
                yield (
                    number,
                    match.start("name"),
                    f"{name} is in work already: is another colour meant?",
                )
            here = "" if how in ("cut", "break") else name


def _runs(lines: Sequence[str]) -> Iterator[_Found]:
    """Find two runs of one colour side by side: they are one."""
    for number, line in enumerate(lines):
        form = _IN_CHART if _CHART.match(line) and _IN_CHART.search(line) else _STITCHES
        at = 0
        while match := form.search(line, at):
            kinds = {one[0].lower() for one in re.findall(r"[kKpP] ?\d", match[0])}
            if match["a"] == match["b"] and len(kinds) < 2:
                yield (
                    number,
                    match.start("b"),
                    f"'{match[0]}' is one run of {match['a']}: is another colour meant?",
                )
                break
            at = match.start() + match[0].index(",") + 2
