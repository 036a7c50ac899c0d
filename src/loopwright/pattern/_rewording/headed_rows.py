# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows below "On each needle:": each of them is worked so, as if it said so itself."""

from __future__ import annotations

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_heads_on_rows"]

_HEAD = WordForm(  # "On each needle:", "Work as follows on every needle:", "For both needles work as follows:"
    r"\W*(?:(?:now )?work (?:as follows |thus |like this )?)?(?:on|for|over|across) (?:each|every|all|both)(?: of)?(?: the)?(?: (?:two|three|four|2|3|4))? needles?(?: alike)?(?:,? work)?(?: as follows)?\s*:\W*$"
)
_ROW = WordForm(
    r"\s*(?:(?:round|rnd|r) ?\d{1,2}(?: ?(?:-|–|,|and|&|to) ?\d{1,2})*|(?:dec|inc|next)\w*\.? (?:round|rnd))(?: ?\([^()]*\))?: (?=\S)"
)
_OWN = WordForm(  # a row that is plain, or says by itself where it is worked
    r"(?:k|p|knit|purl)(?: (?:all|to end|around|plain))?\W*$|.*\b(?:needles?|n ?\d|rep(?:eat)? from|half|halves|instep|sole)\b|as (?:round|rnd)"
)


def with_heads_on_rows(lines: list[MappedText]) -> list[MappedText]:
    """Return lines where each row below "On each needle:" says so itself.

    Examples
    --------
    >>> told = [MappedText.of(line) for line in ("On each needle:", "Rnd 1: K14, k2tog.", "Rnd 2: Knit.")]
    >>> [one.text for one in with_heads_on_rows(told)]
    ['', 'Rnd 1: On each needle: K14, k2tog.', 'Rnd 2: Knit.']
    """
    found = [*lines]
    for head, line in enumerate(lines[:-1]):
        if not _HEAD.fullmatch(line.text) or not _ROW.match(lines[head + 1].text):
            continue
        found[head] = line.cut(0, 0)
        for number in range(head + 1, len(lines)):
            if not lines[number].text.strip():
                break
            row = _ROW.match(lines[number].text)
            if row is not None and not _OWN.match(lines[number].text[row.end() :]):
                found[number] = lines[number].put(row.end(), row.end(), "On each needle: ")
    return found
