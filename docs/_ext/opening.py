"""The pictures with which README and the documentation open: kept, small, made by the package.

`python docs/_ext/opening.py` makes them anew; `tests/picture/test_opening.py` holds them to what
the package makes.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

from loopwright.fitting import Sample, sample
from loopwright.gauge import Gauge
from loopwright.picture import Picture, charts, draw_shape, draw_stage, stages
from loopwright.sock import Foot, Sock

FOLDER = Path(__file__).parents[1] / "opening"


@cache
def made() -> Sample:
    """A child's sock with a heel flap."""
    foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
    return sample(Sock(foot=foot, gauge=Gauge.of(16, 22), heel="flap"), quick=True)


def in_space() -> Picture:
    """The sock at rest, coloured by stitch."""
    return draw_shape(made().shape, by="stitch", size=300)


def heel_chart() -> Picture:
    """The chart of its heel."""
    return charts(made().pattern, section="Heel")[0].picture()


def stage_of_heel() -> Picture:
    """The needles after the first stitches are picked up along the flap."""
    strip = stages(made().pattern, section="Heel", gauge=made().sock.gauge)
    return draw_stage(next(each for each in strip if "pick up" in each.title))


OPENING: dict[str, Callable[[], Picture]] = {
    "sock": in_space,
    "chart": heel_chart,
    "stage": stage_of_heel,
}


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, draw in OPENING.items():
        (FOLDER / f"{name}.svg").write_text(draw().svg() + "\n", encoding="utf-8")
