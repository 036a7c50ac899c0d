"""Pictures in a notebook that is executed and written as a page: each is told in words, too."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest

PICTURES = """
from IPython.display import display
from loopwright.geometry import shape
from loopwright.gauge import Gauge
from loopwright.pattern import knit, read
from loopwright.picture import chart, draw_graph, draw_shape, stages

rib = read("Cast on 16 sts. Join in the round. Rnds 1-4: *K2, p2; rep from * to end.")
drawn = draw_shape(shape(knit(rib), Gauge.of(20, 28)))
display(chart(rib), chart(rib), draw_graph(knit(rib)), drawn)
stages(rib)
"""

PLOTS = """
%matplotlib inline
import pandas as pd
from loopwright.studies.plots import plot_stretch

cases = {"heel": ["flap"] * 3, "foot": ["a", "b", "c"], "error": None}
stretch = {"ball_stretch_ratio": [1.1, 1.1, 1.2], "heel_stretch_ratio": [1.2, 1.3, 1.4]}
plot_stretch(pd.DataFrame(cases | stretch), by="heel")
"""


class Page(HTMLParser):
    """The images of a page with their names, and all ids."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.names: list[str] = []
        self.ids: list[str] = []
        self.in_svg = self.in_title = False
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        self.ids += [value for name, value in attrs if name == "id" and value]
        if tag == "img":
            self.names.append(given.get("alt") or "")
        elif tag == "svg" and given.get("role") == "img":
            self.names.append("")
            self.in_svg = True
        self.in_title = tag == "title" and self.in_svg

    def handle_endtag(self, tag: str) -> None:
        self.in_title = False
        self.in_svg = self.in_svg and tag != "svg"

    def handle_data(self, data: str) -> None:
        if self.in_title:
            self.names[-1] += data


def written(*cells: str) -> Page:
    """The page of a notebook with these cells."""
    exporting = pytest.importorskip("nbconvert")
    nbformat = pytest.importorskip("nbformat")
    notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in cells])
    exporting.preprocessors.ExecutePreprocessor(timeout=120).preprocess(notebook, {})
    html, _ = exporting.HTMLExporter().from_notebook_node(notebook)
    return Page(html)


def test_each_picture_of_a_page_has_a_name_and_no_two_share_an_id() -> None:
    page = written(PICTURES, PLOTS)
    *pictures, plot = page.names
    assert pictures == [
        "Chart",
        "Chart",
        "Graph of the fabric",
        "Shape, by curvature, degrees a loop",
        "Stage 1: Cast on 16 sts, long-tail.",
        "Stage 2: Join to work in the round.",
        "Stage 3: 4 rounds, 16 sts",
    ]
    assert "At the heel: flap 1.30 (1.21 to 1.39)." in plot
    assert "3 cases of 3 feet, 0 failed" in plot
    assert len(set(page.ids)) == len(page.ids)
