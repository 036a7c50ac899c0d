# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Lines that are told in more ways than can be listed, and known by their numbers.

What is on the needles says what the numbers must be. Where they agree, a line is taken for what
it says in short; the rest is talk.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from typing import Any, Final

import attrs

from loopwright.pattern._reading.after_short_rows import (
    may_close_side,
    may_go_round,
    round_in_short,
    side_closed,
)
from loopwright.pattern._reading.closed_in_short import closed_in_short, may_close
from loopwright.pattern._reading.gusset_in_short import gusset_grown, may_grow_gusset
from loopwright.pattern._reading.gusset_round import gusset_round, tells_gusset_round
from loopwright.pattern._reading.instep_first import instep_rests, may_rest_instep
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.needles_in_short import needles_in_short, tells_needles
from loopwright.pattern._reading.opening_in_short import (
    corners_picked,
    may_open,
    may_open_and_pick,
    may_pick_corners,
    opened,
    opened_and_picked,
)
from loopwright.pattern._reading.piece_aside import may_take_up_other, other_taken_up
from loopwright.pattern._reading.row_in_short import may_be_row, row_in_short
from loopwright.pattern._reading.row_leads import count_beside, names_row
from loopwright.pattern._reading.shaping_in_short import may_go_on_shaping, shaping_in_short
from loopwright.pattern._reading.short_rows_in_short import (
    may_go_on_narrowing,
    narrowed_in_short,
)
from loopwright.pattern._reading.stated import numbers_of_sizes
from loopwright.pattern._reading.thumb_in_short import (
    may_set_thumb_aside,
    may_take_up_thumb,
    thumb_aside,
    thumb_taken_up,
)
from loopwright.pattern._reading.turn_in_short import may_go_on_turning, turned_in_short
from loopwright.pattern._reading.waste_in_short import (
    may_knit_on_waste,
    opens_with_few,
    waste_in_short,
)
from loopwright.pattern._rewording.large_numbers import stitches_in_figures
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.values import Count, sized, values_of

__all__ = [
    "InShort",
    "count_beside",
    "in_short",
    "is_told_together",
    "may_be_in_short",
    "may_be_lost_row",
    "may_be_row",
    "names_row",
    "parted_in_title",
    "row_as_numbered",
]

Numbers = tuple[int, ...]


@attrs.frozen
class InShort:
    """What a line says in short, and whether it was so understood.

    Parameters
    ----------
    said : str
        The line in our own words.
    is_met : callable
        Tells of what is on the needles behind the line, whether it is what the line asks for.
    only_if_unread : bool
        Whether a line that was understood is left as it is, whatever its numbers.
    rather : bool
        Whether it is taken for the line whatever each of its sentences means by itself.
    """

    said: str
    is_met: Callable[[Live], bool]
    only_if_unread: bool = False
    rather: bool = False

    def leaves(self, after: Live) -> bool:
        """Tell whether a line that was understood is left as it was."""
        return not self.rather and (self.only_if_unread or self.is_met(after))


@lru_cache(maxsize=8192)
def may_be_in_short(text: str, titled: bool) -> bool:
    """Tell whether a line, behind a title that tells of the heel or not, is known by its numbers."""
    text = stitches_in_figures(text)
    return any(kind.may(text, titled) for kind in _KINDS)


@lru_cache(maxsize=8192)
def is_told_together(text: str) -> bool:
    """Tell whether sentences that mean something each mean something else together."""
    text = stitches_in_figures(text)
    return may_set_thumb_aside(text) or may_rest_instep(text)


def in_short(live: Live, text: str, titled: bool) -> InShort | None:
    """Return what a line says in short, None where its numbers are not those on the needles."""
    text = stitches_in_figures(text)
    for kind in _KINDS:
        if kind.may(text, titled) and (found := kind.read(live, text)) is not None:
            return found
    return None


@lru_cache(maxsize=8192)
def may_be_lost_row(text: str) -> bool:
    """Tell whether the stitches of a row may be picked out of a line that was lost."""
    return may_be_row(text) or tells_needles(text)


def row_as_numbered(
    live: Live, text: str, *, beside: str = "", is_sentence: bool = False
) -> InShort | None:
    """Return a row that could not be read in short, None where its stitches do not work out."""
    if tells_needles(text) and (on_needles := needles_in_short(live, text, beside)):
        line, behind = on_needles
        return InShort(line, lambda after: behind is None or _counts(after) == behind)
    if not may_be_row(text):
        return None
    row = row_in_short(live, text, beside=beside, is_sentence=is_sentence)
    if row is None:
        return None
    said, there = row
    return InShort(said, lambda after: _counts(after) == there)


@attrs.frozen
class _Kind:
    """A kind of lines: which may be of it, and how they are read."""

    may: Callable[[str, bool], bool]
    read: Callable[[Live, str], InShort | None]


def _kind(
    may: Callable[[str], bool],
    read: Callable[[Live, str], tuple[str, Any] | None],
    is_met: Callable[[Live, Any], bool],
    *,
    only_if_unread: bool = False,
    rather: bool = False,
) -> _Kind:
    """Return a kind whose lines are put in short, with what there is to be behind them."""

    def short(live: Live, text: str) -> InShort | None:
        if not (found := read(live, text)):
            return None
        said, there = found
        return InShort(said, lambda after: is_met(after, there), only_if_unread, rather)

    return _Kind(lambda text, titled: may(text), short)


def _bare(read: Callable[[Live, str], str | None]) -> Callable[[Live, str], tuple[str, Any] | None]:
    """Return a reading that tells nothing of what there is to be behind it."""

    def with_nothing(live: Live, text: str) -> tuple[str, None] | None:
        return (said, None) if (said := read(live, text)) else None

    return with_nothing


def _gusset_round(live: Live, text: str) -> InShort | None:
    if (found := gusset_round(live, text)) is None:
        return None
    said, total, stated = found
    knits_on = ", then k" in said  # some of the heel again
    return InShort(
        said,
        lambda after: (
            after.sure
            and not after.held()
            and (not stated or after.count == total)
            and not (knits_on and after.ends_picking_up)
        ),
    )


def _heel_apart(live: Live, text: str) -> InShort | None:
    if (known := _heel(live, text)) is None:
        return None
    said, told = known
    return InShort(said, lambda after: _all_held(after) and after.count in told)


def _turned(live: Live, text: str) -> InShort | None:
    if (known := turned_in_short(live, text)) is None:
        return None
    said, left, agrees = known
    return InShort(said, lambda after: after.count == left, only_if_unread=not agrees)


def _all_held(live: Live) -> bool:
    """Tell whether something is held, and nothing that has no stitches."""
    held = [values_of(count) for count in live.held().values()]
    return bool(held) and all(all(values) for values in held)


def _counts(live: Live) -> Numbers:
    return tuple(tally.count for tally in live.tallies)


def _are_there(live: Live, counts: Numbers) -> bool:
    return _counts(live) == counts


def _is_there(live: Live, count: Count) -> bool:
    return live.count == count


def _is_closed(live: Live, _: None) -> bool:
    return live.sure and live.count == 0 and not live.held()


_HEEL = WordForm(r"\b(?:heel|flap|sole|back of)\b")
_RESTS = WordForm(
    r"\b(?:leav\w*|left|rests?|resting|(?<!\d )(?<!needles )hold|held|later|wait\w*|only|turn|back and forth|to and fro|flat"
    r"|in rows|one needle|unworked|ignore|aside|holder|reserve|park\w*|pin|threads?|stay\w*|forget|scrap|waste yarn)\b"
)
_IS_LEFT = WordForm(  # who does not say "heel" turns, and says what becomes of the rest
    r"\bturn\b(?! (?:the|your) (?!work)).*\b(?:leav\w*|left|rests?|hold(?:er)?|wait\w*|instep|remaining|others?(?! (?:side|end|needle|edge))|second|pin|threads?|stay\w*|forget|scrap|waste|aside|unworked)\b"
    r"|\b(?:hold|keep|leave|put|slip|place|set)\b.*\b(?:holder|reserve|wait\w*|aside|waste yarn|scrap yarn|threads?|pin|rest|hold)\b.*\binstep\b"
    r"|\binstep\b.*\b(?:to|on|onto) (?:an?|the|some) (?:\w+ ){0,2}(?:holder|pin|threads?|yarn)\b"
)
_WORKS_IT = WordForm(
    r"\b(?:[kp]\d?tog|ssk|skpo?|ssp|m1\w?|kfb|yo|w&t|wrap\w*|ds|cast|bind|sl(?:ip)? ?1|slip the first|\d+ (?:more |plain )?(?:rounds|rnds)|rep\w*|toe|thumb|pick|graft|again|back to|(?:with|in|on) (?:waste|scrap) yarn)\b"
)
_SHAPED = WordForm(r"\b(?:rows?|rounds?|rnds?) (?!1\b(?! ?(?:[-–,&]|and|to)))\d+(?! of\b)")


_TWO_PLACES = WordForm(  # "sole = first 16 sts, instep = the rest": both are worked on
    r"(?!.*\b(?:heel|flap|leav\w*|left|rests|resting|hold|held|holder|later|wait\w*|only|turn|forth|rows|unworked|ignore|aside)\b)"
    r"(?:(?=.*\bsole\b)(?=.*\b(?:instep|front|top|upper)\b)|(?=.*\bback\b)(?=.*\b(?:palm|front)\b))",
)


_BESIDE = WordForm(  # "the 16 sts above the waste yarn make the sole": where they lie
    r" (?:(?:that|which) (?:are|lie) )?(?:in line with|above|below|over|under|behind|after|opposite|beside|along|beyond) (?:the |your )?(?:heel|flap|(?:waste|scrap) yarn)\b"
)
_AROUND_START = WordForm(  # they meet where the round begins: half the heel is worked first
    r"\b(?:needles?|n) ?(?:4(?: and| ?&) (?:needle |n ?)?1|1(?: and| ?&) (?:needle |n ?)?4) (?:only|alone)\b"
)
_WITH_GUSSETS = WordForm(  # "11 gusset sts, 28 heel sts, 11 gusset sts. Work on N2 only": it holds them all
    r"\b(?:gusset|(?:place|put|hang|set) (?:a )?markers?)\b.*\b(?:(?:needle |n ?)\d now rests|(?:on|with|over) (?:needle |n ?)\d (?:only|alone))\b"
)


def _parts_heel(text: str, titled: bool) -> bool:
    """Tell whether a line may set the heel apart, and do nothing else."""
    if _TWO_PLACES.match(_BESIDE.sub("", text)) is not None and not titled:
        return False
    return (
        (titled or _HEEL.search(text) is not None or _IS_LEFT.search(text) is not None)
        and _RESTS.search(text) is not None
        and _WORKS_IT.search(text) is None
        and _SHAPED.search(text) is None
        and _WITH_GUSSETS.search(text) is None
        and _AROUND_START.search(text) is None
        and not may_knit_on_waste(text)
    )


_OF_THE_REST = r"(?:instep|front|top|upper|hold|holder|rest\w*|remaining|rem|other|others|wait\w*|later|unworked|leave|leaving|park|reserve|stay|pin|threads?|forget|waste|scrap|second)"
_OF_THE_HEEL = r"(?:heel|flap|sole|back|on these|over the)"
_REST_NEAR = WordForm(rf"\b{_OF_THE_REST}\b")
_HEEL_NEAR = WordForm(rf"\b{_OF_THE_HEEL}\b")
_CLAUSE = re.compile(r"[;.!]\s|[,:—–]\s|—|\band\b(?! forth)", re.IGNORECASE)
_REST_FIRST = WordForm(
    rf"(?:first|next) {COUNT}(?: sts| stitches)? (?:on|to|onto|for|as|and let)\b[^.;]*?(?:hold|instep|rest|top|front)"
    rf"|(?:rib|work|k|knit|patt)\b[^.;]*?{COUNT}[^.;]*[.;,]?\s*(?:and )?(?:put|place|slip|leave|let|move) (?:these|those|them)\b[^.;]*?(?:hold|instep|rest|top|front)",
)
_WAITS = WordForm(r"\b(?:instep|front|top|hold\w*|wait\w*|rests|leave|park)\b")
_ONLY = WordForm(rf"\b(?:only|just)\b.*{COUNT}|{COUNT} (?:sts |stitches )?only\b")
_NEEDLES = WordForm(r"\b(?:needles?|n) ?\d(?:(?: ?,| and| &)+ ?\d)*\b")
_COURSES = WordForm(r"\b(?:rows?|rounds?|rnds?|r) ?\d{1,2}(?: ?[-–] ?\d+)?\b")
_TURNED = WordForm(r"\bturn\b(?! the heel)")
_HALF = WordForm(r"\bhalf (?:only|rests|waits)|only (?:the )?(?:sole|heel|back)? ?half\b")


def _heel(live: Live, text: str) -> tuple[str, set[Count]] | None:
    """Return in short how the heel is set apart, and how many stitches it may have."""
    if not live.in_rounds or live.held() or live.behind_any():
        return None
    text = _COURSES.sub("row", _NEEDLES.sub("needle", text))
    whole = tuple(tally.count for tally in live.tallies)
    sizes = len(whole)
    told = [
        (numbers, match.start())
        for match in re.finditer(COUNT, text)
        if (numbers := numbers_of_sizes(match[0], sizes))
        and all(0 < a < b for a, b in zip(numbers, whole, strict=True))
    ]
    if (around := _around_start(text, told, whole)) is not None:
        return around
    heel = _of_the_heel(text, told, whole)
    if heel is None or not (live.sure or len(told) > 1 or not told):
        return None
    rest = tuple(a - b for a, b in zip(whole, heel, strict=True))
    waits = f"{sized(rest)} sts on a holder for the instep."
    if _REST_FIRST.search(text):
        said = f"Place the first {waits}"
    elif _TURNED.search(text):
        said = f"K{sized(heel)}, turn. Place the remaining {waits}"
    else:
        said = f"Place the last {waits}"
    return said, {sized(heel), *(sized(numbers) for numbers, _ in told)}


_BACK_OVER = WordForm(r"\bturn\b.*\b(?:purl|p)\b.*\b(?:them|those|needles?|last|and)\b")


def _around_start(
    text: str, told: list[tuple[Numbers, int]], whole: Numbers
) -> tuple[str, set[Count]] | None:
    """Read a heel that lies around the beginning of the round: k14, turn, p28."""
    heel = tuple(n // 2 for n in whole)
    numbers = [n for n, _ in told]
    if not _BACK_OVER.search(text) or any(n % 4 for n in whole) or heel not in numbers:
        return None
    half = tuple(n // 2 for n in heel)
    if any(n not in (heel, half) for n in numbers) or not (half in numbers or "needle" in text):
        return None
    said = f"K{sized(half)}, turn, p{sized(heel)}: these {sized(heel)} sts are the heel. The other {sized(heel)} sts are the instep."
    return said, {sized(heel)}


def parted_in_title(live: Live, title: str) -> str | None:
    """Read "Heel flap (sole half only; instep half rests)", a title that sets the heel apart."""
    if not (_HEEL.search(title) and _HALF.search(title)):
        return None
    known = _heel(live, title)
    return known[0] if known else None


def _of_the_heel(text: str, told: list[tuple[Numbers, int]], whole: Numbers) -> Numbers | None:
    """Return which of the numbers told is that of the heel."""
    halves = tuple(n // 2 for n in whole)
    even = all(n % 2 == 0 for n in whole)
    for numbers, at in told:
        rest = tuple(a - b for a, b in zip(whole, numbers, strict=True))
        others = [other for other, place in told if place != at and other == rest]
        if even and numbers == halves and (others or _REST_NEAR.search(text)):
            return halves
        if _ONLY.search(_clause(text, at)):
            return numbers
        if not others and not _REST_NEAR.search(text):
            continue
        clause = _clause(text, at)
        if others and not _HEEL.search(clause) and _names_heel(text, told, rest):
            return rest
        if _HEEL_NEAR.search(clause) and not _REST_NEAR.search(clause):
            waits = [o for o, place in told if _REST_NEAR.search(_clause(text, place))]
            return numbers if all(other == rest for other in waits) else None
        if others and _REST_NEAR.search(clause) and not _HEEL.search(clause):
            return rest
    return halves if even and not told and _HALF.search(text) else None


def _names_heel(text: str, told: list[tuple[Numbers, int]], many: Numbers) -> bool:
    """Tell whether a clause calls so many stitches the heel's, and says of none that they wait."""
    clauses = [_clause(text, place) for numbers, place in told if numbers == many]
    return any(_HEEL.search(one) and not _WAITS.search(one) for one in clauses)


def _clause(text: str, at: int) -> str:
    """Return the clause that a place stands in."""
    start = max((m.end() for m in _CLAUSE.finditer(text, 0, at)), default=0)
    after = _CLAUSE.search(text, at)
    return text[start : after.start() if after else len(text)]


_KINDS: Final = (
    _Kind(lambda text, titled: tells_gusset_round(text), _gusset_round),
    _kind(may_rest_instep, _bare(instep_rests), lambda after, _: "instep" in after.held(), rather=True),
    _Kind(lambda text, titled: _parts_heel(text, titled), _heel_apart),
    _kind(may_close, _bare(closed_in_short), _is_closed),
    _kind(may_take_up_other, _bare(other_taken_up), lambda after, _: "instep" in after.held()),
    _kind(
        may_set_thumb_aside, thumb_aside,
        lambda after, left: _are_there(after, left) and bool(after.held()), rather=True,
    ),
    _kind(
        may_take_up_thumb, thumb_taken_up,
        lambda after, whole: _are_there(after, whole) and not after.held(),
    ),
    _kind(may_grow_gusset, gusset_grown, _are_there),
    _Kind(lambda text, titled: may_go_on_turning(text), _turned),
    _kind(may_go_on_shaping, shaping_in_short, _are_there, only_if_unread=True),
    _kind(may_go_on_narrowing, narrowed_in_short, _are_there, only_if_unread=True),
    _kind(may_close_side, side_closed, _are_there, only_if_unread=True),
    _kind(
        may_go_round, round_in_short,
        lambda after, whole: after.in_rounds and _are_there(after, whole), only_if_unread=True,
    ),
    _kind(may_open, opened, _are_there),
    _kind(may_open_and_pick, opened_and_picked, _is_there),
    _kind(may_pick_corners, corners_picked, _is_there),
    _kind(
        opens_with_few, _bare(waste_in_short),
        lambda after, _: any(tally.waste for tally in after.tallies), rather=True,
    ),
    _kind(
        may_knit_on_waste, _bare(waste_in_short),
        lambda after, _: any(tally.waste for tally in after.tallies),
    ),
)  # fmt: skip
