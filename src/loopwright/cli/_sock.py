"""``loopwright sock``: from a design file to the folder that a designer hands on."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from pathlib import Path

import attrs
import click

from loopwright.characters import escaped
from loopwright.cli._bar import shown_progress
from loopwright.cli._design import read_design_file, with_run_parts
from loopwright.cli.files import refuse_folder, write_folder
from loopwright.design.front import FrontMatter, Paper
from loopwright.extras import MissingExtraError
from loopwright.pattern import Words
from loopwright.report import folder
from loopwright.report.data import DocumentKind, SizeReport, SockReport
from loopwright.report.gather import report_of
from loopwright.report.photo import load_photo

__all__ = ["sock"]


@click.command()
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), required=True, metavar="FOLDER",
              help="Where the report goes; written whole or not at all.")  # fmt: skip
@click.option("--size", metavar="NAME", help="One size alone, as if there were no other.")
@click.option(
    "--document",
    "documents",
    multiple=True,
    metavar="NAME",
    type=click.Choice([one.value for one in DocumentKind], case_sensitive=False),
    help="Only the pattern, the record or the handout, which is quicker; again for more.",
)
@click.option(
    "--paper",
    metavar="NAME",
    type=click.Choice([one.value for one in Paper], case_sensitive=False),
    help="A4, Letter or A5, whatever the design says.",
)
@click.option("--large-print", is_flag=True, help="Letters of 18 points.")
@with_run_parts
@click.option("--force", is_flag=True, help="Replace an older report in that folder.")
@click.option("--quiet", is_flag=True, help="Print nothing but what is wrong.")
def sock(
    design: Path,
    out: Path,
    size: str | None,
    documents: tuple[str, ...],
    paper: str | None,
    large_print: bool,
    run_parts: bool,
    force: bool,
    quiet: bool,
) -> int:
    """Plan, knit and check the sock in DESIGN, a TOML file, and write its report.

    The folder holds the pattern as a page, as a PDF and as text, the finished measures, the fit,
    the yarn, the checks, charts and pictures, and every loop of the fabric.

    Of each size the first lines say whether it goes on, where it is tight or loose, and the least
    change that mends it; without the record that is not worked out.

    Exit code 0: all sizes are sound and go on; 1: the checks found a mistake (the report says
    where), or a size can't be put on (its chance is below one half); 2: nothing was written, and a
    message says why.
    """
    refuse_folder(out, replace=force)
    told = read_design_file(design, run_parts=run_parts, quiet=quiet, size=size)
    if told.front.picture is not None:
        told = attrs.evolve(told, photo=load_photo(design.parent / told.front.picture))
    told = attrs.evolve(told, front=_on_paper(told.front, paper, large_print))
    with shown_progress(quiet=quiet) as progress:
        asked = [DocumentKind(name) for name in documents] or [*DocumentKind]
        report = report_of(told, documents=asked, progress=progress)
        files = folder(report, words=told.words)
    write_folder(out, files, replace=force)
    if not quiet:
        click.echo(escaped(_verdict(report, out, files, told.words)))
    return 0 if report.ok and report.goes_on else 1


_NOT_ASKED = "whether it goes on is for the record to say, which was not asked for"


def _on_paper(front: FrontMatter, paper: str | None, large_print: bool) -> FrontMatter:
    """Return what the design says, on the paper and in the letters that were asked for."""
    return attrs.evolve(
        front,
        paper=front.paper if paper is None else Paper(paper),
        large_print=front.large_print or large_print,
    )


def _verdict(report: SockReport, out: Path, files: Collection[str], words: Words) -> str:
    lines = []
    for size in report.sizes:
        name = f"size {size.name}: " if size.name else ""
        lines.append(name + "\n  ".join(size.lines or [_NOT_ASKED]))
        lines += _numbers(size)
    if not any(name.endswith(".pdf") for name in files):
        lines.append(str(MissingExtraError("a PDF", "typst", "pdf")))
    lines += report.left_over(words)
    first = next(name for name in files if name.endswith(".html"))
    return "\n".join([*lines, f"{len(files)} files in {out}; begin with {out / first}"])


def _numbers(size: SizeReport) -> Iterator[str]:
    """Yield what the checks say, the girth and the yarn."""
    word = "sound" if size.verdict.ok else "HAS MISTAKES"
    needs = "; ".join(str(need) for need in size.needs if need.grams is not None)
    yield f"  {word}; {size.measures[0]}" + (f"; {needs} for a pair" if needs else "")
    yield from (f"  {mistake}" for mistake in size.verdict.mistakes)
