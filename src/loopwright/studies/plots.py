"""Pictures of a study, each from its tidy table in one call.

They show distributions, and no bars of means: what matters is how many feet lie beyond a limit.
Every function returns a matplotlib figure; save it with ``figure.savefig``. What it shows is also
there in words, as `DescribedFigure.description`: who cannot see a picture in a notebook, or in the
page that it is written to, hears of it. The colours are those of a palette that people with
colour-blindness tell apart (Okabe and Ito, 2008; from memory), and lines also differ in their
strokes.
"""

from __future__ import annotations

import io
import textwrap
from base64 import b64encode
from collections.abc import Container, Iterator, Sequence
from html import escape
from typing import Any

import numpy as np
import pandas as pd
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.ticker import PercentFormatter
from scipy.stats import gaussian_kde

from loopwright.border import guard
from loopwright.errors import StudyError
from loopwright.fitting.girths import GIRTH_ERROR
from loopwright.fitting.limits import StretchLimits
from loopwright.studies._share import LEFT_OUT, failed, share_served

__all__ = ["DescribedFigure", "plot_heatmap", "plot_share_against_ease", "plot_stretch"]

_COLOURS = ("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#E69F00", "#56B4E9", "#000000")
_STROKES = ("-", "--", "-.", ":")
_MARKS = ("o", "s", "^", "D", "v", "P", "X")
_LETTERS_AN_INCH = 15  # of the small print below a picture, so that none is cut off
_DOUBT = (
    f"absolute heel girths are good to about {100 * GIRTH_ERROR:.0f} % until a knitted sample is "
    "measured"
)
_GIRTHS = f"every heel girth {100 * GIRTH_ERROR:.0f} % less to {100 * GIRTH_ERROR:.0f} % more"
_Values = np.ndarray[tuple[int], np.dtype[np.float64]]
_SERVED = "failed cases are counted as not served"
_EASE = "ease, % of the foot's ball girth"


class DescribedFigure(Figure):
    """A figure with words for those who cannot see it."""

    description: str = ""
    """What it shows, with its numbers and its small print."""

    def _repr_mimebundle_(
        self, include: Container[str] | None = None, exclude: Container[str] | None = None
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        # Of an image by itself, notebooks and most of nbconvert's templates leave the alternative
        # text out; the image stays for what writes no HTML, a PDF for one.
        drawn = io.BytesIO()
        self.savefig(drawn, format="png")
        png = drawn.getvalue()
        shown = (
            f'<img alt="{escape(self.description)}" style="max-width:100%;height:auto" '
            f'src="data:image/png;base64,{b64encode(png).decode()}">'
        )
        return {"text/html": shown, "image/png": png}, {"image/png": {"alt": self.description}}


def plot_share_against_ease(
    table: pd.DataFrame,
    *,
    by: str = "heel",
    ease: str = "ease",
    limits: StretchLimits | None = None,
) -> DescribedFigure:
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
    _need(table, by, ease, "ball_stretch_ratio", "heel_stretch_ratio")
    figure, axes = _figure(1, (7.6, 4.8))
    shares = share_served(table, by=[by, ease], limits=limits).sort_index(level=1)
    names = list(table[by].unique())
    for place, name in enumerate(names):
        _share_line(axes[0], shares.xs(name, level=by), str(name), place, len(names))
    axes[0].set(xlabel=_EASE, ylabel="feet served", ylim=(-0.03, 1.03))
    axes[0].yaxis.set_major_formatter(PercentFormatter(1.0))
    axes[0].legend(title=by, frameon=False, loc="center left", bbox_to_anchor=(1.0, 0.5))
    said = f"Share of feet served against {_EASE}, a line for each {by}. " + " ".join(
        f"{name}: {_in_words(shares.xs(name, level=by)['share'])}." for name in names
    )
    notes = [_SERVED, f"bars: {LEFT_OUT}", f"bands: {_GIRTHS}"]
    return _footed(figure, said, table, limits or StretchLimits(), notes)


def _in_words(shares: pd.Series) -> str:
    """One heel's shares by ease, both in per cent: "25 at -10, 80 at 0"."""
    return ", ".join(f"{100 * share:.0f} % at {100 * ease:+g}" for ease, share in shares.items())


def _share_line(ax: Axes, shares: pd.DataFrame, name: str, place: int, of: int) -> None:
    """One heel: the share, its interval, and what the heel girth's own error does to it."""
    colour = _COLOURS[place % len(_COLOURS)]
    at = 100 * shares.index.to_numpy(float)
    steps = np.diff(np.unique(at))
    apart = 0.03 * (float(steps.min()) if len(steps) else 1.0)  # so that no bar hides another
    at = at + apart * (place - (of - 1) / 2)
    likely, low, high, tighter, roomier = (
        shares[column].to_numpy(float)
        for column in ("share", "share_low", "share_high", "share_if_tighter", "share_if_roomier")
    )
    ax.fill_between(at, tighter, roomier, facecolor=colour, alpha=0.10, lw=0)
    for edge in (tighter, roomier):  # bands lie over each other: their edges tell them apart
        ax.plot(at, edge, color=colour, linewidth=0.7, linestyle=_STROKES[place % len(_STROKES)])
    ax.errorbar(
        at, likely, yerr=[likely - low, high - likely], label=name, color=colour,
        linestyle=_STROKES[place % len(_STROKES)], marker=_MARKS[place % len(_MARKS)],
        markersize=5, elinewidth=1.2, capsize=2.5,
    )  # fmt: skip


def plot_stretch(
    table: pd.DataFrame, *, by: str = "design", limits: StretchLimits | None = None
) -> DescribedFigure:
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
    _need(table, by, "ball_stretch_ratio", "heel_stretch_ratio")
    within = limits or StretchLimits()
    names = list(table[by].unique())
    figure, axes = _figure(2, (9.0, 1.6 + 0.55 * len(names)))
    places = (
        ("ball_stretch_ratio", "ball", within.ball),
        ("heel_stretch_ratio", "heel", (within.heel,)),
    )
    said = [f"How far the sock must stretch, foot / sock, a distribution for each {by}."]
    for ax, (column, title, lines) in zip(axes, places, strict=True):
        whole = table[~failed(table)]
        values = [whole.loc[whole[by] == name, column].dropna().to_numpy(float) for name in names]
        _violins(ax, values)
        said.append(f"At the {title}: {'; '.join(map(_spread, names, values))}.")
        for limit in lines:
            ax.axvline(limit, color="#444444", linewidth=0.9, linestyle=":")
        ax.set_xlabel("stretch, foot / sock")
        ax.set_title(title)
    axes[1].axvspan(
        within.heel * (1 - GIRTH_ERROR), within.heel * (1 + GIRTH_ERROR),
        color="#444444", alpha=0.10, lw=0,
    )  # fmt: skip
    axes[0].set_yticks(range(len(names)), [str(name) for name in names])
    axes[1].set_yticks(range(len(names)), [""] * len(names))
    axes[0].invert_yaxis()
    axes[1].invert_yaxis()
    notes = [
        "shapes: how the cases are spread; bars hold the middle 90 %, rings are medians",
        f"dotted: the limits; grey: where the heel's would lie with {_GIRTHS}",
    ]
    return _footed(figure, " ".join(said), table, within, notes)


def _spread(name: object, values: _Values) -> str:
    """One variant's distribution in words."""
    if not len(values):
        return f"{name} none"
    low, median, high = np.percentile(values, [5, 50, 95])
    return f"{name} {median:.2f} ({low:.2f} to {high:.2f})"


def plot_heatmap(
    table: pd.DataFrame,
    *,
    rows: str,
    columns: str,
    value: str | None = None,
    limits: StretchLimits | None = None,
) -> DescribedFigure:
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
        shown, words, label = _shares_shown(table, rows, columns, limits)
    else:
        shown, words, label = _medians_shown(table, rows, columns, value)
    numbers = shown.to_numpy(float)
    size = (3.6 + 1.0 * numbers.shape[1], 2.2 + 0.55 * numbers.shape[0])
    figure, (ax,) = _figure(1, size)
    image = ax.imshow(numbers, aspect="auto", cmap="cividis")
    across = [_label(columns, choice) for choice in shown.columns]
    down = [_label(rows, choice) for choice in shown.index]
    ax.set_xticks(range(numbers.shape[1]), across)
    ax.set_yticks(range(numbers.shape[0]), down)
    ax.set(xlabel=_head(columns), ylabel=_head(rows))
    for (row, column), text in np.ndenumerate(words.to_numpy(object)):
        red, green, blue, _ = image.to_rgba(numbers[row, column])
        dark = 0.2126 * red + 0.7152 * green + 0.0722 * blue < 0.5
        colour = "black" if np.isnan(numbers[row, column]) or not dark else "white"
        ax.text(column, row, text, ha="center", va="center", color=colour, fontsize=9)
    figure.colorbar(image, ax=ax, label=label)
    said = [f"{label[0].upper()}{label[1:]}. Down: {_head(rows)}. Across: {_head(columns)}."]
    for name, line in zip(down, words.to_numpy(object), strict=True):
        fields = [
            f"{choice}: {' '.join(t.split())}" for choice, t in zip(across, line, strict=True)
        ]
        said.append(f"{name}: {'; '.join(fields)}.")
    told = " ".join(said)
    if value is None:
        return _footed(figure, told, table, limits or StretchLimits(), [_SERVED, LEFT_OUT])
    return _footed(figure, told, table, None, [])


_Shown = tuple[pd.DataFrame, pd.DataFrame, str]  # numbers, what is written of them, label


def _shares_shown(
    table: pd.DataFrame, rows: str, columns: str, limits: StretchLimits | None
) -> _Shown:
    _need(table, rows, columns, "ball_stretch_ratio", "heel_stretch_ratio")
    shares = 100 * share_served(table, by=[rows, columns], limits=limits)
    words = shares.apply(
        lambda s: f"{s['share']:.0f}\n({s['share_low']:.0f} to {s['share_high']:.0f})", axis=1
    )
    return shares["share"].unstack(), words.unstack(fill_value="none"), "feet served, %"


def _medians_shown(table: pd.DataFrame, rows: str, columns: str, value: str) -> _Shown:
    _need(table, rows, columns, value)
    numbers = table[value].mask(failed(table))  # a failed case still makes its field
    medians = numbers.groupby([table[rows], table[columns]], sort=False).median()
    words = medians.map(lambda number: "none" if np.isnan(number) else f"{number:.3g}")
    unit = table.attrs.get("units", {}).get(value, "")
    name = value.removesuffix(f"_{unit}").replace("_", " ")
    label = f"median {name}{f', {unit}' if unit not in ('', '1') else ''}"
    return medians.unstack(), words.unstack(fill_value="none"), label


def _figure(wide: int, size: tuple[float, float]) -> tuple[DescribedFigure, list[Axes]]:
    """A figure of its own, outside pyplot, which would keep it alive."""
    figure = DescribedFigure(figsize=size, layout="constrained", dpi=110)
    FigureCanvasAgg(figure)
    axes = list(figure.subplots(1, wide, squeeze=False)[0])
    for ax in axes:
        ax.spines[["top", "right"]].set_visible(False)
    return figure, axes


def _violins(ax: Axes, values: Sequence[_Values]) -> None:
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


def _footed(
    figure: DescribedFigure,
    said: str,
    table: pd.DataFrame,
    limits: StretchLimits | None,
    notes: Sequence[str],
) -> DescribedFigure:
    """Write what a reader must know below a figure, and all of it in words beside it."""
    wide = int(_LETTERS_AN_INCH * figure.get_figwidth())
    texts = [*_foot(table, limits), *notes, _DOUBT]
    lines = [line for text in texts for line in textwrap.wrap(text, wide)]
    figure.description = f"{said} {'; '.join(texts)}."
    figure.supxlabel("\n".join(lines), fontsize=7.5, color="#444444")
    return figure


def _foot(table: pd.DataFrame, limits: StretchLimits | None) -> Iterator[str]:
    """What a reader must know: how many cases, which failed, by which limits, how measured."""
    feet = f" of {table['foot'].nunique()} feet" if "foot" in table else ""
    yield f"{len(table)} cases{feet}, {failed(table).sum()} failed"
    if limits is not None:
        least, most = limits.ball
        ball = f"ball stretched {least:.2f} to {most:.2f} times"
        yield f"limits, foot / sock: {ball}, heel at most {limits.heel:.2f} times"
    methods = table["heel_girth_method"].dropna().unique() if "heel_girth_method" in table else []
    yield from (f"heel girth: {method}" for method in methods)


def _head(column: str) -> str:
    return _EASE if column == "ease" else column.replace("_", " ")


def _label(column: str, choice: object) -> str:
    if isinstance(choice, float):
        return f"{100 * choice:+g}" if column == "ease" else f"{choice:g}"
    return str(choice)


def _need(table: pd.DataFrame, *columns: str) -> None:
    for column in (*columns, "error"):
        if column not in table:
            raise StudyError("table", f"no column {column!r}", f"it has {', '.join(table)}")
    if not len(table):
        raise StudyError("table", "no cases", "study one or more")


guard(globals())
