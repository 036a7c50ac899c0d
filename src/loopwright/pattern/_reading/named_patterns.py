# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean that name a chart or a stitch pattern whose rows stand elsewhere."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.onward import rows_before
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import figure
from loopwright.pattern.items import KNIT, Repeat
from loopwright.pattern.values import values_of

__all__ = ["pattern_named"]


@rule(
    r"(?:now )?(?:work|knit|rep(?:eat)?) (?:all (?:of )?)?(?:the |(?:all )?(?:{N} )?(?:rnds|rows|rounds) of (?:the )?)?(?P<name>(?:[a-z'-]+ ){0,3}(?:chart|panel)(?: [a-z0-9])?) (?P<times>once|twice|\w+ times)(?: more| again)?(?: \({N} {CRS}\))?"
)
@alone
def _chart_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work chart A once more": its rows, where they were written out."""
    name, times = said["name"].lower(), number_of(said["times"])
    known = (
        *scribe.context.patterns.items(),
        *((title, rows) for title, (rows, _) in scribe.context.sections.items()),
    )
    rows = next((rows for title, rows in known if name in title and rows), None)
    if not 0 < times < 60:
        return None
    if rows is None:
        scribe.note(said[0])
        scribe.claim("loose", 0)
        return []
    copies = tuple(attrs.evolve(row, count=None, at=scribe.place) for row in rows.values())
    if not _all_fit(scribe, copies):
        scribe.claim("loose", 0)
        return []
    return list(copies) if times == 1 else [st.RepeatRounds(copies, times)]


_SO_LONG = r"(?:,? ?[:(–—=-]? ?{N} {CRS}(?: in all| altogether)?\)?)?"  # what they come to


@rule(
    rf"(?:(?:now|then|both) ?[:,]? )*(?:work|knit|do|rep(?:eat)?) (?:(?:another|a further) )?(?P<n>{{N}}|[a-z]+) (?:(?:more|further|full|whole|complete) )*rep(?:eat)?s of (?:the )?(?P<name>[a-z][a-z' -]+?)(?: (?:more|again))?{_SO_LONG}"
)
@rule(
    rf"(?P<name>[a-z][a-z' -]+?): (?:work )?(?P<n>{{N}}) (?:(?:full|whole|complete) )*rep(?:eat)?s{_SO_LONG}"
)
@rule(
    rf"(?:(?:now|then|both) ?[:,]? )*(?:work|knit|rep(?:eat)?) (?:(?:the|whole|entire|through) )*(?P<name>[a-z][a-z' -]+?) (?P<n>{{N}}|[a-z]+)(?: (?:more )?times|(?<=once)|(?<=twice))(?: more| in all)?{_SO_LONG}"
)
@alone
def _pattern_so_often(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work 4 more repeats of the bird pattern", told before anything was cast on."""
    times, name = (
        count_in(said["n"]) if said["n"][0].isdigit() else number_of(said["n"]),
        said["name"].lower(),
    )
    known = scribe.context.patterns
    rows = known.get(name) or known.get(_OF_PATTERN.sub("", name))
    often = values_of(times)
    if (
        not rows
        or not all(0 < one < 60 for one in often)
        or set(rows) != set(range(1, len(rows) + 1))
    ):
        return None
    copies = tuple(attrs.evolve(rows[n], count=None, at=scribe.place) for n in sorted(rows))
    return [st.RepeatRounds(copies, times, at=scribe.place)] if times != 1 else list(copies)


_OF_PATTERN = WordForm(r" (?:stitch )?(?:patt(?:ern)?|rounds|rnds|rows)$")
_CALLED = r"(?:are|make(?: up)?|form|will be|is|be)(?: (?:called|named|known as))?"
_NOT_LAST = r"(?!last|next|first|same|following|only|right|wrong|remaining)"


@rule(
    rf"(?:(?:these|those|both|the(?: last| above| previous| foregoing)?) (?:(?P<n>{{N}}|two|three|four|six|eight) )?{{CRS}}|{{CRS}} 1 ?(?:-|–|to|and|through) ?(?P<z>\d{{1,2}})) {_CALLED} (?:the |your |our |my )?(?P<name>{_NOT_LAST}(?:[a-z]{{3,}}(?: [a-z]{{3,}})?(?= (?:rows|rounds|rnds))|patt(?:ern)?\b))(?: (?:rows|rounds|rnds))?(?: from now on| below)?"
)
@rule(
    rf"(?:i )?(?:call|name) (?:these|those|both|the last) (?:(?P<n>{{N}}|two|three|four|six|eight) )?{{CRS}} (?:the )?(?P<name>{_NOT_LAST}[a-z]{{3,}}(?: [a-z]{{3,}})?) (?:rows|rounds|rnds)"
)
@alone
def _name_rows(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "these 2 rows are the garter rows": what "the garter rows" means from now on."""
    told = said["n"] or said.groupdict().get("z")
    many = (number_of(told) if told else 0) or 2
    rows = [row for row in rows_before(scribe)[-many:] if row.inner == ()]
    if len(rows) < many:
        return None
    for number, row in enumerate(rows, 1):
        scribe.context.named[f"{said['name'].lower()} {number}"] = attrs.evolve(row, count=None)
    scribe.note(said[0])
    return []


def _all_fit(scribe: Scribe, rows: tuple[st.Round | st.Row, ...]) -> bool:
    """Tell whether rows of a chart fill the row as they are: they may be a part of it."""
    live = scribe.now()
    if not live.sure:
        return False
    return all(not live.trial(rows, size).troubles for size in range(len(live.tallies)))


@rule(
    r"(?:now |then )?work (?:the |in )?(?:[a-z'-]+ ){0,2}(?:rib|pattern|lace|cable|border|basket ?weave|chart)(?: pattern)?(?: as follows| thus| now)?:?"
)
@alone
def _begins_pattern(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the mock rib", whose rounds follow."""
    return []


@rule(
    r"(?:then |now )?(?:work|knit|patt) {CRS} (?P<row>\d{1,3}) of (?:the )?(?P<name>[a-z][a-z' -]*?) (?P<times>\w+) times (?:across|over|along)(?: [^;\d]*)?"
)
@alone
def _row_across(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work round 1 of the lace four times across": a part of the round."""
    row = scribe.context.row(int(said["row"]), said["name"].lower())
    times = number_of(said["times"])
    repeat = row.items[0] if row is not None and len(row.items) == 1 else None
    if not isinstance(repeat, Repeat) or not 0 < times < 100:
        return None
    return [st.Part((Repeat(repeat.items, times),))]


@rule(
    r"work (?:rounds?|rnds?) (?P<rows>\d+(?: ?(?:-|–|to|and|,) ?\d+)*) of (?:the )?(?:[a-z]+ )?(?:panel|chart|cable|lace)"
    r"(?:,? (?:and )?then (?:rounds?|rnds?) (?P<more>\d+ ?(?:-|–|to) ?\d+)(?: once)?)?"
    r",? (?:knitting|working) (?:all )?(?:the )?other {STS}(?: plain)?"
)
def _panel_and_rest(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work rnds 7 and 8 of the panel, knitting all other sts": whole rounds, counted plain."""
    many = sum(_how_many(listed) for listed in (said["rows"], said["more"]) if listed)
    if not 0 < many < 200 or scribe.course != "RND":
        return None
    return [st.RepeatRounds((st.Round((KNIT,)),), many)]


def _how_many(listed: str) -> int:
    """Return how many rows a list of numbers has: 2 in "7 and 8", 8 in "1-8"."""
    numbers = [figure(number) for number in re.findall(r"\d+", listed)]
    if len(numbers) == 2 and not re.search(r"and|,", listed):
        return max(0, numbers[1] - numbers[0] + 1)
    return len(numbers)


_NO_NAME = WordForm(
    r"\b(?:the|a|stitch|stitches|st|patt|pattern|rounds|rnds|rows|rib|ribbing|lace|chart|in|work|main|basic)\b"
)


def pattern_named(scribe: Scribe, words: str, course: str) -> tuple[st.Round | st.Row, ...] | None:
    """Return the rows of a stitch pattern that stands before the work, where words call its name."""
    kind = st.Row if course == "ROW" else st.Round
    for title, rows in scribe.context.patterns.items():
        name = _OF_PATTERN.sub("", _TITLE.sub("", title)).strip()
        if not _NO_NAME.sub("", name).strip(" -:") or not re.search(
            rf"\b{re.escape(name)}\b", words
        ):
            continue
        if set(rows) != set(range(1, len(rows) + 1)):
            continue
        told = tuple(attrs.evolve(rows[n], count=None) for n in sorted(rows))
        if told and all(isinstance(row, kind) for row in told):
            return told
    return None


_TITLE = WordForm(r"^(?:stitch pattern|pattern stitch|pattern|stitch)[:,–-] ?")
