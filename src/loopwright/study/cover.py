"""Size sets: the few sizes that serve the largest share of a population.

A size is a sock that is knitted for stock: so long, so wide, with so much room over the heel. It
serves a foot when the foot's length, ball girth and heel girth are within `StretchLimits`. Which
k sizes serve the most feet is the problem of maximum coverage. It is solved exactly as a mixed
integer program (HiGHS, through scipy) where that ends in time. Otherwise the greedy choice stands:
the next size is always the one that serves the most feet that are left, never worse than 1 - 1/e,
63 % of the best [1]_. The answer says which it is, and the most that any choice can serve.

References
----------
.. [1] G. L. Nemhauser, L. A. Wolsey, M. L. Fisher, "An analysis of approximations for maximizing
   submodular set functions", *Mathematical Programming* 14, 1978 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import attrs
import numpy as np
import pandas as pd
from numpy.typing import NDArray
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array, eye_array, hstack

from loopwright.errors import StudyError
from loopwright.gauge import Gauge
from loopwright.study.feet import Feet
from loopwright.study.measures import MEASURES, Made, values_of
from loopwright.study.variants import Variant

__all__ = [
    "SizeSet",
    "StockSize",
    "StretchLimits",
    "cover",
    "served",
    "share_served",
    "stock_sizes",
]

Bools = NDArray[np.bool_]
Floats = NDArray[np.float64]


@attrs.frozen
class StretchLimits:
    """What a sock may be asked to do on a foot.

    Parameters
    ----------
    ball : tuple of float
        Least and most of foot to sock round the ball. 10 to 20 % of negative ease, as published
        ("Fitting Socks", 2014; "Knit socks with negative ease", 2008), is 1.11 to 1.25; from 1.0,
        since a sock without ease is worn too, though it slides.
    heel : float
        Most of foot to sock over the heel: 1.30, the least of the 30 to 60 % that plain fabric
        is said to stretch in width (a trade page on knitted fabrics; weak evidence).
    length_mm : tuple of float, mm
        How much longer than the sock the foot may be, from least to most: about 1 cm is published
        ("Ease-y Socks"); 0 to 20 mm leaves as much to either side (our choice).

    Raises
    ------
    StudyError
        Limits that nothing lies between.
    """

    ball: tuple[float, float] = (1.0, 1.25)
    heel: float = 1.30
    length_mm: tuple[float, float] = (0.0, 20.0)

    def __attrs_post_init__(self) -> None:
        for what, (least, most) in (("ball", self.ball), ("length", self.length_mm)):
            if not least <= most:
                raise StudyError(f"limits of {what}", f"{least:g} to {most:g}", "least, then most")
        if not self.heel > 0:
            raise StudyError("limit of heel", f"{self.heel:g}", "expected more than 0")


@attrs.frozen
class StockSize:
    """A sock's size.

    Parameters
    ----------
    stitches : int
    length_mm, ball_girth_mm, heel_girth_mm : float, mm
        Of the sock, relaxed.
    """

    stitches: int
    length_mm: float
    ball_girth_mm: float
    heel_girth_mm: float

    def __str__(self) -> str:
        return f"{self.stitches} stitches, {self.length_mm:.0f} mm long"


@attrs.frozen
class SizeSet:
    """The sizes chosen.

    Parameters
    ----------
    sizes : tuple of StockSize
        The one that serves most first, then what each adds.
    share : float
        Of the feet that can wear one of them.
    added : tuple of float
        What each size adds to the share.
    at_most : float
        No choice of as many sizes serves more.
    method : str
        ``"exact"`` or ``"greedy"``.
    """

    sizes: tuple[StockSize, ...]
    share: float
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
        return "\n".join([*lines, f"served: {100 * self.share:.1f} % ({self.method}; {best})"])


def served(feet: Feet, sizes: Sequence[StockSize], limits: StretchLimits | None = None) -> Bools:
    """Return which size serves which foot, shape (feet, sizes).

    Raises
    ------
    FootError
        A foot that nobody has, see `Foot.of`.
    """
    within, known = limits or StretchLimits(), _measures(feet)
    length, ball, heel = (known[:, [column]] for column in range(3))
    sock = (
        np.array([[s.length_mm, s.ball_girth_mm, s.heel_girth_mm] for s in sizes]).reshape(-1, 3).T
    )
    longer, stretch = length - sock[0], ball / sock[1]
    fits: Bools = (
        (within.length_mm[0] <= longer) & (longer <= within.length_mm[1])
        & (within.ball[0] <= stretch) & (stretch <= within.ball[1])
        & (heel / sock[2] <= within.heel)
    )  # fmt: skip
    return fits


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
        For the exact answer; when they are over, the better of what was found and the greedy
        choice is given, and `SizeSet.method` says so. 0 for the greedy choice at once.

    Raises
    ------
    StudyError
        No feet, no candidates or no sizes.

    Examples
    --------
    >>> from loopwright.study import draw_feet
    >>> few = [StockSize(n, mm, 3.125 * n, 4.2 * n) for n in (60, 64, 68, 72) for mm in (230, 250)]
    >>> print(cover(draw_feet(500), sizes=2, candidates=few))
    68 stitches, 250 mm long: + 39.0 %
    64 stitches, 230 mm long: + 27.4 %
    served: 66.4 % (exact; the most there is)
    """
    for what, count in (("feet", len(feet)), ("candidates", len(candidates)), ("sizes", sizes)):
        if count < 1:
            raise StudyError(what, str(count), "expected one or more")
    fits = served(feet, candidates, limits)
    patterns, counts = np.unique(fits, axis=0, return_counts=True)
    keep = patterns.any(axis=1)
    patterns, weights = patterns[keep], np.asarray(counts[keep], dtype=np.float64)
    chosen, at_most, method = _greedy(patterns, weights, sizes), float(weights.sum()), "greedy"
    if seconds > 0 and len(patterns):
        chosen, at_most, method = _exact(patterns, weights, sizes, chosen, seconds)
    return _size_set(patterns, weights, chosen, candidates, len(feet), at_most, method)


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
    """
    if not len(feet):
        raise StudyError("feet", "0", "expected one or more")
    foot, lengths = feet.foot(0), tuple(lengths_mm)
    sizes = []
    for count in stitches:
        made = Made(attrs.evolve(design.sock(foot, gauge), stitches=count))
        girth = values_of([MEASURES[measure]], made).get("heel_girth_mm")
        if girth is None:
            raise StudyError(f"{design.name}, {count} stitches", "no heel", "choose another design")
        around = made.plan.measure("foot girth").finished.mm
        sizes += [StockSize(count, length, around, girth) for length in lengths]
    return tuple(sizes)


def share_served(
    table: pd.DataFrame, *, by: str | list[str] = "design", limits: StretchLimits | None = None
) -> pd.Series:
    """Return the share of feet that each design serves, socks made to measure.

    Parameters
    ----------
    table : DataFrame
        Of a study with a heel girth.
    by : str or list of str
        Columns to tell apart by: ``"design"``, ``"heel"``, ``["heel", "ease"]``.
    limits : StretchLimits, optional

    Returns
    -------
    Series
        Indexed by `by`. A case that failed serves nobody.
    """
    return _serves(table, limits or StretchLimits()).groupby(_keys(table, by), sort=False).mean()


def _serves(table: pd.DataFrame, limits: StretchLimits) -> pd.Series:
    least, most = limits.ball
    serves = table["ball_stretch"].between(least, most) & (table["heel_stretch"] <= limits.heel)
    return serves.rename("share")


def _keys(table: pd.DataFrame, by: str | list[str]) -> list[pd.Series]:
    return [table[name] for name in ([by] if isinstance(by, str) else by)]


def _measures(feet: Feet) -> Floats:
    """Length, ball girth and heel girth of each foot, estimated where not measured."""
    names = ("length", "ball_girth", "heel_girth")
    known = np.column_stack([feet.column(name) for name in names])
    for row in np.flatnonzero(np.isnan(known).any(axis=1)).tolist():
        foot = feet.foot(row)
        known[row] = [getattr(foot, name).mm for name in names]
    return known


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
    if found.status == 0:
        return chosen, at_most, "exact"
    better = max((chosen, greedy), key=lambda some: weights @ patterns[:, some].any(axis=1))
    return better, at_most, "greedy"


def _size_set(
    patterns: Bools,
    weights: Floats,
    chosen: list[int],
    candidates: Sequence[StockSize],
    feet: int,
    at_most: float,
    method: str,
) -> SizeSet:
    order = [chosen[place] for place in _greedy(patterns[:, chosen], weights, len(chosen))]
    added, left = [], weights.copy()
    for size in order:
        added.append(float(left[patterns[:, size]].sum()) / feet)
        left[patterns[:, size]] = 0
    share = sum(added)
    return SizeSet(
        tuple(candidates[size] for size in order),
        share,
        tuple(added),
        share if method == "exact" else at_most / feet,
        method,
    )
