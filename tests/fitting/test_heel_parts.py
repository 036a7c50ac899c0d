"""Where the line over the heel lies: against the instep's width at the gauge, and loop by loop."""

from __future__ import annotations

import numpy as np
import pytest

from loopwright import Foot, Gauge, Sock
from loopwright.fitting import sample
from loopwright.pattern import SockPart
from loopwright.sock import Direction, heel_names

CHILD = Foot.of(length="16 cm", ball_girth="15.5 cm")


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", heel_names())
def test_the_front_of_the_line_is_the_instep(heel: str, direction: Direction) -> None:
    """Half the stitches lie in front: across them the line is about as long as they are wide."""
    made = sample(Sock(foot=CHILD, gauge=Gauge.of(16, 22), heel=heel, direction=direction),
                  quick=True)  # fmt: skip
    parts = made.heel_parts
    assert sum(parts.values()) == pytest.approx(made.heel_line.length_mm)
    front = parts.get("instep", 0) + parts.get("leg", 0)
    assert front == pytest.approx(made.sock.gauge.width(made.plan.share.instep).mm, rel=0.15)
    assert parts["heel"] > 0.35 * made.heel_line.length_mm
    # On its own: steps of the line by the heading that the loop beside them was made under.
    line, loops = made.heel_line, made.shape.loops
    mm = np.linalg.norm(np.diff(line.points_mm, axis=0), axis=1)
    heel_loops = made.knitted.journal.made_by(SockPart.HEEL)[loops[line.vertices]]
    there = (mm * (heel_loops[1:] * 0.5 + heel_loops[:-1] * 0.5)).sum()
    assert parts["heel"] <= 1.01 * there
    assert there <= sum(parts.values())
