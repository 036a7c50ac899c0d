"""Stages: what is where, at any step of a pattern.

A `Stage` says which loops are live and what carries them, where the work stands and which way it
goes, what waits on waste yarn, and where holes are. `stages` gives one for each step that moves
stitches. Rounds that follow each other make one together, as long as all grow or all shrink. So do
rows of a kind: whole ones, short ones, those that take up wraps.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property

import attrs
import numpy as np

from loopwright.errors import PictureError
from loopwright.fabric import Cell, Fabric, Strand
from loopwright.fabric.columns import Ints
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.gauge import Gauge
from loopwright.making import Hand, Standing, Work
from loopwright.pattern import (
    Arrange,
    BeginHere,
    CastOn,
    ClosedCastOn,
    Entry,
    Graft,
    Hold,
    Join,
    Knitted,
    Lift,
    Note,
    Pattern,
    PickUp,
    ProvisionalCastOn,
    Recapture,
    RepeatRounds,
    ReturnHeld,
    Round,
    Row,
    Run,
    Section,
    Step,
    Turn,
    UseYarn,
    WrapTurn,
    in_words,
    items_of,
    rounds_in,
)
from loopwright.picture._colouring import yarns_of
from loopwright.picture._knitted import as_knitted
from loopwright.picture._stage_data import Carrier, Gap, Stage, State
from loopwright.picture.stage_drawing import READING, draw_stage
from loopwright.picture.svg import Picture, label, side_by_side, stacked, text_width
from loopwright.plurals import plural
from loopwright.shown import Shown

__all__ = ["Stages", "stage", "stages"]

_FRESH = ("co", "cc", "pu")
_NOT_SHOWN = (Section, Note)
_MOVES = (BeginHere, CastOn, ClosedCastOn, ProvisionalCastOn, Hold, ReturnHeld, Recapture)


def stage(
    work: Work,
    title: str = "",
    *,
    gauge: Gauge | None = None,
    limit: int = 6,
    names: Sequence[str] = (),
    colours: Mapping[str, str] | None = None,
) -> Stage:
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
    names : sequence of str
        Of the needles, by the part of the work that each carries; numbers by default.
    colours : mapping of str to str, optional
        Of yarns by name, ``"#24476b"``, where there are several; ours for those that have none.

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
    shown = _shown_yarns(fabric, colours)
    return _stage(
        fabric, work.standing(), title, gauge=gauge, limit=limit, names=names, colours=shown
    )


def _shown_yarns(fabric: Fabric, colours: Mapping[str, str] | None) -> dict[str, str]:
    """Return the yarns that stay and their colours; none where there is just one."""
    waste = {strand.yarn for strand in fabric.strands if strand.role == "waste"}
    found = {name: hue for name, hue in yarns_of(fabric, colours).items() if name not in waste}
    return found if len(found) > 1 else {}


def _stage(
    fabric: Fabric,
    now: Standing,
    title: str,
    *,
    gauge: Gauge | None,
    limit: int,
    names: Sequence[str],
    colours: Mapping[str, str],
) -> Stage:
    needles = _carried(fabric, fabric.needles, "needle", names)
    apart = [*_carried(fabric, fabric.held, "held"), *_waste(fabric)]
    in_ring = _in_ring(fabric, apart) if now.in_rounds else []
    count, left = now.count, now.left
    # Places count along the needles as the right side is worked.
    at = count - left if now.right_side else left
    held = any(carrier.kind == "held" for carrier in in_ring)
    if held and left == count:
        at = count  # the yarn comes from the stitch before those held
    return Stage(
        title=title,
        carriers=(*needles, *apart),
        at=at,
        goes_on=bool(left) and not (held and left == count),
        right_side=now.right_side,
        in_rounds=now.in_rounds,
        course=now.course,
        gaps=tuple(_gap(fabric, cell, gauge) for cell in fabric.gaps(limit)),
        in_ring=tuple(in_ring),
        left_handed=now.hand is Hand.LEFT,
        yarn=Strand(now.yarn).yarn if now.yarn else "",
        colours=colours,
    )


def _carried(
    fabric: Fabric, groups: Mapping[str, Ints], kind: str, names: Sequence[str] = ()
) -> list[Carrier]:
    found: list[Carrier] = []
    filled = [(name, tuple(loops.tolist())) for name, loops in groups.items() if len(loops)]
    if kind == "needle":
        named = names if len(names) == len(filled) else ()
        filled = [
            (named[at] if named else f"needle {at + 1}", ids) for at, (_, ids) in enumerate(filled)
        ]
    for name, ids in filled:
        states = tuple(_state(fabric, loop) for loop in ids)
        found.append(Carrier(name, kind, ids, states, _yarns(fabric, ids)))
    return found


def _yarns(fabric: Fabric, loops: Iterable[int]) -> tuple[str, ...]:
    return tuple(fabric.strands[int(fabric.strand[loop])].yarn for loop in loops)


def _in_ring(fabric: Fabric, apart: list[Carrier]) -> list[Carrier]:
    """Return what lies between the needles' ends, where the needles do not go all round.

    One opening then runs along needles and holder, or along needles and the waste yarn that the
    rest of the round hangs on. With both in one opening a provisional cast-on is just made and
    bridges it; over waste yarn just knitted in, the needles go all round.
    """
    on_needles = {loop for loops in fabric.needles.values() for loop in loops.tolist()}
    edge = {
        loop
        for cell in fabric.openings
        if on_needles.intersection(cell.loops)
        for loop in cell.loops
    }
    held = [one for one in apart if one.kind == "held" and edge.intersection(one.loops)]
    waste = {
        name
        for number in {int(fabric.strand[loop]) for loop in edge - on_needles}
        if fabric.strands[number].role == "waste"
        for name in (fabric.strands[number].name, fabric.strands[number].yarn)
    }
    hung = [one for one in apart if one.kind == "waste yarn" and one.name in waste]
    if held and hung:
        return []
    is_over_waste = any(
        fabric.strands[int(fabric.strand[below])].role == "waste"
        for loop in on_needles
        for below in (loop, *fabric.parents(loop).tolist())
    )
    return held or ([] if is_over_waste else hung)


def _state(fabric: Fabric, loop: int) -> State:
    if loop in fabric.wraps["stitch"]:
        return State.WRAPPED
    if fabric.strands[int(fabric.strand[loop])].role == "waste":
        return State.WASTE
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
            yarns = _yarns(fabric, carried)
            found.append((strand, tuple(carried), states, yarns))
    called = Counter(strand.yarn for strand, *_ in found)
    return [
        Carrier(strand.yarn if called[strand.yarn] == 1 else strand.name, "waste yarn", *rest)
        for strand, *rest in found
    ]


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


@attrs.frozen(repr=False)
class Stages(Shown):
    """The stages of a pattern, in order.

    Parameters
    ----------
    title : str
    all : tuple of Stage

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> heel = read('''
    ... Cast on 16 sts. Join in the round. Rnds 1-3: Knit.
    ... Place next 8 sts on waste yarn as instep.
    ... Provisionally cast on 8 sts over waste yarn.
    ... ''')
    >>> strip = stages(heel)
    >>> for one in strip:
    ...     print(one.title, one.count, len(one.needles), [there.name for there in one.apart])
    Cast on 16 sts, long-tail. 16 1 []
    Join to work in the round. 16 1 []
    3 rounds, 16 sts 16 1 []
    Place next 8 sts on waste yarn as instep. 8 1 []
    Provisionally cast on 8 sts over waste yarn. 16 1 ['instep', 'waste']

    Drawn as one picture, or as a list whose lines break as a page is wide:

    >>> strip.picture(columns=2).width, strip.svg(columns=2).count('class="frame"')
    (516.0, 5)
    >>> len(strip.pictures()), strip.html().count("<li ")
    (5, 5)
    """

    title: str
    all: tuple[Stage, ...]

    def __str__(self) -> str:
        return f"{self.title}: {plural(len(self.all), 'stage')}"

    def __len__(self) -> int:
        return len(self.all)

    def __getitem__(self, at: int) -> Stage:
        return self.all[at]

    def __iter__(self) -> Iterator[Stage]:
        return iter(self.all)

    def pictures(self) -> tuple[Picture, ...]:
        """Return one picture for each stage."""
        return tuple(draw_stage(one, at) for at, one in enumerate(self.all, start=1))

    def picture(self, *, columns: int = 4) -> Picture:
        """Return all of them as one picture, read left to right and down."""
        said = label(8, 14, READING, size=11)
        key = Picture(text_width(READING, 11) + 8, 22, "How to read them", READING, (said,))
        drawn = side_by_side(self.title, self.pictures(), columns=columns)
        if not self.all:
            return drawn
        data = {"colours": "own"} if self.all[0].colours else {}
        return attrs.evolve(stacked(self.title, (drawn, key)), data=data)

    def svg(self, *, columns: int = 4) -> str:
        """Return them as one SVG."""
        return self.picture(columns=columns).svg()

    def html(self) -> str:
        """Return them as an ordered list for a page; lines break as the page is wide."""
        items = "".join(
            f'<li style="display:inline-block;margin:.5em;vertical-align:top">{one.svg()}</li>'
            for one in self.pictures()
        )
        listed = f'<ol class="stages" style="list-style:none;padding:0">{items}</ol>'
        return f"{listed}<p>{READING}</p>"

    def _repr_html_(self) -> str:
        return self.html()


def stages(
    pattern: Pattern | Knitted,
    section: str | None = None,
    *,
    size: str | int | None = None,
    gauge: Gauge | None = None,
    limit: int = 6,
    hand: Hand | None = None,
    stitches: StitchTable = STITCHES,
    colours: Mapping[str, str] | None = None,
) -> Stages:
    """Return what is where after each step that moves stitches.

    Parameters
    ----------
    pattern : Pattern or Knitted
        One that was knitted, with ``fabrics=True``, is read off its journal.
    section : str, optional
        Only what stands under this heading.
    size : str or int, optional
        Name or index of the size; the first by default.
    gauge, limit
        As for `stage`.
    hand : Hand, optional
        By default that of the pattern. A left-handed knitter's stages are mirrored.
    stitches : StitchTable
        With stitches of your own, where the pattern uses any.
    colours : mapping of str to str, optional
        As for `stage`.

    Raises
    ------
    KnitError
        The pattern can't be knitted.
    PictureError
        It was knitted without its fabrics, or has no such heading.
    """
    made = as_knitted(pattern, size=size, hand=hand, stitches=stitches, fabrics=True)
    if any(entry.fabric is None for entry in made.journal):
        raise PictureError(
            "stages", "only the finished fabric was kept", "knit it with fabrics=True"
        )
    recorder = _Recorder(section, gauge, limit, _shown_yarns(made.fabric, colours))
    for entry in made.journal:
        recorder.take(entry)
    recorder.close()
    headings = dict.fromkeys(one.heading for one in recorder.found)
    if section is not None and section not in headings:
        known = ", ".join(repr(heading) for heading in headings if heading) or "none"
        problem = "nothing is worked under that heading"
        raise PictureError(f"stages of {section!r}", problem, f"headings: {known}")
    kept = tuple(one.stage for one in recorder.found if section in (None, one.heading))
    title = made.journal.pattern.title
    return Stages(f"{title}: stages" if title else "Stages", kept)


@attrs.define
class _Recorded:
    """A stage, and what rounds or rows it covers: how many, and which way they went."""

    heading: str
    draw: Callable[[], Stage]
    kind: str = ""
    done: int = 0
    count: int = 0  # before them
    trend: int = 0  # 1 while stitches are added, -1 while they are taken away

    @cached_property
    def stage(self) -> Stage:
        """The stage, made when it is first asked for."""
        return self.draw()


class _Recorder:
    """Notes a stage after each step, and one after rounds that follow each other."""

    def __init__(
        self, section: str | None, gauge: Gauge | None, limit: int, colours: Mapping[str, str]
    ) -> None:
        self.section, self.gauge, self.limit, self.colours = section, gauge, limit, colours
        self.found: list[_Recorded] = []
        self.heading, self.title = "", ""
        self.names: tuple[str, ...] = ()
        self.last: Entry | None = None  # whose stage is still to be noted
        self.shown: Entry | None = None  # how it stood then: an arrangement shows with it
        self.is_apart = True  # the next rounds begin a stage of their own

    def take(self, entry: Entry) -> None:
        """Note what the step before this one has left."""
        step = entry.step
        last = self.last.step if self.last is not None else None
        if isinstance(step, Arrange) and not isinstance(last, Section):
            self._name(step)
            self.shown = entry
            return
        self._after_last(step)
        if isinstance(step, Section):
            self.heading, self.is_apart = step.title, True
        self._name(step)
        self.last = self.shown = entry

    def close(self) -> None:
        """Note what the last step has left."""
        self._after_last(None)

    def _name(self, step: Step) -> None:
        """Keep the names of the parts as long as the stitches stay on their needles."""
        if isinstance(step, Arrange):
            self.names = tuple(name for name, _ in step.parts)
        elif isinstance(step, _MOVES):
            self.names = ()

    def _after_last(self, following: Step | None) -> None:
        entry = self.last
        if entry is None or isinstance(entry.step, (*_NOT_SHOWN, Arrange)):
            return
        step = entry.step
        if isinstance(step, ClosedCastOn) and isinstance(following, Join):
            self.title = f"{in_words(step)} "
            return  # it lies on two needles, and only the join says that they face each other
        if isinstance(step, UseYarn):
            self.is_apart = True  # what is knitted with it shows it
            return
        kind = _kind(step)
        if kind:
            self._note_rounds(entry, kind)
            return
        draw = self._drawing(f"{self.title}{in_words(step)}", with_graft=isinstance(step, Graft))
        one = _Recorded(self.heading, draw)
        self.title, self.is_apart = "", True
        before = self.found[-1] if self.found and self.section in (None, self.heading) else None
        if (
            before is None
            or isinstance(step, Graft | BeginHere)
            or not _is_same(one.stage, before.stage)
        ):
            self.found.append(one)

    def _note_rounds(self, entry: Entry, kind: str) -> None:
        """Note rounds or rows, together with those before them that go the same way."""
        assert self.shown is not None
        last = self.found[-1] if self.found else None
        noun, said = _KINDS[kind]
        count, now = entry.before.count, self.shown.after.count
        done = entry.after.course - entry.before.course if noun == "round" else entry.rows
        trend = (now > count) - (now < count)
        if last and not self.is_apart and last.kind == kind and trend * last.trend >= 0:
            done, count, trend = done + last.done, last.count, trend or last.trend
            self.found.pop()
        change = f"{count} sts" if count == now else f"from {count} to {now} sts"
        title = f"{done} {noun}{'' if done == 1 else 's'}{said}, {change}"
        self.found.append(_Recorded(self.heading, self._drawing(title), kind, done, count, trend))
        self.is_apart = False

    def _drawing(self, title: str, *, with_graft: bool = False) -> Callable[[], Stage]:
        """Return what makes the stage as the work stands now."""
        title = f"{self.heading}: {title}" if self.heading else title
        shown, names = self.shown, self.names
        assert shown is not None

        def draw() -> Stage:
            assert shown.fabric is not None
            one = _stage(
                shown.fabric, shown.after, title, gauge=self.gauge, limit=self.limit, names=names,
                colours=self.colours,
            )  # fmt: skip
            return attrs.evolve(one, graft=shown.fabric) if with_graft else one

        return draw


_KINDS = {
    "round": ("round", ""),
    "corners": ("round", ", closing corners"),
    "row": ("row", ""),
    "short": ("short row", ""),
    "wraps": ("short row", ", taking up the wraps"),
}


def _kind(step: Step) -> str:
    """Return what kind of rounds or rows a step is, "" for one that shows by itself."""
    if not isinstance(step, Round | Row | RepeatRounds):
        return ""
    rows = list(rounds_in((step,)))
    items = list(items_of(rows))
    if any(isinstance(item, PickUp) for item in items):
        return ""
    if isinstance(rows[0], Round):
        return "corners" if any(isinstance(item, Lift) for item in items) else "round"
    if any(isinstance(item, Run) and item.with_wraps for item in items):
        return "wraps"
    return "short" if any(isinstance(item, Turn | WrapTurn) for item in items) else "row"


def _is_same(one: Stage, other: Stage) -> bool:
    return one.carriers == other.carriers and one.in_rounds == other.in_rounds
