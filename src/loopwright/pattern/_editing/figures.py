"""Numbers as figures: number words in digits, numbers by size in brackets."""

from __future__ import annotations

import re

from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["bracketed", "digits"]

_COLONS = re.compile(
    r"(?<![\d:./(\[])(\d+)((?:: ?\d+)+|(?:-\d+){2,}|(?:/\d+){2,})(?![\d:/-])"
)  # "48:56:64", "18-20-22", "20/22/24"


def bracketed(text: str) -> str:
    """Return a text with its numbers by size in brackets.

    Examples
    --------
    >>> bracketed("K28: 34: 38, turn")
    'K28 (34, 38), turn'
    """

    def listed(match: re.Match[str]) -> str:
        if _NUMBERED.search(text[: match.start()]):
            return match[0]  # "Row 11: 7 sts"
        return f"{match[1]} ({', '.join(re.findall(r'[0-9]+', match[2]))})"

    return _COLONS.sub(listed, text)


_NUMBERED = re.compile(r"\b(?:rows?|rnds?|rounds?|r|step|size|needles?|n) ?$", re.IGNORECASE)


_WORD = re.compile(rf"\b(?:{'|'.join(NUMBER_WORDS[1:])})\b", re.IGNORECASE)


def digits(text: str) -> str:
    """Return a text with its number words, from two to twenty, in digits.

    Examples
    --------
    >>> digits("Repeat rows 3 and 4 five (six, eight) more times")
    'Repeat rows 3 and 4 5 (6, 8) more times'
    """
    return _WORD.sub(lambda m: str(NUMBER_WORDS.index(m[0].lower()) + 1), text)
