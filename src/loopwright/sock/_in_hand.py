"""Which yarn is in hand, and which hang from the work, step by step through a sock."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import takewhile

import attrs

from loopwright.pattern import (
    BindOff,
    CutYarn,
    DrawUp,
    Graft,
    KeepPlace,
    Note,
    ProvisionalCastOn,
    RepeatRounds,
    ResumeStripes,
    Round,
    Row,
    Section,
    Step,
    Stripes,
    ThreeNeedleBindOff,
    UseYarn,
    items_of,
)
from loopwright.pattern.items import With
from loopwright.pattern.steps import MAIN
from loopwright.plurals import plural

__all__ = ["told_of_yarns"]

_CLOSING = (BindOff, DrawUp, Graft, ThreeNeedleBindOff)  # each cuts the yarn in use
_ASIDE = (CutYarn, Note, Section, UseYarn)  # nothing is worked by these
_YARNS = (CutYarn, UseYarn, Note)
_GO_ON = Note("The stripes go on.")
_END = Note("The stripes end here.")
_BELOW = "Yarn {} hangs some rnds below: cut it there, and join it anew here."
_CARRIED = (
    "Don't cut yarn {}: it is worked again after {}. Carry it up inside, at the rnd's beginning."
)
_FAR = 5  # rounds, from which on a yarn is cut and joined anew: common practice is 4 or so, up to 6
_TAIL = (
    "Yarn {} is in hand; cut it all the same: joined anew it has a tail at this corner, to close "
    "it with."
)


def told_of_yarns(steps: Iterable[Step]) -> list[Step]:
    """Return the steps with what is true of their yarns.

    A yarn is joined where none of it hangs from the work, and changed to where it does; the one in
    hand is not cut to be joined again, nor one that the next rounds need. Notes say where stripes
    go on and where they end.

    Examples
    --------
    >>> from loopwright.pattern import in_words, knit_round, knit_rounds
    >>> work = [UseYarn("A", new=True), Stripes([("A", 1), ("B", 2)]), knit_rounds(2),
    ...         CutYarn("A"), UseYarn("B"), knit_round(), UseYarn("A"), knit_round()]
    >>> for step in told_of_yarns(work):
    ...     print(in_words(step))
    Join yarn A.
    Work in stripes from here: *1 rnd A, 2 rnds B; rep from *.
    Rnds 1-2: Knit.
    Note: The stripes end here.
    Note: Don't cut yarn A: it is worked again after 1 rnd. Carry it up inside, ...
    Go on in B.
    Rnd 1: Knit.
    Change to A.
    Rnd 1: Knit.
    """
    return list(_Hands([*steps]).told())


@attrs.define
class _Hands:
    """The yarns at one place in the steps."""

    steps: Sequence[Step]
    hanging: set[str] = attrs.field(factory=set)
    in_hand: str = ""  # nothing where that isn't known
    sequence: tuple[str, ...] = ()
    done: int | None = 0  # rounds since the sequence began; None where that isn't known
    kept: int | None = 0
    is_striped: bool = False
    ended: bool = False  # whether stripes have, and no yarn was named since

    def told(self) -> Iterator[Step]:
        """Yield the steps, and notes before them."""
        for at, step in enumerate(self.steps):
            yield from self._ends(at)
            if isinstance(step, CutYarn):
                joined = self._following(at)
                if joined is not None and joined.name == step.name:
                    is_held = step.name == self.in_hand
                    if is_held and not self._needs_tail(at):
                        continue  # it would be joined again at the same stitch
                    yield Note((_TAIL if is_held else _BELOW).format(step.name))
                elif (many := self._needed_in(at, step.name)) is not None:
                    if many:
                        yield Note(_CARRIED.format(step.name, plural(many, "rnd")))
                    continue
            elif isinstance(step, UseYarn) and step.name != MAIN:
                is_held = step.name == self.in_hand
                new = step.name not in self.hanging or (step.new and not is_held)
                held = self.ended and is_held and not new
                step = attrs.evolve(step, new=new, held=held)
            elif isinstance(step, Round | Row | RepeatRounds):
                yield from self._first_worked(step)
            yield step
            if isinstance(step, ResumeStripes):
                yield from self._next_round()
            self._take(step)
            if isinstance(step, Section) and self.is_striped and self._goes_on(at):
                yield _GO_ON

    def _following(self, at: int) -> UseYarn | None:
        """Return the yarn that is taken next, where no work comes before it."""
        group = takewhile(lambda step: isinstance(step, _YARNS), self.steps[at:])
        return next((step for step in group if isinstance(step, UseYarn)), None)

    def _needed_in(self, at: int, name: str) -> int | None:
        """Return how many rounds come before a yarn that is cut is worked again at that place.

        None where they are many, or where other work comes first, so that the place is another.
        """
        rounds = 0
        for step in self.steps[at + 1 :]:
            if isinstance(step, Round | RepeatRounds):
                many = _rounds(step)
                if many and name in _named(step):
                    return rounds
                rounds += _FAR if many is None else many
                if rounds >= _FAR:
                    return None
            elif isinstance(step, UseYarn) and step.name == name and not step.new:
                return rounds
            elif (isinstance(step, CutYarn) and step.name == name) or not isinstance(step, _ASIDE):
                return None
        return None

    def _needs_tail(self, at: int) -> bool:
        """Tell whether new stitches over waste yarn follow, whose corner a tail closes."""
        group = takewhile(
            lambda step: isinstance(step, (*_YARNS, ProvisionalCastOn)), self.steps[at:]
        )
        return any(isinstance(step, ProvisionalCastOn) for step in group)

    def _ends(self, at: int) -> Iterator[Step]:
        """Yield the note that tells where the stripes end."""
        step, before = self.steps[at], self.steps[at - 1]
        if not self.is_striped or not isinstance(step, CutYarn | UseYarn):
            return
        after = [*takewhile(lambda one: isinstance(one, _YARNS), self.steps[at:])]
        follows = self.steps[at + len(after)] if at + len(after) < len(self.steps) else None
        joined = self._following(at)
        if joined is None or isinstance(follows, Stripes):
            return
        if self._needs_tail(at):
            self.is_striped = False
            return
        self.is_striped, self.ended = False, True
        if not isinstance(before, KeepPlace):
            yield _END

    def _next_round(self) -> Iterator[Step]:
        """Yield the note that tells which round of which stripe comes where they are resumed."""
        if self.kept is None or not self.sequence:
            return
        many = len(self.sequence)
        yarn = self.sequence[self.kept % many]
        onward = (self.sequence[(self.kept + by) % many] for by in range(many))
        back = (self.sequence[(self.kept - by) % many] for by in range(1, min(self.kept, many) + 1))
        left, done = (sum(1 for _ in takewhile(yarn.__eq__, way)) for way in (onward, back))
        if left < many:
            text = f"Their next rnd is in {yarn}, rnd {{}} of {{}} of that stripe."
            yield Note(text, numbers=[done + 1, done + left])

    def _goes_on(self, at: int) -> bool:
        """Tell whether rounds come before the stripes end."""
        ends = (CutYarn, UseYarn, KeepPlace, Stripes, ResumeStripes, *_CLOSING)
        here = takewhile(lambda step: not isinstance(step, ends), self.steps[at:])
        return any(isinstance(step, Round | Row | RepeatRounds) for step in here)

    def _first_worked(self, step: Step) -> Iterator[Step]:
        """Yield notes of yarns that the items of a round join."""
        for name in dict.fromkeys(_named(step)):
            if name not in {*self.hanging, MAIN}:
                yield Note(f"Join yarn {name} where it is first worked.")

    def _take(self, step: Step) -> None:
        """Go past one step."""
        if isinstance(step, UseYarn):
            self.hanging.add(step.name)
            self.in_hand, self.is_striped, self.ended = step.name, False, False
        elif isinstance(step, CutYarn):
            self.hanging.discard(step.name or self.in_hand)
            if step.name in ("", self.in_hand):
                self.in_hand = ""
        elif isinstance(step, Stripes):
            self.sequence, self.done, self.is_striped = step.rounds, step.start - 1, True
        elif isinstance(step, KeepPlace):
            self.kept = self.done
        elif isinstance(step, ResumeStripes):
            self.done, self.is_striped = self.kept, True
            if step.begun:
                self._stripe(1)
        elif isinstance(step, _CLOSING) and getattr(step, "stitches", None) is None:
            self.hanging.discard(self.in_hand)
            self.in_hand, self.is_striped = "", False
        elif isinstance(step, Round | Row | RepeatRounds):
            named = [*_named(step)]
            self.hanging.update(named)
            if named:
                self.in_hand = named[-1]
            elif self.is_striped:
                self._stripe(_rounds(step))

    def _stripe(self, rounds: int | None) -> None:
        """Work rounds in stripes."""
        if rounds is None or self.done is None:
            self.hanging.update(self.sequence)
            self.in_hand, self.done = "", None
            return
        many = len(self.sequence)
        for _ in range(rounds):
            self.in_hand = self.sequence[self.done % many]
            self.hanging.add(self.in_hand)
            self.done += 1


def _named(step: Step) -> Iterator[str]:
    return (item.yarn for item in items_of((step,)) if isinstance(item, With))


def _rounds(step: Step) -> int | None:
    """Return how many rounds or rows a step is; None where stitches tell, not numbers."""
    if not isinstance(step, RepeatRounds):
        return int(isinstance(step, Round | Row))
    inner = [_rounds(one) for one in step.steps]
    if not isinstance(step.times, int) or step.ending or step.every != 1 or None in inner:
        return None
    return step.times * sum(one for one in inner if one is not None)
