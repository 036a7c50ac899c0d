"""A stitch pattern all round the leg or the foot: colours that take turns, lace, texture.

The pattern's repeat has to go into the sock's stitches, so that they are chosen for it. Where yarns
take turns within a round, the one that isn't used passes behind as a float. The fabric gives
little, and a float that passes many stitches is caught on its way.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

import attrs

from loopwright.border import guard
from loopwright.errors import SizingError
from loopwright.fabric.checks import Limits
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.gauge import Gauge
from loopwright.length import Length
from loopwright.pattern import SockPart
from loopwright.pattern.items import Run, With
from loopwright.pattern.steps import CutYarn, Note, Round, Step, UseYarn
from loopwright.plurals import plural
from loopwright.sock._panels import PatternRound, StitchPattern
from loopwright.sock._yarns import SockYarns
from loopwright.sock.rounds import plain, repeated

__all__ = [
    "MOST_PASSED",
    "AllRound",
    "Catch",
    "as_high",
    "as_patterns",
    "heights",
    "narrowest",
    "require_room",
    "stitches_of",
    "with_all_round",
]  # fmt: skip

MOST_PASSED: Final = Limits().float_stitches
"""Stitches that a float may pass before it is caught, as the checks have it."""
_PARTS = (SockPart.LEG, SockPart.FOOT)


@attrs.frozen
class Catch:
    """Where a long float is caught.

    Parameters
    ----------
    round, stitch : int
        Of the pattern, and of its repeat, from 1.
    yarn : str
        The yarn that floats.
    passes : int, stitches
        That it passes in all.
    """

    round: int
    stitch: int
    yarn: str
    passes: int

    def __str__(self) -> str:
        return f"{self.yarn} behind st {self.stitch} in its rnd {self.round}"


def _part(value: SockPart | str) -> SockPart:
    part = SockPart(value)
    if part not in _PARTS:
        raise SizingError("all_round", f"part {part.value!r}", "expected 'leg' or 'foot'")
    return part


@attrs.frozen(kw_only=True)
class AllRound:
    """A stitch pattern all round the leg or the foot, in a band of rounds or over all of it.

    Parameters
    ----------
    pattern : StitchPattern
        Without stitches beside its repeat, and with as many stitches after each round as before;
        of several yarns, or of the part's own.
    part : SockPart or str
        ``"leg"`` or ``"foot"``.
    after : int, rounds
        Plain, of the part before it, in the order in which they are worked.
    times : int, optional
        How often its rounds are worked; as often as there is room where it isn't given. Behind
        rounds of several yarns one plain round is kept, for the heel's corners.
    gauge : Gauge, optional
        Counted over the pattern, at rest. Without it the sock is measured as plain knitting.
    stretch : float, optional
        How far a swatch of it can be pulled in its width: 1.25 is a quarter more than at rest.

    Raises
    ------
    SizingError
        A pattern that can't go all round, or rounds below 0.

    Examples
    --------
    >>> from loopwright import Foot, Gauge, Sock, write
    >>> from loopwright.sock import AllRound, SockYarn, StitchPattern
    >>> waves = StitchPattern.of_colours(["ABBA", "BAAB"])
    >>> sock = Sock(
    ...     foot=Foot.of(length="24.6 cm"),
    ...     gauge=Gauge.of(32, 44),
    ...     yarns=[SockYarn(name="A", colour="#24476b"), SockYarn(name="B")],
    ...     all_round=[AllRound(pattern=waves, after=6, times=3)],
    ... )
    >>> sock.check().ok, sock.colours
    (True, {'A': '#24476b'})
    >>> band = sock.all_round[0]
    >>> band.is_stranded, band.rounds(40), band.rounds_at_least  # of which one plain, behind it
    (True, 6, 7)
    >>> for line in write(sock.pattern()).splitlines():
    ...     if "B" in line:
    ...         print(line)
    Yarn: A; B
    Note: Join yarn B where it is first worked.
    Rnd 7: *K1 B, k2 A, k1 B; rep from * to end.
    Rnd 8: *K1 A, k2 B, k1 A; rep from * to end.
    Cut yarn B.
    """

    pattern: StitchPattern
    part: SockPart = attrs.field(default=SockPart.LEG, converter=_part)
    after: int = 0
    times: int | None = None
    gauge: Gauge | None = None
    stretch: float | None = None

    def __attrs_post_init__(self) -> None:
        pattern = self.pattern
        if any(pattern.width(0, due) for due in range(len(pattern.rounds))):
            found = f"{plural(pattern.before + pattern.after, 'stitch')} beside the repeats"
            raise SizingError("all_round", found, "a repeat alone, which goes all round")
        if pattern.changes_count:
            expected = "as many stitches after each round as before it"
            raise SizingError("all_round", "a pattern that changes the count", expected)
        if self.after < 0 or (self.times is not None and self.times < 1):
            found = f"{self.times} times after {plural(self.after, 'round')}"
            raise SizingError("all_round", found, "expected once or more, and no rounds below 0")
        if self.stretch is not None and not 1 <= self.stretch <= 3:
            expected = "expected 1.25 for a quarter more than at rest"
            raise SizingError("all_round", f"a stretch of {self.stretch:g}", expected)

    @property
    def is_stranded(self) -> bool:
        """Whether yarns take turns in its rounds, so that floats hold the fabric."""
        return any(len(set(_colours(one))) > 1 for one in self.pattern.rounds)

    def rounds(self, room: int) -> int:
        """Return how many rounds it takes of those that a part has.

        Raises
        ------
        SizingError
            The part is too short for it.
        """
        size, last = len(self.pattern.rounds), self._last
        times = self.times or max(1, (room - self.after - last) // size)
        if self.after + times * size + last > room:
            found = f"{self.after} plain and {plural(times * size, 'round')} of the pattern"
            kept = f", and {plural(last, 'plain one')} must follow" if last else ""
            has = f"the {self.part.value} has {plural(room, 'round')}{kept}"
            higher = ", or a higher leg (leg_height)" if self.part is SockPart.LEG else ""
            expected = f"{has}: fewer before it (after) or fewer repeats (times){higher}"
            raise SizingError("all_round", found, expected)
        return times * size

    @property
    def _last(self) -> int:
        """Plain rounds that must follow: a heel's corner needs a strand, and yarns leave floats."""
        return 1 if self.pattern.yarns else 0

    @property
    def rounds_at_least(self) -> int:
        """How many rounds of the part it needs, those before it left out."""
        return (self.times or 1) * len(self.pattern.rounds) + self._last

    def catches(self, most: int = MOST_PASSED) -> tuple[Catch, ...]:
        """Return where floats that pass more than `most` stitches are caught on their way.

        A float that goes on from one repeat to the next is caught where it is in the first of them.
        One of a yarn that rests for a whole round is carried up, and passes nothing.

        Examples
        --------
        >>> from loopwright.sock import AllRound, StitchPattern
        >>> dots = AllRound(pattern=StitchPattern.of_colours(["AAAAAAAAAB"]))
        >>> dots.catches()[0]
        Catch(round=1, stitch=6, yarn='B', passes=9)
        >>> [str(one) for one in dots.catches(most=3)]
        ['B behind st 4 in its rnd 1', 'B behind st 8 in its rnd 1']
        """
        found: list[Catch] = []
        for number, one in enumerate(self.pattern.rounds, start=1):
            colours = _colours(one)
            for yarn in dict.fromkeys(colours):
                found += _caught(number, yarn, colours, most)
        return tuple(found)

    def _steps(self, rounds: int) -> list[Step]:
        """Return this many of its rounds, in repeats."""
        told = [Round((one.to_end(),)) for one in self.pattern.rounds]
        return repeated(tuple(told), rounds // len(told))

    def _notes(self) -> list[Step]:
        """Return what is said before it: where floats are caught."""
        caught = self.catches()
        if not caught:
            return []
        where = "; ".join(map(str, caught))
        what = f"Floats over more than {MOST_PASSED} sts are caught on the inside"
        return [Note(f"{what}, in each repeat of the pattern: {where}.")]


def as_patterns(patterns: Iterable[AllRound]) -> tuple[AllRound, ...]:
    """Return patterns as a sock keeps them; typed, so that checkers know what it takes."""
    return tuple(patterns)


def _colours(one: PatternRound) -> list[str]:
    """Return the yarn of each stitch of a repeat, in the order in which they are worked."""
    found: list[str] = []
    yarn = ""
    for item in one.repeat:
        if isinstance(item, With):
            yarn = item.yarn
        elif isinstance(item, Run):
            assert isinstance(item.amount, int)
            found += [yarn] * item.amount
    return found


def _caught(number: int, yarn: str, colours: list[str], most: int) -> list[Catch]:
    own = [at for at, one in enumerate(colours) if one == yarn]
    if len(own) == len(colours):
        return []
    found = []
    for at, following in zip(own, [*own[1:], own[0] + len(colours)], strict=True):
        passes = following - at - 1
        pieces = -(-(passes + 1) // (most + 1))  # each no longer than `most`
        for piece in range(1, pieces):
            stitch = (at + round(piece * (passes + 1) / pieces)) % len(colours)
            found.append(Catch(number, stitch + 1, yarn, passes))
    return found


def require_room(those: Iterable[AllRound], leg: str, yarns: SockYarns, *, has_panel: bool) -> None:
    """Refuse patterns all round where the leg, stripes or a panel are in the way.

    Raises
    ------
    SizingError
        Also where a pattern is in a yarn that the sock doesn't have.
    """
    names = [one.name for one in yarns.yarns]
    for one in those:
        place = one.part.value
        if has_panel:
            raise SizingError("all_round", "a panel as well", "the one or the other")
        if yarns.is_striped(one.part):
            raise SizingError(
                "all_round", f"a striped {place}", f"stripes in other parts than {place}"
            )
        if one.part is SockPart.LEG and leg != "plain":
            raise SizingError("all_round", f"a {leg} leg", "expected a plain one")
        for name in one.pattern.yarns:
            if name not in names:
                known = ", ".join(names) or "none; give yarns with names"
                raise SizingError("all_round", f"yarn {name!r}", f"yarns are: {known}")


def stitches_of(*patterns: StitchPattern) -> StitchTable:
    """Return the stitch table with the stitches of one's own that these patterns have."""
    table = STITCHES
    for pattern in patterns:
        for stitch in pattern.stitches:
            if stitch.key not in table or table[stitch.key] != stitch:
                table = table.with_stitch(stitch)
    return table


def heights(
    those: Iterable[AllRound], part: SockPart, rounds: int, plain_gauge: Gauge
) -> list[tuple[Gauge, int]]:
    """Return the rounds of a part by gauge: those of patterns that were measured, and the rest."""
    own = [(one.gauge, one.rounds(rounds)) for one in those if one.part is part and one.gauge]
    return [(plain_gauge, rounds - sum(many for _, many in own)), *own]


def as_high(those: Iterable[AllRound], part: SockPart, rounds: int, plain_gauge: Gauge) -> int:
    """Return the rounds of a part, patterns among them, that are as high as `rounds` plain ones.

    Raises
    ------
    SizingError
        The part is too short for them, or they overlap.
    """
    mine = [one for one in those if one.part is part]
    found = rounds
    if any(one.gauge for one in mine):
        asked_mm = plain_gauge.height(rounds).mm
        least = max(one.after + one.rounds_at_least for one in mine)
        many = range(least, max(least, 3 * rounds) + 1)
        found = min(many, key=lambda one: abs(_high_mm(mine, part, one, plain_gauge) - asked_mm))
        if _high_mm(mine, part, found, plain_gauge) > asked_mm + plain_gauge.course_height_mm:
            found = rounds  # which is too few, and said so
    _placed(mine, part, found)
    return found


def _high_mm(those: list[AllRound], part: SockPart, rounds: int, plain_gauge: Gauge) -> float:
    parts = heights(those, part, rounds, plain_gauge)
    return sum(gauge.height(courses).mm for gauge, courses in parts)


def _placed(
    those: Iterable[AllRound], part: SockPart, rounds: int
) -> list[tuple[AllRound, int, int]]:
    """Return the patterns of a part in order, the plain rounds before each, and its rounds."""
    found, done = [], 0
    for one in sorted((one for one in those if one.part is part), key=lambda one: one.after):
        if one.after < done:
            expected = f"{done} or more: another ends there"
            raise SizingError("all_round", f"after {plural(one.after, 'round')}", expected)
        many = one.rounds(rounds)
        found.append((one, one.after - done, many))
        done = one.after + many
    return found


def narrowest(
    those: Iterable[AllRound], part: SockPart, tube: Length, plain_gauge: Gauge
) -> Length:
    """Return the girth of a part where it is narrowest: of its plain rounds, or of a pattern.

    Examples
    --------
    >>> from loopwright.sock import StitchPattern, narrowest
    >>> plain_gauge, waves = Gauge.of(32, 44), StitchPattern.of_colours(["ABBA", "BAAB"])
    >>> band = AllRound(pattern=waves, gauge=Gauge.of(34, 36))
    >>> round(narrowest([band], SockPart.LEG, plain_gauge.width(64), plain_gauge).mm)
    188
    """
    found = tube
    for one in those:
        if one.part is part and one.gauge is not None:
            factor = plain_gauge.stitches_per_cm / one.gauge.stitches_per_cm
            sd = one.gauge.stitches_sd / one.gauge.stitches_per_cm
            mm = factor * tube.mm
            if mm < found.mm:
                found = attrs.evolve(tube, mm=mm, sd_mm=math.hypot(tube.sd_mm * factor, sd * mm))
    return found


def with_all_round(
    those: Iterable[AllRound], part: SockPart, rounds: int, stitches: int, own: str
) -> list[Step]:
    """Return the rounds of a part, patterns among plain ones.

    Parameters
    ----------
    those : iterable of AllRound
    part : SockPart
    rounds, stitches : int
        Of the part.
    own : str
        The yarn of its plain rounds.

    Raises
    ------
    SizingError
        They don't fit into the part, or overlap.
    """
    found: list[Step] = []
    done = 0
    for one, before, many in _placed(those, part, rounds):
        found += [*plain(before, count=stitches), *one._notes(), *one._steps(many)]
        yarns = one.pattern.yarns
        found += [CutYarn(yarn) for yarn in yarns if yarn != own]
        found += [UseYarn(own)] if yarns else []
        done += before + many
    return [*found, *plain(rounds - done, count=stitches)]


guard(globals())
