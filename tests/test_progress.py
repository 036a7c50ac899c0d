from __future__ import annotations

import time
from typing import Any

import pytest

from loopwright import Foot, Gauge, Sock, compare, fit, knit, read, shape
from loopwright.design import read_design
from loopwright.fitting import drape, foot_form, hands_of, remedies, sample
from loopwright.length import Length
from loopwright.progress import advance, share, watched
from loopwright.report.gather import report_of
from loopwright.sock import Measured

CHILD = Foot.of(length="16 cm", ball_girth="15.5 cm")
SOCK = Sock(foot=CHILD, gauge=Gauge.of(14, 20))


HIGH = Sock(  # more than one remedy is knitted
    foot=Foot.of(length="16 cm", ball_girth="15.5 cm", heel_girth="23 cm"), gauge=Gauge.of(14, 20)
)


class Ear:
    """Hears what is told, and when."""

    def __init__(self) -> None:
        self.told: list[tuple[int, int, str]] = []
        self.at: list[float] = [time.monotonic()]

    def __call__(self, *told: Any) -> None:
        self.told.append(told)
        self.at.append(time.monotonic())


@pytest.mark.once
@pytest.mark.parametrize(
    "work",
    [
        lambda ear: shape(SOCK.fabric(), SOCK.gauge, progress=ear),
        lambda ear: fit(SOCK, progress=ear),
        lambda ear: hands_of([Measured(sock=SOCK, foot_girth=Length(190.0, 3.0))], progress=ear),
        lambda ear: drape(sample(SOCK).shape, foot_form(SOCK.foot), progress=ear),
        lambda ear: compare(SOCK, ["flap", "forethought"], progress=ear),
        lambda ear: remedies(HIGH, progress=ear),
        lambda ear: report_of(
            read_design(
                'title = "Quay"\ngauge = {stitches = 14, rounds = 20, over = "10 cm"}\n'
                'foot = {length = "16 cm", ball_girth = "15.5 cm"}\n'
            ),
            progress=ear,
        ),
    ],
)
def test_long_work_tells_how_far_it_has_come(work: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    # How often it is told may not depend on how quick the machine is.
    monkeypatch.setattr("loopwright.progress._PAUSE_S", 0.0)
    ear = Ear()
    work(ear)
    shares = [done / of for done, of, _ in ear.told]
    assert shares == sorted(shares)
    assert shares[-1] == 1
    assert len(shares) > 3
    assert all(what for _, _, what in ear.told)


def test_work_stops_when_its_watcher_raises_and_can_be_begun_anew() -> None:
    made = sample(SOCK)

    def stop(done: int, of: int, what: str) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        fit(made, progress=stop)
    advance(1, 2)  # nobody is told any more
    assert fit(made).verdict == fit(SOCK).verdict


def test_parts_of_parts_add_up_and_say_where_they_are() -> None:
    ear = Ear()
    with watched(ear):
        for size in range(2):
            with share(size, 2, f"size {size}"):
                for stage in range(2):
                    with share(stage, 2, f"stage {stage}"):
                        pass
    assert [(done, what) for done, _, what in ear.told] == [
        *((250, "size 0: stage 0"), (500, "size 0: stage 1"), (500, "size 0")),
        *((750, "size 1: stage 0"), (1000, "size 1: stage 1"), (1000, "size 1")),
    ]


def test_watching_changes_no_number() -> None:
    tube = knit(read("Cast on 16 sts. Join in the round. Rnds 1-9: Knit. Bind off all sts."))
    gauge = Gauge.of(28, 40)
    heard = shape(tube, gauge, progress=Ear())
    assert (heard.surface.vertices_mm == shape(tube, gauge).surface.vertices_mm).all()
