"""A design file with another sock: read back it is that sock, and nothing else has changed."""

from __future__ import annotations

import tomllib

import attrs
import pytest

from loopwright.design import read_design, with_sock, write_design
from loopwright.errors import DesignError, SizingError
from loopwright.gauge import Gauge, Relaxation
from loopwright.sock import (
    Design,
    Foot,
    Needles,
    Sock,
    changes,
    cuff_named,
    heel_named,
    leg_named,
    toe_named,
)
from loopwright.sock.heels import Afterthought, Direction, heel_names
from loopwright.sock.wedge import Wedge, WedgeClosing
from loopwright.yarn import Yarn

ONE = """
# a swatch, washed
gauge = {stitches = 24, rounds = 32, over = "10 cm"}
heel.kind = "forethought"  # as ever
[foot]
length = "25 cm"
ball_girth = "24 cm"
"""
TWO = """
[gauge]
stitches = 24
rounds = 32
over = "10 cm"
[fit]
ease = "-8 %"
[[sizes]]
name = "S"
length = "23 cm"
ease = -0.12 # closer
[[sizes]]
name = "L"
length = "27 cm"
[heel]
kind = "flap"
"""


def _sock(text: str, size: str) -> Sock:
    return dict(read_design(text).design.socks)[size]


@pytest.mark.parametrize(("text", "size"), [(ONE, ""), (TWO, "S"), (TWO, "L")])
@pytest.mark.parametrize(
    "changed",
    [
        {"ease": -0.031},
        {"share": 0.6},
        {"stitches": 64},
        {"length_ease_mm": -2.5},
        {"leg": leg_named("shaped")},
        {"heel": heel_named("flap", longer=6)},
        {"heel": heel_named("short-row with gusset")},
        {"heel": Afterthought(gusset=2, wedge=Wedge(closing=WedgeClosing.BIND_OFF, left=8))},
        {"heel": heel_named("forethought", plain_rounds=9), "ease": -0.05, "share": 0.55},
        {"toe": toe_named("round", sectors=6)},
        {"toe": toe_named("wedge", wedge=Wedge(stop=0.25)), "cuff": cuff_named("1x1 rib")},
        {"cuff": cuff_named("rolled", height_mm=22.5)},
        {"direction": Direction.TOE_UP},
        {"gauge": Gauge.of(26.5, 36)},
        {"foot": Foot.of(length="24.6 cm", ball_girth="23.1 cm", heel_girth="32.3 cm")},
        {"foot": Foot.of(ball_girth="232 mm", sex="male"), "gauge": Gauge.of(25, 33)},
        {"needles": Needles.DOUBLE_POINTED_4, "title": "A pier"},
    ],
    ids=lambda changed: ", ".join(changed),
)
def test_what_is_written_is_read_back(text: str, size: str, changed: dict[str, object]) -> None:
    sock = attrs.evolve(_sock(text, size), **changed)  # type: ignore[arg-type]
    assert _sock(with_sock(text, sock, size=size), size) == sock


def test_every_change_there_is_can_be_written() -> None:
    before = _sock(ONE, "")
    for roomier in (True, False):
        made = [one.sock for one in changes(before, roomier=roomier) if _is_made(one.sock)]
        assert len(made) > 5
        for sock in made:
            assert _sock(with_sock(ONE, sock), "") == sock


def test_a_heel_that_another_size_has_no_room_for_is_refused() -> None:
    """Heel and leg are those of all sizes: a flap of 8 rows is too short for the larger one."""
    short = attrs.evolve(_sock(TWO, "S"), heel=heel_named("flap", rows=8))
    with pytest.raises(DesignError, match="lengthen the flap"):
        with_sock(TWO, short, size="S")


def _is_made(sock: Sock) -> bool:
    """Whether there is room for it in this foot."""
    try:
        sock.plan()
    except SizingError:
        return False
    return True


def test_comments_and_the_other_sizes_stay() -> None:
    before = _sock(TWO, "S")
    new = with_sock(TWO, attrs.evolve(before, ease=-0.05), size="S")
    assert "# closer" in new
    assert _sock(new, "L") == _sock(TWO, "L")
    values, was = tomllib.loads(new), tomllib.loads(TWO)
    assert values["sizes"][0].pop("ease") == -0.05
    was["sizes"][0].pop("ease")
    assert values == was
    assert with_sock(ONE, _sock(ONE, "")) == ONE


@pytest.mark.parametrize("counts", [
    ([32, 32.5, 31.5], [44, 44, 43.5]), ([30, 32], [40, 44]), ([32] * 7, [44] * 3), (32, [44, 40]),
])  # fmt: skip
def test_a_gauge_of_several_counts_keeps_its_spread(
    counts: tuple[list[float], list[float]],
) -> None:
    gauge = Gauge.of(*counts)
    sock = attrs.evolve(_sock(ONE, ""), gauge=gauge)
    told = _sock(with_sock(ONE, sock), "").gauge
    for one, other in zip(attrs.astuple(told)[:4], attrs.astuple(gauge)[:4], strict=True):
        assert one == pytest.approx(other, rel=1e-4)


@pytest.mark.parametrize("heel", heel_names())
def test_a_sock_alone_is_written_and_read_back(heel: str) -> None:
    foot = Foot.of(length="262 mm", heel_girth="33 cm", sex="female")
    yarn = Yarn.of("quay wool", "420 m / 100 g", ball="50 g")
    for direction in Direction:
        sock = Sock(
            foot=foot,
            gauge=Gauge.of(24, 33, state=Relaxation.DRY), heel=heel, direction=direction,
            yarn=yarn, rib_gauge=Gauge.of(34, 33), cuff="1x1 rib", title="Lamp \"of\" the pier",
        )  # fmt: skip
        assert _sock(write_design(Design(sock.title, {"": sock})), "") == sock


def test_a_shoe_gives_way_to_the_length_that_replaces_it() -> None:
    text = ONE.replace('length = "25 cm"', 'shoe = "EU 39"  # as bought')
    before = _sock(text, "")
    longer = attrs.evolve(before, foot=Foot.of(length="25.5 cm", ball_girth="24 cm"))
    assert "shoe" not in with_sock(text, longer)
    assert _sock(with_sock(text, longer), "") == longer


def test_what_no_key_tells_is_refused() -> None:
    sock = _sock(ONE, "")
    with pytest.raises(DesignError, match="no key"):
        with_sock(ONE, attrs.evolve(sock, yarn=Yarn.of("quay wool", "420 m / 100 g")))
    with pytest.raises(DesignError, match="the design has S, L"):
        with_sock(TWO, sock, size="XL")
