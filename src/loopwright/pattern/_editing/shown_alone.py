"""All that a text shows by itself, in a line and from one to another, without working it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from loopwright.pattern._contents import rounds_in
from loopwright.pattern._editing.abbreviation_list import abbreviation_list
from loopwright.pattern._editing.between_markers import between_markers
from loopwright.pattern._editing.between_wraps import between_wraps
from loopwright.pattern._editing.buttons import buttons
from loopwright.pattern._editing.cable_pairs import cable_pairs
from loopwright.pattern._editing.chains import chains
from loopwright.pattern._editing.closed_off import closed_off
from loopwright.pattern._editing.colour_names import colour_names
from loopwright.pattern._editing.definitions import definitions
from loopwright.pattern._editing.divided import divided
from loopwright.pattern._editing.drawn_charts import drawn_charts
from loopwright.pattern._editing.entries import sized_numbers
from loopwright.pattern._editing.findings import ERROR, Finding
from loopwright.pattern._editing.flap_rows import flap_rows
from loopwright.pattern._editing.gauge_sums import gauge_sums
from loopwright.pattern._editing.girths import girths, lengths
from loopwright.pattern._editing.grafts import grafts
from loopwright.pattern._editing.growing_lengths import growing_lengths
from loopwright.pattern._editing.gusset_totals import gusset_totals
from loopwright.pattern._editing.half_heels import half_heels
from loopwright.pattern._editing.hands import hands
from loopwright.pattern._editing.heights import heights
from loopwright.pattern._editing.impossible import impossible
from loopwright.pattern._editing.known_lengths import known_lengths
from loopwright.pattern._editing.known_numbers import known_numbers
from loopwright.pattern._editing.lean_words import worded_leans
from loopwright.pattern._editing.like_pairs import like_pairs
from loopwright.pattern._editing.like_rows import like_rows
from loopwright.pattern._editing.line_sums import line_sums
from loopwright.pattern._editing.listed_rows import listed_rows
from loopwright.pattern._editing.marked_sections import marked_sections
from loopwright.pattern._editing.mirrors import mirrors
from loopwright.pattern._editing.needle_names import needle_names
from loopwright.pattern._editing.needle_parts import needle_parts
from loopwright.pattern._editing.needles_and_units import needles_and_units
from loopwright.pattern._editing.nothing_before import nothing_before
from loopwright.pattern._editing.numbered_steps import numbered_steps
from loopwright.pattern._editing.odd_ones import odd_ones
from loopwright.pattern._editing.odd_sizes import odd_sizes
from loopwright.pattern._editing.paired_leans import paired_leans
from loopwright.pattern._editing.panel_rows import colour_rows, panel_rows, panels_taken_plain
from loopwright.pattern._editing.parts_named import parts_named
from loopwright.pattern._editing.places_named import places_named
from loopwright.pattern._editing.plain_again import plain_again
from loopwright.pattern._editing.prose_counts import prose_counts
from loopwright.pattern._editing.reached import changing, reached
from loopwright.pattern._editing.repeat_signs import repeat_signs
from loopwright.pattern._editing.repeat_widths import repeat_widths
from loopwright.pattern._editing.repeated_rows import repeated_rows
from loopwright.pattern._editing.rib_back import rib_back
from loopwright.pattern._editing.row_ends import row_ends
from loopwright.pattern._editing.row_numbers import row_numbers
from loopwright.pattern._editing.row_slips import row_slips, unplaced
from loopwright.pattern._editing.rows_by_times import rows_by_times
from loopwright.pattern._editing.rows_in_all import rows_in_all
from loopwright.pattern._editing.rows_in_step import rows_in_step
from loopwright.pattern._editing.rows_together import rows_together
from loopwright.pattern._editing.rows_told_twice import rows_told_twice
from loopwright.pattern._editing.sections_in_all import sections_in_all
from loopwright.pattern._editing.shares import shares
from loopwright.pattern._editing.short_row_pairs import short_row_pairs
from loopwright.pattern._editing.size_steps import size_steps
from loopwright.pattern._editing.size_sums import size_sums
from loopwright.pattern._editing.size_words import size_words
from loopwright.pattern._editing.spoken import Spoken, spoken
from loopwright.pattern._editing.standards import standards
from loopwright.pattern._editing.stepped_counts import stepped_counts
from loopwright.pattern._editing.stripe_sums import stripe_sums
from loopwright.pattern._editing.sums import sums
from loopwright.pattern._editing.times_told import times_told
from loopwright.pattern._editing.toe_needles import toe_needles
from loopwright.pattern._editing.told_parts import told_parts
from loopwright.pattern._editing.told_shapings import told_shapings
from loopwright.pattern._editing.told_sums import told_sums
from loopwright.pattern._editing.turn_middles import turn_middles
from loopwright.pattern._editing.turn_sequences import turn_sequences
from loopwright.pattern._editing.turning_rows import turning_rows
from loopwright.pattern._editing.two_parts import two_parts
from loopwright.pattern._editing.unexplained import unexplained
from loopwright.pattern._editing.waste_yarn_counts import waste_yarn_counts
from loopwright.pattern._editing.whole_rows import whole_rows
from loopwright.pattern._editing.worked_apart import worked_apart
from loopwright.pattern._editing.worked_lines import worked_lines
from loopwright.pattern._editing.wraps_taken_up import wraps_taken_up
from loopwright.pattern._editing.written_sums import written_sums
from loopwright.pattern._editing.yarn_sums import yarn_sums
from loopwright.pattern._reading.elsewhere import is_doubted
from loopwright.pattern._reading.lines import logical_lines
from loopwright.pattern._reading.other_hand import told_for_each_hand
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern.program import Pattern

__all__ = ["shown_alone"]

_OF_ROWS = ("turn", "row", "mirror")  # kinds that say what a row lacks


def shown_alone(
    text: str, pattern: Pattern, found: Sequence[Finding], lost: frozenset[int]
) -> list[Finding]:
    """Return what a text shows by itself, on lines where working it found nothing."""
    sentences = spoken(text)
    unknown = changing(sentences, lost)
    alone = [*sized_numbers(text, pattern.size_count), *row_numbers(sentences)]
    alone += [
        *row_slips(sentences),
        *sums(sentences),
        *rows_in_all(sentences),
        *(() if lost else sections_in_all(pattern, sentences)),
        *girths(text, pattern.sizes),
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
        *between_wraps(sentences),
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
        *repeat_widths(text, sentences),
        *turn_sequences(sentences),
        *nothing_before(text, sentences),
        *impossible(text, sentences),
        *two_parts(sentences),
        *size_steps(sentences),
        *paired_leans(sentences),
        *buttons(text, sentences),
        *abbreviation_list(text, sentences),
        *numbered_steps(sentences),
        *rows_in_step(sentences),
        *divided(sentences),
        *told_shapings(sentences),
        *worked_apart(sentences),
        *odd_sizes(sentences),
        *rows_together(sentences),
        *_but_for(stepped_counts(sentences), _recounted(pattern, found, lost)),
        *needle_parts(sentences),
        *gusset_totals(sentences),
        *times_told(sentences),
        *written_sums(sentences),
        *worked_lines(sentences),
        *parts_named(sentences),
        *half_heels(sentences),
        *waste_yarn_counts(sentences),
        *shares(sentences),
        *marked_sections(sentences),
        *like_pairs(sentences),
        *places_named(text, sentences),
        *flap_rows(sentences),
        *growing_lengths(sentences),
        *rows_told_twice(sentences),
        *rows_by_times(sentences),
        *gauge_sums(sentences),
        *short_row_pairs(sentences),
    ]
    if lost or not any(one.severity == ERROR or one.kind == "count" for one in found):
        alone += _chains_of_each_hand(text, sentences, lost)
    alone += [
        *worded_leans(sentences),
        *panel_rows(sentences),
        *panels_taken_plain(sentences),
        *odd_ones(sentences),
    ]
    alone += mirrors(sentences)
    alone += drawn_charts(text, sentences)
    worked = ("count", "mirror", "gap", "lean")
    known = {one.line for one in found if one.severity == ERROR or one.kind in worked}
    unsure = _behind(sentences, lost) if any(one.kind == "numbers" for one in alone) else set()
    kept = [
        one
        for one in alone
        if (one.line not in known or one.kind in ("centre", "sections", "twice"))
        and not (one.line in unsure and one.kind == "numbers")
        and not (one.line in lost and one.kind in _OF_ROWS)
    ]
    return list(_once(kept))


def _chains_of_each_hand(
    text: str, sentences: Sequence[Spoken], lost: frozenset[int]
) -> Iterator[Finding]:
    """Follow the counts of a text twice where it tells a part once for each hand."""
    firsts, others = told_for_each_hand(logical_lines(text))
    yield from chains([one for one in sentences if one.line not in others], lost)
    if others:
        of_other = chains([one for one in sentences if one.line not in firsts], lost)
        yield from (one for one in of_other if one.line in others)


def _recounted(pattern: Pattern, found: Sequence[Finding], lost: frozenset[int]) -> set[int]:
    """Return the lines of rows whose stitches were worked and gave what is stated."""
    told = (
        one.severity == ERROR or one.kind == "count" or "by its count" in one.message
        for one in found
    )
    if lost or any(told):
        return set()
    rows = rounds_in(pattern.steps)
    return {row.at.line for row in rows if row.count is not None and row.at is not None}


def _but_for(found: Iterator[Finding], lines: set[int]) -> Iterator[Finding]:
    return (one for one in found if one.line not in lines)


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


_BEGUN = WordForm(r"\b(?:cast(?:ing)? (?:on|up)|co|set (?:up|on)) \d")


def _behind(sentences: Sequence[Spoken], lost: frozenset[int]) -> set[int]:
    """Return the lines behind those that were not understood, up to where numbers begin anew."""
    unsure = set[int]()
    section: int | None = None
    since, begun = 0, False
    for one in sentences:
        begun = begun or one.label is not None or _BEGUN.search(one.text) is not None
        if not begun:
            continue  # what stands before is the head
        first = one.label is not None and one.label.numbers[:1] == (1,)
        if one.section != section or (first and one.line not in lost):
            section, since = one.section, 0
        numbered = one.label is not None and bool(one.label.numbers)
        if not since and ((one.line in lost and not numbered) or is_doubted(one.text)):
            since = one.line
        elif since and one.line > since:
            unsure.add(one.line)
    return unsure
