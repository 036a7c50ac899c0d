"""The package against a networkx graph written by hand: time, as ratios in one run, and bytes.

Run by hand: ``PYTHONPATH=tests python -m benchmarks.bench_fabric``. Both sides make the same loops
and find the same cells, which is checked first. Each time is the least of several alternating runs,
since whatever else the machine does can only add to it. The million loops by hand are reckoned from
`SAMPLE` of them: the cost of adding one does not depend on how many there are.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import attrs

from benchmarks.by_hand import ByHand
from loopwright.fabric import Fabric, check
from loopwright.making import (
    Work,
    cast_on,
    graft,
    hold,
    provisional_cast_on,
    recapture,
    return_held,
    weave_in,
)

SAMPLE = 50_000  # loops made by hand to stand for a million


@attrs.frozen
class Row:
    """One line of the table: what was done, seconds by hand and here, the ratio aimed at."""

    what: str
    by_hand_s: float
    here_s: float
    aim: float

    @property
    def ratio(self) -> float:
        return self.by_hand_s / self.here_s


def best(runs: int, *jobs: Callable[[], object]) -> list[float]:
    """The least time of each job on the processor, the jobs taking turns."""
    times = [float("inf")] * len(jobs)
    for _ in range(runs):
        for number, job in enumerate(jobs):
            start = time.process_time()
            job()
            times[number] = min(times[number], time.process_time() - start)
    return times


def wedge(work: Work, stop: int) -> None:
    while work.count > stop:
        plain = ["k"] * (work.count // 2 - 6)
        work.round(["k", "ssk", *plain, "k2tog", "k"] * 2)
        if work.count > stop:
            work.plain_rounds(1)


def sock(count: int, leg: int, foot: int, stop: int) -> Fabric:
    """A sock with its heel made at once over waste yarn."""
    work = Work()
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(leg)
    work.work(["k"] * (count // 2))
    hold(work, count // 2, "instep")
    provisional_cast_on(work, count // 2)
    work.plain_rounds(1)
    wedge(work, stop)
    graft(work)
    work.join_yarn("foot")
    return_held(work, "instep")
    recapture(work, "waste")
    work.plain_rounds(foot)
    wedge(work, stop)
    graft(work)
    weave_in(work)
    return work.fabric()


def sock_by_hand(count: int, leg: int, foot: int, stop: int) -> ByHand:
    hand = ByHand()
    hand.sock(count, leg, foot, stop)
    return hand


def tube(count: int, rounds: int) -> Fabric:
    work = Work()
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(rounds)
    return work.fabric()


def tube_by_hand(count: int, rounds: int) -> ByHand:
    hand = ByHand()
    hand.cast_on(count)
    for _ in range(rounds):
        hand.round(["k"] * count, "main")
    return hand


def bytes_per_loop(fabric: Fabric) -> float:
    """Bytes of all columns, for each loop."""
    columns = (getattr(fabric, field.name) for field in attrs.fields(Fabric))
    return float(sum(getattr(column, "nbytes", 0) for column in columns) / len(fabric))


def sock_rows(size: tuple[int, int, int, int], runs: int) -> list[Row]:
    built = best(runs, lambda: sock_by_hand(*size), lambda: sock(*size))
    checked = best(
        runs,
        lambda: sock_by_hand(*size).questions(set()),
        lambda: check(sock(*size), openings=1).require_ok(),
    )
    loops = len(sock(*size))
    return [
        Row(f"a sock of {loops} loops, made", built[0], built[1], 1),
        Row(
            f"a sock of {loops} loops, made and put through all checks", checked[0], checked[1], 50
        ),
    ]


def tube_rows(count: int, rounds: int, sample: int, runs: int) -> list[Row]:
    loops = count * (rounds + 1)
    few = sample // count
    share = loops / (count * (few + 1))
    live = set(range(count * few, count * (few + 1)))
    made_by_hand, asked_by_hand = best(
        1, lambda: tube_by_hand(count, few), lambda: tube_by_hand(count, few).questions(live)
    )
    made, checked = best(
        runs, lambda: tube(count, rounds), lambda: check(tube(count, rounds)).require_ok()
    )
    return [
        Row(f"{loops:,} loops in rounds, made", share * made_by_hand, made, aim=100),
        Row(f"{loops:,} loops in rounds, made and checked", share * asked_by_hand, checked, aim=70),
    ]


def main() -> None:
    rows = [*sock_rows((64, 60, 70, 20), 5), *tube_rows(64, 15_624, SAMPLE, 3)]
    print(f"{'':58} {'by hand':>10} {'here':>10} {'ratio':>7} {'aim':>5}")
    for row in rows:
        print(
            f"{row.what:58} {row.by_hand_s:8.3f} s {row.here_s:8.4f} s {row.ratio:6.0f}x"
            f" {row.aim:4.0f}x"
        )
    print(f"bytes a loop: {bytes_per_loop(tube(64, 15_624)):.1f} (aim: at most 40)")


if __name__ == "__main__":
    main()
