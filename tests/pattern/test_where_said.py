# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Where a text's slips are shown, and the edges of what is taken for a slip (common practice)."""

from __future__ import annotations

import pytest

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import explain, read, review
from loopwright.pattern import steps as st
from loopwright.pattern._editing.findings import NOTE
from loopwright.pattern._reading.front import definition
from loopwright.pattern._reading.reader import MAX_LINE
from loopwright.pattern.items import Run
from loopwright.pattern.program import Pattern
from loopwright.pattern.values import To


def _places(text: str) -> list[tuple[str, int, int]]:
    return [
        (one.kind, one.line, one.column)
        for one in review(text).findings
        if one.severity != NOTE and one.kind != "secured"
    ]


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("Cast on 10 sts. Join in the round.\nRnd 1: *K2, p2; rep from * to end.\n", ("multiple", 2, 8)),
        ("Needles: 3.25 mm and 4 mm.\nWith 3.25 mm needles cast on 60 sts.\nChange to 4.5 mm.\n", ("needle", 3, 11)),
        ("Cast on twenty sts; then work in rows, and then graft 12 sts to 10 sts.", ("sum", 1, 49)),
        ("Cast on 20 sts.\nOf twelve: 10 (11, 12) double stitches at the left and 9 (11, 11) at the right.", ("sum", 2, 12)),
    ],
)  # fmt: skip
def test_a_slip_is_shown_at_its_word(text: str, place: tuple[str, int, int]) -> None:
    assert place in _places(text)


def test_rows_that_are_called_by_letters_are_named_so() -> None:
    text = "Cast on 9 sts.\nRow A1: Knit.\nRow A2: Purl.\nRow B1: Knit.\nRow B3: Purl.\nRow B4: Knit.\n"
    (found,) = review(text).of("numbers")
    assert found.message.startswith("expected number B2, found B3:")
    assert (found.line, found.column) == (5, 1)


def test_a_line_that_is_too_long_is_refused_where_it_begins() -> None:
    with pytest.raises(PatternSyntaxError) as refused:
        read("Cast on 4 sts.\nRow 1: " + "k1, " * (MAX_LINE // 4))
    assert (refused.value.line, refused.value.column) == (2, 1)
    assert [line.kind for line in explain("a" * MAX_LINE).lines] == ["text"]


def test_a_name_that_is_explained_has_at_most_24_letters() -> None:
    assert definition("a" * 24 + " = knit") == ("a" * 24, "knit")
    assert definition("a" * 25 + " = knit") is None


@pytest.mark.parametrize(("left", "said"), [(2, False), (3, True), (5, True), (6, False)])
def test_sides_of_a_turn_that_are_nearly_alike(left: int, said: bool) -> None:
    """With 2 stitches left on one side, up to 5 on the other look like a slip; 6 may be meant."""
    found = review(f"Cast on 20 sts.\nRow 1: K18, w&t.\nRow 2: P{18 - left}, w&t.\n").findings
    assert any(one.kind in ("mirror", "centre") for one in found) is said


def test_steps_without_a_place_may_state_their_count() -> None:
    steps = (st.CastOn(10), st.Row((Run("k", To()),), count=12), st.BindOff())
    found = review(Pattern("Strip", steps)).of("count")
    assert [(one.line, one.message) for one in found] == [
        (0, "states 12 sts; working it leaves 10")
    ]
