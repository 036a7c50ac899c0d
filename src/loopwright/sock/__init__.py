"""The design: from a foot and a swatch to a sock."""

from loopwright.sock.foot import Foot
from loopwright.sock.shoes import ShoeScale, ShoeSize, shoe_size
from loopwright.sock.sizes import ChartSize, size_chart
from loopwright.sock.sizing import (
    Fitted,
    HeelShare,
    Multiple,
    common_multiple,
    fit_rounds,
    fit_stitches,
    heel_share,
    rounds_between,
)
from loopwright.sock.survey import Sex

__all__ = [
    "ChartSize",
    "Fitted",
    "Foot",
    "HeelShare",
    "Multiple",
    "Sex",
    "ShoeScale",
    "ShoeSize",
    "common_multiple",
    "fit_rounds",
    "fit_stitches",
    "heel_share",
    "rounds_between",
    "shoe_size",
    "size_chart",
]
