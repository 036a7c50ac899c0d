"""How a fabric pulls: each edge after the law of its direction, and chords against shear.

What the chords pull is taken off the springs, so that a piece stretched one way alone has the law's
tension. It draws in the other way by as much as the law says.
"""

from __future__ import annotations

from typing import Final, TypeAlias

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.fitting._tension import law_points
from loopwright.geometry import Shape
from loopwright.geometry.springs import SHORTEST_MM, Reals, Springs

__all__ = ["Membrane", "TensionLaw", "Weave"]

Floats = NDArray[np.float64]

Point: TypeAlias = tuple[float, float, float]

_UNIT: Final = 5.0  # tension at the slope with which the law begins across: stiffness is about 1
_CHORD: Final = 0.3  # shear, in the same units; no source
_NARROWED: Final = 0.3  # stiffness of a course that is pushed together; its law there is flat
_SINGLE: Final = np.float32  # what the steps move through memory; see `springs`


@attrs.frozen
class Membrane:
    """How a fabric resists stretching; by default plain fabric.

    Parameters
    ----------
    across, along : tuple of (stretch, tension, left)
        Points of the law, from (1, 0, 1) on: stretched so far across the wales (along them), the
        fabric pulls so hard and the other way is left so much of its size.
    chord : float
        Stiffness of a cell's chords, where 1 is about that of a course.

    Examples
    --------
    >>> plain = Membrane()
    >>> plain.across[3], plain.along[5]
    ((1.25, 1.33, 0.9), (1.125, 1.6, 0.97))
    """

    across: tuple[Point, ...] = attrs.field(factory=lambda: law_points("across"))
    along: tuple[Point, ...] = attrs.field(factory=lambda: law_points("along"))
    chord: float = _CHORD

    def _laws(self, width: float, height: float) -> tuple[TensionLaw, TensionLaw]:
        """Return the laws of courses and wales in cells of this size, less the chords' pull."""
        across, along = np.array(self.across).T, np.array(self.along).T
        aside, inward = self._chords(across[0], across[2], width, height)
        _, upward = self._chords(along[2], along[0], width, height)
        course = TensionLaw.through(
            np.append(0.0, across[0]), np.append(-_NARROWED, across[1] / _UNIT - aside)
        )
        pressed = np.argsort(across[2][1:])
        wale = TensionLaw.through(
            np.concatenate([across[2][1:][pressed], along[0]]),
            np.concatenate([-inward[1:][pressed], along[1] / _UNIT - upward]),
        )
        return course, wale

    def _chords(self, wide: Floats, high: Floats, w: float, h: float) -> tuple[Floats, Floats]:
        """What a cell's two chords pull along courses and wales, at these stretches."""
        rest = np.hypot(w, h)
        now = np.hypot(w * wide, h * high)
        pull = 2 * self.chord * (now / rest - 1) / (now * rest)
        return np.asarray(pull * w * w * wide), np.asarray(pull * h * h * high)


@attrs.frozen(eq=False)
class TensionLaw:
    """A tension by stretch, straight between points and going on as it begins and ends."""

    stretch: Reals
    tension: Reals
    slope: Reals
    energy: Reals

    @classmethod
    def through(cls, stretch: Floats, tension: Floats) -> TensionLaw:
        """Through points whose stretches ascend."""
        slope = np.diff(tension) / np.diff(stretch)
        mean = (tension[1:] + tension[:-1]) / 2
        energy = np.append(0.0, np.cumsum(mean * np.diff(stretch)))
        energy -= np.interp(1.0, stretch, energy)
        return cls(*(part.astype(_SINGLE) for part in (stretch, tension, slope, energy)))

    def at(self, stretch: Reals) -> tuple[Reals, float]:
        """Tension at each, and the sum of the energies."""
        k = self._piece(stretch)
        over = stretch - self.stretch[k]
        begin, bend = self.tension[k], self.slope[k] * over
        energy = self.energy[k] + over * (begin + bend / 2)
        return begin + bend, float(energy.sum(dtype=np.float64))

    def stored(self, stretch: Reals) -> Reals:
        """Energy at each."""
        k = self._piece(stretch)
        over = stretch - self.stretch[k]
        return np.asarray(self.energy[k] + over * (self.tension[k] + self.slope[k] * over / 2))

    def pull(self, stretch: Reals) -> tuple[Reals, Reals]:
        """Tension at each, and how steeply it rises there."""
        k = self._piece(stretch)
        return self.tension[k] + self.slope[k] * (stretch - self.stretch[k]), self.slope[k]

    def _piece(self, stretch: Reals) -> NDArray[np.int64]:
        found = np.searchsorted(self.stretch, stretch) - 1
        return np.asarray(np.clip(found, 0, len(self.slope) - 1))


@attrs.frozen(eq=False)
class Weave:
    """Edges with the law of their direction, and chords between them.

    Parameters
    ----------
    edges : tuple of (Springs, law)
        Of courses and of wales; here the stiffness is force by unit of tension.
    area_mm2 : float
        Of the cell that an edge stands for.
    chords : Springs
    steering : Springs
        All of them, with the stiffness that they have where the fabric is hardly stretched.
    """

    edges: tuple[tuple[Springs, TensionLaw], ...]
    area_mm2: float
    chords: Springs
    steering: Springs

    @classmethod
    def of(cls, shape: Shape, membrane: Membrane) -> Weave:
        mesh = shape.mesh
        diagonals, spans = mesh.chords()
        along = mesh.along
        width, height = (float(np.median(mesh.rest_mm[kind])) for kind in (along, ~along))
        area = width * height
        laws, force = membrane._laws(width, height), area / mesh.rest_mm
        ways = [
            (Springs.of(mesh.n, mesh.edges[kind], mesh.rest_mm[kind], force[kind], _SINGLE), law)
            for kind, law in zip((along, ~along), laws, strict=True)
        ]
        pulls = membrane.chord * area / spans**2
        chords = Springs.of(mesh.n, diagonals, spans, pulls, _SINGLE)
        stiff = np.where(along, 1.0, 2.0) * area / mesh.rest_mm**2
        steering = Springs.of(
            mesh.n,
            np.concatenate([mesh.edges, diagonals]),
            np.concatenate([mesh.rest_mm, spans]),
            np.concatenate([stiff, pulls]),
        )
        return cls(tuple(ways), area, chords, steering)

    def add(self, place: Reals, gradient: Reals) -> float:
        """Add the pull to `gradient`; return the energy."""
        energy = self.chords.add(place, gradient)
        for springs, law in self.edges:
            span = [np.take(row, springs.first) - np.take(row, springs.second) for row in place]
            length = np.sqrt(span[0] * span[0] + span[1] * span[1] + span[2] * span[2])
            tension, stored = law.at(length / springs.rest_mm)
            energy += self.area_mm2 * stored
            share = springs.stiffness * tension / np.maximum(length, SHORTEST_MM)
            for row, part in zip(gradient, span, strict=True):
                row += springs.back @ (share * part)
        return energy
