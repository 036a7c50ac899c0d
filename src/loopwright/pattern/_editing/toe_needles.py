# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Decreases told needle by needle: where each stands, so that the two sides of a foot mirror.

On three needles the first and the last are the two halves of the sole: one decreases at its end and
the other at its beginning. On four, every other one is alike (common practice).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["toe_needles"]

_PART = WordForm(
    r"(?<!\w)(?<!sts )(?<!stitches )(?<!sts on )(?<!sts of )(?<!stitches on )(?<!stitches of )(?<!of the )(?<!on the )(?<!end of )(?:(?:on )?(?:the )?(?:n|needles?) ?(?P<a>\d)(?: ?(?:and|&) (?:n|needle )?(?P<b>\d))?|(?P<c>\d)(?:st|nd|rd|th)(?: and (?P<d>\d)(?:st|nd|rd|th))? needles?|(?P<e>first|second|third|fourth) needle)(?: ?\([^)]*\))?[:,]",
)
_WORDS = {"first": 1, "second": 2, "third": 3, "fourth": 4}
_DEC = r"(?:k ?2 ?tog|ssk|skpo?|sl ?1,? ?k ?1,? ?psso|k2tog tbl)"
_START = re.compile(
    rf"\W*(?:(?:k|knit) ?\d,? ?)?{_DEC}[,.]? (?:k|knit|work)[^,;:]*\W*$", re.IGNORECASE
)
_END = re.compile(
    rf"\W*(?:k|knit|work)\.? (?:to|until) (?:the )?(?:last )?\d[^,;:]*[,;:] {_DEC}(?:,? ?(?:k|knit) ?\d)?\W*$",
    re.IGNORECASE,
)
_BOTH = WordForm(rf"{_DEC}.*\b(?:to|until)\b.*{_DEC}")
_PLAIN = re.compile(r"\W*(?:k|knit|work|patt|in|rib)\b[^,;:]*\W*$", re.IGNORECASE)
THREE, FOUR = 3, 4


_LEFT = r"ssk|skpo?|sl ?1,? ?k ?1,? ?psso|k2tog tbl"
_AT_START = re.compile(
    rf"\W*(?:(?:k|knit) ?\d,? ?)?(?:(?P<left>{_LEFT})|(?P<right>k ?2 ?tog))\b(?! tbl)",
    re.IGNORECASE,
)
_AT_END = re.compile(
    rf"\b(?:to|until) (?:the )?(?:last )?\d[^,;:]*[,;:] (?:(?P<left>{_LEFT})|(?P<right>k ?2 ?tog))\b(?! tbl)(?:,? ?(?:k|knit) ?\d)?\W*$",
    re.IGNORECASE,
)


def toe_needles(sentences: Sentences) -> Iterator[Finding]:
    """Find needles that decrease at the same end, where they are the two sides of a foot."""
    lines = {at: sentences.lines[at] for at in sentences.lines_about(_PART)}
    yield from _leaning(lines)
    for line in lines.values():
        text = " ".join(one.text for one in line)
        needles = _needles(text)
        if said := _unlike(needles):
            place = line[0].place(line[0].start)
            yield Finding(WARNING, "mirror", said, place.line, place.column)


def _leaning(lines: Mapping[int, list[Spoken]]) -> Iterator[Finding]:
    """Find the one needle of a round whose decrease at an end leans otherwise than at the same end of others."""
    rounds: list[list[list[Spoken]]] = []
    goes_on = False
    for at, line in lines.items():
        begins = _PART.match(line[0].text) is not None
        if not (
            begins and goes_on and at - 1 in lines and rounds[-1][-1][0].section == line[0].section
        ):
            rounds.append([])
        rounds[-1].append(line)
        goes_on = begins
    for told in rounds:
        for form, where in ((_AT_START, "beginning"), (_AT_END, "end")):
            found = [(line, number, lean) for line in told for number, lean in _leans(line, form)]
            leans = [lean for _, _, lean in found]
            odd = next((lean for lean in ("left", "right") if leans.count(lean) == 1), None)
            if odd is None or len(leans) < 2 or len(set(leans)) < 2:
                continue
            if len(leans) == 2:
                line, number, _ = _against(told, found, form) or found[-1]
            else:
                line, number, _ = next(one for one in found if one[2] == odd)
            said = f"the decrease at the {where} of needle {number} leans otherwise than that of the others: one leans left, one right"
            place = line[0].place(line[0].start)
            yield Finding(WARNING, "mirror", said, place.line, place.column)
            break


_Lean = tuple[list[Spoken], str, str]


def _against(
    told: Sequence[list[Spoken]], found: Sequence[_Lean], form: re.Pattern[str]
) -> _Lean | None:
    """Return which of two needles leans as the decreases at the other end do: those lean the other way."""
    other = _AT_END if form is _AT_START else _AT_START
    leans = {lean for line in told for _, lean in _leans(line, other)}
    if len(leans) != 1:
        by_needle = {number: lean for line in told for number, lean in _leans(line, other)}
        leans = {
            lean for number, lean in by_needle.items() if number not in {one[1] for one in found}
        }
    (there,) = leans if len(leans) == 1 else ("",)
    return next((one for one in found if one[2] == there), None)


def _leans(line: Sequence[Spoken], form: re.Pattern[str]) -> tuple[tuple[str, str], ...]:
    """Return each needle of a line that decreases at an end, and which way that leans."""
    return _leaning_in(" ".join(one.text for one in line), form)


@lru_cache(maxsize=8192)
def _leaning_in(text: str, form: re.Pattern[str]) -> tuple[tuple[str, str], ...]:
    found = list[tuple[str, str]]()
    parts = list(_PART.finditer(text))
    for part, after in zip(parts, [*parts[1:], None], strict=False):
        said = text[part.end() : after.start() if after is not None else len(text)]
        if text[: part.start()].rstrip().endswith(("st", "sts", "stitches")):
            continue  # "to the last 3 sts on needle 1, k2tog"
        said = re.split(r"\. (?=[A-Z])|[(\[]\d|\. \d|[—–]", said)[0].strip(" .;")
        match = form.match(said) if form is _AT_START else form.search(said)
        if match is not None and not (form is _AT_START and _is_farther(said)):
            number = part["a"] or part["c"] or str(_WORDS[(part["e"] or "first").lower()])
            found.append((number, "left" if match["left"] else "right"))
    return tuple(found)


_COUNTED = WordForm(rf"\W*(?:k|knit) ?(?P<a>\d+),? ?{_DEC},? (?:k|knit) ?(?P<b>\d+)\W*$")


def _is_farther(said: str) -> bool:
    """Tell whether no more stitches follow a decrease than come before it: "k5, k2tog, k1"."""
    match = _COUNTED.match(said)
    return match is not None and int(match["a"]) >= int(match["b"])


@lru_cache(maxsize=8192)
def _needles(text: str) -> dict[int, str]:
    """Return where each needle of a line decreases: at its start, its end, both, or nowhere; {} where one is not told."""
    found: dict[int, str] = {}
    parts = list(_PART.finditer(text))
    for part, after in zip(parts, [*parts[1:], None], strict=False):
        said = text[part.end() : after.start() if after is not None else len(text)]
        said = re.split(r"\. (?=[A-Z])|[(\[]\d|\. \d", said)[0]
        where = next((name for name, form in _FORMS if form.search(said)), "")
        if not where:
            return {}
        numbers = (
            part["a"] or part["c"] or str(_WORDS[(part["e"] or "first").lower()]),
            part["b"] or part["d"],
        )
        for number in filter(None, numbers):
            if int(number) in found:
                return {}
            found[int(number)] = where
    return found


_FORMS = (
    ("both", _BOTH),
    ("start", re.compile("^" + _START.pattern, re.IGNORECASE)),
    ("end", re.compile("^" + _END.pattern, re.IGNORECASE)),
    ("plain", re.compile("^" + _PLAIN.pattern, re.IGNORECASE)),
)


def _unlike(needles: dict[int, str]) -> str:
    """Say which needles should mirror each other and do not."""
    if sorted(needles) == [1, 2, 3] and needles[2] in ("both", "plain"):
        first, last = needles[1], needles[3]
        if first == last and first in ("start", "end"):
            other = "end" if first == "start" else "start"
            return (
                f"needles 1 and 3 are the two sides of the sole, and both decrease at their {first}: "
                f"should one do so at its {other}?"
            )
    if sorted(needles) == [1, 2, 3, 4] and set(needles.values()) <= {"start", "end"}:
        ends = [needles[n] for n in (1, 2, 3, 4)]
        if ends[0] == ends[2] and ends[1] == ends[3] and ends[0] != ends[1]:
            return ""
        odd = next((n for n in range(FOUR) if _mended(ends, n)), None)
        if odd is not None:
            return f"needle {odd + 1} decreases at its {ends[odd]}: the others mirror each other if it does so at the other end"
    return ""


def _mended(ends: Sequence[str], at: int) -> bool:
    """Tell whether four needles mirror each other with one of them turned round."""
    turned = [
        ("start" if end == "end" else "end") if n == at else end for n, end in enumerate(ends)
    ]
    return turned[0] == turned[2] != turned[1] == turned[3]
