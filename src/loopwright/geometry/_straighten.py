"""Pulling a line on a surface straight: from a rough one to the geodesic beside it.

A line is held as the edges that it crosses, a strip of triangles. Unrolled into the plane, the
shortest line within the strip is that of a string pulled tight (the funnel of Lee and Preparata
1984, from memory). Where the string bends round a corner, and the surface on the corner's other
side is less than a half turn wide, the strip is led round that side instead. Each time the line
gets shorter. What is left bends nowhere that it could be straight: a geodesic, with no error but
that of arithmetic.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import acos, atan2, dist, inf, pi, sqrt
from typing import Final, TypeAlias

import attrs
import numpy as np
from numpy.typing import NDArray

__all__ = ["Portal", "Sheet", "Straight", "straighten"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Portal: TypeAlias = tuple[int, int]
"""An edge that the line crosses: its end on the left hand, then that on the right."""
_Flat: TypeAlias = tuple[float, float]

_HARDLY: Final = 1e-9  # radians short of a half turn: nothing gained by leading the strip round
_HARDLY_MM: Final = 1e-9


@attrs.frozen(eq=False)
class Sheet:
    """Part of a surface, by the edges of its triangles.

    Parameters
    ----------
    points : list of (x, y, z), mm
    beyond : dict
        From an edge, in the direction in which its triangle runs, to the triangle's third corner.
    """

    points: list[list[float]]
    beyond: dict[Portal, int]

    @classmethod
    def of(cls, points: Floats, triangles: Ints) -> Sheet:
        """From points, shape (n, 3), and triangles, shape (t, 3)."""
        sides = np.concatenate([triangles[:, [k, (k + 1) % 3]] for k in range(3)])
        third = np.concatenate([triangles[:, (k + 2) % 3] for k in range(3)])
        keys = zip(sides[:, 0].tolist(), sides[:, 1].tolist(), strict=True)
        return cls(points.tolist(), dict(zip(keys, third.tolist(), strict=True)))

    def span(self, a: int, b: int) -> float:
        """Distance in space."""
        (x, y, z), (u, v, w) = self.points[a], self.points[b]
        return sqrt((x - u) ** 2 + (y - v) ** 2 + (z - w) ** 2)

    def around(self, vertex: int, first: int) -> float | None:
        """Angles round a vertex, added up from a neighbour on; None at an edge of the sheet."""
        total, at = 0.0, first
        while True:
            after = self.beyond.get((vertex, at))
            if after is None:
                return None
            one, two, far = self.span(vertex, at), self.span(vertex, after), self.span(at, after)
            cosine = (one * one + two * two - far * far) / max(2 * one * two, 1e-30)
            total += acos(min(1.0, max(-1.0, cosine)))
            at = after
            if at == first:
                return total


@attrs.frozen(eq=False)
class Straight:
    """A line pulled straight.

    Parameters
    ----------
    length_mm : float
    points_mm : list of (x, y, z)
        Both ends, and where it crosses edges.
    nearest : list of int
        The vertex nearest to each.
    """

    length_mm: float
    points_mm: list[list[float]]
    nearest: list[int]


def straighten(sheet: Sheet, start: int, end: int, portals: Iterable[Portal]) -> Straight:
    """Pull a line straight.

    Parameters
    ----------
    start, end : int
        Vertices.
    portals : iterable of Portal
        The edges that it crosses, in order.
    """
    strip: list[Portal] | None = _tidied(sheet, portals, start, end)
    best = _Try(inf, [], [])
    while strip is not None:
        string = _pulled(_unrolled(sheet, start, strip, end), strip)
        length = sum(dist(a.at, b.at) for a, b in pairwise(string))
        if length > best.length_mm - _HARDLY_MM:
            break  # as far as the arithmetic can tell
        best = _Try(length, strip, string)
        led = _led_round(sheet, strip, string)
        strip = None if led is None else _tidied(sheet, led, start, end)
    return _in_space(sheet, start, end, best)


@attrs.frozen
class _Corner:
    """Where the string touches a corner of the strip: a portal's left (0) or right (1) end."""

    portal: int
    side: int
    at: _Flat


@attrs.frozen
class _Unrolled:
    """The strip in the plane: the ends of its portals, then the line's end twice."""

    start: _Flat
    portals: list[tuple[_Flat, _Flat]]


def _tidied(sheet: Sheet, portals: Iterable[Portal], start: int, end: int) -> list[Portal]:
    """Leave out each way round a vertex to where it came from, and crossings at either end."""
    kept: list[Portal] = []
    before: list[frozenset[int]] = []  # the triangle from which each of them is crossed
    for left, right in portals:
        before.append(frozenset((left, right, sheet.beyond[right, left])))
        kept.append((left, right))
        here = frozenset((left, right, sheet.beyond[left, right]))
        by_left = by_right = True
        for k in range(len(kept) - 1, -1, -1):
            by_left, by_right = by_left and left in kept[k], by_right and right in kept[k]
            if not (by_left or by_right):
                break
            if before[k] == here:
                del kept[k:], before[k:]
                break
    first, last = 0, len(kept)
    while first < last and start in kept[first]:
        first += 1
    while first < last and end in kept[last - 1]:
        last -= 1
    return kept[first:last]


def _unrolled(sheet: Sheet, start: int, strip: list[Portal], end: int) -> _Unrolled:
    begin = (0.0, 0.0)
    if not strip:
        there = (sheet.span(start, end), 0.0)
        return _Unrolled(begin, [(there, there)])
    (left, right), flat = strip[0], []
    b = (sheet.span(start, right), 0.0)
    a = _apex(begin, b, sheet.span(start, left), sheet.span(right, left))
    for portal in [*strip[1:], (end, end)]:
        flat.append((a, b))
        apex = portal[0] if portal[0] != left else portal[1]
        c = _apex(a, b, sheet.span(left, apex), sheet.span(right, apex))
        a, b = (c if portal[0] == apex else a), (c if portal[1] == apex else b)
        left, right = portal
    return _Unrolled(begin, [*flat, (a, b)])


def _apex(a: _Flat, b: _Flat, from_a: float, from_b: float) -> _Flat:
    """The third corner of a triangle, on the left of the way from `a` to `b`."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    side = max(sqrt(dx * dx + dy * dy), 1e-12)
    along = (from_a * from_a + side * side - from_b * from_b) / (2 * side)
    high = sqrt(max(from_a * from_a - along * along, 0.0))
    return (
        a[0] + (along * dx - high * dy) / side,
        a[1] + (along * dy + high * dx) / side,
    )


def _turn(a: _Flat, b: _Flat, c: _Flat) -> float:
    """Positive where `c` lies on the left of the way from `a` to `b`."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _pulled(flat: _Unrolled, strip: list[Portal]) -> list[_Corner]:
    """The corners that the string touches, with the strip's ends before and after them."""
    found = [_Corner(-1, 0, flat.start)]
    last = len(strip)
    apex = flat.start
    ends: list[_Flat] = [apex, apex]  # of the funnel, left and right
    at = [-1, -1]
    k = 0
    while k <= last:
        for side, sign in ((1, 1.0), (0, -1.0)):
            new = flat.portals[k][side]
            if sign * _turn(apex, ends[side], new) < 0:
                continue  # it would widen the funnel
            if ends[side] == apex or sign * _turn(apex, ends[1 - side], new) <= 0:
                ends[side], at[side] = new, k
                continue
            k = at[1 - side]  # crossed over: the string turns round the other side's end
            apex = ends[1 - side]
            found.append(_Corner(k, 1 - side, apex))
            ends, at = [apex, apex], [k, k]
            break
        k += 1
    return [*found, _Corner(last, 0, flat.portals[last][0])]


@attrs.frozen
class _Try:
    """A strip, and the string in it."""

    length_mm: float
    strip: list[Portal]
    string: list[_Corner]


def _led_round(sheet: Sheet, strip: list[Portal], string: list[_Corner]) -> list[Portal] | None:
    """The strip led round the other side of corners where that is shorter; None where of none."""
    led: list[Portal] = []
    done = 0  # portals of the old strip that are dealt with
    for before, corner, after in zip(string, string[1:], string[2:], strict=False):
        vertex = strip[corner.portal][corner.side]
        first, last = _run(strip, corner)
        if (done and first <= done) or before.at == corner.at:  # neighbours share a portal
            continue
        bend = _bend(before.at, corner.at, after.at)
        whole = sheet.around(vertex, strip[first][1 - corner.side])
        if whole is None or whole - bend > 2 * pi - _HARDLY:
            continue
        other = _other_side(sheet, strip, corner.side, first, last)
        led += [*strip[done:first], *other]
        done = last + 1
    return [*led, *strip[done:]] if done else None


def _run(strip: list[Portal], corner: _Corner) -> tuple[int, int]:
    """First and last of the portals that end in a corner."""
    side, first = corner.side, corner.portal
    vertex = strip[first][side]
    last = first
    while first and strip[first - 1][side] == vertex:
        first -= 1
    while last + 1 < len(strip) and strip[last + 1][side] == vertex:
        last += 1
    return first, last


def _bend(before: _Flat, at: _Flat, after: _Flat) -> float:
    u, v = (at[0] - before[0], at[1] - before[1]), (after[0] - at[0], after[1] - at[1])
    return abs(atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1]))


def _other_side(
    sheet: Sheet, strip: list[Portal], side: int, first: int, last: int
) -> list[Portal]:
    """Portals round the other side of the corner that those from first to last end in."""
    vertex = strip[first][side]
    inner, outer = strip[first][1 - side], strip[last][1 - side]

    def beyond(a: int, b: int) -> int:
        return sheet.beyond[(a, b) if side == 0 else (b, a)]

    def portal(x: int) -> Portal:
        return (x, vertex) if side == 0 else (vertex, x)

    at, goal = beyond(inner, vertex), beyond(vertex, outer)
    found = [portal(at)]
    while at != goal:
        at = beyond(at, vertex)
        found.append(portal(at))
    return found


def _in_space(sheet: Sheet, start: int, end: int, found: _Try) -> Straight:
    flat = _unrolled(sheet, start, found.strip, end)
    points, nearest = [sheet.points[start]], [start]
    for here, there in pairwise(found.string):
        for k in range(here.portal + 1, min(there.portal + 1, len(found.strip))):
            (a, b), (left, right) = flat.portals[k], found.strip[k]
            off_left, off_right = _turn(here.at, there.at, a), -_turn(here.at, there.at, b)
            share = min(1.0, max(0.0, off_left / max(off_left + off_right, 1e-30)))
            p, q = sheet.points[left], sheet.points[right]
            points.append([u + share * (v - u) for u, v in zip(p, q, strict=True)])
            nearest.append(left if share < 0.5 else right)
    return Straight(found.length_mm, [*points, sheet.points[end]], [*nearest, end])
