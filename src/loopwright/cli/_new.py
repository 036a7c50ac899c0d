"""``loopwright new``: a design file to begin from, with its comments."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from loopwright.cli.files import write_files
from loopwright.design import read_design
from loopwright.errors import FileError
from loopwright.sock.heels import heel_names

__all__ = ["new"]

_TEXT = """\
# A sock for one foot. Change what you like, then run:
#   loopwright sock {file} --out {stem}-report
title = {title}

# Counted in a washed swatch.
[gauge]
stitches = {stitches}
rounds = {rounds}
over = "{over}"

# Measured standing. What is missing is estimated, and said to be.
[foot]
length = "{length}"          # heel to longest toe
ball_girth = "{ball}"        # round the widest part
# heel_girth = "{heel_girth}"      # over the tip of the heel and the front of the ankle
# leg_girth = "{leg_girth}"       # where the cuff ends

[fit]
ease = "-10 %"               # of the foot's girth

[heel]
kind = "{heel}"              # {heels}

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
    unit, over = ("in", "4 in") if inches else ("cm", "10 cm")
    long, wide = ("9.6 in", "8.9 in") if inches else ("24.5 cm", "22.5 cm")
    told = {
        "title": title or _asked("What is the sock called", "My socks"),
        "length": length or _asked(f"Foot, heel to longest toe ({unit})", long),
        "ball": ball or _asked(f"Round the widest part ({unit})", wide),
        "stitches": stitches or _number_asked(f"Stitches to {over}", 32),
        "rounds": rounds or _number_asked(f"Rounds to {over}", 44),
        "heel": heel or _asked(f"Heel ({', '.join(heel_names())})", "flap"),
    }
    text = _TEXT.format(
        file=file.name,
        stem=file.stem,
        title=_quoted(str(told["title"])),
        stitches=f"{told['stitches']:g}",
        rounds=f"{told['rounds']:g}",
        over=over,
        inches_first="true" if inches else "false",
        length=_with_unit(str(told["length"]), unit),
        ball=_with_unit(str(told["ball"]), unit),
        heel_girth="12.2 in" if inches else "31 cm",
        leg_girth="9.4 in" if inches else "24 cm",
        cuff="2 in" if inches else "5 cm",
        heel=told["heel"],
        heels=", ".join(heel_names()),
    )
    read_design(text)  # what can't be used is refused before it is written
    write_files(file.parent, {file.name: text})
    click.echo(f"{file} is written; next: loopwright sock {file} --out {file.stem}-report")
    return 0


def _asked(question: str, usual: str) -> str:
    """Ask in a terminal; elsewhere take what is usual."""
    if not sys.stdin.isatty():
        return usual
    return str(click.prompt(question, default=usual))


def _number_asked(question: str, usual: float) -> float:
    """Ask again until it is a number."""
    if not sys.stdin.isatty():
        return usual
    return float(click.prompt(question, default=usual, type=float))


def _with_unit(text: str, unit: str) -> str:
    """Give a bare number its unit."""
    return (
        f"{text.strip()} {unit}" if text.strip().replace(".", "", 1).isdecimal() else text.strip()
    )


def _quoted(text: str) -> str:
    """A text as TOML writes it."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
