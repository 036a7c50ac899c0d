"""Scans of known feet: a foot form with a scanner's noise, turned anyhow, with holes and cuts."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.spatial.transform import Rotation

from loopwright.fitting import foot_form
from loopwright.geometry import Surface
from loopwright.sock import Foot

Floats = NDArray[np.float64]


def of_length(mm: float, *, ball: float = 0.93) -> Foot:
    """A foot near the survey's: ball girth over length 0.93 ± 0.04, shared/survey/ratios.csv."""
    return Foot.of(length=f"{mm} mm", ball_girth=f"{ball * mm} mm")


def scan_of(
    foot: Foot,
    *,
    noise_mm: float = 0.0,
    seed: int | None = None,
    top: float = 0.95,
    holes: int = 0,
    sole: bool = True,
    between: tuple[float, float] = (-1.0, 2.0),
    rings: int = 160,
    columns: int = 96,
) -> Surface:
    """What a scanner might hand over of a foot.

    `top` and `between` are shares of the length: how high the leg goes, and what is there from
    behind to the front. With a seed it is turned and moved anyhow.
    """
    body = foot_form(foot, rings=rings, columns=columns).surface
    p, length = body.vertices_mm, foot.length.mm
    kept = p[:, 2] < top * length
    kept &= (p[:, 0] > between[0] * length) & (p[:, 0] < between[1] * length)
    chance = np.random.default_rng(seed)
    for _ in range(holes):
        middle = p[chance.integers(len(p))]
        kept &= np.linalg.norm(p - middle, axis=1) > chance.uniform(5, 14)
    if not sole:
        kept &= ~((p[:, 2] < 3) & (p[:, 0] > 0.08 * length))
    triangles = body.triangles[kept[body.triangles].all(axis=1)]
    moved = p + chance.normal(0, noise_mm, p.shape) if noise_mm else p
    if seed is not None:
        turn = Rotation.random(random_state=seed).as_matrix()
        moved = moved @ turn.T + chance.normal(0, 300, 3)
    return Surface(moved, triangles)


def bent(surface: Surface, *, right: bool) -> Surface:
    """A foot form made like a foot: the ball aslant, its inner side in front, the toes inward."""
    x, y, z = surface.vertices_mm.T
    inward = y if right else -y
    front = np.clip((x - 100) / 100, 0, 1) ** 2 * (z < 90)
    return Surface(
        np.stack([x + 0.3 * inward * front, y + (6.0 if right else -6.0) * front, z], axis=1),
        surface.triangles,
    )
