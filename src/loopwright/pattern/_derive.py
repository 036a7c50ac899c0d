"""Instructions for a fabric that has none: derived from the order of its yarn."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.errors import LoopwrightError, NotKnittableError
from loopwright.fabric import Fabric, difference
from loopwright.fabric.checks import place_in_words
from loopwright.making import Hand
from loopwright.pattern._gather import gather
from loopwright.pattern._knit import knit
from loopwright.pattern._tally import Trouble
from loopwright.pattern._unpick import Moves, hands_of, unpick
from loopwright.pattern.program import Pattern

__all__ = ["derive"]


def derive(fabric: Fabric, *, title: str = "", hand: Hand | None = None) -> Pattern:
    """Return instructions that make a fabric.

    Parameters
    ----------
    fabric : Fabric
        Made by hands, read from a file, or from a graph: what its loops remember of the making
        (ids, ledger, courses) is used where it is there and not needed.
    title : str
    hand : Hand, optional
        Whose instructions these are; by default those of the hand that more likely made it.

    Returns
    -------
    Pattern
        Repeats and shaping are found again. Knitted by the same hand it is the same fabric: that
        is tried before it is handed out.

    Raises
    ------
    NotKnittableError
        The fabric can't be made by hand in the order of its yarn; carries the loop that shows it.

    Examples
    --------
    >>> from loopwright.pattern import knit, read, write
    >>> toe = knit(read('''
    ... Cast on 16 sts. Join in the round. Rnds 1-4: Knit.
    ... Divide sts over 2 needles: 8, 8.
    ... Rnd 5: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.
    ... Rnd 6: Knit.
    ... Rep rnds 5 and 6 until 8 sts remain.
    ... Graft the sts of the two needles together, stitch by stitch.
    ... '''))
    >>> print(write(derive(toe)))
    Cast on 16 sts, long-tail.
    Join to work in the round.
    Rnds 1-4: Knit.
    """
    refusal: LoopwrightError | None = None
    for one in hands_of(fabric) if hand is None else (hand,):
        try:
            moves = unpick(fabric, one)
        except NotKnittableError as error:
            refusal = refusal or error
            continue
        for pattern in _patterns(moves, fabric, title, one):
            made = _knitted(pattern, fabric, one)
            if made is not None and made.canonical_key == fabric.canonical_key:
                return pattern
            refusal = refusal or _unlike(fabric, made)
    assert refusal is not None
    raise refusal


def _patterns(moves: Moves, fabric: Fabric, title: str, hand: Hand) -> Iterator[Pattern]:
    """Yield the patterns that these moves may stand for, as a person would write them first."""
    for plainly in (False, True):
        try:
            yield Pattern(title, gather(moves, fabric.stitches, plainly=plainly))
        except Trouble:
            continue


def _knitted(pattern: Pattern, fabric: Fabric, hand: Hand) -> Fabric | None:
    try:
        return knit(pattern, hand=hand, stitches=fabric.stitches)
    except LoopwrightError:
        return None


def _unlike(fabric: Fabric, made: Fabric | None) -> NotKnittableError:
    """Return the refusal of a fabric that comes out otherwise when it is made in its order."""
    found = difference(fabric, made) if made is not None else None
    loop = found.one if found is not None and found.one is not None else int(fabric.ids[0])
    problem = found.problem if found is not None else "no order of rows makes it"
    return NotKnittableError(
        loop,
        place_in_words(fabric, [loop]),
        f"made in the order of its yarn, the fabric is another one: {problem}",
        "look whether the yarn passes loops, or turns, where no hands would",
    )
