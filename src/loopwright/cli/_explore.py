"""``loopwright explore``: a sock tried by hand in a browser of this machine."""

from __future__ import annotations

import threading
from pathlib import Path

import click

from loopwright.cli._design import chosen, read_design_file, with_run_parts
from loopwright.cli.files import read_text
from loopwright.design import with_sock
from loopwright.file_writing import refuse_file
from loopwright.sock import Sock
from loopwright.trying import Bench
from loopwright.trying.server import serve

__all__ = ["explore"]


@click.command()
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--size", metavar="NAME", help="One size of the design; all by default.")
@click.option("--out", type=click.Path(path_type=Path), metavar="NEW.toml",
              help="Where a sock that you take goes; by default beside DESIGN. "
                   "The page may give it another name, in the same folder.")  # fmt: skip
@click.option("--port", type=click.IntRange(0, 65535), default=0, metavar="N",
              help="Of this machine; by default one that is free.")  # fmt: skip
@with_run_parts
@click.option(
    "--force", is_flag=True, help="Let the page replace a file that it wrote and nobody changed."
)
def explore(
    design: Path, size: str | None, out: Path | None, port: int, run_parts: bool, force: bool
) -> int:
    """Try the sock of DESIGN, a TOML file, by hand: move something and see what it does.

    Prints an address to open in a browser of this machine; nobody else can reach it, and it asks
    nobody else for anything. "Take it" on the page writes the sock as a design file. Ctrl-C ends
    it.

    Exit code 0: it was ended; 2: it could not be begun, and a message says why.
    """
    place = out or design.with_name(f"{design.stem}-taken.toml")
    if out is not None:
        refuse_file(out, replace=force)
    told = read_design_file(design, run_parts=run_parts)
    home = design.parent if run_parts else None
    text = read_text(design)

    def as_text(sock: Sock, name: str) -> str:
        return with_sock(text, sock, size=name, run_parts_in=home, folder=design.parent)

    bench = Bench(
        chosen(told, size), told.design.title, as_text, folder=place.parent, offered=place.name,
        replace=force,
    )  # fmt: skip
    threading.Thread(target=bench.warm, name="loopwright-warm", daemon=True).start()
    try:
        serve(bench, port=port, on_ready=_say)
    except KeyboardInterrupt:
        bench.stop()
    click.echo("Ended.")
    return 0


def _say(address: str) -> None:
    click.echo(f"Open {address}\nin a browser of this machine. Ctrl-C ends it.")
