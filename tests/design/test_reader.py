"""A design file and what it asks for; each refusal names its key and its line."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from loopwright.design import DesignFile, read_design
from loopwright.errors import DesignError
from loopwright.gauge import Gauge, Relaxation
from loopwright.pattern import Words
from loopwright.sock._legs import PatternedLeg
from loopwright.sock._sock import Sock
from loopwright.sock._toes import toe_names
from loopwright.sock.heels import Direction, heel_named, heel_names
from loopwright.sock.needles import Needles
from loopwright.sock.survey import Sex
from together import together

GAUGE = 'gauge = {stitches = 32, rounds = 44, over = "10 cm"}\n'
FOOT = '[foot]\nlength = "24.6 cm"\nball_girth = "22.5 cm"\n'
SMALL = GAUGE + FOOT


def sock(text: str) -> Sock:
    (only,) = read_design(text).design.socks
    return only[1]


def test_the_least_design_has_the_usual_everything() -> None:
    told = read_design(SMALL)
    assert told.design.sizes == ("",)
    assert told.pattern().sizes == ()
    assert told.words is Words.US
    only = told.design.socks[0][1]
    assert (only.heel, only.toe.name, only.leg.name) == (
        heel_named("forethought"), "wedge", "plain"
    )  # fmt: skip
    assert only.direction is Direction.CUFF_DOWN
    assert only.yarn is None


def test_everything_that_can_be_asked_for() -> None:
    only = sock(
        """
        title = "  Pier \n socks"
        words = "UK"
        direction = "toe up"
        needles = "two circulars"
        [gauge]
        stitches = [16, 16.5]
        rounds = 22
        over = ["2 in", "2 in"]
        state = "fully relaxed"
        [yarn]
        name = "jetty"
        count = "4.2 Nm"
        ball = "50 g"
        fibre_density = 1.54
        [fit]
        ease = "-12 %"
        length_ease = "-1/2 in"
        heel_share = "60 %"
        [cuff]
        kind = "1x1 rib"
        height = "3 cm"
        stretchy = false
        [leg]
        kind = "patterned"
        rounds = ["k4", "yo, k2tog, k2"]
        [heel]
        kind = "afterthought"
        plain_rounds = 3
        gusset = 2
        corners = "left as they are"
        [heel.wedge]
        closing = "three-needle bind-off"
        stop = 0.375
        [toe]
        kind = "wedge"
        wedge = {placement = "pair"}
        [foot]
        shoe = "EU 39"
        sex = "female"
        heel_girth = "31 cm"
        """.replace(" \n ", " ")
    )
    assert only.title == "Pier socks"
    assert only.direction is Direction.TOE_UP
    assert only.needles is Needles.TWO_CIRCULARS
    assert only.gauge.state is Relaxation.FULL
    assert only.gauge.stitches_per_cm == pytest.approx(16.25 / 5.08)  # by hand
    assert only.yarn is not None
    assert only.yarn.tex == pytest.approx(1000 / 4.2)  # Nm is metres to a gram
    assert (only.ease, only.share) == (-0.12, 0.6)
    assert only.length_ease_mm == pytest.approx(-12.7)
    assert (only.cuff.multiple, only.cuff.height_mm, only.cuff.stretchy) == (2, 30.0, False)
    assert isinstance(only.leg, PatternedLeg)
    assert only.leg.width == 4
    heel: Any = only.heel
    assert (heel.plain_rounds, heel.gusset, heel.corners.value) == (3, 2, "left as they are")
    assert (heel.wedge.closing.value, heel.wedge.stop) == ("three-needle bind-off", 0.375)
    toe: Any = only.toe
    assert toe.wedge.placement.value == "pair"
    assert only.foot.sex is Sex.FEMALE
    assert only.foot.heel_girth.mm == 310.0


@together("kind", heel_names())
def test_every_heel_can_be_asked_for_by_name(kind: str) -> None:
    assert sock(f'{GAUGE}[heel]\nkind = "{kind}"\n{FOOT}').heel == heel_named(kind)


@pytest.mark.parametrize("kind", toe_names())
def test_every_toe_can_be_asked_for_by_name(kind: str) -> None:
    assert sock(f'{GAUGE}[toe]\nkind = "{kind}"\n{FOOT}').toe.name == kind


def test_sizes_have_feet_and_may_have_choices_of_their_own() -> None:
    told = read_design(
        GAUGE
        + '[fit]\nease = -0.1\n[[sizes]]\nname = "S"\nlength = "23 cm"\nease = -0.15\n'
        + '[[sizes]]\nname = "M"\nchart = "woman 8-12"\n[[sizes]]\nname = "L"\nlength = "29 cm"\n'
        + "stitches = 72\n"
    )
    small, medium, large = (each for _, each in told.design.socks)
    assert told.design.sizes == ("S", "M", "L")
    assert (small.ease, medium.ease) == (-0.15, -0.1)
    assert medium.foot.length.mm == pytest.approx(11 * 25.4)
    assert large.plan().stitches.count == 72
    assert told.pattern().sizes == ("S", "M", "L")


@together(
    ("text", "key", "line", "message"),
    [
        ("", "", 1, "no gauge"),
        (GAUGE, "", 1, "no foot"),
        (
            GAUGE + f'[[sizes]]\nname = "{"a" * 245}"\nshoe = "EU 38"',
            "sizes 1.name", 3, "245 characters",
        ),
        ("[gauge]\nstitches = 32\nrounds = 44\n" + FOOT, "gauge", 1, "no 'over'"),
        ("[gauge]\nrounds = 44\nover='10 cm'\n" + FOOT, "gauge", 1, "no 'stitches'"),
        ("[gauge]\nstitches = '32'\nrounds = 44\nover='10 cm'\n" + FOOT, "gauge.stitches", 2, "32"),
        ("[gauge]\nstitches = 32\nrounds = 44\nover=10\n" + FOOT, "gauge", 1, "without a unit"),
        ("[gauge]\nstitches = 320\nrounds = 44\nover='1 cm'\n" + FOOT, "gauge", 1, "expected 0.2"),
        (SMALL + "[[sizes]]\nname = 'S'\nlength = '23 cm'\n", "foot", 2, "one foot, or sizes"),
        (GAUGE + "[[sizes]]\nlength = '23 cm'", "sizes 1", 2, "no name"),
        (GAUGE + "[[sizes]]\nname = ''", "sizes 1.name", 3, "no name"),
        (GAUGE + "[[sizes]]\nname = 'S<'\nlength='23 cm'", "sizes 1.name", 3, "can't be called"),
        (
            GAUGE + "[[sizes]]\nname = 'S'\nlength='23 cm'\n[[sizes]]\nname = 'S'",
            "sizes 2.name", 6, "'S' twice",
        ),
        (GAUGE + "[foot]\nlength = '2.45 m'", "foot.length", 3, "245 mm may be meant"),
        (GAUGE + "[foot]\nlength = 24", "foot.length", 3, "without a unit"),
        (
            GAUGE + "[foot]\nlength = '24 cm'\nball_girth = '23 cm'\nheel_girth = '21 cm'",
            "foot.heel_girth", 5, "expected it to be smaller",
        ),
        (GAUGE + "[foot]\nshoe = 'EU 390'", "foot.shoe", 3, "expected 15 to 55"),
        (GAUGE + "[foot]\nchart = 'woman 7'", "foot.chart", 3, "woman 3-6"),
        (GAUGE + "[foot]\nchart = 'woman 3-6'\nlength = '2 cm'", "foot.length", 4, "beside chart"),
        (GAUGE + "[foot]\nlenght = '24 cm'", "foot.lenght", 3, "expected length"),
        (GAUGE + "[heel]\nkind = 'forethougt'\n" + FOOT, "heel.kind", 3, "'forethought' may be"),
        (GAUGE + "[heel]\nplane_rounds = 2\n" + FOOT, "heel.plane_rounds", 3, "plain_rounds?"),
        (GAUGE + "[heel.wedge]\nband = 3\n" + FOOT, "heel.wedge", 2, "expected 2, 4, 6"),
        (GAUGE + "[cuff]\nheight = '0 cm'\n" + FOOT, "cuff.height", 3, "above nothing"),
        (GAUGE + "[leg]\nkind = 'patterned'\n" + FOOT, "leg", 2, "no 'rounds'"),
        (GAUGE + "[leg]\nkind = 'patterned'\nrounds = 3\n" + FOOT, "leg.rounds", 4, "texts such"),
        (
            GAUGE + "[leg]\nkind = 'patterned'\nrounds = ['kk2']\n" + FOOT,
            "leg.rounds", 4, "kk2",
        ),
        (
            GAUGE + "[leg]\nkind = 'patterned'\nrounds = ['k to end']\n" + FOOT,
            "leg.rounds", 4, "stitches and their numbers",
        ),
        (
            GAUGE + "[leg]\nkind = 'patterned'\nrounds = ['yo, k1']\n" + FOOT,
            "leg.rounds", 4, "takes 1 stitch and leaves 2",
        ),
        (GAUGE + "[yarn]\nname = 'x'\n" + FOOT, "yarn", 2, "420 m / 100 g"),
        (GAUGE + "[yarn]\ncount = '420 m'\n" + FOOT, "yarn.count", 3, "420 m"),
        (GAUGE + "[yarn]\ncount = '420 m / 100 g'\nball = '5 m'\n" + FOOT, "yarn.ball", 4, "5 m"),
        (GAUGE + "[fit]\nease = 10\n" + FOOT, "foot", 4, "write 10 % of negative ease as -0.10"),
        (GAUGE + "[fit]\nstitches = 63\n" + FOOT, "foot", 4, "63"),
        ("words = 'DE'\n" + SMALL, "words", 1, "one of us, uk"),
    ],
)  # fmt: skip
def test_what_cannot_be_used(text: str, key: str, line: int, message: str) -> None:
    with pytest.raises(DesignError) as caught:
        read_design(text)
    error = caught.value
    assert (error.key, error.line) == (key, line)
    assert message in str(error)


def demos(shared: Path) -> list[Path]:
    return sorted((shared / "designs").glob("*.toml"))


def test_the_demo_designs_are_planned_and_written(shared: Path) -> None:
    told: list[DesignFile] = [read_design(path.read_text("utf-8")) for path in demos(shared)]
    assert len(told) >= 3
    assert {each.design.socks[0][1].direction for each in told} == set(Direction)
    for each in told:
        assert each.pattern().steps


def test_a_rib_may_have_a_gauge_of_its_own() -> None:
    text = (
        'gauge = {stitches = 32, rounds = 44, over = "10 cm"}\n'
        'rib_gauge = {stitches = 40, rounds = 46, over = "10 cm"}\n'
        '[foot]\nlength = "24.6 cm"\nball_girth = "22.5 cm"\n'
    )
    (sock,) = (sock for _, sock in read_design(text).design.socks)
    assert sock.rib_gauge == Gauge.of(40, 46)
    with pytest.raises(DesignError, match="rib_gauge"):
        read_design(text.replace("stitches = 40", "stitches = -40"))


def test_a_sock_that_cannot_be_planned_is_refused_with_the_slip_that_may_be_behind_it() -> None:
    """3 stitches to 10 cm leave 8 for the heel: the gauge is to be asked about, not the wedge."""
    with pytest.raises(
        DesignError, match=r"8 stitches.*\(Gauge: 3 stitches to 10 cm, fewer"
    ) as slip:
        read_design('gauge = {stitches = 3, rounds = 4, over = "10 cm"}\nfoot = {length = "24 cm"}')
    assert str(slip.value).endswith("over another length?)")
    with pytest.raises(DesignError, match="of which heel and cuff") as short:
        read_design(
            'gauge = {stitches = 32, rounds = 44, over = "10 cm"}\nfoot = {length = "55 mm"}'
        )
    assert "Gauge" not in str(short.value)
