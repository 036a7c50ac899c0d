"""Draw the pictures of the documentation with the library, on every build; none are kept.

A page shows one with ``![words](/pictures/NAME.svg)``. On the pages of `BY_THEIR_CODE` a picture is
what the page's own examples made, by the name that they gave it.
"""

from __future__ import annotations

import contextlib
import doctest
import io
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

from sphinx.errors import ExtensionError

from loopwright.fabric import Fabric
from loopwright.fitting import fit, foot_form
from loopwright.gauge import Gauge
from loopwright.geometry import Shape, Surface, shape
from loopwright.making import Work, cast_on, graft
from loopwright.pattern import Pattern, knit, read
from loopwright.picture import (
    Picture,
    charts,
    dimensions,
    draw_graft,
    draw_graph,
    draw_scan,
    draw_shape,
    draw_stretch,
    draw_surroundings,
    schematic,
    stages,
)
from loopwright.scanning import measure_scan
from loopwright.sock import Foot, Sock

GAUGE = Gauge.of(20, 28)

LACE = """\
Cast on 30 sts. Join in the round.
Rnd 1: *Yo, ssk, k3, p1; rep from * to end.
Rnd 2: *K5, p1; rep from * to end.
Rep rnds 1 and 2 another 4 times (5 times in all).
"""

HEEL = """\
## Heel
Cast on 16 sts. Join in the round. Rnds 1-3: Knit.
Place next 8 sts on waste yarn as instep.
Provisionally cast on 8 sts over waste yarn called waste.
Rnd 4: Knit.
Divide sts: front 8, back 8.
Rnd 5: On each half: k1, ssk, k to last 3 sts, k2tog, k1.
Rnd 6: Knit.
Rep rnds 5 and 6 until 8 sts remain, ending with rnd 5.
Graft the sts of the two needles together, stitch by stitch.
Return to needle the sts held as instep.
Recapture the sts from the waste yarn called waste, taking the strand at the first corner.
Join yarn main.
Rnds 1-2: Knit.
"""


def sock(**choices: Any) -> Sock:
    """A sock that the pages show."""
    foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
    return Sock(foot=foot, gauge=GAUGE, **choices)


def small_fabric() -> Fabric:
    """A tube with one decrease and one yarn over."""
    work = Work()
    cast_on(work, 10)
    work.join_round()
    work.plain_rounds(2)
    work.round(["k", "k2tog", *["k"] * 4, "yo", *["k"] * 3])
    work.plain_rounds(2)
    return work.fabric()


def small_toe() -> Fabric:
    """A tube of sixteen stitches, decreased and grafted."""
    work = Work()
    cast_on(work, 16)
    work.join_round()
    work.plain_rounds(3)
    for middle in (2, 0):
        work.round(["k", "ssk", *["k"] * middle, "k2tog", "k"] * 2)
    graft(work)
    return work.fabric()


def heel_in_waste_yarn() -> Pattern:
    """The heel whose stages are shown."""
    return read(HEEL)


def corner() -> Picture:
    """A corner of the heel, left as it is."""
    fabric = knit(heel_in_waste_yarn())
    return draw_surroundings(fabric, fabric.gaps()[0].loops, title="A corner left as it is")


def turn() -> Picture:
    """A short row's turn between two others, left as it is."""
    work = Work()
    cast_on(work, 12)
    work.turn()
    work.row(["p"] * 12)
    for number, count in enumerate([11, 10, 9, 8, 9, 10, 11]):
        work.work(["kp"[number % 2]] * count)
        work.turn()
    work.work(["p"] * work.left)
    fabric = work.fabric()
    return draw_surroundings(fabric, fabric.gaps()[0].loops, title="A turn left as it is")


def closed() -> Fabric:
    """The heel with its graft, the corners not begun."""
    pattern = heel_in_waste_yarn()
    at = [type(step).__name__ for step in pattern.steps].index("Graft")
    return knit(Pattern("Heel", pattern.steps[: at + 1]))


@cache
def at_rest() -> tuple[Shape, Fabric]:
    """A whole sock at rest."""
    fabric = sock(heel="flap").fabric()
    return shape(fabric, GAUGE), fabric


def relaxed(by: str) -> Picture:
    """The sock at rest, coloured."""
    return draw_shape(*at_rest(), by=by)


def stretched() -> Picture:
    """A foot, coloured by how far a flap heel is stretched at its places."""
    made = sock(heel="flap")
    form = foot_form(made.foot, rings=60, columns=36)
    places = {one.place: one.stretch for one in fit(made).places}
    return draw_stretch(form, places, title="Stretch at its places")


def scanned() -> Picture:
    """A foot form with a hole, as if it had been scanned."""
    form = foot_form(Foot.of(length="24.6 cm", ball_girth="22.8 cm"), rings=110, columns=70).surface
    p = form.vertices_mm
    kept = (p[:, 2] < 225) & (((p - [60, 33, 60]) ** 2).sum(axis=1) > 10**2)
    return draw_scan(measure_scan(Surface(p, form.triangles[kept[form.triangles].all(axis=1)])))


PICTURES: dict[str, Callable[[], Picture]] = {
    "lace": lambda: charts(read(LACE))[0].picture(),
    "toe": lambda: charts(sock().pattern(), section="Toe")[0].picture(),
    "short-rows": lambda: charts(sock(heel="short-row").pattern(), section="Heel")[0].picture(),
    "stages": lambda: stages(heel_in_waste_yarn(), gauge=GAUGE).picture(columns=3),
    "graft": lambda: draw_graft(closed()),
    "corner": corner,
    "turn": turn,
    "graph": lambda: draw_graph(small_fabric()),
    "web": lambda: draw_graph(small_toe(), title="A toe in small"),
    "scan": scanned,
    "stretch": stretched,
    "schematic": lambda: schematic(dimensions(sock().plan())),
    "shape": lambda: relaxed("stitch"),
    "curvature": lambda: relaxed("curvature"),
}


BY_THEIR_CODE = ("gallery.md", "howto/heel-keys.md")


def made_on(page: Path) -> Iterator[tuple[str, Picture]]:
    """The pictures that a page's examples make, by their names."""
    test = doctest.DocTestParser().get_doctest(page.read_text("utf-8"), {}, page.name, None, 0)
    flags = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
    told = io.StringIO()
    with contextlib.redirect_stdout(io.StringIO()):
        failed, _ = doctest.DocTestRunner(verbose=False, optionflags=flags).run(
            test, out=told.write, clear_globs=False
        )
    if failed:
        raise ExtensionError(told.getvalue())
    for name, thing in test.globs.items():
        if isinstance(thing, Picture):
            yield name, thing


def draw_all(app: Any) -> None:
    """Write every picture before the sources are read."""
    folder = Path(app.srcdir) / "pictures"
    folder.mkdir(exist_ok=True)
    for page in BY_THEIR_CODE:
        for name, picture in made_on(Path(app.srcdir) / page):
            (folder / f"{name}.svg").write_text(picture.svg(), encoding="utf-8")
    for name, draw in PICTURES.items():
        (folder / f"{name}.svg").write_text(draw().svg(), encoding="utf-8")


def setup(app: Any) -> dict[str, Any]:
    """Register with Sphinx."""
    app.connect("builder-inited", draw_all)
    return {"version": "1", "parallel_read_safe": True}
