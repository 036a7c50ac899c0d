"""Cuffs: the band at the upper edge, and the edge itself.

A cuff must pass the heel: official tops of 1939-40 had to stretch 1.68 times (see
shared/standards.toml). So its cast-on or bind-off is a stretchy one unless another is chosen.
"""

from __future__ import annotations

from typing import Any, ClassVar

import attrs

from loopwright.errors import SizingError
from loopwright.pattern.items import Item, Repeat, Run, k, p
from loopwright.pattern.steps import BindOff, CastOn, Join, Note, Round, Step
from loopwright.pattern.values import To
from loopwright.sock._parts import Parts
from loopwright.sock.needles import taken
from loopwright.sock.rounds import repeated

__all__ = ["TIGHT_BAND", "Cuff", "cuff", "cuff_named", "cuff_names"]

TIGHT_BAND = Note(
    "The upper band should mark no skin. For legs with diabetes, neuropathy or swelling ask a "
    "clinician before wearing a sock that holds by its band.",
    caution=True,
)


@attrs.frozen(kw_only=True)
class Cuff:
    """A cuff: the repeat of its rib, its height and its edge.

    `cuff_named` has the usual ones.

    Parameters
    ----------
    repeat : tuple of Run
        One repeat of its rounds, such as ``(k(2), p(2))``.
    height_mm : float, mm
    stretchy : bool
        Whether cast-on (cuff down) and bind-off (toe up) are stretchy ones.

    Raises
    ------
    SizingError
        A repeat without stitches, or a height that isn't above 0.

    Examples
    --------
    >>> from loopwright.pattern import Pattern, in_words, write
    >>> cuff = cuff_named("2x2 rib", height_mm=50.0)
    >>> cuff.multiple, cuff.is_rib, cuff.rounds(course_mm=2.5)
    (4, True, 20)
    >>> in_words(cuff.round)
    'Rnd 1: *K2, p2; rep from * to end.'
    >>> print(write(Pattern("", cuff.first_steps(stitches=64, rounds=20))), end="")
    Cast on 64 sts, in a stretchy way.
    Join to work in the round.
    Rnds 1-20: *K2, p2; rep from * to end. (64 sts)
    >>> in_words(cuff.last_steps(stitches=64, rounds=20)[-1])
    'Bind off all sts with a stretchy bind-off.'
    """

    name: ClassVar[str] = "a cuff of its own"

    repeat: tuple[Run, ...]
    height_mm: float = 40.0
    stretchy: bool = True

    def __attrs_post_init__(self) -> None:
        if not self.repeat or not self.multiple:
            raise SizingError("cuff", "no stitches", "expected a repeat such as k2, p2")
        if not self.height_mm > 0:
            raise SizingError("cuff", f"{self.height_mm:g} mm", "expected a height above nothing")

    @property
    def multiple(self) -> int:
        """Stitches of one repeat."""
        return taken(self.repeat)

    @property
    def is_rib(self) -> bool:
        """Whether knit and purl stand side by side, so that it draws in."""
        return any(run.stitch.startswith("p") for run in self.repeat)

    @property
    def round(self) -> Round:
        """One round of the cuff."""
        plain = all(run.stitch == "k" for run in self.repeat)
        items: tuple[Item, ...] = (Run("k", To()),) if plain else (Repeat(self.repeat, To()),)
        return Round(items)

    def rounds(self, course_mm: float) -> int:
        """Return how many rounds of `course_mm` (mm) each come nearest to its height, 1 or more."""
        return max(1, round(self.height_mm / course_mm))

    def first_steps(self, stitches: int, rounds: int) -> list[Step]:
        """Return the cast-on and the cuff, cuff down."""
        return [
            CastOn(stitches, "stretchy" if self.stretchy else "long-tail"),
            Join(),
            *self._rounds(stitches, rounds),
        ]

    def last_steps(self, stitches: int, rounds: int) -> list[Step]:
        """Return the cuff and the bind-off, toe up."""
        off = BindOff(None, "stretchy" if self.stretchy else "plain")
        return [*self._rounds(stitches, rounds), off]

    def _rounds(self, stitches: int, rounds: int) -> list[Step]:
        return repeated((self.round,), rounds, count=stitches)


cuff: Parts[Cuff] = Parts("cuff", Cuff, {"name": ()})
"""Class decorator: let socks ask for this cuff by its ``name``; see `loopwright.sock.Parts`."""


@cuff
@attrs.frozen(kw_only=True)
class RibOneByOne(Cuff):
    """Knit 1, purl 1."""

    name: ClassVar[str] = "1x1 rib"

    repeat: tuple[Run, ...] = attrs.field(default=(k(1), p(1)), init=False)


@cuff
@attrs.frozen(kw_only=True)
class RibTwoByTwo(Cuff):
    """Knit 2, purl 2."""

    name: ClassVar[str] = "2x2 rib"

    repeat: tuple[Run, ...] = attrs.field(default=(k(2), p(2)), init=False)


@cuff
@attrs.frozen(kw_only=True)
class TwistedRib(Cuff):
    """Knit 1 through the back loop, purl 1."""

    name: ClassVar[str] = "twisted rib"

    repeat: tuple[Run, ...] = attrs.field(default=(Run("ktbl"), p(1)), init=False)


@cuff
@attrs.frozen(kw_only=True)
class RolledCuff(Cuff):
    """Plain knitting, which rolls by itself: a few rounds of it are cuff enough."""

    name: ClassVar[str] = "rolled"

    repeat: tuple[Run, ...] = attrs.field(default=(k(1),), init=False)
    height_mm: float = 15.0


def cuff_names() -> tuple[str, ...]:
    """Return the names of all cuffs.

    Examples
    --------
    >>> cuff_names()
    ('1x1 rib', '2x2 rib', 'twisted rib', 'rolled')
    """
    return cuff.names()


def cuff_named(name: str, **options: Any) -> Cuff:
    """Return a cuff by its name; `SizingError` if there is none, or no such option.

    Examples
    --------
    >>> cuff_named("rolled").height_mm
    15.0
    """
    return cuff.named(name, **options)
