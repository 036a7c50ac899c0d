"""Ordinary patterns of many hands are read: their lines, counts and faults (our own texts)."""

from __future__ import annotations

from functools import lru_cache

import pytest

from loopwright.errors import KnitError
from loopwright.pattern import Note, knit, read, write
from loopwright.pattern._reading.reader import read_closely
from pattern.ordinary import FOLDER, Measured, Text, measured, stitches_after, texts

ALL = [*texts(), *texts(FOLDER.with_name("ordinary-more"))]
# The rounds of a stitch pattern that stand before the cast-on leave no stitches in work.
BEFORE_CAST_ON = {("08-fernleaf-lace-socks", 15)}


@lru_cache
def _measured(name: str) -> Measured:
    return measured(next(one for one in ALL if one.name == name))


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_every_line_is_understood_and_nothing_right_is_called_wrong(one: Text) -> None:
    found = _measured(one.name)
    assert found.lost == ()
    assert found.false == ()


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_the_counts_are_those_of_the_recount(one: Text) -> None:
    unmet = list(_measured(one.name).unmet)
    assert [point for point in unmet if (one.name, point[0]) not in BEFORE_CAST_ON] == []


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_each_fault_is_noticed(one: Text) -> None:
    found = _measured(one.name)
    assert found.noticed == found.faults == 3


def test_most_faults_are_noticed_at_the_line_that_was_changed() -> None:
    placed = sum(_measured(one.name).placed for one in ALL)
    assert placed >= 0.9 * sum(_measured(one.name).faults for one in ALL)


def test_a_checkpoint_that_is_not_met_is_seen() -> None:
    one = ALL[0]
    reading = read_closely(
        one.changed(11, "CO 62 sts. Join in the round."), go_on=True, explain=True
    )
    point = {"line": 11, "size": "one size", "sts": 64}
    assert stitches_after(reading, one, point) == 62


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.name)
def test_what_is_read_is_written_in_our_one_form(one: Text) -> None:
    """Written anew, it reads as the same steps; what was kept as text is kept again."""
    pattern = read(one.text)
    text = write(pattern)
    assert write(read(text)) == text


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
