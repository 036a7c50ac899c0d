"""The cabled socks of the benchmark have as many loops as the plain one, and are crossed."""

from __future__ import annotations

import pytest

from benchmarks.bench_cables import CLOSE, ROPES, made_and_checked

pytestmark = pytest.mark.once


def test_they_are_the_same_sock_but_for_their_crossings() -> None:
    short = "11 cm"
    plain, ropes, close = (made_and_checked(rounds, short) for rounds in ((), ROPES, CLOSE))
    assert len(plain) == len(ropes) == len(close)
    assert plain.surface.crossings == 0
    assert 0 < ropes.surface.crossings < close.surface.crossings
