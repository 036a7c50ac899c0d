"""What going from a fabric to words, keys and proofs costs, against knitting the same fabric.

Run by hand: ``PYTHONPATH=tests python tests/benchmarks/bench_words.py``. The number that counts is
the ratio to knitting a sock from its pattern; a loop of a piece 16 times larger takes as long
(plain rounds are knitted in one block, so that a tube has no ratio).
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable

import attrs

import certified
from loopwright import Fabric, Foot, Gauge, Sock, certificate, derive, difference, knit
from loopwright.making import Work, cast_on
from loopwright.pattern import Pattern

FOOT = Foot.of(length="24.5 cm", ball_girth="22.8 cm", sex="female")  # invented


def seconds(run: Callable[[], object]) -> float:
    """The shortest of three runs."""
    found = []
    for _ in range(3):
        start = time.perf_counter()
        run()
        found.append(time.perf_counter() - start)
    return min(found)


def tube(count: int, rounds: int) -> Fabric:
    work = Work()
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(rounds)
    return work.fabric()


def measure(fabric: Fabric, pattern: Pattern, other: Fabric) -> None:
    knitting = seconds(lambda: knit(pattern))
    graph, paper = fabric.graph, certificate(fabric)
    document = json.loads(paper.to_json())
    for name, run in (
        ("key", lambda: attrs.evolve(fabric).canonical_key),
        ("difference", lambda: difference(attrs.evolve(fabric), attrs.evolve(other))),
        ("derive", lambda: derive(fabric)),
        ("from_graph", lambda: Fabric.from_graph(graph)),
        ("certificate", lambda: certificate(fabric)),
        ("certificate checked", lambda: certified.problems(document)),
    ):
        took = seconds(run)
        each = 1e6 * took / len(fabric)
        ratio = f"{took / knitting:6.1f} x knitting, " if len(fabric) < 20_000 else ""
        print(f"{name:20} {ratio}{each:6.1f} us a loop")


if __name__ == "__main__":
    gauge = Gauge.of(32, 44, over="10 cm")
    flap, short = (Sock(foot=FOOT, gauge=gauge, heel=heel) for heel in ("flap", "short-row"))
    print(f"a sock of {len(flap.fabric())} loops")
    measure(flap.fabric(), flap.pattern(), short.fabric())
    large = tube(200, 750)
    print(f"a tube of {len(large)} loops")
    measure(large, derive(large), tube(200, 751))
