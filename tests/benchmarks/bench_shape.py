"""Relaxing against general graph layouts on the same graph, in one run: time and edge error.

Run by hand, on one thread: ``PYTHONPATH=tests OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 python
tests/benchmarks/bench_shape.py [stitches]``. Errors are of edge
lengths against rest lengths after the best uniform scale, so that layouts without a unit are not
wronged. igraph joins in where it is installed.
"""

from __future__ import annotations

import importlib
import sys
import time
from collections.abc import Callable

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from fitting.socks import GAUGE, in_the_round
from loopwright.fitting._net import Net
from loopwright.fitting._relax import relax
from loopwright.fitting._rest import net_of

Floats = NDArray[np.float64]


def _median_error(net: Net, place: Floats) -> float:
    ends = place[net.edges]
    ratio = np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1) / net.rest_mm
    return float(np.median(np.abs(ratio / np.median(ratio) - 1)))


def _report(name: str, net: Net, layout: Callable[[], Floats]) -> None:
    wall, cpu = time.perf_counter(), time.process_time()
    place = layout()
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    error = 100 * _median_error(net, place)
    print(f"{name:32} {wall:8.2f} s wall {cpu:8.2f} s cpu   median edge error {error:6.2f} %")


def main() -> None:
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 64
    size = n / 64
    to = 4 * round(n / 13)
    fabric = in_the_round(n, round(60 * size), round(55 * size), heel_to=to, toe_to=to)
    net = net_of(fabric, GAUGE)
    print(f"{net.n} loops, {len(net.edges)} edges")
    _report("relaxed, from the fabric", net, lambda: relax(net_of(fabric, GAUGE)))
    graph = nx.Graph()
    for (a, b), rest in zip(net.edges.tolist(), net.rest_mm.tolist(), strict=True):
        graph.add_edge(a, b, weight=1 / rest, length=rest)

    def array(found: dict[int, Floats]) -> Floats:
        return np.array([found[k] for k in range(net.n)])

    _report("networkx spectral", net, lambda: array(nx.spectral_layout(graph, dim=3)))
    if net.n <= 4000:
        _report(
            "networkx spring, 50 steps", net, lambda: array(nx.spring_layout(graph, dim=3, seed=1))
        )
    if net.n <= 1500:  # distances between all pairs, and hundreds of steps over them
        _report(
            "networkx Kamada-Kawai",
            net,
            lambda: array(nx.kamada_kawai_layout(graph, weight="length", dim=3)),
        )
    try:
        igraph = importlib.import_module("igraph")
    except ModuleNotFoundError:
        return
    other = igraph.Graph(net.n, net.edges.tolist())
    for name in ("fr3d", "kk3d") if net.n <= 4000 else ("fr3d",):
        _report(f"igraph {name}", net, lambda name=name: np.array(other.layout(name).coords))  # type: ignore[misc]


if __name__ == "__main__":
    main()
