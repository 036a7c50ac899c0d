# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What short rows leave between their turns, and how many turned stitches they make at either end.

Behind the first two rows, each row that goes to a stitch before the last wrap leaves one less.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.figures import alike, is_near
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._editing.turn_middles import (
    FAR,
    MIDDLE,
    ROW,
    WORKS,
    goes_back,
    rows_more,
)
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["between_wraps"]

_Values = tuple[int, ...]
_Said = tuple[str, int] | None

_WRAPPED = WordForm(r"wrap|w ?& ?t|w/t")
_BY_ONE = WordForm(
    r"\bto (?:within )?1 st\w* (?:before|from|short of) (?:the )?(?:last |previous |next )?wrap"
)
_TO_SO_MANY = WordForm(r"\b(?:until|till)\b(?!.*\bend)")
_AT_ONE_END = WordForm(
    rf"(?P<a>{COUNT}) (?:ds|double st\w*) (?:at|on) one (?:end|side)\b[^.;\d]{{0,30}} (?P<b>{COUNT}) (?:[a-z]+ ){{0,2}}?(?:at|on) the other\b"
)
_AND_ONCE = WordForm(r"\b(?:then|and|end|ending|followed)\b[^.;]*\b(?:row|once|again|r ?\d)\b")
_DOUBLE = WordForm(r"d(?:s|ouble)")
_MAKES = r"(?:m?ds|make (?:a |1 |one )?(?:ds|double st\w*)|double st\w*)"
_TO_END = WordForm(
    rf"\W*{_MAKES},? (?:and |then )?(?:k|p|knit|purl)\.? to (?:the )?end\b[^;.]*?[,.;] (?:and )?turn\b"
)
_TO_DOUBLE = WordForm(rf"\W*{_MAKES},? (?:and |then )?(?:k|p|knit|purl)\.? to (?:the )?(?:last |next |first |previous )?(?:ds|double st\w*)[^;.]*?[,.;] (?:and )?turn\b")  # fmt: skip
SHORT_ROWS = 4  # of which the first makes no double stitch


@attrs.define
class _Doubles:
    """A turn of double stitches: all its stitches, the rows told so far, and how often the last two are worked again."""

    whole: _Values
    rows: int = 1
    more: _Values = ()

    def take(self, one: Spoken) -> bool:
        """Take a sentence; tell whether it still goes on."""
        text = one.figures
        if one.label is None and (more := rows_more(text)) is not None:
            if _AND_ONCE.search(text) or self.more or self.rows != SHORT_ROWS:
                return False
            self.more = more
            return True
        form = _TO_END if self.rows == 1 else _TO_DOUBLE
        if self.rows < SHORT_ROWS and form.match(text, one.start):
            self.rows += 1
            return True
        if self.more:
            return one.label is None or not one.label.numbers
        return one.label is None and not WORKS.match(text)

    def middle(self, text: str) -> _Said:
        """Compare the stitches that are told in the middle with those that were never turned on."""
        told = MIDDLE.search(text) if self.more else None
        if told is None:
            return None
        there, often, stated = alike(self.whole, self.more, whole_numbers(told["n"]))
        made = tuple(n - SHORT_ROWS + 1 - 2 * k for n, k in zip(there, often, strict=True))
        one_more = tuple(n - 1 for n in made)
        if stated in (made, one_more) or not is_near(made, stated, FAR):
            return None
        return (
            f"{by_size(self.more)} times more than once leave {by_size(made)} plain sts of {by_size(there)}, not {by_size(stated)}",
            told.start("n"),
        )


@attrs.define
class _Turn:
    """The first two rows of a turn, and what was told since."""

    first: re.Match[str]
    second: re.Match[str]
    more: _Values = ()  # how often rows 3 and 4 are worked again
    steps: int = 0  # rows that turn a stitch before the last wrap


def between_wraps(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find counts between the wraps, or at the ends, that the rows of a turn never leave."""
    first: tuple[Spoken, re.Match[str]] | None = None
    turn: _Turn | None = None
    doubles: _Doubles | None = None
    section: int | None = None
    for one in sentences:
        if one.section != section:
            section, first, turn, doubles = one.section, None, None, None
        if doubles is not None and not doubles.take(one):
            doubles = None
        if doubles is not None and (plain := doubles.middle(one.figures)) is not None:
            place = one.place_in_figures(plain[1])
            yield Finding(WARNING, "sum", plain[0], place.line, place.column)
            doubles = None
        row = ROW.match(one.figures, one.start)
        if first is not None and row is not None and goes_back(first, (one, row)):
            turn, first = _Turn(first[1], row), None
            continue
        if row is not None or one.label is not None:
            begins = one.label is not None and one.label.numbers in ((), (1,))
            first = (one, row) if row is not None and begins else None
            if row is not None and begins and not (row["slip"] or row["dec"] or row["inc"]):
                doubles = _Doubles(whole_numbers(row["n"]))
        turn = _told(turn, one)
        if turn is not None and (
            said := _ends_alike(one.figures, turn) or _middle(one.figures, turn)
        ):
            place = one.place_in_figures(said[1])
            yield Finding(WARNING, "sum", said[0], place.line, place.column)


def _told(turn: _Turn | None, one: Spoken) -> _Turn | None:
    """Return a turn with what a sentence tells of it; None where something else is worked."""
    if turn is None:
        return None
    more = rows_more(one.figures)
    if more is None and turn.more and (one.label is not None or WORKS.match(one.figures)):
        return None
    if more is not None and _AND_ONCE.search(one.figures):
        return None
    steps = turn.steps + (_BY_ONE.search(one.figures) is not None)
    return attrs.evolve(turn, more=turn.more if more is None else more, steps=steps)


def _ends_alike(text: str, turn: _Turn) -> _Said:
    """Find as many double stitches at both ends, where the first row made none: the last is to come."""
    told = _AT_ONE_END.search(text)
    if told is None or not turn.more:
        return None
    first, second = (_DOUBLE.search(row["slip"] or "") for row in (turn.first, turn.second))
    one, other, often = alike(whole_numbers(told["a"]), whole_numbers(told["b"]), turn.more)
    if first or not second or not one or one != other or one != tuple(n + 2 for n in often):
        return None
    return (
        f"the first row makes no double stitch: {by_size(one)} at one end are {by_size([n - 1 for n in one])} at the other",
        told.start("b"),
    )


def _middle(text: str, turn: _Turn) -> _Said:
    """Compare what is left between wraps with the second row, less one stitch for each row behind it."""
    middle = MIDDLE.search(text)
    rows = turn.first, turn.second
    if middle is None or turn.steps != len(rows) or not _WRAPPED.search(turn.second["turn"]):
        return None
    if any(row["slip"] or row["dec"] or row["inc"] for row in rows):
        return None
    worked, stated = alike(whole_numbers(turn.second["n"]), whole_numbers(middle["n"]))
    if _TO_SO_MANY.search(text):
        for many, wanted in zip(worked, stated, strict=True):
            if wanted < many and (many - wanted) % 2:
                return (
                    f"from {many} sts between the wraps, 2 at a time, there are never {wanted}",
                    middle.start("n"),
                )
        return None
    if not turn.more:
        return None
    worked, often = alike(whole_numbers(turn.second["n"]), turn.more)
    made, stated = alike(tuple(n - 2 * (k + 1) for n, k in zip(worked, often, strict=True)), stated)
    if made == stated or not is_near(made, stated, FAR):
        return None
    return (
        f"{by_size(turn.more)} times more than once leave {by_size(made)} sts between the wraps, not {by_size(stated)}",
        middle.start("n"),
    )
