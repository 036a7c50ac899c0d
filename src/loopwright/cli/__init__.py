"""The command line: each command parses, calls one function of the library, and prints.

A command is a file of this package whose name is an underscore and its command's. It is listed in
`_COMMANDS` and loaded when it is called, so that none waits for what another needs. Its function
returns the exit code: 0 (or None) when all is well, 1 when it ran and found something to mend.
Whatever cannot be done at all is raised as a `LoopwrightError` and becomes one message and exit
code 2 here, in one place.
"""

from __future__ import annotations

import gc
import io
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from types import ModuleType

import click

from loopwright.characters import escaped
from loopwright.errors import LoopwrightError

__all__ = ["commands", "main"]

FOUND = 1  # a command ran and found something to mend; also: the reader of a pipe went away
REFUSED = 2  # the command could not be done; click's own code for a wrong call
STOPPED = 130  # 128 + SIGINT, as shells report it


# Each with what the list of commands says of it, for which none is loaded.
_COMMANDS = {
    "check": "Read a written pattern and say what is wrong in it.",
    "compare": "Lay several heels side by side, on one foot.",
    "explore": "Try a sock in the browser, one choice at a time.",
    "foot": "Measure a foot's scan as by tape.",
    "mend": "Find the least change that makes a sock fit.",
    "new": "Write a design to begin with, its keys explained.",
    "publish": "Make a page and a PDF of any written pattern.",
    "sock": "Make the documents of a design's sock.",
}


class _Commands(click.Group):
    """Commands by the names of their files, beside those that were added."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return sorted({*_COMMANDS, *super().list_commands(ctx)})

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name in _COMMANDS:
            found = getattr(_loaded(f"{__name__}._{cmd_name}"), cmd_name)
            assert isinstance(found, click.Command)
            return found
        return super().get_command(ctx, cmd_name)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        added = {name: self.commands[name].get_short_help_str() for name in self.commands}
        with formatter.section("Commands"):
            formatter.write_dl(sorted({**_COMMANDS, **added}.items()))


def _loaded(name: str) -> ModuleType:
    """Load a module; nothing that it makes is garbage, and none is looked for there, now or later.

    The search would go through all of it many times over, a sixth of a short command's time.
    """
    if name in sys.modules or not gc.isenabled():
        return import_module(name)
    gc.disable()
    try:
        return import_module(name)
    finally:
        gc.freeze()
        gc.enable()


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="loopwright", prog_name="loopwright")
def commands() -> None:
    """Hand-knitted socks and their heels: from a foot and a swatch to a sock that fits."""


def main(args: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code.

    Parameters
    ----------
    args : sequence of str, optional
        The words after the command's name; by default those of this process.

    Returns
    -------
    int
        0 well, 1 found something to mend, 2 refused, 130 stopped from the keyboard.

    Examples
    --------
    >>> main(["--version"])  # doctest: +ELLIPSIS
    loopwright, version ...
    0
    """
    _print_anything()
    try:
        code = commands.main(args, prog_name="loopwright", standalone_mode=False)
        sys.stdout.flush()
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except (click.Abort, KeyboardInterrupt):
        return _complain("stopped", STOPPED)
    except BrokenPipeError:
        return _close_stdout()
    except LoopwrightError as error:
        return _complain(str(error), REFUSED)
    except OSError as error:
        return _complain(f"{error.filename or 'file'}: {error.strerror or error}", REFUSED)
    return int(code or 0)


def _complain(message: str, code: int) -> int:
    click.echo(f"loopwright: {escaped(message)}", err=True)
    return code


def _print_anything() -> None:
    """Let a terminal that lacks a sign show its escape instead of ending the command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _close_stdout() -> int:
    """Leave quietly when the reader of a pipe went away; Python would flush once more at exit."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return FOUND
