"""A section whose first numbered row counts the rows that were told before it without numbers."""

from __future__ import annotations

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.definitions import definitions

BONNET = """\
Bonnet

Front
Cast on 73 sts and knit {many} rows.
6th row: K1, *yo, k2tog; rep from * to end.
"""


@pytest.mark.parametrize(("many", "late"), [(5, False), (4, True)])
def test_rows_told_without_numbers_are_counted(many: int, late: bool) -> None:
    messages = [finding.message for finding in review(BONNET.format(many=many)).findings]
    assert any("begin with number 6" in message for message in messages) == late


def test_two_stitches_explained_together_lean_each_its_own_way() -> None:
    line = "double stitch: slip 1 / k knit / M1L, M1R make one left, right / p purl"
    assert [*definitions(line)] == []
    assert [*definitions("M1L / M1R: make one leaning left / right")] == []
    assert [*definitions("M1R / M1L: make one leaning left / right")]
