"""Girths where a tape is laid, and heels whose construction names their tip."""

from __future__ import annotations

import inspect
from functools import cache

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

import loopwright
import loopwright.fitting
import loopwright.geometry
from fitting.socks import COARSE, GAUGE, in_the_round
from loopwright.errors import ShapeError
from loopwright.fabric.stitches import Kind
from loopwright.fitting import fit, measure, route
from loopwright.fitting._heel_tip import heel_tip
from loopwright.fitting._sample import TAPERED, Sample
from loopwright.fitting.girths import EXACT_ERROR, QUICK_ERROR, _tightened
from loopwright.gauge import Gauge
from loopwright.geometry import Shape, girth_through, shape
from loopwright.geometry._plane_section import section_through
from loopwright.geometry._surface import Surface
from loopwright.making import Work, cast_on
from loopwright.sock import Foot, Sock
from loopwright.sock._toes import WedgeToe
from loopwright.sock.heels import (
    Direction,
    Flap,
    ShortRow,
    flap_heel_girth_mm,
    heel_names,
    wedge_heel_girth_mm,
)
from loopwright.sock.wedge import Wedge

FOOT = Foot.of(length="246 mm", ball_girth="228 mm", heel_girth="310 mm")
CHILD = Foot.of(length="16 cm", ball_girth="15.5 cm")
ON_CONE = 30 * 120  # radius 35, z 45, on the x axis


def _cone(columns: int = 120, rings: int = 61) -> Surface:
    """Open at both ends: radius 20 to 50, 90 high."""
    angle = np.linspace(0, 2 * np.pi, columns, endpoint=False)
    points = [
        np.stack([r * np.cos(angle), r * np.sin(angle), np.full(columns, z)], axis=1)
        for r, z in zip(np.linspace(20, 50, rings), np.linspace(0, 90, rings), strict=True)
    ]
    row, column = np.meshgrid(np.arange(rings - 1), np.arange(columns), indexing="ij")
    a, b = row * columns + column, row * columns + (column + 1) % columns
    lower, upper = np.stack([a, b, a + columns], -1), np.stack([b, b + columns, a + columns], -1)
    return Surface(np.concatenate(points), np.concatenate([lower, upper]).reshape(-1, 3))


@pytest.mark.parametrize("tilt_deg", [0, 10, 25])
def test_a_plane_cuts_a_cone_in_an_ellipse(tilt_deg: float) -> None:
    """Its perimeter by Ramanujan's second approximation (1914), exact to 1e-5 here.

    Half axes from where the plane meets the two sides of the cone: r = 20 + z / 3.
    """
    slope = np.tan(np.radians(tilt_deg))
    found = section_through(_cone(), ON_CONE, np.array([-slope, 0.0, 1.0]))
    assert found.length_mm == pytest.approx(_ellipse_mm(slope), rel=0.002)  # the facets' own error
    assert np.array_equal(found.points_mm[0], found.points_mm[-1])


def _ellipse_mm(slope: float) -> float:
    """Where the plane z = 45 + s (x - 35) cuts the cone; on the far side x = -(20 + z / 3)."""
    far = -(20 + (45 - 35 * slope) / 3) / (1 + slope / 3)
    middle, long = (35 + far) / 2, (35 - far) / 2 / np.cos(np.arctan(slope))
    height = 45 + slope * (middle - 35)
    short = np.sqrt((20 + height / 3) ** 2 - middle**2)
    share = ((long - short) / (long + short)) ** 2
    return float(np.pi * (long + short) * (1 + 3 * share / (10 + np.sqrt(4 - 3 * share))))


@pytest.mark.parametrize("tilt_deg", [15, 25])
def test_a_tape_drawn_tight_leaves_a_plane_that_stands_aslant(tilt_deg: float) -> None:
    """The shortest of all ellipses through the place, by scipy's search over their formula."""
    least = minimize_scalar(_ellipse_mm, bounds=(-0.6, 0.6), method="bounded")
    aslant = np.array([-np.tan(np.radians(tilt_deg)), 0.0, 1.0])
    found = _tightened(_cone(), ON_CONE, aslant, np.arange(60, 61 * 120, 120))  # the far side
    assert found.length_mm == pytest.approx(least.fun, rel=0.005)
    assert section_through(_cone(), ON_CONE, aslant).length_mm >= found.length_mm


def test_a_plane_through_an_opening_is_refused() -> None:
    with pytest.raises(ShapeError, match="no closed line"):
        section_through(_cone(), 30 * 120, np.array([-2.0, 0.0, 1.0]))


@cache
def _by_hand(n: int) -> Shape:
    return shape(in_the_round(n, 30, 40 if n < 64 else 55, heel_to=20, toe_to=20), GAUGE)


@pytest.mark.parametrize("n", [48, 64])
@pytest.mark.parametrize("quick", [True, False])
def test_a_tape_round_the_ball_stays_where_it_is_laid(n: int, quick: bool) -> None:
    """On the tube, a few rounds before the toe: n stitches round, as the instep is.

    The shortest line through the same place slips on to the toe, and comes out 5 to 9 % short.
    """
    sock = _by_hand(n)
    found, girth_mm = measure(sock, quick=quick), n * GAUGE.stitch_width_mm
    assert found.ball.length_mm == pytest.approx(girth_mm, rel=0.01)
    assert found.instep.length_mm == pytest.approx(girth_mm, rel=0.01)
    assert found.error == (QUICK_ERROR if quick else EXACT_ERROR)
    slipped = girth_through(sock, int(found.ball.vertices[0]), slack_mm=20.0)
    assert slipped.length_mm < 0.97 * girth_mm


@pytest.mark.parametrize("direction", list(Direction))
@pytest.mark.parametrize("name", heel_names())
def test_each_heel_names_its_tip(name: str, direction: Direction) -> None:
    """In the heel's middle, near where the shape lies farthest from the front; the tube as knitted.

    What the shape alone suggests lies within four stitches of it: the two ways check each other.
    """
    gauge = Gauge.of(12, 17)
    made = Sample(Sock(foot=FOOT, gauge=gauge, heel=name, direction=direction), quick=True)
    tip = made.heel_tip
    place = made.shape.surface.vertices_mm
    farthest = route(made.shape).heel
    assert farthest is not None
    assert np.linalg.norm(place[tip] - place[farthest]) < 4 * gauge.stitch_width_mm
    other = girth_through(made.shape, farthest, quick=True).length_mm
    assert made.girths["heel"].mm == pytest.approx(other, rel=0.04)
    stitches = made.plan.stitches.count
    assert made.girths["ball"] == gauge.width(stitches)
    assert made.lines.ball.length_mm == pytest.approx(gauge.width(stitches).mm, rel=0.01)


def test_a_closed_heel_has_its_tip_in_its_closing_and_a_turned_one_in_its_shortest_row() -> None:
    for name, closed in (("forethought", True), ("afterthought", True), ("short-row", False)):
        made = Sample(Sock(foot=CHILD, gauge=Gauge.of(14, 20), heel=name))
        loop = int(made.shape.loops[made.heel_tip])
        assert made.fabric.kinds(Kind.GRAFTED)[loop] == closed, name
        assert made.of_heel[loop], name


def test_a_flap_of_slipped_stitches_is_not_taken_for_the_turn() -> None:
    """On ten stitches a slipped row works five, as few as the turn's shortest.

    The girth is that of the flattened profile, within the 3 % by which it is high and what rounding
    does to so few stitches. Through the flap's first rows it would be a quarter less: the leg's.
    """
    made = Sample(Sock(foot=CHILD, gauge=Gauge.of(14, 20), heel="flap"), quick=True)
    by_hand = flap_heel_girth_mm(20, 9, 5, stitch_mm=100 / 14, course_mm=5.0)
    assert made.girths["heel"].mm == pytest.approx(by_hand, rel=0.06)
    assert made.girths["leg"].mm < 0.75 * by_hand


def test_a_heel_without_a_stitch_has_no_tip() -> None:
    work = Work()
    cast_on(work, 8)
    fabric = work.fabric()
    with pytest.raises(ShapeError, match="without a stitch"):
        heel_tip(fabric, np.zeros(len(fabric.stitch), bool))


def test_a_long_toe_makes_the_ball_narrower_and_the_fit_says_so() -> None:
    """A toe decreased in every fourth round begins behind the ball."""
    toe = WedgeToe(wedge=Wedge(plain=3))
    long = Sample(Sock(foot=FOOT, gauge=COARSE, toe=toe), quick=True)
    girth, tube = long.girths["ball"], COARSE.width(long.plan.stitches.count)
    assert girth.how == TAPERED
    assert girth.mm < 0.98 * tube.mm
    assert girth.sd_mm / girth.mm == pytest.approx(tube.sd_mm / tube.mm)
    assert fit(long).at("ball").sock == girth


def test_over_a_gusset_the_ankle_is_as_wide_as_its_rounds_have_stitches() -> None:
    """Coarse, the tape lies on rounds of 20 to 24 stitches where the leg has 20: counted here."""
    coarse = Gauge.of(14, 20)
    made = Sample(Sock(foot=CHILD, gauge=coarse, heel="short-row with gusset"), quick=True)
    fabric, ankle = made.fabric, made.lines.ankle
    assert ankle is not None
    crossed = np.unique(fabric.course[made.shape.loops[ankle.vertices]])
    rounds = [int((fabric.kinds(Kind.WORKED) & (fabric.course == c)).sum()) for c in crossed]
    assert min(rounds) == made.plan.stitches.count < max(rounds)
    mean_mm = coarse.stitch_width_mm * np.mean(rounds)
    assert ankle.length_mm == pytest.approx(mean_mm, rel=0.05)


def test_the_front_door_hands_out_what_fits_and_keeps_the_package() -> None:
    """By name the functions and their results; the packages stay packages."""
    rooms = {
        loopwright.fitting: ("Comparison", "Fit", "Measures", "Remedies", "compare", "fit"),
        loopwright.geometry: ("Shape", "shape"),
    }
    for room, names in rooms.items():
        assert inspect.ismodule(room)
        for name in names:
            assert getattr(loopwright, name) is getattr(room, name)
            assert name in loopwright.__all__


@pytest.mark.parametrize("fabric", ["plain", "slip stitch"])
def test_a_flap_of_so_many_rows_measures_the_same_in_both_directions(fabric: str) -> None:
    """Toe up a flap has three quarters of the rows by common practice; with as many, no less."""
    girths = [
        Sample(Sock(foot=FOOT, gauge=GAUGE, heel=Flap(rows=32, fabric=fabric), direction=way))
        .girths["heel"]
        .mm
        for way in ("cuff down", "toe up")
    ]
    assert girths[1] == pytest.approx(girths[0], rel=0.02)


@pytest.mark.parametrize("way", ["cuff down", "toe up"])
def test_short_rows_come_out_at_the_flattened_profile(way: str) -> None:
    """As heels in the round do, with the rows between the leg and the shortest one."""
    sock = Sock(foot=FOOT, gauge=GAUGE, heel="short-row", direction=way)
    made, setting = Sample(sock), sock.plan().setting
    numbers = ShortRow().numbers(setting)
    expected = wedge_heel_girth_mm(
        setting.stitches, numbers.rows.courses, stitch_mm=setting.stitch_mm,
        course_mm=setting.course_mm,
    )  # fmt: skip
    assert made.girths["heel"].mm == pytest.approx(expected, rel=0.01)
