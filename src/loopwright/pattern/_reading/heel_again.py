# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A toe that is worked in short rows as the heel was, or the heel as the toe: on half of the round."""

from __future__ import annotations

from loopwright.pattern import steps as st
from loopwright.pattern._reading.assemble import fresh
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import count_in
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern.values import Count, as_many

__all__ = ["is_as_heel", "worked_as_heel"]

_ON = rf"(?:(?:^|,? )(?:over|on|across|with|using) (?:(?:just|only|the|these|those|your|same|first|next|other) )*(?:(?P<n_>{COUNT}) )?(?:(?:sole|instep|heel|toe|back|front|bottom|top) )?(?:{STS}|half|needle)(?: only| alone)?)"
_AS_HEEL = WordForm(
    rf"(?:(?:now|then|next|and) )*(?:{_ON.replace('n_', 'n3')},? )?(?:(?:work|knit|make|shape|do)(?: (?:it|this|(?:the |a )?(?:short[- ]row )?(?:toe|heel)))?(?: cap| shaping)?{_ON.replace('n_', 'n')}?|(?:the )?(?:toe|heel) is (?:worked|made|knitted|shaped)),? "
    rf"(?:exactly |just |in )*(?:(?:the )?same(?: way| manner)? as|as|like|to match)(?: (?:you did|given|described|was|told|worked))*(?: (?:for|in|on))? (?:the |your )?(?:short[- ]row )?(?P<name>heel|toe){_ON.replace('n_', 'n2')}?[.!]*",
)


def is_as_heel(text: str) -> bool:
    """Tell whether a sentence asks for the rows of the heel or the toe once more: that is no plain work."""
    return _AS_HEEL.fullmatch(text) is not None


def worked_as_heel(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "work as for heel, on the 26 sole sts": its rows once more, and all stitches together again.

    Where no number is told, it is that of the stitches on which those rows were worked.

    Raises
    ------
    Lost
        There are such rows, and they can't be worked with the stitches in work.
    """
    said, live = _AS_HEEL.fullmatch(text), scribe.now()
    if said is None or not live.in_rounds or not live.is_free or not live.sure:
        return None
    name = said["name"].lower()
    steps = scribe.section_steps(name)
    rows = [fresh(row, scribe.place) for row in scribe.section_rows(name)]
    worked = next((s.stitches for s in steps if isinstance(s, st.Hold) and s.name == "heel"), None)
    told = said["n"] or said["n2"] or said["n3"]
    over: Count | None = count_in(told) if told else worked
    if not rows or over is None:
        return None
    many = as_many(over, live.count)
    if any(n >= tally.count for n, tally in zip(many, live.tallies, strict=True)):
        return None
    lead = scribe.focus(over, ahead=True)
    found = [*lead, *rows]
    back = [st.ReturnHeld(one.name) for one in lead if isinstance(one, st.Hold)][-1:]
    found += [*back, st.Join()]
    if not lead or any(live.trial(found, size).troubles for size in range(len(live.tallies))):
        raise Lost(f"the rows of the {name} can't be worked here")
    scribe.context.course = "RND"
    return list(found)
