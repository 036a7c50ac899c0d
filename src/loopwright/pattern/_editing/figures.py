# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Numbers as figures: number words in digits, numbers by size in brackets and made alike."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import TypeVar

from loopwright.pattern._reading.stated import for_sizes, whole_numbers
from loopwright.pattern._rewording.large_numbers import LARGE_NUMBER, large_number
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = [
    "alike",
    "bracketed",
    "digits",
    "in_figures",
    "is_near",
    "rows_by_number",
    "sign_of_sizes",
    "sizes_in_brackets",
    "sizes_of_another_number",
    "values",
]

_Number = TypeVar("_Number", int, float)
_Values = tuple[int, ...]

_COLONS = WordForm(
    r"(?<![\d:./(\[])(\d+)((?:: ?\d+)+|(?:-\d+){2,}|(?:/\d+){2,})(?![\d:/-])", re.NOFLAG
)  # "48:56:64", "18-20-22", "20/22/24"


def bracketed(text: str) -> str:
    """Return a text with its numbers by size in brackets.

    Examples
    --------
    >>> bracketed("K28: 34: 38, turn")
    'K28 (34, 38), turn'
    """
    return _COLONS.sub(_listed, text)


def _listed(match: re.Match[str]) -> str:
    text = match.string
    if _NUMBERED.search(text[: match.start()]) and not _HOW_MANY.match(text, match.end()):
        return match[0]  # "Row 11: 7 sts"
    numbers = [int(one) for one in re.findall(r"\d+", match[0])]
    if max(numbers) > WIDEST * max(1, min(numbers)):
        return match[0]  # "k3: 219 sts"
    return f"{match[1]} ({', '.join(re.findall(r'[0-9]+', match[2]))})"


WIDEST = 5  # times; no size has so many more than another, from a baby's to a man's (our own)

_NUMBERED = WordForm(r"\b(?:rows?|rnds?|rounds?|r|step|size|needles?|n) ?$")


_WORD = WordForm(rf"\b(?:{'|'.join(NUMBER_WORDS[1:])})\b")
_HOW_MANY = WordForm(r" ?(?:times?\b|more\b)")  # "work these rounds 7: 8: 9 times"


def digits(text: str) -> str:
    """Return a text with its number words, from two on, in digits.

    Examples
    --------
    >>> digits("Repeat rows 3 and 4 five (six, eight) more times")
    'Repeat rows 3 and 4 5 (6, 8) more times'
    """
    return _WORD.sub(_number, LARGE_NUMBER.sub(large_number, text))


def _number(word: re.Match[str]) -> str:
    return str(NUMBER_WORDS.index(word[0].lower()) + 1)


def in_figures(said: MappedText) -> MappedText:
    """Return a text with its numbers by size in brackets, and its number words in digits.

    Examples
    --------
    >>> in_figures(MappedText.of("K28: 34, seven times")).text
    'K28 (34), 7 times'
    """
    return said.sub(_COLONS, _listed).sub(LARGE_NUMBER, large_number).sub(_WORD, _number)


_ORDINALS = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
]
_NTH = rf"(?:\d{{1,3}}(?:st|nd|rd|th)|{'|'.join(_ORDINALS)})"
_NTH_ROWS = WordForm(
    rf"\b(?P<a>{_NTH})(?P<more>(?:(?:, | and | & | to |-)(?:the )?{_NTH})*) (?P<what>rows?|rounds?|rnds?)\b",
)


_ANY_NTH = WordForm(rf"\d(?:st|nd|rd|th) |\b(?:{'|'.join(_ORDINALS)}) ")


@lru_cache(maxsize=8192)
def rows_by_number(text: str) -> str:
    """Return a text with "the 2nd and 3rd rows" as "the rows 2 and 3".

    Examples
    --------
    >>> rows_by_number("Rep the 2nd and third rows, ending with a 2nd row")
    'Rep the rows 2 and 3, ending with a row 2'
    """

    def number(match: re.Match[str]) -> str:
        word = match[0].lower()
        return str(_ORDINALS.index(word) + 1) if word in _ORDINALS else word[:-2]

    def by_number(match: re.Match[str]) -> str:
        numbers = re.sub(_NTH, number, match["a"] + match["more"], flags=re.IGNORECASE)
        return f"{match['what']} {numbers.replace('the ', '')}"

    return _NTH_ROWS.sub(by_number, text) if _ANY_NTH.search(text) else text


_N = r"\d+(?:\.\d+)?"
_BY_SIGN = {
    ":": re.compile(rf"(?<![\d:./(\[-]){_N}(?: ?: ?{_N})+(?![\d:/]|\.\d)"),
    "/": re.compile(rf"(?<![\d:./(\[-]){_N}\"?(?: ?/ ?{_N})+(?![\d:/]|\.\d| ?[lr]p?c\b)"),
    "-": re.compile(rf"(?<![\d:./(\[-]){_N}(?:-{_N}){{2,}}(?![\d:/-]|\.\d)"),
}
_IN_BRACKETS = WordForm(rf"{_N} ?[(\[]{_N}(?: ?[,:] ?{_N})*[)\]]", re.NOFLAG)
OFTEN = 3  # lists of one kind and length, before a sign is taken to stand between sizes


@lru_cache(maxsize=2)
def sign_of_sizes(text: str) -> tuple[str, int] | None:
    """Return the sign that a text writes between its sizes, and how many there are; None for brackets.

    Examples
    --------
    >>> sign_of_sizes("20 / 22 sts, 24 / 26 cm; knit 30 / 34")
    ('/', 2)
    """
    if len(_IN_BRACKETS.findall(text)) >= OFTEN:
        return None
    kinds: Counter[tuple[str, int]] = Counter()
    for sign, form in _BY_SIGN.items():
        for match in form.finditer(text):
            if not _NUMBERED.search(text[max(0, match.start() - 8) : match.start()]):
                kinds[sign, len(re.findall(_N, match[0]))] += 1
    usual = kinds.most_common(1)
    return usual[0][0] if usual and usual[0][1] >= OFTEN else None


def sizes_of_another_number(text: str, line: str) -> re.Match[str] | None:
    """Return a list of a line that has one size more or less than those of the text.

    Examples
    --------
    >>> text = "20: 22: 24 sts, 24: 26: 28 cm; knit 30: 34: 38"
    >>> sizes_of_another_number(text, "K12: 15, k2tog")[0]
    '12: 15'
    """
    usual = sign_of_sizes(text)
    if usual is None or usual[1] < 3:
        return None
    for match in _BY_SIGN[usual[0]].finditer(line):
        many = len(re.findall(_N, match[0]))
        if abs(many - usual[1]) == 1 and (
            _STITCHES.match(line, match.end()) or _WORKED.search(line[: match.start()])
        ):
            return match
    return None


_STITCHES = WordForm(r" ?(?:sts|stitches)\b")
_WORKED = WordForm(r"(?<![a-z])[kp]$")


@lru_cache(maxsize=2)
def sizes_in_brackets(
    text: str,
) -> tuple[re.Pattern[str], Callable[[re.Match[str]], str]] | None:
    """Return how a text that writes "20 / 22 / 24 sts" is put as "20 (22, 24) sts"; None for others.

    Examples
    --------
    >>> how = sizes_in_brackets("20 / 22 sts, 24 / 26 cm; knit 30 / 34")
    >>> how[0].sub(how[1], "40 / 44 sts")
    '40 (44) sts'
    >>> sizes_in_brackets("20 (22) sts, 1/2 in") is None
    True
    """
    usual = sign_of_sizes(text)
    if usual is None:
        return None
    sign, many = usual

    def listed(match: re.Match[str]) -> str:
        first, *more = re.findall(_N, match[0])
        labelled = _NUMBERED.search(match.string[max(0, match.start() - 8) : match.start()])
        if (labelled and not _HOW_MANY.match(match.string, match.end())) or len(more) + 1 != many:
            return match[0]
        return f"{first} ({', '.join(more)})"

    return _BY_SIGN[sign], listed


def values(text: str, many: int = 1) -> _Values:
    """Return the numbers by size that a text writes; one alone stands for `many`.

    Examples
    --------
    >>> values("40 (44, 48)", 3), values("7", 3)
    ((40, 44, 48), (7, 7, 7))
    """
    return for_sizes(whole_numbers(text), many)


def alike(*all_values: tuple[_Number, ...]) -> tuple[tuple[_Number, ...], ...]:
    """Return all for as many sizes; nothing where they have different ones.

    Examples
    --------
    >>> alike((4,), (20, 22)), alike((1, 2, 3), (20, 22))
    (((4, 4), (20, 22)), ((), ()))
    """
    many = max(map(len, all_values))
    found: list[tuple[_Number, ...]] = [for_sizes(one, many) for one in all_values]
    return tuple(found) if len({*map(len, found)}) == 1 else tuple(() for _ in found)


def is_near(first: Sequence[float], second: Sequence[float], most: float) -> bool:
    """Tell whether two lists differ by so much at most in each size, and have as many.

    Examples
    --------
    >>> is_near((20, 22), (24, 20), 4), is_near((20, 22), (25, 22), 4), is_near((20,), (20, 20), 4)
    (True, False, False)
    """
    return len(first) == len(second) and all(
        abs(a - b) <= most for a, b in zip(first, second, strict=True)
    )
