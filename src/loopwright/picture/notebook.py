"""What the main objects show in a notebook: fabrics, shapes, patterns, comparisons, socks.

Nothing need be loaded or registered: an object asks for its picture when it is shown, see
`loopwright.shown`. Charts, stages and pictures draw themselves.
"""

from __future__ import annotations

from html import escape

from loopwright.border import guard
from loopwright.errors import LoopwrightError
from loopwright.fabric import Fabric
from loopwright.fitting import Compared, Comparison
from loopwright.geometry import Shape
from loopwright.making import Work
from loopwright.pattern import Knitted, Pattern, write
from loopwright.picture._graph import LARGEST, draw_graph
from loopwright.picture.shape_drawing import draw_shape
from loopwright.picture.shape_scene import scene
from loopwright.picture.shape_view import shape_frame
from loopwright.picture.svg import Picture
from loopwright.shown import shows
from loopwright.sock import Sock

__all__ = [
    "comparison_html",
    "fabric_html",
    "knitted_html",
    "pattern_html",
    "shape_html",
    "sock_html",
    "work_html",
]

_DRAWN = 150  # loops up to which a fabric is shown as a graph; beyond, its numbers say more


@shows(Fabric)
def fabric_html(fabric: Fabric) -> str:
    """Return a fabric in numbers, and as a graph if it is small."""
    sizes = ", ".join(f"{count} of {size}" for size, count in fabric.cell_sizes().items())
    rows = (
        ("loops", str(len(fabric))),
        ("live", str(len(fabric.live))),
        ("strands", ", ".join(strand.name for strand in fabric.strands) or "none"),
        ("V - E + C", str(fabric.euler_characteristic)),
        ("openings", str(len(fabric.openings))),
        ("holes", str(len(fabric.gaps()))),
        ("cells by edges", sizes or "none"),
    )
    cells = "".join(f"<tr><th>{name}</th><td>{escape(text)}</td></tr>" for name, text in rows)
    drawn = draw_graph(fabric).svg() if 0 < len(fabric) <= min(_DRAWN, LARGEST) else ""
    return f"<table><caption>Fabric</caption>{cells}</table>{drawn}"


@shows(Work)
def work_html(work: Work) -> str:
    """Return what is on the needles, and the fabric so far."""
    return f"<p>{escape(str(work))}</p>{fabric_html(work.fabric())}"


@shows(Knitted)
def knitted_html(made: Knitted) -> str:
    """Return the fabric of a knitted pattern."""
    return fabric_html(made.fabric)


@shows(Shape)
def shape_html(shape: Shape) -> str:
    """Return a shape as a picture that needs no script, and below it to turn, colour and ask."""
    drawn = draw_shape(shape, by=None)._repr_html_()
    return (
        f"{drawn}<p>{escape(str(shape.quality))}</p><details><summary>Turn it, colour it, ask a "
        f"loop</summary>{shape_frame(scene(shape))}</details>"
    )


@shows(Comparison)
def comparison_html(comparison: Comparison) -> str:
    """Return heels side by side: the table, and each relaxed sock by its stitches."""
    drawn = "".join(
        f"<figure><figcaption>{escape(row.name)}</figcaption>{_at_rest(row).svg()}</figure>"
        for row in comparison.rows
    )
    return f"{comparison.table_html()}{drawn}"


def _at_rest(row: Compared) -> Picture:
    return draw_shape(row.shape, by=None, size=320, colours=row.sample.sock.colours)


@shows(Pattern)
def pattern_html(pattern: Pattern) -> str:
    """Return the written instructions as they are printed."""
    return f'<pre class="pattern">{escape(write(pattern))}</pre>'


@shows(Sock)
def sock_html(sock: Sock) -> str:
    """Return a sock's choices and its plan, or why there can be none."""
    try:
        plan = sock.plan()._repr_html_()
    except LoopwrightError as error:
        plan = f"<p>{escape(str(error))}</p>"
    return f"<p>{escape(str(sock))}</p>{plan}"


guard(globals())
