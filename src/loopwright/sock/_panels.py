"""A stitch pattern laid on leg and instep: as many repeats as a size takes, the rest background.

A pattern knows its repeat, and what stands before the first and after the last: ``k1, *yo, ssk; rep
from *, k1``. On a sock it stands centred on the instep, from cuff to a round or two before the toe,
over the heel without a break. Whatever the heel's own rounds do to the sole, they work the panel's
next round on the instep.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from typing import Any

import attrs

from loopwright import pattern as written
from loopwright.border import guard
from loopwright.errors import SizingError, StepError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.gauge import Gauge
from loopwright.pattern.items import Item, Repeat, Run, With, WorkPanel, k
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.steps import RepeatRounds, Round, Step
from loopwright.pattern.values import To
from loopwright.plurals import plural
from loopwright.sock.rounds import plain, repeated

__all__ = ["Panel", "PanelFit", "PatternRound", "StitchPattern"]

_LARGEST_CHART = 100_000  # stitches; no leg and foot together have half as many
_EACH_SIDE = 1  # stitches of background that a closed corner of the heel needs beside the panel
Part = tuple[Run | With, ...]


@attrs.frozen
class PatternRound:
    """One round of a stitch pattern: before the repeats, one repeat, after them.

    Examples
    --------
    >>> from loopwright.pattern import read
    >>> from loopwright.sock import PatternRound
    >>> told = read("CO 9. Join. Rnd 1: K1, *yo, ssk; rep from * to last 2 sts, k2.").steps[2]
    >>> one = PatternRound.of(told.items)
    >>> [run.stitch for run in one.repeat], one.after[0].amount
    (['yo', 'ssk'], 2)
    """

    repeat: tuple[Run | With, ...]
    before: tuple[Run | With, ...] = ()
    after: tuple[Run | With, ...] = ()

    @classmethod
    def of(cls, items: Iterable[Item]) -> PatternRound:
        """Return the round that items say: ``k1, *yo, ssk; rep from * to last st, k1``."""
        told = tuple(items)
        places = [at for at, item in enumerate(told) if isinstance(item, Repeat)]
        if not places:
            return cls(_runs(told))
        (at, *more) = places
        inner = told[at]
        if more or not isinstance(inner, Repeat) or not isinstance(inner.times, To | int):
            raise StepError("StitchPattern", "one repeat in a round: *yo, ssk; rep from * to end")
        return cls(_runs(inner.items), _runs(told[:at]), _runs(told[at + 1 :]))

    def to_end(self) -> Item:
        """Return its repeat all round; of one stitch throughout it is a run of that.

        Examples
        --------
        >>> from loopwright.sock import StitchPattern
        >>> lace = StitchPattern.of(["*yo, ssk; rep from *", "*k2; rep from *"])
        >>> [type(one.to_end()).__name__ for one in lace.rounds]
        ['Repeat', 'Run']
        """
        stitch = _stitch(self.repeat)
        return Run(stitch, To()) if stitch else Repeat(self.repeat, To())


def _stitch(part: Part) -> str:
    """Return the stitch that all of it is of, "" where there are several or a yarn is named."""
    found = {item.stitch if isinstance(item, Run) else "" for item in part}
    return found.pop() if len(found) == 1 else ""


def _runs(items: tuple[Item, ...]) -> Part:
    found: list[Run | With] = []
    for item in items:
        if isinstance(item, With) or (isinstance(item, Run) and isinstance(item.amount, int)):
            found.append(item)
        else:
            raise StepError("StitchPattern", "expected stitches and their numbers: k2, yo, k2tog")
    return tuple(found)


def _takes(part: Part, table: StitchTable) -> int:
    return sum(table[run.stitch].takes * _times(run) for run in part if isinstance(run, Run))


def _leaves(part: Part, table: StitchTable) -> int:
    return sum(table[run.stitch].leaves * _times(run) for run in part if isinstance(run, Run))


def _times(run: Run) -> int:
    assert isinstance(run.amount, int)
    return run.amount


_PARTS = ("before", "repeat", "after")


@attrs.frozen
class StitchPattern:
    """A stitch pattern as a thing of its own.

    Parameters
    ----------
    rounds : tuple of PatternRound
        From its first; each works on what the one before left, the first on what the last did.
    stitches : StitchTable
        With stitches of your own, where it has any.

    Raises
    ------
    StepError
        No rounds, or rounds that don't fit on each other.

    Examples
    --------
    >>> from loopwright.sock import StitchPattern
    >>> lace = StitchPattern.of(["p1, *k2tog, yo, k3, p1; rep from *", "p1, *k5, p1; rep from *"])
    >>> lace.multiple, lace.before, lace.after, lace.width(3)
    (6, 1, 0, 19)
    >>> lace.changes_count, lace.is_whole(3, due=1), len(lace.told(3).rounds)
    (False, True, 2)
    >>> StitchPattern.of(["k2, yo, k2tog", "k5"])
    Traceback (most recent call last):
    ...
    loopwright.errors.StepError: StitchPattern: round 1 takes 4 stitches, and round 2 leaves 5
    """

    rounds: tuple[PatternRound, ...]
    stitches: StitchTable = attrs.field(default=STITCHES, repr=False)

    def __attrs_post_init__(self) -> None:
        if not self.rounds:
            raise StepError("StitchPattern", "there are no rounds")
        for number, one in enumerate(self.rounds):
            last = self.rounds[number - 1]
            for part in _PARTS:
                takes = _takes(getattr(one, part), self.stitches)
                leaves = _leaves(getattr(last, part), self.stitches)
                if takes != leaves:
                    before = number or len(self.rounds)
                    told = "" if part == "repeat" else f" {part} its repeats"
                    found = f"round {number + 1}{told} takes {plural(takes, 'stitch')}"
                    raise StepError("StitchPattern", f"{found}, and round {before} leaves {leaves}")
        if not self.multiple:
            raise StepError("StitchPattern", "its repeat takes no stitches")

    @classmethod
    def of(
        cls, told: Iterable[str] | Iterable[Step], *, stitches: StitchTable = STITCHES
    ) -> StitchPattern:
        """Return the pattern of texts, a round each, or of rounds as a chart gives them.

        Raises
        ------
        PatternSyntaxError, StepError
            A text that can't be read, or that says more than one round of a pattern.

        Examples
        --------
        >>> from loopwright.pattern import Round, k
        >>> from loopwright.sock import StitchPattern
        >>> StitchPattern.of([Round([k(2), Run("p", 2)])]).multiple
        4
        """
        rounds: list[PatternRound] = []
        for one in told:
            if isinstance(one, str):
                text = one.strip().rstrip(".")
                # "rep from *" with nothing behind it goes on to what follows, or to the end.
                rounds += map(PatternRound.of, _items(_ended(text), stitches))
            else:
                rounds += map(PatternRound.of, _flat(one))
        return cls(tuple(rounds), stitches)

    @classmethod
    def of_colours(
        cls, rows: Sequence[str], *, yarns: Mapping[str, str] | None = None
    ) -> StitchPattern:
        """Return the pattern of a chart of colours, knitted in every stitch.

        Parameters
        ----------
        rows : sequence of str
            One repeat of the chart as it is printed: the first round at the bottom, each read from
            the right; a character a stitch.
        yarns : mapping of str to str, optional
            The yarn of each character; by default its name is the character itself.

        Raises
        ------
        StepError
            Rows of different widths, more than 100,000 stitches, or a character that stands for no
            yarn.

        Examples
        --------
        >>> from loopwright.sock import StitchPattern
        >>> waves = StitchPattern.of_colours(["ABBA", "BAAB"])
        >>> waves.multiple, waves.yarns, waves == StitchPattern.of(
        ...     ["*k1 B, k2 A, k1 B; rep from *", "*k1 A, k2 B, k1 A; rep from *"]
        ... )
        (4, ('B', 'A'), True)
        """
        widths = {len(row) for row in rows}
        if len(widths) != 1:
            found = f"rows of {', '.join(str(width) for width in sorted(widths)) or 'no'} stitches"
            raise StepError("StitchPattern", f"{found}; expected rows of one width")
        if (stitches := len(rows) * widths.pop()) > _LARGEST_CHART:
            found = f"a chart of {stitches:,} stitches; expected at most {_LARGEST_CHART:,}"
            raise StepError("StitchPattern", found)
        unknown = {one for row in rows for one in row if yarns is not None and one not in yarns}
        if unknown:
            found = f"no yarn for {', '.join(sorted(map(repr, unknown)))}"
            raise StepError("StitchPattern", found)
        rounds: list[PatternRound] = []
        for row in reversed(rows):
            items: list[Run | With] = []
            for one, run in groupby(reversed(row)):
                items += [With(one if yarns is None else yarns[one]), k(len(list(run)))]
            rounds.append(PatternRound(tuple(items)))
        return cls(tuple(rounds))

    @property
    def yarns(self) -> tuple[str, ...]:
        """The yarns that its rounds name, in the order in which they come in."""
        named = (item.yarn for one in self.rounds for part in (one.before, one.repeat, one.after)
                 for item in part if isinstance(item, With))  # fmt: skip
        return tuple(dict.fromkeys(named))

    @property
    def multiple(self) -> int:
        """Stitches of one repeat, before the first round."""
        return _takes(self.rounds[0].repeat, self.stitches)

    @property
    def before(self) -> int:
        """Stitches before the first repeat."""
        return _takes(self.rounds[0].before, self.stitches)

    @property
    def after(self) -> int:
        """Stitches after the last repeat."""
        return _takes(self.rounds[0].after, self.stitches)

    def width(self, repeats: int, due: int = 0) -> int:
        """Return the stitches of a number of repeats, before the round that is due."""
        one = self.rounds[due % len(self.rounds)]
        outside = _takes(one.before, self.stitches) + _takes(one.after, self.stitches)
        return outside + repeats * _takes(one.repeat, self.stitches)

    def is_whole(self, repeats: int, due: int) -> bool:
        """Whether it has as many stitches before this round as before its first."""
        return self.width(repeats, due) == self.width(repeats)

    @property
    def changes_count(self) -> bool:
        """Whether some round leaves more stitches than it takes, or fewer."""
        return any(not self.is_whole(1, due) for due in range(len(self.rounds)))

    def turned(self, by: int) -> StitchPattern | None:
        """Return its repeat alone, begun some stitches later; None where that cuts a stitch.

        Examples
        --------
        >>> from loopwright.sock import StitchPattern
        >>> lace = StitchPattern.of(["p1, *k2tog, yo, k3, p1; rep from *"])
        >>> "".join(run.stitch for run in lace.turned(2).rounds[0].repeat)  # k3, p1, k2tog, yo
        'kpk2togyo'
        >>> lace.turned(1)  # in the middle of k2tog
        """
        rounds = [_turned(one.repeat, by % self.multiple, self.stitches) for one in self.rounds]
        whole = tuple(PatternRound(part) for part in rounds if part is not None)
        return StitchPattern(whole, self.stitches) if len(whole) == len(rounds) else None

    def told(self, repeats: int) -> PanelRounds:
        """Return its rounds for a number of repeats, as a step of a pattern."""
        return PanelRounds([_worked(one, repeats) for one in self.rounds])


def _worked(one: PatternRound, repeats: int) -> tuple[Item, ...]:
    """Return a round of a number of repeats; of one stitch throughout it is a run of that."""
    if stitch := _stitch((*one.before, *one.repeat, *one.after)):
        many = [sum(_times(run) for run in part if isinstance(run, Run))
                for part in (one.before, one.repeat, one.after)]  # fmt: skip
        return (Run(stitch, many[0] + repeats * many[1] + many[2]),)
    return (*one.before, Repeat(one.repeat, repeats), *one.after)


def _turned(part: Part, by: int, table: StitchTable) -> Part | None:
    """Return a repeat begun some stitches later, where as many are taken as left till there."""
    single: list[Run | With] = []
    for item in part:
        times = _times(item) if isinstance(item, Run) else 1
        single += [attrs.evolve(item, amount=1)] * times if isinstance(item, Run) else [item]
    for at in range(len(single)):
        head, tail = tuple(single[:at]), tuple(single[at:])
        if _takes(head, table) == by == _leaves(head, table):
            return _gathered((*tail, *head))
    return None


def _gathered(part: Part) -> Part:
    """Return stitches one by one as runs."""
    found: list[Run | With] = []
    for item in part:
        last = found[-1] if found else None
        if isinstance(item, Run) and isinstance(last, Run) and last.stitch == item.stitch:
            found[-1] = attrs.evolve(last, amount=_times(last) + 1)
        else:
            found.append(item)
    return tuple(found)


def _ended(text: str) -> str:
    head, star, tail = text.partition("rep from *")
    if not star or tail.strip().startswith("to "):
        return text
    last = tail.strip().lstrip(",").strip()
    if not last:
        return f"{head}{star} to end"
    rest = written.instructions(f"Rnd 1: {last}.")[0]
    assert isinstance(rest, Round)
    stitches = _takes(_runs(rest.items), STITCHES)
    return f"{head}{star} to last {stitches} sts, {last}"


def _items(text: str, stitches: StitchTable) -> list[tuple[Item, ...]]:
    steps = written.instructions(f"Rnd 1: {text}.", stitches=stitches)
    if len(steps) != 1 or not isinstance(steps[0], Round):
        raise StepError("StitchPattern", f"{text[:40]!r} is no single round")
    items = steps[0].items
    if len(items) == 1 and isinstance(items[0], Run) and isinstance(items[0].amount, To):
        raise StepError("StitchPattern", f"{text[:40]!r}: say how many stitches: k6")
    return [items]


def _flat(step: Any) -> Iterable[tuple[Item, ...]]:
    if isinstance(step, RepeatRounds) and isinstance(step.times, int) and step.every == 1:
        for _ in range(step.times):
            for inner in step.steps:
                yield from _flat(inner)
    elif isinstance(step, Round):
        yield step.items
    else:
        raise StepError("StitchPattern", f"expected rounds, found {type(step).__name__}")


@attrs.frozen(kw_only=True)
class Panel:
    """A stitch pattern laid on the front of the leg and the instep, centred.

    Parameters
    ----------
    pattern : StitchPattern
    repeats : int, optional
        So many; as many as a size takes where it isn't given.
    plain : int, rounds
        Left between the panel and the toe.
    gauge : Gauge, optional
        Counted over the panel's pattern, at rest.
    matches_cuff : bool
        Move it by a stitch or two, so that it begins where a repeat of the cuff does.
    round_leg : bool
        Whether its repeats go all round the leg, and on along the instep. The sock's stitches are
        chosen for it, and plain rounds at the cuff make the leg's rounds whole repeats.

    Raises
    ------
    SizingError
        Fewer than one repeat.

    Examples
    --------
    >>> from loopwright import Foot, Gauge, Sock
    >>> from loopwright.sock import Panel, StitchPattern
    >>> lace = StitchPattern.of(["p1, *k2tog, yo, k3, p1; rep from *", "p1, *k5, p1; rep from *"])
    >>> foot = Foot.of(length="24.6 cm")
    >>> sock = Sock(foot=foot, gauge=Gauge.of(32, 44), panel=Panel(pattern=lace))
    >>> print(sock.plan().panel)
    5 repeats of 6 stitches, 31 of the instep's 34; 1 and 2 plain beside them
    >>> sock.table["ssk"].takes, sock.panel_draws_in(64).mm  # unless it has a gauge of its own
    (2, 0.0)
    """

    pattern: StitchPattern
    repeats: int | None = None
    plain: int = 1
    gauge: Gauge | None = None
    matches_cuff: bool = False
    round_leg: bool = False

    def __attrs_post_init__(self) -> None:
        if (self.repeats is not None and self.repeats < 1) or self.plain < 0:
            found = f"{self.repeats} repeats, {self.plain} plain rounds"
            raise SizingError("panel", found, "expected 1 repeat or more, and no rounds below 0")
        if self.pattern.yarns:
            found = f"yarns {', '.join(self.pattern.yarns)} in its rounds"
            raise SizingError("panel", found, "yarns that take turns go all round: see AllRound")
        if self.round_leg and self.pattern.changes_count:
            expected = "as many stitches after each round as before it"
            raise SizingError("panel", "a pattern that changes the count all round", expected)

    def fitted(self, instep: int, *, lead: int = 0, cuff: int = 1) -> PanelFit:
        """Return how it lies on an instep this wide.

        Parameters
        ----------
        instep : int, stitches
        lead : int, stitches
            Of the cuff's round before the instep.
        cuff : int, stitches
            Of one repeat of the cuff.

        Raises
        ------
        SizingError
            The instep can't hold it; says which could.
        """
        pattern, outside = self.pattern, self.pattern.before + self.pattern.after
        room = instep - 2 * _EACH_SIDE - outside
        repeats = room // pattern.multiple if self.repeats is None else self.repeats
        width = pattern.width(max(repeats, 1))
        if repeats < 1 or width + 2 * _EACH_SIDE > instep:
            found = f"{plural(width, 'stitch')} wide on an instep of {instep}"
            least = width + 2 * _EACH_SIDE
            expected = f"an instep of {least} stitches holds it, a round of about {2 * least}"
            raise SizingError("panel", found, expected)
        middle = (instep - width) // 2
        places = [*range(_EACH_SIDE, instep - width - _EACH_SIDE + 1)]
        if self.round_leg:
            places = [at for at in places if pattern.turned(-(lead + at + pattern.before))]
            if not places:
                found = (
                    f"{plural(width, 'stitch')} on {instep}: its repeats can't go on round the leg"
                )
                raise SizingError("panel", found, "fewer repeats, which leave it room to move")
        if self.matches_cuff:
            places = [at for at in places if (lead + at) % cuff == 0] or places
        elif not self.round_leg:
            places = [middle]
        right = min(places, key=lambda at: abs(at - middle))
        turned = pattern.turned(-(lead + right + pattern.before)) if self.round_leg else None
        return PanelFit(pattern, repeats, width, right, instep - width - right, leg=turned)


@attrs.frozen
class PanelFit:
    """A panel as one size has it.

    Parameters
    ----------
    pattern : StitchPattern
    repeats : int
    width : int, stitches
    right, left : int, stitches
        Of background, before it and after it as the instep is worked.
    start : int, rounds
        Plain rounds before its first.
    rounds : int
        Rounds of it besides those that the heel works.
    leg : StitchPattern, optional
        What goes all round the leg, from the round's beginning.

    Examples
    --------
    >>> ribs = StitchPattern.of(["k2, p2"])
    >>> fit = PanelFit(ribs, repeats=7, width=28, right=2, left=2, leg=ribs)
    >>> print(fit)
    all round the leg; on the instep 7 repeats of 4 stitches, 28 of the instep's 32; 2 plain ...
    >>> [step.times for step in fit.on_leg(rounds=20, stitches=64, down=True)]  # plain, ribs
    [0, 20]

    On an instep of 34 stitches, with 20 rounds before the heel:

    >>> from loopwright.sock import Panel
    >>> laid = Panel(pattern=ribs).fitted(34).placed(first=20, before=4, after=10, then=30)
    >>> print(laid.said.format(*laid.numbers))
    repeats of 4 sts: 8; 32 sts in all, from st 2 of the instep on
    >>> laid.rounds, len(laid.told().rounds), [type(item).__name__ for item in laid.items()]
    (30, 1, ['Run', 'WorkPanel', 'Run'])
    """

    pattern: StitchPattern
    repeats: int
    width: int
    right: int
    left: int
    start: int = 0
    rounds: int = 0
    leg: StitchPattern | None = None

    def __str__(self) -> str:
        of = f"{plural(self.repeats, 'repeat')} of {plural(self.pattern.multiple, 'stitch')}"
        instep = self.right + self.width + self.left
        of = of if self.leg is None else f"all round the leg; on the instep {of}"
        beside = f"{self.right} plain at either side"
        if self.left != self.right:
            beside = f"{self.right} and {self.left} plain beside them"
        return f"{of}, {self.width} of the instep's {instep}; {beside}"

    @property
    def said(self) -> str:
        """What a pattern says of it, with places for `numbers`."""
        sts = plural(self.pattern.multiple, "st")
        return f"repeats of {sts}: {{}}; {{}} sts in all, from st {{}} of the instep on"

    @property
    def numbers(self) -> tuple[int, ...]:
        """Repeats, stitches, and where on the instep it begins, from 1."""
        return self.repeats, self.width, self.right + 1

    def placed(self, first: int, before: int, after: int, then: int) -> PanelFit:
        """Return it with its rounds.

        Where rounds change the count, the panel begins some rounds late and ends some early. So it
        is whole where the heel begins, in the round after it, and at its own end.

        Parameters
        ----------
        first, before, after, then : int, rounds
            That there are before the heel, of the heel before its own part and after it, and
            beyond.

        Raises
        ------
        SizingError
            It can't be whole there.
        """
        pattern, size = self.pattern, len(self.pattern.rounds)
        for start in range(min(size, first + 1)):
            heel = first - start + before
            due = (first - start, heel, heel + 1)
            # All round the leg it goes on with its first round.
            on_leg = self.leg is None or not first or (heel + after) % size == 0
            if on_leg and all(pattern.is_whole(self.repeats, at) for at in due):
                break
        else:
            found = f"{plural(size, 'round')} that change the count, {first} before the heel"
            raise SizingError("panel", found, "expected rounds without a change among them")
        ends = (at for at in range(max(then, 0), -1, -1)
                if pattern.is_whole(self.repeats, heel + after + at))  # fmt: skip
        return attrs.evolve(self, start=start, rounds=next(ends, 0))

    def on_leg(self, rounds: int, stitches: int, *, down: bool) -> list[Step]:
        """Return the rounds of the leg: whole repeats all round, and plain ones at the cuff."""
        assert self.leg is not None
        whole, rest = divmod(rounds, len(self.leg.rounds))
        told = tuple(Round((one.to_end(),)) for one in self.leg.rounds)
        pattern, bare = repeated(told, whole, count=stitches), plain(rest, count=stitches)
        return [*bare, *pattern] if down else [*pattern, *bare]

    def told(self) -> PanelRounds:
        """Return the step that tells its rounds."""
        return self.pattern.told(self.repeats)

    def items(self, *, before: int = 0, after: int = 0) -> tuple[Item, ...]:
        """Return the instep's items, where some stitches of it are worked otherwise."""
        return (k(self.right - before), WorkPanel(), k(self.left - after))


guard(globals())
