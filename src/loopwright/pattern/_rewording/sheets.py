# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sheets with columns: what is worked in a row, and the count that it leaves; boxes to tick."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["out_of_table", "with_column"]

_CELLS = WordForm(
    r"^\s*\|?(?P<label>[^|]*)\|(?P<work>[^|]*\w[^|]*)\|(?P<count>[^|]*)\|?\s*$", re.NOFLAG
)
_COUNT_CELL = WordForm(r"\s*(?P<n>\d+(?: ?[(\[][^)\]]*[)\]])?)\s*(?:sts?|stitches)?\s*$")
_CHANGE_CELL = WordForm(r"\s*(?P<n>\d+) (?P<how>fewer|less|more)\b.*$")
_AT_THE_SIDE = WordForm(
    r"until (?:you have|there are|you reach) (?:the )?(?:number|count|sts|stitches) (?:at|on|in) the (?:right|left|last column)[^;.]*",
)


def out_of_table(said: MappedText) -> MappedText:
    """Return the instruction of a sheet's row, with the count of its last column behind it."""
    cells = _CELLS.match(said.text) if said.text.count("|") >= 2 else None
    if cells is None:
        return said
    work = cells["work"].strip().rstrip(".")
    count = _COUNT_CELL.match(cells["count"])
    if count and _AT_THE_SIDE.search(work):
        work = _AT_THE_SIDE.sub(f"until {count['n'].strip()} sts remain", work)
    elif count and count["n"].strip(" 0"):
        work += f". {count['n'].strip()} sts."
    elif change := _CHANGE_CELL.match(cells["count"]):
        work += f" ({change['n']} sts {'increased' if change['how'] == 'more' else 'decreased'})"
    return said.sub(re.compile(r"^.*$", re.DOTALL), lambda _: work)


_HEAD_OF_COUNTS = WordForm(  # "Step   What to do        You have"
    r"\s*(?:step|no\.?|row|round|rnd|line|#)\b.* {2,}(?:you (?:should |will )?(?:now )?have|sts|stitches|st(?:itch)? count|count|total|left|on (?:the )?needles?)\s*$",
)
_IN_COLUMN = WordForm(r"(?<=\S) {2,}(?P<n>\d{1,4})\s*$", re.NOFLAG)


_BOX = r"(?:\[[ _]?\]|[☐□])"
_COUNTED = r"(?:(?:(?:i|you) (?:should )?(?:now )?have|count|check|now):? )?(?P<n>\d+(?: ?[(\[]\d+(?:, ?\d+)*[)\]])?)(?: (?:sts?|stitches))?"
_IN_ITS_BOX = Rewordings(
    (
        (rf"(?<=\S)\s+{_BOX} ?{_COUNTED}\.?\s*$", r" (\g<n> sts)"),  # "Join.    [ ] 24"
        (rf"(?<=\S) {{2,}}{_COUNTED} ?{_BOX}\s*$", r" (\g<n> sts)"),
        (  # "[ ] 24   Join.", in a column before the lines
            rf"^\s*{_BOX} ?{_COUNTED} {{2,}}(?P<work>\S.*?)\s*$",
            lambda match: f"{' ' * match.start('work')}{match['work']} ({match['n']} sts)",
        ),
        (  # "k the other 12      (needle 2)"
            r"^(?P<lead>\s*)(?P<work>\S.*?) {2,}[(\[](?:on )?(?:needle |n)(?P<needle>\d)[)\]]\s*$",
            r"\g<lead>Needle \g<needle>: \g<work>",
        ),
    )
)  # fmt: skip


def with_column(lines: list[str]) -> list[MappedText]:
    """Return lines with the counts of a column, behind blanks, as stated counts."""
    said = [_IN_ITS_BOX.put_in(MappedText.of(line)) for line in lines]
    head = next((n for n, line in enumerate(lines) if _HEAD_OF_COUNTS.match(line)), None)
    if head is None:
        return said
    return said[:head] + [one.sub(_IN_COLUMN, r" (\g<n> sts)") for one in said[head:]]
