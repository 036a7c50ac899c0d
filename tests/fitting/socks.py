"""Socks made by hand, stitch by stitch, to try shapes and girths on.

The fabric of `shape.md`'s table in the project's shared notes: 64 stitches, 32 stitches and 44
rounds to 10 cm, leg 60 rounds, foot 55, wedge toe to 20.
"""

from __future__ import annotations

from functools import cache

from loopwright.fabric.fabric import Fabric
from loopwright.fitting import Sample, sample
from loopwright.gauge import Gauge
from loopwright.making import (
    Work,
    cast_on,
    graft,
    hold,
    provisional_cast_on,
    recapture,
    return_held,
)
from loopwright.sock import Direction, Foot, Sock

GAUGE = Gauge(3.2, 4.4)
COARSE = Gauge.of(16, 22)
CHILD = Foot.of(length="16 cm", ball_girth="15.5 cm")


@cache
def small_sample(heel: str, direction: Direction) -> Sample:
    """A child's sock with each heel, relaxed once for all that only look at it."""
    sock = Sock(foot=CHILD, gauge=COARSE, heel=heel, direction=direction)
    return sample(sock, quick=True)


def wedge(work: Work, until: int, *, every: int = 2) -> None:
    """Decrease four stitches in every other round, ending on a decrease round."""
    while True:
        half = work.count // 2
        side = ["k", "ssk", *["k"] * (half - 6), "k2tog", "k"]
        work.round(side + side)
        if work.count <= until:
            return
        work.plain_rounds(every - 1)


def in_the_round(
    n: int = 64,
    leg: int = 60,
    foot: int = 55,
    *,
    heel_to: int = 20,
    toe_to: int = 20,
    plain: int = 0,
    more: int = 0,
    stage: str = "finished",
) -> Fabric:
    """Sock with a heel worked in the round on half the stitches, from a provisional cast-on.

    ``more`` stitches are made in the heel's first round on either half, at its ends. ``stage`` may
    stop short: ``"unworked"`` leaves waste yarn and held stitches in the heel.
    """
    half = n // 2
    work = Work()
    cast_on(work, n)
    work.join_round()
    work.plain_rounds(leg - 1)
    hold(work, half, "heel")
    provisional_cast_on(work, half, "waste")
    work.work(["k"] * half)
    work.plain_rounds(foot)
    wedge(work, toe_to)
    graft(work)
    if stage == "unworked":
        return work.fabric()
    return_held(work, "heel")
    recapture(work, "waste")
    work.join_yarn("heel yarn")
    made = ["m1r", "k"] * (more // 2), ["k", "m1l"] * (more // 2)
    middle = ["k"] * (half - 2 - 2 * (more // 2))
    work.round(["k", *made[0], *middle, *made[1], "k"] * 2)
    work.plain_rounds(plain)
    wedge(work, heel_to)
    graft(work)
    return work.fabric()
