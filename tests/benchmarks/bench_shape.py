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
from loopwright.geometry._mesh import Mesh
from loopwright.geometry._relax import relax
from loopwright.geometry._rest_lengths import mesh_of

Floats = NDArray[np.float64]


def _median_error(mesh: Mesh, place: Floats) -> float:
    ends = place[mesh.edges]
    ratio = np.linalg.norm(ends[:, 0] - ends[:, 1], axis=1) / mesh.rest_mm
    return float(np.median(np.abs(ratio / np.median(ratio) - 1)))


def _report(name: str, mesh: Mesh, layout: Callable[[], Floats]) -> None:
    wall, cpu = time.perf_counter(), time.process_time()
    place = layout()
    wall, cpu = time.perf_counter() - wall, time.process_time() - cpu
    error = 100 * _median_error(mesh, place)
    print(f"{name:32} {wall:8.2f} s wall {cpu:8.2f} s cpu   median edge error {error:6.2f} %")


def main() -> None:
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 64
    size = n / 64
    to = 4 * round(n / 13)
    fabric = in_the_round(n, round(60 * size), round(55 * size), heel_to=to, toe_to=to)
    mesh = mesh_of(fabric, GAUGE)
    print(f"{mesh.n} loops, {len(mesh.edges)} edges")
    _report("relaxed, from the fabric", mesh, lambda: relax(mesh_of(fabric, GAUGE)))
    graph = nx.Graph()
    for (a, b), rest in zip(mesh.edges.tolist(), mesh.rest_mm.tolist(), strict=True):
        graph.add_edge(a, b, weight=1 / rest, length=rest)

    def array(found: dict[int, Floats]) -> Floats:
        return np.array([found[k] for k in range(mesh.n)])

    _report("networkx spectral", mesh, lambda: array(nx.spectral_layout(graph, dim=3)))
    if mesh.n <= 4000:
        _report(
            "networkx spring, 50 steps", mesh, lambda: array(nx.spring_layout(graph, dim=3, seed=1))
        )
    if mesh.n <= 1500:  # distances between all pairs, and hundreds of steps over them
        _report(
            "networkx Kamada-Kawai",
            mesh,
            lambda: array(nx.kamada_kawai_layout(graph, weight="length", dim=3)),
        )
    try:
        igraph = importlib.import_module("igraph")
    except ModuleNotFoundError:
        return
    other = igraph.Graph(mesh.n, mesh.edges.tolist())
    for name in ("fr3d", "kk3d") if mesh.n <= 4000 else ("fr3d",):
        _report(f"igraph {name}", mesh, lambda name=name: np.array(other.layout(name).coords))  # type: ignore[misc]


if __name__ == "__main__":
    main()
