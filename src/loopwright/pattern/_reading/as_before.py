# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What clauses mean that ask for work again: rows of a section, the same as for another part."""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.assemble import fresh
from loopwright.pattern._reading.context import is_titled
from loopwright.pattern._reading.how_often import times_in
from loopwright.pattern._reading.labels import numbers_in
from loopwright.pattern._reading.rule_table import alone, rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, number_of, stated_in
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS, figure
from loopwright.pattern.values import Count, UntilCount, as_many, sized

__all__: list[str] = []


@rule(
    r"(?:work|knit) (?:the )?(?P<setup>set[ -]?up (?:round|rnd|row)(?:,? and |,? then ))?(?:rounds?|rnds?|rows?) (?P<nums>\d+(?: ?(?:-|–|to|and) ?\d+)?) (?:as|the same as) (?:given )?(?:for|in) (?:the )?(?P<name>[a-z ]+)"
)
def _rows_of_section(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    rows = [scribe.context.row(number, said["name"].lower()) for number in numbers_in(said["nums"])]
    setup = scribe.context.named.get("set-up") if said["setup"] else None
    if any(row is None for row in rows) or (said["setup"] and setup is None):
        return None
    found = [
        attrs.evolve(row, count=None, at=scribe.place) for row in (setup, *rows) if row is not None
    ]
    return list(found)


@rule(
    r"(?:(?:on|over|across|with) (?:the )?(?P<n>{N}) {STS}(?: (?:of|on) needle \d)?,? )?(?:work|knit) (?:the heel )?(?:exactly )?(?:as|the same as|like) (?:you did |given |described )?(?:(?:for|in) )?(?:the )?(?P<name>toe|heel|top|hand)(?P<rest>[^;]*)"
)
def _as_section(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    rows = scribe.section_rows(said["name"].lower())
    if not rows:
        return None
    rest = said["rest"].lower()
    told = re.search(rf"over (?:the )?(?:first|next|last|rem\w*)? ?({COUNT})", rest)
    over = said["n"] or (told[1] if told else "")
    lead = scribe.focus(count_in(over)) if over else []
    scribe.context.course = "ROW" if over else scribe.context.course
    scribe.give(lead)
    scribe.give(rows)
    scribe.context.course = "RND"
    return list(scribe.together())


@rule(
    r"(?:(?:work|knit|make|begin|start) )?(?:exactly |just )?(?:(?:the )?same )?(?:as|like) (?:(?:given )?(?:for|in|on) )?(?:the )?(?P<name>right|left|first)(?: hand)?(?: {PAIR})?,? (?:(?:un)?til|to|as far as|up to)(?: you (?:reach|come to))? (?:the )?(?:beginning of (?:the )?|start of (?:the )?|place for (?:the )?|position of (?:the )?)?(?P<where>thumb|heel|foot|leg|instep|gusset|top|cuff)(?: is reached| opening| place\w*| shaping| round| rnd\.?| flap)*"
)
@alone
def _as_other_until(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work as for right mitten until thumb is reached": the steps of that one, so far."""
    if any(tally.count for tally in scribe.now().tallies):
        return None
    name, where = said["name"].lower(), said["where"].lower()
    titles = [e.step.title for e in scribe.assembler.entries if isinstance(e.step, st.Section)]
    inside = not any(name in title.lower() for title in titles)  # that one stands first, then
    found: list[Says] = []
    labels = [line for one, line in scribe.context.labels.items() if where in one.split()]
    if where == "thumb":
        steps = (entry.step for entry in scribe.assembler.entries)
        labels += [one.at.line for one in steps if isinstance(one, st.WasteRow) and one.at]
    for entry in scribe.assembler.entries:
        step = entry.step
        line = step.at.line if step.at is not None else 0
        told = inside and found and any(line >= one for one in labels)
        if told or (inside and isinstance(step, st.Section) and where in step.title.lower()):
            closed = found and isinstance(found[-1], st.DrawUp | st.BindOff)
            return None if closed else found or None  # "until the thumb is reached"
        if isinstance(step, st.Section):
            inside = inside or name in step.title.lower()
        elif inside and not isinstance(step, st.Note):
            found.append(attrs.evolve(step, at=scribe.place))
    return None


_THUMB_TOO = r"(?:,? (?:and )?(?:(?:including|with|making|working|knitting|work|knit|make) (?:the |its )?thumb(?: (?:worked|made|knitted))?|(?:the )?thumb)(?: (?:and all|included|too|as well|likewise|alike|(?:in )?(?:exactly |just )?the same(?: way| manner)?|in like manner|as before))?)?"


_FROM_HERE = r"(?:,? from (?:here|there|this point|that point|after the thumb|(?:the )?(?:further|next|following|plain) (?:rounds?|rnds?)|the (?:rounds?|rnds?) (?:after|behind|following) the thumb(?: (?:round|rnd))?)(?: on(?:wards?)?| (?:up )?to the (?:very )?end)?)?"


@rule(
    rf"(?:(?:now|then|and|next) )*(?:complete|finish|work|knit|continue|cont|carry on|go on|end)(?: off)?(?: (?:the )?(?:rest|remainder|it|{{PAIR}}|hand|everything else)(?: of (?:it|(?:the|this) {{PAIR}}))?(?: and (?:the |its )?thumb)?)? (?:exactly |just )?(?:as|like|to match|to correspond (?:to|with)|the same as|in the same way as)(?: (?:you did|given|described|told|worked))?(?: (?:for|in|on|with))? (?:the )?(?P<name>right|left|first)(?: hand)?(?: {{PAIR}})?{_FROM_HERE}{_THUMB_TOO}"
)
def _rest_as_other(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "complete as for right mitten", where its thumb is set apart: all that follows there."""
    live, name = scribe.now(), said["name"].lower()
    steps = [entry.step for entry in scribe.assembler.entries]
    sides = [_SIDE.findall(s.title.lower()) if isinstance(s, st.Section) else [] for s in steps]
    own = next((n for n in range(len(steps) - 1, -1, -1) if sides[n] and name not in sides[n]), 0)
    theirs = next((n for n, side in enumerate(sides[:own]) if name in side), 0)
    apart = [s for s in steps[own:] if isinstance(s, st.WasteRow | st.Hold)][-1:]
    alike = [
        s
        for s in steps[theirs:own]
        if isinstance(s, st.WasteRow | st.Hold) and any(_is_like(s, a) for a in apart)
    ]
    told = _TOLD_ON.match(scribe.following or scribe.next_line) is not None
    if not live.sure or told or len(alike) != 1 or _line(steps[-1]) != _line(apart[0]):
        return None

    def renamed(step: st.Step) -> st.Step:
        if (
            isinstance(step, st.TakeOut | st.Recapture | st.ReturnHeld)
            and step.name == alike[0].name
        ):
            return attrs.evolve(step, name=apart[0].name)
        return step

    rest = [
        renamed(fresh(step, scribe.place))
        for step in steps[theirs:own]
        if _line(step) > _line(alike[0]) and not isinstance(step, st.Note | st.Section)
    ]
    ends = [live.trial(rest, size) for size in range(len(live.tallies))]
    return [*rest] if all(not end.troubles and not end.tally.count for end in ends) else None


@rule(
    r"(?:(?:now|then|and) )*(?:(?:work|knit|make|do|complete) (?:the |your )?(?:other|second|2nd|remaining|left|right) (?P<name>sleeve|leg)(?: on the other side)? (?:in )?(?:exactly |just )?(?:the same(?: way| manner)?(?: as (?:the )?first(?: one)?)?|(?:as|like) (?:for )?(?:the )?first(?: one)?|to match(?: (?:the )?first(?: one)?)?|alike|likewise)|(?:rep(?:eat)?|do the same|work the same) (?:for|on|with) (?:the )?(?:other|second|2nd) (?P<name2>sleeve|leg))"
)
@alone
def _other_that_waits(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the other sleeve the same way": as many sts wait as were taken up for the first."""
    live = scribe.now()
    steps = [entry.step for entry in scribe.assembler.entries]
    taken = max((n for n, step in enumerate(steps) if isinstance(step, st.ReturnHeld)), default=-1)
    if not live.held():
        return []
    if taken < 0 or not live.sure or live.count != 0:
        return None
    rest = [fresh(s, scribe.place) for s in steps[taken + 1 :] if not isinstance(s, st.Note | st.Section)]  # fmt: skip
    for name in live.held():
        found = [st.ReturnHeld(name), *rest]
        ends = [live.trial(found, size) for size in range(len(live.tallies))]
        if all(not end.troubles and not end.tally.count for end in ends):
            return [*found]
    return None


_TOLD_ON = WordForm(  # the rest itself follows
    r"\W*(?:(?:r(?:ou)?n?ds?|rows?) \d|(?:next|\d+(?:st|nd|rd|th)) (?:r(?:ou)?n?d|row)|(?:now |then )?(?:continue|cont|knit|k|p|work|decrease|dec|shape)\b|(?:top|tip|decreases)\W*$)"
)
_SIDE = WordForm(r"\b(?:right|left|first|second|other)\b", re.NOFLAG)


def _line(step: st.Step) -> int:
    return step.at.line if step.at is not None else 0


def _is_like(step: st.WasteRow | st.Hold, other: st.WasteRow | st.Hold) -> bool:
    """Tell whether as many stitches are set apart in the same way."""
    return type(step) is type(other) and step.stitches == other.stitches


@rule(
    r"(?:(?:work|knit|make) )?(?:the )?(?P<name>cuff|brim|rib|ribbing|wrist|hem) (?:exactly |just |worked |is worked |is )*(?:as|like|the same as|same as) (?:given )?(?:for |on |in )?(?:the )?(?:right|first|left|other)(?: hand)?(?: {PAIR})?(?:'s)?"
)
@alone
def _cuff_as_for_other(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "cuff as for right mitten", with nothing on the needles: that section once more."""
    if any(tally.count for tally in scribe.now().tallies):
        return None
    steps = [s for s in scribe.section_steps(said["name"].lower()) if not isinstance(s, st.Note)]
    if not steps or not isinstance(steps[0], st.CastOn):
        return None
    return [attrs.evolve(step, at=scribe.place) for step in steps]


@rule(
    r"(?:now |then )?(?:shape|work|knit|decrease(?: for)?|complete) (?:the )?(?P<name>toe|top|crown|tip|thumb)(?: shaping)? (?:exactly )?(?:as|like|the same as|in the same way as|to match)(?: (?:for|on|at|in))? (?:the )?(?:[a-z]+ ?){1,3}(?:,? until (?P<n>{N}) {STS}(?: (?:remain|are left|rem|left))?)?"
)
@alone
def _shaped_as(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "shape toe as for the instep, until 10 sts remain": the rows of the toe once more."""
    rows = scribe.section_rows(said["name"].lower())
    if rows and said["n"] and isinstance(rows[-1], st.RepeatRounds):
        rows = [*rows[:-1], attrs.evolve(rows[-1], times=UntilCount(count_in(said["n"])))]
    return list(rows) or None


_ONCE_MORE = WordForm(r"\b(?:again|once more|repeat|rep)\b")
_ON_STS = r"(?:on|over|across|with) (?:just |only )?(?:the |these |those )?(?:first |next )?{N} (?:\w+ )?{STS}(?: only| alone)?"


@rule(
    rf"(?:{_ON_STS.replace('{N}', '(?P<n>{N})')},? )?(?:work|knit|repeat|rep|do|follow) (?:through )?steps? (?P<first>\d+) ?(?:to|-|–|through|and) ?(?P<last>\d+)(?: once more| again)?(?: {_ON_STS.replace('{N}', '(?P<n2>{N})')})?(?: (?:once more|again|a second time|once again))?(?:,? (?:(?:just|exactly|in the same way) )?(?:as|like) (?:you did )?(?:for|on|in|at) (?:the )?[a-z]+)?(?: {_ON_STS.replace('{N}', '(?P<n3>{N})')})?"
)
@alone
def _steps_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "on the 32 sole sts work steps 2 to 9 once more": the same rows, over these only."""
    first, last = (scribe.context.steps.get(figure(said[key])) for key in ("first", "last"))
    over = next((said[key] for key in ("n", "n2", "n3") if said[key]), None)
    if first is None or last is None or (over is None and not _ONCE_MORE.search(said[0])):
        return None
    rows = scribe.rows_between(first[0], last[1])
    if not rows or first[0] > last[0]:
        return None
    in_rows = isinstance(next(iter(rounds_in(rows))), st.Row)
    lead = scribe.focus(count_in(over)) if over else []
    scribe.context.course = "ROW" if in_rows else "RND"
    return [*lead, *rows]


_SO_OFTEN_MORE = rf"(?: (?:another |a further )?(?:{'|'.join(NUMBER_WORDS)}|{{N}})(?: more| further)? times(?: more| further| in all| in total| altogether)?| twice(?: more| in all)?| once more| again)"


@rule(
    rf"(?:now |then |and )*(?:work|knit|repeat|rep|do|follow) step (?P<n>\d{{1,2}}),?(?P<often>{_SO_OFTEN_MORE})"
)
def _one_step_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "do step 10 seven times in all", "repeat step 10 six times more": all rows told there."""
    told, how = scribe.context.steps.get(figure(said["n"])), said["often"].lower()
    rows = scribe.rows_between(*told) if told is not None else []
    body = tuple(row for row in rows if isinstance(row, st.Round | st.Row))
    often = as_many(times_in(how) or 1, scribe.now().count)
    if not rows or len(body) != len(rows):
        return None
    less = tuple(int(many) - 1 for many in often)
    stated = scribe.stated or stated_in(MappedText.of(scribe.following)).count
    if re.search(r"\b(?:all|total|altogether)\b", how):
        ways = [less]
    elif re.search(r"\b(?:more|further|again|another)\b", how):
        ways = [often]
    else:
        ways = [] if stated is None else [often, less]
    for way in ways:
        again = st.RepeatRounds(body, sized(way), at=scribe.place)
        if len(ways) == 1 or _comes_to(scribe, again, stated):
            return [again]
    return None


def _comes_to(scribe: Scribe, again: st.RepeatRounds, stated: Count | None) -> bool:
    live = scribe.now()
    ends = [live.trial([again], size).tally.count for size in range(len(live.tallies))]
    return stated is not None and ends == [*as_many(stated, live.count)]


@rule(
    r"(?:now |then )?(?:take up|pick up|include|bring back|return to|go back to|collect) (?:the |all the |all )?(?:instep|sole|held|waiting|resting|other|top of (?:the )?foot)(?: {STS}| needle)?(?: again| once more| too| as well)?"
)
@alone
def _instep_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "take up the instep again": all that was held is back, and the round is joined."""
    live = scribe.now()
    if not live.held() or not live.sure or live.is_within:
        return None
    scribe.context.course = "RND"
    return list(scribe.together())


@rule(
    r"(?:now |then |and )*(?:work|do|knit|begin|start|make) (?:on )?the (?:second|other|next) half(?: of (?:the |your )?(?:heel|turn|toe|flap))?"
)
@rule(
    r"(?:now |then |and |from here |next )*(?:work|knit|continue|go|make|begin|start)(?: on| to work| working)?(?: (?:back and forth|again|your way|back|the heel|from (?:the |its )?(?:middle|cent(?:er|re))(?: of the heel)?))* (?:out(?:wards?)?|to(?:wards?)? the (?:edges|sides|ends|outside))(?: (?:again|once more|from the (?:middle|cent(?:er|re))|to(?:wards?)? the (?:edges|sides|ends)))*(?:,? (?:one|1|a) (?:st|stitch) (?:further|more|longer|at a time)(?: (?:each|every) (?:time|row)| (?:in|on) (?:each|every) row)?)?"
)
@alone
def _second_half_follows(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "now work the second half", where its first row is told next: a heading in words."""
    if not re.match(
        r"\W*(?:(?:row|r|rnd|round) ?(?:\d|[a-z]\b)|(?:next|\d+(?:st|nd|rd|th)) row\b)",
        scribe.following or scribe.next_line,
        re.I,
    ):
        return None
    scribe.note(said[0])
    return []


_NAME = r"(?:the )?(?!(?:instep|sole|heel|them|these|this|that|row|round|rnd|needle|same)\b)[a-z]{4,14}(?: [a-z]{3,12})?"


@rule(
    rf"(?:(?:now|then|next|and) )*(?:work|repeat|rep|knit|do) (?:all )?(?:the )?(?P<many>\d+|{'|'.join(NUMBER_WORDS)}) (?:rows|rounds|rnds) of (?:the )?(?P<name>{_NAME.replace('the ', '')})(?: (?:again|once more|once))*"
)
@alone
def _as_many_rows(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the 8 rows of the first band": all that was worked there, where it is as many."""
    name = re.sub(r"^the ", "", said["name"].lower())
    steps = [one for one in scribe.section_steps(name) if not isinstance(one, st.Note)]
    rows = [one for one in steps if isinstance(one, st.Round | st.Row | st.RepeatRounds)]
    many = sum(len(list(rounds_in((row,)))) * _times(row) for row in rows)
    if not rows or len(rows) != len(steps) or many != number_of(said["many"]):
        return None
    if scribe.place is not None:
        scribe.context.told_again.add(scribe.place.line)
    return [attrs.evolve(row, count=None, at=scribe.place) for row in rows]


def _times(row: st.Step) -> int:
    """Return how often a step's rows are worked; 0 where that is not known by itself."""
    if not isinstance(row, st.RepeatRounds):
        return 1
    return row.times if isinstance(row.times, int) else 0


@rule(
    rf"(?:(?:now|then|next|and),? )*(?:(?:work|knit|do|make) )?(?:one more|another|a (?:second|third|fourth|further)) (?P<names>{_NAME}(?: of [a-z]{{3,12}})?)"
)
@rule(
    rf"(?:(?:now|then|next|and),? )*(?:work|knit)(?: this)?,? (?:exactly |just )?(?:as|like|the same as)(?: you did)?(?: for| in)? (?P<names>{_NAME})"
)
@rule(
    rf"(?:(?:now|then|next|and) )*(?:work|knit|repeat|do) (?P<names>{_NAME}(?:(?:, {_NAME})*,? and {_NAME})?)(?: (?:again|once more|over again|a second time|in that order|in this order))+"
)
@alone
def _sections_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the ridge again", "work the dots, the waves and the dots once more"."""
    names = [
        re.sub(r"^the ", "", one) for one in re.split(r", (?:and )?| and ", said["names"].lower())
    ]
    found: list[Says] = []
    for name in names:
        steps = [one for one in scribe.section_steps(name) if not isinstance(one, st.Note)]
        rows = [one for one in steps if isinstance(one, st.Round | st.Row | st.RepeatRounds)]
        if not rows or len(rows) != len(steps):
            return None
        found += [attrs.evolve(row, count=None, at=scribe.place) for row in rows]
    if scribe.place is not None:
        scribe.context.told_again.add(scribe.place.line)
    return found


_MANY = rf"(?:\d+|{'|'.join(NUMBER_WORDS)})"
_SECTION = r"(?P<name>(?:section|part|stage) (?:[a-h]|\d|one|two|three|four|five|six)\b)"
_LETTERS = r"(?:sections|parts|stages) (?P<names>(?:[a-h]|\d)(?:, (?:[a-h]|\d))*,? (?:and|&|then) (?:[a-h]|\d))\b"
_SO_OFTEN = rf"(?P<often>,? (?:(?:once|twice|(?:again,? )?(?:another |a further )?(?:{_MANY}|{{N}}) (?:more |further )?times|a total of {_MANY} times)(?: more| in all| in total| altogether)?|again|once again|as before))?(?: \((?:{_MANY} )?(?:rows|rounds|rnds)\))?(?:,? (?:each time )?(?:(?:and |thus |so )?(?:gaining|adding|losing|growing by|increasing by|decreasing by)|for|with) (?:another )?{_MANY} (?:more |extra |fewer )?(?:sts?|stitch(?:es)?)(?: each time| every time| per repeat| (?:(?:in|on|with) )?(?:each|every)(?: repeat| one)?)?)?"


@rule(
    rf"(?:(?:now|then|next|and) )*(?:work|repeat|rep|knit|do)(?: through)? (?:(?:the|all|its|both|same) )*(?:(?P<many>{_MANY}) )?(?:(?:rows|rounds|rnds) )?(?:of |in )?(?:the )?{_SECTION}{_SO_OFTEN}(?P<but>,? but .*)?"
)
@rule(
    rf"(?:(?:now|then|next|and) )*(?:go back|return) to (?:the )?{_SECTION},? (?:and )?(?:work|repeat|rep|knit|do) (?:(?:the|all|its|both|same) )*(?:(?P<many>{_MANY}) )?(?:of its )?(?:rows|rounds|rnds|it){_SO_OFTEN}"
)
def _lettered_section(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the eight rows of Section B", "repeat the two rows of Section A 40 times"."""
    name, often = said["name"].lower(), times_in(said["often"] or "") or 1
    told = [rows for title, (rows, _) in scribe.context.sections.items() if is_titled(title, name)]
    rows = told[-1] if told else {}
    many = number_of(said["many"] or "")
    if not many and not said.groupdict().get("but"):
        return _whole_sections(scribe, [name], often)
    last = max(rows, default=0)
    if set(rows) != set(range(1, last + 1)) or not last:
        return None
    if said.groupdict().get("but"):
        return _but_so_often(scribe, rows, said["but"])
    if many > last:
        if many % last or often != 1:
            return None
        many, often = last, many // last
    body = tuple(
        attrs.evolve(rows[number], count=None, at=scribe.place) for number in range(1, many + 1)
    )
    return list(body) if often == 1 else [st.RepeatRounds(body, often, at=scribe.place)]


@rule(
    rf"(?:(?:now|then|next|and) )*(?:work|repeat|rep|knit|do)(?: through)? (?:(?:the|all|its|both|same) )*{_LETTERS}{_SO_OFTEN}"
)
def _lettered_sections(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work Sections B and C twice more": all of each, one after the other."""
    kind = said[0].lower().split("s ")[0].split()[-1]
    names = [f"{kind} {one}" for one in re.findall(r"\b(?:[a-h]|\d)\b", said["names"].lower())]
    return _whole_sections(scribe, names, times_in(said["often"] or "") or 1)


@rule(
    rf"(?:(?:now|then|next|and) )*(?:work|repeat|rep|knit|do) (?:(?:all|the whole) of )?(?:this(?: whole| entire| complete)?|the (?:whole|entire|complete)) (?:section|half|part|panel|stretch)(?: of the (?:pattern|cowl|scarf|shawl|hat|blanket))?(?P<often>(?:,? (?:another (?:{_MANY}|{{N}}) times|(?:{_MANY}|{{N}})(?: more| further)? times(?: more| in all| in total| altogether)|twice more|once more|again|a total of (?:{_MANY}|{{N}}) times)))(?:,? so that [^;]*)?"
)
def _this_section(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the whole of this half 3 times more": all that stands under its heading."""
    titles = [e.step.title for e in scribe.assembler.entries if isinstance(e.step, st.Section)]
    often = times_in(said["often"]) or 1
    if not titles or not isinstance(often, int):
        return None
    in_all = re.search(r"\b(?:all|total|altogether)\b", said["often"]) is not None
    return _whole_sections(scribe, [titles[-1].lower()], often - in_all)


def _whole_sections(scribe: Scribe, names: Sequence[str], often: Count) -> list[Says] | None:
    """Return all of the sections, with what was repeated there, so often; rows alone."""
    if not isinstance(often, int) or not 0 < often <= MOST:
        return None
    again: list[st.Row | st.Round | st.RepeatRounds] = []
    told = scribe.context.told_again
    for name in names:
        before, inside = len(again), False
        for entry in scribe.assembler.entries:
            step = entry.step
            if isinstance(step, st.Section):
                inside = is_titled(step.title.lower(), name)
            elif inside and step.at is not None and step.at.line in told:
                continue
            elif inside and isinstance(step, st.Row | st.Round | st.RepeatRounds):
                again.append(step)
            elif inside and not isinstance(step, st.Note):
                return None
        if len(again) == before:
            return None
    if scribe.place is not None:
        told.add(scribe.place.line)
    return [attrs.evolve(one, count=None, at=scribe.place) for one in again * often]


def _but_so_often(
    scribe: Scribe, rows: dict[int, st.Round | st.Row], said: str
) -> list[Says] | None:
    """Read "…, but repeat the two rows only 5 times": in all, or besides, as the count says."""
    often, live = times_in(said), scribe.now()
    stated = scribe.stated or stated_in(MappedText.of(scribe.following)).count
    if not isinstance(often, int) or stated is None or not live.sure:
        return None
    body = tuple(attrs.evolve(row, count=None, at=scribe.place) for row in rows.values())
    for times in (often, often + 1):
        steps = (st.RepeatRounds(body, times, at=scribe.place),)
        ends = [live.trial(steps, size).tally.count for size in range(len(live.tallies))]
        if ends == [*as_many(stated, live.count)]:
            return list(steps)
    return None


MOST = 40  # times that a whole section is worked again


@rule(
    r"(?:work|repeat|knit) (?:the )?(?P<name>toe|heel|top|crown|fingertips?|thumb)(?: instructions| shaping| (?:rounds|rnds)| dec\w*)?(?: again)?(?: from (?:rnd|round) (?P<first>\d))?(?: again)? until (?:only |there are )*(?P<n>{N}) {STS}[^;\d]*"
)
def _rounds_again(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the toe instructions again from rnd 1 until 24 sts rem"."""
    name = said["name"].lower()
    first = scribe.context.row(int(said["first"] or 1), name)
    rows = [
        step for step in scribe.section_steps(name) if isinstance(step, st.Round | st.RepeatRounds)
    ]
    told = [[row.items for row in rounds_in((step,))] for step in rows]
    at = next((n for n, items in enumerate(told) if first and first.items in items), None)
    last = rows[-1] if rows else None
    if (
        at is None
        or not isinstance(last, st.RepeatRounds)
        or not isinstance(last.times, UntilCount)
    ):
        return None
    ending = attrs.evolve(
        last, times=attrs.evolve(last.times, count=count_in(said["n"])), count=None, at=scribe.place,
        steps=tuple(attrs.evolve(row, count=None, at=scribe.place) for row in last.steps),
    )  # fmt: skip
    return [*(attrs.evolve(row, count=None, at=scribe.place) for row in rows[at:-1]), ending]


@rule(
    r"(?:now |then )?(?:work|knit|make|shape|finish|complete)(?: and (?:close|graft))?(?: (?:the )?(?:heel|second toe|other toe|other end))? (?:exactly |just )?(?:as|like|the same as|in the same way as)(?: (?:you did|given|described|told))?(?: (?:for|in|on|at))? (?:the )?(?P<name>toe|heel)(?:,? from (?:the )?(?:(?:round|rnd) (?P<first>\d+)|(?P<nth>\d+)(?:st|nd|rd|th) (?:round|rnd))(?: on(?:wards?)?)?)?(?:,? (?:to|until|through|up to|as far as) (?:and including )?(?:the )?(?:graft\w*|end|finish\w*))?(?:,? (?:and|then) graft[^;\d]*)?"
)
@alone
def _in_rounds_as(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work the heel like the toe, from round 1 to the grafting": its rounds once more."""
    name, live = said["name"].lower(), scribe.now()
    steps = [one for one in scribe.section_steps(name) if not isinstance(one, st.Note)]
    number = int(said["first"] or said["nth"] or 1)
    first = scribe.context.row(number, name)
    if first is None and number == 1:
        first = next(iter(rounds_in(steps)), None)
    told = [[row.items for row in rounds_in((step,))] for step in steps]
    at = next((n for n, items in enumerate(told) if first and first.items in items[:1]), None)
    if at is None or not live.in_rounds or not live.is_free:
        return None
    again = [attrs.evolve(step, at=scribe.place) for step in steps[at:]]
    fits = all(not live.trial(again, size).troubles for size in range(len(live.tallies)))
    return list(again) if fits else None
