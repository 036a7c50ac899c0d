"""Rows that stand for others so many times must be as many: arithmetic by hand."""

from __future__ import annotations

import pytest

from loopwright.pattern import review

TEXT = """Cast on 8 sts.
Row 1: K1, kfb, k to end.
Row 2: Knit.
Row 3: K1, kfb, k to end.
Row 4: Knit.
{}
Bind off all sts.
"""


@pytest.mark.parametrize(
    ("told", "wrong"),
    [
        ("Rows 5-12: Work Rows 3 and 4 four times.", False),
        ("Rows 5-12: Work Rows 3 and 4 three times.", True),
        ("Rows 5-8: Rep rows 1-4 once.", False),
        ("Rows 5-8: Rep rows 1-4 twice.", True),
        ("Rows 5-10: Rows 3 and 4 3 times more.", False),
    ],
)
def test_rows_are_as_many_as_their_times_make(told: str, wrong: bool) -> None:
    said = [one.message for one in review(TEXT.format(told)).findings]
    assert any(message.startswith("these are") for message in said) is wrong
