# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The two rows of a heel flap against each other: "(sl 1, k1) 8 times" and "sl 1, p15" are of as many stitches."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["flap_rows"]

_Values = tuple[int, ...]
_SLIP = r"(?:sl|slip)\.? ?(?:1|one)(?: (?:pwise|purlwise|kwise|knitwise|wyib|wyif|st))?"
_DEC = r"(?P<dec>ssk|skpo?|k2tog|p2tog|ssp)"
_RIGHT = WordForm(
    rf"\W*(?:right side: )?[(*\[] ?{_SLIP},? (?:k|knit) ?(?:1|one)[)\];,.]? ?(?:(?:rep(?:eat)? )?(?:from )?\*,? )?(?P<n>{COUNT}) times(?: in all| altogether)?(?P<more> more)?(?:, (?P<slip>{_SLIP}))?(?:, (?P<k>k ?1))?(?:, {_DEC}(?:, turn)?)?\W*$"
)
_WRONG = WordForm(
    rf"\W*(?:wrong side: )?{_SLIP},? (?:p|purl) ?(?P<n>{COUNT})(?:, {_DEC}(?:, turn)?)?\W*$"
)
SLIGHT = 4  # stitches by which the rows may differ, and be meant for each other all the same


def flap_rows(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find two rows beside each other, over one flap, that are not of as many stitches."""
    rows: list[tuple[Spoken, _Values, bool, bool]] = []  # worked, on the right side, decreased
    section = -1
    for one in sentences:
        if one.section != section:
            section, rows = one.section, []
        right, wrong = _RIGHT.match(one.figures, one.start), _WRONG.match(one.figures, one.start)
        match = right or wrong
        if match is None:
            continue
        row = (one, _worked(match, right is not None), right is not None, match["dec"] is not None)
        if rows:
            other, before, side, shaped = rows[-1]
            made, there = alike(row[1], before)
            if (
                side != row[2]
                and shaped == row[3]
                and one.line - other.line <= 2
                and made
                and made != there
                and is_near(made, there, SLIGHT)
            ):
                place = one.place(one.start)
                said = f"this row is of {by_size(made)} sts, the row before it of {by_size(there)}: is it the same flap?"
                yield Finding(WARNING, "row", said, place.line, place.column)
                continue
        rows.append(row)


def _worked(match: re.Match[str], right: bool) -> _Values:
    """Return the stitches that a row of the flap takes up."""
    shaped = 2 * bool(match["dec"])
    if not right:
        return tuple(n + 1 + shaped for n in values(match["n"]))
    beside = bool(match["slip"]) + bool(match["k"]) + shaped
    return tuple(2 * (n + bool(match["more"])) + beside for n in values(match["n"]))
