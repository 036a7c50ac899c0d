"""Scales are even to the eye: checked with the published formulas, written out again here."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from loopwright.picture._colours import (
    CLASSES,
    DIVERGING,
    SEQUENTIAL,
    YARNS,
    ColourScale,
    srgb_of_lab,
)
from together import together

Floats = NDArray[np.float64]

# How red-green deficiencies see linear sRGB at full strength: Machado, Oliveira and Fernandes,
# "A physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15 (2009),
# 1291-1298, table of matrices, severity 1.0 (from memory).
DEFICIENCIES = {
    "protan": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216],
               [-0.003882, -0.048116, 1.051998]],
    "deutan": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413],
               [-0.011820, 0.042940, 0.968881]],
}  # fmt: skip


def linear(srgb: Floats) -> Floats:
    """Undo the curve of IEC 61966-2-1."""
    return np.asarray(np.where(srgb <= 0.04045, srgb / 12.92, ((srgb + 0.055) / 1.055) ** 2.4))


def lightness(rgb_linear: Floats) -> Floats:
    """L* by CIE 1976 from the luminance of Rec. 709 primaries."""
    y = rgb_linear @ np.array([0.2126, 0.7152, 0.0722])
    return np.asarray(np.where(y > (6 / 29) ** 3, 116 * np.cbrt(y) - 16, y * (29 / 3) ** 3))


@pytest.mark.parametrize(("lab", "srgb"), [
    ((0, 0, 0), (0, 0, 0)),
    ((100, 0, 0), (1, 1, 1)),
    ((53.24, 80.09, 67.20), (1, 0, 0)),  # red of sRGB in CIELAB (from memory)
    ((32.30, 79.19, -107.86), (0, 0, 1)),  # blue (from memory)
])  # fmt: skip
def test_known_colours(lab: tuple[float, ...], srgb: tuple[float, ...]) -> None:
    assert srgb_of_lab(np.array(lab)) == pytest.approx(srgb, abs=0.005)


@together(("scale", "start", "stop"), [
    (SEQUENTIAL, 0.0, 1.0), (DIVERGING, 0.0, 0.5), (DIVERGING, 1.0, 0.5),
])  # fmt: skip
@together("eyes", [None, "protan", "deutan"])
def test_lightness_rises_in_equal_steps_for_all_eyes(
    scale: ColourScale, start: float, stop: float, eyes: str | None
) -> None:
    rgb = linear(scale.srgb(np.linspace(start, stop, 33)))
    if eyes is not None:
        rgb = np.clip(rgb @ np.array(DEFICIENCIES[eyes]).T, 0, 1)
    steps = np.diff(lightness(rgb))
    # Seen with three kinds of cones the steps are equal but for what the screen clips; a
    # deficiency moves them a little and never turns one round.
    assert (steps > 0).all()
    assert steps.max() / steps.min() < (2.2 if eyes is None else 3.5)


def test_the_check_catches_a_rainbow() -> None:
    rainbow = np.array([[0, 0, 1.0], [0, 1, 1], [0, 1, 0], [1, 1, 0], [1, 0, 0]])
    assert not (np.diff(lightness(linear(rainbow))) > 0).all()


def test_both_ends_of_the_signed_scale_are_equally_dark() -> None:
    ends = lightness(linear(DIVERGING.srgb([0.0, 1.0])))
    assert ends[0] == pytest.approx(ends[1], abs=4)


def test_named_colours_differ() -> None:
    assert len(set(YARNS)) == len(YARNS)
    assert len(set(CLASSES.values())) == len(CLASSES)
