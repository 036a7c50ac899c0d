"""Documents as PDFs: typeset for paper, with the same words and numbers as the pages.

The typesetter comes whole in its package, fonts included, so that the same document gives the same
sheets on every machine. The machine's own fonts are looked at only for letters that those lack. The
PDF keeps PDF/UA-1: it is tagged, and each picture has its words.
"""

from __future__ import annotations

import json
import re
from functools import singledispatch
from typing import Any

import attrs

from loopwright.design.front import Paper
from loopwright.errors import LetterError
from loopwright.extras import from_extra
from loopwright.report._assets import asset
from loopwright.report._blocks import (
    Block,
    Drawing,
    Facts,
    GridBlock,
    Pairs,
    Paragraph,
    Photo,
    ReportDocument,
    Ruled,
    WorkLines,
)
from loopwright.report.data import ReportPicture

__all__ = ["pdf_of"]

_NAMES = {Paper.A4: "a4", Paper.LETTER: "us-letter", Paper.A5: "a5"}
# What a sheet's margins leave, mm: width and height.
_ROOM = {Paper.A4: (174.0, 263.0), Paper.LETTER: (179.9, 245.4), Paper.A5: (124.0, 184.0)}
_SIZE_PT = {Paper.A4: 10.5, Paper.LETTER: 10.5, Paper.A5: 9.0}
_LARGE_PT = 18.0  # large print, common practice
_NOT_SHOWN = re.compile(r'the text `"(.+?)"` could not be displayed')  # asked for by PDF/UA
_ESCAPED = re.compile(r"\\u\{([0-9a-f]+)\}")


def pdf_of(document: ReportDocument, *, author: str = "") -> bytes:
    """Return a document as a PDF.

    Raises
    ------
    MissingExtraError
        The typesetter is not installed: it comes with the extra ``pdf``.
    LetterError
        A letter that neither the typesetter's fonts have nor the machine's.
    """
    typst = from_extra("typst", "a PDF", "pdf")
    source, data = asset("document.typ").encode(), json.dumps(_data(document, author))
    lacking = ""
    for with_its_own_fonts in (True, False):
        try:
            made: bytes = typst.compile(
                source,
                format="pdf",
                pdf_standards=["ua-1"],
                ignore_system_fonts=with_its_own_fonts,
                sys_inputs={"data": data},
            )
        except RuntimeError as error:
            found = _NOT_SHOWN.search(str(error))
            if found is None:
                raise
            lacking = _ESCAPED.sub(lambda code: chr(int(code[1], 16)), found[1])
        else:
            return made
    raise LetterError(document.title, lacking)


def _data(document: ReportDocument, author: str) -> dict[str, Any]:
    paper = document.paper
    return {
        "title": document.title,
        "kind": document.kind,
        "author": author,
        "byline": document.byline,
        "paper": _NAMES[paper],
        "room": _ROOM[paper],
        "size": _LARGE_PT if document.large_print else _SIZE_PT[paper],
        "opening": [_block(block) for block in document.opening],
        "sections": [
            {
                "title": section.title,
                "level": section.level,
                "on_new_page": section.on_new_page,
                "may_shrink": section.may_shrink,
                "blocks": [
                    # A picture's heading is one of its section, or stands for it.
                    {**_block(block), "level": section.level + bool(section.title)}
                    for block in section.blocks
                ],
            }
            for section in document.sections
        ],
    }


@singledispatch
def _block(block: Block) -> dict[str, Any]:
    raise TypeError(block)


@_block.register
def _(block: Paragraph) -> dict[str, Any]:
    return {"block": "paragraph", **attrs.asdict(block)}


@_block.register
def _(block: Facts) -> dict[str, Any]:
    return {"block": "facts", "rows": block.rows}


@_block.register
def _(block: Pairs) -> dict[str, Any]:
    return {"block": "pairs", "rows": block.rows}


@_block.register
def _(block: GridBlock) -> dict[str, Any]:
    """Give each column room after its longest cell, within limits that keep the others legible."""
    table = block.table
    columns = zip(table.head, *table.rows, strict=True)
    return {
        "block": "grid",
        "caption": table.caption,
        "head": table.head,
        "rows": table.rows,
        "numbers": sorted(table.numbers),
        "widths": [min(max(5, *map(len, column)), 34) for column in columns],
    }


@_block.register
def _(block: Drawing) -> dict[str, Any]:
    picture = block.picture
    return {
        "block": "drawing",
        "title": picture.title,
        "note": picture.note,
        "kind": picture.kind.value,
        "drawn": [_part(part) for part in picture.parts or (picture,)],
        "is_wide": picture.is_wide,
        "key": [{"svg": line.svg, "words": line.words} for line in picture.key],
    }


def _part(part: ReportPicture) -> dict[str, Any]:
    """Return what is to be set; sizes in CSS px, 96 to the inch."""
    return {
        "alt": part.alt,
        "svg": part.shown,
        "width": part.width,
        "height": part.height,
        "text": part.letters_px,
    }


@_block.register
def _(block: Photo) -> dict[str, Any]:
    return {
        "block": "photo",
        "data": list(block.data),
        "format": {"jpeg": "jpg"}.get(block.kind, block.kind),
        "alt": block.alt,
    }


@_block.register
def _(block: WorkLines) -> dict[str, Any]:
    return {"block": "work", "lines": block.lines, "boxes": block.boxes}


@_block.register
def _(block: Ruled) -> dict[str, Any]:
    return {"block": "ruled", "lines": block.lines, "label": block.label}
