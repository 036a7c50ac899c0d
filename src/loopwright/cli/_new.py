"""``loopwright new``: a design file to begin from, with its comments."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from loopwright.cli.files import write_files
from loopwright.design import read_design
from loopwright.errors import FileError, LoopwrightError
from loopwright.sock.foot import Foot
from loopwright.sock.heels import heel_names

__all__ = ["new"]

_BARE = re.compile(r"[\d.,]+(?: +\d+/\d+)?|\d+/\d+")  # a number without a unit
_TEXT = """\
# A sock for one foot. Change what you like, then run:
#   loopwright sock {file} --out {stem}-report
title = {title}
# direction = "toe up"       # else from the cuff down

# Counted in a washed swatch.
[gauge]
stitches = {stitches}
rounds = {rounds}
over = "{over}"

# Measured standing. What is missing is estimated, and said to be.
[foot]
length = {length:<20}# heel to longest toe
ball_girth = {ball:<16}# round the widest part
# heel_girth = {heel_girth:<14}# over the tip of the heel and the front of the ankle
# instep_girth = {instep_girth:<12}# over the small bone on the inner side of the foot
# leg_girth = {leg_girth:<15}# where the cuff ends

[fit]
ease = "-10 %"               # of the foot's girth

[heel]
kind = {heel:<22}# {heels}

[toe]
kind = "wedge"

[cuff]
kind = "2x2 rib"
height = "{cuff}"

# For the documents: who made it, with which needles.
[document]
author = ""
inches_first = {inches_first}
# needle = "2.25 mm"
"""


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--title", help="What the sock is called.")
@click.option("--inches", is_flag=True, help="Measures in inches instead of cm.")
@click.option("--length", metavar="LENGTH", help='The foot, heel to longest toe: "24.5 cm".')
@click.option("--ball", metavar="LENGTH", help="Round the widest part of the foot.")
@click.option("--stitches", type=float, help="Of the swatch, over 10 cm, or 4 in.")
@click.option("--rounds", type=float, help="Of the swatch, over 10 cm, or 4 in.")
@click.option("--heel", type=click.Choice(heel_names()), help="How the heel is made.")
def new(
    file: Path,
    title: str | None,
    inches: bool,
    length: str | None,
    ball: str | None,
    stitches: float | None,
    rounds: float | None,
    heel: str | None,
) -> int:
    """Write a commented design file to begin from; in a terminal, what is not given is asked.

    Exit code 0: written; 2: nothing was written, and a message says why.
    """
    if file.exists():
        raise FileError(str(file), "is there already", "name another file; nothing was changed")
    title = title or _asked("What is the sock called", "My socks", str)
    inches = inches or _asked("Measures in cm or in", "cm", click.Choice(["cm", "in"])) == "in"
    unit, over = ("in", "4 in") if inches else ("cm", "10 cm")
    long, wide = ("9.6 in", "8.9 in") if inches else ("24.5 cm", "22.5 cm")
    told = {
        "length": length or _asked("Foot, heel to longest toe", long, _measure("length", unit)),
        "ball": ball or _asked("Round the widest part", wide, _measure("ball_girth", unit)),
        "stitches": stitches or _asked(f"Stitches to {over}", "32", _count),
        "rounds": rounds or _asked(f"Rounds to {over}", "44", _count),
        "heel": heel or _asked("Heel", "flap", click.Choice(heel_names())),
    }
    text = _TEXT.format(
        file=file.name,
        stem=file.stem,
        title=_quoted(title),
        stitches=f"{told['stitches']:g}",
        rounds=f"{told['rounds']:g}",
        over=over,
        inches_first="true" if inches else "false",
        length=_quoted(_with_unit(str(told["length"]), unit)),
        ball=_quoted(_with_unit(str(told["ball"]), unit)),
        heel_girth=_quoted("12.2 in" if inches else "31 cm"),
        instep_girth=_quoted("9.4 in" if inches else "24 cm"),
        leg_girth=_quoted("9.4 in" if inches else "24 cm"),
        cuff="2 in" if inches else "5 cm",
        heel=_quoted(str(told["heel"])),
        heels=", ".join(heel_names()),
    )
    read_design(text)  # what can't be used is refused before it is written
    write_files(file.parent, {file.name: text})
    click.echo(f"{file} is written; next: loopwright sock {file} --out {file.stem}-report")
    return 0


def _asked(question: str, usual: str, kind: Any) -> Any:
    """Ask in a terminal, again until the answer can be used; elsewhere take what is usual."""
    if not sys.stdin.isatty():
        return kind(usual) if callable(kind) and not isinstance(kind, click.Choice) else usual
    return click.prompt(question, default=usual, type=kind)


def _measure(name: str, unit: str) -> Callable[[str], str]:
    """Return what reads a measure of a foot: as it was said, with its unit."""

    def measure(text: str) -> str:
        told = _with_unit(text, unit)
        try:
            Foot.of(**{"length": "24 cm", name: told})
        except LoopwrightError as error:
            raise click.BadParameter(str(error)) from error
        return told

    return measure


def _count(text: str) -> float:
    """Read a count of a swatch."""
    try:
        count = float(text.strip().replace(",", "."))
        if not 1 <= count <= 200:
            raise ValueError
    except ValueError as error:
        raise click.BadParameter(f"{text!r} is no count; expected a number such as 32") from error
    return count


def _with_unit(text: str, unit: str) -> str:
    """Give a bare number its unit."""
    told = text.strip()
    return f"{told.replace(',', '.')} {unit}" if _BARE.fullmatch(told) else told


def _quoted(text: str) -> str:
    """A text as TOML writes it."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
