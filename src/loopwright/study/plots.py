"""Pictures of a study, each from its tidy table in one call.

They show distributions, and no bars of means: what matters is how many feet lie beyond a limit.
Every function returns a matplotlib figure; save it with ``figure.savefig``. The colours are those
of a palette that people with colour-blindness tell apart (Okabe and Ito, 2008; from memory), and
lines also differ in their strokes.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.ticker import PercentFormatter
from scipy.stats import gaussian_kde

from loopwright.errors import StudyError
from loopwright.study.cover import StretchLimits, share_served

__all__ = ["plot_heatmap", "plot_share_against_ease", "plot_stretch"]

_COLOURS = ("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9", "#000000")
_STROKES = ("-", "--", "-.", ":")
_LETTERS_AN_INCH = 15  # of the small print below a picture, so that none is cut off
_DOUBT = "absolute heel girths are good to about 9 % until a knitted sample is measured"


def plot_share_against_ease(
    table: pd.DataFrame,
    *,
    by: str = "heel",
    ease: str = "ease",
    limits: StretchLimits | None = None,
) -> Figure:
    """Draw the share of feet served against ease, a line for each heel.

    Parameters
    ----------
    table : DataFrame
        Of a study that varied both.
    by, ease : str
        The columns of the two.
    limits : StretchLimits, optional

    Raises
    ------
    StudyError
        A column that the table lacks.
    """
    _need(table, by, ease, "ball_stretch", "heel_stretch")
    figure, axes = _figure(1, (7.0, 4.4))
    shares = share_served(table, by=[by, ease], limits=limits).sort_index(level=1)
    for place, name in enumerate(table[by].unique()):
        line = shares.xs(name, level=by)
        axes[0].plot(
            100 * line.index.to_numpy(float), line.to_numpy(float), label=str(name),
            color=_COLOURS[place % len(_COLOURS)], linestyle=_STROKES[place % len(_STROKES)],
            marker="o", markersize=4,
        )  # fmt: skip
    axes[0].set(xlabel="ease, % of the ball girth", ylabel="feet served", ylim=(-0.02, 1.02))
    axes[0].yaxis.set_major_formatter(PercentFormatter(1.0))
    axes[0].legend(title=by, frameon=False, loc="center left", bbox_to_anchor=(1.0, 0.5))
    return _footed(figure, table, limits)


def plot_stretch(
    table: pd.DataFrame, *, by: str = "design", limits: StretchLimits | None = None
) -> Figure:
    """Draw how far the sock must stretch at ball and heel, a distribution for each variant.

    Parameters
    ----------
    table : DataFrame
    by : str
        The column that tells the variants apart.
    limits : StretchLimits, optional
        Drawn as lines: what lies beyond isn't served.

    Raises
    ------
    StudyError
        A column that the table lacks, or not one case that didn't fail.
    """
    _need(table, by, "ball_stretch", "heel_stretch")
    within = limits or StretchLimits()
    names = list(table[by].unique())
    figure, axes = _figure(2, (9.0, 1.6 + 0.55 * len(names)))
    places = (("ball_stretch", "ball", within.ball), ("heel_stretch", "heel", (within.heel,)))
    for ax, (column, title, lines) in zip(axes, places, strict=True):
        values = [table.loc[table[by] == name, column].dropna().to_numpy(float) for name in names]
        _violins(ax, values)
        for limit in lines:
            ax.axvline(limit, color="#444444", linewidth=0.9, linestyle=":")
        ax.set_xlabel(f"foot to sock at the {title}")
        ax.set_title(title)
    axes[0].set_yticks(range(len(names)), [str(name) for name in names])
    axes[1].set_yticks(range(len(names)), [""] * len(names))
    axes[0].invert_yaxis()
    axes[1].invert_yaxis()
    return _footed(figure, table, within)


def plot_heatmap(
    table: pd.DataFrame,
    *,
    rows: str,
    columns: str,
    value: str | None = None,
    limits: StretchLimits | None = None,
) -> Figure:
    """Draw two choices against each other, a field for each pair, its number written in it.

    Parameters
    ----------
    table : DataFrame
    rows, columns : str
        The two choices.
    value : str, optional
        A column, of which the median is shown; by default the share of feet served.
    limits : StretchLimits, optional

    Raises
    ------
    StudyError
        A column that the table lacks.
    """
    if value is None:
        _need(table, rows, columns, "ball_stretch", "heel_stretch")
        shown = 100 * share_served(table, by=[rows, columns], limits=limits).unstack()
        label = "feet served, %"
    else:
        _need(table, rows, columns, value)
        shown = table.groupby([rows, columns], sort=False)[value].median().unstack()
        unit = table.attrs.get("units", {}).get(value, "")
        name = value.removesuffix(f"_{unit}").replace("_", " ")
        label = f"median {name}{f', {unit}' if unit not in ('', '1') else ''}"
    numbers = shown.to_numpy(float)
    size = (3.4 + 0.9 * numbers.shape[1], 1.8 + 0.5 * numbers.shape[0])
    figure, (ax,) = _figure(1, size)
    image = ax.imshow(numbers, aspect="auto", cmap="cividis")
    ax.set_xticks(range(numbers.shape[1]), [_label(name) for name in shown.columns])
    ax.set_yticks(range(numbers.shape[0]), [_label(name) for name in shown.index])
    ax.set(xlabel=columns, ylabel=rows)
    middle = (
        np.nanmean([np.nanmin(numbers), np.nanmax(numbers)]) if shown.notna().any().any() else 0
    )
    for (row, column), number in np.ndenumerate(numbers):
        text = "none" if np.isnan(number) else f"{number:.3g}"
        colour = "black" if number > middle else "white"
        ax.text(column, row, text, ha="center", va="center", color=colour, fontsize=9)
    figure.colorbar(image, ax=ax, label=label)
    return _footed(figure, table, limits if value is None else None)


def _figure(wide: int, size: tuple[float, float]) -> tuple[Figure, list[Axes]]:
    """A figure of its own, outside pyplot, which would keep it alive."""
    figure = Figure(figsize=size, layout="constrained", dpi=110)
    FigureCanvasAgg(figure)
    axes = list(figure.subplots(1, wide, squeeze=False)[0])
    for ax in axes:
        ax.spines[["top", "right"]].set_visible(False)
    return figure, axes


def _violins(ax: Axes, values: Sequence[np.ndarray[tuple[int], np.dtype[np.float64]]]) -> None:
    """Densities with the median and the middle 90 % drawn in; single values as points."""
    for place, found in enumerate(values):
        colour = _COLOURS[place % len(_COLOURS)]
        if len(found) > 2 and np.ptp(found) > 0:
            shape = gaussian_kde(found)
            along = np.linspace(found.min(), found.max(), 200)
            high = shape(along)
            half = 0.42 * high / high.max()
            ax.fill_between(along, place - half, place + half, color=colour, alpha=0.45, lw=0)
        if len(found):
            low, median, high = np.percentile(found, [5, 50, 95])
            ax.plot([low, high], [place, place], color=colour, linewidth=2.2)
            ax.plot([median], [place], "o", color="white", markeredgecolor=colour, markersize=6)


def _footed(figure: Figure, table: pd.DataFrame, limits: StretchLimits | None) -> Figure:
    wide = int(_LETTERS_AN_INCH * figure.get_figwidth())
    lines = [line for text in _foot(table, limits) for line in textwrap.wrap(text, wide)]
    figure.supxlabel("\n".join(lines), fontsize=7.5, color="#444444")
    return figure


def _foot(table: pd.DataFrame, limits: StretchLimits | None) -> Iterator[str]:
    """What a reader must know: how many cases, which failed, by which limits, how far to trust."""
    failed = int(table["error"].notna().sum()) if "error" in table else 0
    yield f"{len(table)} cases, {failed} failed and counted as not served"
    within = limits or StretchLimits()
    least, most = within.ball
    yield f"served: ball stretched {least:g} to {most:g} times, heel at most {within.heel:g} times"
    methods = table["heel_girth_method"].dropna().unique() if "heel_girth_method" in table else []
    yield from (f"heel girth: {method}" for method in methods)
    yield _DOUBT


def _label(name: object) -> str:
    return f"{name:g}" if isinstance(name, float) else str(name)


def _need(table: pd.DataFrame, *columns: str) -> None:
    for column in columns:
        if column not in table:
            raise StudyError("table", f"no column {column!r}", f"it has {', '.join(table)}")
    if not len(table):
        raise StudyError("table", "no cases", "study one or more")
