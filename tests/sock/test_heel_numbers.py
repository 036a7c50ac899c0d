"""The numbers that a heel takes, at their edges: the last that is taken, the first that is not."""

from __future__ import annotations

from typing import Any

import pytest

from loopwright.errors import SizingError
from loopwright.sock.heels import Flap


@pytest.mark.parametrize("numbers", [{"rows": 4}, {"rows": 30}, {"longer": 2}, {"corner": 1}])
def test_flaps_that_can_be_knitted(numbers: dict[str, Any]) -> None:
    flap = Flap(**numbers)
    assert all(getattr(flap, name) == number for name, number in numbers.items())


@pytest.mark.parametrize(
    ("numbers", "found"),
    [
        ({"rows": 2}, "2 rows"),
        ({"rows": 5}, "5 rows"),  # a row on the wrong side ends a flap
        ({"longer": 1}, "1 row more"),
        ({"longer": -2}, "-2 rows more"),
        ({"corner": -1}, "-1 corner stitches"),
    ],
)
def test_flaps_that_cannot_be_knitted(numbers: dict[str, Any], found: str) -> None:
    with pytest.raises(SizingError) as refusal:
        Flap(**numbers)
    assert (refusal.value.what, found in refusal.value.found) == ("flap", True)
    assert "even number" in refusal.value.expected
