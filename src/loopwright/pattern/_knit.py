"""Knit a pattern: the walk's stitches, worked on the needles of the loop graph."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from functools import partial
from typing import Any, Final, TypeVar

import attrs

from loopwright.errors import CannotWorkError, KnitError
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import STITCHES, Kind, StitchTable
from loopwright.making import (
    Hand,
    Standing,
    Work,
    corner_strands,
    edge_stitches,
    lift_strand,
    pick_up,
    selvedge,
)
from loopwright.making.casting import spread
from loopwright.pattern import steps as st
from loopwright.pattern._cables import with_defined
from loopwright.pattern._facing import starts_on_right_side
from loopwright.pattern._step_work import do_step, use_yarn
from loopwright.pattern._tally import Tally, Trouble
from loopwright.pattern._write import in_words_alone
from loopwright.pattern.journal import Doing, Entry, Journal, Knitted, Move, Picked
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.walk import Walk

__all__ = ["AWAY", "knit", "knit_on", "knitted"]

AWAY: Final = "an edge is found next to the work only, and none is there"
_H = TypeVar("_H", bound="_Hands")


def knit(
    pattern: Pattern,
    *,
    size: str | int | None = None,
    hand: Hand | None = None,
    stitches: StitchTable = STITCHES,
) -> Fabric:
    """Return the fabric that the instructions make.

    Parameters
    ----------
    pattern : Pattern
    size : str or int, optional
        Name or index of the size; the first by default.
    hand : Hand, optional
        By default that of the pattern. A left-handed knitter's fabric is mirrored.
    stitches : StitchTable

    Raises
    ------
    KnitError
        An instruction cannot be worked, or states a count that does not follow; says at which
        step and stitch, and what was on the needles.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> tube = read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit. Bind off all sts.")
    >>> knit(tube).euler_characteristic
    2
    """
    return _made(pattern, size, hand, stitches, _Swift)[1]


def knitted(
    pattern: Pattern,
    *,
    size: str | int | None = None,
    hand: Hand | None = None,
    stitches: StitchTable = STITCHES,
    fabrics: bool = False,
    as_far_as_it_goes: bool = False,
) -> Knitted:
    """Return the fabric that the instructions make, with the journal of what each step made.

    Parameters
    ----------
    pattern, size, hand, stitches
        As for `knit`.
    fabrics : bool
        Keep the fabric as it stood after each step too, which `stages` shows.
    as_far_as_it_goes : bool
        Return what was worked of a size that can't be worked to its end: where it stops, the error
        says that `Knitted.stopped` holds.

    Raises
    ------
    KnitError
        As by `knit`, unless it is to go as far as it goes.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> tube = read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit. Bind off all sts.")
    >>> made = knitted(tube)
    >>> [(type(entry.step).__name__, len(entry.loops), entry.rows) for entry in made.journal]
    [('CastOn', 8, 0), ('Join', 0, 0), ('RepeatRounds', 24, 3), ('BindOff', 8, 0)]
    >>> made.fabric == knit(tube)
    True
    >>> slip = read("Cast on 8 sts. Join in the round. Rnd 1: Knit. Rnd 2: K2, k2tog, k5.")
    >>> made = knitted(slip, as_far_as_it_goes=True)
    >>> len(made.journal), made.journal.entries[-1].moves[-1].keys, made.stopped.problem
    (4, ('k', 'k', 'k2tog'), 'k5 needs 5 sts, 4 are left')
    """
    writing = partial(_Writing, fabrics=fabrics)
    hands, fabric, stopped = _made(pattern, size, hand, stitches, writing, stops=as_far_as_it_goes)
    return Knitted(fabric, Journal(of_size(pattern, size), hands.entries()), stopped)


def _made(
    pattern: Pattern,
    size: str | int | None,
    hand: Hand | None,
    stitches: StitchTable,
    hands: Callable[[Work], _H],
    *,
    stops: bool = False,
) -> tuple[_H, Fabric, KnitError | None]:
    """Return hands that worked one size on needles of their own, the fabric, and where it stopped.

    Whether lifted strands cross is checked once, at the end. Where they do, or where something
    goes wrong after one of them, the work is done again and checked at each.
    """
    one, several = of_size(pattern, size), len(pattern.sizes) > 1
    table = with_defined(stitches, pattern.abbreviations)
    for looks_later in (True, False):
        work = Work(hand=hand or pattern.hand, stitches=table)
        work._looks_later = looks_later
        made, stopped = hands(work), None
        try:
            _follow(one, made, several=several)
        except KnitError as error:
            if work._unseen:
                continue
            if not stops:
                raise
            stopped = error
        fabric = work.fabric()
        if not work._unseen or (work._goes_on() if work.count else fabric.is_on_spheres):
            break
    return made, fabric, stopped


def knit_on(work: Work, pattern: Pattern, *, size: str | int | None = None) -> Journal:
    """Work the instructions on these needles, empty so far, and return the journal.

    See :func:`knit` and :func:`knitted`, which return the fabric.

    Raises
    ------
    KnitError
        As `knit` does; the work stands where the mistake was met.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> work = Work()
    >>> journal = knit_on(work, read("Cast on 8 sts. Join in the round. Rnds 1-3: Knit."))
    >>> work.count, work.course, len(journal)
    (8, 4, 3)
    >>> work.round(["k2tog"] * 4)  # on by hand
    """
    return _journal(work, pattern, size)


def _journal(
    work: Work, pattern: Pattern, size: str | int | None, *, fabrics: bool = False
) -> Journal:
    one = of_size(pattern, size)
    hands = _Writing(work, fabrics=fabrics)
    _follow(one, hands, several=len(pattern.sizes) > 1)
    return Journal(one, hands.entries())


def _follow(one: Pattern, hands: _Hands, *, several: bool) -> None:
    """Walk through the pattern of one size, one of several, with these hands."""
    work = hands.needles
    work.right_side_facing = starts_on_right_side(one)
    walk = Walk(one, hands, stitches=work.stitches)
    name = one.sizes[0] if several else ""
    try:
        walk.all()
        hands.done()
    except Trouble as trouble:
        error = _error(walk, trouble, name)
        with suppress(CannotWorkError):
            walk.work_what_was_read()
        raise error from None
    except CannotWorkError as refused:
        advice = f"; {refused.advice}" if refused.advice else ""
        problem = f"cannot {refused.operation}: {refused.problem}{advice}"
        raise _error(walk, Trouble("work", problem), name) from None


def _error(walk: Walk, trouble: Trouble, size: str) -> KnitError:
    step = walk.step
    assert step is not None
    at = step.at.within(max(1, trouble.column)) if step.at else st.TextPlace(0, 0)
    return KnitError(
        _shown(step), trouble.stitch, walk.on_needles(), trouble.problem, at.line, at.column, size
    )


def _shown(step: st.Step) -> str:
    text = in_words_alone(step).removesuffix(".")
    return text if len(text) < 80 else text[:77] + "..."


class _Hands(StitchWorker):
    """StitchWorker that knit."""

    def __init__(self, needles: Work) -> None:
        self.needles = needles

    def work(self, keys: tuple[str, ...], with_wraps: bool) -> None:
        self.needles.work(keys, with_wraps=with_wraps)

    def rounds(self, keys: tuple[str, ...], times: int) -> None:
        self.needles.rounds(keys, times)

    def turn(self) -> None:
        self.needles.turn()

    def wrap(self) -> None:
        self.needles.wrap()

    def double_stitch(self) -> None:
        self.needles.double_stitch()

    def pick_up(self, amount: int, twisted: bool, along: str) -> None:
        self._require_an_edge()
        edge = selvedge(self.needles)
        if not edge:
            if not edge_stitches(self.needles):
                raise Trouble("place", "there is no edge here to pick up along")
            problem = "the edge was slipped at the end of its rows: slip the first stitch instead"
            raise Trouble("place", problem)
        edge = _named(self.needles, edge, along)
        pick_up(self.needles, [edge[place] for place in spread(len(edge), amount)])

    def _require_an_edge(self) -> None:
        if self.needles.count < 2:
            raise Trouble("place", AWAY)

    def lift(self, stitch: str, strand: str, *, beyond: bool = False) -> None:
        self._lift_strand(strand, beyond=beyond)
        self.needles.work([_on_strand(stitch)])

    def _lift_strand(self, strand: str, *, beyond: bool) -> None:
        found = corner_strands(self.needles, beyond=beyond)
        if not found:
            raise Trouble("place", "there is no strand here to be lifted")
        # Best first; the one beside the stitch leaves no new cell between itself and the stitch.
        chosen = found[0] if strand == "across" else min(found, key=lambda one: one.cells[1])
        lift_strand(self.needles, chosen.strand, left_flank=chosen.left_flank, beyond=beyond)

    def yarn(self, name: str) -> None:
        if self.needles.yarn != name:
            use_yarn(self.needles, name)

    def next_needle(self, number: int) -> None:
        self.needles.begin_needle_here(number)

    def step(self, step: st.Step, tally: Tally) -> None:
        do_step(step, self.needles)
        if step.count == self.needles.count:
            self.needles.state_count(self.needles.count)

    def done(self) -> None:
        """Work what waits, at the end of a pattern."""


class _Swift(_Hands):
    """Hands that work the runs of a round in several yarns together."""

    def __init__(self, needles: Work) -> None:
        super().__init__(needles)
        self._named = ""  # yarn of the stitches to come; none where that in hand goes on
        self._waiting: list[tuple[str, tuple[str, ...]]] = []
        self._due = 0  # stitches that wait

    def yarn(self, name: str) -> None:
        if self.needles.in_rounds:
            self._named = name
        else:
            self.done()
            super().yarn(name)

    def work(self, keys: tuple[str, ...], with_wraps: bool) -> None:
        if self._named and not with_wraps and self.needles._is_simple(keys):
            self._due += len(keys)
            if self._waiting and self._waiting[-1][0] == self._named:
                keys = self._waiting.pop()[1] + keys
            self._waiting.append((self._named, keys))
            if self._due >= self.needles.left:
                self.done()
            return
        self.done()
        super().work(keys, with_wraps)

    def done(self) -> None:
        runs, named = self._waiting, self._named
        if not runs and not named:
            return
        self._waiting, self._named, self._due = [], "", 0
        strands: dict[str, str] = {}
        for at, (name, keys) in enumerate(runs):
            if len(strands) == len({name for name, _ in runs}) and len(runs) - at > 1:
                rest = [(strands[name], keys) for name, keys in runs[at:]]
                self.needles._work_stranded(rest)
                break
            super().yarn(name)
            super().work(keys, False)
            strands[name] = self.needles.yarn or ""
        if named and (not runs or runs[-1][0] != named):
            super().yarn(named)

    def rounds(self, keys: tuple[str, ...], times: int) -> None:
        self.done()
        super().rounds(keys, times)

    def turn(self) -> None:
        self.done()
        super().turn()

    def wrap(self) -> None:
        self.done()
        super().wrap()

    def double_stitch(self) -> None:
        self.done()
        super().double_stitch()

    def pick_up(self, amount: int, twisted: bool, along: str) -> None:
        self.done()
        super().pick_up(amount, twisted, along)

    def lift(self, stitch: str, strand: str, *, beyond: bool = False) -> None:
        self.done()
        super().lift(stitch, strand, beyond=beyond)

    def next_needle(self, number: int) -> None:
        self.done()
        super().next_needle(number)

    def step(self, step: st.Step, tally: Tally) -> None:
        self.done()
        super().step(step, tally)


def _named(work: Work, edge: list[int], along: str) -> list[int]:
    """Return the stretch of an edge that its name tells: a side ends where the cast-on begins."""
    cast_on = work.stitches.of_kind(Kind.CAST_ON)[work.columns.loops.stitch[edge]]
    first = int(cast_on.argmax())
    if not cast_on.any():
        return edge
    if "side" in along.split():
        return edge[:first] or edge
    if along.startswith("cast"):
        return [loop for loop, one in zip(edge, cast_on.tolist(), strict=True) if one]
    return edge


def _on_strand(stitch: str) -> str:
    return "ktbl" if stitch == "m1l" else stitch


@attrs.define
class _Open:
    """An entry in the making."""

    step: st.Step
    row: st.Step  # the row or round of it that is worked now
    section: st.Section | None
    before: Standing
    moves: list[Move] = attrs.field(factory=list)
    picked: list[Picked] = attrs.field(factory=list)
    begun: list[tuple[st.Step, int]] = attrs.field(factory=list)


class _Writing(_Hands):
    """StitchWorker that knit, and write the journal."""

    def __init__(self, needles: Work, *, fabrics: bool) -> None:
        super().__init__(needles)
        self._fabrics = fabrics
        self._done: list[Entry] = []
        self._open: _Open | None = None
        self._now = needles.standing()

    def entries(self) -> tuple[Entry, ...]:
        """Return what was written, the last step included."""
        self._close()
        return tuple(self._done)

    def begin(self, step: st.Step) -> None:
        section = self._open.section if self._open is not None else None
        self._close()
        section = step if isinstance(step, st.Section) else section
        self._open = _Open(step, step, section, self._now)

    def row(self, step: st.Step) -> None:
        if self._open is not None:
            self._open.row = step
            self._open.begun.append((step, len(self._open.moves)))

    def _close(self) -> None:
        one, self._open = self._open, None
        self._now = self.needles.standing()
        if one is not None:
            fabric = self.needles.fabric() if self._fabrics else None
            self._done.append(
                Entry(one.step, one.section, one.before, self._now,
                      tuple(one.moves), tuple(one.picked), fabric, tuple(one.begun))
            )  # fmt: skip

    def _write(self, doing: Doing, keys: tuple[str, ...] = (), **more: Any) -> None:
        before, self._now = self._now, self.needles.standing()
        if self._open is not None:
            self._open.moves.append(Move(doing, before, self._now, keys, **more))

    def work(self, keys: tuple[str, ...], with_wraps: bool) -> None:
        super().work(keys, with_wraps)
        self._write(Doing.WORK, keys, with_wraps=with_wraps)

    def rounds(self, keys: tuple[str, ...], times: int) -> None:
        super().rounds(keys, times)
        self._write(Doing.ROUNDS, keys, times=times)

    def turn(self) -> None:
        super().turn()
        self._write(Doing.TURN)

    def wrap(self) -> None:
        super().wrap()
        self._write(Doing.WRAP)

    def double_stitch(self) -> None:
        super().double_stitch()
        self._write(Doing.DOUBLE_STITCH)

    def pick_up(self, amount: int, twisted: bool, along: str) -> None:
        self._require_an_edge()
        edges = edge_stitches(self.needles)
        super().pick_up(amount, twisted, along)
        if self._open is not None:
            self._open.picked.append(Picked(self._open.row, amount, edges))
        self._write(Doing.PICK_UP)

    def lift(self, stitch: str, strand: str, *, beyond: bool = False) -> None:
        self._lift_strand(strand, beyond=beyond)
        self._now = self.needles.standing()
        self.needles.work([_on_strand(stitch)])
        self._write(Doing.LIFT, (stitch,))

    def yarn(self, name: str) -> None:
        super().yarn(name)
        self._now = self.needles.standing()

    def next_needle(self, number: int) -> None:
        super().next_needle(number)
        self._write(Doing.NEEDLE)

    def step(self, step: st.Step, tally: Tally) -> None:
        super().step(step, tally)
        self._now = self.needles.standing()
