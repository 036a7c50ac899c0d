"""A few lines of instructions, without a head."""

from __future__ import annotations

from typing import Any

import attrs

from loopwright.border import guard
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten
from loopwright.pattern._reading.reader import read_closely

__all__ = ["instructions"]


def instructions(text: str, *, stitches: StitchTable = STITCHES) -> tuple[st.Step, ...]:
    """Return the steps that a few lines of instructions describe, without a head.

    Examples
    --------
    >>> heel = 32
    >>> for step in instructions(f"Place next {heel} sts on a holder as instep."):
    ...     print(step.name, step.stitches)
    instep 32
    """
    found = read_closely(text, stitches=stitches).pattern
    steps: tuple[st.Step, ...] = rewritten(found.steps, _without_place)
    return steps


def _without_place(thing: Any) -> Any:
    """Drop a place: a fragment's lines are not those of the pattern it will stand in."""
    return attrs.evolve(thing, at=None) if isinstance(thing, st.Step) else thing


guard(globals())
