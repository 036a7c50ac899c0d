# ruff: noqa: E501 - a text and what is said of it stand on one line
"""A chart drawn in a text against its written rows: row by row, stitch by stitch.

The symbols are explained by the key that stands with the chart: there is no binding standard
(common practice). Rounds are read from the right; rows from where their number stands.
"""

from __future__ import annotations

import pytest

from loopwright.errors import StepError
from loopwright.pattern import explain, review
from pattern.slips import found, found_with_slip

LACE = """FERN SOCKS

Cast on 48 sts. Join in the round.

FERN CHART
    4 | . . . . . . |
    3 | \\ o . . o / |
    2 | . . . . . . |
    1 | . o / \\ o . |
Key: . = k; o = yo; / = k2tog; \\ = ssk

FERN PATTERN IN WORDS
Rnd 1: *K1, yo, ssk, k2tog, yo, k1; rep from * to end.
Rnd 2: Knit.
Rnd 3: *K2tog, yo, k2, yo, ssk; rep from * to end.
Rnd 4: Knit.
Rep Rnds 1-4 5 more times.
Bind off. Weave in ends.
"""
FLAT = """Cast on 21 sts.
Seed chart
4 | - . - |
  | - . - | 3
2 | . - . |
  | . . . | 1
Key: . = k on RS, p on WS
- = p on RS, k on WS

Row 1 (RS): Knit.
Row 2 (WS): *P1, k1, p1; rep from * to end.
Row 3: *P1, k1, p1; rep from * to end.
Row 4: *K1, p1, k1; rep from * to end.
Bind off. Weave in ends.
"""


GARTER = """Cast on 21 sts.
Ridge chart
4 | x x x |
  | p p p | 3
2 | x x x |
  | . . . | 1
Key: . = k
x = k on RS, k on WS; p = p

Row 1 (RS): Knit.
Row 2 (WS): Knit.
Row 3: Purl.
Row 4: Knit.
Bind off. Weave in ends.
"""


@pytest.mark.parametrize("text", [LACE, FLAT, GARTER])
def test_a_chart_that_agrees_with_its_words_is_right(text: str) -> None:
    assert found(text) == []


def test_its_lines_are_no_instructions() -> None:
    assert [line.kind for line in explain(LACE).lines if line.kind == "lost"] == []


SLIPS = {
    "lean": (LACE, "yo, ssk, k2tog", "yo, k2tog, k2tog", "row 1, stitch 3: the chart has ssk, the words have k2tog"),
    "order": (LACE, "*K2tog, yo, k2, yo, ssk", "*Yo, k2tog, k2, yo, ssk", "row 3, stitch 1: the chart has k2tog, the words have yo"),
    "a square": (LACE, "3 | \\ o . . o / |", "3 | \\ o . o . / |", "row 3, stitch 2: the chart has k, the words have yo"),
    "too few": (LACE, "3 | \\ o . . o / |", "3 | \\ o . . o |", "row 3, stitch 1: the chart has yo, the words have k2tog; 5 in all in the chart, 6 here"),
    "a row left out": (LACE, "    4 | . . . . . . |\n", "", "row 4 is written out, and does not stand in the chart"),
    "no words": (LACE, "Rnd 4: Knit.\nRep Rnds 1-4 5", "Rep Rnds 1-3 5", "row 4 stands in the chart, and is not written out"),
    "no key": (LACE, "; o = yo", "", "'o' stands in the chart, and not in its key: say what it means"),
    "another repeat": (LACE, "*K1, yo, ssk, k2tog, yo, k1; rep from * to end", "K2, *k1, yo, ssk, k1; rep from * to last 2 sts, k2", "row 1, stitch 4: the chart has k2tog, the words have k; 6 in all in the chart, 4 here"),
    "wrong side": (FLAT, "Row 2 (WS): *P1, k1, p1", "Row 2 (WS): *K1, p1, k1", "row 2, stitch 1: the chart has p, the words have k"),
    "right side": (FLAT, "Row 3: *P1, k1, p1", "Row 3: *K1, p1, k1", "row 3, stitch 1: the chart has p, the words have k"),
}  # fmt: skip


@pytest.mark.parametrize("name", SLIPS)
def test_a_row_that_differs_is_named_with_its_stitch(name: str) -> None:
    text, old, new, said = SLIPS[name]
    assert said in found_with_slip(text, old, new)


def test_edges_beside_the_repeat_of_a_chart_are_no_part_of_it() -> None:
    edged = LACE.replace(
        "*K1, yo, ssk, k2tog, yo, k1; rep from * to end",
        "K2, *k1, yo, ssk, k2tog, yo, k1; rep from * to last 4 sts, k4",
    )
    assert edged != LACE
    assert review(edged).of("chart") == ()


def test_it_points_to_the_written_row() -> None:
    text = LACE.replace("yo, ssk, k2tog", "yo, k2tog, k2tog")
    (one,) = review(text).of("chart")
    assert text.split("\n")[one.line - 1].startswith("Rnd 1")
    one = next(
        one for one in review(LACE.replace("; o = yo", "")).of("chart") if "key:" in one.message
    )
    assert (LACE.split("\n")[one.line - 1].strip()[:3], one.column) == ("1 |", 1)


DRAWN = {1: ["k", "yo", "ssk", "k2tog", "yo", "k"], 2: ["k"] * 6,
         3: ["k2tog", "yo", "k", "k", "yo", "ssk"], 4: ["k"] * 6}  # fmt: skip
WORDS = LACE[: LACE.index("FERN CHART")] + LACE[LACE.index("FERN PATTERN") :]


def test_a_chart_beside_the_text_is_compared_with_it() -> None:
    assert review(WORDS, charts={"Fern": DRAWN}).of("chart") == ()
    (one,) = review(WORDS, charts={"Fern": {**DRAWN, 2: ["k"] * 5 + ["p"]}}).of("chart")
    assert one.message == "row 2, stitch 6: the chart has p, the words have k"
    assert WORDS.split("\n")[one.line - 1] == "Rnd 2: Knit."


def test_a_chart_holds_stitches_that_are_known() -> None:
    with pytest.raises(StepError, match="wuzzle"):
        review(WORDS, charts={"Fern": {1: ["k", "wuzzle"]}})
