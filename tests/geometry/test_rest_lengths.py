"""Rest lengths of single edges, by hand: Pythagoras on half stitches and courses."""

from __future__ import annotations

from math import hypot

import numpy as np
import pytest

from fabric.pieces import short_rows
from fitting.socks import GAUGE
from loopwright.fabric.stitches import Kind
from loopwright.geometry._rest_lengths import mesh_of
from loopwright.making import Hand

W, H = GAUGE.stitch_width_mm, GAUGE.course_height_mm


@pytest.mark.parametrize("hand", Hand)
def test_a_wrap_stands_half_a_stitch_out_between_its_two_rows(hand: Hand) -> None:
    """Its yarn comes from half a stitch and half a course away, and goes on as far.

    What is drawn through it lies as far off as the stitch that it was laid round, by half a stitch
    and one and a half courses: the fold of the two rows is a mirror.

    None does in the same piece with its turns left plain.
    """
    fabric = short_rows("wrap", hand).fabric()
    mesh = mesh_of(fabric, GAUGE)
    wraps = np.flatnonzero(fabric.kinds(Kind.WRAP)[fabric.ids])
    picked_up = np.isin(fabric.ids, fabric.parent).astype(int)
    assert picked_up[wraps].sum() == len(wraps) - 2 == 14  # the last two are left as they are
    for wrap in wraps:
        rests = np.sort(mesh.rest_mm[(mesh.edges == wrap).any(axis=1)])
        assert rests[:2] == pytest.approx([hypot(W / 2, H / 2)] * 2)
        assert rests[2:] == pytest.approx([hypot(W / 2, 1.5 * H)] * picked_up[wrap])
    plain = mesh_of(short_rows("plain", hand).fabric(), GAUGE)
    assert not np.isclose(plain.rest_mm, hypot(W / 2, H / 2)).any()
