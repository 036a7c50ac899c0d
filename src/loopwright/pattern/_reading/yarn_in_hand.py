"""Which yarn is in hand, as far as the steps tell."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import steps_in, things_in
from loopwright.pattern.items import Run, With

__all__ = ["with_first_yarn", "yarn_in_hand"]


def _yarns_of(steps: Iterable[st.Step]) -> Iterator[str]:
    """Yield the yarns that are taken in hand, in order."""
    for step in steps_in(steps):
        if isinstance(step, st.UseYarn):
            yield step.name
        elif isinstance(step, st.Round | st.Row | st.Part):
            yield from (one.yarn for one in things_in(step.items) if isinstance(one, With))


def yarn_in_hand(steps: Sequence[st.Step]) -> str:
    """Return the yarn that is in hand behind some steps."""
    for step in reversed(steps):
        for yarn in reversed(list(_yarns_of((step,)))):
            return yarn
    return st.MAIN


def with_first_yarn(before: Sequence[st.Step], repeated: Sequence[st.Step]) -> st.Step:
    """Return the first of some steps that are repeated, with the yarn in which they begin again.

    "Knit 2 rounds. Knit 2 rounds in B. Repeat these 4 rounds": the first two are worked in A
    each time, as they were the first time.
    """
    first = repeated[0]
    begins = next((one for step in repeated for one in _begins(step)), None)
    yarns = list(_yarns_of(repeated))
    if not yarns or isinstance(begins, st.UseYarn | With):
        return first
    yarn = yarn_in_hand(before)
    return first if yarns[-1] == yarn else _beginning(first, With(yarn))


def _begins(step: st.Step) -> Iterator[st.Step | With | Run]:
    for one in steps_in((step,)):
        if isinstance(one, st.UseYarn):
            yield one
        elif isinstance(one, st.Round | st.Row | st.Part):
            yield from (thing for thing in things_in(one.items) if isinstance(thing, With | Run))


def _beginning(step: st.Step, yarn: With) -> st.Step:
    """Return a step whose first round begins with a yarn."""
    if isinstance(step, st.Round | st.Row):
        return attrs.evolve(step, items=(yarn, *step.items))
    if isinstance(step, st.RepeatRounds):
        return attrs.evolve(step, steps=(_beginning(step.steps[0], yarn), *step.steps[1:]))
    return step
