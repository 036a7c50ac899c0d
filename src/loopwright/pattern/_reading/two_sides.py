# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The two sides of a slit, one worked after the other: the first waits, and both are joined again."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Run, Turn
from loopwright.pattern.values import as_many

__all__: list[str] = []

_SIDE = r"(?:side|half|part|front|leg|flap|piece|strap)"
_OF_SIDES = WordForm(rf"\b(?:first|1st|second|2nd|other|left|right) {_SIDE}\b")
_JOINS = WordForm(r"\bjoin\b")
_FIRST = "first side"  # what its stitches are held as
_ON = r"(?:of|on|from) (?:the |your )?"


def _of_sides(scribe: Scribe) -> bool:
    """Tell whether a piece is worked flat in two sides, one of which waits."""
    live = scribe.now()
    flat = not live.in_rounds and live.sure and bool(live.tallies) and live.count != 0
    done = all(not (tally.ahead and tally.behind) for tally in live.tallies)
    return flat and done and _OF_SIDES.search(scribe.context.section) is not None


def _aside(scribe: Scribe) -> list[Says]:
    """Hold the side in work; the yarn is cut, and joined anew at the right side."""
    live = scribe.now()
    begin: list[Says] = [st.BeginHere()] if any(tally.behind for tally in live.tallies) else []
    turned = [] if all(tally.right_side for tally in live.tallies) else [st.Part((Turn(),))]
    return [*begin, *turned, st.Hold(live.count, _FIRST)]


@rule(
    r"(?:(?:and|then|now) )*(?:(?:cut|break)(?: off)?(?: the)? (?:yarn|wool),? (?:and )?)?(?:slip|sl|place|put|move|transfer|leave|set|keep|slide|let)\b (?:(?:all|both|the|these|those|your|live) )*(?:(?P<n>{N}) )?(?:{STS}|them) (?:wait(?:ing)?|rest(?:ing)?|aside|(?:on ?to|on) (?!(?:the|your|its|their) needles?\b)(?:a (?:second|new|separate|further) )?{HOLDER})(?: (?:yarn|wool|thread|cotton|needle))?"
)
@alone
def _first_waits(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "leave these 40 sts on a spare needle" behind the first side."""
    live = scribe.now()
    if not _of_sides(scribe) or {*live.held()} != {"instep"}:
        return None
    if said["n"] and as_many(count_in(said["n"]), live.count) != as_many(live.count, live.count):
        return None
    return _aside(scribe)


@rule(
    r"(?:(?:and|then|now) )*(?:put|return|slip|sl|place|move|transfer|take(?: up)?|slide) (?:back )?(?:(?:the|these|those|your) )*(?:(?:held|other|waiting|resting|remaining) )?(?:(?P<n>{N}) )?(?:(?:held|other|waiting|resting|remaining) )?{STS}(?: (?:that (?:wait|are waiting|were held|are on hold)|on hold|from (?:(?:the|a|its) (?:first|other) )?{HOLDER}(?: (?:yarn|thread|wool|pin|needle))?|held|waiting))?(?: back)? (?:on ?to|on|to) (?:(?:a|the|your|another|an empty|one) )?(?:[a-z-]+ )?(?:needles?|dpns?)(?:,? with [a-z ]+ facing)?(?:,? and (?:re)?join (?:the )?(?:yarn|wool)(?: (?:on|at) the [a-z ]+)?)?"
)
def _second_worked(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "put the 40 held sts on a needle", where those of the first side stay as they are."""
    held = scribe.now().held()
    if "instep" not in held or not {*held} <= {"instep", _FIRST}:
        return None
    if said["n"] and count_in(said["n"]) != held["instep"]:
        return None
    if scribe.now().count == 0 and _FIRST in held:
        return [st.ReturnHeld("instep")]
    if not _of_sides(scribe) or _FIRST in held:
        return None
    return [*_aside(scribe), st.ReturnHeld("instep")]


@rule(
    rf"(?:k|knit|work)(?: across)? (?:the )?(?:(?P<a>{{N}}) )?{{STS}} {_ON}(?:second {_SIDE}|needles?|other {_SIDE}),? (?:and )?(?:then )?(?:(?:k|knit|work) )?(?:across )?(?:the )?(?:(?P<b>{{N}}) )?{{STS}} {_ON}(?:first {_SIDE}|(?:second |other |first )?(?:holder|pin|spare needle|waste yarn|scrap yarn))(?: (?:on ?to|with) [^;*\d]*)?"
)
def _joined(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit the 40 sts of the second side, then the 40 of the first"."""
    live = scribe.now()
    held = live.held()
    if live.in_rounds or not live.sure or {*held} != {_FIRST} or live.count == 0:
        return None
    for told, many in ((said["a"], live.count), (said["b"], held[_FIRST])):
        if told and as_many(count_in(told), live.count) != as_many(many, live.count):
            return None
    both = st.Part((Run("k", live.count),)), st.Part((Run("k", held[_FIRST]),))
    join = [] if _JOINS.search(scribe.following) else [st.Join()]
    return [both[0], st.ReturnHeld(_FIRST, next_to_work=True), both[1], *join]
