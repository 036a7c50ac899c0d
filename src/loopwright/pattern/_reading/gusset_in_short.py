# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A thumb gusset that grows between two markers, told in any words, known by its numbers."""

from __future__ import annotations

from loopwright.pattern import steps as st
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import number_of, numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import MARKER, Tally
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.items import Run
from loopwright.pattern.values import sized

__all__ = ["gusset_grown", "may_grow_gusset"]

Numbers = tuple[int, ...]

_FEW = rf"(?:\d|{'|'.join(NUMBER_WORDS[:9])})"
_CRS = r"(?:rounds?|rnds?|rows?)\b"
_WHERE = WordForm(r"\b(?:markers?|m|sm|gusset|thumb)\b")
_GOES_ON = WordForm(
    r"\b(?:rep|repeat|keep|cont\w*|carry on|go on|alternat\w*|until|till?|times|every|each(?= [a-z])|total of)\b"
)
_REACHED = WordForm(
    rf"(?P<n>{COUNT}) ?(?:\w+ )?(?:sts?|stitches)\b|\b(?:has|have|are|=|to|total(?: is| of|:)?(?: now)?) (?P<m>{COUNT})(?!\w| ?\()|(?P<o>{COUNT}) (?:(?:of them|sts|stitches|in all|in total|altogether|on the needles?)\b|(?:lie |are )?(?:between|in the gusset))",
)
_INCREASES = WordForm(
    r"\b(?:m1\w?|mak(?:e|ing) (?:1|one)|kfb|inc\w*)\b.*\bmarkers?\b|\bmarkers?\b.*\b(?:m1\w?|mak(?:e|ing) (?:1|one)|kfb|inc\w*)\b"
)
_ONE_EACH = WordForm(  # both of one round lie between the markers
    r"\b(?:after|inside|within|between|sm|slip\w*|sl|beyond|to (?:the |next |second |2nd |other )*(?:markers?|m))\b"
)
_OTHER = WordForm(
    r"\b(?:[kp]\d?tog|ssk|skpo?|dec\w*|cast|bind|hold|holder|waste|scrap|pick|turn|yo|pm|place|mov(?:e|ing)|shift\w*)\b|\b(?:row|needle) \d"
    r"|\b(?:un)?til+\b[^.;]*[.;] (?:(?:now|then|next) )*(?:put|slip|knit|work|leave|set|thread|transfer)\b",
)
_EVERY = WordForm(
    r"\b(?:every|each) (?P<n>\d+|other|second|third|fourth|fifth|sixth)(?:nd|rd|th)?\b",
)
_NTH = {"other": 2, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6}
_PLAIN = WordForm(
    rf"\b(?P<n>{_FEW}) (?:(?:plain|even|straight|knit) )?{_CRS}(?: (?:straight|even|plain))?(?! more)",
)
_LAST = WordForm(
    rf"\b(?:the )?(?:last|these|those|previous) (?P<n>{_FEW}) {_CRS}|\b{_CRS} (?P<a>\d+) ?(?:-|–|to|and) ?(?P<b>\d+)",
)
_TIMES = WordForm(
    rf"(?P<before>another |(?:a )?further )?(?P<n>{COUNT}|{_FEW}) (?P<more>more |further )?times\b(?P<after> more| again)?",
)


def may_grow_gusset(text: str) -> bool:
    """Tell whether a line lets a gusset grow between two markers.

    Examples
    --------
    >>> may_grow_gusset("Keep increasing every third round until the markers are 13 sts apart.")
    True
    >>> may_grow_gusset("Rnd 1: K to marker, sm, m1l, k to marker, m1r, sm, k to end.")
    False
    """
    return bool(
        _WHERE.search(text) and _GOES_ON.search(text) and _REACHED.search(text)
    ) and not _OTHER.search(text)


def gusset_grown(live: Live, text: str) -> tuple[str, Numbers] | None:
    """Return in short how a gusset grows, and the stitches there are then; None where that is not told.

    The increases before it say how one round is worked; where there are none, the line itself.
    """
    there = tuple(tally.count for tally in live.tallies)
    if not live.in_rounds or live.held() or live.behind_any() or not there or not all(there):
        return None
    between = tuple(_between_markers(tally) for tally in live.tallies)
    found = _reached(text, there, between)
    if found is None or not all(between):
        return None
    reached, total, both = found
    if not (live.sure or both):
        return None
    more = tuple(a - b for a, b in zip(reached, there, strict=True))
    if any(n % 2 for n in more):
        return None
    often = tuple(n // 2 for n in more)
    if not _is_so_often(text, often):
        return None
    change, told = live.last_change(), _period(text)
    if change is None:
        return None
    end = f"{sized(total)} sts."
    again = tuple(n - 1 for n in often)
    shapes = bool(_INCREASES.search(text) and _ONE_EACH.search(text))
    period = told or change.period
    if period is None or not (shapes or change.period == period):
        return None
    plain = _first_plain(text, period, change.plain)
    if isinstance(change.step, st.Round) and not shapes and plain == period - 1:
        return f"Rep the last {period} rnds {sized(often)} more times. {end}", reached
    begin = f"Knit {plain} rnds. " if plain else ""
    inc = f"Next rnd: {_increases(change.step)}"
    if plain < period - 1:
        begin += f"{inc} Knit {period - 1} rnds. "
        again = tuple(n - 1 for n in again)
    if min(again) < 1:
        return None
    return (
        f"{begin}{inc} Rep the last {period} rnds {sized(again)} more times. {end}",
        reached,
    )


def _increases(step: st.Step) -> str:
    """Return the round that increases on both sides of a gusset, with the increases worked before."""
    items = step.items if isinstance(step, st.Round | st.Part) else ()
    made = [item.stitch for item in items if isinstance(item, Run) and item.stitch in _MADE]
    one, other = made if len(made) == 2 else ("m1l", "m1r")
    return f"K to marker, sm, {one}, k to marker, {other}, sm, k to end of rnd."


_MADE = ("m1", "m1l", "m1r", "yo")


def _first_plain(text: str, period: int, plain: int) -> int:
    """Return how many plain rounds come before the first increase."""
    told = _PLAIN.search(text)
    shaped = _INCREASES.search(text)
    if told and shaped and told.start() < shaped.start() + 1 and number_of(told["n"]) == period - 1:
        return period - 1
    return max(0, period - 1 - plain)


def _reached(text: str, there: Numbers, between: Numbers) -> tuple[Numbers, Numbers, bool] | None:
    """Return the stitches that a line asks for, its total, and whether both are told and agree.

    They are told as they are, or as those between the markers.
    """
    told = [
        numbers
        for one in _REACHED.finditer(text)
        if (numbers := numbers_of_sizes(one["n"] or one["m"] or one["o"], len(there)))
    ]
    wholes = [n for n in told if all(a > b for a, b in zip(n, there, strict=True))]
    inner = [n for n in told if all(b < a < c for a, b, c in zip(n, between, there, strict=True))]
    by_inner = [tuple(a + b - c for a, b, c in zip(there, n, between, strict=True)) for n in inner]
    both = [n for n in wholes if n in by_inner]
    if both:
        return both[-1], both[-1], True
    if by_inner:
        return by_inner[-1], wholes[-1] if wholes else by_inner[-1], False
    return (wholes[-1], wholes[-1], False) if wholes else None


def _is_so_often(text: str, often: Numbers) -> bool:
    """Tell whether the times that are told, if any, are those that the numbers ask for."""
    told = _TIMES.search(text)
    if told is None:
        return True
    word = number_of(told["n"])
    many = (
        numbers_of_sizes(told["n"], len(often)) if told["n"][0].isdigit() else (word,) * len(often)
    )
    more = told["before"] or told["more"] or told["after"]
    return many == often or (not more and many == tuple(n + 1 for n in often))


def _period(text: str) -> int | None:
    """Return in how many rounds there is one that increases, as a line tells it."""
    if every := _EVERY.search(text):
        return _NTH.get(every["n"].lower()) or number_of(every["n"])
    if last := _LAST.search(text):
        return number_of(last["n"]) if last["n"] else 1 + int(last["b"]) - int(last["a"])
    if plain := _PLAIN.search(text):
        return 1 + number_of(plain["n"])
    return None


def _between_markers(tally: Tally) -> int:
    """Return how many stitches lie between the next two markers, 0 where there are none."""
    first = tally.next_of(MARKER)
    second = None if first is None else tally.next_of(MARKER, beyond=first + 1)
    return 0 if first is None or second is None else second - first
