"""Technical editing: read a pattern line by line, for every size, and say what doesn't follow.

A review works every instruction in numbers only, once for each size, and goes on behind a mistake
as if the stated count were right. What only a person can judge is left to people: which of the
editors' points are covered is listed in the documentation, point by point.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, TypeAlias

import attrs

from loopwright.border import guard
from loopwright.errors import KnitError, PatternSyntaxError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import items_of, rewritten, rounds_in, steps_in, things_in
from loopwright.pattern._editing.abbreviation_list import abbreviation_list
from loopwright.pattern._editing.between_markers import between_markers
from loopwright.pattern._editing.buttons import buttons
from loopwright.pattern._editing.cable_pairs import cable_pairs
from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.closed_off import closed_off
from loopwright.pattern._editing.colour_names import colour_names
from loopwright.pattern._editing.definitions import definitions
from loopwright.pattern._editing.drawn_charts import Charts, drawn_charts, given_charts
from loopwright.pattern._editing.entries import sized_numbers
from loopwright.pattern._editing.findings import ERROR, NOTE, WARNING, Finding, Review
from loopwright.pattern._editing.girths import girths, lengths
from loopwright.pattern._editing.grafts import grafts
from loopwright.pattern._editing.hands import hands
from loopwright.pattern._editing.heights import heights
from loopwright.pattern._editing.impossible import impossible
from loopwright.pattern._editing.known_lengths import known_lengths
from loopwright.pattern._editing.known_numbers import known_numbers
from loopwright.pattern._editing.lean_words import worded_leans
from loopwright.pattern._editing.leans import leans
from loopwright.pattern._editing.like_rows import like_rows
from loopwright.pattern._editing.line_sums import line_sums
from loopwright.pattern._editing.listed_rows import listed_rows
from loopwright.pattern._editing.measures import amounts, measures
from loopwright.pattern._editing.mirrors import mirrors
from loopwright.pattern._editing.needle_names import needle_names
from loopwright.pattern._editing.needles_and_units import needles_and_units
from loopwright.pattern._editing.nothing_before import nothing_before
from loopwright.pattern._editing.numbered_steps import numbered_steps
from loopwright.pattern._editing.odd_ones import odd_ones
from loopwright.pattern._editing.paired_leans import paired_leans
from loopwright.pattern._editing.panel_rows import colour_rows, panel_rows, panels_taken_plain
from loopwright.pattern._editing.plain_again import plain_again
from loopwright.pattern._editing.prose_counts import prose_counts
from loopwright.pattern._editing.reached import changing, reached
from loopwright.pattern._editing.repeat_signs import repeat_signs
from loopwright.pattern._editing.repeated_rows import repeated_rows
from loopwright.pattern._editing.rib_back import rib_back
from loopwright.pattern._editing.row_ends import row_ends
from loopwright.pattern._editing.row_numbers import row_numbers
from loopwright.pattern._editing.row_slips import row_slips, unplaced
from loopwright.pattern._editing.size_steps import size_steps
from loopwright.pattern._editing.size_sums import size_sums
from loopwright.pattern._editing.size_words import size_words
from loopwright.pattern._editing.spoken import Spoken, spoken
from loopwright.pattern._editing.standards import standards
from loopwright.pattern._editing.stripe_sums import stripe_sums
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.toe_needles import toe_needles
from loopwright.pattern._editing.told_parts import told_parts
from loopwright.pattern._editing.told_sums import told_sums
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.turning_rows import turning_rows
from loopwright.pattern._editing.two_parts import two_parts
from loopwright.pattern._editing.unexplained import unexplained
from loopwright.pattern._editing.whole_rows import whole_rows
from loopwright.pattern._editing.wording import abbreviations, conversions, head, settled, terms
from loopwright.pattern._editing.wraps_taken_up import wraps_taken_up
from loopwright.pattern._editing.yarn_sums import yarn_sums
from loopwright.pattern._grammar.said import refuse_nothing
from loopwright.pattern._knit import knitted
from loopwright.pattern._reading.elsewhere import is_doubted
from loopwright.pattern._reading.reader import MAX_ERRORS, read_closely
from loopwright.pattern._reading.reading import Reading
from loopwright.pattern._tally import Tally, Trouble
from loopwright.pattern._tolerant_walk import Claim, Editor, Key
from loopwright.pattern.items import PickUp, Repeat
from loopwright.pattern.journal import Picked
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.values import Sized
from loopwright.plurals import plural

__all__ = ["review"]

_SLIP = re.compile(
    r"did you mean .*\d|did you mean (?:ssk|sts?\b|stitch|purl|knit|skp|rnd|rounds?)"
)
_CONTRADICTS = re.compile(
    r" in all, not |needles are named|there are no rounds|is not one of those|only \d+ rounds"
)
Claims: TypeAlias = dict[Key, tuple[Claim, ...]]
OPEN_CHOICES = ("slip", "open choice", "doubt")  # read in the usual way; said all the same

CORNERS = 2  # stitches picked up beyond the edge chains to close the corners (common practice)
MAX_READINGS = 12  # ambiguous repeats tried both ways; each costs one more walk for each size


def review(
    pattern: Pattern | str, *, stitches: StitchTable = STITCHES, charts: Charts | None = None
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

    Returns
    -------
    Review
        Where some lines can't be read, those alone: the rest could not be counted on.

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
    text = ""
    claims: Claims = {}
    lost: frozenset[int] = frozenset()
    findings: list[Finding] = []
    if isinstance(pattern, str):
        text, reading = pattern, read_closely(pattern, stitches=stitches, go_on=True)
        pattern, claims = reading.pattern, reading.claims
        if not reading.errors:
            refuse_nothing(pattern.steps)
        if reading.loose and not claims:
            claims = {(0, 0): ()}
        if len(reading.errors) >= MAX_ERRORS and not claims_enough(reading):
            raise reading.errors[-1]
        lost = _lost(reading)
        findings += (
            _unread(error, _begins_before(pattern, error) and error.line == min(lost))
            for error in reading.errors
        )
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
    if not any(finding.kind == "sizes" for finding in findings):
        walks = _walks(pattern, stitches, claims)
        findings += _worked(pattern, walks)
        if not lost and not any(finding.severity == ERROR for finding in findings):
            findings += _edges(pattern, stitches, bool(claims))
        if text and not lost and not any(finding.severity != NOTE for finding in findings):
            findings += measures(pattern, text, walks)
        findings += _readings(pattern, stitches, claims)
        findings += _grading(pattern)
        findings += leans(pattern)
    if text:
        alone = _shown_alone(text, pattern, findings, lost)
        findings = [one for one in findings if not _said_better(one, alone)] + alone
    if text and charts:
        findings += given_charts(charts, list(spoken(text)))
    findings += abbreviations(pattern, text)
    findings += head(pattern, text)
    findings.sort(
        key=lambda one: (one.line, one.column, (ERROR, WARNING, NOTE).index(one.severity))
    )
    return Review(tuple(findings), text)


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


_OF_ROWS = ("turn", "row", "mirror")  # kinds that say what a row lacks


def _shown_alone(
    text: str, pattern: Pattern, found: Sequence[Finding], lost: frozenset[int]
) -> list[Finding]:
    """Return what a text shows by itself, on lines where working it found nothing."""
    sentences = list(spoken(text))
    unknown = changing(sentences, lost)
    alone = [*sized_numbers(text, pattern.size_count), *row_numbers(sentences)]
    alone += [
        *row_slips(sentences),
        *sums(sentences),
        *girths(text),
        *lengths(text),
        *standards(text),
        *definitions(text),
        *needles_and_units(text),
        *needle_names(text),
        *colour_names(text),
        *stripe_sums(text),
        *repeat_signs(sentences),
        *turning_rows(sentences),
        *turn_middles(sentences),
        *told_sums(text, sentences),
        *prose_counts(text, sentences),
        *closed_off(sentences),
        *unplaced(text, sentences),
        *size_sums(sentences),
        *size_words(sentences, pattern.sizes),
        *cable_pairs(sentences),
        *wraps_taken_up(text, sentences),
        *whole_rows(sentences, unknown),
        *reached(sentences, unknown),
        *between_markers(sentences, unknown),
        *told_parts(sentences, unknown),
        *plain_again(sentences),
        *grafts(sentences, unknown),
        *heights(text, sentences),
        *known_lengths(text, sentences),
        *toe_needles(sentences),
        *rib_back(sentences),
        *hands(sentences),
        *colour_rows(sentences),
        *repeated_rows(sentences),
        *row_ends(sentences),
        *like_rows(sentences),
        *yarn_sums(text),
        *known_numbers(sentences),
        *listed_rows(sentences),
        *line_sums(sentences),
        *unexplained(text, sentences),
        *nothing_before(text, sentences),
        *impossible(text, sentences),
        *two_parts(sentences),
        *size_steps(sentences),
        *paired_leans(sentences),
        *buttons(text, sentences),
        *abbreviation_list(text, sentences),
        *numbered_steps(sentences),
    ]
    if lost or not any(one.severity == ERROR for one in found):
        alone += chains(sentences, lost)
    alone += [
        *worded_leans(sentences),
        *panel_rows(sentences),
        *panels_taken_plain(sentences),
        *odd_ones(sentences),
    ]
    alone += mirrors(sentences)
    alone += drawn_charts(text, sentences)
    worked = ("mirror", "gap", "lean")
    known = {one.line for one in found if one.severity == ERROR or one.kind in worked}
    unsure = _behind(sentences, lost)
    kept = [
        one
        for one in alone
        if (one.line not in known or one.kind == "centre")
        and not (one.line in unsure and one.kind == "numbers")
        and not (one.line in lost and one.kind in _OF_ROWS)
    ]
    return list(_once(kept))


_ADDED_UP = ("sum", "chain")  # kinds that may all say one thing of a count


def _once(found: Sequence[Finding]) -> Iterator[Finding]:
    """Yield findings, of those that add up the numbers of a line the first alone."""
    seen = set[int]()
    for one in found:
        if one.kind in _ADDED_UP:
            if one.line in seen:
                continue
            seen.add(one.line)
        yield one


def _said_better(one: Finding, alone: Sequence[Finding]) -> bool:
    """Tell whether the rows themselves show why the sides of a turn are not alike."""
    return one.kind == "mirror" and any(
        other.kind == "centre" and 0 <= one.line - other.line <= SOON for other in alone
    )


SOON = 2  # lines between the two rows of a turn


def _behind(sentences: Sequence[Spoken], lost: frozenset[int]) -> set[int]:
    """Return the lines behind those that were not understood, in their sections."""
    since: dict[int, int] = {}
    for one in sentences:
        line = one.place().line
        if one.label is not None and one.label.numbers[:1] == (1,) and line not in lost:
            since.pop(one.section, None)  # the numbers begin anew
        if line in lost or is_doubted(one.text):
            since.setdefault(one.section, line)
    lines = ((one.place().line, one.section) for one in sentences)
    return {line for line, section in lines if line > since.get(section, line)}


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


def _worked(pattern: Pattern, walks: Sequence[Editor]) -> list[Finding]:
    """Return what the sizes show; a mistake that several sizes share is one finding."""
    shared: dict[Finding, list[str]] = {}
    for size, walk in enumerate(walks):
        name = pattern.sizes[size] if pattern.sizes else str(size + 1)
        for finding in _in_one_size(walk):
            shared.setdefault(finding, []).append(name)
    return [
        attrs.evolve(finding, sizes=tuple(names) if pattern.size_count > 1 else ())
        for finding, names in shared.items()
    ]


def _in_one_size(walk: Editor) -> list[Finding]:
    """Return what cannot be worked in one size, and what is left open at its end."""
    start = _cast_on_at(walk.pattern) if walk.claims else None
    findings = [
        _found(step, trouble)
        for step, trouble in walk.troubles
        if start is None
        or step.at is None
        or step.at.line >= start.line
        or " 0 are left" not in trouble.problem
    ]
    return (
        findings
        if walk.blind
        else [*findings, *_left_open(walk.pattern, walk.tally, walk.forgotten)]
    )


_CASTS_ON = (st.CastOn, st.ProvisionalCastOn, st.ClosedCastOn)
_TOLD = (st.Note, st.Section, st.UseYarn)  # nothing is worked by these


def _cast_on_at(pattern: Pattern) -> st.TextPlace | None:
    """Return where the work begins: what stands before it is described, and not worked there."""
    return next((step.at for step in pattern.steps if isinstance(step, _CASTS_ON)), None)


def _found(step: st.Step, trouble: Trouble) -> Finding:
    at = step.at.within(max(1, trouble.column)) if step.at else st.TextPlace(0, 0)
    severity = WARNING if trouble.kind in ("mirror", "gap") else ERROR
    return Finding(severity, trouble.kind, trouble.problem, at.line, at.column)


def _left_open(pattern: Pattern, tally: Tally, forgotten: set[str]) -> Iterator[Finding]:
    last = next((step.at for step in reversed(pattern.steps) if step.at), st.TextPlace(0, 0))

    def left(kind: str, message: str) -> Finding:
        return Finding(WARNING, kind, message, last.line, last.column)

    freed = _freed_in_words(pattern)
    kept = {} if freed else {n: many for n, many in tally.held.items() if n not in forgotten}
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


_FREED = re.compile(
    r"\b(?:undo|unpick|unravel|unzip|three-needle|(?:pull|take|draw) out the|remove the|"
    r"(?:put|place|slip|return)\b[^.]{0,40}\bon)\b",
    re.I,
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
            if "slipped at the end of its rows" in error.problem:
                said = "an edge slipped at the end of rows: not compared with what is picked up"
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


_GAP = re.compile(r"gap|hole|thumb|cast|corner", re.IGNORECASE)


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
    return sum(one.severity == ERROR for walk in walks for one in _in_one_size(walk))


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
