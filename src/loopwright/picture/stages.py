"""Stages: what is where, at any step of a pattern.

A `Stage` says which loops are live and what carries them, where the work stands and which way it
goes, what waits on waste yarn, and where holes are. `stages` gives one for each step that moves
stitches; rounds and rows between two such steps make one together.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import attrs
import numpy as np

from loopwright.fabric import Fabric
from loopwright.fabric.columns import Ints
from loopwright.fabric.surface import Cell
from loopwright.gauge import Gauge
from loopwright.making import Work
from loopwright.pattern import (
    Arrange,
    Graft,
    Note,
    OnlySizes,
    Part,
    Pattern,
    RepeatRounds,
    Round,
    Row,
    Section,
    Step,
    in_words,
    of_size,
)
from loopwright.pattern.knit import knit_on
from loopwright.picture.stage_data import Carrier, Gap, Stage, State
from loopwright.picture.stage_drawing import draw_stage
from loopwright.picture.svg import Picture, side_by_side

__all__ = ["Stages", "stage", "stages"]

_FRESH = ("co", "cc", "pu")
_NOT_SHOWN = (Section, Note, Arrange)
_ROWS = (Round, Row, RepeatRounds, Part)


def stage(work: Work, title: str = "", *, gauge: Gauge | None = None, limit: int = 6) -> Stage:
    """Return where everything is on these needles now.

    Parameters
    ----------
    work : Work
    title : str
        What has just been done.
    gauge : Gauge, optional
        Gives the size of holes in mm.
    limit : int, edges
        Cells of more edges are holes; 6 is what a mended corner has.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on, hold
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.join_round()
    >>> hold(work, 4, "instep")
    >>> [(carrier.name, len(carrier.loops)) for carrier in stage(work).carriers]
    [('needle 1', 4), ('instep', 4)]
    """
    fabric = work.fabric()
    carriers = [
        *_carried(fabric, fabric.needles, "needle"),
        *_carried(fabric, fabric.held, "held"),
        *_waste(fabric),
    ]
    count, left = work.count, work.left
    # Places count along the needles as the right side is worked.
    at = count - left if work.right_side_facing else left
    return Stage(
        title=title,
        carriers=tuple(carriers),
        at=at,
        goes_on=bool(left),
        right_side=work.right_side_facing,
        in_rounds=work.in_rounds,
        course=work.course,
        gaps=tuple(_gap(fabric, cell, gauge) for cell in fabric.gaps(limit)),
    )


def _carried(fabric: Fabric, groups: Mapping[str, Ints], kind: str) -> list[Carrier]:
    found: list[Carrier] = []
    for name, loops in groups.items():
        ids = tuple(loops.tolist())
        shown = f"needle {len(found) + 1}" if kind == "needle" else name
        if ids:
            states = tuple(_state(fabric, loop) for loop in ids)
            found.append(Carrier(shown, kind, ids, states))
    return found


def _state(fabric: Fabric, loop: int) -> State:
    key = fabric.stitch_of(loop).key
    if key in _FRESH:
        return State.NEW
    if key == "lift":
        return State.LIFTED
    parents = fabric.parents(loop)
    over_waste = any(
        fabric.strands[int(fabric.strand[parent])].role == "waste"
        and not len(fabric.parents(int(parent)))
        for parent in parents.tolist()
    )
    return State.NEW if over_waste else State.LIVE


def _waste(fabric: Fabric) -> list[Carrier]:
    """Return the waste strands that are in the fabric, with what they will give back."""
    live = set(fabric.live.tolist())
    found = []
    for number, strand in enumerate(fabric.strands):
        if strand.role != "waste":
            continue
        loops = np.flatnonzero((fabric.strand == number) & fabric.present)
        mine = np.isin(fabric.parent, loops) | np.isin(fabric.child, loops)
        carried = sorted(
            {*fabric.parent[mine].tolist(), *fabric.child[mine].tolist()} - set(loops.tolist())
        )
        loops_kept = tuple(loop for loop in loops.tolist() if loop not in live)
        if loops_kept and carried:
            states = (State.WAITING,) * len(carried)
            found.append(Carrier(strand.name, "waste yarn", tuple(carried), states))
    return found


def _gap(fabric: Fabric, cell: Cell, gauge: Gauge | None) -> Gap:
    """Return a hole, its size, and the live loops that stand above it."""
    loops = cell.loops
    yarn = sum(
        fabric.next[a] == b or fabric.next[b] == a
        for a, b in zip(loops, loops[1:] + loops[:1], strict=True)
    )
    round_mm = None
    if gauge is not None:
        rest = yarn * gauge.stitch_width_mm + (len(loops) - yarn) * gauge.course_height_mm
        round_mm = float(rest)
    return Gap(loops, round_mm, _above(fabric, loops))


def _above(fabric: Fabric, loops: Iterable[int]) -> tuple[int, ...]:
    """Return the live loops reached from these by going up the wales."""
    live = set(fabric.live.tolist())
    front, seen, found = list(loops), set(loops), []
    while front:
        loop = front.pop()
        if loop in live:
            found.append(loop)
            continue
        for child in fabric.children(loop).tolist():
            if child not in seen:
                seen.add(child)
                front.append(child)
    return tuple(sorted(found))


@attrs.frozen
class Stages:
    """The stages of a pattern, in order.

    Parameters
    ----------
    title : str
    all : tuple of Stage
    """

    title: str
    all: tuple[Stage, ...]

    def __len__(self) -> int:
        return len(self.all)

    def __getitem__(self, at: int) -> Stage:
        return self.all[at]

    def pictures(self) -> tuple[Picture, ...]:
        """Return one picture for each stage."""
        return tuple(draw_stage(one, at) for at, one in enumerate(self.all, start=1))

    def picture(self, *, columns: int = 4) -> Picture:
        """Return all of them as one picture, read left to right and down."""
        return side_by_side(self.title, self.pictures(), columns=columns)

    def svg(self, *, columns: int = 4) -> str:
        """Return them as one SVG."""
        return self.picture(columns=columns).svg()

    def html(self) -> str:
        """Return them as an ordered list for a page; lines break as the page is wide."""
        items = "".join(
            f'<li style="display:inline-block;margin:.5em;vertical-align:top">{one.svg()}</li>'
            for one in self.pictures()
        )
        return f'<ol class="stages" style="list-style:none;padding:0">{items}</ol>'

    def _repr_html_(self) -> str:
        return self.html()


def stages(
    pattern: Pattern,
    size: str | int | None = None,
    *,
    section: str | None = None,
    gauge: Gauge | None = None,
    limit: int = 6,
) -> Stages:
    """Return what is where after each step that moves stitches.

    Parameters
    ----------
    pattern : Pattern
    size : str or int, optional
        Name or index of the size; the first by default.
    section : str, optional
        Only what stands under this heading.
    gauge, limit
        As for `stage`.

    Raises
    ------
    KnitError
        The pattern can't be knitted.
    """
    work = Work()
    one = of_size(pattern, size)
    found: list[tuple[str, Stage]] = []
    recorder = _Recorder(work, found, gauge, limit)
    knit_on(work, one, before=recorder.before)
    recorder.close()
    kept = tuple(stage for title, stage in found if section in (None, title))
    return Stages(f"{pattern.title}: stages" if pattern.title else "Stages", kept)


class _Recorder:
    """Notes a stage after each step, and one after rounds that follow each other."""

    def __init__(
        self, work: Work, found: list[tuple[str, Stage]], gauge: Gauge | None, limit: int
    ) -> None:
        self.work, self.found, self.gauge, self.limit = work, found, gauge, limit
        self.heading = ""
        self.last: Step | None = None
        self.rows: tuple[int, int] | None = None  # course and count where rows began

    def before(self, step: Step) -> None:
        """Note what the step before this one has left."""
        self._after_last(step)
        if isinstance(step, Section):
            self.heading = step.title
        if isinstance(step, _ROWS) and self.rows is None:
            self.rows = (self.work.course, self.work.count)
        self.last = step.step if isinstance(step, OnlySizes) else step

    def close(self) -> None:
        """Note what the last step has left."""
        self._after_last(None)

    def _after_last(self, following: Step | None) -> None:
        step = self.last
        if step is None or isinstance(step, _NOT_SHOWN):
            return
        if isinstance(step, _ROWS):
            if isinstance(following, _ROWS):
                return
            assert self.rows is not None
            course, count = self.rows
            self.rows = None
            done, now = self.work.course - course, self.work.count
            if not done:
                title = in_words(step)
            else:
                kind = "round" if self.work.in_rounds else "row"
                plural = "" if done == 1 else "s"
                change = f"{count} sts" if count == now else f"from {count} to {now} sts"
                title = f"{done} {kind}{plural}, {change}"
        else:
            title = in_words(step)
        title = f"{self.heading}: {title}" if self.heading else title
        one = stage(self.work, title, gauge=self.gauge, limit=self.limit)
        if isinstance(step, Graft):
            one = attrs.evolve(one, graft=self.work.fabric())
        before = self.found[-1][1] if self.found else None
        if before is None or isinstance(step, Graft) or not _is_same(one, before):
            self.found.append((self.heading, one))


def _is_same(one: Stage, other: Stage) -> bool:
    return one.carriers == other.carriers and one.in_rounds == other.in_rounds
