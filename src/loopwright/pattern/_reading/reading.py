"""What a reader gives: the pattern, with what was noticed and how each line was taken."""

from __future__ import annotations

import attrs

from loopwright.border import guard
from loopwright.errors import PatternSyntaxError
from loopwright.pattern import steps as st
from loopwright.pattern._tolerant_walk import Claim, Key
from loopwright.pattern.program import Pattern

__all__ = ["Located", "ReadLine", "Reading"]


@attrs.frozen
class Located:
    """A remark with its place in the text."""

    kind: str
    text: str
    line: int
    column: int


@attrs.frozen
class ReadLine:
    """How a line was taken: its number, as what, and the steps that came of it.

    ``kind`` is ``"title"``, ``"head"``, ``"heading"``, ``"text"``, ``"definition"``, ``"count"``,
    ``"instruction"`` or ``"lost"``; ``after`` holds the stitches in work after it, for each size.

    Examples
    --------
    >>> from loopwright.pattern import explain
    >>> (line,) = explain("Cast on 48 (56) sts.").lines
    >>> line.kind, line.after
    ('instruction', (48, 56))
    """

    line: int
    last_line: int
    text: str
    kind: str
    steps: tuple[st.Step, ...] = ()
    after: tuple[int, ...] = ()


@attrs.frozen
class Reading:
    """A pattern, and what a close reader noticed on the way.

    ``errors`` holds what could not be read, where the reader was asked to go on behind it;
    ``claims`` what the text states besides its instructions.
    """

    pattern: Pattern
    remarks: tuple[Located, ...]
    errors: tuple[PatternSyntaxError, ...] = ()
    claims: dict[Key, tuple[Claim, ...]] = attrs.field(factory=dict, repr=False)
    lines: tuple[ReadLine, ...] = attrs.field(default=(), repr=False)
    loose: bool = False  # whether anything was read by its meaning


guard(globals())
