"""Whose turn it is: the yarn among stripes, the round of a panel."""

from __future__ import annotations

import attrs

from loopwright.pattern._tally import Trouble
from loopwright.pattern.items import Item
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.steps import Step, UseYarn
from loopwright.pattern.stripes import KeepPlace, ResumeStripes, Stripes

__all__ = ["Turns"]


@attrs.define
class Turns:
    """The yarn and the round of the panel that are due, counted while rounds are worked.

    Examples
    --------
    >>> count = Turns()
    >>> count.told(Stripes([("A", 1), ("B", 2)]))
    ''
    >>> [count.next_yarn() for _ in range(4)]
    ['A', 'B', 'B', 'A']
    """

    sequence: tuple[str, ...] = ()  # the yarn whose turn it is comes first
    kept: tuple[str, ...] = ()
    panel: tuple[tuple[Item, ...], ...] = ()
    due: int = 0

    def told(self, step: Step) -> str:
        """Take what a step says of yarns; return the yarn that it changes to, "" for none."""
        if isinstance(step, Stripes):
            done = step.start - 1
            self.sequence = step.rounds[done:] + step.rounds[:done]
        elif isinstance(step, KeepPlace):
            self.kept = self.sequence
        elif isinstance(step, ResumeStripes):
            self.sequence = self.kept
            return self.next_yarn() if step.begun else ""
        elif isinstance(step, UseYarn):
            self.sequence = ()
        elif isinstance(step, PanelRounds):
            self.panel, self.due = step.rounds, 0
        return ""

    def next_round(self) -> tuple[Item, ...]:
        """Return the round of the panel that is due."""
        if not self.panel:
            raise Trouble("order", "no panel is known: say its rounds first, 'panel rnd 1: ...'")
        self.due += 1
        return self.panel[(self.due - 1) % len(self.panel)]

    def next_yarn(self) -> str:
        """Return the yarn of the round that begins, "" where there are no stripes."""
        if not self.sequence:
            return ""
        yarn = self.sequence[0]
        self.sequence = (*self.sequence[1:], yarn)
        return yarn
