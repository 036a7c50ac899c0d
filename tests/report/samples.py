"""A small sock in two sizes, knitted for real, with a title that would like to be markup."""

from __future__ import annotations

from collections.abc import Sequence
from math import nan

import attrs
import numpy as np

from loopwright.fabric import check
from loopwright.fit.fit import Fit, Passage, Place
from loopwright.gauge import Gauge
from loopwright.length import Length, Origin
from loopwright.pattern import GaugeLine, Pattern, read
from loopwright.pattern.knit import knit
from loopwright.report import Mesh, Picture, SizeReport, SockReport
from loopwright.sock.plan import Measure
from loopwright.yarn import Yarn, strand_uses, yarn_need

TITLE = "Ferry <script>alert(1)</script> & 'socks'"
GAUGE = Gauge.of([32, 33], [44, 44])
YARN = Yarn.of("tide wool", "420 m / 100 g", ball="50 g")
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 120" width="400" height="120">'
    '<rect x="2" y="2" width="396" height="116" fill="none" stroke="#000"/>'
    '<text x="20" y="60" font-size="24">{} &amp; ±</text></svg>'
)

_TEXT = """
## Foot
Cast on {n} sts, long-tail.
Join to work in the round.
Divide sts: instep {half}, sole {half}.
Caution: Cut <b>only</b> what is secured.
Rnds 1-10: *K1, p1; rep from * to end.
Note: It curls.
Next 5 cm: Knit.
## Toe
Rnd 1: On each needle: k1, ssk, k to last 3 sts, k2tog, k1.
Rnd 2: Knit.
Rep rnds 1 and 2 until 16 sts remain, ending with rnd 1.
Graft the sts of the two needles together, stitch by stitch.
Weave in all ends.
"""


def pattern(counts: Sequence[int] = (48, 56), names: Sequence[str] = ("S", "M")) -> Pattern:
    """The instructions, for as many sizes as there are counts."""
    shown = {
        key: str(values[0]) + (f" ({', '.join(map(str, values[1:]))})" if len(values) > 1 else "")
        for key, values in (("n", list(counts)), ("half", [n // 2 for n in counts]))
    }
    head = f"Sizes: {names[0]}" + (f" ({', '.join(names[1:])})" if len(names) > 1 else "")
    told = read((head if names[0] else "") + _TEXT.format(**shown))
    return attrs.evolve(
        told,
        title=TITLE,
        gauge=GaugeLine(32.5, 44),
        abbreviations=(("k", "knit"), ("k2tog", "knit two together, leaning right")),
    )


def report(counts: Sequence[int] = (48, 56), names: Sequence[str] = ("S", "M")) -> SockReport:
    """The sock's report."""
    told = pattern(counts, names)
    each = enumerate(zip(counts, names, strict=True))
    sizes = tuple(_size(told, place, n, name) for place, (n, name) in each)
    return SockReport(TITLE, "Cuff down, *plain*.\n\n<b>Two</b> lines.", told, GAUGE, sizes,
                      Picture("schematic", "Schematic", SVG.format("all")), YARN)  # fmt: skip


def _size(told: Pattern, place: int, stitches: int, name: str) -> SizeReport:
    fabric = knit(told, size=place)
    girth = GAUGE.width(stitches)
    return SizeReport(
        name,
        (
            Measure("foot girth", girth.mm + 4.6, girth, stitches),
            Measure("length", nan, GAUGE.height(60), 60),
        ),
        _fit(girth, Length(180.0 + 20 * place, 3.0, Origin.MEASURED)),
        yarn_need(strand_uses(fabric), GAUGE, YARN, pieces=2),
        fabric,
        check(fabric, openings=1),
        Picture("schematic", f"Schematic, {stitches} stitches", SVG.format(stitches)),
        (f"heel girth was estimated ({stitches})",),
        (Picture("heel-chart", f"Chart, {stitches} stitches", SVG.format(stitches)),),
        tube(20.0 + 5 * place),
    )


def _fit(sock: Length, foot: Length) -> Fit:
    heel = Length(1.36 * foot.mm, 4.0, Origin.SURVEY)
    places = (Place("ball", foot, sock), Place("heel", heel, sock), Place("top", foot, sock))
    return Fit(places=places, passages=(Passage("the top over the heel", heel, sock),),
               asked_ease=-0.1)  # fmt: skip


def tube(radius_mm: float, *, around: int = 24, high: int = 30) -> Mesh:
    """A tube whose outside is its right side, bent at one end so that turning it shows."""
    turn, rise = np.meshgrid(np.arange(around) * 2 * np.pi / around, np.arange(high))
    bend = np.where(rise > 20, 2.0 * (rise - 20), 0.0)
    vertices = np.stack(
        [radius_mm * np.cos(turn) + bend, 4.0 * rise, -radius_mm * np.sin(turn)], axis=-1
    ).reshape(-1, 3)
    low = np.arange(around * (high - 1)).reshape(high - 1, around)
    right = np.roll(low, -1, axis=1)
    first = np.stack([low, right, low + around], axis=-1).reshape(-1, 3)
    second = np.stack([right, right + around, low + around], axis=-1).reshape(-1, 3)
    shade = (rise.reshape(-1) * 255 // high).astype(np.uint8)
    return Mesh(vertices, np.concatenate([first, second]).astype(np.int64), shade)
