"""Draping against hand calculation on a cylinder, and contact against an outside library."""

from __future__ import annotations

import sys
from typing import Any

import numpy as np
import pytest
import trimesh

from fitting.socks import GAUGE, in_the_round
from loopwright.errors import ShapeError
from loopwright.fitting import Draped, FootForm, Membrane, drape, foot_form, press, route
from loopwright.fitting._footform import _strip
from loopwright.fitting._membrane import Weave
from loopwright.fitting._putting_on import put_on
from loopwright.geometry import shape
from loopwright.geometry._shape import Shape
from loopwright.geometry._surface import Surface
from loopwright.making import Work, cast_on
from loopwright.sock.foot import Foot

SOCK: dict[str, Any] = {"n": 56, "leg": 36, "foot": 44, "heel_to": 20, "toe_to": 20}
W, H = GAUGE.stitch_width_mm, GAUGE.course_height_mm


def _cylinder(radius_mm: float, length_mm: float) -> Surface:
    columns, rings = 180, 60
    angle = np.linspace(0, 2 * np.pi, columns, endpoint=False)
    up = np.linspace(length_mm / 2, -length_mm / 2, rings)
    ring = np.stack([np.cos(angle), np.sin(angle)], axis=1) * radius_mm
    points = [np.concatenate([ring, np.full((columns, 1), z)], axis=1) for z in up]
    ends = [[0, 0, up[0]], [0, 0, up[-1]]]
    body = Surface(np.concatenate([*points, ends]), _strip(rings, columns))
    assert body.volume_mm3 > 0  # faces out
    return body


def _tube(stitches: int, courses: int) -> Shape:
    work = Work()
    cast_on(work, stitches)
    work.join_round()
    work.plain_rounds(courses - 1)
    return shape(work.fabric(), GAUGE)


def _upright(
    tube: Shape, stitches: int, radius_mm: float
) -> np.ndarray[tuple[int, int], np.dtype[np.float64]]:
    """The tube's loops round the axis, a little outside, in the order of making."""
    number = np.arange(len(tube.loops))
    angle, up = number / stitches * 2 * np.pi, (number // stitches) * H
    up = up - up.mean()
    return np.stack(
        [1.05 * radius_mm * np.cos(angle), 1.05 * radius_mm * np.sin(angle), up], axis=1
    )


@pytest.mark.parametrize(("stretch", "left"), [(1.2, 0.92), (1.4, 0.84), (1.6, 0.76)])
def test_on_a_cylinder_the_strain_is_the_one_by_hand(stretch: float, left: float) -> None:
    """Course strain: cylinder's girth over the tube's, less one. Wale strain, ends free: the law's.

    Heights left are those of the prototype of plain fabric in `cloth.toml`.
    """
    stitches, courses = 48, 30
    tube = _tube(stitches, courses)
    chords = np.sin(np.pi / stitches) / (np.pi / stitches)
    girth_mm = stretch / chords * stitches * W
    radius_mm = girth_mm / (2 * np.pi)
    start = _upright(tube, stitches, radius_mm)
    found = press(tube, _cylinder(radius_mm, 200.0), start)
    middle = slice(stitches * 12, stitches * 18)
    # The fabric is a polygon of 48 sides that touches the skin with its corners.
    assert np.nanmean(found.course_strain[middle]) == pytest.approx(stretch - 1, abs=0.008)
    assert np.nanmean(found.wale_strain[middle]) == pytest.approx(left - 1, abs=0.015)
    assert found.penetration_mm < 0.5


@pytest.fixture(scope="module")
def form() -> FootForm:
    return foot_form(Foot.of(length="21 cm", ball_girth="19.5 cm"))


@pytest.fixture(scope="module")
def relaxed() -> Shape:
    return shape(in_the_round(**SOCK), GAUGE)


@pytest.fixture(scope="module")
def draped(relaxed: Shape, form: FootForm) -> Draped:
    return drape(relaxed, form)


def test_a_draped_sock_does_not_enter_the_foot(draped: Draped, form: FootForm) -> None:
    """Depth inside the form under 0.5 mm, by the library's own distance."""
    body = trimesh.Trimesh(form.surface.vertices_mm, form.surface.triangles, process=False)
    assert body.is_watertight
    some = draped.surface.vertices_mm[::97]
    nearest, distance, face = trimesh.proximity.closest_point_naive(body, some)  # type: ignore[no-untyped-call]
    outward = np.einsum("ij,ij->i", some - nearest, body.face_normals[face])
    assert np.where(outward < 0, distance, 0.0).max() < 0.5
    assert draped.penetration_mm < 0.5


def test_a_draped_sock_has_come_to_rest(
    draped: Draped, relaxed: Shape, form: FootForm, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Three times the steps move its strains by less than the accuracy page states."""
    monkeypatch.setattr(sys.modules["loopwright.fitting._drape"], "_RENEWALS", 15)
    rested = drape(relaxed, form)
    for name, most in (("course_strain", 0.02), ("wale_strain", 0.05)):
        moved = np.abs(getattr(rested, name) - getattr(draped, name))
        assert np.nanpercentile(moved, 95) < most, name
        assert abs(np.nanmean(getattr(rested, name) - getattr(draped, name))) < 0.01, name


def test_where_it_is_put_on_a_sock_lies_near_its_rest(
    draped: Draped, relaxed: Shape, form: FootForm
) -> None:
    """By shares of its length alone it lay 20 to 60 mm away, its cuff the farthest."""
    start_mm = put_on(relaxed, form, Weave.of(relaxed, Membrane()), None)
    moved = np.linalg.norm(draped.surface.vertices_mm - start_mm, axis=1)
    assert np.median(moved) < 15
    assert np.percentile(moved, 95) < 32


def test_a_long_sock_hangs_over_the_toes_and_is_not_drawn_off_the_heel(form: FootForm) -> None:
    """A foot of 22 more rounds, 50 mm: its heel stays at the heel, its toe goes beyond the foot.

    Asked of the sock at rest. Where it is put on, slack fabric resists so little that its toe lies
    up to 10 mm to and fro with the last bits of the processor's linear algebra.
    """
    sock = shape(in_the_round(**SOCK | {"foot": 66}), GAUGE)
    draped, where = drape(sock, form), route(sock)
    assert where.heel is not None
    heel_mm, toe_mm = draped.surface.vertices_mm[[where.heel, where.toe]]
    assert np.linalg.norm(heel_mm - [0.03 * 210, 0, 0.045 * 210]) < 15
    assert toe_mm[0] > 213


def test_a_draped_sock_is_stretched_across_more_than_along(draped: Draped) -> None:
    """Negative ease: nearly every course is stretched, and the wales less."""
    assert np.nanmedian(draped.course_strain) > 0.05
    assert np.nanmedian(draped.wale_strain) < np.nanmedian(draped.course_strain)
    assert np.nanpercentile(draped.course_strain, 95) < 1.0


def test_a_fabric_without_a_heel_is_not_drawn_over_a_foot(form: FootForm) -> None:
    """A tube has no place for the heel; the refusal says what to do."""
    with pytest.raises(ShapeError) as refused:
        drape(_tube(32, 20), form)
    assert "sock" in refused.value.advice
