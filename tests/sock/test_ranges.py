"""Numbers from Python have the ranges of a design file's, looked at before any work."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import attrs
import pytest

from loopwright.design import read_design
from loopwright.errors import DesignError, SizingError
from loopwright.gauge import Gauge
from loopwright.length import Length
from loopwright.ranges import LONGEST_MM, MOST
from loopwright.sock import Foot, Sock, heel_named, heel_names
from loopwright.sock.heels import Forethought
from loopwright.sock.wedge import Wedge
from together import together

FOOT = Foot.of(length="24.5 cm", ball_girth="22.8 cm")


def sock(**choices: Any) -> Sock:
    return Sock(foot=FOOT, gauge=Gauge.of(32, 44), **choices)


def foot_of(**measures: float) -> Foot:
    lengths: dict[str, Any] = {name: Length(mm, 1.0) for name, mm in measures.items()}
    return attrs.evolve(FOOT, **lengths)


@together(
    ("make", "field"),
    [
        (lambda: sock(ease=1e9), "sock: ease"),
        (lambda: sock(ease=float("nan")), "sock: ease"),
        (lambda: sock(share=10**400), "sock: share"),
        (lambda: sock(stitches=10**9), "sock: stitches"),
        (lambda: sock(length_ease_mm=-1e7), "sock: length_ease_mm"),
        (lambda: sock(heel=Forethought(gusset=10**9)), "heel: gusset"),
        (lambda: sock(heel=Forethought(wedge=Wedge(band=10**9))), "heel: wedge: band"),
        (lambda: Sock(foot=foot_of(length=1e7), gauge=Gauge.of(32, 44)), "foot: length: mm"),
        (lambda: Sock(foot=foot_of(leg_height=1e7), gauge=Gauge.of(32, 44)), "leg_height"),
    ],
)
def test_a_number_beyond_its_range_is_refused_where_it_is_given(
    make: Callable[[], Sock], field: str
) -> None:
    with pytest.raises(SizingError) as refusal:
        make()
    assert field in refusal.value.what
    assert "expected at most" in refusal.value.expected
    assert len(str(refusal.value)) < 120


@together("name", heel_names())
def test_no_number_of_a_heel_is_left_out(name: str) -> None:
    usual: Any = heel_named(name)
    numbers = [f.name for f in attrs.fields(type(usual)) if type(getattr(usual, f.name)) is int]
    for field in numbers:
        with pytest.raises(SizingError):
            sock(heel=attrs.evolve(usual, **{field: MOST + 1}))


def test_the_largest_that_may_be_set_is_judged_by_the_sock() -> None:
    with pytest.raises(SizingError, match="make the heel or the toe shorter"):
        sock(heel=Forethought(gusset=MOST)).plan()
    sock(length_ease_mm=LONGEST_MM)


def test_no_plain_rounds_below_none() -> None:
    with pytest.raises(SizingError, match="-5 plain rounds"):
        sock(heel=Forethought(plain_rounds=-5)).plan()


def test_a_design_file_has_the_same_ranges() -> None:
    text = """
        [gauge]
        stitches = 32
        rounds = 44
        over = "10 cm"
        [heel]
        kind = "forethought"
        gusset = {gusset}
        [[sizes]]
        name = "M"
        length = "24.5 cm"
        ball_girth = "22.8 cm"
    """
    with pytest.raises(DesignError) as refusal:
        read_design(text.format(gusset=MOST + 1))
    assert str(MOST) in str(refusal.value)
