# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Markers hung by hand between two rounds: "markers: one after st 24, one after st 54".

Nothing is worked for them. So they are placed in the round that was worked last, where that has a
place between two stitches there.
"""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.centre import mark_last_row
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.wordings import STS
from loopwright.pattern.items import KNIT, Mark, Repeat, Run
from loopwright.pattern.values import as_many

__all__: list[str] = []

_HANG = r"(?:place|put|hang|slip|set|clip|stick|fix|tie|add)(?: in| up)?"
_A_MARKER = r"(?:(?:a|an|one|two|three|new|\d) )?(?:stitch )?(?:markers?|m|ones?|safety pins?|loops? of (?:yarn|thread)|threads?)(?: in| on the needles?)?,?"
_TH = r"(?:st|nd|rd|th)"
_NTH = rf"(?:{STS} \d+|(?:the )?\d+{_TH}(?: {STS})?)"
_MORE = r"(?:,? (?:and )?(?:(?:another|one|a second|the other|the second)(?: marker| one)? )?(?:after )?(?:again )?(?:after )?(?:the )?|, )"


@rule(
    rf"(?:now |then |[a-z]{{3,}}(?: [a-z]{{3,}})?: )?(?:(?:on|in|during|while (?:knitting|working)|as you (?:knit|work)) (?:the |this |that )?(?:very )?(?:last|final|same|this|that)?(?: of (?:these|those|them))? ?(?:{{CRS}}|one)(?: of (?:these|those|them))?,? )?(?:(?:stitch )?markers?: |{_HANG}(?:ing)? )?{_A_MARKER} (?:in )?(?:after |behind )?every (?P<n>{{N}})(?:{_TH})? {{STS}}(?:[,;(] ?[^*\d]*)?"
)
@alone
def _after_every(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "on the last round, place a marker after every 14 sts" of a plain round just told."""
    live, entries = scribe.now(), scribe.assembler.entries
    many = count_in(said["n"])
    each = as_many(many, live.count)
    if (
        "mark" not in said[0].lower()
        or not live.is_whole_round
        or any(
            not n or tally.count % n or tally.count == n
            for tally, n in zip(live.tallies, each, strict=True)
        )
    ):
        return None
    kept = scribe.assembler.kept()
    _part_last_round(scribe)
    if not isinstance(last := entries[-1].step, st.Round) or last.items != (KNIT,):
        scribe.assembler.back_to(kept)
        return None
    entries[-1].step = attrs.evolve(last, items=(Repeat((Run("k", many), Mark())),))
    return []


@rule(
    rf"(?:now |then )?(?:(?:stitch )?markers?: |{_HANG} )?(?:{_A_MARKER}(?: sits?| hangs?)? )?after (?P<all>{_NTH}(?:{_MORE}(?:{_NTH}|\d+))*)"
)
@alone
def _after_these(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "one after st 24, one after st 54", "after the 24th and the 54th stitch"."""
    live = scribe.now()
    if "mark" not in said[0].lower() and not re.match(
        rf"(?:now |then )?{_HANG}", said[0], re.IGNORECASE
    ):
        return None
    places = [int(n) for n in re.findall(r"\d+", said["all"])]
    if places != sorted({*places}) or any(places[-1] >= tally.count for tally in live.tallies):
        return None
    return _hung(scribe, [[place] * len(live.tallies) for place in places])


@rule(
    rf"(?:now |then )?{_HANG} (?:a |the |your |two |2 )?(?:stitch )?markers? (?P<n>{{N}})(?: {{STS}})? (?:in )?from (?:each|either|both) (?:ends?|edges?|sides?)"
)
@alone
def _from_both_ends(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "set markers 5 sts in from either end" of a row."""
    live = scribe.now()
    many = [int(n) for n in as_many(count_in(said["n"]), live.count)]
    if live.in_rounds or any(
        2 * n >= tally.count for tally, n in zip(live.tallies, many, strict=True)
    ):
        return None
    return _hung(scribe, [many, [t.count - n for t, n in zip(live.tallies, many, strict=True)]])


@rule(
    r"(?:the )?(?:thumb |gusset )*(?:gusset|thumb) (?:is|are|takes|has) (?:the )?(?P<n>{N})(?: {STS})? (?:(?:that (?:come|lie|stand) )?(?:right )?(?:after|behind)) (?:the )?first (?P<a>{N})(?: {STS})?(?:; | and |, (?:and )?|: )(?:(?:a|one) markers? (?:sits?|hangs?|stands?|is|lies) (?:on|at) (?:either|each|both) (?:sides?|ends?)(?: of (?:it|them))?)"
)
@alone
def _around_gusset(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "the gusset is the 13 sts after the first 28; a marker sits on either side of it"."""
    live = scribe.now()
    many, first = (as_many(count_in(said[name]), live.count) for name in ("n", "a"))
    ends = [int(a) + int(b) for a, b in zip(first, many, strict=True)]
    if any(end > tally.count for tally, end in zip(live.tallies, ends, strict=True)):
        return None
    return _hung(scribe, [[int(n) for n in first], ends])


def _hung(scribe: Scribe, places: list[list[int]]) -> list[Says] | None:
    """Hang markers after so many stitches, for each size; None where they can't be placed."""
    live, entries = scribe.now(), scribe.assembler.entries
    if not live.sure or live.behind_any() or not entries:
        return None
    kept = scribe.assembler.kept()
    _part_last_round(scribe)
    if all(mark_last_row(scribe, place) for place in places):
        return []
    scribe.assembler.back_to(kept)
    return None


def _part_last_round(scribe: Scribe) -> None:
    """Let the last of some like rounds stand by itself; behind a length it is one more."""
    entries = scribe.assembler.entries
    last = entries[-1].step
    if not isinstance(last, st.RepeatRounds) or len(last.steps) != 1:
        return
    if last.ending or last.every != 1 or last.times == 1:
        return
    if isinstance(last.times, int):
        entries[-1].step = attrs.evolve(last, times=last.times - 1)
    entries.append(type(scribe.assembler).entry(last.steps[0]))
