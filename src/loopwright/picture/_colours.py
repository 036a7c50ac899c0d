"""Colours that mean numbers: even to the eye, readable with any colour vision and in grey.

A scale is a line in CIELAB (CIE 1976, L* a* b*, D65) along which the lightness L* changes evenly.
So equal steps of the number look like equal steps, and a grey print keeps the order. Hue runs
between blue and yellow only, the pair that the common (red-green) deficiencies tell apart. For
signed numbers two such lines meet in a light middle.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

__all__ = [
    "CLASSES",
    "DIVERGING",
    "SEQUENTIAL",
    "YARNS",
    "ColourScale",
    "hex_of",
    "srgb_of_lab",
    "yarn_colours",
]

Floats = NDArray[np.float64]

# CIE 1976 L*a*b* to CIE XYZ under D65, and XYZ to linear sRGB (IEC 61966-2-1:1999).
_WHITE = np.array([0.95047, 1.0, 1.08883])  # D65, 2 degrees
_TO_RGB = np.array(
    [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]
)
_KNEE = 6 / 29  # where the cube root goes over into a straight line (CIE 1976)


def srgb_of_lab(lab: Floats) -> Floats:
    """Return sRGB in 0 to 1 of CIELAB colours, shape (..., 3); what a screen lacks is clipped."""
    lab = np.asarray(lab, dtype=np.float64)
    fy = (lab[..., 0] + 16) / 116
    f = np.stack([fy + lab[..., 1] / 500, fy, fy - lab[..., 2] / 200], axis=-1)
    xyz = np.where(f > _KNEE, f**3, 3 * _KNEE**2 * (f - 4 / 29)) * _WHITE
    linear = np.clip(xyz @ _TO_RGB.T, 0, 1)
    bent = 1.055 * linear ** (1 / 2.4) - 0.055
    return np.asarray(np.where(linear <= 0.0031308, 12.92 * linear, bent), dtype=np.float64)


def hex_of(srgb: Floats) -> str:
    """Return ``#rrggbb`` of one colour."""
    return "#" + "".join(f"{round(255 * float(part)):02x}" for part in srgb)


@attrs.frozen
class ColourScale:
    """A line through CIELAB.

    Parameters
    ----------
    stops : tuple of (float, float, float, float)
        Place in 0 to 1, L*, a*, b*; straight lines between.

    Examples
    --------
    >>> SEQUENTIAL.hex(0.0), SEQUENTIAL.hex(1.0)
    ('#003867', '#fbe367')
    """

    stops: tuple[tuple[float, float, float, float], ...]

    def lab(self, places: Floats | Sequence[float]) -> Floats:
        """Return CIELAB colours, shape (n, 3); places are clipped to 0 to 1."""
        at = np.clip(np.asarray(places, dtype=np.float64), 0, 1)
        table = np.array(self.stops)
        return np.stack([np.interp(at, table[:, 0], table[:, part]) for part in (1, 2, 3)], axis=-1)

    def srgb(self, places: Floats | Sequence[float]) -> Floats:
        """Return sRGB colours in 0 to 1, shape (n, 3)."""
        return srgb_of_lab(self.lab(places))

    def hex(self, place: float) -> str:
        """Return the colour of one place."""
        return hex_of(self.srgb([place])[0])


SEQUENTIAL = ColourScale(((0, 22, 0, -34), (0.5, 56, 0, 2), (1, 90, -6, 62)))
DIVERGING = ColourScale(((0, 30, 4, -52), (0.5, 94, 0, 2), (1, 30, 14, 40)))

# Okabe and Ito, "Color universal design" (2008), a set made for every kind of colour vision
# (from memory); the order is ours, by how well they stand apart in grey.
YARNS = ("#dcdcdc", "#0072b2", "#e69f00", "#cc79a7", "#009e73", "#d55e00", "#f0e442", "#56b4e9")


def yarn_colours(names: Iterable[str], own: Mapping[str, str] | None = None) -> dict[str, str]:
    """Return a colour for each yarn: its own, or one of ours by its place among them.

    Examples
    --------
    >>> yarn_colours(["A", "B", "A"], {"A": "#24476b"})
    {'A': '#24476b', 'B': '#0072b2'}
    """
    told = own or {}
    return {
        name: told.get(name) or YARNS[at % len(YARNS)]
        for at, name in enumerate(dict.fromkeys(names))
    }


CLASSES = {
    "knit": "#e4e0d8",
    "purl": "#b9b4aa",
    "decrease": "#d55e00",
    "increase": "#56b4e9",
    "slipped": "#f0e442",
    "cast-on, picked up or lifted": "#009e73",
    "bound off or grafted": "#0072b2",
    "wrap": "#cc79a7",
    "crossed": "#e69f00",
}
