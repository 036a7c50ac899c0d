"""What the documentation shows, as a type checker sees it; never run, only checked.

`.ci/run` checks this folder by mypy and by pyright, both strict, against the installed package.
Each `assert_type` holds what a reader's editor will show.
"""

from __future__ import annotations

from typing import assert_type

import loopwright as lw
from loopwright import Fabric, Foot, Gauge, Pattern, Sock, Yarn
from loopwright.pattern import CastOn, Join, Round, Run, k, sized
from loopwright.sock.heels import Flap
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


assert_type(lw.__version__, str)
