# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Flat rows with stitches bound off in their midst, and the rows that cast others on over the gaps.

The last stitch of a bind-off lies over one that is worked: "K14, bind off 16, k14" of 44 stitches
counts it among the second 14, "k13" does not.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.rule_table import rule
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.items import Repeat, Run, Turn
from loopwright.pattern.values import Count, Sized, sized, values_of

__all__ = ["opened"]


def opened(scribe: Scribe, says: Sequence[Says]) -> list[Says]:
    """Return a flat row in which stitches are bound off, turned at its end where all is worked."""
    live = scribe.now()
    if not any(_is_amid(one, says[at + 1 :]) for at, one in enumerate(says)) or live.in_rounds:
        return list(says)
    if live.tallies and all(tally.behind and not tally.ahead for tally in live.tallies):
        says = [st.Part((Turn(),)), *says]  # they were cast on just now
    found = next((way for way in (list(says), _loops_counted(says)) if _fits(live, way)), None)
    if found is None:
        return list(says)
    last = found[-1]
    if not isinstance(last, st.Part) or not isinstance(last.items[-1], Run | Repeat):
        return found
    return [*found[:-1], st.Part((*last.items, Turn()))] if _ends(live, found) else found


def _is_amid(one: Says, behind: Sequence[Says]) -> bool:
    """Tell whether some stitches are bound off, and others worked behind them."""
    return isinstance(one, st.BindOff) and one.stitches is not None and bool(behind)


def _loops_counted(says: Sequence[Says]) -> list[Says]:
    """Return steps with the stitch left by a bind-off counted among those told behind it."""
    found: list[Says] = []
    for one in says:
        if found and isinstance(found[-1], st.BindOff) and isinstance(one, st.Part):
            first, *rest = one.items
            if isinstance(first, Run) and isinstance(first.amount, int | Sized):
                fewer = [int(value) - 1 for value in values_of(first.amount)]
                if min(fewer) < 0 or (min(fewer) == 0 and max(fewer)):
                    return []
                first_left = [attrs.evolve(first, amount=sized(fewer))] if fewer[0] else []
                if not first_left and not rest:
                    continue
                one = attrs.evolve(one, items=(*first_left, *rest))
        found.append(one)
    return found


def _fits(live: Live, says: Sequence[Says]) -> bool:
    steps = [one for one in says if isinstance(one, st.Step)]
    if not steps or len(steps) != len(says):
        return False
    return not any(live.trial(steps, size).troubles for size in range(len(live.tallies)))


def _ends(live: Live, says: Sequence[Says]) -> bool:
    """Tell whether all stitches of the row are worked by these steps."""
    steps = [one for one in says if isinstance(one, st.Step)]
    ends = [live.trial(steps, size).tally for size in range(len(live.tallies))]
    return bool(ends) and not any(tally.ahead for tally in ends)


_GAP = r"(?:gaps?|openings?|slots?|holes?|spaces?|button ?holes?|(?:those |the |sts |stitches )?(?:bound|cast)[- ]off(?: sts| stitches| edge| pairs?| groups?| ones?| places?)?|(?:sts|stitches) (?:that were )?(?:bound|cast) off(?: (?:in|on) (?:the )?(?:last|previous) row)?|ones? (?:bound|cast) off)"
_SEVERAL = WordForm(r"\b(?:each|every|both|all|gaps|slots|holes|openings|spaces)\b")
_WORK = r"(?:(?:work|rib|patt(?:ern)?|k|p|knit|purl)\b\.?(?: (?:across|back|all|in (?:rib|patt\w*|st st|garter(?: st\w*)?)|as set|as before|the (?:next )?row|to (?:the )?end(?: of (?:the )?row)?|along))*)"
_OVER = rf"(?:(?:over|above|across|in|at|for|to replace|in place of) (?:each|every|the|both|all|it|them|those|these)\b(?: (?:of )?(?:the |these |those )?)?(?:(?P<many>\d+|two|three|four|five|six|seven|eight|nine|ten) )?(?:{_GAP})?(?: of (?:the )?(?:last|previous) row)?)"


@rule(
    rf"(?:now )?(?P<how>{_WORK}),? (?:and |but )?(?:cast(?:ing)?[ -]on|co|replac(?:e|ing)) (?P<n>{{N}})(?: (?:new )?{{STS}})? {_OVER}"
)
def _cast_on_over(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "rib, casting on 2 sts over each of the 6 gaps", from how the row before was opened."""
    if not re.search(r"\b(?:each|every|both|all|those|these)\b", said[0]) and not re.search(
        _GAP, said[0]
    ):
        return None
    parts = _parts_of_row(scribe)
    if parts is None and (scribe.now().in_rounds or not _SEVERAL.search(said[0])):
        return None
    if parts is None:
        raise Lost("the row that bound these stitches off was not read")
    if said["many"] and number_of(said["many"]) != len(parts) - 1:
        raise Lost("another number of gaps than the row before left")
    return _back(scribe, said["how"], count_in(said["n"]), parts)


@rule(
    rf"(?P<how>(?:work|rib|patt(?:ern)?|k|p|knit|purl)\b\.?) (?:back )?(?:to|as far as|until(?: you (?:reach|get to))?) (?:the )?{_GAP},? (?:and )?(?:turn,? (?:and )?)?(?:cast(?:ing)?[ -]on|co) (?P<n>{{N}})(?: (?:new )?{{STS}})?(?: {_OVER})?,? (?:and )?(?:then )?(?:turn,? (?:and )?)?(?:work|rib|patt(?:ern)?|k|p|knit|purl)\b\.? (?:on )?(?:to (?:the )?end(?: of (?:the )?row)?|across(?: the rest)?|the rest(?: of the row)?|(?:the )?(?:rem(?:aining)?|other) (?:{{N}} )?{{STS}})"
)
def _to_gap_and_on(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "k to the gap, cast on 16 sts, k to end"."""
    parts = _parts_of_row(scribe)
    return None if parts is None else _back(scribe, said["how"], count_in(said["n"]), parts)


def _back(scribe: Scribe, how: str, many: Count, parts: Sequence[Count]) -> list[Says]:
    stitch = "p" if how.lower().startswith("p") and not how.lower().startswith("patt") else "k"
    steps: list[Says] = []
    for stitches in reversed(parts):
        steps += [*([st.CastOn(many)] if steps else []), st.Part((Run(stitch, stitches),))]
    last = steps[-1]
    assert isinstance(last, st.Part)
    scribe.context.course = "ROW"
    return [*steps[:-1], st.Part((*last.items, Turn()))]


def _parts_of_row(scribe: Scribe) -> list[Count] | None:
    """Return how many stitches lie before, between and behind the gaps of the row told last."""
    live = scribe.now()
    if live.in_rounds or not live.sure or not live.tallies:
        return None
    ends, at = [], len(scribe.assembler.entries)
    for entry in reversed(scribe.assembler.entries):
        step, at = entry.step, at - 1
        if isinstance(step, st.BindOff) and step.stitches is not None:
            ends.append([tally.behind for tally in live.tallies_after(at)])
        elif not isinstance(step, st.Part | st.Note) or (
            Turn() in getattr(step, "items", ()) and ends
        ):
            break
    ends = [[0] * len(live.tallies), *reversed(ends), [tally.count for tally in live.tallies]]
    if len(ends) < 3 or any(len(end) != len(live.tallies) for end in ends):
        return None
    parts = [[b - a for a, b in zip(one, two, strict=True)] for one, two in pairwise(ends)]
    return [sized(part) for part in parts] if min(map(min, parts)) > 0 else None
