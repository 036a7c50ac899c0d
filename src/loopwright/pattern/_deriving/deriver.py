"""Instructions for a fabric that has none: derived from the order of its yarn."""

from __future__ import annotations

from contextlib import suppress

from loopwright.border import guarded
from loopwright.errors import LoopwrightError, NotKnittableError
from loopwright.fabric import Fabric, difference
from loopwright.fabric.checks import place_in_words
from loopwright.making import Hand
from loopwright.pattern._deriving.gather import gather, literally
from loopwright.pattern._deriving.headings import headed
from loopwright.pattern._deriving.retrace import retrace
from loopwright.pattern._deriving.unpick import OFF_THE_NEEDLES, Moves, hands_of, unpick
from loopwright.pattern._knit import knit
from loopwright.pattern._tally import Trouble
from loopwright.pattern.program import Pattern

__all__ = ["derive"]


@guarded
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
    >>> print(write(derive(toe)), end="")
    Cast on 16 sts, long-tail.
    Join to work in the round.
    Rnds 1-4: Knit.
    Divide sts over 2 needles: 8, 8.
    Rnd 1: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.
    Rnd 2: Knit.
    Rep rnds 1 and 2 once more (2 times in all). (8 sts)
    Graft the sts of the two needles together, stitch by stitch.
    """
    refusal: NotKnittableError | None = None
    for one in hands_of(fabric) if hand is None else (hand,):
        for holds in (True, False):
            found = _derived(fabric, title, one, holds=holds)
            if isinstance(found, Pattern):
                return headed(found, fabric)
            refusal = refusal or found
            if found.problem == OFF_THE_NEEDLES:
                raise found  # no way of making it could be said
    for one in hands_of(fabric) if hand is None else (hand,):
        moves = retrace(fabric, one)
        if moves is not None and (pattern := _said(fabric, title, one, moves)) is not None:
            return pattern
    assert refusal is not None
    raise refusal


def _crossed(fabric: Fabric) -> NotKnittableError | None:
    """Return the refusal of a fabric in which edges cross, as hands can't make them."""
    places = fabric.tangles
    if not places:
        return None
    return NotKnittableError(
        places[0][-1],
        place_in_words(fabric, places[0]),
        "edges cross here",
        "look at what each of these loops is drawn through: `check` names every such place",
    )


def _said(fabric: Fabric, title: str, hand: Hand, moves: Moves) -> Pattern | None:
    """Return the pattern for moves that make a fabric, in rows if they can be so said."""
    for say in (gather, literally):
        with suppress(Trouble, LoopwrightError):
            pattern = Pattern(title, say(moves, fabric.stitches), hand=hand)
            if difference(fabric, knit(pattern, stitches=fabric.stitches)) is None:
                return pattern
    return None


def _derived(fabric: Fabric, title: str, hand: Hand, *, holds: bool) -> Pattern | NotKnittableError:
    """Return the pattern for what one hand did, or why there is none."""
    try:
        moves = unpick(fabric, hand, holds=holds)
    except NotKnittableError as error:
        return error
    refusal: NotKnittableError | None = None
    for plainly in (False, True):  # as a person would write it, else number for number
        try:
            pattern = Pattern(title, gather(moves, fabric.stitches, plainly=plainly), hand=hand)
            made = knit(pattern, stitches=fabric.stitches)
        except (Trouble, LoopwrightError) as error:
            refusal = refusal or _unlike(fabric, str(error), None)
            continue
        found = difference(fabric, made)
        if found is None:
            return pattern
        refusal = refusal or _unlike(fabric, found.problem, found.one)
    assert refusal is not None
    return refusal


def _unlike(fabric: Fabric, problem: str, loop: int | None) -> NotKnittableError:
    """Return the refusal of a fabric that comes out otherwise when it is made in its order."""
    if loop is None and (crossed := _crossed(fabric)):
        return crossed
    witness = int(fabric.ids[0]) if loop is None else loop
    return NotKnittableError(
        witness,
        place_in_words(fabric, [witness]),
        f"made in the order of its yarn, it does not come about: {problem}",
        "look whether the yarn passes loops, or turns, where no hands would",
    )
