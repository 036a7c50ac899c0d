"""A gauge and a foot number by number, as `write_design` has them where nothing shorter will do."""

from __future__ import annotations

from typing import Any

from loopwright.design._table import DesignTable
from loopwright.gauge import Gauge, Relaxation
from loopwright.length import Length, Origin
from loopwright.sock.foot import Foot
from loopwright.sock.survey import Sex

__all__ = ["MEASURES", "exact_foot", "exact_gauge"]

MEASURES = (
    "length", "ball_girth", "instep_girth", "heel_girth", "ankle_girth", "leg_girth",
    "leg_height", "calf_girth", "ball_length", "heel_breadth", "ball_breadth", "ankle_height",
)  # fmt: skip

_RATES = ("stitches_per_cm", "rounds_per_cm", "stitches_sd", "rounds_sd")


def exact_gauge(table: DesignTable) -> Gauge:
    """Return the gauge of a table that has stitches and rounds to the centimetre."""
    table.allow(*_RATES, "state")
    given = {}
    for key in _RATES:
        table.require(key, "a number")
        given[key.replace("rounds", "courses")] = table.number(key)
    state = table.choice("state", Relaxation, Relaxation.WASHED)
    return table.call("", Gauge, **given, state=state)


def exact_foot(size: DesignTable, sex: Sex) -> Foot:
    """Return the foot of a size whose table `measures` has all that a foot holds."""
    for key in (*MEASURES, "shoe", "tape"):
        if key in size:
            raise size.refuse(key, f"{key} beside measures", "one of the two")
    table = size.table("measures")
    table.allow(*MEASURES, "scale", "notes")
    given: dict[str, Any] = {name: _length(table, name) for name in MEASURES}
    notes = table.values.get("notes", [])
    if not isinstance(notes, list) or not all(isinstance(note, str) for note in notes):
        raise table.refuse("notes", "another value", "a list of texts")
    return table.call(
        "", Foot, **given, sex=sex, scale=table.number("scale", 1.0), notes=tuple(notes)
    )


def _length(table: DesignTable, name: str) -> Length:
    table.require(name, '{mm = 246.0, sd_mm = 3.0, origin = "measured"}')
    inner = table.table(name)
    inner.allow("mm", "sd_mm", "origin", "how")
    return inner.call(
        "", Length, inner.number("mm"), inner.number("sd_mm"),
        inner.choice("origin", Origin, Origin.CALCULATED), inner.text("how"),
    )  # fmt: skip
