"""``loopwright mend``: what would make a sock go on and sit well, and that as a design file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import attrs
import click

from loopwright.characters import escaped
from loopwright.cli._bar import shown_progress
from loopwright.cli._design import chosen, read_design_file, with_run_parts
from loopwright.cli.files import read_text
from loopwright.design import with_sock
from loopwright.errors import SizingError
from loopwright.file_writing import refuse_file, write_own
from loopwright.fitting import Remedies, remedies
from loopwright.progress import share, watched
from loopwright.sock import Sock

__all__ = ["mend"]


@click.command()
@click.argument("design", type=click.Path(path_type=Path))
@click.option("--size", metavar="NAME", help="One size of the design; all by default.")
@with_run_parts
@click.option("--take", type=click.IntRange(min=1), metavar="N",
              help="Take remedy N, as they are numbered, and write it to --out.")  # fmt: skip
@click.option("--out", type=click.Path(path_type=Path), metavar="NEW.toml",
              help="Where the design with that remedy goes.")  # fmt: skip
@click.option("--force", is_flag=True, help="Replace an older one that nobody has changed.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object, for machines.")
def mend(
    design: Path,
    size: str | None,
    run_parts: bool,
    take: int | None,
    out: Path | None,
    force: bool,
    as_json: bool,
) -> int:
    """Say what would make the sock in DESIGN, a TOML file, go on and sit well on its feet.

    Changes are tried one at a time, then two and three together: more stitches, plain rounds, a
    small gusset, a longer flap, the heel on more stitches, another leg or heel. Each that is shown
    was knitted, checked, measured and judged like the sock itself, the least change first.

    Exit code 0: nothing is to be mended, or the remedy was written; 1: something is; 2: it
    could not be done, and a message says why.
    """
    if (take is None) != (out is None):
        raise SizingError("mend", "--take without --out, or --out alone", "give both, or neither")
    if out is not None:
        refuse_file(out, replace=force)
    told = read_design_file(design, run_parts=run_parts, quiet=as_json)
    socks = chosen(told, size)
    if take is not None and len(socks) > 1:
        names = ", ".join(socks)
        raise SizingError("--take", "several sizes", f"choose one with --size: {names}")
    found = _searched(socks)
    if as_json:
        click.echo(json.dumps(_to_dict(told.design.title, found), ensure_ascii=False, indent=2))
    else:
        click.echo(escaped("\n\n".join(_text(name, one) for name, one in found.items())))
    if take is None or out is None:
        return int(any(one.is_needed for one in found.values()))
    ((name, offered),) = found.items()
    if take > len(offered):
        expected = f"expected 1 to {len(offered)}" if len(offered) else "there is nothing to take"
        raise SizingError("--take", str(take), expected)
    remedy = offered[take - 1]
    home = design.parent if run_parts else None
    bare = attrs.evolve(remedy.sock, hands=None)  # the pieces stand in the file
    new = with_sock(read_text(design), bare, size=name, run_parts_in=home, folder=design.parent)
    write_own(out, new, replace=force)
    if not as_json:
        click.echo(escaped(f"\nwritten to {out}: {remedy.words}"))
        if len(told.design.sizes) > 1 and remedy.sock.heel != socks[name].heel:
            click.echo("heel and leg are those of all sizes: look at the others, too")
    return 0


def _searched(socks: dict[str, Sock]) -> dict[str, Remedies]:
    """Return the remedies of each size, with progress on a terminal."""
    found = {}
    with shown_progress() as progress, watched(progress):
        for place, (name, sock) in enumerate(socks.items()):
            with share(place, len(socks), f"size {name}" if name else "the sock"):
                found[name] = remedies(sock)
    return found


def _to_dict(title: str, found: dict[str, Remedies]) -> dict[str, Any]:
    sizes = [{"size": name, **one.to_dict()} for name, one in found.items()]
    return {"title": title, "sizes": sizes}


def _text(name: str, found: Remedies) -> str:
    head = [f"size {name}: {found.before.verdict}" if name else str(found.before.verdict)]
    if not found.is_needed:
        return "\n".join([*head, "Nothing to mend."])
    lines = [*head, found.advice]
    for number, one in enumerate(found, start=1):
        words = one.words[:1].upper() + one.words[1:]
        start = "Then it" if one.is_enough else "Not enough: it"
        costs = f"heel {one.change_mm:+z.0f} mm, yarn of one sock {one.yarn_m:+z.0f} m"
        lines.append(f"  {number}  {words}.")
        lines.append(f"     {start} {one.fit.verdict.short}; {costs}.")
    lines += [f"  tried in vain: {out}" for out in found.left_out if not found.enough]
    return "\n".join([*lines, *(f"Caution: {text}" for text in found.before.cautions)])
