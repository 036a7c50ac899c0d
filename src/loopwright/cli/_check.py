"""``loopwright check``: review a written pattern and print what a technical editor would query."""

from __future__ import annotations

from pathlib import Path

import click

from loopwright._late import LatePackage
from loopwright.characters import escaped
from loopwright.cli.files import read_text
from loopwright.pattern import explain, review

__all__ = ["check"]

picture = LatePackage("loopwright.picture")  # it takes long to load, and few give charts


def _charted(path: Path) -> tuple[str, dict[int, list[str]]]:
    """Return the title of a chart, and the stitches of its rows by number."""
    chart = picture.read_chart(read_text(path))
    rows = (row for block in chart.blocks for row in block.rows if row.number)
    worked = {row.number: [square.stitch for square in row.worked] for row in rows}
    return chart.title or path.stem, worked


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object, for machines.")
@click.option("--explain", "told", is_flag=True, help="Say how each line was understood instead.")
@click.option(
    "--chart",
    "charts",
    multiple=True,
    type=click.Path(path_type=Path),
    help="A chart, as a table or as our SVG, to compare with the rows that are written out.",
)
@click.option("--quiet", is_flag=True, help="Leave out notes, which are for a person to judge.")
def check(file: Path, as_json: bool, told: bool, charts: tuple[Path, ...], quiet: bool) -> int:
    """Review the pattern in FILE: counts for every size, repeats, wording.

    Prints like a compiler (file:line:column, the line, a caret, what was found, what was expected).
    With --explain each line is followed by what it was read as and by the stitches after it.
    Exit code 0: nothing to mend; 1: something to mend; 2: the file can't be read, or holds no
    instruction.
    """
    text = read_text(file)
    found = review(text, charts=dict(map(_charted, charts)))
    if told:
        said = explain(text)
        click.echo(said.to_json(str(file)) if as_json else said.shown(str(file)))
        return 0 if found.ok else 1
    if quiet:
        found = found.without_notes()
    click.echo(found.to_json(str(file)) if as_json else escaped(found.shown(str(file))))
    return 0 if found.ok else 1
