# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Repeats that run over sentences: "*Change to B and knit 2 rounds. … Repeat from * 4 more times"."""

from __future__ import annotations

import re

import attrs

from loopwright.errors import StepError
from loopwright.pattern import steps as st
from loopwright.pattern._reading.clauses import unlabelled
from loopwright.pattern._reading.how_far import RepeatBody, until
from loopwright.pattern._reading.how_often import times_in
from loopwright.pattern._reading.scribe import Scribe
from loopwright.pattern._reading.stated import count_in, stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Turn, WrapTurn
from loopwright.pattern.values import Count, Sized, sized, values_of

__all__ = ["said_by_count", "since_star", "star_block", "stars_in"]

_FROM_STAR = WordForm(
    r"(?:rep(?:eat)?|work)(?: (?:everything|all this|the whole))? from \*(?: to here)?",
)
_CLOSED = re.compile(r"\*.*\*|\brep(?:eat)?\b", re.IGNORECASE | re.DOTALL)
_MIDDLE = WordForm(r"wrap|double|\bds\b|gap|turn|plain|middle|cent(?:er|re)")
_SLIPS_BACK = WordForm(r"\b(?:slip|slide|return|put|place|move)\b[^.;,]*\bback\b(?!ward)(?! of)")
MOST = 60  # times


def star_block(texts: list[str]) -> tuple[int, int] | None:
    """Return which sentences a star opens and "repeat from *" closes; None where there are none.

    Examples
    --------
    >>> star_block(["Join A.", "*Knit 2 rounds.", "Purl 1 round.", "Repeat from * twice more."])
    (1, 3)
    >>> star_block(["*K2, p2; rep from * to end.", "Repeat from * once."]) is None
    True
    """
    first = next((at for at, text in enumerate(texts) if text.lstrip().startswith("*")), None)
    if first is None or _CLOSED.search(texts[first].strip()):
        return None
    for at in range(first + 1, len(texts)):
        if _FROM_STAR.match(texts[at].strip()):
            return first, at
        if "*" in texts[at]:
            break
    return None


def since_star(scribe: Scribe, said: MappedText, start: int) -> bool:
    """Work all steps since the star again, as often as a sentence says; False if that is not known."""
    entries = scribe.assembler.entries
    steps = [e.step for e in entries[start:] if not isinstance(e.step, st.Note | st.Section)]
    if not steps:
        return False
    stated = stated_in(said)
    text = stated.said.text if stated.count is not None else said.text
    if (more := _AND_THEN.search(text)) is not None:  # "8 more times, then sl 1, p17 once more"
        text, last = text[: more.start()], scribe.items(MappedText.of(more["row"]))
        if last is None:
            return False
    again = tuple(attrs.evolve(_as_row(step), at=scribe.place) for step in steps)
    goal = re.search(r"\b(?:un)?til+ (?P<what>[^;]+)", text, re.IGNORECASE)
    if goal is not None:
        times = until(scribe, goal["what"].lower(), RepeatBody(copies=again))
        if isinstance(times, int | Sized) and not _MIDDLE.search(goal["what"]):
            times = sized([int(value) - 1 for value in values_of(times)])  # they were worked once
    elif (found := times_in(text)) is not None:
        in_all = re.search(r"\btimes? (?:in all|in total|altogether)", text) is not None
        times = sized([int(value) - in_all for value in values_of(found)])
    else:
        return False
    many = [int(n) for n in values_of(times)] if isinstance(times, int | Sized) else []
    if times is None or (many and not 0 < min(many) <= max(many) < MOST):
        return False
    try:
        one: list[st.Step] = [st.RepeatRounds(again, times)] if many != [1] else list(again)
    except StepError:
        if len(many) != 1:
            return False
        one = [step for _ in range(many[0]) for step in again]
    scribe.give(one, None if more else stated.count)
    if more is not None and last is not None:
        scribe.give(unlabelled(scribe, st.Part(last)), stated.count)
    return True


_AND_THEN = WordForm(
    r"[,;] (?:and )?then (?P<row>(?!rep)[^.;]*?)(?: once(?: more| again)?| again)?\.?$",
)


def _as_row(step: st.Step) -> st.Step:
    """Return a part that is turned as the row it is where it is worked again."""
    if isinstance(step, st.Part) and isinstance(step.items[-1], Turn | WrapTurn):
        return st.Row(step.items, count=step.count)
    return step


def stars_in(
    texts: list[str], opened: int | None, now: int
) -> tuple[tuple[int, int] | None, int | None]:
    """Return which sentence of a line a star opens and which closes it, and how many steps stood before.

    -1 stands for a sentence of another line; `opened` is what a line before has opened.

    Examples
    --------
    >>> stars_in(["*Knit 2 rounds."], None, 7)
    ((0, -1), 7)
    >>> stars_in(["Rep from * 4 more times."], 7, 9)
    ((-1, 0), 7)
    >>> stars_in(["*K2, p2; rep from * to end."], None, 7)
    (None, None)
    """
    begins = bool(texts) and re.match(r"\*(?=[ ]?[A-Z])", texts[0].lstrip()) is not None
    if begins and not any(_CLOSED.search(text) or "*" in text.lstrip()[1:] for text in texts):
        return (0, -1), now
    closes = texts and _FROM_STAR.match(texts[0].strip()) and texts[0].count("*") == 1
    return ((-1, 0) if closes and opened is not None else star_block(texts)), opened


def said_by_count(scribe: Scribe, said: MappedText) -> bool:
    """Keep a repeat that slips stitches back as words, and go on with the count it leaves.

    An edge that is knitted on, or a cast-off that goes back and forth, is no row: what is left in
    the end is told by its count alone.
    """
    if not _SLIPS_BACK.search(said.text) or not re.search(r"\*|\brep", said.text):
        return False
    count = _last_count(said)
    if count is None and scribe.following:
        after = stated_in(MappedText.of(scribe.following))
        count = None if after.said.text.strip(" .") else after.count
    if count is None:
        return False
    scribe.place = attrs.evolve(scribe.place, column=scribe.place.column + 1)
    scribe.note(said.text)
    scribe.claim("lost", 0)
    scribe.claim("adopt", count)
    return True


def _last_count(said: MappedText) -> Count | None:
    stated = stated_in(said)
    if stated.count is not None:
        return stated.count
    goal = re.search(
        rf"\b(?:un)?til (?:there are |you have )?(?P<n>{COUNT}) (?:sts|stitches)\b", said.text
    )
    return count_in(goal["n"]) if goal is not None else None
