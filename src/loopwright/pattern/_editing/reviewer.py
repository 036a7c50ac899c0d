"""Technical editing: read a pattern line by line, for every size, and say what doesn't follow.

A review works every instruction in numbers only, once for each size, and goes on behind a mistake
as if the stated count were right. What only a person can judge is left to people: which of the
editors' points are covered is listed in the documentation, point by point.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, TypeAlias

import attrs

from loopwright.border import guard
from loopwright.errors import KnitError, PatternSyntaxError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import items_of, rewritten, rounds_in, steps_in, things_in
from loopwright.pattern._editing.drawn_charts import Charts, given_charts
from loopwright.pattern._editing.findings import ERROR, NOTE, WARNING, Finding, Review
from loopwright.pattern._editing.leans import leans
from loopwright.pattern._editing.measures import amounts, measures
from loopwright.pattern._editing.shared_findings import DOUBT, of_all_sizes
from loopwright.pattern._editing.shown_alone import shown_alone
from loopwright.pattern._editing.size_brackets import size_brackets
from loopwright.pattern._editing.spoken import spoken
from loopwright.pattern._editing.stated_places import at_its_count
from loopwright.pattern._editing.wording import abbreviations, conversions, head, settled, terms
from loopwright.pattern._grammar.said import refuse_nothing
from loopwright.pattern._knit import AWAY, knitted
from loopwright.pattern._reading.reader import MAX_ERRORS, read_closely
from loopwright.pattern._reading.reading import Reading
from loopwright.pattern._rewording.one_hand import OneHand, in_one_hand
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import WORDINGS, OwnWording
from loopwright.pattern._tally import Tally, Trouble
from loopwright.pattern._tolerant_walk import Claim, Editor, Key
from loopwright.pattern.items import PickUp, Repeat
from loopwright.pattern.journal import Picked
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.values import Sized
from loopwright.plurals import plural

__all__ = ["review"]

_SLIP = WordForm(
    r"did you mean .*\d|did you mean (?:ssk|sts?\b|stitch|purl|knit|skp|rnd|rounds?)", re.NOFLAG
)
_CONTRADICTS = WordForm(
    r" in all, not |needles are named|there are no rounds|is not one of those|only \d+ rounds",
    re.NOFLAG,
)
_NO_NUMBER = WordForm(
    r"\d{16,}", re.NOFLAG
)  # nothing in a pattern is counted so far, and looking takes long
Claims: TypeAlias = dict[Key, tuple[Claim, ...]]
OPEN_CHOICES = ("slip", "open choice", "doubt")  # read in the usual way; said all the same

CORNERS = 2  # stitches picked up beyond the edge chains to close the corners (common practice)
MAX_READINGS = 12  # ambiguous repeats tried both ways; each costs one more walk for each size


def review(
    pattern: Pattern | str,
    *,
    stitches: StitchTable = STITCHES,
    charts: Charts | None = None,
    wordings: Sequence[OwnWording] = WORDINGS,
) -> Review:
    """Return what a technical editor would query in a pattern.

    Parameters
    ----------
    pattern : Pattern or str
        A text is read closely: its wording, numbering and conversions are looked at too.
    stitches : StitchTable
    charts : mapping, optional
        Charts that stand beside a text, by title: the stitches of each row, by its number, in the
        order in which they are worked. They are compared with the rows that the text writes out.
    wordings : sequence of OwnWording
        With ways of saying things of your own, as for `read`.

    Returns
    -------
    Review
        Where some lines can't be read, those are told, and what could be counted all the same.

    Raises
    ------
    PatternSyntaxError
        The text is no pattern: too long, or nearly nothing in it can be read.

    Examples
    --------
    >>> print(review("Cast on 10 sts. Join in the round. Rnd 1: *K2, p2; rep from * to end."))
    pattern:1:43: error: 10 sts are no multiple of 4: after 2 times 2 are left over
        Cast on 10 sts. Join in the round. Rnd 1: *K2, p2; rep from * to end.
                                                  ^
    pattern: 1 error
    """
    if isinstance(pattern, str) and (written := in_one_hand(pattern)).text != pattern:
        found = review(written.text, stitches=stitches, charts=charts, wordings=wordings)
        return Review(tuple(_as_given(one, written) for one in found.findings), pattern)
    text = ""
    claims: Claims = {}
    lost: frozenset[int] = frozenset()
    findings: list[Finding] = []
    if isinstance(pattern, str):
        text, reading = (
            pattern,
            read_closely(pattern, stitches=stitches, wordings=wordings, go_on=True),
        )
        pattern, claims = reading.pattern, reading.claims
        if not reading.errors:
            refuse_nothing(pattern.steps)
        if reading.loose and not claims:
            claims = {(0, 0): ()}
        if len(reading.errors) >= MAX_ERRORS and not claims_enough(reading):
            raise reading.errors[-1]
        lost = _lost(reading)
        text = _NO_NUMBER.sub(lambda digits: " " * len(digits[0]), text)
        findings += (
            _unread(error, _begins_before(pattern, error) and error.line == min(lost))
            for error in reading.errors
        )
        findings += _uncounted(pattern)
        for remark in reading.remarks:
            looked_at_below = remark.kind in ("repeat", "numbers")
            if not looked_at_below and not settled(pattern, remark.text):
                severity = NOTE if remark.kind in OPEN_CHOICES else WARNING
                findings.append(
                    Finding(severity, remark.kind, remark.text, remark.line, remark.column)
                )
        findings += conversions(text)
        findings += amounts(text)
        findings += terms(text)
    findings += _entries(pattern)
    unpaired = list(size_brackets(spoken(text))) if text else []
    hidden = _begun_by(unpaired, pattern)
    findings += hidden
    if not hidden and not any(finding.kind == "sizes" for finding in findings):
        walks = _walks(pattern, stitches, claims)
        findings += (
            at_its_count(one, text) for one in _worked(pattern, walks, _ending(pattern, text))
        )
        if not lost and not any(finding.severity == ERROR for finding in findings):
            findings += _edges(pattern, stitches, bool(claims))
        if text and not lost and not any(finding.severity != NOTE for finding in findings):
            findings += measures(pattern, text, walks)
        findings += _readings(pattern, stitches, claims)
        findings += _grading(pattern)
        findings += leans(pattern)
    if text:
        alone = [
            one for one in shown_alone(text, pattern, findings, lost) if not _is_at(one, unpaired)
        ]
        findings = [one for one in findings if not _said_better(one, [*alone, *unpaired])]
        findings += [*alone, *unpaired]
    if text and charts:
        findings += given_charts(charts, spoken(text))
    findings += abbreviations(pattern, text)
    findings += head(pattern, text)
    findings.sort(
        key=lambda one: (one.line, one.column, (ERROR, WARNING, NOTE).index(one.severity))
    )
    return Review(tuple(findings), text)


_IN_LINE = WordForm(r"(?<=\bin line )\d+", re.NOFLAG)
_OF_ROW = WordForm(r"\b(?:rows?|number|found) \d+(?: (?:and|to) \d+)?", re.NOFLAG)


def _as_given(finding: Finding, written: OneHand) -> Finding:
    """Return a finding with the place, and the lines that it names, of the text as given."""
    line, column = written.place(finding.line, finding.column)
    said = _IN_LINE.sub(lambda match: str(written.place(int(match[0]), 1)[0]), finding.message)
    if names := written.row_names:
        said = _OF_ROW.sub(lambda match: _called(match[0], names), said)
    return attrs.evolve(finding, line=line, column=column, message=said)


def _called(said: str, names: Mapping[int, str]) -> str:
    """Return "rows D3 and D4" for "rows 17 and 18", as the text calls them."""
    return re.sub(r"\d+", lambda number: names.get(int(number[0]), number[0]), said)


def _lost(reading: Reading) -> frozenset[int]:
    """Return the lines of a text in which something was not understood."""
    doubted = (
        line
        for (line, _), claims in reading.claims.items()
        if any(claim.kind == "doubt" for claim in claims)
    )
    first = next((one for one in reading.pattern.steps if not isinstance(one, _TOLD)), None)
    start: tuple[int, ...] = ()
    if first is not None and first.at is not None and not isinstance(first, _CASTS_ON):
        start = () if reading.pattern.steps[0] is first else (first.at.line,)
    return frozenset((*doubted, *start, *(error.line for error in reading.errors)))


def _begins_before(pattern: Pattern, error: PatternSyntaxError) -> bool:
    """Tell whether stitches were cast on before a line that was not understood."""
    start = _cast_on_at(pattern)
    return start is not None and start.line < error.line


def _uncounted(pattern: Pattern) -> Iterator[Finding]:
    """Tell where rows are worked in a text of which no cast-on was understood."""
    begins = bool(pattern.steps) and not isinstance(pattern.steps[0], _TOLD)  # a fragment
    if begins or any(isinstance(one, _MAKES) for one in pattern.steps):
        return
    rows = (one for one in pattern.steps if isinstance(one, st.Row | st.Round | st.RepeatRounds))
    if (first := next(rows, None)) is not None and first.at is not None:
        said = "no cast-on was understood before this, and nothing here is counted"
        hint = "write it as: Cast on 60 sts."
        yield Finding(NOTE, "unread", f"{said}; {hint}", first.at.line, first.at.column)


def _begun_by(unpaired: Sequence[Finding], pattern: Pattern) -> list[Finding]:
    """Tell where a bracket without its partner hides how many are cast on."""
    start = _cast_on_at(pattern)
    hiding = (one for one in unpaired if one.kind == "brackets")
    said = "how many are cast on is not known, and nothing is counted"
    return [
        Finding(NOTE, "unread", said, one.line, one.column)
        for one in hiding
        if start is not None and one.line == start.line
    ][:1]


def _is_at(one: Finding, others: Sequence[Finding]) -> bool:
    return any((one.line, one.column) == (other.line, other.column) for other in others)


def _said_better(one: Finding, alone: Sequence[Finding]) -> bool:
    """Tell whether the words show why the count is another, or the sides of a turn not alike."""
    if one.kind == "count":
        return any(other.kind == "brackets" and other.line == one.line for other in alone)
    return one.kind == "mirror" and any(
        other.kind == "centre" and 0 <= one.line - other.line <= SOON for other in alone
    )


SOON = 2  # lines between the two rows of a turn


def claims_enough(reading: Reading) -> bool:
    """Tell whether a text with many unknown sentences is a pattern all the same."""
    return sum(1 for _ in rounds_in(reading.pattern.steps)) > len(reading.errors)


def _unread(error: PatternSyntaxError, first: bool) -> Finding:
    """Return the finding for a sentence that means nothing: a slip of the pen if it looks so."""
    expected = f"; expected {' or '.join(error.expected)}" if error.expected else ""
    if error.hint and _SLIP.search(error.hint):
        said = f"{error.found}{expected}; {error.hint}"
        return Finding(WARNING, "syntax", said, error.line, error.column)
    if first and not error.expected and _CONTRADICTS.search(error.found):
        return Finding(ERROR, "syntax", error.found, error.line, error.column)
    said = f"not understood, and left out of the counts: {error.found}"
    return Finding(NOTE, "unread", said, error.line, error.column)


# what the counts say


def _walks(pattern: Pattern, stitches: StitchTable, claims: Claims) -> list[Editor]:
    """Work every size to its end."""
    walks = []
    for size in range(pattern.size_count):
        one = of_size(pattern, size)
        walks.append(Editor(one, claims, size, free=bool(claims), stitches=stitches))
        for step in one.steps:
            walks[-1].take(step)
    return walks


def _worked(pattern: Pattern, walks: Sequence[Editor], ending: str) -> list[Finding]:
    """Return what the sizes show; a mistake that several sizes share is one finding."""
    names = list(pattern.sizes) or [str(size + 1) for size in range(pattern.size_count)]
    return of_all_sizes(names, [_in_one_size(walk, ending) for walk in walks])


def _in_one_size(walk: Editor, ending: str) -> list[Finding]:
    """Return what cannot be worked in one size, and what is left open at its end."""
    start = _cast_on_at(walk.pattern) if walk.claims else None
    findings = list[Finding]()
    doubted = False
    for number, (step, trouble) in enumerate(walk.troubles):
        described = start is not None and step.at is not None and step.at.line < start.line
        if described and trouble.is_at_the_end:
            continue
        doubted = doubted and number not in walk.agreed
        unsure = number in walk.open_to_doubt or _is_doubtful(trouble)
        doubted = doubted or (bool(walk.claims) and unsure)
        findings.append(_found(step, trouble, doubted=doubted))
    return (
        findings
        if walk.blind
        else [*findings, *_left_open(walk.pattern, walk.tally, walk.forgotten, ending)]
    )


_CASTS_ON = (st.CastOn, st.ProvisionalCastOn, st.ClosedCastOn)
_MAKES = (*_CASTS_ON, st.ReturnHeld, st.Recapture)
_TOLD = (st.Note, st.Section, st.UseYarn)  # nothing is worked by these


def _cast_on_at(pattern: Pattern) -> st.TextPlace | None:
    """Return where the work begins: what stands before it is described, and not worked there."""
    return next((step.at for step in pattern.steps if isinstance(step, _CASTS_ON)), None)


FAR = 0.15  # of all stitches
FEW = 4  # stitches: so many are soon mistaken
OF_WHAT_LIES_THERE = ("place", "order", "limit")  # needles, gaps: no line says where each lies


def _is_doubtful(trouble: Trouble) -> bool:
    """Tell whether words may have been misread: numbers lie far apart, or a place is not there.

    Of 142 counts that were changed in ordinary patterns for a trial, one in ten missed by more
    than a seventh and four stitches; of 17 that were right, and misread, all did.
    """
    off, of = trouble.off
    return off > max(FEW, FAR * of) or trouble.kind in OF_WHAT_LIES_THERE


def _found(step: st.Step, trouble: Trouble, *, doubted: bool) -> Finding:
    """Return the finding; while no count has come out since it was doubted, it is no error."""
    at = step.at.within(max(1, trouble.column)) if step.at else st.TextPlace(0, 0)
    severity = WARNING if doubted or trouble.kind in ("mirror", "gap") else ERROR
    doubt = DOUBT if doubted else ""
    return Finding(severity, trouble.kind, f"{trouble.problem}{doubt}", at.line, at.column)


def _left_open(
    pattern: Pattern, tally: Tally, forgotten: set[str], ending: str
) -> Iterator[Finding]:
    last = next((step.at for step in reversed(pattern.steps) if step.at), st.TextPlace(0, 0))

    def left(kind: str, message: str) -> Finding:
        return Finding(WARNING, kind, message, last.line, last.column)

    if _ELSEWHERE.search(ending):
        return
    freed = _freed_in_words(pattern)
    forgotten = forgotten | _worked_alike(pattern, ending)
    kept = {
        name: many
        for name, many in tally.held.items()
        if not freed and name not in forgotten and not _still_waits(name, ending)
    }
    if tally.count and not _said_at_the_end(pattern):
        live = plural(tally.count, "st", be=True)
        waiting = [name for name in kept if name != "thumb"]
        more = "".join(f", and {kept.pop(name)} held as {name}" for name in waiting)
        yield left("secured", f"{live} still live at the end{more}: bind off, graft or draw up")
    if freed:
        return
    for name, stitches in kept.items():
        held = plural(stitches, "st", be=True)
        yield left("secured", f"{held} held as {name} and never returned to the needle")
    freed_like = _freed_stitches(pattern)  # the thumbs of a left and a right hand: told once
    for name in sorted(tally.waste.keys() - forgotten):
        if tally.waste[name][1] in freed_like:
            continue
        yield left("waste", f"waste yarn {name} is never taken out")
    for name, stitches in tally.opened.items():
        if name in forgotten:
            continue
        open_ = plural(stitches, "st", be=True)
        yield left("secured", f"{open_} left above waste yarn {name} and never recaptured")
    closed = not tally.count and any(isinstance(step, st.CastOn) for step in pattern.steps)
    if closed and not any(isinstance(step, st.WeaveIn) for step in pattern.steps):
        yield Finding(NOTE, "order", "the ends are not woven in", last.line, last.column)


def _freed_stitches(pattern: Pattern) -> set[int]:
    """Return how many stitches hung on each of the waste yarns that were taken out."""
    freed = {step.name for step in pattern.steps if isinstance(step, st.Recapture)}
    rows = [step for step in pattern.steps if isinstance(step, st.WasteRow)]
    return {int(str(step.stitches)) for step in rows if step.name in freed}


def _said_at_the_end(pattern: Pattern) -> bool:
    """Tell whether the last words, kept as text, say what becomes of the stitches."""
    steps = pattern.steps
    worked = max((n for n, step in enumerate(steps) if not isinstance(step, _TOLD)), default=0)
    near = steps[max(0, min(worked, len(steps) - 1) - 3) :]
    texts = [step.text.lower() for step in near if isinstance(step, st.Note)]
    words = (
        "bind off",
        "cast off",
        "holder",
        "graft",
        "spare thread",
        "spare needle",
        "waste yarn",
    )
    return any(word in text for text in texts for word in words)


_ELSEWHERE = WordForm(  # "finish as you like: pick up the sides and continue as for any plain sock"
    r"\b(?:finish|complete|continue|go on|carry on|proceed)\b[^.;]*?"
    r" as (?:you (?:like|please|wish|prefer)|(?:for|in|with) any)\b"
)


def _ending(pattern: Pattern, text: str) -> str:
    """Return the words of a text from the line that closes the work last, or leaves it open."""
    closed = (step for step in reversed(pattern.steps) if isinstance(step, st.BindOff | st.DrawUp))
    last = next((step.at.line for step in closed if step.at is not None), None)
    if last is None:
        worked = max((step.at.line for step in pattern.steps if step.at is not None), default=1)
        behind = " ".join(text.splitlines()[worked - 1 :])
        return behind if _ELSEWHERE.search(behind) else ""
    return " ".join(text.splitlines()[last - 1 :])


def _still_waits(name: str, ending: str) -> bool:
    """Tell whether a text ends with stitches that wait: "leave the thumb on its string"."""
    waiting = (
        rf"\b(?:leave|keep)\b[^.;,]*\b{re.escape(name)}\b[^.;,]* (?:on|as)\b"
        rf"|\b{re.escape(name)}\b[^.;,]* (?:stays?|waits?|rests?|remains?) (?:on|as|where)\b"
    )
    return re.search(waiting, ending, re.IGNORECASE) is not None


_ALIKE = WordForm(r"\b(?:alike|both|same|second|other|twice)\b")


_SLEEVE_ALIKE = WordForm(r"\b(?:second|other|2nd) sleeve\b[^.;]* (?:same|match|alike|likewise)\b")


def _worked_alike(pattern: Pattern, ending: str) -> set[str]:
    """Return groups that are worked as another of as many sts was: "Sleeves (both alike)"."""
    words = [getattr(one, "title", getattr(one, "text", "")) for one in pattern.steps]
    if not (any(_ALIKE.search(said) for said in words) or _SLEEVE_ALIKE.search(ending)):
        return set()
    back = {one.name for one in pattern.steps if isinstance(one, st.ReturnHeld)}
    holds = [one for one in pattern.steps if isinstance(one, st.Hold)]
    done = [one.stitches for one in holds if one.name in back]
    return {one.name for one in holds if one.name not in back and one.stitches in done}


_FREED = WordForm(
    r"\b(?:undo|unpick|unravel|unzip|three-needle|(?:pull|take|draw) out the|remove the|"
    r"(?:put|place|slip|return)\b[^.]{0,40}\bon)\b",
)


def _freed_in_words(pattern: Pattern) -> bool:
    """Tell whether words that were kept as text, behind the last row, take up what was held."""
    last = [step.text for step in pattern.steps[-30:] if isinstance(step, st.Note)]
    return any(_FREED.search(text) for text in last)


def _edges(pattern: Pattern, stitches: StitchTable, free: bool) -> Iterator[Finding]:
    """Knit a pattern that picks up stitches, and compare with the edge stitches that there are."""
    if not any(isinstance(item, PickUp) for item in items_of(pattern.steps)):
        return
    found: dict[tuple[st.TextPlace, int, int], list[str]] = {}
    for size in range(pattern.size_count):
        try:
            picked = knitted(pattern, size=size, stitches=stitches).journal.picked
        except KnitError as error:
            slipped = "slipped at the end of its rows" in error.problem
            if slipped or (error.problem == AWAY and not free):
                which = "slipped at the end of rows" if slipped else "away from the work"
                said = f"an edge {which}: not compared with what is picked up"
                yield Finding(NOTE, "edge", said, error.line, error.column)
            elif not free:
                yield Finding(ERROR, "work", error.problem, error.line, error.column)
            return
        for one in picked:
            if one.stitches > one.edges + (2 * CORNERS if _over_a_gap(one) else CORNERS):
                key = (one.step.at or st.TextPlace(0, 0), one.stitches, one.edges)
                found.setdefault(key, []).append(pattern.sizes[size] if pattern.sizes else "")
    for (at, many, edges), names in found.items():
        message = f"{plural(many, 'st', be=True)} picked up along {plural(edges, 'edge stitch')}"
        sizes = tuple(names) if pattern.size_count > 1 else ()
        yield Finding(WARNING, "edge", message, at.line, at.column, sizes)


_GAP = WordForm(r"gap|hole|thumb|cast|corner")


def _over_a_gap(picked: Picked) -> bool:
    """Tell whether a few stitches were picked up over a gap: both its corners take two each."""
    places = (item.along for item in items_of((picked.step,)) if isinstance(item, PickUp))
    return picked.edges <= CORNERS and any(_GAP.search(along) for along in places)


# two readings of "repeat n times"


def _readings(pattern: Pattern, stitches: StitchTable, claims: Claims) -> list[Finding]:
    """Try each ambiguous repeat both ways and say which way closes."""
    places = list(_vague(pattern.steps))[:MAX_READINGS]
    if not places:
        return []
    usual = _errors(pattern, stitches, claims)
    found = []
    for step, vague in places:
        other = _errors(_reread(pattern, vague), stitches, claims)
        more = vague.times
        said = _less(more)
        if other < usual:
            verdict = f"only '{said} times in all' lets the counts follow"
        elif usual < other:
            verdict = f"only '{said} times more' ({more} in all) lets the counts follow"
        else:
            verdict = "the counts do not tell which is meant"
        at = step.at.within(max(1, getattr(vague, "column", 1))) if step.at else st.TextPlace(0, 0)
        times = "once" if str(said) == "1" else f"{said} times"
        message = f"'repeat {times}' reads as {said} in all or as {more}: {verdict}"
        open_choice = usual == other and bool(claims)  # in ordinary words it is left to the editor
        severity = NOTE if usual < other or open_choice else WARNING
        found.append(Finding(severity, "repeat", message, at.line, at.column))
    return found


def _errors(pattern: Pattern, stitches: StitchTable, claims: Claims) -> int:
    walks = _walks(pattern, stitches, claims)
    return sum(one.severity == ERROR for walk in walks for one in _in_one_size(walk, ""))


def _less(times: Any) -> Any:
    if isinstance(times, Sized):
        return Sized(tuple(value - 1 for value in times.values))
    assert isinstance(times, int)
    return times - 1


def _vague(steps: Iterable[st.Step]) -> Iterator[tuple[st.Step, st.RepeatRounds | Repeat]]:
    for step in steps_in(steps):
        if isinstance(step, st.RepeatRounds) and step.vague:
            yield step, step
        if not step.inner:
            for item in items_of((step,)):
                if isinstance(item, Repeat) and item.vague:
                    yield step, item


def _reread(pattern: Pattern, vague: st.RepeatRounds | Repeat) -> Pattern:
    """Return the pattern with one repeat read as "n times in all"."""

    def changed(value: Any) -> Any:
        return attrs.evolve(value, times=_less(vague.times)) if value is vague else value

    return attrs.evolve(pattern, steps=rewritten(pattern.steps, changed))


# sizes


def _entries(pattern: Pattern) -> Iterator[Finding]:
    """Find values that lack an entry for a size, or have one too many."""
    expected = pattern.size_count
    named = set(pattern.sizes)
    for step in steps_in(pattern.steps):
        place = step.at or st.TextPlace(0, 0)
        for value in things_in(step):
            if isinstance(value, Sized) and len(value.values) != expected:
                entries = len(value.values)
                message = f"{value} has {entries} entries for {plural(expected, 'size')}"
                yield Finding(ERROR, "sizes", message, place.line, place.column)
        if isinstance(step, st.OnlySizes) and (unknown := set(step.sizes) - named):
            message = f"no size is called {', '.join(sorted(unknown))}"
            yield Finding(ERROR, "sizes", message, place.line, place.column)


def _grading(pattern: Pattern) -> Iterator[Finding]:
    """Note stitch counts that do not grow from size to size; a person judges them."""
    for step in pattern.steps:
        stitches = getattr(step, "stitches", None)
        if not isinstance(step, st.CastOn) or not isinstance(stitches, Sized):
            continue
        if list(stitches.values) != sorted(stitches.values):
            at = step.at or st.TextPlace(0, 0)
            message = f"{stitches} sts do not grow from size to size"
            yield Finding(NOTE, "grading", message, at.line, at.column)


guard(globals())
