"""What is read whole can be knitted: loose texts are told what they leave to the knitter.

Where her stitches lie and how a round is divided is common practice; each case is the smallest
that could not be knitted before.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from loopwright.errors import KnitError
from loopwright.pattern import Arrange, Join, Pattern, Round, knit, read, rounds_in, write
from todays import todays

HERE = Path(__file__).parents[2] / "shared"
KEPT = todays(
    sorted([*(HERE / "ordinary").glob("*.txt"), *(HERE / "ordinary-more").glob("*.txt")]), 6
)
# A shawl's panels moved about its middle stitch, rows that others hold.
NOT_YET = frozenset(("47", "56", "69"))


def knits(pattern: Pattern) -> bool:
    """Tell whether the smallest and the largest size can be knitted."""
    try:
        for size in {0, pattern.size_count - 1}:
            knit(pattern, size=size)
    except KnitError:
        return False
    return True


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_kept_text_knits(path: Path) -> None:
    assert knits(read(path.read_text(encoding="utf-8"))) == (
        path.stem.partition("-")[0] not in NOT_YET
    )


TUBE = "CO 32 sts and join into a round.\nWork 3 rounds in stocking st.\n"


def test_needles_that_nobody_divided() -> None:
    """One needle for each half, where a round names two."""
    pattern = read(TUBE + "Rnd 1: On each needle, k1, ssk, k to last 3 sts, k2tog, k1. Bind off.")
    assert any(isinstance(step, Arrange) for step in pattern.steps)
    assert knits(pattern)


def test_a_marker_that_nobody_hung_is_that_of_the_beginning() -> None:
    """The round begins behind a marker, whether it is spoken of at the cast-on or not."""
    pattern = read(TUBE + "Rnd 1: *K2, p2; rep from * to marker. Bind off.")
    assert knits(pattern)
    assert "rep from * to end" in write(pattern)


def test_no_needles_for_halves_that_differ() -> None:
    """Nobody knows where 33 stitches are divided: nothing is put in, and the error says so."""
    text = TUBE.replace("32", "33") + "Rnd 1: On each needle, k1, ssk, k to end. Bind off."
    assert not any(isinstance(step, Arrange) for step in read(text).steps)


def test_rounds_between_markers_that_were_never_hung() -> None:
    """A gusset's decreases before and behind the instep."""
    text = TUBE + (
        "Next round: K1, ssk, k to 3 sts before the marker, k2tog, k1; slip marker; "
        "k1, ssk, k to last 3 sts, k2tog, k1.\nBind off."
    )
    pattern = read(text)
    assert "Needle 1: k1, ssk, k to last 3 sts, k2tog, k1" in write(pattern)
    assert knit(pattern).live.size == 0


def test_a_marker_amid_plain_stitches() -> None:
    """Of "k2tog, k2, ssk" a stitch lies on each side of the marker."""
    text = TUBE + (
        "Next round: K1, ssk, k to 3 sts before marker, k2tog, k2, ssk, k to last 3 sts, k2tog, k1."
    )
    (shaped,) = [one for one in rounds_in(read(text).steps) if len(one.items) == 2]
    assert "k2tog, k1; needle 2: k1, ssk" in write(read(text))
    assert isinstance(shaped, Round)


@pytest.mark.parametrize("cuff", ["Work 4 cm in k2, p2 rib.", "Rib k2, p2 for 4 cm."])
def test_a_cuff_goes_round_as_what_follows_it(cuff: str) -> None:
    """Arranged on three needles, and worked in rounds, though no word says "join"."""
    text = (
        f"Gauge: 28 sts and 40 rounds = 10 cm\nCast on 32 sts and arrange on 3 needles.\n{cuff}\n"
        "Next round: [K6, k2tog] 4 times. 28 sts.\nKnit 4 rounds. Cast off."
    )
    pattern = read(text)
    assert isinstance(pattern.steps[1], Join)
    assert all(isinstance(row, Round) for row in rounds_in(pattern.steps))
    assert knit(pattern).euler_characteristic == 2


def test_rows_that_are_called_rows_stay_rows() -> None:
    text = (
        "Cast on 32 sts.\nRow 1: *K2, p2; rep from * to end.\nRow 2: Rep row 1.\nNext round: Knit."
    )
    assert not isinstance(next(iter(rounds_in(read(text).steps))), Round)


def test_strip_of_garter_stitch_is_picked_up_along_its_right_side() -> None:
    """Behind 8 rows the side in view is the right side: its first row was a wrong-side row."""
    text = (
        "CO 8 sts. Knit 8 rows.\nDo not turn. Pick up and knit 4 sts along the short side, "
        "8 sts along the cast-on edge and 4 sts along the other short side. 24 sts.\nRnd 1: Knit."
    )
    assert knit(read(text)).live.size == 24


def test_strands_lifted_in_a_repeat_end_the_round() -> None:
    text = TUBE + (
        "With scrap yarn, k16. Return these sts to the left needle and knit 5 rounds. "
        "Bind off.\nHeel\nTake out the scrap yarn and put the 16 sts below and the 16 sts above "
        "on two needles.\nNext rnd: *Pick up and k1 in the corner, k16, pick up and k1 in the "
        "corner; rep from * once. 36 sts.\nNext rnd: *K2tog, k14, ssk; rep from * once. 32 sts.\n"
        "Bind off."
    )
    assert knits(read(text))


def test_waste_yarn_of_a_second_piece() -> None:
    """Both mittens have a thumb in waste yarn: the fabric needs two names for it."""
    one = (
        "Cast on 24 sts. Join in the round. Knit 2 rounds.\nK8, knit the next 5 sts with waste "
        "yarn, slip these 5 sts back and knit them again, k to end.\nKnit 2 rounds. Bind off.\n"
        "Thumb\nTake out the waste yarn and put the 5 sts below and the 5 sts above on needles.\n"
        "Knit 2 rounds. Bind off.\n"
    )
    assert knits(read(f"Right mitten\n{one}Left mitten\n{one}"))
