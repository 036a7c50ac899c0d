"""Notes whose text gives numbers by size."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern.values import Sized

__all__ = ["with_numbers"]

_BY_SIZE = re.compile(r"(\d+(?:\.\d+)?) \((\d+(?:\.\d+)?(?:, \d+(?:\.\d+)?)*)\)")


def with_numbers(step: st.Step, sizes: int) -> st.Step:
    """Return a note with the numbers that its text gives by size, as ``24 (28, 32)``, apart."""
    if isinstance(step, st.OnlySizes):
        return attrs.evolve(step, step=with_numbers(step.step, sizes))
    if not isinstance(step, st.Note) or "{}" in step.text:
        return step
    numbers: list[Sized] = []

    def apart(found: re.Match[str]) -> str:
        entries = (found[1], *found[2].split(", "))
        value = Sized(tuple(float(one) if "." in one else int(one) for one in entries))
        if len(entries) != sizes or str(value) != found[0]:
            return found[0]
        numbers.append(value)
        return "{}"

    text = _BY_SIZE.sub(apart, step.text)
    return attrs.evolve(step, text=text, numbers=numbers) if numbers else step
