"""A design file for a command: with the parts of installed packages, and its own if allowed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from loopwright.cli.files import read_text
from loopwright.design import DesignFile, read_design
from loopwright.errors import DesignError
from loopwright.sock import load_installed

__all__ = ["read_design_file", "with_run_parts"]

C = TypeVar("C", bound=Callable[..., object])


def with_run_parts(command: C) -> C:
    """Give a command the flag without which a design's own Python files are never run."""
    told = (
        "Run the Python files that the design names under 'parts'. They can do whatever you can: "
        "only for designs that you trust."
    )
    return click.option("--run-parts", is_flag=True, help=told)(command)


def read_design_file(path: Path, *, run_parts: bool) -> DesignFile:
    """Return what a design file asks for; an error names the file."""
    text = read_text(path)
    load_installed()
    try:
        return read_design(text, run_parts_in=path.parent if run_parts else None)
    except DesignError as error:
        error.source = str(path)
        raise
