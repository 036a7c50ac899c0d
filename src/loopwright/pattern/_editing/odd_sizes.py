# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""One size among the stitches that are stated, which the rows worked on them do not fit.

The rows fit all the other sizes, so that it is the number that is asked about, where it stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import lcm

from loopwright.pattern._editing.figures import alike, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken
from loopwright.pattern._editing.whole_rows import row_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["odd_sizes"]

_Values = tuple[int, ...]
_BEGUN = WordForm(
    rf"\b(?:cast(?:ing)? (?:on|up)|co)\b[^.;\d]{{0,12}}(?P<n>{COUNT})(?!\d|\.\d| ?(?:cm|in\b|mm|\"))"
)
_TOLD = WordForm(rf"\W*(?P<n>{COUNT}) ?{STS}\W*$")
_PLAIN_RIB = WordForm(
    r"(?:^|\bin |work )(?:a )?\(?(?P<a>k|p) ?(?P<n>\d+),? ?(?:p|k) ?(?P<m>\d+)\)? ?(?:rib\b|ribbing)"
)
_CHANGES = WordForm(
    r"(?:[kp]\d ?tog|\d tog)|\b(?:inc|dec|ssk|ssp|skp|yo|m1|make 1|kfb|tog|cdd|pick|bind|bo\b|co ?\d|turn|hold|sizes?|only|until)\b"
)
_EVEN = WordForm(r"\byo, (?:k2tog|ssk)|\b(?:k2tog|ssk), yo|\brep\w*\b[^;]*\buntil\b")
LEAST = 3  # sizes, of which one may be called odd
NEAR = 4  # stitches by which a cast-on may miss, and be meant for it all the same
SOON = 5  # sentences behind a count


def odd_sizes(sentences: Sentences) -> Iterator[Finding]:
    """Find the one size of a cast-on that the next rows do not fit, where all the others do."""
    for at in sentences.places_about(_BEGUN):
        one = sentences[at]
        begun = _BEGUN.search(one.figures)
        count = values(begun["n"]) if begun is not None else ()
        if (
            begun is not None
            and len(count) == 1
            and (said := _alone(count[0], one, sentences[at + 1 :]))
        ):
            place = one.place_in_figures(begun.start("n"))
            yield Finding(WARNING, "sum", said, place.line, place.column)
        if begun is None or len(count) < LEAST:
            continue
        for n, other in enumerate(sentences[at : at + SOON]):
            said = _unlike(count, other, sentences[at + n + 1 : at + n + 2], first=not n)
            if said:
                place = one.place_in_figures(begun.start("n"))
                yield Finding(WARNING, "sum", said, place.line, place.column)
            if said or (n and (_CHANGES.search(other.text) or other.section != one.section)):
                break


def _alone(count: int, begun: Spoken, behind: Sequence[Spoken]) -> str:
    """Find a cast-on that two repeats do not go into, where a number near to it has room for all."""
    widths = set[int]()
    for one in behind:
        if _CHANGES.search(one.text) and not _EVEN.search(one.text):
            break
        row = row_of(one.figures, one.start)
        if row is None or not row.each or row.times:
            continue
        if row.each != row.each_leaves or any(row.takes) or len(row.each) > 1:
            break
        widths |= {*row.each} - {0}  # "*k0; rep from *"
    wrong = {each for each in widths if count % each}
    room = lcm(*widths) if widths else 1
    best = round(count / room) * room
    if len(wrong) < 2 or not 0 < abs(best - count) <= NEAR:
        return ""
    shown = " and ".join(map(str, sorted(wrong)))
    return f"repeats of {shown} sts do not go into {count}, and all of them into {best}"


def _unlike(count: _Values, row: Spoken, after: Sequence[Spoken], *, first: bool) -> str:
    """Compare what is cast on with a row behind it."""
    rib = _PLAIN_RIB.search(row.figures)
    if rib is not None:
        return _no_multiple(count, int(rib["n"]) + int(rib["m"]), 0)
    whole = None if first else row_of(row.figures, row.start)
    if whole is None or whole.times:
        return ""
    if whole.each:
        steady = len(whole.each) == len(whole.takes or (0,)) == 1
        return _no_multiple(count, whole.each[0], (whole.takes or (0,))[0]) if steady else ""
    takes, there = alike(whole.takes, count)
    told = next((m for one in after if (m := _TOLD.match(one.figures)) is not None), None)
    if len(whole.takes) < LEAST or told is None or values(told["n"]) != whole.leaves:
        return ""
    odd = [n for n, (a, b) in enumerate(zip(takes, there, strict=True)) if a != b]
    if len(odd) != 1:
        return ""
    return f"{by_size(there)} sts are cast on; the row behind takes {by_size(takes)}"


def _no_multiple(count: _Values, each: int, besides: int) -> str:
    left = [(n - besides) % each if each > 2 else 0 for n in count]
    odd = [n for n, over in enumerate(left) if over]
    if len(odd) != 1:
        return ""
    more = f" and {besides} more" if besides else ""
    return f"{count[odd[0]]} sts are no multiple of {each}{more}, which the rows behind go over; those of the other sizes are"
