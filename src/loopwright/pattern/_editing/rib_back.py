# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The wrong side of a rib: its row begins with what the right-side row ends with.

Behind ``*k3, p1`` the wrong side is ``*k1, p3``: read from the other end, and knit for purl. A row that
only swaps the two, ``*p3, k1``, puts the columns a stitch aside.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Spoken
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["rib_back"]

_ROW = WordForm(
    r"\W*(?:\*\s*(?P<inner>[^*;()\[\]]+?)[;,.] ?rep(?:eat)? (?:from )?\* ?(?:to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?|a?round|all round|across)?|[(\[](?P<inner2>[^()\[\]]+)[)\]] (?:to (?:the )?end|a?round|across))(?:,? turn)?\W*$",
)
_RIB = WordForm(r"(?P<letter>k|p|knit|purl) ?(?P<n>\d+)(?: tbl)?\Z")
_Rib = tuple[tuple[str, int], ...]


def rib_back(sentences: Sequence[Spoken]) -> Iterator[Finding]:
    """Find wrong-side rows that do not lie behind the rib of the right side."""
    fronts: list[_Rib] = []
    for one in sentences:
        match = _ROW.match(one.text, one.start)
        rib = _rib(match["inner"] or match["inner2"]) if match is not None else ()
        if not rib or one.label is None:
            continue
        if one.label.side.upper().strip("() ")[:1] != "W":
            fronts.append(rib)
            continue
        swapped = tuple((_other(letter), n) for letter, n in rib)
        if swapped in fronts and rib not in map(_behind, fronts):
            front, behind = swapped, _behind(swapped)
            place = one.place(one.start)
            said = f"behind *{_shown(front)} the wrong side begins with the last of it: *{_shown(behind)}"
            yield Finding(WARNING, "row", said, place.line, place.column)


def _rib(text: str) -> _Rib:
    """Return the runs of a rib, knit and purl by turns; () for anything else."""
    found: list[tuple[str, int]] = []
    for piece in re.split(r", ?", text.strip()):
        match = _RIB.match(piece)
        if match is None or (found and found[-1][0] == match["letter"][0].lower()):
            return ()
        found.append((match["letter"][0].lower(), int(match["n"])))
    return tuple(found) if len(found) > 1 and len(found) % 2 == 0 else ()


def _behind(rib: _Rib) -> _Rib:
    return tuple((_other(letter), n) for letter, n in reversed(rib))


def _other(letter: str) -> str:
    return "p" if letter == "k" else "k"


def _shown(rib: _Rib) -> str:
    return ", ".join(f"{letter}{n}" for letter, n in rib)
