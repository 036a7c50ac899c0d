"""Stripes: a sequence of rounds in yarns that take turns, whatever the rounds are.

Working in stripes is a state, as it is for a knitter: each new round or row is worked in the yarn
whose turn it is. So ribs, heels and gussets are described as they are without stripes. The yarns
not in use are carried along the inside. A heel is knitted between two halves of a sock: the place
in the sequence is kept before it, and the stripes are resumed there.

Examples
--------
>>> from loopwright.pattern import KeepPlace, ResumeStripes, Stripes, in_words
>>> for step in (Stripes([("A", 2), ("B", 3)]), KeepPlace(), ResumeStripes()):
...     print(in_words(step))
Work in stripes from here: *2 rnds A, 3 rnds B; rep from *.
Keep your place in the stripes.
Resume the stripes at that place.
"""

from __future__ import annotations

from collections.abc import Iterable

import attrs

from loopwright.border import guard
from loopwright.errors import StepError
from loopwright.pattern.items import check_name
from loopwright.pattern.steps import Step, UseYarn
from loopwright.ranges import MOST

__all__ = ["KeepPlace", "ResumeStripes", "Stripes"]


def _as_bands(bands: Iterable[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    found = tuple(tuple(band) for band in bands)
    for band in found:
        if len(band) != 2 or type(band[0]) is not str or type(band[1]) is not int:
            raise StepError("Stripes", f"expected a yarn and its rounds, found {band!r}")
    return found  # type: ignore[return-value]  # each was looked at


@attrs.frozen
class Stripes(Step):
    """From here on each round is worked in the yarn whose turn it is, until a yarn is named.

    Parameters
    ----------
    bands : tuple of (str, int)
        Yarn and rounds of each stripe of the sequence.
    start : int
        With which round of the sequence it begins, from 1.

    Examples
    --------
    >>> later = Stripes([("A", 2), ("B", 3)], 4)
    >>> later.rounds
    ('A', 'A', 'B', 'B', 'B')
    >>> from loopwright.pattern import in_words
    >>> in_words(later)
    'Work in stripes from here, beginning with rnd 4: *2 rnds A, 3 rnds B; rep from *.'
    """

    bands: tuple[tuple[str, int], ...] = attrs.field(converter=_as_bands)
    start: int = 1

    def __attrs_post_init__(self) -> None:
        if not self.bands:
            raise StepError("Stripes", "there is no stripe")
        for name, rounds in self.bands:
            check_name(self, attrs.fields(UseYarn).name, name)
            if not 1 <= rounds <= MOST:
                found = rounds if abs(rounds) < 10**9 else "a number of ten digits or more"
                raise StepError("Stripes", f"expected 1 to {MOST} rounds, found {found}")
        if not 1 <= self.start <= len(self.rounds):
            raise StepError("Stripes", f"the sequence has rounds 1 to {len(self.rounds)}")

    @property
    def rounds(self) -> tuple[str, ...]:
        """The yarn of each round of the sequence."""
        return tuple(name for name, rounds in self.bands for _ in range(rounds))


@attrs.frozen
class KeepPlace(Step):
    """Keep the place in the stripes, to resume them there."""


@attrs.frozen
class ResumeStripes(Step):
    """Work in stripes again, from the place that was kept.

    With `begun` the round that is worked in parts from here is the first of them.

    Examples
    --------
    >>> from loopwright.pattern import in_words
    >>> in_words(ResumeStripes(begun=True))
    'Resume the stripes at that place, with the rnd that begins here.'
    """

    begun: bool = False


guard(globals())
