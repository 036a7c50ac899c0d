"""The page: one HTML file for the screen, the phone and the printer.

It asks for nothing outside itself, which its own policy enforces: styles and scripts are allowed by
their hashes and pictures only from the page. Every text passes through the template's escaping.
Pictures are drawn as images of their own, so that names inside two drawings can't meet.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Sequence
from functools import cache
from importlib.metadata import version
from importlib.resources import files
from urllib.parse import quote

import attrs
from jinja2 import Environment, StrictUndefined, Template

from loopwright.pattern import Words, write
from loopwright.picture.shape_scene import Scene
from loopwright.picture.shape_view import LOOK, SCRIPT, STYLE, VIEWER, allowed, shapes
from loopwright.report import _tables as tables
from loopwright.report._instructions import Heading, LineKind, by_heading
from loopwright.report.data import Picture, SizeReport, SockReport

__all__ = ["asset", "cautions", "gauge_line", "page", "paragraphs", "verdicts"]

_ASSETS = files("loopwright.report").joinpath("assets")
_SVG = "data:image/svg+xml,"
_AS_IT_IS = " =:/;,()!*'~@$&+?.-_"  # needs no quoting inside an address in double quotes


@attrs.frozen
class _Shown:
    """A picture as the page shows it."""

    title: str
    address: str
    parts: tuple[_Shown, ...]
    note: str
    kind: str
    is_wide: bool
    key: tuple[tuple[str, str], ...]


@attrs.frozen
class _View:
    """What one choice of size shows."""

    key: str
    name: str
    letters: tables.Table
    measures: tables.Table
    fit: tables.Table
    yarn: tables.Table
    checks: tables.Table
    headings: tuple[Heading, ...]
    verdicts: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    schematic: _Shown
    pictures: tuple[_Shown, ...]


def page(report: SockReport, *, words: Words = Words.US) -> str:
    """Return the report as one HTML page.

    Parameters
    ----------
    report : SockReport
    words : Words
        American or British terms.
    """
    views = _views(report, words)
    style, script = LOOK + asset("page.css") + STYLE, asset("page.js") + SCRIPT
    scenes = _scenes(report)
    return _template().render(
        report=report,
        summary=paragraphs(report.summary),
        views=views,
        several=len(report.sizes) > 1,
        cautions=cautions(report),
        gauge=gauge_line(report, words),
        abbreviations=report.pattern.abbreviations,
        unmeasured=report.accuracy,
        has_pictures=any(view.pictures for view in views),
        has_shape=bool(scenes),
        viewer=VIEWER,
        data={"digest": _digest(report, words), "shapes": shapes(scenes)},
        version=version("loopwright"),
        style=style,
        style_hash=allowed(style),
        script=script,
        script_hash=allowed(script),
    )


def cautions(report: SockReport) -> tuple[str, ...]:
    """Return what can hurt, each once, in the order of the pattern, and the clinician's last.

    Whatever else sends a wearer to a clinician (a ridge, a tight band) stands in the instructions.

    Parameters
    ----------
    report : SockReport
    """
    told = (
        line.text
        for heading in by_heading(report.pattern)
        for line in heading.lines
        if line.kind is LineKind.CAUTION
    )
    return tuple(dict.fromkeys((*(text for text in told if "clinician" not in text), FEET)))


FEET = (
    "A tight or ridged sock can harm a foot with diabetes, neuropathy or swelling, and the harm "
    "may not be felt. Before knitting for such a foot, ask a clinician."
)


def verdicts(sizes: Iterable[SizeReport]) -> tuple[tuple[str, str], ...]:
    """Return each size's name and its verdict in sentences, what would mend it among them."""
    return tuple(
        (f"Size {size.name}" if size.name else "", _kept(" ".join(size.lines))) for size in sizes
    )


def gauge_line(report: SockReport, words: Words) -> str:
    """Return the gauge in a knitter's words: rounds, and a tension where English is British."""
    name = "Tension" if words is Words.UK else "Gauge"
    counted = str(report.gauge).replace("courses", "rounds")
    return f"{name}: {counted}. Work a swatch, wash it as you will wash the sock, and count again."


def paragraphs(text: str) -> list[str]:
    """Return the paragraphs of a text, each on one line."""
    return [" ".join(part.split()) for part in re.split(r"\n\s*\n", text) if part.strip()]


def asset(name: str) -> str:
    """Return the text of a file that the page is made from."""
    return _ASSETS.joinpath(name).read_text("utf-8")


@cache
def _template() -> Template:
    environment = Environment(
        autoescape=True, undefined=StrictUndefined, keep_trailing_newline=True
    )
    return environment.from_string(asset("page.html"))


def _views(report: SockReport, words: Words) -> tuple[_View, ...]:
    several = len(report.sizes) > 1
    each = [
        _view(
            str(place),
            [size],
            by_heading(report.pattern, place, words=words),
            size.schematic,
            alone=True,
        )
        for place, size in enumerate(report.sizes)
    ]
    if not several:
        return tuple(each)
    headings = by_heading(report.pattern, words=words)
    every = _view("all", report.sizes, headings, report.schematic, alone=False)
    return (every, *each)


def _view(
    key: str,
    sizes: Sequence[SizeReport],
    headings: tuple[Heading, ...],
    schematic: Picture,
    *,
    alone: bool,
) -> _View:
    pictures = [picture for size in sizes for picture in size.pictures] if alone else []
    # On paper, sheets on their side come last, so that none stands alone between upright ones.
    pictures.sort(key=lambda picture: picture.is_wide)
    return _View(
        key=key,
        name=sizes[0].name if alone else "all",
        letters=tables.schematic_table(sizes).filled(),
        measures=tables.measures_table(sizes).filled(),
        fit=tables.fit_table(sizes).filled(),
        yarn=tables.yarn_table(sizes).filled(),
        checks=tables.checks_table(sizes).filled(),
        headings=headings,
        verdicts=verdicts(sizes),
        notes=tuple(map(_kept, (note for size in sizes for note in size.notes))) if alone else (),
        schematic=_shown(schematic),
        pictures=tuple(map(_shown, pictures)),
    )


def _kept(text: str) -> str:
    """Keep a number and its sign on one line."""
    return text.replace(" %", "\N{NO-BREAK SPACE}%")


def _shown(picture: Picture) -> _Shown:
    return _Shown(
        picture.title,
        _address(picture.shown),
        tuple(map(_shown, picture.parts)),
        picture.note,
        picture.kind.value,
        picture.is_wide,
        tuple((_address(line.svg), line.words) for line in picture.key),
    )


def _address(svg: str) -> str:
    return _SVG + quote(svg, safe=_AS_IT_IS)


def _scenes(report: SockReport) -> dict[str, tuple[str, Scene]]:
    several = len(report.sizes) > 1
    return {
        str(place) if several else "only": (f"size {size.name}" if size.name else "", size.scene)
        for place, size in enumerate(report.sizes)
        if size.scene is not None
    }


def _digest(report: SockReport, words: Words) -> str:
    """Tell patterns apart, so that ticks belong to the text they were made beside."""
    return hashlib.sha256(write(report.pattern, words=words).encode()).hexdigest()[:16]
