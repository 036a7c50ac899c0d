"""The folder: every file of a report by its name, as text or bytes; writing them is the caller's.

One home for the names, so that the index in ``README.txt`` can't list a file that isn't there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from importlib.metadata import version

import attrs

from loopwright.extras import MissingExtraError, is_installed
from loopwright.fabric.files import to_json
from loopwright.file_writing import MARK, MARK_SAYS
from loopwright.pattern import Pattern, Words, write
from loopwright.report import _tables as tables
from loopwright.report._compose import fields_of, handout, record, sheet
from loopwright.report._markdown import markdown
from loopwright.report._page import page
from loopwright.report._said import cautions
from loopwright.report._typeset import pdf_of
from loopwright.report._web import page_of
from loopwright.report.data import DocumentKind, SizeReport, SockReport

__all__ = ["folder"]

_NO_PDF = str(MissingExtraError("a PDF", "typst", "pdf"))


@attrs.frozen
class _File:
    name: str
    what: str
    content: str | bytes


def folder(report: SockReport, *, words: Words = Words.US) -> Mapping[str, str | bytes]:
    """Return the report's files by name, the index among them.

    Of a report that was gathered for some documents only, those alone. Without the typesetter,
    which comes with the extra ``pdf``, there is no PDF, and the index says so.

    Parameters
    ----------
    report : SockReport
    words : Words
        American or British terms.
    """
    files = list(_files(report, words))
    index = _File("README.txt", "", _index(report, files))
    return {file.name: file.content for file in (index, *files)}


_DOCUMENTS = {
    DocumentKind.PATTERN: (sheet, "the knitter's sheet"),
    DocumentKind.RECORD: (record, "the designer's record: fit and checks"),
    DocumentKind.HANDOUT: (handout, "for a class: heel and toe stage by stage"),
}


def _files(report: SockReport, words: Words) -> Iterator[_File]:
    for wanted, (make, what) in _DOCUMENTS.items():
        if wanted not in report.documents:
            continue
        document = make(report, words=words)
        if wanted is DocumentKind.PATTERN:
            on_screen = "the knitter's page: choose a size, count rounds, turn the sock"
            yield _File("pattern.html", on_screen, page(report, words=words))
        else:
            yield _File(f"{document.name}.html", what, page_of(document))
        if is_installed("typst"):
            made = pdf_of(document, author=report.front.author)
            yield _File(f"{document.name}.pdf", f"{what}, for paper", made)
    if DocumentKind.PATTERN in report.documents:
        yield _File("pattern.txt", "the instructions alone; loopwright reads them back",
                    write(_in_own_units(report), words=words))  # fmt: skip
    if report.documents == set(DocumentKind):
        yield from _beside(report, words)


def _in_own_units(report: SockReport) -> Pattern:
    """Return the pattern with its finished measures in inches first, where the design says so."""
    if not report.front.inches_first:
        return report.pattern
    told = fields_of(report)
    notes = {measure.name: measure.note for measure in report.sizes[0].measures}
    measures = "; ".join(f"{name} {told[name]} {note}".rstrip() for name, note in notes.items())
    head, begin = report.pattern.materials, "Finished measurements: "
    lines = (f"{begin}{measures}" if line.startswith(begin) else line for line in head)
    return attrs.evolve(report.pattern, materials=tuple(lines))


def _beside(report: SockReport, words: Words) -> Iterator[_File]:
    """Yield what goes with all documents: tables, pictures and fabrics for other programs."""
    yield _File("pattern.md", "pattern and tables in Markdown", markdown(report, words=words))
    yield _File("measures.csv", "finished measures in mm", tables.measures_csv(report.sizes))
    yield _File(
        "fit.csv", "sock and foot: how far it must stretch", _csv(tables.fit_table(report.sizes))
    )
    yield _File("yarn.csv", "yarn for a pair", _csv(tables.yarn_table(report.sizes)))
    yield _File("checks.csv", "the checks' verdict", _csv(tables.checks_table(report.sizes)))
    yield _File("schematic.svg", report.schematic.title, report.schematic.svg)
    for size, tail in zip(report.sizes, _tails(report.sizes), strict=True):
        label = f", size {size.name}" if size.name else ""
        for picture in (f for one in (*size.pictures, *size.fit_pictures) for f in one.files):
            what = picture.title.removesuffix(label) + label
            yield _File(f"{picture.name}{tail}.svg", what, picture.svg)
        what = f"every loop of one sock{label}; loopwright.fabric.files reads it"
        yield _File(f"fabric{tail}.json", what, to_json(size.fabric))


def _tails(sizes: Sequence[SizeReport]) -> list[str]:
    """Return what tells the sizes' files apart: names that lose their strokes may be alike."""
    plain = [re.sub(r"[^A-Za-z0-9]+", "-", size.name).strip("-").lower() for size in sizes]
    if len(set(plain)) < len(plain):
        plain = [f"{name}-{place}" for place, name in enumerate(plain, start=1)]
    return [f"-{name}" if name else "" for name in plain]


def _csv(table: tables.Table) -> str:
    return tables.to_csv(table)


def _index(report: SockReport, files: list[_File]) -> str:
    width = max(len(file.name) for file in files)
    files = [*files, _File(MARK, MARK_SAYS, "")]
    listed = [f"{file.name:<{width}}  {file.what}" for file in files]
    warned = [f"Caution: {text}" for text in cautions(report)]
    left_out = [] if is_installed("typst") else [_NO_PDF, ""]
    made = f"Made by loopwright {version('loopwright')}."
    return "\n".join([report.title, "", *listed, "", *left_out, *warned, "", made, ""])
