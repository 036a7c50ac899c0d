# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches that wait from before the text begins: "on hold: 32 instep sts", where it has 18 heel stitches.

A part of a pattern begins with what is on the needles, and says what else there is. Where more are
said to wait than there are, and none were set aside, they come from what stood before.
"""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.values import as_many

__all__ = ["given_to_wait"]

_WAITS = WordForm(
    r"\b(?:on hold|held|waits?|waiting|rests?|resting|park(?:ed|s)?|snooz\w+|asleep|sleep\w*|lie|lies|lying|unworked|(?:on|upon) (?:an?|the|your|some|two|2|spare|waste|scrap)\b[^.;:,]*\b(?:holders?|threads?|yarn|needles?|pins?|cables?|cord|string))\b"
)
_WHOSE = WordForm(
    r"\b(?:instep|top of (?:the )?foot|front(?: of (?:the )?foot)?|foot|holders?|on hold)\b"
)
_WORKS = WordForm(
    r"\b(?:k(?:nit)?|p(?:url)?|work|sl(?:ip)?|place|put|leave|pick|take|return|cast|turn|divide|row|round|rnd|until|while|after|when|will|if|now)\b|\b[kp]\d|\*"
)
_WORKED = WordForm(r"\b(?:only|sole|heel|flap)\b")
_NEEDLE_NO = WordForm(r"\b(?:n|needles?|row|rnd) ?\d\b")


def given_to_wait(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Return the steps that set aside stitches from before; None where a sentence tells of none."""
    text = said.text
    if not _WAITS.search(text) or not _WHOSE.search(text) or _WORKS.search(text):
        return None
    live = scribe.now()
    if not live.sure or live.held() or not live.tallies:
        return None
    if live.is_within:  # the rest of a row that was begun
        rest = [count_in(one) for one in re.findall(COUNT, _NEEDLE_NO.sub("", text))] == [
            live.ahead
        ]
        rows: list[Says] = [st.InRows()] if live.in_rounds else []
        return [*rows, st.Hold(live.ahead, "instep")] if rest and not _WORKED.search(text) else None
    if live.in_rounds:
        return None
    if any(isinstance(one.step, st.Join | st.Round | st.Hold) for one in scribe.assembler.entries):
        return None
    told = {count_in(one) for one in re.findall(COUNT, _NEEDLE_NO.sub("", text))} - {live.count}
    if len(told) != 1:
        return None
    many = told.pop()
    there = as_many(live.count, many)
    if any(
        not 0 < here < waits for here, waits in zip(there, as_many(many, live.count), strict=False)
    ):
        return None
    return [
        st.Hold(live.count, "heel"), st.CastOn(many), st.Hold(many, "instep"), st.ReturnHeld("heel"),
    ]  # fmt: skip
