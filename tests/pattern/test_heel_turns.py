"""Heel turns, knitted: the closed formula for every even heel, and the counts of old patterns.

The formula (standards of this project, derived and checked against nine published turns): a heel
of H stitches whose first row works H/2 + j stitches, then a decrease and one stitch, leaves
u = H/2 - j - 3 stitches unworked on each side and ends with H - 2 - 2 ceil(u/2) stitches after
2 + 2 ceil(u/2) rows; if u is odd, the last two rows end with the decrease.
"""

from __future__ import annotations

import pytest

from loopwright.errors import KnitError
from loopwright.fabric.fabric import Fabric
from loopwright.pattern import Pattern, instructions, knit, read, review
from loopwright.pattern._editing.findings import NOTE
from together import together


def turned(heel: int, j: int) -> tuple[str, int]:
    """Instructions for a flap of `heel` stitches and its turn; the turn worked by its gaps."""
    unworked = heel // 2 - j - 3
    pairs = max(0, -(-unworked // 2))
    plain = unworked // 2  # pairs of rows that end with a stitch after the decrease
    text = (
        f"Cast on {heel} sts.\n"
        "Row 1 (RS): Sl 1 pwise wyib, k to end.\nRow 2 (WS): Sl 1 pwise wyif, p to end.\n"
        f"Row 3 (RS): Sl 1 pwise wyib, k{heel // 2 + j - 1}, ssk, k1, turn.\n"
        f"Row 4 (WS): Sl 1 pwise wyif, p{2 * j + 1}, p2tog, p1, turn.\n"
    )
    go = "{0} to 1 st before gap, {1}"
    knit_row = f"Sl 1 pwise wyib, {go.format('k', 'ssk')}"
    purl_row = f"Sl 1 pwise wyif, {go.format('p', 'p2tog')}"
    if plain:
        text += f"Work next 2 rows {plain} times in all:\n"
        text += f"Row 5 (RS): {knit_row}, k1, turn.\nRow 6 (WS): {purl_row}, p1, turn.\n"
    if unworked % 2:
        text += f"Next row (RS): {knit_row}, turn.\nNext row (WS): {purl_row}, turn.\n"
    return text, 2 + 2 * pairs


@pytest.mark.parametrize("heel", range(12, 61, 2))
def test_the_closed_formula_holds_when_knitted(heel: int) -> None:
    for j in (1, 2, 3):
        unworked = heel // 2 - j - 3
        if unworked < 1:
            continue
        text, rows = turned(heel, j)
        pattern = read(text)
        fabric = knit(pattern)
        left = heel - 2 - 2 * -(-unworked // 2)
        assert len(fabric.live) == left
        assert fabric.euler_characteristic == 2
        assert _rows(fabric) - 3 == rows  # the cast-on and the two rows of the flap stand before


def _rows(fabric: Fabric) -> int:
    return len(set(fabric.course.tolist()))


# H, j, stitches left over, unworked on each side: turns of 1917, 1918, 1896 and 1940 among them
# (figures: see the files in shared/patterns), the others as rules of the same family.
@together(
    ("heel", "j", "left"),
    [(36, 3, 22), (34, 2, 20), (28, 2, 16), (28, 1, 16), (26, 3, 16), (26, 1, 14)],
)
def test_published_turns(heel: int, j: int, left: int) -> None:
    text, _ = turned(heel, j)
    assert len(knit(read(text)).live) == left


@pytest.mark.parametrize(("heel", "j"), [(40, 5), (30, 4), (24, 3)])
def test_a_square_turn_keeps_its_band(heel: int, j: int) -> None:
    """Constant band: row 1 works H/2 + j, then a decrease; 2j + 2 stitches remain."""
    unworked = heel // 2 - j - 2
    text = (
        f"Cast on {heel} sts.\n"
        f"Row 1 (RS): K{heel // 2 + j}, ssk, turn.\n"
        f"Row 2 (WS): Sl 1 pwise wyif, p{2 * j}, p2tog, turn.\n"
        f"Row 3 (RS): Sl 1 pwise wyib, k{2 * j}, ssk, turn.\n"
        f"Row 4 (WS): Sl 1 pwise wyif, p{2 * j}, p2tog, turn.\n"
        f"Rep rows 3 and 4 until all sts have been worked."
    )
    fabric = knit(read(text))
    assert len(fabric.live) == 2 * j + 2
    assert _rows(fabric) - 1 == 2 + 2 * unworked


def test_a_turn_that_is_off_by_one_is_refused_at_its_row() -> None:
    text, _ = turned(28, 1)
    wrong = text.replace("k14, ssk", "k15, ssk")
    with pytest.raises(KnitError) as caught:
        knit(read(wrong))
    assert caught.value.step.startswith("Row (RS): Sl 1 pwise wyib, k to 1 st before gap")
    assert "in repeat 5" in caught.value.problem


def test_thirds_of_a_short_row_heel() -> None:
    """30 = 10 + 10 + 10 and 26 = 8 + 10 + 8 (teaching pages, common practice)."""
    for heel, side in ((30, 10), (32, 11), (26, 8)):
        steps = instructions(
            f"Cast on {heel} sts.\nRow 1 (RS): K to last st, w&t.\nRow 2 (WS): P to last st, w&t.\n"
            "Row 3 (RS): K to 1 st before gap, w&t.\nRow 4 (WS): P to 1 st before gap, w&t.\n"
            f"Rep rows 3 and 4 another {side - 2} times ({side - 1} times in all).\n"
            f"Row 5 (RS): K{heel - 2 * side}, turn."
        )
        assert len(knit(Pattern("", steps)).live) == heel


def test_the_last_k1_is_left_out_in_the_sizes_that_have_no_stitch_for_it() -> None:
    text = (
        "Cast on 28 (30, 36) sts.\nKnit 2 rows.\n\nTURN HEEL\n"
        "Row 1 (RS): Sl 1, k15 (16, 19), ssk, k1, turn.\nRow 2 (WS): Sl 1, p5, p2tog, p1, turn.\n"
        "Row 3: Sl 1, knit to 1 st before gap, ssk, k1, turn.\n"
        "Row 4: Sl 1, purl to 1 st before gap, p2tog, p1, turn.\n"
        "Rep Rows 3 and 4 until all heel sts have been worked, omitting the last k1 and p1 if no "
        "st is left for them—{} heel sts rem.\nBind off."
    )
    right = review(text.format("16 (18, 20)")).findings
    assert [one.message for one in right if one.severity != NOTE] == []
    wrong = review(text.format("16 (16, 20)")).findings
    assert [one.message for one in wrong if one.severity != NOTE] != []
