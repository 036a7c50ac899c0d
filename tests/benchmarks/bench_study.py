"""Studies against the loop that a user would write by hand, in one run; and their memory.

Run by hand, on a machine that does nothing else: ``python tests/benchmarks/bench_study.py`` prints
a table for ``docs/explanation/planning-studies.md``, ``--memory`` the memory of three sizes. Every
engine has worked a first study before its time is taken, which is told by itself.
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

import attrs
from distributed import Client, LocalCluster

from loopwright.fitting import sample
from loopwright.gauge import Gauge
from loopwright.studies import Feet, Study, draw_feet, study, variants

GAUGE = Gauge.of(32, 44)
COARSE = Gauge.of(14, 19)
DESIGNS = variants(heel=["forethought", "flap"], ease=[-0.1, -0.15])
FEET = 250


@attrs.frozen
class Times:
    """Seconds of wall time: to begin, to plan all cases, to plan, knit and check them."""

    begin: float
    plan: float
    whole: float


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


def check_by_hand(feet: Feet) -> list[int]:
    """What a user would write to plan, knit and check every sock."""
    found = []
    for row in range(len(feet)):
        foot = feet.foot(row)
        for design in DESIGNS:
            found.append(len(sample(design.sock(foot, GAUGE)).report.findings))
    return found


def engine_times(engine: Any, feet: Feet, few: Feet) -> Times:
    def worked(on: Feet, measures: list[str]) -> float:
        return timed(lambda: study(DESIGNS, on, gauges=GAUGE, measures=measures, executor=engine))

    return Times(worked(few, ["checks"]), worked(feet, []), worked(feet, ["checks"]))


def speed() -> None:
    """Print one table: each engine against the loop by hand."""
    feet, few = draw_feet(FEET, seed=1), draw_feet(20, seed=2)
    cases = FEET * len(DESIGNS)
    plan_by_hand(few)
    part = feet[: FEET // 5]  # a loop by hand takes as long for each fifth
    hand = Times(0.0, timed(lambda: plan_by_hand(feet)), 5 * timed(lambda: check_by_hand(part)))
    begun = time.perf_counter()
    print(f"{cases} cases ({FEET} feet, {len(DESIGNS)} designs, 32 x 44)\n")
    print(
        "| engine | plan, cases/s | x by hand | core-ms a case more than by hand "
        f"| plan, knit, check, cases/s | x by hand | first {20 * len(DESIGNS)} cases, s |"
    )
    print("| --- | --- | --- | --- | --- | --- | --- |")
    report("loop by hand, 1 core", hand, hand, cases, 1)
    with (
        LocalCluster(  # type: ignore[no-untyped-call]
            n_workers=2, threads_per_worker=1, dashboard_address=":0", silence_logs=50
        ) as cluster,
        Client(cluster) as client,  # type: ignore[no-untyped-call]
    ):
        engines = {"this process, 1 core": (None, 1), "2 processes": (2, 2),
                   "2 Dask workers": (client, 2)}  # fmt: skip
        for name, (engine, workers) in engines.items():
            report(name, engine_times(engine, feet, few), hand, cases, workers)
    print(f"\n{time.perf_counter() - begun:.0f} s for the engines")
    heels()


def report(name: str, found: Times, hand: Times, cases: int, workers: int) -> None:
    more = 1e3 * (workers * found.plan - hand.plan) / cases
    print(
        f"| {name} | {cases / found.plan:.0f} | {hand.plan / found.plan:.2f} | {more:+.1f} "
        f"| {cases / found.whole:.0f} | {hand.whole / found.whole:.2f} | {found.begin:.1f} |",
        flush=True,
    )


def heels() -> None:
    """Print what one heel takes, and how far the quick estimate of its girth is off."""
    feet = draw_feet(1, seed=1)

    def worked(measure: str) -> tuple[float, Study]:
        begin = time.perf_counter()
        done = study(DESIGNS[:3], feet, gauges=GAUGE, measures=[measure])
        return (time.perf_counter() - begin) / done.shared["heel"], done

    (quick_s, _), (exact_s, done) = worked("quick heel girth"), worked("heel girth")
    errors = ", ".join(f"{100 * error:+.1f} %" for error in done.table()["heel_girth_quick_error"])
    print(f"a heel: {quick_s:.1f} s quick, {exact_s:.1f} s exact and quick; quick is off {errors}")


def memory() -> None:
    for cases in (1_000, 10_000, 50_000):
        done = subprocess.run(
            [sys.executable, __file__, "--one", str(cases)], stdout=subprocess.PIPE, check=True
        )
        print(done.stdout.decode().strip(), flush=True)


def one(cases: int) -> None:
    """Study so many cases, quick girth and all, over two processes into a store; read in parts."""
    with tempfile.TemporaryDirectory() as folder:
        seconds = timed(
            lambda: sum(
                len(batch)
                for batch in study(
                    variants(heel=["short-row"]),
                    draw_feet(cases, seed=1),
                    gauges=COARSE,
                    measures=["checks", "quick heel girth"],
                    executor=2,
                    store=Path(folder) / "study",
                    part=100,
                ).batches()
            )
        )
    here = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"| {cases} | {here:.0f} MiB | {seconds:.0f} s |")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        one(int(sys.argv[2]))
    elif sys.argv[1:] == ["--memory"]:
        memory()
    else:
        speed()
