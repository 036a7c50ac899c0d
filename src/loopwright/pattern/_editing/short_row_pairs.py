# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Two short rows that mirror each other: a knit row and a purl row turn as far from the turn before."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

import attrs

from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["short_row_pairs"]

_TO = WordForm(
    rf"(?:(?P<lead>[^:.;]{{0,30}}),? )?(?P<way>k|knit|p|purl) (?:back )?to (?:within )?(?P<n>{COUNT}|one) {STS} (?:before|from|short of|of) (?P<place>(?:(?:the|last|previous|first|next|your|a) )*(?:wrapped|wrap|turn\w*|gap|double|ds|yarn ?over|yo)\b[^,;.]{{0,24}}),? (?P<tail>[^.;]*?)(?P<turn>w&t|wrap|turn)\b"
)
_CHANGED = WordForm(r"(?<![a-z0-9])(?:m ?1 ?[lrp]*|make 1\w*)(?![a-z])")
_DEC = WordForm(r"(?<![a-z0-9])(?:k2tog|p2tog|ssk|ssp|skpo?)(?![a-z])(?: tbl)?")
_PLAIN = WordForm(r"(?<![a-z])(?:knit|purl|k|p) ?(?=\d)", re.NOFLAG)


@attrs.frozen
class _Row:
    """A short row: whether it knits, how far from the turn it stops, at what, and all else."""

    one: Spoken
    knits: bool
    stops: tuple[int, ...]
    frame: tuple[str, ...]
    at: int


def short_row_pairs(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find a short row that is its neighbour turned round but for where it stops."""
    rows = [(one, _row(one)) for one in sentences]
    for (a, first), (b, second) in pairwise(rows):
        if first is None or second is None or a.section != b.section:
            continue
        if (
            first.knits != second.knits
            and first.frame == second.frame
            and first.stops != second.stops
        ):
            said = f"this row stops {by_size(second.stops)} sts before the turn, and the one before it {by_size(first.stops)}: is it meant?"
            place = b.place_in_figures(second.at)
            yield Finding(WARNING, "turn", said, place.line, place.column)


def _row(one: Spoken) -> _Row | None:
    match = _TO.match(one.figures, one.start)
    if match is None:
        return None
    stops = (1,) if match["n"].lower() == "one" else whole_numbers(match["n"])
    return _Row(
        one,
        match["way"].lower().startswith("k"),
        stops,
        tuple(_turned(match[name] or "") for name in ("lead", "place", "tail", "turn")),
        match.start("n"),
    )


def _turned(words: str) -> str:
    """Return words that are alike in a knit row and its purl row."""
    plain = _PLAIN.sub("", _DEC.sub("dec", _CHANGED.sub("m", words.lower())))
    return re.sub(
        r"\b(?:the|wyi[bf]|pwise|kwise|purlwise|knitwise|knit|purl)\b ?", "", plain
    ).strip(" ,")
