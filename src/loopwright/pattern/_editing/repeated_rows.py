# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Which rows are repeated, against those that stand before: the wrong pair, or a row that is none of them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.figures import rows_by_number
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["repeated_rows"]

_ROWS = r"(?:rounds?|rnds?|rows?|steps?|short rows?|r)"
_REPEATS = WordForm(r"(?:then |now |and )?(?:rep(?:eat)?|work|do|alternate) ")
_PAIR = WordForm(
    rf"^(?:then |now |and )?(?:rep(?:eat)?|work|do|alternate) (?:the )?{_ROWS} ?(?P<a>\d+) ?(?:-|–|and|&|to|\+) ?(?:{_ROWS} ?)?(?P<b>\d+)\b(?! ?(?:-|–|and|&|to|,) ?\d| of\b| from\b)",
)
_ENDING = WordForm(
    rf"\b(?:end|finish|stop)(?:ing|s)? (?:with|on|after) (?:a )?{_ROWS} ?(?P<a>\d+)(?: or (?:{_ROWS} ?)?(?P<b>\d+))?\b",
)
_NEXT = WordForm(r"\bthen\b|\bonce\b|\bonly\b|\bas (?:for|on|before)\b")


def repeated_rows(sentences: Sentences) -> Iterator[Finding]:
    """Find repeats of a pair of rows that leave out the row just before, and ends that are none of them."""
    asked = set(sentences.places_about(_REPEATS))
    if not asked:
        return
    section: int | None = None
    last, step, rows = 0, 0, dict[int, Spoken]()
    for at, one in enumerate(sentences):
        if one.section != section:
            section, rows = one.section, {}
        label = one.label
        if label is not None and label.numbers:
            if label.numbers[0] == 1:
                rows = {}
            last = 0 if label.which else label.numbers[-1]
            rows.update(dict.fromkeys(label.numbers, one))
        if (number := _STEP.fullmatch(one.text)) is not None:
            step = int(number["n"])
        bare = one.text[one.start :].lstrip()
        match = _PAIR.match(rows_by_number(bare)) if at in asked else None
        if match is None:
            continue
        offset = one.start + len(one.text[one.start :]) - len(one.text[one.start :].lstrip())
        a, b = int(match["a"]), int(match["b"])
        own = label is not None and bool(label.numbers)
        before = 0 if own else last
        if "step" in match[0].lower():
            said = _steps(one, a, b, step)
        else:
            said = (
                _wrong(one, a, b, before, rows)
                or _other_end(one, a, b)
                or _plain(one, a, b, rows)
                or _apart(match, rows)
            )
        if said:
            place = one.place(offset)
            yield Finding(WARNING, "numbers", said, place.line, place.column)


def _wrong(one: Spoken, a: int, b: int, last: int, rows: dict[int, Spoken]) -> str:
    """Say that the last row is not among those repeated, though it follows them."""
    if not (a < b < last and {a, b, last} <= rows.keys()) or _NEXT.search(one.text):
        return ""
    if last - b > 2 or len(rows) < last:
        return ""
    meant = f"rows {last - (b - a)} and {last}" if b - a == 1 else f"rows {a} to {last}"
    return f"row {last} comes before this and is not repeated: are {meant} meant?"


_UNTIL = WordForm(
    r"\buntil\b[^.;]*\b(?:sts?|stitches)\b|\btimes\b[^;]*\b\d+ (?:[(\[][^)\]]*[)\]] )?(?:sts|stitches)\b",
)
_SHAPES = WordForm(
    r"(?:[kp] ?\d ?tog|\d tog)|\b(?:inc(?!h)|dec|ssk|ssp|skp|yo\b|yfwd|m1|make|kfb|pfb|tog|cast|bind|bo\b|co ?\d|pick|shap|narrow|as|like|rep|turn|w&t|wrap|sl|ds|psso|cdd|s[k2])",
)


_STEP = WordForm(r"\W*(?:step )?(?P<n>\d{1,2})[.)]?\s*")


def _steps(one: Spoken, a: int, b: int, step: int) -> str:
    """Say that the numbered step just before is not among those repeated."""
    if not a < b < step - 1 or step - 1 - b > 2 or _NEXT.search(one.text):
        return ""
    return f"step {step - 1} comes before this and is not repeated: are steps {step - 1 - (b - a)} and {step - 1} meant?"


def _plain(one: Spoken, a: int, b: int, rows: dict[int, Spoken]) -> str:
    """Say that no row of those repeated changes the count that they are repeated for."""
    numbers = range(a, b + 1)
    if not numbers or not rows.keys() >= {*numbers} or not _UNTIL.search(one.text):
        return ""
    if any(_SHAPES.search(rows[n].text[rows[n].start :]) for n in numbers):
        return ""
    shaped = [n for n in rows if n < a and _SHAPES.search(rows[n].text[rows[n].start :])]
    if not shaped:
        return ""
    return f"rows {a} to {b} shape nothing: is row {max(shaped)} to be repeated with them?"


def _apart(match: re.Match[str], rows: dict[int, Spoken]) -> str:
    """Say that two rows do not stand one after the other, though they are repeated by turns."""
    a, b = int(match["a"]), int(match["b"])
    if not re.search(r"\d ?(?:and|&) ?", match[0]) or b - a < 2 or not {a, b} <= rows.keys():
        return ""
    return f"rows {a} and {b} do not follow each other: are rows {b - 1} and {b} meant?"


def _other_end(one: Spoken, a: int, b: int) -> str:
    """Say that rows end with one that is not among those repeated."""
    end = _ENDING.search(rows_by_number(one.text))
    if end is None:
        return ""
    for name in ("a", "b"):
        if end[name] and not a <= int(end[name]) <= b:
            return f"rows {a} to {b} are repeated, and row {end[name]} is none of them"
    return ""
