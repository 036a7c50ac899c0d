"""Let the steps of a loose text be worked: say how stitches lie where the text leaves it open.

A designer writes "needle 1" or "to 3 sts before the instep" and trusts the knitter to know what
lies where. Whoever works by the steps alone must be told: how the stitches are divided, that the
work is joined. The steps are followed in all sizes; where one can't be worked for want of such a
thing, it is put in, provided that the step can be worked then.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence

import attrs

from loopwright.errors import SizeError, StepError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten, rounds_in, steps_of_size, with_fields
from loopwright.pattern._tally import MARKER, Tally, Trouble
from loopwright.pattern._turns import Turns
from loopwright.pattern.items import TURNS, Item, Mark, Marking, On, Repeat, Run, items_in
from loopwright.pattern.program import Pattern, of_size
from loopwright.pattern.stitch_worker import StitchWorker
from loopwright.pattern.values import Count, To, UntilWorked, Where, sized
from loopwright.pattern.walk import Walk

__all__ = ["workable"]

_TIMES = 100
_MOST = 24  # things put into one text


def workable(pattern: Pattern, text: str, stitches: StitchTable) -> tuple[st.Step, ...]:
    """Return the steps of a pattern, with what working them needs and loose words leave out."""
    pattern = attrs.evolve(pattern, steps=_gone_round(pattern.steps, text))
    follower = _Follower(pattern, stitches)
    waiting = list(pattern.steps)
    done: list[st.Step] = []
    put_in = 0
    while waiting:
        step = waiting.pop(0)
        hit = follower.take(step)
        if hit is None:
            done.append(step)
            continue
        instead = follower.instead(step, hit) if put_in < _MOST else ()
        if not instead:
            return (*done, step, *waiting)
        put_in += 1
        waiting[:0] = instead
    return tuple(done)


@attrs.define
class _Hit:
    """Why a step could not be worked."""

    kind: str
    problem: str


class _Follower:
    """Walks of all sizes through the same steps, side by side."""

    def __init__(self, pattern: Pattern, stitches: StitchTable) -> None:
        self.names = pattern.sizes or ("",) * pattern.size_count
        self.stitches = stitches
        self.walks = [
            Walk(of_size(pattern, size), StitchWorker(), stitches=stitches)
            for size in range(pattern.size_count)
        ]
        self.instep: list[int] = [0] * pattern.size_count  # as it was held last

    @property
    def tallies(self) -> list[Tally]:
        return [walk.tally for walk in self.walks]

    def take(self, step: st.Step) -> _Hit | None:
        """Work a step in all sizes; where it can't be, leave all as it was and tell why."""
        kept = [self._kept(walk) for walk in self.walks]
        for size, walk in enumerate(self.walks):
            try:
                for one in steps_of_size((step,), size, self.names[size]):
                    walk.step = one
                    walk.one(one)
            except (Trouble, SizeError, StepError) as trouble:
                self._back(kept)
                return _Hit(getattr(trouble, "kind", ""), str(trouble))
            self.instep[size] = walk.tally.held.get("instep", self.instep[size])
        return None

    @staticmethod
    def _kept(walk: Walk) -> tuple[Tally, Turns, int, int]:
        return walk.tally.copy(), attrs.evolve(walk._turns), walk.total, walk._cast_on_course

    def _back(self, kept: Sequence[tuple[Tally, Turns, int, int]]) -> None:
        for walk, (tally, turns, total, course) in zip(self.walks, kept, strict=True):
            walk.tally, walk._turns = tally.copy(), attrs.evolve(turns)
            walk.total, walk._cast_on_course = total, course
            walk._buffer = type(walk._buffer)()

    def instead(self, step: st.Step, hit: _Hit) -> tuple[st.Step, ...]:
        """Return what to work in place of a step, if that can be worked in all sizes."""
        for way in _WAYS:
            for steps in way(self, step, hit):
                if self._can_be_worked(steps):
                    return steps
        return ()

    def times(self, step: st.RepeatRounds, size: int) -> int:
        """Return how many times all rows of a step can be worked in a size."""
        kept = [self._kept(walk) for walk in self.walks]
        walk, done = self.walks[size], 0
        one = steps_of_size(step.steps, size, self.names[size])
        try:
            while done < _TIMES:
                for row in one:
                    walk.one(attrs.evolve(row, count=None))
                done += 1
        except Trouble:
            pass
        self._back(kept)
        return done

    def _can_be_worked(self, steps: Sequence[st.Step]) -> bool:
        kept, instep = [self._kept(walk) for walk in self.walks], list(self.instep)
        fits = all(self.take(one) is None for one in steps)
        self._back(kept)
        self.instep = instep
        return fits


# the work is joined


def _gone_round(steps: tuple[st.Step, ...], text: str) -> tuple[st.Step, ...]:
    """Work a cuff in rounds that no word calls rows, where rounds follow and nothing is joined."""
    lines, found = text.split("\n"), list(steps)
    for start, step in enumerate(steps):
        if not isinstance(step, st.CastOn):
            continue
        after = start + 1
        while after < len(steps) and (
            isinstance(steps[after], _SILENT) or _is_unnamed(steps[after], lines)
        ):
            after += 1
        behind = steps[after] if after < len(steps) else None
        cuff = any(not isinstance(one, _SILENT) for one in steps[start + 1 : after])
        if (
            cuff
            and behind is not None
            and any(isinstance(row, st.Round) for row in rounds_in((behind,)))
        ):
            found[start + 1 : after] = [
                rewritten(one, _in_rounds) for one in steps[start + 1 : after]
            ]
            found.insert(start + 1, st.Join(at=step.at))
        return tuple(found)
    return steps


_SILENT = (st.Section, st.Note, st.UseYarn)


def _is_unnamed(step: st.Step, lines: Sequence[str]) -> bool:
    """Tell whether a step is one row, or that row repeated, which the text doesn't call a row."""
    rows = list(rounds_in((step,)))
    if (
        len(rows) != 1
        or not isinstance(rows[0], st.Row)
        or rows[0].side is not None
        or step.at is None
    ):
        return False
    said = lines[step.at.line - 1] if step.at.line <= len(lines) else ""
    return rows[0].items[-1].__class__ not in TURNS and "row" not in said.lower()


def _in_rounds(thing: object) -> object:
    return (
        st.Round(thing.items, count=thing.count, at=thing.at)
        if isinstance(thing, st.Row)
        else thing
    )


def _joining(follower: _Follower, step: st.Step, hit: _Hit) -> Iterator[tuple[st.Step, ...]]:
    """Join the work before a round; it is not joined twice."""
    if "not joined" in hit.problem:
        yield st.Join(at=step.at), step
    elif "joined already" in hit.problem and step.count is None:
        yield (st.Note("in the round", at=step.at),)


# where needles and markers are


def _of_the_work(follower: _Follower, step: st.Step, hit: _Hit) -> Iterator[tuple[st.Step, ...]]:
    """Work a round over all stitches that stands under the name of a part: "Top: …"."""
    if "needles are arranged" in hit.problem:
        whole = rewritten(step, _without_part)
        if whole is not step:
            yield (whole,)


def _without_part(thing: object) -> object:
    if not isinstance(thing, st.Round | st.Row | st.Part) or len(thing.items) > 1:
        return thing
    only = thing.items[0]
    if not isinstance(only, On) or len(only.parts) != 1 or only.parts[0].startswith("needle"):
        return thing
    return attrs.evolve(thing, items=only.items)


def _divided(follower: _Follower, step: st.Step, hit: _Hit) -> Iterator[tuple[st.Step, ...]]:
    """Divide the stitches over the needles that a round names."""
    if "needles are arranged" not in hit.problem and "sts lie on:" not in hit.problem:
        return
    if (items := _items(step)) is None:
        return
    for parts in _shares(follower, items):
        yield st.Arrange(parts, at=step.at), step


def _between_markers(
    follower: _Follower, step: st.Step, hit: _Hit
) -> Iterator[tuple[st.Step, ...]]:
    """Work a round by its needles, where markers that it goes to were never hung."""
    if not ("marker" in hit.problem or "0 are left" in hit.problem):
        return
    on_needles = rewritten(step, _by_needles)
    if on_needles is step or (items := _items(on_needles)) is None:
        return
    yield (on_needles,)  # they are divided already
    for parts in _shares(follower, items):
        yield st.Arrange(parts, at=step.at), on_needles


def _items(step: st.Step) -> tuple[Item, ...] | None:
    """Return the items of the first round in a step that goes needle by needle."""
    for row in rounds_in((step,)):
        if isinstance(row, st.Round) and any(isinstance(item, On) for item in row.items):
            return row.items
    return None


def _by_needles(thing: object) -> object:
    """Put a round that goes from marker to marker as one that goes from needle to needle."""
    if not isinstance(thing, st.Round):
        return thing
    found = _in_stretches(thing.items)
    if found is None or (len(found) == 1 and not _goes_to_marker(thing.items)):
        return thing
    if len(found) == 1:
        return with_fields(thing, items=(On((), found[0]),))
    items = tuple(On((f"needle {n}",), one) for n, one in enumerate(found, start=1))
    return with_fields(thing, items=items)


def _goes_to_marker(items: Sequence[Item]) -> bool:
    ends = (getattr(item, "amount", None) for item in items_in(items))
    return any(isinstance(end, To) and end.where is Where.MARKER for end in ends)


def _in_stretches(items: Sequence[Item]) -> list[tuple[Item, ...]] | None:
    """Return the stretches of a round, each of which ends where it is told to end; None if not so.

    One stretch stands for a round that repeats it.
    """
    if len(items) == 1 and isinstance(items[0], Repeat):
        whole = items[0]
        twice = whole.times == To(Where.END) or whole.times == 2
        inside = _in_stretches(whole.items) if twice else None
        return inside if inside is not None and len(inside) == 1 else None
    found: list[tuple[Item, ...]] = []
    stretch: list[Item] = []
    left: int | None = None  # stitches to its end; None where that is not told yet
    for item in items:
        if isinstance(item, Mark):
            if Marking(item.doing) is Marking.PLACE or (stretch and left):
                return None
            continue
        if not isinstance(item, Run):
            return None
        if isinstance(item.amount, To):
            if left or item.amount.where is Where.GAP or not isinstance(item.amount.before, int):
                return None
            left = item.amount.before
            item = attrs.evolve(item, amount=To(Where.END, left))
        elif left is not None:
            many, takes = item.amount, _takes(item)
            if not isinstance(many, int):
                return None
            if takes == 1 and many > left > 0:  # "k2tog, k2, ssk": a marker hangs amid the k2
                found.append((*stretch, attrs.evolve(item, amount=left)))
                stretch, item, left = [], attrs.evolve(item, amount=many - left), None
            elif many * takes > left:
                return None
            else:
                left -= many * takes
        stretch.append(item)
        if left == 0:
            found.append(tuple(stretch))
            stretch, left = [], None
    return found if not stretch and 1 <= len(found) <= 4 else None


def _takes(run: Run) -> int:
    return STITCHES[run.stitch].takes if run.stitch in STITCHES else 1


def _shares(follower: _Follower, items: Sequence[Item]) -> Iterator[tuple[tuple[str, Count], ...]]:
    """Yield how the stitches may lie on the needles that these items name."""
    ons = [item for item in items if isinstance(item, On)]
    names = [name for item in ons for name in item.parts]
    many = len(set(names)) if names else 2
    if names and sorted(set(names)) != [f"needle {n}" for n in range(1, many + 1)]:
        return
    shaped = {name for item in ons for name in item.parts if _is_shaped(item.items)}
    columns = []
    for size, tally in enumerate(follower.tallies):
        if tally.behind:
            return
        column = _share(tally, follower.instep[size], many, shaped)
        if column is None:
            return
        columns.append(column)
    named = [f"needle {n}" for n in range(1, many + 1)]
    yield tuple(
        (name, sized(list(column)))
        for name, column in zip(named, zip(*columns, strict=True), strict=True)
    )


def _is_shaped(items: Sequence[Item]) -> bool:
    runs = (item.stitch for item in items_in(items) if isinstance(item, Run))
    return any(key in STITCHES and STITCHES[key].change for key in runs)


def _share(tally: Tally, instep: int, many: int, shaped: set[str]) -> list[int] | None:
    """Return how many stitches lie on each needle, None if that is not known."""
    total = tally.count
    hung = sorted(total - at for key, at in tally.ahead_at.items() if key[0] == MARKER)
    inner = [at for at in hung if 0 < at < total]
    if inner and len(inner) == many - 1:
        ends = [0, *inner, total]
        return [b - a for a, b in itertools.pairwise(ends)]
    sole = total - instep
    if many == 2:
        if total % 2 == 0 and (not instep or instep == sole):
            return [total // 2] * 2
        if not 0 < instep < total or len(shaped) != 1:
            return None
        return [sole, instep] if shaped == {"needle 1"} else [instep, sole]
    if 0 < instep < total and sole % 2 == 0:
        if many == 3:
            return [sole // 2, instep, sole // 2]
        if many == 4 and instep % 2 == 0:
            return [sole // 2, instep // 2, instep // 2, sole // 2]
    if many == 4 and total % 4 == 0:
        return [total // 4] * 4
    if many == 3 and total % 4 == 0:
        return [total // 4, total // 2, total // 4]
    return None


# lengths


def _long_enough(follower: _Follower, step: st.Step, hit: _Hit) -> Iterator[tuple[st.Step, ...]]:
    """Go on where a piece is as long already, by its gauge, as it is to become: a ruler differs."""
    if (
        hit.kind == "gauge"
        and "or more already" in hit.problem
        and isinstance(step, st.RepeatRounds)
    ):
        yield (with_fields(step, times=1),)


# turns that come to their end


def _turned_out(follower: _Follower, step: st.Step, hit: _Hit) -> Iterator[tuple[st.Step, ...]]:
    """End rows that are repeated until all is worked with the one behind which nothing is left."""
    if not (isinstance(step, st.RepeatRounds) and isinstance(step.times, UntilWorked)):
        return
    if "no gap ahead" not in hit.problem and "to be wrapped" not in hit.problem:
        return
    times = []
    for size in range(len(follower.walks)):
        done = follower.times(step, size)
        times.append(done)
    if not times or min(times) < 1:
        return
    whole = with_fields(step, times=sized(times), ending=0)
    apart = all(tally.held for tally in follower.tallies)
    if apart and len(step.steps) == 2:
        yield with_fields(whole, count=None), attrs.evolve(step.steps[0], count=step.count)
    yield (whole,)


def _to_its_end(follower: _Follower, step: st.Step, hit: _Hit) -> Iterator[tuple[st.Step, ...]]:
    """Go to the end of the round, where "the marker" is the one that hangs at its beginning."""
    if "no marker is ahead; markers placed: none" in hit.problem:
        yield (rewritten(step, _as_end),)


def _as_end(thing: object) -> object:
    if isinstance(thing, To) and thing.where is Where.MARKER and not thing.name:
        return attrs.evolve(thing, where=Where.END)
    return thing


_WAYS: tuple[Callable[[_Follower, st.Step, _Hit], Iterator[tuple[st.Step, ...]]], ...] = (
    _joining, _of_the_work, _divided, _between_markers, _to_its_end, _turned_out, _long_enough,
)  # fmt: skip
