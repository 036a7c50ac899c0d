"""Studies against the loop that a user would write by hand, in one run; and their memory.

Run by hand: ``python tests/benchmarks/bench_study.py [--memory]``. Every engine has worked a first
study before its time is taken, so that starting processes isn't counted; say so when you quote it.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from distributed import Client, LocalCluster

from loopwright.fabric.checks import check
from loopwright.gauge import Gauge
from loopwright.study import Feet, draw_feet, study, variants

GAUGE = Gauge.of(32, 44)
DESIGNS = variants(heel=["forethought", "flap"], ease=[-0.1, -0.15])
FEET = 250


def timed(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def plan_by_hand(feet: Feet) -> list[tuple[int, int]]:
    """What a user would write to plan every sock."""
    found = []
    for row in range(len(feet)):
        foot = feet.foot(row)
        for design in DESIGNS:
            plan = design.sock(foot, GAUGE).plan()
            found.append((plan.stitches.count, plan.foot_rounds))
    return found


def check_by_hand(feet: Feet) -> list[bool]:
    """What a user would write to knit and check every sock."""
    return [
        check(design.sock(feet.foot(row), GAUGE).fabric()).ok
        for row in range(len(feet))
        for design in DESIGNS
    ]


def speed() -> None:
    feet, few = draw_feet(FEET, seed=1), draw_feet(20, seed=2)
    cases = FEET * len(DESIGNS)
    plan_by_hand(few)
    plan_s = timed(lambda: plan_by_hand(feet)) / cases
    check_s = timed(lambda: check_by_hand(feet[: FEET // 5])) / (cases // 5)
    print(
        f"{cases} cases; by hand: plan {1e3 * plan_s:.2f} ms, knit and check {1e3 * check_s:.1f} ms"
    )
    with (
        LocalCluster(  # type: ignore[no-untyped-call]
            n_workers=2, threads_per_worker=1, dashboard_address=":0", silence_logs=50
        ) as cluster,
        Client(cluster) as client,  # type: ignore[no-untyped-call]
    ):
        engines: dict[str, Any] = {"this process": None, "2 processes": 2, "2 Dask workers": client}
        for name, engine in engines.items():
            begin, _ = both(engine, few)
            report(name, begin, *both(engine, feet), cases, plan_s, check_s)


def both(engine: Any, feet: Feet) -> tuple[float, float]:
    """Seconds to plan, and seconds to plan, knit and check; starting the engine included."""
    plan = timed(lambda: study(DESIGNS, feet, gauges=GAUGE, measures=[], executor=engine))
    whole = timed(lambda: study(DESIGNS, feet, gauges=GAUGE, measures=["checks"], executor=engine))
    return plan, whole


def report(
    name: str, begin: float, plan: float, whole: float, cases: int, plan_s: float, check_s: float
) -> None:
    print(
        f"{name:15} plan {cases / plan:6.0f} cases/s ({plan_s * cases / plan:4.2f} x by hand, "
        f"{1e3 * (plan / cases - plan_s):+5.2f} ms a case), plan, knit and check "
        f"{cases / whole:6.0f} cases/s ({check_s * cases / whole:5.2f} x by hand); "
        f"first {20 * len(DESIGNS)} cases {begin:.1f} s"
    )


def memory() -> None:
    for cases in (1_000, 10_000, 50_000):
        done = subprocess.run(
            [sys.executable, __file__, "--one", str(cases)], stdout=subprocess.PIPE, check=True
        )
        print(done.stdout.decode().strip())


def one(cases: int) -> None:
    """Plan so many cases over two processes into a store, and read them back in parts."""
    with tempfile.TemporaryDirectory() as folder:
        seconds = timed(
            lambda: sum(
                len(batch)
                for batch in study(
                    variants(heel=["short-row"]),
                    draw_feet(cases, seed=1),
                    gauges=GAUGE,
                    measures=[],
                    executor=2,
                    store=Path(folder) / "study",
                    part=100,
                ).batches()
            )
        )
    here = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{cases:6} cases: {here:.0f} MiB at most in the process that asks, {seconds:.0f} s")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        one(int(sys.argv[2]))
    elif sys.argv[1:] == ["--memory"]:
        memory()
    else:
        speed()
