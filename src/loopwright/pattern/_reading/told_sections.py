# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sections that are worked again by the name of their heading."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.assemble import fresh
from loopwright.pattern._reading.marked_parts import CALL
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import number_of

__all__ = ["told_part", "told_section"]

_LIKE = r"(?:exactly |just )?(?:(?:the same )?as|like|in the same way as)(?: (?:given |told |worked )?(?:for|in))?"
_TIMES = r"(?P<times>twice|\w+(?P<more> more)? times)(?P<more2> more)?(?:,? (?:in all|in total|altogether))?"
_AGAIN = re.compile(
    rf"(?:now |then )?(?:(?:(?:re)?work|knit|make|do) (?:{_LIKE}|another|a second|one more|all(?: the)? (?:rows|rounds|rnds) of)"
    r"|rep(?:eat)?(?: all(?: the)? (?:rows|rounds|rnds) of)?) (?:the )?(?P<name>[a-z][a-z' -]{2,40}?(?: \d{1,2})?)"
    r"(?: (?:as before|again|once more|above|once again|as above|in full))*"
    rf"(?: {_TIMES})?[.!]*",
    re.IGNORECASE,
)
_SO_OFTEN = re.compile(
    rf"(?:now |then )?(?:work|knit) (?:the )?(?:whole |full )?(?P<name>[a-z][a-z' -]{{2,40}}?) {_TIMES}[.!]*",
    re.IGNORECASE,
)
MAX_TIMES = 40
_OF_A_PIECE = re.compile(  # of which a section is a part
    r"\b(?:mitt\w*|gloves?|socks?|stockings?|slippers?|boot\w*|sleeves?|hands?|hats?|pieces?|sides?|ones?|rows?|rnds?|rounds?|needles?)\b"
)


_BETWEEN = re.compile(
    rf"(?:now |then )?(?:rep(?:eat)?|work|knit|make|do)(?: the (?:section|part|rows|rounds|rnds|instructions|bit))?(?: (?:exactly |just )?(?:as|like) (?:(?:given|told|described|worked) )?(?:(?:for|on|in) )?(?:the )?[a-z ]+?)?,?(?: up)? {CALL}"
    rf"(?:,? (?:exactly )?as (?:given |told |described )?(?:for|on|in) (?:the )?[a-z ]+)?(?: (?:again|once(?: more)?|{_TIMES}))*[.!]*",
    re.IGNORECASE,
)


def told_part(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "rep from ** to ** twice more", the marks of which were taken out of the text.

    Raises
    ------
    Lost
        There is such a part, and it can't be worked with the stitches in work.
    """
    said = _BETWEEN.fullmatch(text.strip())
    here = (scribe.place.line, scribe.place.column)
    spans = [span for span in scribe.context.parts if span[1] <= here]
    if said is None or not spans:
        return None
    first, last = spans[-1]
    steps = [
        entry.step
        for entry in scribe.assembler.entries
        if (at := entry.step.at) is not None
        and first <= (at.line, at.column) <= last
        and not isinstance(entry.step, st.Note | st.Section)
    ]
    in_all = re.search(r"\b(?:in all|in total|altogether)\b", said[0], re.IGNORECASE) is not None
    often = number_of(said["times"]) - in_all if said["times"] else 1
    if not steps or not 0 < often < MAX_TIMES:
        raise Lost("what stands between the marks was not read")
    return list(_again(scribe, [step for _ in range(often) for step in steps], "between the marks"))


def _again(scribe: Scribe, steps: list[st.Step], called: str) -> list[st.Step]:
    """Return steps as they are worked once more here."""
    again = [fresh(step, scribe.place) for step in steps]
    live = scribe.now()
    if live.sure and any(live.trial(again, size).troubles for size in range(len(live.tallies))):
        raise Lost(f"the rows {called} can't be worked here")
    return again


def told_section(scribe: Scribe, text: str) -> list[Says] | None:
    """Read "work as the first eyelet band": the rows under that heading once more.

    Raises
    ------
    Lost
        There is such a heading, and its rows can't be worked with the stitches in work.
    """
    said = _AGAIN.fullmatch(text.strip()) or _SO_OFTEN.fullmatch(text.strip())
    name = said["name"].lower() if said is not None else ""
    steps = [] if not name or _OF_A_PIECE.search(name) else _under(scribe, name)
    if not steps or not all(isinstance(one, st.Round | st.Row | st.RepeatRounds) for one in steps):
        return None
    often = _often(scribe, said, steps) if said is not None and said["times"] else 1
    if not 0 < often < MAX_TIMES:
        return None
    return list(_again(scribe, [step for _ in range(often) for step in steps], f"of '{name}'"))


def _often(scribe: Scribe, said: re.Match[str], steps: list[st.Step]) -> int:
    """Return how often a section is still to be worked; once less where it was just worked."""
    worked = [e.step for e in scribe.assembler.entries if not isinstance(e.step, st.Note)]
    just = worked[-len(steps) :] == steps
    more = said["more"] or said["more2"]
    return number_of(said["times"]) - (just and not more)


def _under(scribe: Scribe, name: str) -> list[st.Step]:
    """Return all steps under the last heading of this name that has any."""
    found: list[list[st.Step]] = []
    inside = False
    for entry in scribe.assembler.entries:
        if title := _title(entry.step):
            inside = title == name or title.endswith(f" {name}")
            found += [[]] if inside else []
        elif inside and not isinstance(entry.step, st.Note):
            found[-1].append(entry.step)
    return next((steps for steps in reversed(found) if steps), [])


def _title(step: st.Step) -> str:
    """Return the name that a heading gives, "" for what is none."""
    if isinstance(step, st.Section):
        told = step.title
    elif isinstance(step, st.Note) and step.text.endswith(":"):
        told = step.text
    else:
        return ""
    return re.sub(r"\s*[(\[].*$|^the ", "", told.lower()).strip(" :.")
