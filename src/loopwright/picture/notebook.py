"""Fabrics, shapes and patterns as pictures in a notebook.

Charts, stages and pictures show themselves. A fabric and a shape stand below pictures in the
package and know none, so this extension tells the notebook how to show them::

    %load_ext loopwright.picture.notebook
"""

from __future__ import annotations

from html import escape
from typing import Protocol

from loopwright.border import guard
from loopwright.fabric import Fabric
from loopwright.fitting import Comparison
from loopwright.geometry import Shape
from loopwright.pattern import Pattern, write
from loopwright.picture._graph import LARGEST, draw_graph
from loopwright.picture.shape_drawing import draw_shape
from loopwright.picture.shape_scene import scene
from loopwright.picture.shape_view import shape_frame

__all__ = [
    "comparison_html",
    "fabric_html",
    "load_ipython_extension",
    "pattern_html",
    "shape_html",
]

_DRAWN = 150  # loops up to which a fabric is shown as a graph; beyond, its numbers say more


class _Formatter(Protocol):
    def for_type(self, typ: type, func: object) -> object: ...


class _DisplayFormatter(Protocol):
    formatters: dict[str, _Formatter]


class _Shell(Protocol):
    display_formatter: _DisplayFormatter


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


def shape_html(shape: Shape) -> str:
    """Return a shape to turn, colour and ask, with how good it is."""
    return f"{shape_frame(scene(shape))}<p>{escape(str(shape.quality))}</p>"


def comparison_html(comparison: Comparison) -> str:
    """Return heels side by side: the table, and each relaxed sock by its stitches."""
    drawn = "".join(
        f"<figure><figcaption>{escape(row.name)}</figcaption>"
        f"{draw_shape(row.shape, row.sample.fabric, by='stitch', size=320).svg()}</figure>"
        for row in comparison.rows
    )
    return f"{comparison._repr_html_()}{drawn}"


def pattern_html(pattern: Pattern) -> str:
    """Return the written instructions as they are printed."""
    return f'<pre class="pattern">{escape(write(pattern))}</pre>'


def load_ipython_extension(shell: _Shell) -> None:
    """Register with IPython; it calls this for ``%load_ext``."""
    html = shell.display_formatter.formatters["text/html"]
    html.for_type(Fabric, fabric_html)
    html.for_type(Shape, shape_html)
    html.for_type(Pattern, pattern_html)
    html.for_type(Comparison, comparison_html)


guard(globals())
