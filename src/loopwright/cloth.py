"""Cloths: what the stitches of a pattern measure at rest, beside those of stocking stitch.

Only what is known is here. The height of slipped heel stitch is published; garter and seed stitch
come from one program that relaxed a loop of yarn, and no knitted sample was measured for them. A
swatch of one's own is better than either: hand its `Gauge` on wherever these are used.

Rib draws in to about 0.6 of its width (good to a quarter), and pulled out it is as wide as stocking
stitch at the same pull. So a rib counts at the width of its stitches in plain fabric, wherever a
girth is asked for, and isn't listed. Of twisted stitches nothing is published: they count as plain.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import attrs

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.gauge import Gauge

__all__ = ["CLOTH_SIZES", "Cloth", "ClothSize", "stitch_size_mm"]


class Cloth(Choice):
    """A stitch pattern, as far as it changes the size of stitches at rest."""

    PLAIN = "plain"
    SLIPPED = "slip stitch"  # every other stitch of every other row is slipped
    GARTER = "garter"
    SEED = "seed"


@attrs.frozen(kw_only=True)
class ClothSize:
    """Stitches of a cloth at rest, in widths and heights of stocking stitch.

    Parameters
    ----------
    width, height : float
    width_sd, height_sd : float
        Standard deviations, of the estimates that others made or of what they span.
    source : str
    """

    width: float
    height: float
    width_sd: float
    height_sd: float
    source: str


_RELAXED: Final = "a relaxed loop of yarn, three thicknesses; no knitted sample"

CLOTH_SIZES: Final[Mapping[Cloth, ClothSize]] = MappingProxyType(
    {
        Cloth.PLAIN: ClothSize(
            width=1.0, height=1.0, width_sd=0.0, height_sd=0.0, source="the swatch itself"
        ),
        Cloth.SLIPPED: ClothSize(
            width=1.0, height=0.755, width_sd=0.10, height_sd=0.03,
            source="leaflet of 1917: a flap of 2 1/2 in has 14 to 16 chains, 0.71 to 0.80 of rows "
            "at an assumed 9 to the inch; of the width nothing is published",
        ),
        Cloth.GARTER: ClothSize(
            width=1.10, height=0.73, width_sd=0.02, height_sd=0.06, source=_RELAXED
        ),
        Cloth.SEED: ClothSize(
            width=1.00, height=0.74, width_sd=0.02, height_sd=0.02, source=_RELAXED
        ),
    }
)  # fmt: skip
"""By cloth; see the module for what is left out."""


def stitch_size_mm(
    cloth: Cloth, gauge: Gauge, measured: Mapping[Cloth, Gauge] | None = None
) -> tuple[float, float]:
    """Return the width and the height of a stitch of a cloth at rest, mm.

    Parameters
    ----------
    cloth : Cloth
    gauge : Gauge
        Of stocking stitch.
    measured : mapping of Cloth to Gauge, optional
        From swatches; other cloths are estimated from stocking stitch.

    Examples
    --------
    >>> gauge = Gauge.of(32, 44)
    >>> [round(mm, 2) for mm in stitch_size_mm(Cloth.SLIPPED, gauge)]
    [3.12, 1.72]
    >>> swatches = {Cloth.SLIPPED: Gauge.of(34, 60)}
    >>> [round(mm, 2) for mm in stitch_size_mm(Cloth.SLIPPED, gauge, swatches)]
    [2.94, 1.67]
    >>> CLOTH_SIZES[Cloth.SLIPPED].source[:15]
    'leaflet of 1917'
    >>> [cloth.value for cloth, size in CLOTH_SIZES.items() if isinstance(size, ClothSize)]
    ['plain', 'slip stitch', 'garter', 'seed']
    """
    own = {} if measured is None else measured
    if cloth in own:
        return own[cloth].stitch_width_mm, own[cloth].course_height_mm
    size = CLOTH_SIZES[cloth]
    return size.width * gauge.stitch_width_mm, size.height * gauge.course_height_mm


guard(globals())
