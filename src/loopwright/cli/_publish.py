"""``loopwright publish``: any written pattern as a page and a PDF."""

from __future__ import annotations

from pathlib import Path

import click

from loopwright.cli.files import read_text, refuse_folder, write_folder
from loopwright.pattern import Words
from loopwright.report import head_of
from loopwright.report import publish as publish_pattern
from loopwright.report.photo import load_photo

__all__ = ["publish"]


@click.command()
@click.argument("pattern", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), required=True, metavar="FOLDER",
              help="Where the documents go; written whole or not at all.")  # fmt: skip
@click.option("--size", metavar="NAME", help="One size alone, as if there were no other.")
@click.option("--uk", is_flag=True, help="British words and paper.")
@click.option(
    "--certificate",
    is_flag=True,
    help="With a certificate that others can check, in the page and as a file.",
)
@click.option("--force", is_flag=True, help="Replace what an earlier run left in that folder.")
def publish(
    pattern: Path, out: Path, size: str | None, uk: bool, certificate: bool, force: bool
) -> int:
    """Make a page and a PDF of the pattern in PATTERN, a text: sock, mitten, hat or cowl.

    Its head may hold the keys of [document] between two lines +++ (author, needles,
    paper, a picture beside it).

    Exit code 0: written; 2: nothing was written, and a message says why.
    """
    refuse_folder(out, replace=force)
    words = Words.UK if uk else Words.US
    text = read_text(pattern)
    picture = head_of(text)[0].picture
    photo = None if picture is None else load_photo(pattern.parent / picture)
    files = dict(publish_pattern(text, words=words, size=size, photo=photo, certified=certificate))
    index = "\n".join(["Documents of a pattern", "", *sorted(files), ""])
    write_folder(out, {"README.txt": index, **files}, replace=force)
    last = str(files["review.txt"]).splitlines()[-1]
    if last.startswith("There are no"):
        click.echo(last)
    click.echo(f"{len(files)} files in {out}; begin with {out / 'pattern.html'}")
    return 0
