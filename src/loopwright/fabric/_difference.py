"""Where two fabrics part: both maps are followed from the same start, in the order of making.

Loops are paired one after the other, the earliest made first. Two loops agree when the edges round
them do, each with what its label says; from there the walk goes on over their edges. Where two
paired loops disagree the walk stops: the earliest such pair is where the fabrics part.
"""

from __future__ import annotations

from heapq import heappop, heappush

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fabric._crossings import crossings
from loopwright.fabric._maps import TWISTS, Darts, twists
from loopwright.fabric._queries import same_fabric
from loopwright.fabric.checks import place_in_words
from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    CROSSED,
    DRAWN,
    EDGE,
    FACING,
    FLOAT,
    FLOAT_FRONT,
    RANK,
)
from loopwright.fabric.fabric import Fabric
from loopwright.plurals import plural

__all__ = ["Difference", "difference"]

_LANDMARKS = 24  # places that look alike in both, from which the walk is begun in turn


@attrs.frozen
class Difference:
    """The earliest place where two fabrics part.

    Parameters
    ----------
    one, other : int or None
        The loop of the first fabric and the one that stands in its place in the second; None
        where one of them has no loop there.
    place, other_place : str
        Where they are: step, course and stitch.
    problem : str
        What the one has and the other has not.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> def tube(third):
    ...     work = Work()
    ...     cast_on(work, 8)
    ...     work.join_round()
    ...     work.plain_rounds(2)
    ...     work.round(["k", "k", third, "k", "k", "k", "k", "k"])
    ...     return work.fabric()
    >>> print(difference(tube("k"), tube("p")))
    step 3, course 3, stitch 3 of 8: loop 26 (k, main): knit in the one, purl in the other
    >>> difference(tube("k"), tube("k")) is None
    True
    """

    one: int | None
    other: int | None
    place: str
    other_place: str
    problem: str

    def __str__(self) -> str:
        return f"{self.place or self.other_place}: {self.problem}"


def difference(one: Fabric, other: Fabric) -> Difference | None:
    """Return where two fabrics part, or None where they are the same.

    Parameters
    ----------
    one, other : Fabric
        Compared as `same_fabric` does: ids, names of yarns and the order of making don't matter.

    Returns
    -------
    Difference or None
        Of all places where the fabrics part, the one that was made first in `one`.
    """
    if same_fabric(one, other):
        return None
    pairing = _Pairing(one, other)
    parted = pairing.parted()
    if parted is not None:
        return _told(one, other, *parted)
    return _floats_differ(one, other, pairing) or _left_over(one, other, pairing)


class _Side:
    """One of the two fabrics, as lists."""

    def __init__(self, fabric: Fabric) -> None:
        darts = self.darts = Darts(fabric)
        # From dart to dart round the same loop, clockwise as seen from the right side.
        around = darts.follow[darts.twin]
        self.around, self.twin = around.tolist(), darts.twin.tolist()
        self.origin, self.label = darts.origin.tolist(), darts.label.tolist()
        self.colour = darts.refined()

    def ring(self, dart: int) -> list[int]:
        """Return the darts round a loop, from this one on."""
        found, step = [dart], self.around[dart]
        while step != dart:
            found.append(step)
            step = self.around[step]
        return found

    def first_besides(self, paired: dict[int, int]) -> int | None:
        """Return the first dart of the first loop that has no partner yet."""
        left = [(loop, dart) for dart, loop in enumerate(self.origin) if loop not in paired]
        return min(left)[1] if left else None


class _Pairing:
    """Pairs of loops that agree, and pairs that don't."""

    def __init__(self, one: Fabric, other: Fabric) -> None:
        self.one, self.other = _Side(one), _Side(other)
        self.partner: dict[int, int] = {}
        self.taken: dict[int, int] = {}
        self.bad: dict[tuple[int, int], bool] = {}
        for start, candidate in self._starts():
            self._walk(start, candidate)
        self._walk_the_rest()

    def _starts(self) -> list[tuple[int, int]]:
        """Return darts that look alike in both and like nothing else."""
        one, other = self.one, self.other
        found = []
        for side in (one, other):
            colours, first, count = np.unique(side.colour, return_index=True, return_counts=True)
            alone = count == 1
            found.append(dict(zip(colours[alone].tolist(), first[alone].tolist(), strict=True)))
        common = sorted(
            (one.origin[dart], dart, found[1][colour])
            for colour, dart in found[0].items()
            if colour in found[1]
        )
        step = max(1, len(common) // _LANDMARKS)
        return [(dart, candidate) for _, dart, candidate in common[::step]]

    def _walk_the_rest(self) -> None:
        """Pair what no such dart leads to, piece by piece in the order of making."""
        while not self.bad:
            begin, image = (
                self.one.first_besides(self.partner),
                self.other.first_besides(self.taken),
            )
            if begin is None or image is None:
                return
            self._walk(begin, image)

    def _walk(self, start: int, candidate: int) -> None:
        one, other = self.one, self.other
        front = [(one.origin[start], start, candidate)]
        while front:
            loop, dart, image = heappop(front)
            mate = other.origin[image]
            if self.partner.get(loop) == mate or (loop, mate) in self.bad:
                continue
            ring, images = one.ring(dart), other.ring(image)
            labels = [one.label[d] for d in ring] == [other.label[d] for d in images]
            if not labels or loop in self.partner or mate in self.taken:
                self.bad[loop, mate] = not labels
                continue
            self.partner[loop], self.taken[mate] = mate, loop
            for step, mapped in zip(ring, images, strict=True):
                onward = one.twin[step]
                heappush(front, (one.origin[onward], onward, other.twin[mapped]))

    def parted(self) -> tuple[int, int] | None:
        """Return the earliest pair that disagrees, one whose edges differ before any other."""
        for only_labels in (True, False):
            pairs = [
                pair
                for pair, differ in self.bad.items()
                if differ >= only_labels and pair[0] not in self.partner
            ]
            if pairs:
                return min(pairs)
        return min(self.bad, default=None)


def _told(one: Fabric, other: Fabric, loop: int, mate: int) -> Difference:
    """Put into words what differs at a pair of loops, or at what is drawn through them."""
    crossed = _crossed(one, loop), _crossed(other, mate)
    if any(crossed):
        return _crossing_told(one, other, *crossed, loop, mate)
    for a, b in ((loop, mate), *_drawn_through_both(one, other, loop, mate)):
        problem = _contrast(_features(one, a), _features(other, b))
        if problem:
            return _at(one, other, a, b, problem)
    above = [len(fabric.children(at)) for fabric, at in ((one, loop), (other, mate))]
    if above[0] != above[1]:
        drawn = [plural(number, "loop", be=True) for number in above]
        problem = f"{drawn[0]} drawn through it in the one, {drawn[1]} in the other"
    else:
        problem = "the loops round it are joined in another way"
    return _at(one, other, loop, mate, problem)


def _crossed(fabric: Fabric, vertex: int) -> tuple[int, int, bool] | None:
    """Return the loops above a crossing vertex and whether the left one lies in front."""
    found = None if vertex < len(fabric.flags) else crossings(fabric)
    if found is None:
        return None
    at = vertex - len(fabric.flags)
    left, right = (int(fabric.child[edge[at]]) for edge in (found.leftward, found.rightward))
    return left, right, bool(found.left_over[at])


def _crossing_told(
    one: Fabric,
    other: Fabric,
    mine: tuple[int, int, bool] | None,
    theirs: tuple[int, int, bool] | None,
    loop: int,
    mate: int,
) -> Difference:
    here, there = min(mine[:2]) if mine else loop, min(theirs[:2]) if theirs else mate
    if mine is None or theirs is None:
        which = ("one", "other") if mine else ("other", "one")
        problem = f"stitches cross in the {which[0]} and not in the {which[1]}"
    elif mine[2] != theirs[2]:
        ways = ["left" if crossed[2] else "right" for crossed in (mine, theirs)]
        problem = (
            f"stitches cross, those in front going {ways[0]} in the one, {ways[1]} in the other"
        )
    else:
        problem = "stitches cross in another order in the one than in the other"
    return _at(one, other, here, there, problem)


def _drawn_through_both(one: Fabric, other: Fabric, loop: int, mate: int) -> list[tuple[int, int]]:
    above, beyond = one.children(loop).tolist(), other.children(mate).tolist()
    return list(zip(above, beyond, strict=False)) if len(above) == len(beyond) else []


def _at(one: Fabric, other: Fabric, loop: int | None, mate: int | None, problem: str) -> Difference:
    return Difference(loop, mate, _place(one, loop), _place(other, mate), problem)


def _place(fabric: Fabric, loop: int | None) -> str:
    if loop is None:
        return ""
    words = place_in_words(fabric, [loop])
    if not len(fabric.ledger):
        return words
    step = int(np.searchsorted(fabric.ledger[:, 1], loop, side="right")) + 1
    return f"step {step}, {words}"


def _features(fabric: Fabric, loop: int) -> dict[str, str]:
    """Return what can be said of a loop alone, each under the name of what it is about."""
    edges = np.flatnonzero(fabric.child == loop)
    info = fabric.info[edges].tolist()
    below = len(edges)
    twist = {number: way for way, number in TWISTS.items()}[int(twists(fabric)[loop])]
    live = bool((fabric.live == loop).any())
    flags = int(fabric.flags[loop])
    return {
        "below": f"drawn through {plural(below, 'loop')}" if below else "drawn through nothing",
        "face": "" if not below else "purl" if info[0] & BACK else "knit",
        "stack": f"loop {_top(info)} of {below} on top" if below > 1 else "",
        "twist": f"twisted to the {twist}" if twist and below else "not twisted",
        "crossing": f"{'one' if below and info[0] & CROSSED else 'none'} of a crossing",
        "edge": ", ".join(str(bits & (EDGE | CHAIN | FACING)) for bits in info),
        "yarn": _goes_on(fabric, loop),
        "state": "live" if live else "drawn up" if flags & DRAWN else "not live",
    }


def _top(info: list[int]) -> int:
    return min(range(len(info)), key=lambda place: info[place] & RANK) + 1


def _goes_on(fabric: Fabric, loop: int) -> str:
    ends = (int(fabric.previous[loop]) < 0, int(fabric.next[loop]) < 0)
    if any(ends):
        return "an end of the yarn"
    return _float_word(fabric, loop) if fabric.flags[loop] & FLOAT else "yarn on either side"


def _float_word(fabric: Fabric, loop: int) -> str:
    return f"a float {'in front' if fabric.flags[loop] & FLOAT_FRONT else 'behind'} after it"


def _contrast(mine: dict[str, str], theirs: dict[str, str]) -> str:
    for name, word in mine.items():
        if word != theirs[name]:
            if name == "edge":
                return "joined to its edge or chain in another way in the one than in the other"
            return f"{word or 'plain'} in the one, {theirs[name] or 'plain'} in the other"
    return ""


def _floats_differ(one: Fabric, other: Fabric, pairing: _Pairing) -> Difference | None:
    """Return the earliest float that only one of the two has, or has on the other side."""

    def floats(fabric: Fabric) -> NDArray[np.int64]:
        return Darts(fabric).floats

    theirs = {(frozenset((a, b)), front) for a, b, front in floats(other).tolist()}
    found = set[tuple[frozenset[int | None], int]]()
    for a, b, front in floats(one).tolist():
        ends = frozenset((pairing.partner.get(a), pairing.partner.get(b)))
        if (ends, front) not in theirs:
            problem = f"{_float_word(one, a)} in the one and not in the other"
            return _at(one, other, a, pairing.partner.get(a), problem)
        found.add((ends, front))
    left = [entry for entry in theirs if entry not in found]
    for pair, front in sorted(left, key=lambda entry: sorted(entry[0])):
        b = min(pair)
        problem = f"a float {'in front' if front else 'behind'} in the other and not in the one"
        return _at(one, other, pairing.taken.get(b), b, problem)
    return None


def _left_over(one: Fabric, other: Fabric, pairing: _Pairing) -> Difference:
    """Return the earliest loop of either that has no partner."""
    alone = [loop for loop in one.ids.tolist() if loop not in pairing.partner]
    if alone:
        return _at(one, other, alone[0], None, "a loop in the one and none in the other")
    over = [loop for loop in other.ids.tolist() if loop not in pairing.taken]
    mate = over[0] if over else None
    return _at(one, other, None, mate, "a loop in the other and none in the one")
