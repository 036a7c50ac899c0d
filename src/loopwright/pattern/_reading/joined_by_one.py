# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A ring closed by a stitch too many: "slip the odd st beside the first and knit the two together"."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern.items import Run
from loopwright.pattern.values import as_many, sized

__all__: list[str] = []

_ONE = r"(?:the |this |that |your )*(?:odd|extra|spare|last|first|additional|\d+(?:st|nd|rd|th))(?: (?:cast[- ]on|co))?(?: {STS}| one)?"
_TWO = r"(?:those|these|the|both)(?: (?:two|2))?(?: {STS})?"
_TOG = r"(?:tog|together|as one)"


@rule(
    rf"(?:(?:now|then|next|to join),? )*(?:join (?:in the round |into a ring )?(?:by |and ))?(?:slip|slipping|move|moving|transfer|pass|passing) {_ONE}[^;.:]*?(?:,|,? and)(?: then)? (?:knit|k|work|knitting|working) {_TWO} {_TOG}[^;\d]*"
    rf"|(?:(?:now|then|next|to join),? )*(?:join (?:in the round |into a ring )?(?:by |and ))?(?:slip|slipping|move|moving) {_ONE} [^;.:]*?needle,? (?:and )?(?:then )?(?:lift|lifting|pass|passing|pull|pulling|draw|drawing) {_ONE} over (?:it|{_ONE})[^;\d]*"
    rf"|(?:(?:now|then|next),? )*(?:join (?:in the round |into a ring )?(?:by |and )|to join,? )(?:knit|knitting|k|work|working) {_ONE} (?:and {_ONE} {_TOG}|{_TOG} with {_ONE})[^;\d]*"
)
@alone
def _closed_by_one(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "slip the first st over, then lift the last over it": a ring with a stitch fewer."""
    live = scribe.now()
    steps = [entry.step for entry in scribe.assembler.entries]
    begun = [step for step in steps if not isinstance(step, st.Note | st.Section)]
    if not live.sure or (live.behind_any() and live.in_rounds) or not begun:
        return None
    if not all(isinstance(step, st.CastOn | st.Join | st.Arrange | st.UseYarn) for step in begun):
        return None
    if any(tally.count < 3 for tally in live.tallies):
        return None
    join: list[Says] = [] if live.in_rounds else [st.Join()]
    parts = [step.parts for step in begun if isinstance(step, st.Arrange)]
    shares: list[Says] = []
    if parts:
        many = len(parts[-1])
        counts = [int(n) - 1 for n in as_many(live.count, live.count)]
        if not any(n % many for n in counts):
            shares = [st.Arrange((sized([n // many for n in counts]),) * many)]
    return [*join, st.Part((Run("k2tog", 1),)), st.BeginHere(), *shares]
