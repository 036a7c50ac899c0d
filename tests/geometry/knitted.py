"""A knitter small enough to read at a glance, for shapes before the real one is asked.

Loops are numbered as made; a round is told as stitches per new loop: ``1`` works one loop, ``2``
two together, ``-1`` makes a loop out of nothing between two others. Written independently of
`loopwright.making`, so that the solver's tests don't inherit its mistakes.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from loopwright.geometry._mesh import Mesh

STITCH_MM = 3.125  # 32 stitches per 10 cm
COURSE_MM = 100 / 44


class Knitter:
    """Rings of live loops on needles; edges and cells as they come off."""

    def __init__(self, stitch_mm: float = STITCH_MM, course_mm: float = COURSE_MM) -> None:
        self.w, self.h = stitch_mm, course_mm
        self.lean = float(np.hypot(self.w, self.h))
        self.edges: dict[tuple[int, int], tuple[float, bool]] = {}
        self.cells: list[list[int]] = []
        self.open: list[bool] = []
        self.n = 0

    def edge(self, a: int, b: int, rest: float, yarn: bool = False) -> None:
        self.edges[min(a, b), max(a, b)] = (rest, yarn)

    def cell(self, ring: list[int], *, opening: bool = False) -> None:
        self.cells.append(ring)
        self.open.append(opening)

    def cast_on(self, n: int, *, ring: bool = True) -> list[int]:
        """n loops joined into a round (or left flat), the far side open."""
        live = list(range(self.n, self.n + n))
        self.n += n
        for a, b in zip(live, live[1:] + live[:1], strict=True) if ring else pairwise(live):
            self.edge(a, b, self.w, True)
        if ring:
            self.cell(live[::-1], opening=True)
        return live

    def centre(self, n: int) -> list[int]:
        """n loops round one loop in the middle."""
        middle = self.n
        live = list(range(self.n + 1, self.n + 1 + n))
        self.n += n + 1
        for a, b in zip(live, live[1:] + live[:1], strict=True):
            self.edge(a, b, self.w, True)
            self.edge(a, middle, self.h)
            self.cell([a, b, middle])
        return live

    def round(self, live: list[int], takes: list[int], *, flat: bool = False) -> list[int]:
        """Work one round; loop j takes ``takes[j]`` of the live loops (-1: made, takes none)."""
        new: list[int] = []
        parents: list[list[int]] = []
        at = 0
        for take in takes:
            loop = self.n
            self.n += 1
            new.append(loop)
            count = max(take, 0)
            parents.append(live[at : at + count])
            at += count
            for parent in parents[-1]:
                self.edge(loop, parent, self.h)
            for right, left in zip(parents[-1], parents[-1][1:], strict=False):
                self.cell([right, left, loop])
        assert at == len(live), "a round uses every live loop"
        self._between(new, parents, flat)
        self._shear(new, parents)
        return new

    def _between(self, new: list[int], parents: list[list[int]], flat: bool) -> None:
        worked = [j for j, p in enumerate(parents) if p]
        pairs = list(zip(worked, worked[1:] + worked[:1], strict=True))
        for j, k in pairs[:-1] if flat else pairs:
            steps = new[j : k + 1] if k > j else new[j:] + new[: k + 1]
            a, b = parents[j][-1], parents[k][0]
            self.cell(([a] if a == b else [a, b]) + steps[::-1])
        ring = zip(new, new[1:] + new[:1], strict=True)
        for a, b in pairwise(new) if flat else ring:
            self.edge(a, b, self.w, True)

    def _shear(self, new: list[int], parents: list[list[int]]) -> None:
        """The rule of `loopwright.geometry._slants`, told by hand for bands of one stitch."""
        count = len(new)
        for j, p in enumerate(parents):
            if not p:  # an increase: the wales on either side lean away from it
                for k in (j - 1, (j + 1) % count):
                    for parent in parents[k]:
                        self.edge(new[k], parent, float(np.hypot(self.w / 2, self.h)))
            if len(p) == 2:
                band = (
                    -1
                    if len(parents[j - 1]) == 1
                    and len(parents[j - 2]) == 1
                    and len(parents[j - 3]) == 2
                    else 1
                )
                self.edge(new[j], p[0 if band < 0 else 1], self.lean)
                beside = (j + band) % count
                self.edge(new[beside], parents[beside][0], self.lean)

    def graft(self, front: list[int], back: list[int]) -> None:
        """Close front to back (facing in order) with one course between."""
        seam = list(range(self.n, self.n + 2 * len(front)))
        self.n += len(seam)
        for a, b in pairwise(seam):
            self.edge(a, b, self.w / 2, True)
        for j, (f, b) in enumerate(zip(front, back, strict=True)):
            self.edge(f, seam[2 * j], self.h / 2)
            self.edge(b, seam[2 * j + 1], self.h / 2)
        for j in range(len(front) - 1):
            s = seam[2 * j : 2 * j + 4]
            self.cell([front[j], s[0], s[1], s[2], front[j + 1]][::-1])
            self.cell([back[j], s[1], s[2], s[3], back[j + 1]])
        self.cell([front[0], seam[0], seam[1], back[0]])
        self.cell([front[-1], seam[-2], seam[-1], back[-1]][::-1])

    def mesh(self) -> Mesh:
        pairs = list(self.edges)
        rings = [ring for ring, is_open in zip(self.cells, self.open, strict=True) if not is_open]
        sizes = sorted({len(ring) for ring in rings})
        return Mesh.build(
            self.n,
            np.array(pairs),
            np.array([self.edges[p][0] for p in pairs]),
            np.array([self.edges[p][1] for p in pairs]),
            [np.array([ring for ring in rings if len(ring) == size]) for size in sizes],
        )


def wedge_round(n: int) -> list[int]:
    """K1, two together, knit to 3, two together, k1 on either half."""
    half = [1, 2, *[1] * (n // 2 - 6), 2, 1]
    return half + half


def close_wedge(knitter: Knitter, live: list[int], until: int) -> None:
    """Decrease 4 every other round down to `until`, then graft half to half."""
    while len(live) > until:
        live = knitter.round(live, wedge_round(len(live)))
        if len(live) > until:
            live = knitter.round(live, [1] * len(live))
    half = len(live) // 2
    knitter.graft(live[:half], live[half:][::-1])


def tube(n: int, courses: int) -> Mesh:
    knitter = Knitter()
    live = knitter.cast_on(n)
    for _ in range(courses - 1):
        live = knitter.round(live, [1] * n)
    knitter.cell(live, opening=True)
    return knitter.mesh()


def sock(
    n: int = 64, leg: int = 60, foot: int = 55, toe: int = 20, heel: int | None = 20, plain: int = 0
) -> Mesh:
    """A sock with its heel worked in the round on half the stitches, or left open (None)."""
    knitter = Knitter()
    live = knitter.cast_on(n)
    for _ in range(leg - 1):
        live = knitter.round(live, [1] * n)
    held, instep = live[: n // 2], live[n // 2 :]
    sole = knitter.cast_on(n // 2, ring=False)
    knitter.edge(sole[-1], instep[0], knitter.w, True)
    knitter.edge(instep[-1], sole[0], knitter.w, True)
    live = sole + instep
    for _ in range(foot):
        live = knitter.round(live, [1] * n)
    close_wedge(knitter, live, toe)
    mouth = held + sole[::-1]
    knitter.edge(sole[-1], held[-1], knitter.w, True)
    knitter.edge(sole[0], held[0], knitter.w, True)
    knitter.cell([sole[-1], held[-1], instep[0]])
    knitter.cell([sole[0], instep[-1], held[0]])
    if heel is None:
        knitter.cell(mouth, opening=True)
        return knitter.mesh()
    for _ in range(plain + 1):
        mouth = knitter.round(mouth, [1] * n)
    close_wedge(knitter, mouth, heel)
    return knitter.mesh()


def disc(increases: int, rounds: int, *, course_mm: float = 3.0) -> Mesh:
    """A circle: `increases` made in every round of stitches 3 mm wide, evenly and never in line.

    (In line they make a polygon, as every knitter of hats knows.)
    """
    knitter = Knitter(stitch_mm=3.0, course_mm=course_mm)
    live = knitter.centre(increases)
    for k in range(rounds):
        each = len(live) // increases
        first = int((k * 0.618) % 1 * each)
        live = knitter.round(live, [*[1] * first, -1, *[1] * (each - first)] * increases)
    knitter.cell(live, opening=True)
    return knitter.mesh()
