"""Ordinary patterns of many hands are read: their lines, counts and faults (our own texts)."""

from __future__ import annotations

import pytest

from loopwright.errors import KnitError
from loopwright.pattern import Note, knit, read, write
from pattern.ordinary import FOLDER, Text, texts
from pattern.read_back import (
    ANEW,
    AT_ITS_LINE,
    DERIVED,
    LINES,
    all_texts,
    as_kept,
    derived_shown,
    groups_kept,
    knitted,
    looked_at,
    not_noticed,
    noticed,
    shown,
    unmet,
    wrong,
)
from todays import todays

ALL = all_texts()
SAMPLES = texts(FOLDER)
TODAY = [*SAMPLES, *todays(ALL[len(SAMPLES) :], 6)]  # of the many more a share each day
# The rounds of a stitch pattern that stand before the cast-on leave no stitches in work.
BEFORE_CAST_ON = {("08-fernleaf-lace-socks", 15)}
# What is written is not yet read as it was meant; may only shrink.
READ_OTHERWISE = {
    "39-ferry-bell-socks": "abbreviations divided by commas",
    "48-beacon-mittens": "rows of a chart worked in rounds; corners of a gap",
    "64-boat-shed-note": "needles joined without a word; rows of the front",
}


@pytest.mark.parametrize("one", TODAY, ids=lambda one: one.name)
def test_an_ordinary_text_is_read_as_it_is_kept(one: Text) -> None:
    """Its counts are those of the recount, nothing right is called wrong, its faults are noticed.

    What is kept was written by the reader itself and looked at; the rest is true from outside.
    """
    right = looked_at(one.text)
    assert right.reading.errors == ()
    assert right.false == ()
    there = unmet(one, right.reading)
    assert [x for x in there if (one.name, x[0]["line"]) not in BEFORE_CAST_ON] == []
    found = {group: wrong(one, group) for group in groups_kept(one)}
    seen = {
        (one.name, one.facts["wrong"][fault]["line"]): noticed(one, right, fault, found[group])
        for group in found
        for fault in group
    }
    assert {at: where for at, where in seen.items() if where != AT_ITS_LINE} == {
        at: where for at, where in not_noticed().items() if at[0] == one.name
    }, f"not-noticed.txt may only shrink: {ANEW}"
    assert shown(one, right, found) == as_kept(one), ANEW


@pytest.mark.parametrize("one", TODAY, ids=lambda one: one.name)
def test_what_is_read_is_written_in_our_one_form(one: Text) -> None:
    """Written anew, it reads as the same steps; what was kept as text is kept again."""
    text = as_kept(one).partition(LINES)[0]
    assert (write(read(text)) == text) == (one.name not in READ_OTHERWISE)


@pytest.mark.parametrize("one", todays(knitted()), ids=lambda one: one.name)
def test_what_is_knitted_is_told_anew_as_it_is_kept(one: Text) -> None:
    assert derived_shown(one) in DERIVED.read_text("utf-8"), ANEW


def test_each_text_has_three_wrong_lines_and_most_are_noticed_where_they_are() -> None:
    assert {len(one.facts["wrong"]) for one in ALL} == {3}
    assert len(not_noticed()) <= 29  # may only shrink


def test_a_checkpoint_that_is_not_met_is_seen() -> None:
    one = ALL[0]
    assert unmet(one, looked_at(one.text).reading) == []
    reading = looked_at(one.changed(11, "CO 62 sts. Join in the round.")).reading
    assert unmet(one, reading)[0] == ({"line": 11, "size": "one size", "sts": 64}, 62)


def test_rows_that_a_gauge_leaves_out_are_taken_as_four_to_three_and_said() -> None:
    """Relaxed plain fabric has 5.5 to 4.2, a handbook's loop-length constants; common practice."""
    text = (
        "Gauge: 18 sts to 10 cm\nCO 8. Join in the round. Knit every rnd until piece measures 5 cm."
    )
    pattern = read(text)
    assert pattern.gauge is not None
    assert (pattern.gauge.stitches, pattern.gauge.courses) == (18, 24)
    assert isinstance(pattern.steps[0], Note)
    assert "stated in stitches only" in pattern.steps[0].text
    assert len(knit(pattern)) == 8 * (1 + 12)  # 5 cm at 24 rounds to 10 cm
    assert write(read(write(pattern))) == write(pattern)
    uncounted = read(text.replace("Knit every rnd until piece measures 5 cm", "Knit 8 rnds"))
    assert uncounted.gauge is None  # nothing needs it: it stays as it was written


def test_a_length_without_any_gauge_is_refused() -> None:
    pattern = read("CO 8. Join in the round. Knit every rnd until piece measures 5 cm.")
    with pytest.raises(KnitError, match="without a gauge"):
        knit(pattern)
