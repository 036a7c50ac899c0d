"""Where in a text an instruction stands."""

from __future__ import annotations

import attrs

__all__ = ["TextPlace"]


@attrs.frozen
class TextPlace:
    """Where in a text an instruction stands; line and column count from 1.

    ``breaks`` holds, for an instruction wrapped over several lines, the column of the instruction
    at which each further line begins, and that line and column of the text.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> step = read('''
    ... Cast on 8 sts.
    ... Row 1: K4,
    ...   p4.''').steps[1]
    >>> step.at.line, step.at.column
    (3, 1)
    >>> step.at.within(12)  # where p4 begins in "Row 1: K4, p4."
    TextPlace(line=4, column=3, breaks=())
    """

    line: int
    column: int
    breaks: tuple[tuple[int, int, int], ...] = ()

    def within(self, column: int) -> TextPlace:
        """Return the place of a column of the instruction, counted from 1."""
        line, start, shift = self.line, 1, self.column - 1
        for at, next_line, next_column in self.breaks:
            if column >= at:
                line, start, shift = next_line, at, next_column - 1
        return TextPlace(line, column - start + 1 + shift)
