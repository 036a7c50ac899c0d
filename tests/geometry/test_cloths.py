"""Which cloth a loop stands in, and what its stitches measure at rest."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from fitting.socks import GAUGE
from loopwright.cloth import CLOTH_SIZES, Cloth
from loopwright.fabric.fabric import Fabric
from loopwright.gauge import Gauge
from loopwright.geometry import shape
from loopwright.geometry._cloths import cloths_of
from loopwright.making import Work, cast_on

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


@pytest.mark.parametrize("name", PIECES)
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
