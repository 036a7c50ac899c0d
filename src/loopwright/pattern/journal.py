"""The journal of a pattern that was knitted: what each of its steps made, move by move.

One walk of a pattern gives the fabric and its journal; charts, stages, samples and reports are
read off it. An `Entry` says what one step did: the loops it made, its rows or rounds, and what was
picked up. It also has how the work stood before and after it, and the heading that it stands
under.
"""

from __future__ import annotations

from collections.abc import Iterator

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import KnitError
from loopwright.fabric.fabric import Fabric
from loopwright.making import Standing
from loopwright.pattern._parts import SockPart
from loopwright.pattern.program import Pattern
from loopwright.pattern.steps import RepeatRounds, Section, Step, TextPlace
from loopwright.plurals import plural
from loopwright.shown import Shown

__all__ = ["Doing", "DoneRow", "Entry", "Journal", "Knitted", "Move", "Picked"]


class Doing(Choice):
    """What a move of the hands is."""

    WORK = "work stitches"
    ROUNDS = "work a round several times over"
    TURN = "turn"
    WRAP = "wrap the next stitch"
    DOUBLE_STITCH = "make a double stitch"
    PICK_UP = "pick up stitches"
    LIFT = "work a stitch with a strand lifted at a corner"
    NEEDLE = "begin a needle"


_WORKS = (Doing.WORK, Doing.ROUNDS, Doing.LIFT)


@attrs.frozen(eq=False)
class Move:
    """One move of the hands within a step.

    Parameters
    ----------
    doing : Doing
    before, after : Standing
        How the work stood. Before a lift the strand, the newest loop then, is on the needle.
    keys : tuple of str
        The stitches worked, by their keys in the stitch table.
    times : int
        How many times over, with `Doing.ROUNDS`.
    with_wraps : bool
        Whether wraps were worked together with their stitches.
    """

    doing: Doing
    before: Standing
    after: Standing
    keys: tuple[str, ...] = ()
    times: int = 1
    with_wraps: bool = False


@attrs.frozen
class Picked:
    """Stitches picked up along an edge.

    Parameters
    ----------
    step : Step
        The round, row or part of one that says so.
    stitches : int
        Stitches picked up, and `edges`, how many edge stitches there are.
    edges : int

    Examples
    --------
    >>> import loopwright as lw
    >>> from loopwright.sock import heel_named
    >>> foot, gauge = lw.Foot.of(length="16 cm"), lw.Gauge.of(14, 20)
    >>> made = lw.knitted(lw.Sock(foot=foot, gauge=gauge, heel=heel_named("flap")).pattern())
    >>> [(picked.stitches, picked.edges) for picked in made.journal.picked]  # at either side
    [(5, 5), (5, 5)]
    """

    step: Step
    stitches: int
    edges: int


@attrs.frozen
class DoneRow:
    """One row or round, or a part of one, as it was worked; see `Journal.rows`.

    Parameters
    ----------
    step : Step
        The row or round as it is written: within a repeat, the one that is repeated.
    heading : str
        The words of the heading that it stands under.
    course : int
        Of the loops that it made, counted from the cast-on.
    before, after : int, stitches
        On the needles.
    keys : tuple of str
        The stitches worked, by their keys in the stitch table.
    """

    step: Step
    heading: str
    course: int
    before: int
    after: int
    keys: tuple[str, ...]

    @property
    def place(self) -> TextPlace | None:
        """Where it is written, if it was read from a text."""
        return self.step.at


@attrs.frozen(eq=False)
class Entry:
    """What one step of a pattern did.

    Parameters
    ----------
    step : Step
        Of the one size that was knitted.
    section : Section or None
        The heading that it stands under; a heading stands under itself.
    before, after : Standing
    moves : tuple of Move
        Of a row, a round, a part of one, or a repeat of them; other steps have none.
    picked : tuple of Picked
    begun : tuple of (Step, int)
        Each row or round that was begun, as it is written, and the place of its first move.
    fabric : Fabric or None
        The fabric as it stood after the step, if it was asked for.

    Examples
    --------
    >>> from loopwright.pattern import knitted, read
    >>> made = knitted(read('''## Flap
    ... Cast on 8 sts. Row 1: K8. Row 2: P8.'''))
    >>> entry = made.journal.under("Flap")[-1]
    >>> entry.heading, entry.place.line
    ('Flap', 2)
    >>> [(move.doing.value, "".join(move.keys)) for move in entry.moves]
    [('work stitches', 'pppppppp'), ('turn', '')]
    """

    step: Step
    section: Section | None
    before: Standing
    after: Standing
    moves: tuple[Move, ...] = ()
    picked: tuple[Picked, ...] = ()
    fabric: Fabric | None = attrs.field(default=None, repr=False)
    begun: tuple[tuple[Step, int], ...] = attrs.field(default=(), repr=False)

    @property
    def part(self) -> SockPart | None:
        """The part of the sock that it belongs to, where its heading stands for one."""
        return self.section.part if self.section is not None else None

    @property
    def heading(self) -> str:
        """The words of its heading, "" before the first."""
        return self.section.title if self.section is not None else ""

    @property
    def place(self) -> TextPlace | None:
        """Where it stands in the text, if it was read from one.

        Rows that a later line repeats stand there: each by itself is told by `Journal.rows`.
        """
        return self.step.at

    def done_rows(self) -> Iterator[DoneRow]:
        """Yield what it worked row by row.

        Examples
        --------
        >>> from loopwright.pattern import knitted, read
        >>> *_, entry = knitted(read("Cast on 8 sts. Join in the round. Rnds 1-2: Knit.")).journal
        >>> [(row.course, row.after) for row in entry.done_rows()]
        [(1, 8), (2, 8)]
        """
        begun = self.begun or ((self.step, 0),)
        stops = [start for _, start in begun[1:]] + [len(self.moves)]
        for (step, start), stop in zip(begun, stops, strict=True):
            working = [move for move in self.moves[start:stop] if move.keys]
            if not working:
                continue
            first, last, times = working[0].before, working[-1].after, working[0].times
            if isinstance(step, RepeatRounds):  # one round, worked over and over
                step = step.steps[0]
            keys = tuple(key for move in working for key in move.keys)
            for number in range(times):
                course = first.course + number
                yield DoneRow(step, self.heading, course, first.count, last.count, keys)

    @property
    def loops(self) -> range:
        """Ids of the loops that it made."""
        return range(self.before.made, self.after.made)

    @property
    def rows(self) -> int:
        """Rows or rounds that it worked; one that it left half worked counts."""
        if not self.moves:
            return 0
        turned, is_begun = 0, False
        for move in self.moves:
            if move.doing in _WORKS:
                is_begun = True
            elif move.doing is Doing.TURN:
                turned, is_begun = turned + is_begun, False
        if self.after.in_rounds and not turned:
            return max(self.after.course - self.before.course, int(is_begun))
        return turned + is_begun


@attrs.frozen(eq=False, repr=False)
class Journal(Shown):
    """What each step of a pattern did, in working order.

    Parameters
    ----------
    pattern : Pattern
        The one size that was knitted.
    entries : tuple of Entry
        One for each of its steps, or of those that were begun.

    Examples
    --------
    >>> from loopwright.pattern import SockPart, knitted, read
    >>> made = knitted(read('''
    ... Cast on 16 sts. Join in the round.
    ... ## Leg
    ... Rnds 1-3: *K2, p2; rep from * to end.
    ... ## Heel
    ... K8. Place next 8 sts on holder as instep.
    ... Row 1: P8. Row 2: Sl 1 pwise wyib, k7.
    ... Note: Slip the first stitch of each row.
    ... '''))
    >>> for entry in made.journal.under("Heel"):
    ...     print(type(entry.step).__name__, entry.loops, entry.rows, entry.part.value)
    Section range(64, 64) 0 heel
    Part range(64, 72) 1 heel
    Hold range(72, 72) 0 heel
    Row range(72, 80) 1 heel
    Row range(80, 87) 1 heel
    Note range(87, 87) 0 heel
    >>> int(made.journal.made_by(SockPart.HEEL).sum()), made.journal.starts()
    (23, (('Leg', 16), ('Heel', 64)))
    >>> [section.title for section in made.journal.sections]
    ['Leg', 'Heel']
    """

    pattern: Pattern
    entries: tuple[Entry, ...]

    def __str__(self) -> str:
        rows = sum(entry.rows for entry in self.entries)
        return f"{plural(len(self), 'step')}, {plural(rows, 'row')} and rounds"

    def __len__(self) -> int:
        return len(self.entries)

    def __iter__(self) -> Iterator[Entry]:
        return iter(self.entries)

    @property
    def sections(self) -> tuple[Section, ...]:
        """The headings, in working order."""
        return tuple(entry.step for entry in self.entries if isinstance(entry.step, Section))

    @property
    def picked(self) -> tuple[Picked, ...]:
        """All that was picked up."""
        return tuple(one for entry in self.entries for one in entry.picked)

    def rows(self) -> tuple[DoneRow, ...]:
        """Return each row and round, and each part of one, in working order.

        Examples
        --------
        >>> from loopwright.pattern import knitted, read
        >>> made = knitted(read('''Cast on 16 sts. Join in the round.
        ... Rnds 1-2: Knit.
        ... Rnd 3: *K2, k2tog; rep from * to end.
        ... Rnd 4: Knit.
        ... Rep rnds 3 and 4 once more.'''))
        >>> for row in made.journal.rows():
        ...     print(row.course, row.place.line, row.before, row.after)
        1 2 16 16
        2 2 16 16
        3 3 16 12
        4 4 12 12
        5 3 12 9
        6 4 9 9
        """
        return tuple(row for entry in self.entries for row in entry.done_rows())

    def under(self, heading: str) -> tuple[Entry, ...]:
        """Return the entries under a heading."""
        return tuple(entry for entry in self.entries if entry.heading == heading)

    def starts(self) -> tuple[tuple[str, int], ...]:
        """Return the words of each heading and the first loop made under it."""
        return tuple(
            (entry.heading, entry.before.made)
            for entry in self.entries
            if isinstance(entry.step, Section)
        )

    def made_by(self, part: SockPart) -> NDArray[np.bool_]:
        """Return which loops the steps of a part made, shape (rows of the fabric,)."""
        mine = np.zeros(self.entries[-1].after.made if self.entries else 0, dtype=np.bool_)
        for entry in self.entries:
            if entry.part is part:
                mine[entry.loops.start : entry.loops.stop] = True
        return mine


@attrs.frozen(eq=False, repr=False)
class Knitted(Shown):
    """One size of a pattern, knitted: the fabric, and the journal of what made it.

    Parameters
    ----------
    fabric : Fabric
    journal : Journal
    stopped : KnitError or None
        Where it could not be worked on, and why; see `knitted`.
    """

    fabric: Fabric
    journal: Journal
    stopped: KnitError | None = None

    def __str__(self) -> str:
        end = f"; stopped: {self.stopped}" if self.stopped else ""
        return f"{self.fabric}; {self.journal}{end}"


guard(globals())
