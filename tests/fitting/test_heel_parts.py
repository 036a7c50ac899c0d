"""Where the line over the heel lies, and what is guessed of its length from another heel's."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from fitting.socks import small_sample
from loopwright.fitting._estimate import estimated_girths
from loopwright.pattern import SockPart
from loopwright.sock import Direction, heel_names


@pytest.mark.parametrize("direction", Direction, ids=lambda d: d.value)
@pytest.mark.parametrize("heel", heel_names())
def test_the_front_of_the_line_is_the_instep(heel: str, direction: Direction) -> None:
    """Half the stitches lie in front: across them the line is about as long as they are wide."""
    made = small_sample(heel, direction)
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


def test_a_guess_from_any_other_heel_is_near() -> None:
    """Whichever heels were measured before: within 4.5 % of the relaxed girth, mostly within 3."""
    made = [small_sample(heel, way) for heel in heel_names() for way in Direction]
    off = []
    for known, asked in itertools.permutations(made, 2):
        guess = estimated_girths(asked.sock, known)["heel"].mm
        off.append(abs(guess / asked.girths["heel"].mm - 1))
    assert max(off) < 0.045
    assert np.percentile(off, 80) < 0.03
