"""Which cloth a loop stands in, and what its stitches measure at rest."""

from __future__ import annotations

from collections import Counter

import attrs
import numpy as np
import pytest

from fitting.socks import GAUGE
from loopwright.cloth import CLOTH_SIZES, Cloth
from loopwright.fabric.fabric import Fabric
from loopwright.fitting import Sample
from loopwright.fitting.limits import GIRTH_SD
from loopwright.gauge import Gauge
from loopwright.geometry import cloth_sd_mm, shape, shortest_line
from loopwright.geometry._cloths import cloths_of
from loopwright.making import Work, cast_on
from loopwright.sock import Foot, Sock
from together import together

CLOTHS = tuple(Cloth)
ROWS, STITCHES = 24, 20
FLAP = (["sl", "k"] * (STITCHES // 2), ["slf", *["p"] * (STITCHES - 1)])
PIECES = {
    "stocking stitch": (["k"] * STITCHES, ["p"] * STITCHES),
    "reverse": (["p"] * STITCHES, ["k"] * STITCHES),
    "rib": (["k", "k", "p", "p"] * (STITCHES // 4), ["k", "k", "p", "p"] * (STITCHES // 4)),
    "garter": (["k"] * STITCHES, ["k"] * STITCHES),
    "seed": (["k", "p"] * (STITCHES // 2), ["p", "k"] * (STITCHES // 2)),
    "flap": FLAP,
}


def knitted(*rows: list[str]) -> Fabric:
    """A flat piece, the rows in turn."""
    work = Work()
    cast_on(work, STITCHES)
    work.turn()
    for k in range(ROWS):
        work.row(rows[k % len(rows)])
    return work.fabric()


def cloths(fabric: Fabric) -> Counter[Cloth]:
    return Counter(CLOTHS[k] for k in cloths_of(fabric)[fabric.ids])


def inner(fabric: Fabric) -> set[Cloth]:
    """Of the middle rows, without two stitches at either edge."""
    found = set()
    for course in np.unique(fabric.course)[5:-5]:
        loops = np.flatnonzero(fabric.present & (fabric.course == course))[2:-2]
        found |= {CLOTHS[k] for k in cloths_of(fabric)[loops]}
    return found


@together("name", PIECES)
def test_a_cloth_is_told_by_its_stitches(name: str) -> None:
    expected = {"garter": Cloth.GARTER, "seed": Cloth.SEED, "flap": Cloth.SLIPPED}
    assert inner(knitted(*PIECES[name])) == {expected.get(name, Cloth.PLAIN)}


def test_what_is_turned_over_once_or_slipped_alone_stays_plain() -> None:
    """A welt's edge, a rib's first row, a slipped stitch here and there."""
    plain = PIECES["stocking stitch"]
    welt = [*plain * 3, *PIECES["reverse"] * 3]
    lone = [[*["k"] * 9, "sl", *["k"] * 10], plain[1]]
    assert set(cloths(knitted(*welt))) == set(cloths(knitted(*lone))) == {Cloth.PLAIN}


def test_a_flap_is_slip_stitch_from_edge_to_edge() -> None:
    """All its rows but the cast-on and the first; the chains along its sides are drawn up too."""
    found = cloths(knitted(*FLAP))
    assert found[Cloth.PLAIN] <= 2 * STITCHES


@pytest.mark.parametrize("name", ["garter", "flap", "stocking stitch"])
def test_a_piece_is_as_long_and_wide_as_its_cloth_says(name: str) -> None:
    """Over its middle: twelve rows, and the stitches of a row, by hand."""
    fabric = knitted(*PIECES[name])
    (cloth,) = inner(fabric)
    size = CLOTH_SIZES[cloth]
    relaxed = shape(fabric, GAUGE)
    place = dict(zip(relaxed.loops.tolist(), relaxed.surface.vertices_mm, strict=True))
    (low, high), row = _wale(fabric), _row(fabric)
    height, width = (
        np.linalg.norm(place[a] - place[b]) for a, b in ((low, high), row[:: len(row) - 1])
    )
    assert height == pytest.approx(12 * size.height * GAUGE.course_height_mm, rel=0.02)
    assert width == pytest.approx((len(row) - 1) * size.width * GAUGE.stitch_width_mm, rel=0.03)


def _wale(fabric: Fabric) -> tuple[int, int]:
    """Two loops of one wale, 12 rows apart: from a middle one up through what is drawn through."""
    up = dict(zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True))
    start = at = _row(fabric)[6]
    while fabric.course[at] < fabric.course[start] + 12:
        at = up[at]
    return start, at


def _row(fabric: Fabric) -> list[int]:
    """Neighbours in the first middle row that works every stitch but the edge's."""
    for course in np.unique(fabric.course)[6:]:
        loops = np.flatnonzero(fabric.present & (fabric.course == course)).tolist()
        if len(loops) > STITCHES - 2:
            return loops[3:-3]
    raise AssertionError("every row slips")


def test_a_measured_swatch_stands_in_place_of_the_estimate() -> None:
    fabric, swatch = knitted(*FLAP), Gauge.of(30, 50)
    tall, low = (
        np.sort(shape(fabric, GAUGE, measured=measured).mesh.rest_mm)
        for measured in (None, {Cloth.SLIPPED: swatch})
    )
    assert np.isclose(low, swatch.course_height_mm).sum() > 100
    assert not np.isclose(tall, swatch.course_height_mm).any()


def test_the_estimate_of_slip_stitch_lies_where_the_leaflet_has_it() -> None:
    """New Directions for Socks, about 1917: 2 1/2 in for 14 to 16 chains of two rows each.

    Against 9 rounds to the inch, which isn't printed there: assumed.
    """
    plain_mm = 25.4 / 9
    least, most = (2.5 * 25.4 / (2 * chains) / plain_mm for chains in (16, 14))
    size = CLOTH_SIZES[Cloth.SLIPPED]
    assert least < size.height < most
    assert size.height - 2 * size.height_sd < least < most < size.height + 2 * size.height_sd


def test_a_line_is_as_uncertain_as_the_cloths_that_it_crosses() -> None:
    """Up a flat piece all of it runs along the wales; the doubt is the height's, by hand."""
    garter, plain = (shape(knitted(*PIECES[name]), GAUGE) for name in ("garter", "stocking stitch"))
    for piece, sd in ((garter, 0.06 / 0.73), (plain, 0.0)):
        line = shortest_line(piece.surface, 10, len(piece.loops) - 11)
        assert cloth_sd_mm(piece, line) == pytest.approx(sd * line.length_mm, rel=0.03)
        across = shortest_line(piece.surface, STITCHES * 10 + 2, STITCHES * 11 - 3)
        wide = cloth_sd_mm(piece, across, {Cloth.GARTER: Gauge.of(20, 40)})
        assert wide < 0.04 * across.length_mm  # a swatch of a hand's counting


def test_a_heels_doubt_is_what_another_height_of_its_rows_makes_of_it() -> None:
    """To first order; the flap of 5 % taller rows is relaxed for it."""
    sock = Sock(foot=Foot.of(length="16 cm", ball_girth="15.5 cm"), gauge=Gauge.of(20, 28),
                heel="flap")  # fmt: skip
    tall = Gauge.of(20, 28 / (1.05 * CLOTH_SIZES[Cloth.SLIPPED].height))
    doubt = Gauge(tall.stitches_per_cm, tall.courses_per_cm, 0.0, 0.05 * tall.courses_per_cm)
    made, other = Sample(sock), Sample(attrs.evolve(sock, slip_gauge=tall))
    moved = other.heel_line.length_mm - made.heel_line.length_mm
    told = cloth_sd_mm(made.shape, made.heel_line, {Cloth.SLIPPED: doubt})
    assert told == pytest.approx(moved, abs=1.0)
    heel = made.girths["heel"]
    own = cloth_sd_mm(made.shape, made.heel_line)
    assert heel.sd_mm == pytest.approx(np.hypot(GIRTH_SD * heel.mm, own))
    assert own > 1
