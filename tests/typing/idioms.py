"""What the documentation shows, as a type checker sees it; never run, only checked.

`.ci/run` checks this folder by mypy and by pyright, both strict, against the installed package.
Each `assert_type` holds what a reader's editor will show.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import assert_type

import loopwright as lw
from loopwright import Fabric, Foot, Gauge, Pattern, Sock, Yarn
from loopwright.fabric import CHECKS, Flaw, Limits, finding
from loopwright.pattern import WORDINGS, CastOn, Join, OwnWording, Round, Run, k, sized
from loopwright.sock.heels import Flap
from loopwright.studies import Feet, draw_feet
from loopwright.units import Quantity, cm, course, gram, stitch, to_mm


def quantities() -> None:
    """Numbers with units multiply to quantities, and what takes one takes text too."""
    assert_type(25 * cm, Quantity)
    assert_type(32 * stitch / (10 * cm), Quantity)
    assert_type(to_mm(25 * cm) + to_mm("9 1/2 in"), float)
    Gauge.of(32, 44, over=10 * cm)
    Yarn.of("tarred wool", 420 * cm / gram, ball=50 * gram)
    assert_type(44 * course * (64 * stitch), Quantity)


def patterns() -> Pattern:
    """One value a size, and steps of items."""
    steps = [CastOn(sized([48, 56])), Join(), Round([k(2), Run("k2tog", 3)])]
    CastOn([48, 56])
    CastOn(64)
    return Pattern("Cuff", steps, sizes=["S", "M"])


def socks() -> Fabric:
    """From foot and swatch to a plan and a fabric."""
    foot = assert_type(Foot.of(length="24.5 cm", ball_girth=22.8 * cm, sex="female"), Foot)
    sock = Sock(foot=foot, gauge=assert_type(Gauge.of(32, 44, over="10 cm"), Gauge), heel="flap")
    Sock(foot=foot, gauge=sock.gauge, heel=Flap())
    turn = sock.plan().heel.turn
    if turn is not None:
        assert_type(turn.rows, int)
    assert_type(sock.plan().stitches.count, int)
    return assert_type(sock.fabric(), Fabric)


def graphs(fabric: Fabric) -> list[int]:
    """The view that networkx reads."""
    graph = fabric.graph
    assert_type(lw.check(fabric, openings=1).ok, bool)
    return sorted(loop for loop in graph.nodes if fabric.next[loop] < 0)


def files(text: str) -> str:
    """Reading, knitting, writing."""
    pattern = lw.read(text)
    assert_type(lw.knit(pattern), Fabric)
    return assert_type(lw.write(pattern), str)


def own_checks(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """What a check of one's own takes and yields; one that gives a list will do as well."""
    yield finding(fabric, "own", [0], "found", "what to do")


def own_parts(fabric: Fabric, text: str) -> None:
    """Checks and wordings of one's own are handed on beside those of the package."""

    def listed(fabric: Fabric, limits: Limits) -> list[Flaw]:
        return [*own_checks(fabric, limits)]

    assert_type(lw.check(fabric, checks=(*CHECKS, own_checks, listed)).ok, bool)
    words = (*WORDINGS, OwnWording("widen", "m1l", "widen"))
    assert_type(lw.review(text, wordings=words).ok, bool)
    assert_type(lw.read(text, wordings=words), Pattern)


def several_feet() -> list[float]:
    """A table of feet is gone through foot by foot."""
    feet = draw_feet(3, seed=1)
    assert_type(feet[0], Foot)
    assert_type(feet[:2], Feet)
    return [foot.ball_girth.mm for foot in feet]


assert_type(lw.__version__, str)
