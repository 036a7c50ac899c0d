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
from functools import cached_property
from typing import Any, Final

import attrs

from loopwright.errors import StudyError
from loopwright.fabric.checks import Report, check
from loopwright.fabric.fabric import Fabric
from loopwright.fit.girths import measure as girths_of
from loopwright.fit.shape import Shape, shape
from loopwright.sock.plan import Plan
from loopwright.sock.sock import Sock
from loopwright.study.columns import Column
from loopwright.yarn import YarnNeed, strand_uses, yarn_need

__all__ = [
    "DEFAULT",
    "EXACT",
    "MEASURES",
    "QUICK",
    "SCOPES",
    "Made",
    "Measure",
    "measures_named",
    "values_of",
]

SCOPES: Final = ("sock", "heel")
EXACT: Final = "shortest line on the relaxed shape"
QUICK: Final = "quick estimate: a line along edges of the relaxed shape, up to 4 % long"


@attrs.frozen(slots=False, eq=False)
class Made:
    """A sock and all that can be made of it, each once and only when it is asked for."""

    sock: Sock

    @cached_property
    def plan(self) -> Plan:
        """The sock in numbers."""
        return self.sock.plan()

    @cached_property
    def fabric(self) -> Fabric:
        """The sock as it was knitted."""
        return self.sock.fabric()

    @cached_property
    def report(self) -> Report:
        """What all the checks found."""
        return check(self.fabric)

    @cached_property
    def shape(self) -> Shape:
        """The relaxed sock in space."""
        return shape(self.fabric, self.sock.gauge)


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
        Takes a `Made`, returns the values by column. A function at the top of a module, so that
        other processes find it, or an attrs class with ``__call__``.
    scope : str
        ``"sock"`` or ``"heel"``; see the module.

    Raises
    ------
    StudyError
        No such scope, or a callable that doesn't say what it is.
    """

    name: str
    columns: tuple[Column, ...]
    compute: Callable[[Made], Values]
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


def _told(compute: Callable[[Made], Values]) -> str:
    """A function by its name; anything else that is called by what it shows of itself."""
    name = getattr(compute, "__qualname__", None)
    return f"{compute.__module__}.{name}" if name else repr(compute)


def _checks(made: Made) -> Values:
    findings = made.report.findings
    mistakes = sum(finding.is_mistake for finding in findings)
    return {
        "loops": len(made.fabric.ids),
        "mistakes": mistakes,
        "blemishes": len(findings) - mistakes,
        "holes": sum(finding.kind == "gaps" for finding in findings),
    }


def _yarn(made: Made) -> Values:
    need = _main_need(made)
    grams = None if need.grams is None else need.grams.likely
    return {
        "yarn_m": need.metres.likely,
        "yarn_low_m": need.metres.low,
        "yarn_high_m": need.metres.high,
        "yarn_g": grams,
    }


def _main_need(made: Made) -> YarnNeed:
    """What all strands but waste come to, for one sock."""
    uses = [use for use in strand_uses(made.fabric) if use.role != "waste"]
    needs = yarn_need(uses, made.sock.gauge, made.sock.yarn or {})
    total = needs[0].metres
    for need in needs[1:]:
        total += need.metres
    return YarnNeed("yarn", total, needs[0].grams if made.sock.yarn else None)


def _heel_girth(made: Made) -> Values:
    exact = girths_of(made.shape)
    quick = girths_of(made.shape, quick=True)
    if exact.heel is None or quick.heel is None:
        return {"heel_girth_method": "none: no heel was found on the relaxed shape"}
    return {
        "heel_girth_mm": exact.heel.length_mm,
        "heel_girth_method": EXACT,
        "heel_girth_quick_mm": quick.heel.length_mm,
        "heel_girth_quick_error": quick.heel.length_mm / exact.heel.length_mm - 1,
    }


def _quick_heel_girth(made: Made) -> Values:
    quick = girths_of(made.shape, quick=True)
    if quick.heel is None:
        return {"heel_girth_method": "none: no heel was found on the relaxed shape"}
    return {"heel_girth_mm": quick.heel.length_mm, "heel_girth_method": QUICK}


def _shape_quality(made: Made) -> Values:
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
            tuple(Column(name, "count") for name in ("loops", "mistakes", "blemishes", "holes")),
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


def values_of(measures: Iterable[Measure], made: Made) -> dict[str, Any]:
    """Return the values of all these measures of one sock."""
    return {name: value for measure in measures for name, value in measure.compute(made).items()}
