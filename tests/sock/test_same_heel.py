"""The heel made at once and the heel opened later are the same heel, knitted at other times.

What differs is where rounds begin: at the heel's corner, of the foot's rounds in the one and of the
heel's in the other. Hence the maps are not the same loop for loop, and all counts are.
"""

from __future__ import annotations

from collections import Counter

import pytest

from loopwright.gauge import Gauge
from loopwright.sock import Corners, Foot, Sock
from loopwright.sock.heels._afterthought import Afterthought
from loopwright.sock.heels._forethought import Forethought


def counts(heel: Forethought | Afterthought, stitches_per_cm: float) -> tuple[object, ...]:
    foot = Foot.of(length="24.5 cm", ball_girth="22.8 cm", sex="female")
    fabric = Sock(foot=foot, gauge=Gauge(stitches_per_cm, 4.4), heel=heel).fabric()
    keys = [row.key for row in fabric.stitches]
    stitches = Counter(keys[code] for code in fabric.stitch[fabric.present])
    return len(fabric), fabric.cell_sizes(), stitches, len(fabric.gaps())


@pytest.mark.parametrize("corners", Corners)
@pytest.mark.parametrize("stitches_per_cm", [2.6, 3.2, 3.7])
def test_at_once_and_later_give_the_same_heel(corners: Corners, stitches_per_cm: float) -> None:
    at_once = counts(Forethought(corners=corners), stitches_per_cm)
    later = counts(Afterthought(corners=corners), stitches_per_cm)
    assert at_once == later
    assert at_once[-1] == (2 if corners is Corners.LEFT else 0)
