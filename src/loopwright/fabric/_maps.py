"""A fabric as a map with labels, and the one text that two fabrics share when their maps do.

A dart (see :mod:`loopwright.fabric._surface`) carries a label: what kind of edge it belongs to,
from which end, how the stitch lies, and whether its loop is live or drawn up. Two permutations
lead from dart to dart, `twin` and `follow`; floats, which are no edges of the surface, lead from
loop to loop beside it. Where stitches cross, the darts at the crossing vertex say which way the
edge goes and whether it lies in front. Neither ids nor names nor the order of making are looked at.

The canonical key is the digest of one numbering of the darts. From a start, darts are numbered as
they are met, breadth first. Each numbering is a *code*, and the smallest code is the same for all
fabrics that are the same. Only darts that look rarest from farthest around are tried as starts: the
ends of the yarn make nearly every fabric have just one.
"""

from __future__ import annotations

from hashlib import sha256
from typing import Final, Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from loopwright.fabric._dart_ends import Columnar
from loopwright.fabric._pieces import numbered_pieces
from loopwright.fabric._surface import CellMap
from loopwright.fabric.columns import CROSSED, DRAWN, FLOAT, FLOAT_FRONT, GONE, RANK
from loopwright.fabric.stitches import StitchTable

__all__ = ["TWISTS", "Darts", "canonical_key", "key_of", "twists"]

_VERSION: Final = "fabric-1"  # changes when a key is made in another way
_ROUNDS: Final = 6  # steps around each dart that are looked at first
_FARTHEST: Final = 4096  # steps around a dart that are looked at in a fabric full of likenesses
# What a label says, in bits; they are part of the key's meaning and never change.
_YARN, _BESIDE_RIGHT, _BESIDE_LEFT, _PARENT, _CHILD = 1, 2, 3, 1024, 2048
_CROSSING_DOWN, _CROSSING_UP, _OVER = 4, 5, 2  # 6 and 7 lie in front
_TWIST_BITS, _LIVE, _DRAWN = 8, 4096, 8192
TWISTS: Final = {"": 0, "left": 1, "right": 2}

_Colours = NDArray[np.uint64]
_Numbers = NDArray[np.int64]
_Code: TypeAlias = tuple[bytes, tuple[int, ...]]  # and the darts from which it was numbered


class Mapped(Columnar, Protocol):
    """What a map is made from: a fabric's columns and its surface."""

    @property
    def stitch(self) -> NDArray[np.int16]: ...
    @property
    def stitches(self) -> StitchTable: ...
    @property
    def surface(self) -> CellMap: ...


class Darts:
    """The valid darts of a fabric, renumbered, each with a label of what it is."""

    def __init__(self, fabric: Mapped) -> None:
        surface = fabric.surface
        valid = np.flatnonzero(surface.valid)
        number = np.full(len(surface.valid), -1, dtype=np.int64)
        number[valid] = np.arange(len(valid))
        self.dart = valid
        self.origin = surface.origin[valid].astype(np.int64)
        self.twin = number[surface.twin[valid]]
        self.follow = number[surface.follow[valid]]
        self.lone = surface.lone
        self.floats = _floats(fabric)
        self.label = self._labels(fabric)[valid]

    def _labels(self, fabric: Mapped) -> _Numbers:
        n, b = len(fabric.next), len(fabric.right)
        twist = twists(fabric)  # named as the knitter sees it
        through = fabric.info.astype(np.int64)
        crossed = (fabric.info & CROSSED) != 0
        if crossed.any():  # which lies in front is said where they cross
            through[crossed] &= ~(CROSSED | RANK)
        through |= twist[fabric.child] << _TWIST_BITS
        labels = np.concatenate(
            (
                np.full(2 * n, _YARN), _PARENT + through, _CHILD + through,
                np.full(b, _BESIDE_RIGHT), np.full(b, _BESIDE_LEFT), *_crossing_labels(fabric),
            )
        ).astype(np.int64)  # fmt: skip
        state = np.zeros(n + fabric.surface.crossings, dtype=np.int64)
        state[fabric.live] = _LIVE
        state[:n][(fabric.flags & DRAWN) != 0] |= _DRAWN
        return np.asarray(labels | state[fabric.surface.origin])

    def refined(self, rounds: int = _ROUNDS) -> _Colours:
        """Return a hash of the surroundings of each dart, equal for darts that look alike."""
        colour = _mix(self.label.astype(np.uint64))
        if len(self.floats):
            colour = _mix(colour ^ self._float_colours())
        for _ in range(rounds):
            colour = self._once(colour)
        return colour

    def _float_colours(self) -> _Colours:
        """Return for each dart how many floats end at its loop, on either side of the work."""
        size = int(max(self.origin.max(initial=0), self.floats[:, :2].max())) + 1
        count = np.zeros(size, dtype=np.uint64)
        for end in (0, 1):
            weight = np.where(self.floats[:, 2] > 0, 1 << 40, 1 << 20).astype(np.uint64)
            np.add.at(count, self.floats[:, end], weight)
        return count[self.origin]

    def _once(self, colour: _Colours) -> _Colours:
        return _mix(colour + np.uint64(3) * colour[self.twin] ^ _mix(colour[self.follow]))

    def starts(self, among: NDArray[np.bool_] | None = None) -> _Numbers:
        """Return the darts of the rarest look: the same ones for all fabrics that are the same."""
        chosen = np.arange(len(self.label)) if among is None else np.flatnonzero(among)
        colour, rounds = self.refined(), _ROUNDS
        found = chosen[_rarest(colour[chosen])]
        while len(found) > 1 and rounds < _FARTHEST:
            for _ in range(rounds):
                colour = self._once(colour)
            rounds *= 2
            closer = chosen[_rarest(colour[chosen])]
            if len(closer) == len(found) and rounds > 8 * _ROUNDS:
                break
            found = closer
        return found


def twists(fabric: Mapped) -> _Numbers:
    """Return for each loop which way it is twisted."""
    whole = [TWISTS.get(row.twist, 0) for row in fabric.stitches]
    found = np.array(whole, dtype=np.int64)[fabric.stitch]
    for code, row in enumerate(fabric.stitches):
        if row.twist not in TWISTS:
            loops = np.flatnonzero(fabric.stitch == code)  # of a crossing side by side, in order
            each = np.array([TWISTS[one] for one in row.twists])
            found[loops] = each[_placed(loops, row.makes)]
    return found


def _placed(loops: _Numbers, width: int) -> _Numbers:
    """Return which loop of its crossing each is; crossings of a kind may stand side by side."""
    begins = np.flatnonzero(np.diff(loops, prepend=-2) != 1)
    first = np.repeat(loops[begins], np.diff(begins, append=len(loops)))
    return np.asarray((loops - first) % width)


def _crossing_labels(fabric: Mapped) -> list[_Numbers]:
    """Return the labels of the darts at crossing vertices, in the order of their numbers."""
    left_over = fabric.surface.left_over.astype(np.int64) * _OVER
    right_over = _OVER - left_over
    return [
        _CROSSING_DOWN + left_over, _CROSSING_UP + left_over,
        _CROSSING_DOWN + right_over, _CROSSING_UP + right_over,
    ]  # fmt: skip


def _floats(fabric: Mapped) -> _Numbers:
    """Return the floats: both ends and whether they pass in front, shape (k, 3)."""
    start = np.flatnonzero(((fabric.flags & FLOAT) != 0) & (fabric.next >= 0))
    front = (fabric.flags[start] & FLOAT_FRONT) != 0
    return np.stack((start, fabric.next[start], front), axis=1).astype(np.int64)


def _mix(values: _Colours) -> _Colours:
    """Scramble 64-bit integers (the finaliser of splitmix64)."""
    mixed = values + np.uint64(0x9E3779B97F4A7C15)
    mixed = (mixed ^ (mixed >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    mixed = (mixed ^ (mixed >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return np.asarray(mixed ^ (mixed >> np.uint64(31)), dtype=np.uint64)


def _rarest(colour: _Colours) -> _Numbers:
    """Return the darts of the colour that the fewest have, the smallest of several such."""
    colours, counts = np.unique(colour, return_counts=True)
    least = colours[int(np.argmin(counts))]  # `unique` sorts: the first minimum is the smallest
    return np.flatnonzero(colour == least).astype(np.int64)


def canonical_key(fabric: Mapped) -> str:
    """Return the text that a fabric shares with all that are the same and with no other."""
    return key_of(fabric, Darts(fabric))[0]


def key_of(fabric: Mapped, darts: Darts) -> tuple[str, list[list[int]]]:
    """Return the key, and the darts from which the numbering of each piece is begun.

    The first begins the piece; each of the others is where a float leads to loops that nothing
    else joins to it.
    """
    codes = sorted(_codes(darts))
    digest = sha256(b"/".join(code for code, _ in codes))
    states = np.bincount(_lone_states(fabric, darts), minlength=4)
    digest.update(f"|{darts.lone} alone: {states.tolist()}".encode())
    return f"{_VERSION}:{digest.hexdigest()}", [list(starts) for _, starts in codes]


def _lone_states(fabric: Mapped, darts: Darts) -> _Numbers:
    """Return for each loop without any edge whether it is live (1) and drawn up (2)."""
    alone = (fabric.flags & GONE) == 0
    alone[darts.origin[darts.origin < len(alone)]] = False
    state = np.zeros(len(alone), dtype=np.int64)
    state[fabric.live] = 1
    state[(fabric.flags & DRAWN) != 0] |= 2
    return np.asarray(state[alone])


def _codes(darts: Darts) -> list[_Code]:
    """Return the smallest code of each piece; floats hold pieces together too."""
    if not len(darts.label):
        return []
    piece = _pieces(darts)
    walk = _Walk(darts)
    colour = darts.refined()
    codes = []
    for number in range(int(piece.max()) + 1):
        mine = piece == number
        starts = darts.starts(mine) if number or not mine.all() else darts.starts()
        walk.size = int(np.count_nonzero(mine))
        codes.append(min(walk.code(start, colour) for start in starts.tolist()))
    return codes


def _pieces(darts: Darts) -> _Numbers:
    """Return the number of the piece that each dart lies in."""
    ends = np.concatenate((darts.origin, darts.floats[:, 0]))
    others = np.concatenate((darts.origin[darts.twin], darts.floats[:, 1]))
    size = int(max(ends.max(), others.max())) + 1
    label = numbered_pieces(size, ends, others)
    _, number = np.unique(label[darts.origin], return_inverse=True)
    return np.asarray(number, dtype=np.int64)


class _Walk:
    """Numbers darts as they are met, breadth first: twin before follow, floats last."""

    def __init__(self, darts: Darts) -> None:
        self._darts = darts
        self.size = len(darts.label)  # of the piece that is walked
        self._twin, self._follow = darts.twin.tolist(), darts.follow.tolist()
        self._origin = darts.origin.tolist()
        self._partners: dict[int, list[tuple[int, int]]] = {}
        for a, b, front in darts.floats.tolist():
            self._partners.setdefault(a, []).append((front, b))
            self._partners.setdefault(b, []).append((front, a))
        self._at: dict[int, list[int]] = {}
        if self._partners:
            for dart, loop in enumerate(self._origin):
                self._at.setdefault(loop, []).append(dart)

    def code(self, start: int, colour: _Colours) -> _Code:
        """Return the code of the piece that `start` lies in, numbered from there."""
        number = [-1] * len(self._twin)
        number[start] = 0
        return self._numbered([start], number, (start,), colour)

    def _numbered(
        self, order: list[int], number: list[int], starts: tuple[int, ...], colour: _Colours
    ) -> _Code:
        done = number[starts[-1]]
        twin, follow = self._twin, self._follow
        while True:
            while done < len(order):
                dart = order[done]
                done += 1
                for other in (twin[dart], follow[dart]):
                    if number[other] < 0:
                        number[other] = len(order)
                        order.append(other)
            entries = self._over_a_float(order, number, colour)
            if not entries:
                return self._written(order, number), starts
            if len(entries) > 1:  # they look alike, so that each has to be tried
                return min(
                    self._numbered(
                        [*order, one], _with(number, one, len(order)), (*starts, one), colour
                    )
                    for one in entries
                )
            number[entries[0]] = len(order)
            order.append(entries[0])
            starts = (*starts, entries[0])

    def _over_a_float(self, order: list[int], number: list[int], colour: _Colours) -> list[int]:
        """Return the darts that look least at the first loop that only a float leads to."""
        if len(order) == self.size:
            return []
        for dart in order:
            for _, loop in sorted(self._partners.get(self._origin[dart], ())):
                beyond = self._at.get(loop, [])
                if beyond and number[beyond[0]] < 0:
                    least = min(int(colour[one]) for one in beyond)
                    return [one for one in beyond if int(colour[one]) == least]
        return []

    def _written(self, order: list[int], number: list[int]) -> bytes:
        darts, at = self._darts, np.array(order, dtype=np.int64)
        numbers = np.array(number, dtype=np.int64)
        rows = np.stack((darts.label[at], numbers[darts.twin[at]], numbers[darts.follow[at]]))
        code = rows.astype("<i4").tobytes()
        if not self._partners:
            return code
        first: dict[int, int] = {}
        for place, dart in enumerate(order):
            first.setdefault(self._origin[dart], place)
        floats = sorted(
            (*sorted((first.get(a, -1), first.get(b, -1))), front)
            for a, b, front in darts.floats.tolist()
            if a in first or b in first
        )
        return code + np.array(floats, dtype="<i4").tobytes()


def _with(number: list[int], dart: int, place: int) -> list[int]:
    copied = number.copy()
    copied[dart] = place
    return copied
