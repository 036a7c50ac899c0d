"""Size sets: the few sizes that serve the largest share of a population.

A size is a sock that is knitted for stock: so long, so wide, with so much room over the heel. It
serves a foot when the foot's length, ball girth and heel girth are within `StretchLimits`. Which k
sizes serve the most feet is the problem of maximum coverage. It is solved exactly as a mixed
integer program (HiGHS, through scipy) where that ends in time. Otherwise the best that was found
stands, at least the greedy choice. There the next size is always the one that serves the most feet
that are left, never worse than 1 - 1/e, 63 % of the best [1]_. The answer says which it is, and the
most that any choice can serve. The same feet, in any order, give the same choice. Of sizes that
serve the same feet the first listed stands for all. The greedy choice takes the first of those as
good, and it is kept where no other is better.

References
----------
.. [1] G. L. Nemhauser, L. A. Wolsey, M. L. Fisher, "An analysis of approximations for maximizing
   submodular set functions", *Mathematical Programming* 14, 1978 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from numbers import Integral

import attrs
import numpy as np
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array, eye_array, hstack

from loopwright.errors import StudyError
from loopwright.fitting import sample
from loopwright.fitting.girths import GIRTH_ERROR
from loopwright.fitting.limits import StretchLimits
from loopwright.gauge import Gauge
from loopwright.studies._feet import Feet
from loopwright.studies._measures import measures_named, values_of
from loopwright.studies._share import Share
from loopwright.studies._variants import Variant

__all__ = ["SizeSet", "StockSize", "cover", "served", "stock_share", "stock_sizes"]

Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]


@attrs.frozen
class StockSize:
    """A sock's size.

    Parameters
    ----------
    stitches : int
    length_mm, ball_girth_mm, heel_girth_mm : float, mm
        Of the sock, relaxed.

    Raises
    ------
    StudyError
        A measure that isn't more than 0.
    """

    stitches: int
    length_mm: float
    ball_girth_mm: float
    heel_girth_mm: float

    def __attrs_post_init__(self) -> None:
        for name in ("length_mm", "ball_girth_mm", "heel_girth_mm"):
            if not getattr(self, name) > 0:
                found = f"{getattr(self, name):g}"
                raise StudyError(f"{name} of a size", found, "expected more than 0")

    def __str__(self) -> str:
        return f"{self.stitches} stitches, {self.length_mm:.0f} mm long"


@attrs.frozen
class SizeSet:
    """The sizes chosen.

    Parameters
    ----------
    sizes : tuple of StockSize
        The one that serves most first, then what each adds; fewer than asked where more would
        serve nobody else.
    share : Share
        Of the feet that can wear one of them. Rather too good, as the sizes were chosen on these
        very feet: `stock_share` tells what they do for others.
    added : tuple of float
        What each size adds to the share.
    at_most : float
        No choice of as many sizes serves more of these feet.
    method : str
        ``"exact"``: none is better. Otherwise the time was over: ``"best found"``, or ``"greedy"``.
    """

    sizes: tuple[StockSize, ...]
    share: Share
    added: tuple[float, ...]
    at_most: float
    method: str

    def __str__(self) -> str:
        lines = [
            f"{size}: + {100 * more:.1f} %"
            for size, more in zip(self.sizes, self.added, strict=True)
        ]
        best = (
            "the most there is" if self.method == "exact" else f"at most {100 * self.at_most:.1f} %"
        )
        return "\n".join([*lines, f"served: {self.share}", f"choice: {self.method}; {best}"])


def served(feet: Feet, sizes: Sequence[StockSize], limits: StretchLimits | None = None) -> Bools:
    """Return which size serves which foot, shape (feet, sizes).

    Raises
    ------
    FootError
        A foot that nobody has, see `Foot.of`.

    Examples
    --------
    >>> from loopwright.studies import draw_feet
    >>> sizes = [StockSize(64, 230.0, 200.0, 270.0), StockSize(72, 255.0, 225.0, 300.0)]
    >>> served(draw_feet(3), sizes).tolist()
    [[True, False], [True, False], [False, True]]
    """
    return _fits(_measures(feet), sizes, limits)


def stock_share(
    feet: Feet, sizes: Sequence[StockSize], limits: StretchLimits | None = None
) -> Share:
    """Return the share of feet that can wear one of these sizes.

    Raises
    ------
    StudyError
        No feet.
    FootError
        A foot that nobody has, see `Foot.of`.

    Examples
    --------
    >>> from loopwright.studies import draw_feet
    >>> print(stock_share(draw_feet(500), [StockSize(68, 250.0, 212.5, 285.6)]))
    59.6 % of 500 feet (55.2 to 63.8 % by their number; 49.0 to 59.6 % if heel girths are 9 % less
    to 9 % more)
    """
    if not len(feet):
        raise StudyError("feet", "0", "expected one or more")
    return _share(_measures(feet), sizes, limits)


def cover(
    feet: Feet,
    *,
    sizes: int,
    candidates: Sequence[StockSize],
    limits: StretchLimits | None = None,
    seconds: float = 20.0,
) -> SizeSet:
    """Choose the sizes that serve the most feet.

    Parameters
    ----------
    feet : Feet
    sizes : int
        How many.
    candidates : sequence of StockSize
        To choose from: see `stock_sizes`.
    limits : StretchLimits, optional
    seconds : float
        For the exact answer; when they are over, the best that was found is given, and
        `SizeSet.method` says so. It then depends on how fast the machine is. 0 takes the greedy
        choice without a search.

    Raises
    ------
    StudyError
        No feet, no candidates or no sizes.

    Examples
    --------
    >>> from loopwright.studies import draw_feet
    >>> few = [StockSize(n, mm, 3.125 * n, 4.2 * n) for n in (60, 64, 68, 72) for mm in (230, 250)]
    >>> print(cover(draw_feet(500), sizes=2, candidates=few))
    68 stitches, 250 mm long: + 59.6 %
    60 stitches, 230 mm long: + 28.0 %
    served: 87.6 % of 500 feet (84.4 to 90.2 % by their number; 64.0 to 87.6 % if heel girths are
    9 % less to 9 % more)
    choice: exact; the most there is
    """
    if not isinstance(sizes, Integral):
        raise StudyError("sizes", repr(sizes), "expected a whole number: how many to choose")
    for what, count in (("feet", len(feet)), ("candidates", len(candidates)), ("sizes", sizes)):
        if count < 1:
            raise StudyError(what, str(count), "expected one or more")
    known = _measures(feet)
    fits = _fits(known, candidates, limits)
    patterns, counts = np.unique(fits, axis=0, return_counts=True)
    keep = patterns.any(axis=1)
    patterns, weights = patterns[keep], np.asarray(counts[keep], dtype=np.float64)
    if len(patterns):  # of sizes that serve the very same feet, the first listed
        _, listed = np.unique(patterns, axis=1, return_index=True)
        listed.sort()
        patterns, candidates = patterns[:, listed], [candidates[place] for place in listed]
    chosen, at_most, method = _greedy(patterns, weights, sizes), float(weights.sum()), "greedy"
    if seconds > 0 and len(patterns):
        chosen, at_most, method = _exact(patterns, weights, sizes, chosen, seconds)
    order = [chosen[place] for place in _greedy(patterns[:, chosen], weights, len(chosen))]
    picked = tuple(candidates[size] for size in order)
    share = _share(known, picked, limits)
    best = share.likely if method == "exact" else at_most / len(feet)
    return SizeSet(picked, share, _added(patterns, weights, order, len(feet)), best, method)


def stock_sizes(
    design: Variant,
    gauge: Gauge,
    feet: Feet,
    *,
    stitches: Iterable[int],
    lengths_mm: Iterable[float],
    measure: str = "heel girth",
) -> tuple[StockSize, ...]:
    """Knit a design at every stitch count and return its sizes, one for each length.

    The heel girth doesn't depend on the length of the foot, so a sock is knitted for each count.

    Parameters
    ----------
    design : Variant
    gauge : Gauge
    feet : Feet
        The first gives the legs; any will do.
    stitches : iterable of int
    lengths_mm : iterable of float, mm
        Of the finished socks.
    measure : str
        ``"heel girth"``, or ``"quick heel girth"`` (up to 4 % long).

    Raises
    ------
    StudyError
        No feet, or a sock on which no heel was found.
    SizingError
        A count that the design can't have.
    UnsoundFabricError
        The checks found a mistake in a sock.
    """
    if not len(feet):
        raise StudyError("feet", "0", "expected one or more")
    foot, lengths, girths = feet.foot(0), tuple(lengths_mm), measures_named([measure])
    sizes = []
    for count in stitches:
        made = sample(attrs.evolve(design.sock(foot, gauge), stitches=count))
        girth = values_of(girths, made).get("heel_girth_mm")
        if girth is None:
            raise StudyError(f"{design.name}, {count} stitches", "no heel", "choose another design")
        around = made.plan.measure("foot girth").finished.mm
        sizes += [StockSize(count, length, around, girth) for length in lengths]
    return tuple(sizes)


def _measures(feet: Feet) -> Floats:
    """Length, ball girth and heel girth of each foot, estimated where not measured."""
    names = ("length", "ball_girth", "heel_girth")
    known = np.column_stack([feet.column(name) for name in names])
    for row in np.flatnonzero(np.isnan(known).any(axis=1)).tolist():
        foot = feet.foot(row)
        known[row] = [getattr(foot, name).mm for name in names]
    return known


def _fits(
    known: Floats, sizes: Sequence[StockSize], limits: StretchLimits | None, girth: float = 1.0
) -> Bools:
    """Which size serves which foot, the sizes' heel girths times `girth`."""
    within = limits or StretchLimits()
    sock = np.array([[s.length_mm, s.ball_girth_mm, girth * s.heel_girth_mm] for s in sizes])
    stretch = known[:, np.newaxis] / sock.reshape(-1, 3)
    least = (within.length[0], within.ball[0], 0.0)
    most = (within.length[1], within.ball[1], within.heel)
    fits: Bools = ((least <= stretch) & (stretch <= most)).all(axis=2)
    return fits


def _share(known: Floats, sizes: Sequence[StockSize], limits: StretchLimits | None) -> Share:
    likely, tighter, roomier = (
        float(_fits(known, sizes, limits, girth).any(axis=1).mean())
        for girth in (1.0, 1 - GIRTH_ERROR, 1 + GIRTH_ERROR)
    )
    return Share(len(known), likely, tighter, roomier)


def _greedy(patterns: Bools, weights: Floats, sizes: int) -> list[int]:
    chosen: list[int] = []
    left = weights.copy()
    while len(chosen) < sizes and left.any():
        gains = left @ patterns
        chosen.append(int(gains.argmax()))  # of two as good, the first
        left[patterns[:, chosen[-1]]] = 0
    return chosen


def _exact(
    patterns: Bools, weights: Floats, sizes: int, greedy: list[int], seconds: float
) -> tuple[list[int], float, str]:
    """Choose by integer programming: x says which sizes, y which feet are served by one of them."""
    n_feet, n_sizes = patterns.shape
    served_by = hstack([csr_array(patterns.astype(np.float64)), -eye_array(n_feet)])
    count = csr_array(np.r_[np.ones(n_sizes), np.zeros(n_feet)][np.newaxis])
    found = milp(
        np.r_[np.zeros(n_sizes), -weights],
        integrality=np.r_[np.ones(n_sizes), np.zeros(n_feet)],
        bounds=Bounds(0, 1),
        constraints=[
            LinearConstraint(served_by, lb=0.0),
            LinearConstraint(count, ub=float(sizes)),
        ],
        options={"time_limit": seconds, "mip_rel_gap": 0.0},
    )
    bound = found.get("mip_dual_bound")
    at_most = float(weights.sum()) if bound is None else min(float(-bound), float(weights.sum()))
    if found.x is None:
        return greedy, at_most, "greedy"
    chosen = np.flatnonzero(found.x[:n_sizes] > 0.5).tolist()
    better = max((greedy, chosen), key=lambda some: weights @ patterns[:, some].any(axis=1))
    if found.status == 0:
        return better, at_most, "exact"
    return better, at_most, "greedy" if better is greedy else "best found"


def _added(patterns: Bools, weights: Floats, order: list[int], feet: int) -> tuple[float, ...]:
    """What each size adds to the share, one after the other."""
    added, left = [], weights.copy()
    for size in order:
        added.append(float(left[patterns[:, size]].sum()) / feet)
        left[patterns[:, size]] = 0
    return tuple(added)
