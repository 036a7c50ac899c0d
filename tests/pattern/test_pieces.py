"""What is said of small and odd texts is what was looked at and kept, see read_back.py."""

from __future__ import annotations

import pytest

from pattern.read_back import ANEW, piece_shown, pieces
from todays import todays

TOGETHER = 10
ALL = todays(pieces())


@pytest.mark.parametrize("first", range(0, len(ALL), TOGETHER))
def test_pieces_are_taken_as_they_are_kept(first: int) -> None:
    some = dict(ALL[first : first + TOGETHER])
    assert {head: piece_shown(head) for head in some} == some, ANEW
