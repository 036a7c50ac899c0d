"""Where stitches stand in the picture of a stage: on a line, face to face, or in a ring."""

from __future__ import annotations

from math import cos, hypot, pi, sin, tan

import attrs

from loopwright.picture._stage_data import Stage

__all__ = ["RADIUS", "WIDE", "Ring", "Stand"]

WIDE = 250.0  # px: a stage's picture
RADIUS = 62.0  # px, from the middle of the ring to a needle


@attrs.frozen
class Stand:
    """A place on the needles, and which way is out.

    Parameters
    ----------
    x, y : float, px
    nx, ny : float
        Outward, of length 1.
    turn : int
        -1 where the work goes on counter-clockwise, seen from outside.
    """

    x: float
    y: float
    nx: float
    ny: float
    turn: int = 1

    def out(self, far: float, along: float = 0.0) -> tuple[float, float]:
        """Return a place `far` px outside, `along` px on in the direction of work."""
        return (
            self.x + self.nx * far - self.ny * along * self.turn,
            self.y + self.ny * far + self.nx * along * self.turn,
        )

    def mirrored(self) -> Stand:
        """Return it as a left-handed knitter has it."""
        return Stand(WIDE - self.x, self.y, -self.nx, self.ny, -self.turn)


@attrs.frozen
class Ring:
    """How the needles lie.

    In a line where the work goes to and fro; face to face, in a polygon or all round where it goes
    round. On a part of a ring where a holder or waste yarn carries the rest of it.

    Parameters
    ----------
    counts : tuple of int
        Stitches on each needle.
    rest : int
        Stitches that a holder or waste yarn carries between the needles' ends.
    """

    counts: tuple[int, ...]
    rest: int
    in_rounds: bool
    left_handed: bool
    middle: float

    @classmethod
    def of(cls, stage: Stage, top: float) -> Ring:
        """Return the ring of a stage whose picture begins at `top`."""
        counts = tuple(len(carrier.loops) for carrier in stage.needles)
        rest = sum(len(carrier.loops) for carrier in stage.in_ring)
        bare = cls(counts, rest, stage.in_rounds, stage.left_handed, 0.0)
        return attrs.evolve(bare, middle=top + bare.above)

    @property
    def above(self) -> float:
        """Height that it takes above its middle, px: stitches, the work's arrow, labels."""
        if not self.in_rounds:
            return 38.0
        if self.is_pair:
            return 58.0
        return RADIUS + 27 if self.is_round else 98.0

    @property
    def depth(self) -> float:
        """Height that it takes, px."""
        if not self.in_rounds:
            return 76.0
        if self.is_pair:
            return 136.0
        if self.is_round:
            return 2 * RADIUS + (54 if self.rest else 71)
        return 188.0 if len(self.counts) == 3 else 204.0

    @property
    def is_round(self) -> bool:
        """Whether stitches stand on a circle."""
        return self.in_rounds and (len(self.counts) == 1 or bool(self.rest))

    @property
    def is_pair(self) -> bool:
        """Whether two needles lie face to face."""
        return self.in_rounds and len(self.counts) == 2 and not self.rest

    def stand(self, needle: int, share: float) -> Stand:
        """Return the place at a share (0 to 1) of a needle, in working order."""
        if self.is_round:
            before = sum(self.counts[:needle]) + share * self.counts[needle]
            return self._on_circle(before)
        if not self.in_rounds:
            found = self._on_line(needle, share)
        elif self.is_pair:
            step = 1 if needle == 0 else -1
            found = Stand(
                WIDE / 2 + step * RADIUS * 1.4 * (1 - 2 * share),
                self.middle + step * RADIUS * 0.5, 0, step,
            )  # fmt: skip
        else:
            found = self._on_polygon(needle, share)
        return found.mirrored() if self.left_handed else found

    def room(self, needle: int) -> float:
        """Return how much of a needle each of its stitches has, px."""
        if self.is_round:
            return 2 * pi * RADIUS / (sum(self.counts) + self.rest)
        first, last = self.stand(needle, 0), self.stand(needle, 1)
        return hypot(last.x - first.x, last.y - first.y) / max(self.counts[needle], 1)

    def between(self, at: float) -> Stand:
        """Return the place after `at` of the stitches between the needles' ends."""
        return self._on_circle(sum(self.counts) + at)

    def along(self, start: Stand, far: float, along: float) -> tuple[float, float]:
        """Return a place `far` px outside and `along` px further on the way that the work goes."""
        if not self.is_round:
            return start.out(far, along)
        angle = along / (RADIUS + far) * start.turn
        nx = start.nx * cos(angle) - start.ny * sin(angle)
        ny = start.nx * sin(angle) + start.ny * cos(angle)
        return start.x + nx * (RADIUS + far) - start.nx * RADIUS, start.y + ny * (
            RADIUS + far
        ) - start.ny * RADIUS

    def _on_line(self, needle: int, share: float) -> Stand:
        whole = WIDE - 50
        each = whole / len(self.counts)
        return Stand(
            25 + whole - needle * each - 3 - (each - 6) * share, self.middle, 0, -1, -1
        )  # fmt: skip

    def _on_circle(self, stitches: float) -> Stand:
        """Return a place on the circle: the needles' middle is near, or they go all round."""
        whole = sum(self.counts) + self.rest
        start = pi / 2 - pi * sum(self.counts) / whole if self.rest else pi / 2
        angle = start + 2 * pi * stitches / whole
        found = Stand(
            WIDE / 2 + RADIUS * cos(angle), self.middle + RADIUS * sin(angle), cos(angle),
            sin(angle),
        )  # fmt: skip
        return found.mirrored() if self.left_handed else found

    def _on_polygon(self, needle: int, share: float) -> Stand:
        sides = len(self.counts)
        inner = RADIUS * (0.62 if sides == 3 else 0.85)
        half = inner * tan(pi / sides) - 6
        angle = pi / 2 + needle * 2 * pi / sides  # down, then left: clockwise on a page
        x, y = WIDE / 2 + inner * cos(angle), self.middle + inner * sin(angle)
        base = Stand(x, y, cos(angle), sin(angle))
        px, py = base.out(0, half * (2 * share - 1))
        return attrs.evolve(base, x=px, y=py)
