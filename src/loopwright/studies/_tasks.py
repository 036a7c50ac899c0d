"""What a worker is given: some cases to plan, or some socks to knit and measure.

A task carries all that it needs, and no more: the designs, and the feet of its own cases. Whatever
goes wrong in a case becomes that case's row. While a task runs, numerical libraries keep to one
thread, so that a sum has the same last bits in every engine.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from functools import lru_cache
from typing import Any, Final

import attrs
import pyarrow as pa

from loopwright.fitting import sample
from loopwright.fitting.girths import BALL
from loopwright.gauge import Gauge
from loopwright.geometry.blas_threads import one_thread
from loopwright.sock import Plan, Sock, TapeLine
from loopwright.sock.foot import Foot
from loopwright.studies._columns import Column, as_table
from loopwright.studies._feet import Feet
from loopwright.studies._measures import SCOPES, Measure, values_of
from loopwright.studies._variants import Variant

__all__ = ["CASE_COLUMNS", "ERROR_COLUMNS", "KEY", "MeasureTask", "PlanTask", "Subject", "failure"]

KEY: Final = Column("key", "text")
ERROR_COLUMNS: Final = (Column("error_kind", "text"), Column("error", "text"))
CASE_COLUMNS: Final = (
    Column("case", "count"),
    Column("foot", "text"),
    Column("sex", "text"),
    Column("design", "text"),
    Column("gauge", "text"),
    Column("foot_length_mm", unit="mm"),
    Column("foot_ball_girth_mm", unit="mm"),
    Column("foot_heel_girth_mm", unit="mm"),
    Column("foot_heel_girth_sd_mm", unit="mm"),
    Column("stitches", "count", "stitches"),
    Column("heel_stitches", "count", "stitches"),
    Column("leg_rounds", "count", "courses"),
    Column("foot_rounds", "count", "courses"),
    Column("ball_girth_mm", unit="mm"),
    Column("ball_girth_method", "text"),
    Column("sock_length_mm", unit="mm"),
    *(Column(f"same_{scope}", "text") for scope in SCOPES),
)

_ROUND: Final = "stitches round the foot, at the gauge"
_WIDE: Final = f"{_ROUND}: too wide, since the toe tapers at the ball already; fit measures it"

Row = dict[str, Any]


@attrs.frozen
class Subject:
    """A sock to be measured: one case stands for all that share it."""

    key: str
    feet: Feet  # one foot
    design: Variant
    gauge: Gauge


@attrs.frozen
class PlanTask:
    """Plan the cases of some feet.

    Parameters
    ----------
    items : range
        Numbers of the cases. Cases go by foot, then gauge, then design.
    first_foot : int
        Number of the first of the `feet`.
    feet : Feet
    designs : tuple of Variant
    gauges : tuple of (str, Gauge)
    schema : pyarrow.Schema
    """

    items: range
    first_foot: int
    feet: Feet
    designs: tuple[Variant, ...]
    gauges: tuple[tuple[str, Gauge], ...]
    schema: pa.Schema

    def __call__(self) -> pa.Table:
        """Return a row a case."""
        # The cases of a foot follow each other, and estimating a foot takes longer than planning.
        foot = lru_cache(maxsize=1)(self.feet.foot)
        with one_thread():
            return as_table([self._row(item, foot) for item in self.items], self.schema)

    def _row(self, item: int, foot: Callable[[int], Foot]) -> Row:
        made: Row = {}
        error = _attempt(lambda: made.update(self._planned(item, foot)))
        return {**self.named(item), **made, **error}

    def named(self, item: int) -> Row:
        """Return what is known of a case before anything is tried."""
        foot, gauge, design = self._place(item)
        return {
            "case": item,
            "foot": self.feet.ids[foot],
            "sex": self.feet.sexes[foot].value,
            "design": design.name,
            "gauge": gauge[0],
            **design.factors,
        }

    def _place(self, item: int) -> tuple[int, tuple[str, Gauge], Variant]:
        rest, design = divmod(item, len(self.designs))
        foot, gauge = divmod(rest, len(self.gauges))
        return foot - self.first_foot, self.gauges[gauge], self.designs[design]

    def _planned(self, item: int, feet: Callable[[int], Foot]) -> Row:
        row, (_, gauge), design = self._place(item)
        foot = feet(row)
        sock = design.sock(foot, gauge)
        plan = sock.plan()
        return {
            "foot_length_mm": foot.length.mm,
            "foot_ball_girth_mm": foot.ball_girth.mm,
            "foot_heel_girth_mm": foot.heel_girth.mm,
            "foot_heel_girth_sd_mm": foot.heel_girth.sd_mm,
            "stitches": plan.stitches.count,
            "heel_stitches": plan.share.heel,
            "leg_rounds": plan.leg_rounds,
            "foot_rounds": plan.foot_rounds,
            "ball_girth_mm": _as_knitted(sock, plan, "foot girth", TapeLine.ROUND),
            "ball_girth_method": _WIDE if _tapers_at_the_ball(sock, plan) else _ROUND,
            "sock_length_mm": _as_knitted(sock, plan, "foot length", TapeLine.ALONG),
            **keys_of(sock, plan),
        }


@attrs.frozen
class MeasureTask:
    """Knit some socks, check that each is whole, and measure it.

    Parameters
    ----------
    subjects : tuple of Subject
    measures : tuple of Measure
    schema : pyarrow.Schema
    """

    subjects: tuple[Subject, ...]
    measures: tuple[Measure, ...]
    schema: pa.Schema

    def __call__(self) -> pa.Table:
        """Return a row a sock."""
        with one_thread():
            return as_table([self._row(subject) for subject in self.subjects], self.schema)

    def _row(self, subject: Subject) -> Row:
        row: Row = {"key": subject.key}

        def measured() -> None:
            sock = subject.design.sock(subject.feet.foot(0), subject.gauge)
            made = sample(sock)  # a fabric with a mistake in it is refused
            row.update(values_of(self.measures, made))
            as_table([row], self.schema)  # a measure that breaks its word fails its own case

        error = _attempt(measured)
        return {"key": subject.key, **error} if error else row


def keys_of(sock: Sock, plan: Plan) -> Row:
    """Return what tells a sock, and its heel, from others; the same for those that are the same.

    By the steps: numbers of a user's own heel may leave out what its steps go by.
    """
    gauge = repr((sock.gauge, sock.slip_gauge, sock.panel, sock.hands))
    heel = [*sock.heel.steps(plan.setting), *sock.heel.later_steps(plan.setting)]
    return {
        "same_sock": _digest(gauge, repr(sock.yarn), repr(sock.steps(plan))),
        "same_heel": _digest(gauge, repr(plan.share), repr(sock.direction), repr(heel)),
    }


def _tapers_at_the_ball(sock: Sock, plan: Plan) -> bool:
    toe_mm = plan.toe.courses * sock.gauge.course_height_mm
    return toe_mm > (1 - BALL) * plan.measure("foot length").finished.mm


def _as_knitted(sock: Sock, plan: Plan, name: str, line: TapeLine) -> float:
    """Return a finished measure as the hands that knit it will make it."""
    finished = plan.measure(name).finished.mm
    return finished if sock.hands is None else finished * sock.hands.factor(line)[0]


def failure(kind: str, reason: str) -> Row:
    """Return the columns that tell why there is nothing else."""
    return {"error_kind": kind, "error": reason}


def _attempt(work: Callable[[], object]) -> Row:
    """Do it; what went wrong comes back as columns, since one case must not end a study."""
    try:
        work()
    except Exception as error:  # noqa: BLE001 # a measure of the user's may raise anything
        return failure(type(error).__name__, " ".join(str(error).split()) or repr(error))
    return {}


def _digest(*parts: str) -> str:
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:16]
