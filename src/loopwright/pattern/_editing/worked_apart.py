# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches worked apart from the middle of a row, and those picked up on both sides of a heel.

A thumb is worked from the middle of a row: the knit row goes across one side and the thumb, the purl
row back over the thumb alone, with what was cast on at its end.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Before, Sentences, Spoken
from loopwright.pattern._editing.sums import PICK_UP
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["worked_apart"]

_Values = tuple[int, ...]
_THUMB = WordForm(
    rf"\W*(?P<letter>k|p|knit|purl) ?(?P<n>{COUNT}),? (?:then )?(?:turn,? (?:and )?cast on (?P<a>\d)|cast on (?P<b>\d)(?: {STS})?,? (?:and )?turn) ?(?:{STS})?",
)
_BACK = WordForm(
    rf"\W*(?P<letter>p|purl|k|knit) ?(?P<n>{COUNT})(?: {STS})?,? (?:and )?turn\b(?:,? (?:and )?cast on (?P<a>\d))?",
)
_STATED = WordForm(
    rf"(?:^|[.:;,(=\[—–]|\b(?:there are|you have|until))\s*(?P<n>{COUNT}) ?{STS}(?: (?:rem\w*|left|now|in all|total|on the needles?))*\s*(?:[.)\];,]|$)"
)
_THESE = WordForm(rf"\b(?:on|over|across|with) (?:the |these )?(?P<n>{COUNT}) (?:thumb )?{STS}")
_OTHER = WordForm(r"\bother\b|\bsecond\b|\bopposite\b|\bup\b|\bright\b")
_CAST_ON = WordForm(r"\b(?:cast|provisional|thumb|gap|underarm|co)\b")
FAR = 4  # stitches by which a row may miss, and be meant for it all the same
LAST = 12  # counts before
SOON = 3  # lines between the two sides of a heel


def worked_apart(sentences: Sentences) -> Iterator[Finding]:
    """Find thumbs that are not what was set apart, and sides that are not picked up alike."""
    there: _Values | None = None
    across: tuple[Spoken, re.Match[str]] | None = None
    side: tuple[Spoken, _Values] | None = None
    counts, placed = (Before(sentences, form, partial(_told, form)) for form in (_STATED, _PLACED))
    taken = 0  # where sentences begin of whose counts the last is to be taken
    for at, passed in sentences.passing(_THUMB, _BACK, _JOINED, _CLOSED, PICK_UP):
        one, text = sentences[at], sentences[at].figures
        row = next((n for n, other in enumerate(passed, at - len(passed)) if _is_row(other)), None)
        if across is not None and row is not None:
            across, taken = None, row
        knit = _THUMB.match(text, one.start)
        if across is not None and (back := _BACK.match(text, one.start)) is not None:
            if said := _thumb(there, across[1], back, sentences[at + 1 : at + 3]):
                message, first = said
                wrong = across[0] if first else one
                place = wrong.place(wrong.start)
                yield Finding(WARNING, "sum", message, place.line, place.column)
            across, taken = None, at
        elif knit is not None and knit["letter"][0].lower() == "k":
            if across is None:
                stated = [
                    m for n in range(taken, at) for m in _STATED.finditer(sentences[n].figures)
                ]
                there = values(stated[-1]["n"]) if stated else there
            across = one, knit
        elif across is not None and _is_row(one):
            across, taken = None, at
        if (
            whole := _joined(text, partial(counts, at)) or _closed(text, partial(placed, at))
        ) is not None:
            place = one.place_in_figures(whole[1])
            yield Finding(WARNING, "sum", whole[0], place.line, place.column)
        picked = list(PICK_UP.finditer(text))
        if len(picked) == 1 and not _CAST_ON.search(text):
            many = values(picked[0]["n"])
            if side is not None and _OTHER.search(picked[0][0]):
                before, now = alike(side[1], many)
                soon = one.line - side[0].line <= SOON and one.section == side[0].section
                if soon and before != now and is_near(before, now, FAR):
                    place = one.place_in_figures(picked[0].start("n"))
                    unlike = f"{by_size(before)} sts picked up on one side and {by_size(now)} on the other: should the two be alike?"
                    yield Finding(WARNING, "sum", unlike, place.line, place.column)
                side = None
            else:
                side = one, many
        elif picked:
            side = None


def _is_row(one: Spoken) -> bool:
    return one.label is not None and bool(one.label.course)


def _told(form: WordForm, text: str) -> Iterator[_Values]:
    return (values(match["n"]) for match in form.finditer(text))


_JOINED = WordForm(
    rf"\bpick up(?: and (?:k|knit))? ?(?P<p>\d+) {STS}[^.;\d]{{0,50}}[,;] (?:and |then )*(?:k|knit) (?:the |across )?(?:other |rem\w* |next )?(?P<k>{COUNT})(?: {STS})?[^.;\d]{{0,40}}?[.:;=(\[—–-]+ ?(?P<n>{COUNT}) {STS}(?! (?:more|dec|inc))"
)


_PLACED = WordForm(
    rf"(?<![a-z])(?:k|knit) ?(?P<n>{COUNT})(?: {STS})?,? (?:and |then )?(?:place\b|pm\b|m1|slip|put|cast on)"
)
_CLOSED = WordForm(
    rf"(?<![a-z])(?:k|knit) ?(?P<n>{COUNT})(?: {STS})?, k2tog, (?:k|knit) to (?:the )?end"
)


def _closed(text: str, placed: Callable[[], Sequence[_Values]]) -> tuple[str, int] | None:
    """Compare where the stitch over a gap is taken in with where the gap is: as far from it in all sizes."""
    match = _CLOSED.search(text)
    if match is None:
        return None
    here, near = values(match["n"]), None
    for there in placed():
        apart = [b - a for a, b in zip(*alike(here, there), strict=True)]
        if len(apart) < 2 or max(map(abs, apart)) > 2:
            continue
        if len(set(apart)) == 1:
            return None
        near = there
    if near is None:
        return None
    return (
        f"{by_size(here)} sts before this decrease, and {by_size(near)} before the thumb: not as far from it in all sizes",
        match.start("n"),
    )


def _joined(text: str, counts: Callable[[], Sequence[_Values]]) -> tuple[str, int] | None:
    """Compare the whole behind a thumb with what is picked up for it and the sts on its two sides."""
    match = _JOINED.search(text)
    if (
        match is None
        or len(PICK_UP.findall(text)) > 1
        or len(re.findall(r"pick up", text, re.IGNORECASE)) > 1
    ):
        return None
    total, knit = alike(values(match["n"]), values(match["k"]))
    rest = tuple(t - k - int(match["p"]) for t, k in zip(total, knit, strict=True))
    if not rest or not any(rest) or rest == knit or not is_near(rest, knit, FAR):
        return None
    if rest in counts()[-LAST:]:
        return None
    made = tuple(2 * k + int(match["p"]) for k in knit)
    return (
        f"{by_size(knit)} sts on either side and {match['p']} picked up are {by_size(made)}, not {by_size(total)}",
        match.start("p"),
    )


def _thumb(
    there: _Values | None, first: re.Match[str], back: re.Match[str], behind: Sequence[Spoken]
) -> tuple[str, bool] | None:
    """Compare the two rows that set a thumb apart with all stitches, and with those it has behind them.

    Returns what is said, and whether it is the first of the rows that does not fit.
    """
    gained = int(first["a"] or first["b"])
    worked, purled = alike(values(first["n"]), values(back["n"]))
    more = int(back["a"] or 0)
    told = next(
        (m for one in behind if (m := _STATED.match(one.figures) or _THESE.search(one.figures))),
        None,
    )
    stated = values(told["n"]) if told is not None else None
    total = tuple(n + more for n in purled)
    if (
        stated is not None
        and len(stated) == len(total)
        and stated != total
        and is_near(stated, total, FAR)
    ):
        return (
            f"{by_size(purled)} sts and {more} cast on are {by_size(total)}, not {by_size(stated)}",
            False,
        )
    if there is None or len(there) != len(worked):
        return None
    made = tuple(2 * a - n + gained for a, n in zip(worked, there, strict=True))
    if made == purled or not is_near(made, purled, FAR):
        return None
    first_is = stated == total or (
        stated is None and any((a - b) % 2 == 0 for a, b in zip(made, purled, strict=True))
    )
    return (
        f"with as many of the {by_size(there)} sts on either side of the thumb it has {by_size(made)}; {by_size(purled)} are worked"
    ), first_is
