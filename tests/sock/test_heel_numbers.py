"""The numbers that a heel takes, at their edges: the last that is taken, the first that is not."""

from __future__ import annotations

from typing import Any

import pytest

from loopwright.errors import SizingError
from loopwright.gauge import Gauge
from loopwright.sock import Foot, Sock
from loopwright.sock.heels import Flap, HeelTurn, Setting, ShortRowGusset
from loopwright.sock.heels._gusset import narrow, widen

FOOT = Foot.of(length="24.5 cm", ball_girth="22.8 cm")


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


def test_a_flap_that_is_too_short_for_its_heel_is_refused() -> None:
    sock = Sock(foot=FOOT, gauge=Gauge.of(32, 44), heel=Flap(rows=4))
    with pytest.raises(SizingError) as refusal:
        sock.plan()
    assert refusal.value.found.startswith("4 rows of flap")
    assert "lengthen the flap" in refusal.value.expected


@pytest.mark.parametrize("width", [2, 4, 9, 11])
def test_a_turn_toe_up_has_an_even_number_of_stitches_and_enough(width: int) -> None:
    with pytest.raises(SizingError, match="expected an even number from 8"):
        HeelTurn().cup_numbers(width)


@pytest.mark.parametrize(("heel", "stitches"), [(32, 4), (20, 2), (8, 2), (36, 4), (44, 6)])
def test_a_gusset_before_short_rows_is_an_eighth_of_the_heel(heel: int, stitches: int) -> None:
    """Two at least (by hand: 44 / 8 is 5.5, and halves go to the even number)."""
    assert ShortRowGusset().numbers(Setting(heel, heel)).gusset == stitches
    assert ShortRowGusset(gusset=0).numbers(Setting(heel, heel)).gusset == 0


def test_a_gusset_narrows_by_two_every_other_round() -> None:
    layout = Setting(32, 32).layout(first="heel")
    wide, less = widen(layout, 3), narrow(layout, 3)
    assert wide[-1].count == layout.stitches + 6
    assert less[-1].count == layout.stitches - 6
