"""What a knitter asks of a panel: how its rounds follow each other, and which comes next."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from loopwright.pattern import Note, RepeatRounds, Round, Row, Step, items_of
from loopwright.pattern.items import WorkPanel
from loopwright.pattern.panels import PanelRounds

__all__ = ["told_of_panel"]

_NEXT = "The panel goes on with its rnd {}."


def told_of_panel(steps: Iterable[Step]) -> list[Step]:
    """Return the steps with notes on their panel.

    Examples
    --------
    >>> from loopwright.pattern import in_words, k, k_to, knit_rounds
    >>> panel = Round([k(2), WorkPanel(), k_to()])
    >>> work = [PanelRounds([[k(4)], [k(2)] * 2]), RepeatRounds([panel], 3), knit_rounds(2), panel]
    >>> for step in told_of_panel(work):
    ...     print(in_words(step))
    Panel rnd 1: K4. Panel rnd 2: K2, k2.
    Note: "Work panel" is: work the next panel rnd there, rnds 1-2 in turn ...
    Rnds 1-3: K2, work panel, k to end.
    Rnds 1-2: Knit.
    Note: The panel goes on with its rnd 2.
    Rnd 1: K2, work panel, k to end.
    """
    return list(_told(steps))


def _told(steps: Iterable[Step]) -> Iterator[Step]:
    many, worked, is_apart = 1, 0, False
    for step in steps:
        here = _panels(step)
        if here and is_apart and worked and many > 1:
            yield Note(_NEXT, numbers=[worked % many + 1])
        if here or isinstance(step, Round | Row | RepeatRounds):
            is_apart = not here
        worked += here
        yield step
        if isinstance(step, PanelRounds):
            many, worked, is_apart = len(step.rounds), 0, False
            turns = f", rnds 1-{many} in turn and over again" if many > 1 else ""
            runs_on = " The count runs on wherever the panel is worked again." if many > 1 else ""
            yield Note(f'"Work panel" is: work the next panel rnd there{turns}.{runs_on}')


def _panels(step: Step) -> int:
    """Return how many rounds of the panel a step works; of a repeat until something, one."""
    if isinstance(step, RepeatRounds):
        times = step.times if isinstance(step.times, int) else 1
        return times * sum(map(_panels, step.steps))
    return sum(isinstance(item, WorkPanel) for item in items_of((step,)))
