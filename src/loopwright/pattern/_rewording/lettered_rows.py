# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that a text calls by a letter and a number: "Row A1", "Rows D3 to D14: As rows C1 to C12".

The letter is that of a section. Put on one count from the first section to the last, they are rows
with numbers, and each number stands for one row of the text.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_rows_numbered"]

_CRS = r"(?:rounds?|rnds?|rds?|rows?)"
_LETTERS = r"(?!RS|WS|MC|CC|[KPRNM]\d)(?-i:[A-Z]{1,2}|[a-z])"
_CALLED = rf"(?:{_LETTERS}[-.]?\d{{1,3}}|\d{{1,3}}(?-i:[A-H]))(?![\w.]\w)(?!\w)"
_JOINT = r"(?:, ?(?:and )?| ?[-–—&+] ?| (?:and|to|through|then) )"
_LIST = rf"{_CALLED}(?:{_JOINT}(?:{_CRS} )?(?:{_CALLED}|(?<!, )\d{{1,3}}(?![\w.]\w|\w| ?(?:times|more|sts|stitches|x)\b)))*"
_SIDE = r"(?: ?[(\[][^()\[\]]{1,30}[)\]]|,? (?:RS|WS))?"
_LED = WordForm(rf"\b(?P<crs>{_CRS})\.? (?P<list>{_LIST})")
_LABEL = WordForm(rf"\s*[*_]*{_CRS}\.? (?P<list>{_LIST}){_SIDE} ?[:.–—-](?=[ *_]|$)")
_BARE = WordForm(  # "A1 (RS): K3, yo, …", but no step of a list: "A1: Knit 4 rows"
    rf"(?P<lead>\s*)(?P<list>{_LIST})(?={_SIDE}: [*(\[]*(?:(?:k|p|sl|knit|purl|slip|yo|ssk|kfb|m1|work|as)\b|[kp] ?\d|sl ?1)(?![^:]*\b\d+ (?:more )?{_CRS})(?![^:]* for ))"
)
_STEP = WordForm(rf"\s*{_LIST}{_SIDE}:")
_ALONE = WordForm(rf"(?<![\w.-])(?P<list>{_LIST})")  # "work A1 and A2 50 times"
_PLAIN = WordForm(rf"\s*{_CRS} \d+(?: ?{_JOINT} ?\d+)*{_SIDE} ?[:.]|\s*\d+(?:st|nd|rd|th) {_CRS}\b")
_ONE = re.compile(
    r"(?:(?P<crs>[a-z]{2,}\.?) )?(?:(?P<a>[A-Z]{1,2}|\b[a-z])[-.]?)?(?P<n>\d+)(?P<b>[A-H]?)"
)
_BY_PARITY = WordForm(rf"\b(?:even|odd)(?:[- ]numbered)? {_CRS}|\balt(?:ernate)? {_CRS}")
_Numbers = Mapping[tuple[str, int], int]


def with_rows_numbered(lines: list[MappedText]) -> tuple[list[MappedText], dict[int, str]]:
    """Return lines with plain numbers for rows that are called by letters, and what each was called.

    Examples
    --------
    >>> said = ["Row A1: K9.", "Row A2: P9.", "Row B1: K9.", "Rows B2 to B4: As rows A1 and A2."]
    >>> lines, names = with_rows_numbered([MappedText.of(one) for one in said])
    >>> [one.text for one in lines][2:], names[6]
    (['Row 3: K9.', 'Rows 4 to 6: As rows 1 and 2.'], 'B4')
    """
    found = _labels(lines)
    most: dict[str, int] = {}
    order: list[str] = []
    for called in found:
        for letter, number in called:
            order += [letter] if order[-1:] != [letter] else []
            most[letter] = max(number, most.get(letter, 0))
    if not order or len(set(order)) != len(order):
        return lines, {}
    numbers: dict[tuple[str, int], int] = {}
    for letter, last in most.items():
        begun = len(numbers)
        if begun % 2 and any(_BY_PARITY.search(one.text) for one in lines):
            return lines, {}  # "even rows of B" would be others
        numbers |= {(letter, n): begun + n for n in range(1, last + 1)}
    bare = not any(_LABEL.match(one.text) for one in lines)
    if bare and any(_STEP.match(one.text) and not _BARE.match(one.text) for one in lines):
        return lines, {}
    return [_put(one, numbers, bare=bare) for one in lines], {
        number: f"{letter}{n}" for (letter, n), number in numbers.items()
    }


def _labels(lines: list[MappedText]) -> list[list[tuple[str, int]]]:
    """Return what rows are called where they are told; nothing where numbers stand between them."""
    told = [
        (label, _PLAIN.match(one.text) is not None)
        for one in lines
        for label in [_LABEL.match(one.text) or _BARE.match(one.text)]
    ]
    places = [at for at, (label, _) in enumerate(told) if label]
    if len(places) < 2 or any(plain for _, plain in told[places[0] : places[-1]]):
        return []
    return [_named(label["list"]) for label, _ in told if label]


def _named(said: str) -> list[tuple[str, int]]:
    letter, found = "", list[tuple[str, int]]()
    for one in _ONE.finditer(said):
        letter = one["a"] or one["b"] or letter
        found.append((letter, int(one["n"])))
    return found


def _put(said: MappedText, numbers: _Numbers, *, bare: bool) -> MappedText:
    def numbered(text: str) -> str:
        letter = ""

        def one(match: re.Match[str]) -> str:
            nonlocal letter
            letter = match["a"] or match["b"] or letter
            course = f"{match['crs']} " if match["crs"] else ""
            return f"{course}{numbers[letter, int(match['n'])]}"

        return _ONE.sub(one, text)

    def led(match: re.Match[str]) -> str:
        if not numbers.keys() >= {*_named(match["list"])}:
            return match[0]  # a row that the text does not have
        course = match.groupdict().get("crs")
        return f"{course or 'rows'} {numbered(match['list'])}"

    if not bare:
        return said.sub(_LED, led)
    if (label := _BARE.match(said.text)) is not None:
        called = numbered(label["list"])
        many = "s" if re.search(r"\D", called) else ""
        end = label.end()
        first = said.cut(0, end).sub(re.compile(r"\S.*"), lambda _: f"Row{many} {called}")
        return first.and_then(said.cut(end, len(said.text)).sub(_ALONE, led))
    return said.sub(_ALONE, led)
