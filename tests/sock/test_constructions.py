"""The whole space of constructions: every sock that can be asked for is a sound fabric."""

from __future__ import annotations

import itertools
import math
import re
from functools import cache

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.errors import SizingError
from loopwright.fabric import Fabric, check
from loopwright.gauge import Gauge
from loopwright.pattern import Pattern, Step, in_words, read, review, simplified, write
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.walk import Walk
from loopwright.sock import (
    Corners,
    Direction,
    Foot,
    Needles,
    Sock,
    heel_named,
    heel_names,
    toe_names,
)
from loopwright.sock._toes import ShortRowToe, StarToe, Toe, WedgeToe
from loopwright.sock.heels import (
    Afterthought,
    Flap,
    FlapFabric,
    Forethought,
    Heel,
    HeelTurn,
    Setting,
    ShortRow,
    ShortRowGusset,
    Turned,
)
from loopwright.sock.shortrows import ShortRows, Turning
from loopwright.sock.wedge import Placement, Wedge, WedgeClosing
from together import together

STITCHES = range(40, 97, 4)  # what socks of common gauges have
FOOT = Foot.of(length="24.6 cm", ball_girth="22.2 cm")  # invented
STOPS = (Wedge(), Wedge(stop=3 / 8), Wedge(every_round_last=3), Wedge(plain=2))
CUFFS = ("1x1 rib", "2x2 rib", "twisted rib", "rolled")


def sock(stitches: int, **choices: object) -> Sock:
    """A sock of so many stitches round the same foot."""
    return Sock(foot=FOOT, gauge=Gauge(stitches / 20, 1.375 * stitches / 20), stitches=stitches,
                **choices)  # type: ignore[arg-type]  # fmt: skip


def wedges() -> list[Wedge]:
    return [
        attrs.evolve(stop, placement=placement, closing=closing, band=band)
        for stop, placement, closing, band in itertools.product(
            STOPS, Placement, WedgeClosing, (2, 4)
        )
    ]


@cache
def all_heels() -> tuple[Heel, ...]:
    """Every heel with every option that changes its construction."""
    kinds: tuple[type[Forethought | Afterthought], ...] = (Forethought, Afterthought)
    pockets = itertools.product(kinds, wedges(), Corners, (0, 2, 4), (1, 3, 6))
    rows = [ShortRows(turning=turning, middle=m) for turning in Turning for m in (1 / 3, 1 / 4)]
    flaps = itertools.product(FlapFabric, Turned, Corners, (0, 4), (1, 2), (False, True))
    found: tuple[Heel, ...] = (
        *(kind(wedge=wedge, corners=corners, gusset=gusset, plain_rounds=plain)
          for kind, wedge, corners, gusset, plain in pockets),
        *(ShortRow(rows=one, corners=c, gusset=g)
          for one, c, g in itertools.product(rows, Corners, (0, 2, 4))),
        *(ShortRowGusset(rows=one, corners=c) for one, c in itertools.product(rows, Corners)),
        *(Flap(fabric=f, turn=HeelTurn(shape=t), corners=c, longer=more, corner=n, twisted=tbl)
          for f, t, c, more, n, tbl in flaps),
    )  # fmt: skip
    return found


@cache
def all_toes() -> tuple[Toe, ...]:
    closings = [ShortRowToe(rows=ShortRows(turning=t), closing=c)
                for t, c in itertools.product(Turning, WedgeClosing)]  # fmt: skip
    return (*(WedgeToe(wedge=wedge) for wedge in wedges()), StarToe(), StarToe(last=2), *closings)


SPACE = (all_heels(), all_toes(), Direction, STITCHES, Needles, (0.5, 0.55, 0.6), CUFFS)


def require_sound(made: Sock) -> Fabric:
    """A finished sock: one surface, one opening, nothing loose, every stated count met."""
    fabric = made.fabric()  # counts are checked while it is knitted
    report = check(fabric, openings=1)
    report.require_ok()
    assert fabric.euler_characteristic == 2
    assert len(fabric.openings) == 1
    assert not len(fabric.live)
    return fabric


def corners_of(made: Sock) -> Corners:
    corners: Corners = made.heel.corners  # type: ignore[attr-defined]
    return corners


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("toe", toe_names())
@pytest.mark.parametrize("heel", heel_names())
def test_every_heel_with_every_toe(heel: str, toe: str, direction: Direction) -> None:
    made = sock(64, heel=heel, toe=toe, direction=direction)
    fabric = require_sound(made)
    assert not [gap for gap in fabric.gaps(6) if gap.size < 9]  # a round toe's tip is drawn up
    pattern = made.pattern()
    text = write(pattern)
    assert read(text) == pattern
    assert write(read(text)) == text
    assert not review(pattern).findings, str(review(pattern))


# The space is far too large to be knitted through: hypothesis draws from all of it.
@settings(max_examples=80)
@given(choice=st.tuples(*(st.sampled_from(list(part)) for part in SPACE)))
def test_any_sock_of_the_whole_space(choice: tuple[object, ...]) -> None:
    heel, toe, direction, stitches, needles, share, cuff = choice
    assert isinstance(stitches, int)
    made = sock(stitches, heel=heel, toe=toe, direction=direction, needles=needles, share=share,
                cuff=cuff)  # fmt: skip
    try:
        plan = made.plan()
    except SizingError as refused:
        # Only where the measures forbid it, and then it says what to do.
        if refused.what not in ("foot", "leg", "leg height"):
            raise
        return
    fabric = require_sound(made)
    if corners_of(made) is not Corners.LEFT:
        drawn = [fabric.surface.cell(leader).size for leader in fabric.surface.drawn_leaders]
        assert not [gap for gap in fabric.gaps(6) if gap.size not in drawn], check(fabric)
    assert plan.measure("foot girth").count == stitches


def test_how_many_combinations_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    number = math.prod(len(list(part)) for part in SPACE)
    with capsys.disabled():
        print(
            f"\n{number:,} socks: {len(all_heels())} heels, {len(all_toes())} toes, "
            f"{len(Direction)} directions, {len(STITCHES)} sizes, {len(Needles)} arrangements, "
            f"{len(SPACE[5])} shares, {len(CUFFS)} cuffs; 30 are knitted each run, and 80 drawn"
        )
    assert len(set(map(repr, all_heels()))) == len(all_heels())
    assert number > 1_000_000


def words(steps: list[Step]) -> list[str]:
    return [in_words(step).replace("sole", "heel") for step in simplified(steps)]


@together("name", [name for name in heel_names() if name != "flap"])
@together("corners", Corners)
def test_heels_that_do_not_know_their_direction(name: str, corners: Corners) -> None:
    """Forethought, afterthought and short-row heels are the same steps cuff down and toe up.

    Only the half after them, which is the sole or goes up the leg, has another name.
    """
    heel = heel_named(name, corners=corners)
    down, up = (Setting(32, 32, direction) for direction in Direction)
    assert words(heel.steps(down)) == words(heel.steps(up))
    assert heel.later_steps(down) == heel.later_steps(up)


def test_flap_knows_its_direction() -> None:
    """The breaker of the test above."""
    down, up = (Setting(32, 32, direction) for direction in Direction)
    assert Flap().steps(down) != Flap().steps(up)


@pytest.mark.parametrize("direction", Direction)
@pytest.mark.parametrize("heel", heel_names())
def test_needles_change_the_instructions_and_not_the_fabric(
    heel: str, direction: Direction
) -> None:
    socks = [sock(48, heel=heel, direction=direction, needles=needles) for needles in Needles]
    first, *others = (made.fabric() for made in socks)
    assert all(other == first for other in others)
    texts = {write(made.pattern()) for made in socks}
    assert len(texts) == len(Needles)


@pytest.mark.parametrize("corners", Corners)
@pytest.mark.parametrize("wedge", [Wedge(), Wedge(placement="pair"), Wedge(placement="line")])
@pytest.mark.parametrize("direction", Direction)
def test_heel_made_at_once_and_heel_opened_later_are_the_same(
    corners: Corners, wedge: Wedge, direction: Direction
) -> None:
    """As many loops, decreases and cells of each size, though knitted at different times."""
    setting = Setting(32, 32)
    at_once, later = (
        sock(64, heel=kind(wedge=wedge, corners=corners, plain_rounds=2), direction=direction)
        for kind in (Forethought, Afterthought)
    )
    assert at_once.heel.numbers(setting).wedge == later.heel.numbers(setting).wedge  # type: ignore[attr-defined]
    now, then = at_once.fabric(), later.fabric()
    decreases = {key: _how_many(now, key) for key in ("k2tog", "ssk", "cdd")}
    assert decreases == {key: _how_many(then, key) for key in decreases}
    if corners is Corners.LEFT:
        assert len(now.ids) == len(then.ids)
        assert now.cell_sizes() == then.cell_sizes()
        assert now.cell_sizes()[7] == 2  # the two corner holes that knitters know
    else:
        assert not now.gaps(6)
        assert not then.gaps(6)


def _how_many(fabric: Fabric, key: str) -> int:
    return int((fabric.stitch[fabric.ids] == fabric.stitches.code(key)).sum())


@pytest.mark.parametrize("kind", [Forethought, Afterthought])
def test_corners_left_are_holes_and_closed_are_none(kind: type[Forethought]) -> None:
    """Model of the loop graph: a corner left is a cell of 7, closed across at most 6."""
    left = sock(64, heel=kind(corners="left as they are")).fabric()
    assert [gap.size for gap in left.gaps(6)] == [7, 7]
    closed = sock(64, heel=kind(corners="closed")).fabric()
    assert not closed.gaps(6)
    assert max(size for size in closed.cell_sizes() if size < 60) <= 6


@pytest.mark.parametrize("direction", Direction)
@pytest.mark.parametrize("name", [name for name in heel_names() if name != "flap"])
def test_both_ends_of_both_halves_are_closed(name: str, direction: Direction) -> None:
    """Common practice: leaning right where a half begins, left where it ends."""
    both = heel_named(name, corners="closed at both ends")
    made = sock(64, heel=both, direction=direction)
    text = write(made.pattern())
    (line,) = (line for line in text.splitlines() if line.startswith("Rnd 1: ") and "lift" in line)
    for half in line.partition(": ")[2].split("; "):
        assert re.fullmatch(
            r"\w+: lift strand (across corner|beside st) and k2tog with next st, k to last st, "
            r"lift strand across corner and ssk with last st(\. \(\d+ sts\))?", half,
            re.IGNORECASE,
        )  # fmt: skip
    fabric = require_sound(made)
    assert not fabric.gaps(6)
    closed = sock(64, heel=heel_named(name, corners="closed"), direction=direction)
    assert _how_many(fabric, "ssk") == _how_many(closed.fabric(), "ssk") + 2
    assert read(text) == made.pattern()


def test_flap_corner_takes_a_stitch_and_the_gusset_gives_it_back() -> None:
    """Common practice: chains + corner stitches are picked up, one gusset decrease more follows."""
    setting = Setting(32, 32)
    left, closed, both = (Flap(corners=corners).numbers(setting) for corners in Corners)
    assert both == closed  # a flap's corners are picked up from both sides as it is
    assert (left.picked_up, closed.picked_up) == (16, 17)
    assert closed.gusset == left.gusset + 1
    assert closed.foot_rounds == left.foot_rounds + 2


def test_steps_simplified_are_the_same_fabric() -> None:
    """Repeats worked once or never are taken out of the text and out of nothing else."""
    made = sock(60, heel="flap")
    raw = made.steps()
    assert len(simplified(raw)) != len(raw)
    assert Pattern("raw", raw).steps == simplified(raw) == made.pattern().steps
    walked = [Walk(made.pattern(), StitchWorker()) for _ in range(2)]
    for walk, steps in zip(walked, (raw, simplified(raw)), strict=True):
        for step in steps:
            walk.one(step)
    assert walked[0].tally == walked[1].tally
    assert walked[0].total == walked[1].total
