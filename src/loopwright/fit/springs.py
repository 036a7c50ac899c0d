"""Springs between points, and moving the points downhill."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from typing import Final, TypeAlias

import attrs
import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg as sla
from numpy.typing import NDArray
from scipy.linalg.blas import daxpy

__all__ = ["Forces", "Memory", "Springs", "memory", "minimise"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Forces = Callable[[Floats], tuple[float, Floats]]  # points to energy and gradient
Memory: TypeAlias = deque[tuple[Floats, Floats, float]]
"""The last steps, how each changed the gradient, and the curvature along it."""

_MEMORY: Final = 10  # pairs kept; 4 to 30 differ by less than two pairs of starts do
_ANCHOR: Final = 1e-5  # of an edge's stiffness, against rigid motion in the factorised matrix only
_ARMIJO: Final = 1e-4
_SHORTEST_STEP: Final = 1e-4


@attrs.frozen(eq=False)
class Springs:
    """Springs between vertices.

    Parameters
    ----------
    pairs : ndarray, shape (m, 2), int64
    rest_mm : ndarray, shape (m,), mm
    stiffness : ndarray, shape (m,), force per mm
    across : sparse array, shape (m, n)
        Takes points to the differences between springs' ends.
    back : sparse array, shape (n, m)
        Its transpose.
    """

    pairs: Ints
    rest_mm: Floats
    stiffness: Floats
    across: sp.csr_array
    back: sp.csr_array

    @classmethod
    def of(cls, n: int, pairs: Ints, rest_mm: Floats, stiffness: Floats) -> Springs:
        """Join `n` vertices."""
        m = len(pairs)
        ends = np.tile([1.0, -1.0], m)
        across = sp.csr_array(
            (ends, pairs.ravel().astype(np.int32), np.arange(0, 2 * m + 1, 2, dtype=np.int32)),
            shape=(m, n),
        )
        return cls(pairs, rest_mm, stiffness, across, across.T.tocsr())

    def add(self, place: Floats, gradient: Floats) -> float:
        """Add the pull to `gradient`; return the energy."""
        span = self.across @ place
        length = np.sqrt(np.einsum("ij,ij->i", span, span))
        over = length - self.rest_mm
        pull = self.stiffness * over
        span *= (pull / np.maximum(length, 1e-12))[:, None]
        gradient += self.back @ span
        return 0.5 * float(pull @ over)

    def factorised(self, *, anchor: float = _ANCHOR) -> Callable[[Floats], Floats]:
        """Return a function that solves with the springs' Laplacian, in single precision."""
        laplacian = self.back @ (sp.diags_array(self.stiffness) @ self.across)
        n = laplacian.shape[0]
        matrix = (laplacian + anchor * sp.eye_array(n)).astype(np.float32).tocsc()
        factors = sla.splu(
            matrix,
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )

        def solve(right: Floats) -> Floats:
            solved: Floats = factors.solve(right.astype(np.float32)).astype(np.float64)
            return solved

        return solve


def memory() -> Memory:
    """Return an empty memory for `minimise`."""
    return deque(maxlen=_MEMORY)


def minimise(
    forces: Forces,
    place: Floats,
    solve: Callable[[Floats], Floats],
    steps: int,
    pairs: Memory | None = None,
) -> Floats:
    """Return `place` moved downhill by so many quasi-Newton steps (or fewer, when at rest).

    Limited memory, Nocedal and Wright 2006, algorithm 7.4; `solve` is the first inverse Hessian.
    Hand the same memory as `pairs` to several calls whose forces hardly differ.
    """
    pairs = memory() if pairs is None else pairs
    energy, gradient = forces(place)
    for _ in range(steps):
        step = _direction(gradient, pairs, solve)
        slope = float(np.vdot(gradient, step))
        if not slope < 0:
            break
        size = 1.0
        while True:
            new = place + size * step
            new_energy, new_gradient = forces(new)
            if new_energy <= energy + _ARMIJO * size * slope:
                break
            size /= 2
            if size < _SHORTEST_STEP:
                return place  # at rest as far as the arithmetic can tell
        moved, changed = (new - place).ravel(), (new_gradient - gradient).ravel()
        curvature = float(moved @ changed)
        if curvature > 0:
            pairs.append((moved, changed, curvature))
        place, energy, gradient = new, new_energy, new_gradient
    return place


def _direction(
    gradient: Floats,
    pairs: Memory,
    solve: Callable[[Floats], Floats],
) -> Floats:
    """Two-loop recursion, in place: temporary arrays would take half its time."""
    rest = gradient.flatten()
    shares = []
    for moved, changed, curvature in reversed(pairs):
        share = float(moved @ rest) / curvature
        shares.append(share)
        daxpy(changed, rest, a=-share)
    step = solve(rest.reshape(-1, 3)).ravel()
    for (moved, changed, curvature), share in zip(pairs, reversed(shares), strict=True):
        daxpy(moved, step, a=share - float(changed @ step) / curvature)
    return -step.reshape(-1, 3)
