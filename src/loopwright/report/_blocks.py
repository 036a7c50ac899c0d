"""What a document is made of: sections of blocks, set alike as a page and as a PDF.

A document is plain data. The two views, `_web` and `_typeset`, know how each block looks and
nothing of socks; what stands in a document is decided where it is put together.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

import attrs

from loopwright.design.front import Paper
from loopwright.report._tables import Table
from loopwright.report.data import ReportPicture

__all__ = [
    "Block",
    "DocumentSection",
    "Drawing",
    "Facts",
    "GridBlock",
    "Pairs",
    "Paragraph",
    "Photo",
    "ReportDocument",
    "Ruled",
    "WorkLines",
]


@attrs.frozen
class Paragraph:
    """A paragraph; `look` is ``"plain"``, ``"note"``, ``"small"`` or ``"caution"``."""

    text: str
    look: str = "plain"


@attrs.frozen
class Facts:
    """What something is, a line each, with a label in front."""

    rows: tuple[tuple[str, str], ...]


@attrs.frozen
class Pairs:
    """Short forms and what they stand for, in two columns."""

    rows: tuple[tuple[str, str], ...]


@attrs.frozen
class GridBlock:
    """A table."""

    table: Table


@attrs.frozen
class Drawing:
    """A picture of the package's own."""

    picture: ReportPicture


@attrs.frozen
class Photo:
    """A picture that somebody took, with what is to be seen on it."""

    data: bytes
    kind: str  # "png", "jpeg"
    alt: str


@attrs.frozen
class WorkLines:
    """Lines to work: kind (``"work"``, ``"note"``, ``"caution"``), text, how many rounds."""

    lines: tuple[tuple[str, str, str], ...]
    boxes: bool = False


@attrs.frozen
class Ruled:
    """Empty lines to write on: on paper, down to the end of the sheet."""

    lines: int = 8
    label: str = "Notes"


Block: TypeAlias = Paragraph | Facts | Pairs | GridBlock | Drawing | Photo | WorkLines | Ruled


def _blocks(blocks: Iterable[Block]) -> tuple[Block, ...]:
    return tuple(blocks)


@attrs.frozen
class DocumentSection:
    """A heading and what stands under it; `level` 2 or 3; `on_new_page` where a page begins.

    `may_shrink` where it may be set a little smaller to save a sheet.
    """

    title: str
    blocks: tuple[Block, ...] = attrs.field(converter=_blocks)
    level: int = 2
    on_new_page: bool = False
    may_shrink: bool = False


def _sections(sections: Iterable[DocumentSection]) -> tuple[DocumentSection, ...]:
    return tuple(sections)


@attrs.frozen(kw_only=True)
class ReportDocument:
    """One document.

    Parameters
    ----------
    name : str
        Of its files, without an ending.
    kind : str
        What it is, as its foot says.
    title, byline : str
    opening : tuple of Block
        What stands below the title.
    sections : tuple of DocumentSection
    paper : Paper
    large_print : bool
    """

    name: str
    kind: str
    title: str
    byline: str = ""
    opening: tuple[Block, ...] = attrs.field(default=(), converter=_blocks)
    sections: tuple[DocumentSection, ...] = attrs.field(default=(), converter=_sections)
    paper: Paper = Paper.A4
    large_print: bool = False
