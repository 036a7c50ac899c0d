"""The PDF: the report typeset for paper, with the same words and numbers as the page.

The typesetter comes whole in its package, fonts included, so that the same report gives the same
pages on every machine; the machine's own fonts are not looked at.
"""

from __future__ import annotations

import json
from importlib.metadata import version
from typing import Any

from loopwright.extras import from_extra
from loopwright.pattern import Words
from loopwright.report import _tables as tables
from loopwright.report._instructions import by_heading
from loopwright.report._page import asset, cautions, gauge_line, paragraphs, verdicts
from loopwright.report.data import Kind, Picture, SizeReport, SockReport

__all__ = ["pdf"]


def pdf(report: SockReport, *, words: Words = Words.US) -> bytes:
    """Return the report as a PDF.

    Parameters
    ----------
    report : SockReport
    words : Words
        American or British terms; American ones go on letter paper, British ones on A4.

    Raises
    ------
    MissingExtraError
        The typesetter is not installed: it comes with the extra ``pdf``.
    """
    made: bytes = from_extra("typst", "a PDF", "pdf").compile(
        asset("pattern.typ").encode(),
        format="pdf",
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(_data(report, words))},
    )
    return made


def _data(report: SockReport, words: Words) -> dict[str, Any]:
    alone = len(report.sizes) == 1
    return {
        "title": report.title,
        "summary": paragraphs(report.summary),
        "paper": "us-letter" if words is Words.US else "a4",
        "cautions": cautions(report),
        "gauge": gauge_line(report, words),
        "abbreviations": report.pattern.abbreviations,
        "measures": _table(tables.measures_table(report.sizes)),
        "fit": _table(tables.fit_table(report.sizes)),
        "yarn": _table(tables.yarn_table(report.sizes)),
        "checks": _table(tables.checks_table(report.sizes)),
        "verdicts": verdicts(report.sizes),
        "unmeasured": report.accuracy,
        "notes": [_of_size(note, size) for size in report.sizes for note in size.notes],
        "parts": [
            {
                "title": heading.title,
                "lines": [
                    {"kind": line.kind.value, "text": line.text, "rounds": line.rounds}
                    for line in heading.lines
                ],
            }
            for heading in by_heading(report.pattern, 0 if alone else None, words=words)
        ],
        "schematic": {"title": report.schematic.title, "parts": _drawn(report.schematic)},
        "letters": _table(tables.schematic_table(report.sizes)),
        "pictures": _pictures(report),
        "version": version("loopwright"),
    }


def _pictures(report: SockReport) -> list[dict[str, Any]]:
    """Return the pictures; where one chart has to lie on its side, they all do."""
    pictures = [picture for size in report.sizes for picture in size.pictures]
    wide = any(one.is_wide for one in pictures if one.kind is Kind.CHART)
    return [
        _picture(picture, size) | ({"is_wide": wide} if picture.kind is Kind.CHART else {})
        for size in report.sizes
        for picture in size.pictures
    ]


def _picture(picture: Picture, size: SizeReport) -> dict[str, Any]:
    return {
        "title": _of_size(picture.title, size),
        "note": picture.note,
        "kind": picture.kind.value,
        "drawn": _drawn(picture),
        "is_wide": picture.is_wide,
        "key": [{"svg": line.svg, "words": line.words} for line in picture.key],
    }


def _drawn(picture: Picture) -> list[dict[str, Any]]:
    """Return what is to be set: a picture's parts, or itself; sizes in CSS px, 96 to the inch."""
    return [
        {
            "title": part.title,
            "svg": part.shown,
            "width": part.width,
            "height": part.height,
            "text": part.letters_px,
        }
        for part in picture.parts or (picture,)
    ]


def _of_size(text: str, size: SizeReport) -> str:
    return f"Size {size.name}: {text[:1].lower()}{text[1:]}" if size.name else text


def _table(table: tables.Table) -> dict[str, Any]:
    """Give each column room after its longest cell, within limits that keep the others legible."""
    table = table.filled()
    columns = zip(table.head, *table.rows, strict=True)
    widths = [min(max(len(cell) for cell in column), 34) for column in columns]
    return {
        "caption": table.caption,
        "head": table.head,
        "rows": table.rows,
        "numbers": sorted(table.numbers),
        "widths": widths,
    }
