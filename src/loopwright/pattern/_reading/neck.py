# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A flat piece divided for its neck: one side worked on, the rest left, then the other side taken up."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.rule_table import rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern.items import KNIT, PURL, Turn
from loopwright.pattern.values import as_many, sized

__all__: list[str] = []

_REST = "second side"


@rule(
    r"(?:(?:and|then|now) )*(?:slip|sl|place|put|leave|transfer|leaving|slipping|placing|putting) (?:the )?(?:rem(?:aining)?|other|unworked)\.? {STS} (?:on ?to|on|to|unworked on) {HOLDER}[^;,\d]*"
)
def _rest_waits(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "leave rem sts on a holder" behind a turn: what was not worked in that row."""
    live = scribe.now()
    if live.in_rounds or _REST in live.held() or not live.sure or not scribe.is_turned():
        return None
    if not all(tally.ahead and tally.behind for tally in live.tallies):
        return None
    scribe.turn_later()
    return [st.Hold(live.behind, _REST)]


@rule(
    r"(?:with )?(?:(?:the )?(?:rs|right side|ws|wrong side)(?: of (?:the )?work)? facing,? (?:and )?)?(?:leave|leaving|slip|slipping|sl|place|placing|put|putting|transfer) (?:the )?(?:cent(?:er|re)|middle|next|first) (?P<n>{N}) {STS} (?:on ?to|on|to) {HOLDER}(?: (?:for|at) (?:the )?[a-z ]+?)?"
    r"(?P<joins>(?:,|;| and|, and)? ?(?:then )?(?:re)?join (?:the )?(?:yarn|wool) to (?:the )?(?:(?:rem(?:aining)?|other|last|next|second|first)\.? ?)*(?:(?P<rest>{N}) )?(?:{STS})?)?(?P<row>(?:,|;| and|, and)? ?(?:then )?(?P<verb>k(?:nit)?|p(?:url)?|work|patt(?:ern)?) (?:to (?:the )?end(?: of (?:the )?row)?|across(?: (?:these|the|all) {STS})?))?"
)
def _centre_waits(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "leave centre 10 sts on a holder, rejoin yarn to rem 14 sts and k to end"."""
    live, many = scribe.now(), count_in(said["n"])
    held = live.held()
    waiting = held.get(_REST)
    name = _REST
    if waiting is None and len(held) == 1:
        ((name, waiting),) = held.items()
    if waiting is None or not live.sure or any(tally.count for tally in live.tallies):
        return None
    rest = [b - a for a, b in zip(as_many(many, waiting), as_many(waiting, many), strict=True)]
    if min(rest) < 1:
        return None
    if said["rest"] and count_in(said["rest"]) != sized(rest):
        scribe.claim("count", count_in(said["rest"]))
    scribe.context.course = "ROW"
    worked = (PURL if (said["verb"] or "").lower().startswith("p") else KNIT,)
    return [st.ReturnHeld(name), st.Hold(many, "neck"), *([st.Row(worked)] if said["row"] else [])]


@rule(
    r"(?:with )?(?:(?:the )?(?:rs|right side|ws|wrong side)(?: of (?:the )?work)? facing,? (?:and )?)?(?:re)?join (?:the )?(?:yarn|wool) to (?:the )?(?:rem(?:aining)?|other|last|held)\.? (?:(?P<rest>{N}) )?{STS}(?: (?:on|from) (?:the )?holder)?"
    r"(?:(?P<off>(?:,|;| and|, and)? ?(?:then )?(?:cast|bind)[ -]off (?:the )?(?:cent(?:er|re)|first|next|middle) (?P<n>{N}) {STS})|(?P<on>(?=[,;]| and)))(?:,|;| and|, and)? ?(?:then )?(?P<verb>k(?:nit)?|p(?:url)?|work|patt(?:ern)?) (?:to (?:the )?end(?: of (?:the )?row)?|across(?: (?:these|the|all) {STS})?)"
)
def _other_side(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "rejoin yarn to rem 24 sts, cast off centre 10 sts, k to end"."""
    live = scribe.now()
    waiting = live.held().get(_REST)
    back: list[Says] = [st.ReturnHeld(_REST)] if waiting is not None else []
    there = live.count if waiting is None else waiting
    if not live.sure or live.in_rounds or (back and any(tally.count for tally in live.tallies)):
        return None
    if not back and ("neck" not in live.held() or scribe.is_turned()):
        return None
    if said["rest"] and count_in(said["rest"]) != there:
        scribe.claim("count", count_in(said["rest"]))
    scribe.context.course = "ROW"
    worked = PURL if (said["verb"] or "").lower().startswith("p") else KNIT
    if said["off"]:
        return [*back, st.BindOff(count_in(said["n"])), st.Part((worked, Turn()))]
    return [*back, st.Row((worked,))]
