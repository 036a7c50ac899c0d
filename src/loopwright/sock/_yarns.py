"""The yarns of a sock: which part is in which, and stripes that run through parts.

A part in a yarn of its own begins and ends with tails. Where the yarn of the round waits beside the
part (a heel in the round, short rows), it is taken up again. Where it doesn't (past a flap), it is
cut and joined anew. Stripes keep their place while a heel is knitted, so that instep and foot go on
where the leg stopped.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

import attrs

from loopwright.border import guard
from loopwright.errors import SizingError
from loopwright.pattern import (
    CutYarn,
    KeepPlace,
    Note,
    ResumeStripes,
    SockPart,
    Step,
    Stripes,
    UseYarn,
)
from loopwright.pattern.steps import MAIN
from loopwright.plurals import plural
from loopwright.yarn import Yarn

__all__ = ["JOG", "HeelYarn", "SockStripes", "SockYarn", "SockYarns", "as_yarns"]

JOG = Note(
    "Carry a yarn that rests up inside, where the rnds begin; it is not cut. Where a colour "
    "begins, its first rnd stands a step beside its last (the jog). To hide it, slip the first st "
    "of its second rnd purlwise."
)
CARRY = Note(
    "The rnds begin at another side than before the heel: carry the other colours there behind the "
    "sts, and catch them every few sts."
)
JOIN_NEXT = Note("Join the yarn of that rnd here, and each other one where its stripe begins.")
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


def _as_parts(parts: Iterable[SockPart | str]) -> tuple[SockPart, ...]:
    return tuple(SockPart(part) for part in parts)


def _as_bands(bands: Iterable[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    return Stripes(tuple(bands)).bands  # refuses what is none


@attrs.frozen(kw_only=True)
class SockYarn:
    """One yarn of a sock.

    Parameters
    ----------
    name : str
        As the pattern calls it: "A", or a word or two.
    yarn : Yarn, optional
        What its band says, for grams and balls.
    parts : tuple of SockPart or str
        Parts in this yarn: ``"cuff"``, ``"leg"``, ``"heel"``, ``"foot"``, ``"toe"``. Parts that no
        yarn names are in the first one.
    colour : str
        For pictures, ``"#24476b"``.

    Raises
    ------
    SizingError
        A name that a text can't hold, or no such colour.

    Examples
    --------
    >>> from loopwright import Foot, Gauge, Sock
    >>> from loopwright.sock import SockYarn
    >>> yarns = (SockYarn(name="A"), SockYarn(name="B", parts=["heel", "toe"]))
    >>> sock = Sock(foot=Foot.of(length="24.6 cm"), gauge=Gauge.of(32, 44), yarns=yarns)
    >>> [strand.name for strand in sock.fabric().strands if strand.role == "working"]
    ['A', 'B', 'B 2']
    """

    name: str
    yarn: Yarn | None = None
    parts: tuple[SockPart, ...] = attrs.field(default=(), converter=_as_parts)
    colour: str = ""

    def __attrs_post_init__(self) -> None:
        last = self.name.rpartition(" ")[2]
        if " " in self.name and last.isdigit():
            expected = "a name that doesn't end in a number: strands of one yarn are numbered"
            raise SizingError("yarn", repr(self.name), expected)
        try:
            UseYarn(self.name)
        except ValueError as error:
            raise SizingError("yarn", repr(self.name), str(error)) from error
        if SockPart.FINISHING in self.parts:
            raise SizingError("yarn", "'finishing'", "name parts of the sock")
        if self.colour and not _COLOUR.fullmatch(self.colour):
            raise SizingError("yarn", f"colour {self.colour!r}", "expected such as '#24476b'")


def as_yarns(yarns: Iterable[SockYarn]) -> tuple[SockYarn, ...]:
    """Return yarns as a sock keeps them; typed, so that checkers know what it takes."""
    return tuple(yarns)


@attrs.frozen(kw_only=True)
class SockStripes:
    """Stripes of a sock.

    Parameters
    ----------
    bands : tuple of (str, int)
        Yarn and rounds of each stripe of the sequence.
    parts : tuple of SockPart or str
        Parts that are striped, leg and foot unless others are named.

    Examples
    --------
    >>> from loopwright import Foot, Gauge, Sock, write
    >>> from loopwright.sock import SockStripes, SockYarn
    >>> sock = Sock(
    ...     foot=Foot.of(length="24.6 cm"),
    ...     gauge=Gauge.of(32, 44),
    ...     yarns=(SockYarn(name="A"), SockYarn(name="B")),
    ...     stripes=SockStripes(bands=[("A", 2), ("B", 3)]),
    ... )
    >>> for line in write(sock.pattern()).splitlines():
    ...     if "stripes" in line:
    ...         print(line)
    Work in stripes from here: *2 rnds A, 3 rnds B; rep from *.
    Keep your place in the stripes.
    Resume the stripes at that place.
    Note: The stripes go on.
    Note: The stripes end here.
    """

    bands: tuple[tuple[str, int], ...] = attrs.field(converter=_as_bands)
    parts: tuple[SockPart, ...] = attrs.field(
        default=(SockPart.LEG, SockPart.FOOT), converter=_as_parts
    )


@attrs.frozen
class HeelYarn:
    """What a heel has to know of yarns.

    Parameters
    ----------
    own : str
        The heel's.
    around : tuple of str
        Those of the rounds before it: one, or those of the stripes.
    beyond : tuple of str
        Those of the rounds after it.
    stripes : Stripes, optional
        How the rounds after it are striped.
    keeps_place : bool
        Whether the rounds before it have the same stripes.
    is_striped : bool
        Whether the heel goes on with them.

    Examples
    --------
    >>> heel = HeelYarn("B", ("A",), ("A",))
    >>> heel.changes, heel.before(), heel.after()
    (True, [UseYarn(count=None, name='B', new=False, held=False)], [CutYarn(count=None, ...
    """

    own: str = MAIN
    around: tuple[str, ...] = (MAIN,)
    beyond: tuple[str, ...] = (MAIN,)
    stripes: Stripes | None = None
    keeps_place: bool = False
    is_striped: bool = False

    @property
    def changes(self) -> bool:
        """Whether the heel is in another yarn than the rounds before it, so that theirs waits."""
        return not self.is_striped and self.around != (self.own,)

    @property
    def waits(self) -> bool:
        """Whether the yarn of the rounds after it waits beside the heel, uncut."""
        return self.changes and self.stripes is None and self.beyond[0] in self.around

    @property
    def is_by_turn(self) -> bool:
        """Whether stripes follow it, of which a yarn may wait beside it."""
        others = {*self.around} & {*self.beyond} - {self.own}
        return self.changes and self.stripes is not None and bool(others)

    @property
    def into_stripes(self) -> bool:
        """Whether stripes follow: they begin with the next round, not with the heel's last row."""
        return self.changes and self.stripes is not None

    def before(self, *, leaves: bool = False) -> list[Step]:
        """Return the steps that begin the heel; where it `leaves` their yarns, those are cut."""
        found: list[Step] = [KeepPlace()] if self.keeps_place else []
        if self.changes:
            # Its own, where it is one of the stripes', hangs some rounds back: joined anew here.
            again = self.own in self.around
            cut = [
                one for one in self.around if leaves or one not in self.beyond or one == self.own
            ]
            found += [CutYarn(one) for one in cut]
            found.append(UseYarn(self.own, new=again))
        return found

    @property
    def strands(self) -> tuple[bool, bool]:
        """Whether a strand runs across the corner before the instep, and before the sole."""
        return (not self.changes or self.waits, not self.changes)

    def passed(self) -> list[Step]:
        """Return the steps from the rounds before to those after, where no heel is made yet."""
        if self.keeps_place or (self.around == self.beyond and self.stripes is None):
            return []
        cut: list[Step] = [CutYarn(one) for one in self.around if one not in self.beyond]
        return [*cut, *([self.stripes, JOG] if self.stripes else [UseYarn(self.beyond[0])])]

    def after(self, *, left: bool = False, begun: bool = False) -> list[Step]:
        """Return the steps that end it; `left` as before, `begun` where parts begin a round."""
        if self.is_striped or (self.beyond == (self.own,) and not self.changes):
            return self._onward(begun=begun, left=left) if self.stripes is not None else []
        stays = self.own in self.beyond and not (left and self.changes)
        cut: list[Step] = [] if stays else [CutYarn(self.own)]
        if self.stripes is not None:
            return [*cut, *self._onward(begun=begun, left=left)]
        return [*cut, UseYarn(self.beyond[0], new=left and self.beyond[0] != self.own)]

    def _onward(self, *, begun: bool, left: bool = False, moved: bool = True) -> list[Step]:
        assert self.stripes is not None
        if self.keeps_place:
            told = [] if self.is_striped else [JOIN_NEXT if left else CARRY]
            return [ResumeStripes(begun), *(told if moved else [])]
        if begun:
            later = attrs.evolve(self.stripes, start=min(2, len(self.stripes.rounds)))
            return [UseYarn(self.stripes.rounds[0]), later, JOG]
        return [self.stripes, JOG]

    def joined(self) -> list[Step]:
        """Return the steps that take the round's yarn where closing the heel has cut its own."""
        if self.stripes is not None:
            return self._onward(begun=False, moved=False)
        return [UseYarn(self.beyond[0], new=not self.waits)]

    def later(self) -> list[Step]:
        """Return the step that joins the yarn of a heel that is made when all else is done."""
        return [UseYarn(self.own, new=True)]


@attrs.frozen
class SockYarns:
    """The yarns of a sock by part."""

    yarns: tuple[SockYarn, ...] = ()
    stripes: SockStripes | None = None

    def require(self) -> None:
        """Refuse names twice, parts in two yarns, and stripes in yarns that aren't there."""
        names = [one.name for one in self.yarns]
        parts = [part.value for one in self.yarns for part in one.parts]
        for what, listed in (("yarns", names), ("yarns", parts)):
            twice = next((one for one in listed if listed.count(one) > 1), None)
            if twice is not None:
                raise SizingError(what, f"{twice!r} twice", "name each once")
        if self.stripes is None:
            return
        for name, _ in self.stripes.bands:
            if name not in names:
                known = ", ".join(names) or "none; give yarns with names"
                raise SizingError("stripes", f"yarn {name!r}", f"yarns are: {known}")

    def of(self, part: SockPart) -> str:
        """Return the yarn of a part, by name."""
        for one in self.yarns:
            if part in one.parts:
                return one.name
        return self.yarns[0].name if self.yarns else MAIN

    def is_striped(self, part: SockPart) -> bool:
        """Whether a part is striped."""
        return self.stripes is not None and part in self.stripes.parts

    def last(self, part: SockPart) -> list[Step]:
        """Return the steps after the last part: what stripes left on the ball is cut."""
        return [CutYarn(one) for one in self._in(part)] if self.is_striped(part) else []

    def _in(self, part: SockPart) -> tuple[str, ...]:
        """Return the yarns that a part is in: its own, or those of the stripes."""
        if self.stripes is None or not self.is_striped(part):
            return (self.of(part),)
        return tuple(dict.fromkeys(name for name, _ in self.stripes.bands))

    def _begun(self, part: SockPart) -> list[Step]:
        if self.stripes is None or not self.is_striped(part):
            return [UseYarn(self.of(part))]
        return [Stripes(self.stripes.bands), *([JOG] if len(self._in(part)) > 1 else [])]

    def first(self, part: SockPart) -> list[Step]:
        """Return the steps before the cast-on, the first part."""
        if not self.yarns:
            return []
        first = [UseYarn(self._in(part)[0], new=True)]
        return [*first, *self._begun(part)] if self.is_striped(part) else [*first]

    def between(self, before: SockPart, after: SockPart) -> list[Step]:
        """Return the steps from one part to the next: yarns that aren't in both are cut."""
        were, are = self._in(before), self._in(after)
        striped = self.is_striped(before), self.is_striped(after)
        if not self.yarns or (were == are and striped[0] == striped[1]):
            return []
        return [*(CutYarn(one) for one in were if one not in are), *self._begun(after)]

    def heel(self, before: SockPart, after: SockPart, *, in_rows: bool) -> HeelYarn:
        """Return what the heel between two parts has to know of yarns."""
        if not self.yarns:
            return HeelYarn()
        striped = self.is_striped(before), self.is_striped(after)
        both, goes_on = all(striped), self.is_striped(SockPart.HEEL)
        if goes_on:
            self._require_even(in_rows=in_rows)
        onward = Stripes(self.stripes.bands) if self.stripes is not None and striped[1] else None
        own = self.of(SockPart.HEEL)
        return HeelYarn(
            own, self._in(before), self._in(after), onward, both, both and goes_on
        )  # fmt: skip

    def _require_even(self, *, in_rows: bool) -> None:
        assert self.stripes is not None
        for name, rounds in self.stripes.bands:
            if in_rows and rounds % 2:
                found = f"{plural(rounds, 'round')} of {name} through a heel worked in rows"
                advice = "expected even numbers, so that the yarns meet at one side; or no heel"
                raise SizingError("stripes", found, advice)


guard(globals())
