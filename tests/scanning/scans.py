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
    rings: int = 110,
    columns: int = 80,
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


def pointed(surface: Surface, degrees: float) -> Surface:
    """A foot that hangs: its leg turned back about the ankle."""
    p = surface.vertices_mm
    middle = np.array([60, 0, 80.0])
    share = np.clip((p[:, 2] - 70) / 40, 0, 1) * (p[:, 0] < 130)
    c, s = np.cos(np.radians(degrees) * share), np.sin(np.radians(degrees) * share)
    x, y, z = (p - middle).T
    return Surface(np.stack([x * c - z * s, y, x * s + z * c], axis=1) + middle, surface.triangles)


def on_a_floor(surface: Surface) -> Surface:
    """With a piece of the floor, 3 mm below the sole."""
    x, y = (axis.ravel() for axis in np.mgrid[-80:350:44j, -120:120:24j])
    at = np.arange(44 * 24).reshape(44, 24)
    a, b, c, d = (part.ravel() for part in (at[:-1, :-1], at[:-1, 1:], at[1:, :-1], at[1:, 1:]))
    n = len(surface.vertices_mm)
    floor = np.concatenate([np.stack([a, c, b], 1), np.stack([b, c, d], 1)]) + n
    return Surface(
        np.concatenate([surface.vertices_mm, np.stack([x, y, np.full_like(x, -3)], axis=1)]),
        np.concatenate([surface.triangles, floor]),
    )
