# ruff: noqa: E501 - what is said stands on one line
"""A decrease round and a plain one go on as far as is said, in any words (common practice)."""

from __future__ import annotations

from loopwright.pattern import knit
from loopwright.pattern._reading.reader import read_closely
from together import together

SOCK = (
    "Cast on 48 sts. Divide on 2 needles, 24 on each. Join in the round.\nKnit 2 rounds.\n"
    "Round 1: *K1, ssk, k to last 3 sts, k2tog, k1; rep from * on needle 2. 44 sts.\n"
    "Round 2: Knit.\n"
)
AGAIN = (
    "Repeat these 2 rounds", "Rep rounds 1 and 2", "Repeat both rounds", "Do these rounds",
    "Continue in this way", "Continue as set", "Go on like this", "Keep decreasing like this",
    "Continue decreasing in this manner", "Carry on decreasing every other round",
    "Cont dec as set", "Decrease so on every second round",
)  # fmt: skip
SO_FAR = (
    "until 20 sts remain", "until you are down to 20 sts", "until 10 sts remain on each needle",
    "until 10 sts are left on each needle", "until the stitch count is 20",
    "until there are 20 stitches altogether", "six more times", "another 6 times",
    "until 7 decrease rounds have been worked", "until you have worked 7 decrease rounds in all",
)  # fmt: skip


@together("again", AGAIN)
def test_rounds_go_on_as_far_as_is_said(again: str) -> None:
    for far in SO_FAR:
        reading = read_closely(f"{SOCK}{again} {far}.\n", go_on=True)
        assert not reading.errors, far
        fabric = knit(reading.pattern)
        assert (len(fabric.live), int(fabric.course.max())) in {(20, 15), (20, 16)}, far


@together(
    ("told", "left"),
    [
        ("Do these rounds down to 20 sts.", 20),
        ("Carry on for 4 rounds.", 44),
        ("Carry on decreasing every other round until 20 remain.", 20),
    ],
)
def test_what_goes_on_is_what_was_worked(told: str, left: int) -> None:
    assert len(knit(read_closely(f"{SOCK}{told}\n", go_on=True).pattern).live) == left


FLAP = (
    "Cast on 48 sts. Join in the round.\nKnit 6 rounds.\nHeel flap. Knit 24, turn. Work on these 24 sts only.\n"
    "Row 1: Sl 1, p23.\nRow 2: *Sl 1, k1; rep from * to end.\n"
)
ROWS = (
    "Repeat these 2 rows 11 more times", "Rep rows 1 and 2 until 24 rows have been worked",
    "Work 24 rows like this in all", "Carry on in this manner for 24 rows in total",
    "Continue in this way for 22 more rows", "Continue until the flap has 24 rows",
    "Continue in this way until you have worked 24 rows", "Work another 22 rows as set",
    "Keep on like this until 24 rows have been worked", "Work these two rows 12 times",
)  # fmt: skip


@together("again", ROWS)
def test_a_flap_has_the_rows_that_are_said(again: str) -> None:
    fabric = knit(read_closely(f"{FLAP}{again}.\n", go_on=True).pattern)
    assert len(fabric.stitch) == 7 * 48 + 24 + 12 * (23 + 12)  # what is slipped is no new loop
