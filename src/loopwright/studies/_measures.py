"""What a study can measure of a sock, by name.

A measure belongs to a *scope*, which says what it depends on and so how often it is taken:

* ``"sock"``: on the whole fabric. Feet whose socks are the same, stitch for stitch and round for
  round, share it.
* ``"heel"``: on the heel and the round that it stands in, whatever the lengths of foot and leg.
  Socks whose heels are the same, stitch for stitch, share it: it is taken on the first of them.

That is what makes a study of thousands of feet possible, and it is said in the table: the columns
``same_sock`` and ``same_heel`` name what was shared.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

import attrs

from loopwright.errors import StudyError
from loopwright.fitting import EXACT, QUICK, Sample
from loopwright.fitting.girths import route
from loopwright.geometry import girth_through
from loopwright.studies._columns import Column

__all__ = [
    "DEFAULT",
    "MEASURES",
    "SCOPES",
    "Measure",
    "measures_named",
    "values_of",
]

SCOPES: Final = ("sock", "heel")
Values = Mapping[str, float | int | bool | str | None]


@attrs.frozen
class Measure:
    """Something to be measured.

    Parameters
    ----------
    name : str
    columns : tuple of Column
        What it yields.
    compute : callable
        Takes a `Sample`, returns the values by column. A function at the top of a module, so that
        other processes find it, or an attrs class with ``__call__``.
    scope : str
        ``"sock"`` or ``"heel"``; see the module.

    Raises
    ------
    StudyError
        No such scope, or a callable that doesn't say what it is.

    Examples
    --------
    >>> def stitches(made: Sample) -> Values:
    ...     return {"loops": len(made.fabric.ids)}
    >>> print(Measure("size", (Column("loops", "count"),), stitches).described)
    size (sock): ...measures.stitches; (Column(name='loops', kind='count', unit=''),)
    """

    name: str
    columns: tuple[Column, ...]
    compute: Callable[[Sample], Values]
    scope: str = "sock"

    def __attrs_post_init__(self) -> None:
        if self.scope not in SCOPES:
            expected = f"expected one of {', '.join(SCOPES)}"
            raise StudyError(f"measure {self.name!r}", f"the scope {self.scope!r}", expected)
        if " at 0x" in _told(self.compute):
            advice = "use a function, or an attrs class that is called"
            raise StudyError(f"measure {self.name!r}", _told(self.compute), advice)

    @property
    def described(self) -> str:
        """What tells it from others."""
        return f"{self.name} ({self.scope}): {_told(self.compute)}; {self.columns!r}"


def _told(compute: Callable[[Sample], Values]) -> str:
    """A function by its name; anything else that is called by what it shows of itself."""
    name = getattr(compute, "__qualname__", None)
    return f"{compute.__module__}.{name}" if name else repr(compute)


def _checks(made: Sample) -> Values:
    findings = made.report.findings
    return {
        "loops": len(made.fabric.ids),
        "blemishes": len(findings),
        "holes": sum(finding.kind == "gaps" for finding in findings),
    }


def _yarn(made: Sample) -> Values:
    metres, grams = made.yarn.metres, made.yarn.grams
    likely_g = None if grams is None else grams.likely
    return {
        "yarn_m": metres.likely,
        "yarn_low_m": metres.low,
        "yarn_high_m": metres.high,
        "yarn_g": likely_g,
    }


def _heel_girth(made: Sample) -> Values:
    exact, quick = _heel_mm(made, quick=False), _heel_mm(made, quick=True)
    if exact is None or quick is None:
        return _NO_HEEL
    return {
        "heel_girth_mm": exact,
        "heel_girth_method": EXACT,
        "heel_girth_quick_mm": quick,
        "heel_girth_quick_error": quick / exact - 1,
    }


def _quick_heel_girth(made: Sample) -> Values:
    quick = _heel_mm(made, quick=True)
    return _NO_HEEL if quick is None else {"heel_girth_mm": quick, "heel_girth_method": QUICK}


def _heel_mm(made: Sample, *, quick: bool) -> float | None:
    where = route(made.shape, heel=made.heel_tip)
    if where.heel is None:
        return None
    line = girth_through(made.shape, where.heel, along=where.tube, quick=quick)
    return made.girth_of(line, QUICK if quick else EXACT).mm


_NO_HEEL: Final[Values] = {"heel_girth_method": "none: no heel was found on the relaxed shape"}


def _shape_quality(made: Sample) -> Values:
    quality = made.shape.quality
    return {
        "edge_error_median": quality.edge_error_median,
        "edge_error_p95": quality.edge_error_p95,
        "fold_overs": quality.fold_overs,
    }


_GIRTH = (Column("heel_girth_mm", unit="mm"), Column("heel_girth_method", "text"))

MEASURES: Final[dict[str, Measure]] = {
    measure.name: measure
    for measure in (
        Measure(
            "checks",
            tuple(Column(name, "count") for name in ("loops", "blemishes", "holes")),
            _checks,
        ),
        Measure(
            "yarn",
            (
                *(Column(name, unit="m") for name in ("yarn_m", "yarn_low_m", "yarn_high_m")),
                Column("yarn_g", unit="g"),
            ),
            _yarn,
        ),
        Measure(
            "heel girth",
            (
                *_GIRTH,
                Column("heel_girth_quick_mm", unit="mm"),
                Column("heel_girth_quick_error", unit="1"),
            ),
            _heel_girth,
            "heel",
        ),
        Measure("quick heel girth", _GIRTH, _quick_heel_girth, "heel"),
        Measure(
            "shape quality",
            (
                Column("edge_error_median", unit="1"),
                Column("edge_error_p95", unit="1"),
                Column("fold_overs", "count"),
            ),
            _shape_quality,
            "heel",
        ),
    )
}
"""The measures there are; a study also takes a `Measure` of your own."""

DEFAULT: Final = ("checks", "yarn", "heel girth")


def measures_named(wanted: Iterable[str | Measure]) -> tuple[Measure, ...]:
    """Return measures by their names; a `StudyError` lists those there are.

    Examples
    --------
    >>> [measure.scope for measure in measures_named(["checks", "heel girth"])]
    ['sock', 'heel']
    """
    found = []
    for one in wanted:
        if isinstance(one, str) and one not in MEASURES:
            expected = f"expected one of {', '.join(MEASURES)}, or a Measure"
            raise StudyError("measure", repr(one), expected)
        found.append(MEASURES[one] if isinstance(one, str) else one)
    return tuple(found)


def values_of(measures: Iterable[Measure], made: Sample) -> dict[str, Any]:
    """Return the values of all these measures of one sock."""
    return {name: value for measure in measures for name, value in measure.compute(made).items()}
