# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A finished piece that waits on a holder, and the row that takes it along: a lining, a flap, a sleeve."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import KNIT, PURL, Run
from loopwright.pattern.values import as_many

__all__ = ["is_taken_up", "may_take_up_other", "other_taken_up", "piece_brought"]

_STAYS = WordForm(r"\bon (?:the|your|its|their) needles?\b")
_ASIDE = ("piece", "second piece", "third piece")
_THEM = r"(?:(?:(?:all|both|the|these|those|your|live|rem(?:aining)?|whole) )*(?:{STS}|piece|flap|lining|bag|pocket|sleeve|strap|lot)|all (?:of )?(?:the |these )?(?P<all>{N}) {STS}|them(?: all)?|it|this(?: one)?|everything|that)"


@rule(
    rf"(?:(?:and|then|now) )*(?:(?:(?:cut|break|cutting|breaking)(?: off)?(?: the)? (?:yarn|wool))(?:,? leaving an? [a-z ]+)?,? (?:and )?)?(?:slip|sl|place|put|move|transfer|leave|set|keep|slide|park|let)\b(?: {_THEM})? (?:aside |wait(?:ing)? |rest(?:ing)? )?(?:on ?to|on|to|aside on) {{HOLDER}}(?: (?:yarn|wool|thread|cotton|needle))?(?:,? (?:with (?:the )?(?:yarn|wool) (?:cut|attached|broken)|for (?:the )?(?:[a-z]+ ?){{1,3}}|and (?:set|put|leave) (?:it |them )?aside|(?:and )?(?:cut|break)(?: off)? (?:the )?(?:yarn|wool)|until (?:needed|later|[a-z ]+)|while you [a-z ]+))?"
)
@alone
def _piece_waits(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "leave sts on a holder" at the end of a piece worked flat."""
    if _STAYS.search(said[0]):
        return None
    live, held = scribe.now(), scribe.now().held()
    name = next((one for one in _ASIDE if one not in held), None)
    if said["all"] and as_many(count_in(said["all"]), live.count) != as_many(
        live.count, live.count
    ):
        return None
    tube = live.is_whole_round and _ALL_OF_IT.search(said[0]) and _BEGINS_ANEW.match(scribe.following or scribe.next_line)  # fmt: skip
    if (
        (live.in_rounds and not tube)
        or not live.sure
        or name is None
        or not set(held) <= set(_ASIDE)
    ):
        return None
    if not live.tallies or not all(
        tally.count and not (tally.ahead and tally.behind) for tally in live.tallies
    ):
        return None
    if _IN_PARTS.search(said[0]) or (scribe.course == "RND" and not tube):
        return None
    begin = [st.BeginHere()] if any(tally.behind for tally in live.tallies) else []
    return [*begin, st.Hold(live.count, name)]


_ALL_OF_IT = WordForm(r"\ball\b|\beverything\b")
_BEGINS_ANEW = WordForm(  # what stands behind a tube that waits
    r"$|(?:[^.:]{0,40}: ?)?(?:(?:now |then |next,? )*(?:cast on|co \d|make|knit|work) (?:\d+\b(?! (?:more )?(?:rounds?|rnds?|rows?)\b)|an?(?:other)? |the (?:second|other))|(?:second|other|2nd)\b)",
)
_IN_PARTS = WordForm(r"\b(?:needles|two|half|instep|heel|thumb|rest of|other|unworked)\b")


@rule(r"take along (?:the )?(?P<n>{N})? ?waiting {STS} in (?P<how>knit|purl)")
def _taken_along(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "in their place knit the 20 sts of the lining" where the row has come to them."""
    live = scribe.now()
    waiting = [(one, many) for one, many in live.held().items() if said["n"] or one in _ASIDE]
    if live.in_rounds or not live.sure:
        waiting = []
    if said["n"]:
        told = as_many(count_in(said["n"]), live.count)
        waiting = [one for one in waiting if as_many(one[1], live.count) == told]
    if not waiting:
        raise Lost("no such piece waits on a holder")
    name, many = waiting[0]
    stitch = "p" if said["how"].lower().startswith("p") else "k"
    if live.count == 0:
        return [st.ReturnHeld(name), st.Row((PURL if stitch == "p" else KNIT,))]
    return [st.ReturnHeld(name, next_to_work=True), st.Part((Run(stitch, many),))]


@rule(
    r"(?:(?:now|then|and) )*(?:(?:make|work|knit) (?:a |the )?(?:second|other|2nd|another|matching) (?:ear ?)?(?:flap|piece|half|strap|square|tab)(?:,? (?:in )?(?:exactly |just )?(?:the same(?: way)?|alike|likewise|to match|like (?:it|the first)))|(?:second|other|2nd) (?:ear ?)?(?:flap|piece|half|strap|square|tab): (?:make |work |knit )?(?:exactly |just )?(?:the same|alike|likewise)(?: way| again)?)(?:,? (?:but|and) (?:do not|don't|without|keep) [^;\d]*)?"
)
@alone
def _made_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "make a second flap in the same way, but do not break yarn", where the first waits."""
    live = scribe.now()
    steps = [entry.step for entry in scribe.assembler.entries]
    begins = [at for at, step in enumerate(steps) if isinstance(step, st.CastOn)]
    if not live.sure or any(t.count for t in live.tallies) or {*live.held()} != {"piece"}:
        return None
    made = [step for step in steps[begins[-1] :] if not isinstance(step, st.Note | st.Section)]
    if not isinstance(made[-1], st.Hold) or made[-1].name != "piece":
        return None
    return list(made[:-1])


def is_taken_up(brought: re.Match[str]) -> bool:
    """Tell whether a piece that a lesson begins with is knitted from behind another one's cast-on."""
    behind = brought.string[brought.end() :]
    begins = re.search(r"\bcast on \d", behind)
    n, name = re.escape(brought["n"]), brought["name"]
    taken = rf"\b(?:k|knit) ?\d+ of the {n} {name} (?:sts|stitches)\b"
    return begins is not None and re.search(taken, behind[begins.end() :], re.I) is not None


def piece_brought(brought: re.Match[str]) -> list[Says]:
    """Return the steps of a piece that was made before and waits: "the heel on its holder, 14 sts"."""
    many = count_in(brought["n"])
    return [st.CastOn(many), st.Row((KNIT,)), st.Hold(many, brought["name"].lower())]


_OF_THE_OTHER = WordForm(
    rf"\b(?:k|knit) (?P<n>{COUNT}) of the (?P<all>{COUNT}) (?P<name>heel|flap) (?:sts|stitches)\b"
)


def may_take_up_other(text: str) -> bool:
    """Tell whether a line may knit from a piece that waits."""
    return _OF_THE_OTHER.search(text) is not None


def other_taken_up(live: Live, text: str) -> str | None:
    """Put "knit 7 of the 14 heel sts" in short, where those wait and another piece is in work."""
    said, held = _OF_THE_OTHER.search(text), live.held()
    if said is None or live.in_rounds or "instep" in held or live.count in (0, None):
        return None
    name = said["name"].lower()
    all_of = as_many(count_in(said["all"]), live.count)
    if name not in held or as_many(held[name], live.count) != all_of:
        return None
    return f"Place next {live.count} sts on a holder as instep. Return to needle the sts held as {name}. K{said['n']}."
