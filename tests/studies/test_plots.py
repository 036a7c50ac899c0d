"""Plots: what they draw is what the table holds."""

from __future__ import annotations

import io
import re
from html import escape
from typing import Any

import numpy as np
import pandas as pd
import pytest
from matplotlib.collections import PolyCollection
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from matplotlib.text import Text

from loopwright.errors import StudyError
from loopwright.fitting import StretchLimits
from loopwright.fitting.girths import GIRTH_ERROR
from loopwright.studies import share_served
from loopwright.studies.plots import plot_heatmap, plot_share_against_ease, plot_stretch


@pytest.fixture
def table() -> pd.DataFrame:
    rng = np.random.default_rng(1)
    rows = [
        {
            "design": f"{heel}, ease {ease:g}",
            "heel": heel,
            "ease": ease,
            "foot": str(foot),
            "ball_stretch_ratio": rng.normal(1 / (1 + ease), 0.02),
            "heel_stretch_ratio": rng.normal(tight / (1 + ease), 0.04),
            "heel_girth_mm": 300 / tight,
            "heel_girth_method": "quick estimate",
            "error": None,
        }
        for heel, tight in (("flap", 1.05), ("short-row", 1.2))
        for ease in (-0.2, -0.1, 0.0)
        for foot in range(40)
    ]
    frame = pd.DataFrame(rows)
    frame.attrs["units"] = {"heel_girth_mm": "mm"}
    return frame


def words(figure: Figure) -> str:
    figure.canvas.draw()
    found: list[Any] = figure.findobj(match=Text)
    return "\n".join(text.get_text() for text in found)


def first(line: Line2D) -> float:
    return float(np.asarray(line.get_xdata(), dtype=float)[0])


def test_shares_are_those_of_the_table_with_interval_and_band(table: pd.DataFrame) -> None:
    figure = plot_share_against_ease(table)
    shares = share_served(table, by=["heel", "ease"])
    (axes,) = figure.axes
    drawn: list[Any] = axes.containers
    assert [one.get_label() for one in drawn] == ["flap", "short-row"]
    bands = [found for found in axes.collections if isinstance(found, PolyCollection)]
    for one, band, heel in zip(drawn, bands, ("flap", "short-row"), strict=True):
        of_heel = shares.xs(heel, level="heel").sort_index()
        line, _, (bars,) = one.lines
        points = np.asarray(line.get_xydata(), dtype=float)
        assert points[:, 0] == pytest.approx([-20, -10, 0], abs=0.5)
        assert points[:, 1] == pytest.approx(list(of_heel["share"]))
        ends = np.array([segment[:, 1] for segment in bars.get_segments()])
        assert ends[:, 0] == pytest.approx(list(of_heel["share_low"]))
        assert ends[:, 1] == pytest.approx(list(of_heel["share_high"]))
        edge = np.concatenate(
            [np.asarray(path.vertices, dtype=float)[:, 1] for path in band.get_paths()]
        )
        assert set(edge.round(9)) == set(
            of_heel[["share_if_tighter", "share_if_roomier"]].to_numpy().ravel().round(9)
        )
    told = words(figure).replace("\n", " ")
    assert "Wilson 1927" in told
    assert "bands: every heel girth 9 % less to 9 % more" in told
    assert "240 cases of 40 feet, 0 failed" in told


def test_stretch_is_shown_as_a_distribution_with_its_limits(table: pd.DataFrame) -> None:
    figure = plot_stretch(table, by="heel", limits=StretchLimits(heel=1.4))
    ball, heel = figure.axes
    assert len(ball.collections) == len(heel.collections) == 2  # a shape each
    (doubt,) = heel.patches
    assert isinstance(doubt, Rectangle)
    assert doubt.get_x() == pytest.approx(1.4 * (1 - GIRTH_ERROR))
    assert doubt.get_width() == pytest.approx(1.4 * 2 * GIRTH_ERROR)
    assert heel.get_xlabel() == "stretch, foot / sock"
    assert [t.get_text() for t in ball.get_yticklabels()] == ["flap", "short-row"]
    limits = [line for line in heel.get_lines() if line.get_linestyle() == ":"]
    assert [first(line) for line in limits] == [1.4]
    middle = [line for line in heel.get_lines() if line.get_marker() == "o"]
    medians = table.groupby("heel")["heel_stretch_ratio"].median()
    assert [first(line) for line in middle] == pytest.approx(list(medians))
    assert "quick estimate" in words(figure)


def test_the_heatmap_writes_its_numbers(table: pd.DataFrame) -> None:
    ax = plot_heatmap(table, rows="heel", columns="ease", value="heel_girth_mm").axes[0]
    shown = np.asarray(ax.get_images()[0].get_array())
    assert shown[:, 0] == pytest.approx([300 / 1.05, 300 / 1.2])
    assert [text.get_text() for text in ax.texts] == ["286"] * 3 + ["250"] * 3
    share = plot_heatmap(table, rows="heel", columns="ease")
    assert "feet served, %" in words(share)
    served = 100 * share_served(table, by=["heel", "ease"])
    asked = [
        f"{row.share:.0f}\n({row.share_low:.0f} to {row.share_high:.0f})"
        for row in served.itertuples()
    ]
    assert [text.get_text() for text in share.axes[0].texts] == asked


def test_ease_is_in_per_cent_in_every_picture(table: pd.DataFrame) -> None:
    line, field = plot_share_against_ease(table), plot_heatmap(table, rows="heel", columns="ease")
    for figure in (line, field):
        assert figure.axes[0].get_xlabel() == "ease, % of the foot's ball girth"
    shown = [tick.get_text() for tick in field.axes[0].get_xticklabels()]
    assert shown == ["-20", "-10", "+0"]
    turned = plot_heatmap(table, rows="ease", columns="heel")
    assert turned.axes[0].get_ylabel() == "ease, % of the foot's ball girth"


def test_each_picture_is_told_in_words(table: pd.DataFrame) -> None:
    """With the table's own numbers, and what its small print says."""
    share = plot_share_against_ease(table)
    served = 100 * share_served(table, by=["heel", "ease"])["share"]
    for heel in ("flap", "short-row"):
        at = ", ".join(f"{served[heel, ease]:.0f} % at {100 * ease:+g}" for ease in (-0.2, -0.1, 0))
        assert f" {heel}: {at}." in share.description
    medians = table.groupby("heel", sort=False)["heel_stretch_ratio"].median()
    stretch = plot_stretch(table, by="heel")
    heels = stretch.description.partition("At the heel: ")[2].split("; ")[:2]
    assert [text.split(" (")[0] for text in heels] == [
        f"{heel} {median:.2f}" for heel, median in medians.items()
    ]
    field = plot_heatmap(table, rows="heel", columns="ease", value="heel_girth_mm")
    assert "Median heel girth, mm. Down: heel. Across: ease, %" in field.description
    assert " flap: -20: 286; -10: 286; +0: 286." in field.description
    for figure in (share, stretch, field):
        assert "240 cases of 40 feet, 0 failed" in figure.description
        if figure is not field:  # limits, no finer than a tape tells a stretch
            assert re.search(r"ball stretched \d\.\d\d to \d\.\d\d times, heel", figure.description)
        alt = escape(figure.description)
        shown, metadata = figure._repr_mimebundle_()
        assert f'alt="{alt}"' in shown["text/html"]
        assert metadata == {"image/png": {"alt": figure.description}}


def test_what_failed_is_counted_and_not_drawn(table: pd.DataFrame) -> None:
    table.loc[:79, ["ball_stretch_ratio", "heel_stretch_ratio", "heel_girth_mm"]] = np.nan
    table.loc[:79, "error"] = "no foot"
    assert "240 cases of 40 feet, 80 failed" in words(plot_stretch(table, by="heel"))
    assert "none" in words(plot_heatmap(table, rows="heel", columns="ease", value="heel_girth_mm"))
    assert len(plot_share_against_ease(table).axes[0].containers) == 2


def test_a_table_without_a_column_or_a_case_is_refused(table: pd.DataFrame) -> None:
    with pytest.raises(StudyError, match="no column 'toe'"):
        plot_heatmap(table, rows="toe", columns="ease")
    with pytest.raises(StudyError, match="no column 'ease'"):
        plot_share_against_ease(table.drop(columns="ease"))
    with pytest.raises(StudyError, match="no cases"):
        plot_stretch(table[:0], by="heel")


def test_a_figure_becomes_a_picture(table: pd.DataFrame) -> None:
    stream = io.BytesIO()
    plot_stretch(table[:1], by="heel").savefig(stream)
    assert stream.getvalue().startswith(b"\x89PNG")
