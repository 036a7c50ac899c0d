"""Springs between points, and moving the points downhill.

Points and forces are three rows of coordinates, shape (3, n): what is done to one coordinate of all
points then runs through memory without a stride. They may be of single precision, which moves half
as much; near 200 mm its last bit is 0.00002 mm.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from typing import Any, Final, TypeAlias

import attrs
import numpy as np
import scipy.sparse as sp
import scipy.sparse.linalg as sla
from numpy.typing import DTypeLike, NDArray
from scipy.linalg import get_blas_funcs

from loopwright.border import guard

__all__ = ["SHORTEST_MM", "Forces", "Memory", "Solve", "Springs", "memory", "minimise"]

Reals: TypeAlias = NDArray[np.floating[Any]]
Ints = NDArray[np.int64]
Forces: TypeAlias = Callable[[Reals], tuple[float, Reals]]  # points to energy and gradient
Solve: TypeAlias = Callable[[Reals], Reals]
Memory: TypeAlias = deque[tuple[Reals, Reals, float]]
"""The last steps, how each changed the gradient, and the curvature along it."""

_MEMORY: Final = 6  # pairs kept; 5 to 30 differ by less than two pairs of starts do
_ANCHOR: Final = 1e-5  # of an edge's stiffness, against rigid motion in the factorised matrix only
_ARMIJO: Final = 1e-4
_HALVINGS: Final = 8  # of a step that leads uphill, before what is remembered is given up
_FLATTEST: Final = 1e-4  # cosine between a step and what it changed; below lies rounding
SHORTEST_MM: Final = 1e-3  # nothing is reckoned shorter, where it is divided by


@attrs.frozen(eq=False)
class Springs:
    """Springs between vertices.

    Parameters
    ----------
    first, second : ndarray, shape (m,), int64
        The ends.
    rest_mm : ndarray, shape (m,), mm
    stiffness : ndarray, shape (m,), force per mm
    back : sparse array, shape (n, m)
        Adds up at each vertex what pulls at it: 1 at a first end, -1 at a second.
    """

    first: Ints
    second: Ints
    rest_mm: Reals
    stiffness: Reals
    back: sp.csr_array

    @classmethod
    def of(
        cls, n: int, pairs: Ints, rest_mm: Reals, stiffness: Reals, dtype: DTypeLike = np.float64
    ) -> Springs:
        """Join `n` vertices by pairs, shape (m, 2)."""
        m = len(pairs)
        signs = np.repeat(np.array([1, -1], dtype), m)
        spring = np.tile(np.arange(m, dtype=np.int32), 2)
        back = sp.csr_array((signs, (pairs.T.ravel().astype(np.int32), spring)), shape=(n, m))
        return cls(
            np.ascontiguousarray(pairs[:, 0]),
            np.ascontiguousarray(pairs[:, 1]),
            rest_mm.astype(dtype),
            stiffness.astype(dtype),
            back,
        )

    def add(self, place: Reals, gradient: Reals) -> float:
        """Add the pull to `gradient`; return the energy."""
        span = [np.take(row, self.first) - np.take(row, self.second) for row in place]
        length = np.sqrt(span[0] * span[0] + span[1] * span[1] + span[2] * span[2])
        over = length - self.rest_mm
        pull = self.stiffness * over
        share = pull / np.maximum(length, SHORTEST_MM)
        for row, part in zip(gradient, span, strict=True):
            row += self.back @ (share * part)
        return 0.5 * float(pull @ over)

    def factorised(self, *, anchor: float = _ANCHOR) -> Solve:
        """Return a function that solves with the springs' Laplacian, in single precision.

        It takes and returns rows, shape (k, n).
        """
        laplacian = self.back @ (sp.diags_array(self.stiffness) @ self.back.T)
        matrix = (laplacian + anchor * sp.eye_array(laplacian.shape[0])).astype(np.float32).tocsc()
        factors = sla.splu(
            matrix,
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )

        def solve(right: Reals) -> Reals:
            solved: Reals = factors.solve(right.T.astype(np.float32, copy=False)).T
            return solved.astype(right.dtype, copy=False)

        return solve


def memory(pairs: int = _MEMORY) -> Memory:
    """Return an empty memory for `minimise`."""
    return deque(maxlen=pairs)


def minimise(
    forces: Forces,
    place: Reals,
    solve: Solve,
    steps: int,
    pairs: Memory | None = None,
    *,
    longest_mm: float = np.inf,
) -> Reals:
    """Return `place` moved downhill by a number of quasi-Newton steps (or fewer, when at rest).

    Limited memory, Nocedal and Wright 2006, algorithm 7.4; `solve` is the first inverse Hessian.
    Hand the same memory as `pairs` to several calls whose forces hardly differ. No point moves
    farther than `longest_mm` in a step.
    """
    pairs = memory() if pairs is None else pairs
    energy, gradient = forces(place)
    for _ in range(steps):
        step = _direction(gradient, pairs, solve)
        slope = float(np.vdot(gradient, step))
        if not slope < 0:
            break
        farthest_mm = float(np.sqrt(np.square(step).sum(axis=0).max()))
        moved = (
            step if farthest_mm <= longest_mm else step * step.dtype.type(longest_mm / farthest_mm)
        )
        for _ in range(_HALVINGS):
            new = place + moved
            new_energy, new_gradient = forces(new)
            if new_energy <= energy + _ARMIJO * float(np.vdot(gradient, moved)):
                break
            moved = moved / 2
        else:
            if not pairs:
                return place  # at rest as far as the arithmetic can tell
            pairs.clear()  # what it remembers misleads, as where a fabric snaps over
            continue
        changed = (new_gradient - gradient).ravel()
        curvature = float(moved.ravel() @ changed)
        if curvature > _FLATTEST * float(np.sqrt(np.vdot(moved, moved) * (changed @ changed))):
            pairs.append((moved.ravel(), changed, curvature))
        place, energy, gradient = new, new_energy, new_gradient
    return place


def _direction(gradient: Reals, pairs: Memory, solve: Solve) -> Reals:
    """Two-loop recursion, in place: temporary arrays would take half its time."""
    rest = gradient.flatten()
    (axpy,) = get_blas_funcs(("axpy",), (rest,))
    shares = []
    for moved, changed, curvature in reversed(pairs):
        share = float(moved @ rest) / curvature
        shares.append(share)
        axpy(changed, rest, a=-share)
    step = np.ascontiguousarray(solve(rest.reshape(gradient.shape))).ravel()
    for (moved, changed, curvature), share in zip(pairs, reversed(shares), strict=True):
        axpy(moved, step, a=share - float(changed @ step) / curvature)
    return -step.reshape(gradient.shape)


guard(globals())
