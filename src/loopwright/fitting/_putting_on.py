"""Where draping begins: each vertex on the form, as far along it and around it as on the sock.

A sock's shares of its own length are not a foot's. By these alone its rounds lie up to 60 mm from
where they come to rest, and hundreds of steps in space went into sliding them there. But sliding is
smooth. How far each vertex is moved along and around the form changes little from place to place,
and hardly more round the leg than its front and its back differ. So a few dozen numbers say it,
found where the same springs have the least energy (Gauss and Newton's steps), the fabric held on
the form's skin. That leaves to the steps in space what lies near by, and off the skin.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import attrs
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray

from loopwright.errors import ShapeError
from loopwright.fitting._footform import FootForm
from loopwright.fitting._membrane import TensionLaw, Weave
from loopwright.fitting.girths import Route, route
from loopwright.geometry import Shape
from loopwright.geometry.springs import SHORTEST_MM

__all__ = ["put_on"]

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

_CLEAR: Final = 1.005  # how far outside the form the sock starts
_TIP: Final = 0.98  # of the form's way: beyond it closes so fast that slides would be uneven
_END: Final = 5  # rings over which the way beyond an end is taken
_KNOTS: Final = 16  # places from cuff to toe whose slides are found; in between they are blended
_WAVES: Final[tuple[tuple[bool, Callable[[Floats], Floats]], ...]] = (
    (True, np.ones_like),  # whole rounds, along
    (True, np.cos),  # leant: front against back
    (True, lambda around: np.cos(2 * around)),  # sides against front and back
    (False, np.sin),  # around, towards front or back, left and right alike
    (False, lambda around: np.sin(2 * around)),
)
_LONGEST: Final = 0.06  # of the form's way, in a step: longer ones lead off the heel
_HELD: Final = 0.03  # of the stiffest slide, at the heel's tip
_LEFT: Final = 0.95  # of a leg's height, on a foot that stretches it as usual
_TRIES: Final = 16
_ENOUGH: Final = 0.003  # of the energy: a step that wins less is the last
_HALVINGS: Final = 8
_DAMPED: Final = 1e-6  # of the stiffest slide
_SLACKEST: Final = 0.1  # stiffness that a step reckons with at least; the laws begin flat
_SAMPLE: Final = 4000  # edges of a kind: of more, as many are drawn
_GOLDEN: Final = (5**0.5 - 1) / 2


@attrs.frozen(eq=False)
class _Rings:
    """The form's points by ring and column, a little outside it.

    Parameters
    ----------
    points_mm : ndarray, shape (rings, columns, 3)
    upward_mm, onward_mm : ndarray, shape (3,)
        How the first ring goes on by one above the leg, and the last one beyond the toe: a sock
        may be longer than the foot.
    """

    points_mm: Floats
    upward_mm: Floats
    onward_mm: Floats

    @classmethod
    def of(cls, form: FootForm) -> _Rings:
        columns = len(np.unique(form.around))
        kept = form.along[:-2] <= _TIP
        skin, spine = form.surface.vertices_mm[:-2][kept], form.spine_mm[:-2][kept]
        middle = spine[::columns]
        apart_mm = float(np.median(np.linalg.norm(np.diff(middle, axis=0), axis=1)))
        ends = [middle[0] - middle[_END], middle[-1] - middle[-1 - _END]]
        return cls(
            (spine + _CLEAR * (skin - spine)).reshape(-1, columns, 3),
            *(apart_mm * end / max(float(np.linalg.norm(end)), 1e-9) for end in ends),
        )

    def at(self, ring: Floats, column: Floats) -> tuple[Floats, Floats, Floats]:
        """Points between rings and columns, and how they move by ring and by column."""
        rings, columns, _ = self.points_mm.shape
        here = np.clip(ring, 0, rings - 1)
        low, left = np.minimum(here.astype(np.int64), rings - 2), np.floor(column).astype(np.int64)
        down, aside = (here - low)[:, None], (column - left)[:, None]
        left, right = left % columns, (left + 1) % columns
        flat = self.points_mm.reshape(-1, 3)
        a, b, c, d = (flat[columns * row + at] for row in (low, low + 1) for at in (left, right))
        upper, lower = a + aside * (b - a), c + aside * (d - c)
        over, beyond = np.minimum(ring, 0)[:, None], np.maximum(ring - (rings - 1), 0)[:, None]
        place = upper + down * (lower - upper) - over * self.upward_mm + beyond * self.onward_mm
        by_ring = np.where(over < 0, -self.upward_mm, lower - upper)
        by_ring = np.where(beyond > 0, self.onward_mm, by_ring)
        return place, by_ring, (b - a) + down * ((d - c) - (b - a))


@attrs.frozen(eq=False)
class _Slides:
    """Vertices at rings and columns of the form, and the slides that may move them.

    Parameters
    ----------
    ring, column : ndarray, shape (n,)
    along, around : sparse array, shape (n, slides)
        What each slide adds to them.
    """

    form: _Rings
    ring: Floats
    column: Floats
    along: sp.csr_array
    around: sp.csr_array

    @classmethod
    def of(cls, form: _Rings, ring: Floats, around: Floats, share: Floats) -> _Slides:
        at = share * (_KNOTS - 1)
        low = np.clip(at.astype(np.int64), 0, _KNOTS - 2)
        over = at - low
        n, slides = len(share), len(_WAVES) * _KNOTS

        def moved(lengthwise: bool) -> sp.csr_array:
            rows, columns, values = [], [], []
            for number, (along, wave) in enumerate(_WAVES):
                if along == lengthwise:
                    for knot, weight in ((low, 1 - over), (low + 1, over)):
                        rows.append(np.arange(n))
                        columns.append(number * _KNOTS + knot)
                        values.append(weight * wave(around))
            at = (np.concatenate(rows), np.concatenate(columns))
            return sp.csr_array((np.concatenate(values), at), shape=(n, slides))

        column = around / (2 * np.pi) * form.points_mm.shape[1]
        return cls(form, ring, column, moved(True), moved(False))

    def farthest(self, by: Floats) -> float:
        """How many rings slides move a vertex at most."""
        return max(float(np.abs(self.along @ by).max()), 1e-9)

    def at(self, by: Floats) -> tuple[Floats, Floats, Floats]:
        """Points after slides, and how they go on moving along and around."""
        return self.form.at(self.ring + self.along @ by, self.column + self.around @ by)


@attrs.frozen(eq=False)
class _Pull:
    """Edges of one kind, or some of them for all.

    Parameters
    ----------
    first, second : ndarray, shape (m,), int64
    rest_mm, force : ndarray, shape (m,)
        Force by unit of tension; that of a chord is its stiffness times its length.
    law : TensionLaw
    weight : float
        Of its energy.
    """

    first: Ints
    second: Ints
    rest_mm: Floats
    force: Floats
    law: TensionLaw
    weight: float

    @classmethod
    def all_of(cls, weave: Weave) -> list[_Pull]:
        """The weave's edges and chords, at most a fixed number of a kind."""
        spring = TensionLaw.through(np.array([0.0, 1.0]), np.array([-1.0, 0.0]))
        kinds = [
            *((springs, law, springs.stiffness) for springs, law in weave.edges),
            (weave.chords, spring, weave.chords.stiffness * weave.chords.rest_mm),
        ]
        found = []
        for springs, law, force in kinds:
            m = len(springs.rest_mm)
            # A golden sequence falls on no wale or course more often than on another.
            drawn = np.unique((m * (_GOLDEN * np.arange(min(m, _SAMPLE)) % 1)).astype(np.int64))
            pick = np.arange(m) if m <= _SAMPLE else drawn
            found.append(
                cls(springs.first[pick], springs.second[pick], springs.rest_mm[pick].astype(float),
                    force[pick].astype(float), law, m / max(len(pick), 1))
            )  # fmt: skip
        return found

    def energy(self, place: Floats) -> float:
        """Energy at these places."""
        _, length = self._spans(place)
        stored = self.law.stored(length / self.rest_mm)
        return self.weight * float((self.force * self.rest_mm) @ stored)

    def slope(self, slides: _Slides, moves: tuple[Floats, Floats, Floats]) -> tuple[Floats, Floats]:
        """Gradient and stiffness by slides, at these places that move so."""
        place, by_ring, by_column = moves
        span, length = self._spans(place)
        span /= np.maximum(length, SHORTEST_MM)[:, None]
        longer = _longer(span, by_ring, slides.along, (self.first, self.second)) + _longer(
            span, by_column, slides.around, (self.first, self.second)
        )
        tension, steepness = self.law.pull(length / self.rest_mm)
        stiff = self.force / self.rest_mm * np.maximum(steepness, _SLACKEST)
        gradient = longer.T @ (self.force * tension)
        return self.weight * gradient, self.weight * _squared(longer, stiff)

    def _spans(self, place: Floats) -> tuple[Floats, Floats]:
        span = place[self.first] - place[self.second]
        return span, np.sqrt(np.einsum("ij,ij->i", span, span))


def _longer(
    along: Floats, moves: Floats, slides: sp.csr_array, ends: tuple[Ints, Ints]
) -> sp.csr_array:
    """How much longer each slide makes edges of these directions, whose ends move so."""
    first, second = (
        sp.diags_array(np.einsum("ij,ij->i", along, moves[end])) @ slides[end] for end in ends
    )
    return first - second


def _squared(longer: sp.csr_array, stiff: Floats) -> Floats:
    return np.asarray((longer.T @ (sp.diags_array(stiff) @ longer)).toarray())


def put_on(shape: Shape, form: FootForm, weave: Weave, heel: int | None) -> Floats:
    """Put each vertex just outside the form, where whole rounds and their fronts hardly slide."""
    where = route(shape, heel=heel)
    if where.heel is None:
        raise ShapeError("a fabric without a heel", "drape a sock, or press it on a body yourself")
    p = shape.surface.vertices_mm
    share = where.tube.from_rim_mm / np.maximum(
        where.tube.from_rim_mm + where.tube.from_end_mm, 1e-9
    )
    along = _stations(share, float(share[where.heel]), where, form)
    around = _angles(p, share, where.tube.path, p[where.heel])
    rings = np.unique(form.along)[1:-1]
    ring = np.interp(along, rings, np.arange(len(rings)))
    slides = _Slides.of(_Rings.of(form), ring, around, share)
    return _slid(slides, slides.along[[where.heel]].toarray()[0], _Pull.all_of(weave))


def _slid(slides: _Slides, heel: Floats, pulls: list[_Pull]) -> Floats:
    """Slide by damped Gauss-Newton steps to where the pulls have the least energy.

    The heel's tip is held, by a spring as stiff as the stiffest slide. A tight leg would lead the
    whole sock off the heel, where whoever puts it on holds it.
    """
    by = np.zeros(slides.along.shape[1])
    moves = slides.at(by)
    energy, held = sum(pull.energy(moves[0]) for pull in pulls), 0.0
    for _ in range(_TRIES):
        slopes = [pull.slope(slides, moves) for pull in pulls]
        stiff = np.sum([stiffness for _, stiffness in slopes], axis=0)
        held = held or _HELD * float(stiff.max())
        gradient = np.sum([slope for slope, _ in slopes], axis=0) + held * (heel @ by) * heel
        stiff += held * np.outer(heel, heel) + _DAMPED * stiff.max() * np.eye(len(by))
        step, before = np.linalg.solve(stiff, gradient), energy
        step *= min(1.0, _LONGEST * len(slides.form.points_mm) / slides.farthest(step))
        for halving in range(_HALVINGS):
            new = by - step / 2**halving
            there = slides.at(new)
            energy = sum(pull.energy(there[0]) for pull in pulls) + held / 2 * (heel @ new) ** 2
            if energy < before:
                by, moves = new, there
                break
        if not energy < (1 - _ENOUGH) * before:
            break
    return moves[0]


def _stations(share: Floats, heel: float, where: Route, form: FootForm) -> Floats:
    """From the share of the way cuff to toe to the place along the form."""
    leg_mm = _LEFT * float(where.tube.from_rim_mm[where.heel])
    rings = np.unique(form.along)[1:-1]
    back = form.surface.vertices_mm[:-2].reshape(len(rings), -1, 3)
    back = back[:, back.shape[1] // 2]
    down_mm = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(back, axis=0), axis=1))])
    heel_mm = float(np.interp(form.stations["heel"], rings, down_mm))
    cuff = float(np.interp(heel_mm - leg_mm, down_mm, rings))
    return np.asarray(np.interp(share, [0.0, heel, 1.0], [cuff, form.stations["heel"], 0.995]))


def _angles(p: Floats, share: Floats, front: Ints, heel: Floats) -> Floats:
    """Angle of each vertex round the sock's own middle line, 0 in front, a quarter on the left."""
    bins = 40
    slot = np.minimum((share * bins).astype(np.int64), bins - 1)
    count = np.maximum(np.bincount(slot, minlength=bins), 1)
    middle = np.stack([np.bincount(slot, p[:, k], bins) / count for k in range(3)], axis=1)
    used = np.bincount(slot, minlength=bins) > 0
    at = (np.arange(bins) + 0.5) / bins
    centre = np.stack([np.interp(share, at[used], middle[used, k]) for k in range(3)], axis=1)
    ahead = np.gradient(middle[used], at[used], axis=0)
    forward = np.stack([np.interp(share, at[used], ahead[:, k]) for k in range(3)], axis=1)
    forward /= np.maximum(np.linalg.norm(forward, axis=1), 1e-9)[:, None]
    order = np.argsort(share[front])
    line = np.stack(
        [np.interp(share, share[front][order], p[front][order, k]) for k in range(3)], axis=1
    )
    # One plane for the whole sock keeps the angle from twisting: its normal points left.
    left = np.cross(p[front].mean(axis=0) - heel, forward[front].mean(axis=0))
    left = -left / np.linalg.norm(left)
    top = np.cross(left, forward)
    top *= np.sign(np.einsum("ij,ij->i", line - centre, top))[:, None]
    off = p - centre
    return np.asarray(np.arctan2(off @ left, np.einsum("ij,ij->i", off, top)) % (2 * np.pi))
