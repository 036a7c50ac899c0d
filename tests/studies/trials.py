"""Measures, designs and studies that misbehave on demand, for processes that are killed."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Mapping
from pathlib import Path

import attrs

from loopwright.fitting import Sample
from loopwright.gauge import Gauge
from loopwright.pattern.steps import BindOff, Graft, Step
from loopwright.progress import Progress
from loopwright.sock._toes import WedgeToe
from loopwright.sock.needles import Layout
from loopwright.studies import Measure, Study, Variant, draw_feet, study, variants
from loopwright.studies._columns import Column

GAUGE = Gauge.of(16, 22)  # coarse: socks of some thousand loops
LOOPS = Column("made_loops", "count")


@attrs.frozen
class Noted:
    """Count the loops; note the sock in a diary, and die once where its page `deadly` says so."""

    diary: Path

    def __call__(self, made: Sample) -> Mapping[str, int]:
        plan = made.plan
        counts = f"{plan.stitches.count} {plan.foot_rounds} {plan.leg_rounds}"
        with (self.diary / "socks").open("a") as page:
            page.write(f"{made.sock.heel.name} {counts}\n")
        deadly = self.diary / "deadly"
        if deadly.exists() and plan.stitches.count >= int(deadly.read_text()):
            deadly.unlink()
            os.kill(os.getpid(), signal.SIGKILL)
        if (self.diary / "slow").exists():
            time.sleep(0.05)
        return {"made_loops": len(made.fabric.ids)}


def brittle(made: Sample) -> Mapping[str, int]:
    """Refuse wide socks."""
    if made.plan.stitches.count > 32:
        raise ValueError("too wide\nfor this measure")
    return {"made_loops": made.plan.stitches.count}


BRITTLE = Measure("brittle", (LOOPS,), brittle)


@attrs.frozen(kw_only=True)
class OpenToe(WedgeToe):
    """A toe that is bound off and left open: a sock of two openings, each sound by itself."""

    def steps(self, layout: Layout) -> list[Step]:
        closed = super().steps(layout)
        return [BindOff(None, "plain") if isinstance(step, Graft) else step for step in closed]


TORN = Variant("torn", {"toe": OpenToe(), "heel": "flap"}, {"heel": "torn"})


def designs() -> tuple[Variant, ...]:
    return variants(heel=["flap", "short-row"], ease=[-0.1, -0.15])


def noted_study(
    diary: Path,
    store: Path | None = None,
    executor: object = None,
    progress: Progress | None = None,
) -> Study:
    """A study that the diary can tell about."""
    return study(
        designs(),
        draw_feet(8, seed=7),
        gauges=GAUGE,
        measures=["checks", Measure("noted", (LOOPS,), Noted(diary))],
        executor=executor,
        store=store,
        progress=progress,
        part=5,
    )
