"""The pattern and its tables in Markdown, for a text editor or a site that renders it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern import Words
from loopwright.report import _tables as tables
from loopwright.report._compose import filled
from loopwright.report._instructions import InstructionLine, LineKind, by_heading
from loopwright.report._said import cautions, gauge_line, paragraphs, verdicts
from loopwright.report.data import SockReport

__all__ = ["markdown"]

_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~&])|^([-+=]|[0-9]+[.)])(?=\s)")


def markdown(report: SockReport, *, words: Words = Words.US) -> str:
    """Return the report in Markdown, all sizes in brackets.

    Parameters
    ----------
    report : SockReport
    words : Words
        American or British terms.
    """
    return "\n".join(_lines(report, words)) + "\n"


def _lines(report: SockReport, words: Words) -> Iterator[str]:
    yield f"# {_plain(report.title)}"
    for text in paragraphs(filled(report, report.summary)):
        yield from ("", _plain(text))
    yield from ("", "## Will it go on?")
    for name, text in verdicts(report.sizes):
        yield from ("", f"**{_plain(name)}.** {_plain(text)}" if name else _plain(text))
    yield from ("", "## Before you begin", "")
    for text in cautions(report):
        yield from (f"> **Caution.** {_plain(text)}", "")
    yield _plain(gauge_line(report, words))
    if report.pattern.abbreviations:
        yield ""
        yield from (f"- **{_plain(a)}**: {_plain(b)}" for a, b in report.pattern.abbreviations)
    for table in (tables.measures_table(report.sizes), tables.fit_table(report.sizes),
                  tables.yarn_table(report.sizes)):  # fmt: skip
        if table.rows:
            yield from ("", f"## {table.caption}", "", *_table(table.filled()))
    for size in report.sizes:
        for note in size.notes:
            yield from ("", _plain(f"{size.name}: {note}" if size.name else note))
    yield from ("", _plain(report.accuracy), "", "## Instructions")
    for heading in by_heading(report.pattern, None, words=words):
        yield from ("", *([f"### {_plain(heading.title)}", ""] if heading.title else []))
        for line in heading.lines:
            yield from _line(line)
    yield from ("", "## Checks", "", *_table(tables.checks_table(report.sizes).filled()))


def _line(line: InstructionLine) -> Iterator[str]:
    if line.kind is LineKind.CAUTION:
        yield from ("", f"> **Caution.** {_plain(line.text)}", "")
    elif line.kind is LineKind.NOTE:
        yield from ("", f"_{_plain(line.text)}_", "")
    else:
        yield f"- {_plain(line.text)}"


def _table(table: tables.Table) -> Iterator[str]:
    yield _row(table.head)
    yield _row("--:" if place in table.numbers else "---" for place in range(len(table.head)))
    yield from (_row(_plain(cell) for cell in row) for row in table.rows)


def _row(cells: Iterator[str] | tuple[str, ...]) -> str:
    return f"| {' | '.join(cells)} |"


def _plain(text: str) -> str:
    """Keep signs of Markdown, the asterisk of a repeat above all, from being taken for markup."""
    return _SIGNS.sub(lambda sign: f"\\{sign[0]}" if sign[1] else _listed(sign[2]), text)


def _listed(mark: str) -> str:
    return f"{mark[:-1]}\\{mark[-1]}"
