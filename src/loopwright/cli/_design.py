"""A design file for a command: with the parts of installed packages, and its own if allowed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from loopwright.characters import escaped
from loopwright.cli.files import read_text
from loopwright.design import DesignFile, read_design
from loopwright.errors import DesignError, SizingError
from loopwright.fitting import with_hands
from loopwright.sock import Sock, load_installed

__all__ = ["chosen", "read_design_file", "with_run_parts"]

C = TypeVar("C", bound=Callable[..., object])


def with_run_parts(command: C) -> C:
    """Give a command the flag without which a design's own Python files are never run."""
    told = (
        "Run the Python files that the design names under 'parts'. They can do whatever you can: "
        "only for designs that you trust."
    )
    return click.option("--run-parts", is_flag=True, help=told)(command)


def read_design_file(
    path: Path, *, run_parts: bool, quiet: bool = False, size: str | None = None
) -> DesignFile:
    """Return what a design file asks for, in one size alone if asked; an error names the file.

    What is unusual about its numbers is said at once, before anything slow begins.
    """
    text = read_text(path)
    load_installed()
    try:
        home = path.parent if run_parts else None
        told = read_design(text, run_parts_in=home, folder=path.parent)
    except DesignError as error:
        error.source = str(path)
        raise
    if size is not None:
        told = told.one_size(size)
    for remark in () if quiet else told.remarks():
        click.echo(f"loopwright: remark: {escaped(remark)}", err=True)
    return with_hands(told)


def chosen(told: DesignFile, size: str | None) -> dict[str, Sock]:
    """Return the socks of all sizes, or of the one that was asked for."""
    socks = dict(told.design.socks)
    if size is None:
        return socks
    if size not in socks:
        names = ", ".join(name for name in socks if name) or "one size without a name"
        raise SizingError("--size", repr(size), f"the design has {names}")
    return {size: socks[size]}
