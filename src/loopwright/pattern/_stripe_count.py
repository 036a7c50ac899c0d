"""Whose turn it is among the yarns of stripes."""

from __future__ import annotations

import attrs

from loopwright.pattern.steps import Step, UseYarn
from loopwright.pattern.stripes import KeepPlace, ResumeStripes, Stripes

__all__ = ["StripeCount"]


@attrs.define
class StripeCount:
    """Whose turn it is, counted while rounds are worked.

    Examples
    --------
    >>> count = StripeCount()
    >>> count.told(Stripes([("A", 1), ("B", 2)]))
    ''
    >>> [count.next_yarn() for _ in range(4)]
    ['A', 'B', 'B', 'A']
    """

    sequence: tuple[str, ...] = ()
    at: int = 0
    kept: tuple[tuple[str, ...], int] = ((), 0)

    def told(self, step: Step) -> str:
        """Take what a step says of yarns; return the yarn that it changes to, "" for none."""
        if isinstance(step, Stripes):
            self.sequence, self.at = step.rounds, step.start - 1
        elif isinstance(step, KeepPlace):
            self.kept = (self.sequence, self.at)
        elif isinstance(step, ResumeStripes):
            self.sequence, self.at = self.kept
            return self.next_yarn() if step.begun else ""
        elif isinstance(step, UseYarn):
            self.sequence = ()
        return ""

    def next_yarn(self) -> str:
        """Return the yarn of the round that begins, "" where there are no stripes."""
        if not self.sequence:
            return ""
        self.at += 1
        return self.sequence[(self.at - 1) % len(self.sequence)]
