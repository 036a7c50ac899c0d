"""What so many stitches measure at a gauge: arithmetic by hand, 40 / 5 = 8."""

from __future__ import annotations

import pytest

from loopwright.pattern import review


@pytest.mark.parametrize(
    ("told", "wrong"),
    [
        ("We want 5 stitches to the inch, so that 40 stitches come to 8 inches.", False),
        ("We want 5 stitches to the inch, so that 40 stitches come to 9 inches.", True),
        ("My gauge: 36 stitches to 4 inches, so 72 stitches go about 8 inches around.", False),
        ("My gauge: 36 stitches to 4 inches, so 72 stitches go about 9 inches around.", True),
        ("I get 22 sts to 10 cm, so 45 sts are 20 cm.", False),
    ],
)
def test_the_length_that_is_told_follows_from_the_gauge(told: str, wrong: bool) -> None:
    text = f"{told}\nCast on 40 sts.\nRow 1: Knit.\nBind off all sts.\n"
    said = [one.message for one in review(text).findings]
    assert any(" sts at " in message for message in said) is wrong
