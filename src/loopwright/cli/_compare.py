"""``loopwright compare``: heels side by side for the feet of a design."""

from __future__ import annotations

from pathlib import Path

import click

from loopwright.characters import escaped
from loopwright.cli._bar import shown_progress
from loopwright.cli._design import chosen, read_design_file, with_run_parts
from loopwright.cli.files import refuse_folder, write_folder
from loopwright.errors import SizingError
from loopwright.fitting import Comparison
from loopwright.fitting import compare as compare_heels
from loopwright.progress import share, watched
from loopwright.report.comparison import comparison_files, comparison_json
from loopwright.sock.heels import heel_names

__all__ = ["compare"]


@click.command()
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--heels", metavar="A,B,C", help="Which heels; all that are known by default.")
@click.option("--size", metavar="NAME", help="One size of the design; all by default.")
@click.option("--out", type=click.Path(path_type=Path), metavar="FOLDER",
              help="Also write the table and a picture of each heel there.")  # fmt: skip
@click.option("--details", is_flag=True,
              help="Also what a researcher asks: cells, gaps, decreases, chances.")  # fmt: skip
@with_run_parts
@click.option("--force", is_flag=True, help="Replace an older comparison in that folder.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object, for machines.")
def compare(
    design: Path,
    heels: str | None,
    size: str | None,
    out: Path | None,
    details: bool,
    run_parts: bool,
    force: bool,
    as_json: bool,
) -> int:
    """Compare heels in the sock of DESIGN, a TOML file, on the foot of each of its sizes.

    Every sock is knitted, checked and relaxed: does it go on, how does it sit, how many stitches
    are picked up or grafted, rounds, yarn.

    Exit code 0: compared; 1: some heel can't be made in this sock, and it says why; 2: nothing
    was compared, and a message says why.
    """
    if out is not None:
        refuse_folder(out, replace=force)
    told = read_design_file(design, run_parts=run_parts)
    asked = _asked(heels)
    socks = chosen(told, size)
    sizes = {}
    with shown_progress() as progress, watched(progress):
        for place, (name, sock) in enumerate(socks.items()):
            with share(place, len(socks), f"size {name}" if name else "the sock"):
                sizes[name] = compare_heels(sock, asked)
    title = told.design.title
    if out is not None:
        write_folder(out, comparison_files(title, sizes), replace=force)
    if as_json:
        click.echo(comparison_json(title, sizes), nl=False)
    else:
        click.echo(escaped(_text(sizes, details)))
    return int(any(found.left_out for found in sizes.values()))


def _asked(heels: str | None) -> list[str] | None:
    """Return the names that were asked for; an unknown one is refused before any is knitted."""
    if heels is None:
        return None
    names = [" ".join(name.lower().split()) for name in heels.split(",") if name.strip()]
    for name in names:
        if name not in heel_names():
            raise SizingError("--heels", repr(name), f"expected some of {', '.join(heel_names())}")
    if not names:
        raise SizingError("--heels", repr(heels), f"expected some of {', '.join(heel_names())}")
    return names


def _text(sizes: dict[str, Comparison], details: bool) -> str:
    return "\n\n".join(
        (f"Size {name}\n\n" if name else "") + found.text(details=details)
        for name, found in sizes.items()
    )
