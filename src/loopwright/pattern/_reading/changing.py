# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows worked again with other numbers each time: "with 2 sts fewer between the decreases"."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._reading.fitting import from_itself
from loopwright.pattern._reading.growth import growth_of, longest, longest_changed, shapes
from loopwright.pattern._reading.how_often import times_in
from loopwright.pattern._reading.labels import numbers_in
from loopwright.pattern._reading.named_rows import named_row
from loopwright.pattern._reading.onward import carry_on, on_each_round, rows_before, turning
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.pattern.values import UntilCount

__all__ = ["changing", "fitted", "says_change"]

_HOW_MANY = r"(?P<n>\d|one|two|three|four|an?)"
_SHAPING = (
    r"(?:the |each |every |your |two |pairs? of |both )*(?:dec\w*|inc\w*|shapings?|k2togs?|ssks?)"
)
_CHANGE = WordForm(
    r"[,;.(–—-]*\s*(?:and |so that |but )*(?:always |each time |every time |now |then )*"
    r"(?:(?:working|knitting|taking|having|with|leaving|making|there (?:are|is|will be)|you (?:will )?have|(?:the )?number of sts|the sts) )?(?:always |then |now |each time )*"
    rf"(?:{_HOW_MANY} (?:sts? |stitch(?:es)? )?(?P<how>fewer|less|more) (?:plain |knit )?(?:sts? |stitch(?:es)? )?(?:between|before|after|in between) {_SHAPING}"
    rf"|between {_SHAPING} (?:(?:becom|gett|be)ing|becomes?|is|are|grows?|shrinks?|drops?|by) (?:by )?{_HOW_MANY.replace('<n>', '<n2>')} (?P<how2>fewer|less|more))"
    r"(?: (?:each|every) (?:time|round|rnd|row)| (?:in|on|at) (?:each|every) (?:[a-z]+ )?(?:round|rnd|row|time|repeat)| than before| than the last time)*\)?",
    re.NOFLAG,
)
_AGAIN = WordForm(
    rf"(?:and |now |then )*(?:rep(?:eat)?|work|knit|alternate|do|go on with|continue (?:with|repeating)|keep (?:on )?(?:repeating|working))\b\.? (?P<which>[^,;]*\b(?:rounds|rnds|rows)\b(?: \d+\b(?! (?:more |further )?times)(?: ?(?:-|–|to|and|&) ?\d+\b)?)?|[^,;]*?)(?: in turn| alternately)?,?(?: (?P<until>(?:un)?til+ .*)| (?P<times>(?:{COUNT}|[^,;])*?\btimes\b.*|once more|twice(?: more)?))$",
    re.NOFLAG,
)
_TO_COUNT = WordForm(
    rf"(?:un)?til+ (?:there are |you have |only )*(?P<n>{COUNT})(?: {STS})?(?: (?:remain|rem|are left|left|in all|altogether))*\W*$",
    re.NOFLAG,
)
_MANY = WordForm(r"\b(\d|two|three|four|both) (?:rounds|rnds|rows)\b|\bboth\b", re.NOFLAG)
_THUS = r"(?:(?:exactly |just )?(?:in (?:this|the same|that) (?:way|manner|fashion)|the same(?: way)?|like this|like that|thus|so|as before|as set)\b)"
_ALONE = WordForm(
    rf"(?:and |now |then )*(?:(?:rep(?:eat)?|work|knit|do|continue (?:with|to work)|keep (?:on )?(?:working|repeating)) )?(?:only )?(?:the )?(?P<which>(?:round|rnd|row) ?\d+|\d(?:st|nd|rd|th) (?:round|rnd|row)|first (?:round|rnd|row)|(?P<kind>dec|inc|shap)\w* (?:rounds?|rnds?|rows?))(?: only| alone)?(?:,? {_THUS})?,?(?: (?:on |in )?(?:every|each) (?:round|rnd|row))?,? (?:un)?til+ (?:there are |you have |only )*(?P<n>{COUNT})(?: {STS})?(?: (?:remain|rem|are left|left))*\W*$",
    re.NOFLAG,
)


_SO_MANY = r"\d{1,2}|two|four|six|eight|ten|twelve"
_ROWS_THUS = WordForm(  # "work 6 more rows in the same way, each with 1 more st before the decrease"
    rf"(?:and |then |now )*(?:(?:(?:work|knit|make|do) )?(?:another |a further )?(?P<n>{_SO_MANY}) (?:(?:more|further|such) )*rows(?: more)?|(?:continue|cont|go on|carry on|keep on|work)(?: {_THUS})?,? for (?:another |a further )?(?P<n2>{_SO_MANY}) (?:more |further )?rows(?: more)?)\b"
    rf"(?=.*(?:{_THUS}|\bmore sts? |\bst(?:itch)? more\b|\bmore stitch))(?:,? {_THUS})?(?:,? (?:(?:each|always|every|working|knitting|with|and|having|row|in|on|time|a|1|one|more|further|another|sts?|stitch|before|after|the|dec\w*|gap|turn|than|before|last) ?)+)?[.]?$",
    re.NOFLAG,
)


def says_change(text: str) -> bool:
    """Tell whether a sentence says by how much the rows that it repeats change each time."""
    return _CHANGE.search(text.lower()) is not None


def changing(scribe: Scribe, text: str) -> list[Says] | None:
    """Return rows worked again with other numbers; None if a sentence asks nothing such."""
    if (alone := _ALONE.match(text)) is not None:
        return _shaping_alone(scribe, alone)
    thus, turned = _ROWS_THUS.match(text), turning(rows_before(scribe))
    if thus and turned:
        pairs, odd = divmod(number_of(thus["n"] or thus["n2"]), 2)
        if odd or not pairs:
            raise Lost(text)
        return carry_on(scribe, *turned, None, cycles=pairs)
    change = _CHANGE.search(text)
    if change is None:
        return None
    bare = re.sub(r"\s+", " ", f"{text[: change.start()]} {text[change.end() :]}").strip(" .,;")
    again = _AGAIN.match(bare.replace(" ,", ","))
    if again is None:
        return None
    by = (number_of(change["n"] or change["n2"]) or 1) * (
        1 if (change["how"] or change["how2"]) == "more" else -1
    )
    cycle = _cycle(scribe, again["which"])
    grown = [_growth(row, by) if shapes(row) else None for row in cycle]
    if turned and by > 0 and cycle == turned[0]:
        grown = turned[1]
    if not any(grown):
        return None
    if again["times"]:
        many = times_in(again["times"])
        return None if many is None else carry_on(scribe, cycle, grown, None, many)
    count = _TO_COUNT.match(again["until"])
    if count is None:
        return None
    return carry_on(scribe, cycle, grown, count_in(count["n"]), whole=True)


def fitted(scribe: Scribe, steps: list[st.Step], until: st.Times) -> list[Says] | None:
    """Return rows that fit once and not twice, with other numbers each time, up to a count."""
    rows = [step for step in steps if isinstance(step, st.Round | st.Row)]
    shaping = [row for row in rows if shapes(row)]
    if not isinstance(until, UntilCount) or len(shaping) != 1 or len(rows) != len(steps):
        return None
    live = scribe.now()
    sizes = range(len(live.tallies))
    if any(live.trial(rows, size).troubles for size in sizes):
        return None
    if not any(live.trial((*rows, *rows), size).troubles for size in sizes):
        return None
    if (own := from_itself(scribe, shaping[0])) is None:
        return None
    cycle = [own[0] if row is shaping[0] else row for row in rows]
    grown = [own[1] if row is shaping[0] else None for row in rows]
    return carry_on(scribe, cycle, grown, until.count, whole=True)


def _cycle(scribe: Scribe, which: str) -> list[st.Round | st.Row]:
    """Return the rows last worked that are to be worked again."""
    rows = rows_before(scribe)
    said = _MANY.search(which)
    numbers = numbers_in(which) if re.search(r"(?:rounds|rnds|rows) \d", which) else ()
    many = len(numbers) or (number_of(said[1]) if said and said[1] else 2 if said else 0)
    if not many:
        last = max((n for n, row in enumerate(rows) if shapes(row)), default=len(rows))
        return rows[last:]
    return rows[-many:] if len(rows) >= many else []


def _growth(row: st.Round | st.Row, by: int) -> object:
    return growth_of(row.items, longest_changed(row.items, by, longest(row.items)))


def _shaping_alone(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "now round 1 only until 12 sts remain", where its numbers have changed since."""
    rows = [row for row in rows_before(scribe) if shapes(row)]
    if len(rows) < 2:
        return None
    growth = growth_of(rows[-2].items, rows[-1].items)
    if growth is None or rows[-2].items == rows[-1].items:
        return None  # told the same way each time
    numbers = numbers_in(said["which"])
    first = scribe.context.row(numbers[0]) if numbers else named_row(scribe, "dec")
    if numbers and (first is None or growth_of(first.items, rows[-1].items) is None):
        return None
    return on_each_round(scribe, count_in(said["n"]))
