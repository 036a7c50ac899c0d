"""Mesh: what the solver knows of a fabric. Vertices, edges with rest lengths, cells, nothing else.

A cell is laid flat by the steps that its edges take along courses and wales, where all are known
and lead round. It is a sheared cell beside a decrease, a right trapezium beside a tall loop. Other
cells are the polygon of greatest area that their sides allow (the one with its corners on a
circle). Only a corner between two yarn edges of one course is straight. The polygon's chords become
springs and its triangles the surface.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.sparse.csgraph import connected_components

__all__ = ["Mesh", "Polygons"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_CLOSED = 1e-6  # of the way round: how far steps may miss
_HALVINGS = 60  # bisection on the circle's angle; 60 halvings exhaust a double


@attrs.frozen(eq=False)
class Polygons:
    """Cells of one size, laid flat.

    Parameters
    ----------
    rings : ndarray, shape (c, k), int64
        Vertices, counter-clockwise as seen from the right side.
    corners_mm : ndarray, shape (c, k, 2), mm
        The corners in the plane of the cell.
    """

    rings: Ints
    corners_mm: Floats

    def chords(self) -> tuple[Ints, Floats]:
        """Return the pairs that are no sides, and their lengths in mm."""
        k = self.rings.shape[1]
        first, second = np.triu_indices(k, 2)
        inner = ~((first == 0) & (second == k - 1))
        first, second = first[inner], second[inner]
        pairs = np.stack([self.rings[:, first], self.rings[:, second]], axis=-1)
        spans = np.linalg.norm(self.corners_mm[:, first] - self.corners_mm[:, second], axis=-1)
        return pairs.reshape(-1, 2), spans.reshape(-1)

    def triangles(self, n: int, taken: Ints) -> tuple[Ints, Floats]:
        """Return the fan with the largest smallest triangle, and its corners in the plane.

        Diagonals whose key (`_keys` of `n` vertices) is in the sorted `taken` are avoided.
        """
        count, k = self.rings.shape
        fans = np.array(
            [[[a, (a + i) % k, (a + i + 1) % k] for i in range(1, k - 1)] for a in range(k)]
        )
        corners = self.corners_mm[:, fans]  # (c, k, k-2, 3, 2)
        u = corners[..., 1, :] - corners[..., 0, :]
        v = corners[..., 2, :] - corners[..., 0, :]
        smallest = (u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0]).min(axis=-1)
        spread = np.sqrt(u[..., 0] ** 2 + u[..., 1] ** 2).sum(axis=-1)
        score = smallest - 1e-6 * spread  # equal areas: the shorter diagonals
        if k > 3:
            diagonals = self.rings[:, fans[:, 1:, :2]]  # (c, k, k-3, 2)
            score = score - 1e6 * _is_in(_keys(n, diagonals), taken).sum(axis=-1)
        best = np.argmax(score, axis=1)
        pick = np.arange(count)
        return self.rings[pick[:, None, None], fans[best]].reshape(-1, 3), corners[
            pick, best
        ].reshape(-1, 3, 2)


@attrs.frozen(eq=False)
class Mesh:
    """Vertices joined by edges of known rest length, and the cells between them.

    Parameters
    ----------
    n : int
        How many vertices.
    edges : ndarray, shape (m, 2), int64
    rest_mm : ndarray, shape (m,), mm
    along : ndarray, shape (m,), bool
        Whether the edge is yarn that runs along a course.
    polygons : tuple of Polygons
        The cells that are surface, by size; openings are left out.

    Examples
    --------
    Four edges of 3 mm round a cell, which lies flat as a square:

    >>> edges = np.array([[0, 1], [1, 2], [2, 3], [3, 0]])
    >>> cell = np.array([[0, 1, 2, 3]])
    >>> square = Mesh.build(4, edges, np.full(4, 3.0), np.zeros(4, bool), [cell])
    >>> square.chords()[1].round(2).tolist(), len(square.pieces())
    ([4.24, 4.24], 1)
    """

    n: int
    edges: Ints
    rest_mm: Floats
    along: Bools
    polygons: tuple[Polygons, ...]

    @classmethod
    def build(
        cls,
        n: int,
        edges: Ints,
        rest_mm: Floats,
        along: Bools,
        rings: Iterable[Ints],
        *,
        steps_mm: Floats | None = None,
    ) -> Mesh:
        """Lay every cell flat.

        Parameters
        ----------
        n : int
        edges : ndarray, shape (m, 2), int64
            No two between the same vertices.
        rest_mm : ndarray, shape (m,), mm
        along : ndarray, shape (m,), bool
            Whether the edge is yarn that runs along a course: two of them meet straight.
        rings : iterable of ndarray, shape (c, k), int64
            The cells, without openings, one array for each size k of 3 or more.
        steps_mm : ndarray, shape (m, 2), mm, optional
            From the first end of an edge to the second: along the course, to the right as seen
            from the right side, and up the wale; not a number where that is unknown.
        """
        steps = np.full((len(edges), 2), np.nan) if steps_mm is None else steps_mm
        lookup = _EdgeLookup.of(n, edges, rest_mm, along, steps)
        polygons = tuple(_lay_flat(group, lookup) for group in rings if len(group))
        return cls(n, edges, rest_mm, along, polygons)

    def pieces(self) -> list[tuple[Ints, Mesh]]:
        """Return what edges hold together: the vertices of each piece, and its own mesh."""
        links = sp.coo_array((np.ones(len(self.edges)), self.edges.T), shape=(self.n, self.n))
        count, piece = connected_components(links, directed=False)
        if count == 1:
            return [(np.arange(self.n), self)]
        found = [np.flatnonzero(piece == k) for k in range(count)]
        number = np.zeros(self.n, np.int64)
        for here in found:
            number[here] = np.arange(len(here))
        return [(here, self._part(piece == k, number)) for k, here in enumerate(found)]

    def _part(self, inside: Bools, number: Ints) -> Mesh:
        """The mesh of the vertices `inside`, that no edge joins to others, with numbers of its
        own.
        """
        kept = inside[self.edges[:, 0]]
        cells = [(p.rings, p.corners_mm, inside[p.rings[:, 0]]) for p in self.polygons]
        return Mesh(
            int(inside.sum()),
            number[self.edges[kept]],
            self.rest_mm[kept],
            self.along[kept],
            tuple(Polygons(number[r[own]], c[own]) for r, c, own in cells if own.any()),
        )

    def chords(self) -> tuple[Ints, Floats]:
        """Return all chords of all cells, and their lengths in mm."""
        parts = [p.chords() for p in self.polygons if p.rings.shape[1] > 3]
        if not parts:
            return np.empty((0, 2), np.int64), np.empty(0)
        return np.concatenate([p[0] for p in parts]), np.concatenate([p[1] for p in parts])

    @cached_property
    def triangles(self) -> tuple[Ints, Floats]:
        """Triangles, shape (t, 3), and their corners laid flat, shape (t, 3, 2), mm."""
        if not self.polygons:
            return np.empty((0, 3), np.int64), np.empty((0, 3, 2))
        taken = self._taken_diagonals()
        parts = [p.triangles(self.n, taken) for p in self.polygons]
        return np.concatenate([p[0] for p in parts]), np.concatenate([p[1] for p in parts])

    def _taken_diagonals(self) -> Ints:
        """Pairs that no diagonal may join: edges, and chords of two cells at once.

        (Two cells share a path of two edges where a strand ends: its last loop has but two.)
        """
        chords = _keys(self.n, self.chords()[0])
        chords.sort()
        twice = chords[1:][chords[1:] == chords[:-1]]
        taken = np.concatenate([_keys(self.n, self.edges), twice])
        taken.sort()
        return taken


def _keys(n: int, pairs: Ints) -> Ints:
    """One number for each unordered pair in the last axis."""
    a, b = pairs[..., 0], pairs[..., 1]
    return np.asarray(np.minimum(a, b) * n + np.maximum(a, b))


def _is_in(values: Ints, taken: Ints) -> Bools:
    """Whether each value is in the sorted array `taken`."""
    at = np.searchsorted(taken, values)
    return np.asarray(np.append(taken, -1)[at] == values)


@attrs.frozen(eq=False)
class _EdgeLookup:
    """Rest length, kind and step of an edge, by its two ends."""

    n: int
    keys: Ints
    rest_mm: Floats
    along: Bools
    upward_mm: Floats  # the step from the end of lower number

    @classmethod
    def of(
        cls, n: int, edges: Ints, rest_mm: Floats, along: Bools, steps_mm: Floats
    ) -> _EdgeLookup:
        keys = _keys(n, edges)
        upward = np.where((edges[:, 0] < edges[:, 1])[:, None], steps_mm, -steps_mm)
        order = np.argsort(keys, kind="stable")
        return cls(n, keys[order], rest_mm[order], along[order], upward[order])

    def find(self, a: Ints, b: Ints) -> tuple[Floats, Bools, Floats]:
        """Rest lengths, kinds, and steps from `a` to `b`."""
        at = np.searchsorted(self.keys, _keys(self.n, np.stack([a, b], axis=-1)))
        upward = self.upward_mm[at]
        return self.rest_mm[at], self.along[at], np.where((a < b)[..., None], upward, -upward)


def _lay_flat(rings: Ints, lookup: _EdgeLookup) -> Polygons:
    sides, along, steps = lookup.find(rings, np.roll(rings, -1, axis=1))
    placed = np.cumsum(steps, axis=1) - steps
    leads_round = np.abs(steps.sum(axis=1)).max(axis=1) < _CLOSED * sides.sum(axis=1)
    others = ~leads_round
    placed[others] = _inscribe_straightened(sides[others], along[others])
    return Polygons(rings, placed)


def _inscribe_straightened(sides: Floats, along: Bools) -> Floats:
    straight = along & np.roll(along, 1, axis=1)
    straight[(~straight).sum(axis=1) < 3] = False  # a cell with yarn all round, drawn up
    return _inscribe(sides, straight)


def _inscribe(sides_mm: Floats, straight: Bools) -> Floats:
    """Corners of polygons with these sides whose true corners lie on a circle.

    ``sides_mm[:, i]`` runs from corner i to corner i + 1. Sides that meet in a straight corner
    count as one side of the circle's polygon.
    """
    count, k = sides_mm.shape
    whole = np.zeros_like(sides_mm)  # the length of the run that begins at a true corner
    start = np.zeros((count, k), np.int64)
    first = np.argmin(straight, axis=1)  # a true corner to begin at
    at, rows = first.copy(), np.arange(count)
    for i in range(k):
        corner = (first + i) % k
        at = np.where(straight[rows, corner], at, corner)
        start[rows, corner] = at
        whole[rows, at] += sides_mm[rows, corner]
    turn = _central_angles(whole, ~straight)
    heading = np.zeros((count, k))
    angle, previous = np.zeros(count), turn[rows, first]
    for i in range(k):  # the outside angle at a corner is the mean of its sides' central angles
        corner = (first + i) % k
        if i:
            here = turn[rows, corner]
            angle = angle + np.where(straight[rows, corner], 0.0, (previous + here) / 2)
            previous = np.where(straight[rows, corner], previous, here)
        heading[rows, corner] = angle
    steps = sides_mm[..., None] * np.stack([np.cos(heading), np.sin(heading)], axis=-1)
    shift = (np.arange(k)[None, :] - first[:, None]) % k
    ordered = np.zeros_like(steps)
    ordered[rows[:, None], shift] = steps
    placed = np.cumsum(ordered, axis=1) - ordered
    return np.asarray(placed[rows[:, None], shift])


def _central_angles(sides_mm: Floats, used: Bools) -> Floats:
    """Angles at the centre of the circle on which sides of these lengths close up.

    Sides that cannot close (one longer than the rest together) are taken with the long one cut
    to what the rest can span.
    """
    sides = np.where(used, sides_mm, 0.0)
    longest = sides.argmax(axis=1)
    rows = np.arange(len(sides))
    rest = sides.sum(axis=1) - sides[rows, longest]
    sides[rows, longest] = np.minimum(sides[rows, longest], rest * (1 - 1e-9))
    top = sides[rows, longest]
    others = sides.copy()
    others[rows, longest] = 0.0
    # Let s = chord / diameter of the longest side. The centre lies inside when the others' half
    # angles reach pi/2 at s = 1; otherwise the longest side's arc is the large one.
    ratio = others / top[:, None]
    inside = np.arcsin(np.clip(ratio, 0, 1)).sum(axis=1) >= np.pi / 2
    low, high = np.zeros(len(sides)), np.ones(len(sides))
    for _ in range(_HALVINGS):
        s = (low + high) / 2
        total = np.arcsin(np.clip(ratio * s[:, None], 0, 1)).sum(axis=1)
        own = np.arcsin(s)
        too_small = np.where(inside, total + own < np.pi, total < own)
        grow = np.where(inside, too_small, ~too_small)
        low, high = np.where(grow, s, low), np.where(grow, high, s)
    s = (low + high) / 2
    turn = 2 * np.arcsin(np.clip(ratio * s[:, None], 0, 1))
    turn[rows, longest] = np.where(inside, 2 * np.arcsin(s), 2 * np.pi - 2 * np.arcsin(s))
    return np.asarray(turn)
