"""The page: one HTML file for the screen, the phone and the printer.

It asks for nothing outside itself, which its own policy enforces: styles and scripts are allowed by
their hashes and pictures only from the page. Every text passes through the template's escaping.
Pictures are drawn as images of their own, so that names inside two drawings can't meet.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Mapping, Sequence
from functools import partial
from importlib.metadata import version
from urllib.parse import quote

import attrs

from loopwright.pattern import Words, write
from loopwright.picture.shape_scene import Scene
from loopwright.picture.shape_view import LOOK, SCRIPT, STYLE, VIEWER, allowed, shapes
from loopwright.report import _tables as tables
from loopwright.report._assets import asset, template
from loopwright.report._blocks import Photo
from loopwright.report._compose import fields_of, filled, material_facts, size_facts
from loopwright.report._instructions import Heading, by_heading
from loopwright.report._pieces import abbreviations, in_own_words, own_paragraphs
from loopwright.report._said import cautions, gauge_line, paragraphs
from loopwright.report._techniques import techniques
from loopwright.report.data import ReportPicture, SizeReport, SockReport

__all__ = ["address_of", "page", "photo_address", "shown"]

_SVG = "data:image/svg+xml,"
_OWN = 'data-colours="own"'  # of yarns: a page in dark colours leaves them as they are
_AS_IT_IS = " =:/;,()!*'~@$&+?.-_"  # needs no quoting inside an address in double quotes
_QUOTED = re.compile(rf"[^A-Za-z0-9{re.escape(_AS_IT_IS)}%]")


@attrs.frozen
class ShownPicture:
    """A picture as the page shows it."""

    title: str
    alt: str
    address: str
    parts: tuple[ShownPicture, ...]
    note: str
    kind: str
    is_wide: bool
    key: tuple[tuple[str, str, bool], ...]
    keeps_colours: bool = False


@attrs.frozen
class _View:
    """What one choice of size shows."""

    key: str
    name: str
    letters: tables.Table
    sizes: tuple[tuple[str, str], ...]
    materials: tuple[tuple[str, str], ...]
    headings: tuple[Heading, ...]
    fields: Mapping[str, str]
    schematic: ShownPicture
    pictures: tuple[ShownPicture, ...]


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
    return template("page.html").render(
        report=report,
        summary=paragraphs(filled(report, report.summary)),
        notes=[filled(report, note) for note in report.front.notes],
        views=views,
        several=len(report.sizes) > 1,
        cautions=cautions(report),
        gauge=gauge_line(report, words),
        abbreviations=abbreviations(report.front, report.pattern),
        credits=[
            filled(report, one) for one in (report.front.credits, report.front.copyright) if one
        ],
        techniques=techniques(
            report.pattern.steps, [s.grafted for s in report.sizes if s.grafted], words=words
        ),
        photo="" if report.photo is None else photo_address(Photo(*report.photo, "")),
        own=partial(own_paragraphs, report.front),
        icon=address_of(asset("icon.svg").strip()),
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


def _views(report: SockReport, words: Words) -> tuple[_View, ...]:
    several = len(report.sizes) > 1
    each = [
        _view(
            report,
            str(place),
            [size],
            by_heading(report.pattern, place, words=words, stitches=report.stitches),
        )
        for place, size in enumerate(report.sizes)
    ]
    if not several:
        return tuple(each)
    return (_view(report, "all", report.sizes, by_heading(report.pattern, words=words)), *each)


def _view(
    report: SockReport, key: str, sizes: Sequence[SizeReport], headings: Sequence[Heading]
) -> _View:
    alone = key != "all"
    all_of_them = [one for size in sizes for one in (*size.pictures, *size.fit_pictures)]
    pictures = all_of_them if alone else []
    # On paper, sheets on their side come last, so that none stands alone between upright ones.
    pictures.sort(key=lambda picture: picture.is_wide)
    fields = fields_of(report, sizes)
    return _View(
        key=key,
        name=sizes[0].name if alone else "all",
        letters=tables.schematic_table(sizes, inches_first=report.front.inches_first).filled(),
        sizes=tuple(size_facts(report, sizes)),
        materials=tuple(material_facts(report, sizes)),
        headings=tuple(in_own_words(report.front, heading, fields) for heading in headings),
        fields=fields,
        schematic=shown(sizes[0].schematic if alone else report.schematic),
        pictures=tuple(map(shown, pictures)),
    )


def photo_address(photo: Photo) -> str:
    """Return a photograph as an address that holds it whole."""
    return f"data:image/{photo.kind};base64,{base64.b64encode(photo.data).decode()}"


def shown(picture: ReportPicture) -> ShownPicture:
    """Return a picture as a page shows it."""
    return ShownPicture(
        picture.title,
        picture.alt,
        address_of(picture.shown),
        tuple(map(shown, picture.parts)),
        picture.note,
        picture.kind.value,
        picture.is_wide,
        tuple((address_of(line.svg), line.words, _OWN in line.svg) for line in picture.key),
        _OWN in picture.shown,
    )


def address_of(svg: str) -> str:
    """Return a drawing as an address that holds it whole."""
    quoted = svg.replace("%", "%25")
    for letter in sorted(set(_QUOTED.findall(svg))):  # a dozen; letter by letter takes ten times
        quoted = quoted.replace(letter, quote(letter))
    return _SVG + quoted


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
