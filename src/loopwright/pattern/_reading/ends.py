# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How texts name the end of a repeat: a count that is reached, or stitches that are all worked."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.live import Live
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern._tally import GAP

__all__ = ["ALL_WORKED", "COUNT_REACHED", "ended_within", "may_end_within"]

COUNT_REACHED = WordForm(
    rf"(?:(?:there (?:are|is)|you (?:can |should |now |will )*(?:have(?: got)?|count|see|get(?: to| until)?|reach|hit|end up with|arrive at)|only|a total of|the count is|it has|you are|back|at|to|down) )*(?:only )?(?:the )?(?P<n>{COUNT}) (?:(?!slip|edge|chain|selv)\w+ )?{STS}(?P<rest>.*)$",
    re.NOFLAG,
)
_GONE = r"(?:used(?: up)?|gone|joined|taken (?:in|up)|eaten(?: up| away)?|swallowed(?: up)?|absorbed|consumed|knitted off)"
ALL_WORKED = WordForm(
    rf"(?:there (?:are|is) )?no (?:more |further )?(?:[a-z]+ )?{STS} (?:(?:are|is) )?(?:left |remain\w* )?(?:outside|beyond|past|unworked|to (?:be )?work)[^,;]*$|"
    rf"(?:the )?(?:whole )?(?:heel|flap|turn|thumb|toe) (?:has been|is|was) (?:all )?worked (?:out )?(?:to|over|across)[^,;]*$|"
    rf"(?:you (?:have|are) (?:back )?)?(?:worked )?(?:on )?(?:all|every)(?: of)?(?: the)?(?: {COUNT})?(?: [a-z]+)?(?: {STS})?(?: (?:are|is) )?(?:back )?in (?:use|work|play)(?: again| once more)?$|"
    rf"(?:the )?(?:remaining |waiting |unworked )?{STS} (?:at|on) (?:both|each|either|the two) (?:sides?|ends?)(?: of [a-z ]+)? (?:are|is|have been|has been) (?:all )?(?:worked|{_GONE})[^;]*$|"
    rf"(?:all|every|each|none|no|the (?:last|outermost|side|end|outer|first)|both sides)\b(?: of)?(?: the)?(?: {COUNT})?(?: [a-z]+){{0,3}}?(?: {STS})?(?: (?:on|at|of) [^,;]*?)? ?(?:have|has|are|is)?(?: now)?(?: been)? ?(?:worked|{_GONE}|included|left|decreased|in work|remain|have been)[^;]*$|"
    rf"(?:the )?[a-z]+ {STS} (?:have|are) (?:all )?(?:been )?{_GONE}[^;]*$|"
    rf"(?:no one|nobody|none|no {STS}|nothing) (?:is|are) (?:still |left )?waiting(?: any ?more| at (?:either|both|the) (?:sides?|ends?))?$|"
    rf"all(?: of)?(?: the)?(?: {COUNT})?(?: [a-z]+)?(?: {STS})? are (?:back |again |once more )?on (?:one|the same|a single) needle(?: again| once more)?$",
    re.NOFLAG,
)


def may_end_within(step: st.Step) -> bool:
    """Tell whether rows are repeated of which any may be the last: not rounds, nor one row."""
    several = isinstance(step, st.RepeatRounds) and not step.ending and len(step.steps) > 1
    return several and any(isinstance(row, st.Row) for row in rounds_in((step,)))


def ended_within(step: st.Step, live: Live) -> st.Step:
    """Let a heel's turn end with the row that works its last stitch, not with the pair of it.

    "Rep the last 2 rows until 12 sts are left": as many are left after the first of the two.
    """
    assert isinstance(step, st.RepeatRounds)
    if not live.sure or live.in_rounds or not all(tally.count for tally in live.tallies):
        return step

    def fits(one: st.RepeatRounds) -> bool:
        ends = [live.trial((one,), size) for size in range(len(live.tallies))]
        wrong = [hit for end in ends for _, hit in end.troubles if hit.kind != "mirror"]
        return not wrong and not (one.ending and any(end.tally.has(GAP) for end in ends))

    tried = (attrs.evolve(step, ending=ending) for ending in range(len(step.steps)))
    return next((one for one in tried if fits(one)), step)
