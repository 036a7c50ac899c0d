"""``loopwright foot``: the measures of a scanned foot."""

from __future__ import annotations

import json
from pathlib import Path

import click

from loopwright.characters import escaped
from loopwright.design import foot_table
from loopwright.errors import FileError
from loopwright.file_writing import refuse_file, write_own
from loopwright.picture import draw_scan
from loopwright.scanning import FootScan, FootSide, read_scan
from loopwright.sock import Foot, Sex

__all__ = ["foot"]

_UNITS = ("mm", "cm", "m", "in")


@click.command()
@click.argument("scan", type=click.Path(path_type=Path))
@click.option("--unit", type=click.Choice(_UNITS), help="Of the numbers in SCAN; else guessed.")
@click.option("--side", type=click.Choice([side.value for side in FootSide][:2]),
              help="Which foot it is; else guessed.")  # fmt: skip
@click.option("--sex", type=click.Choice([Sex.FEMALE.value, Sex.MALE.value]),
              help="Whose feet the missing measures are taken from; else both.")  # fmt: skip
@click.option("--leg-height", metavar="LENGTH", help='Where the sock is to end: "18 cm".')
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE",
              help="Also write the table [foot] of a design file there.")  # fmt: skip
@click.option("--picture", type=click.Path(path_type=Path), metavar="FILE",
              help="Also draw the scan with its tapes, as .svg or .png.")  # fmt: skip
@click.option("--force", is_flag=True, help="Replace older ones that nobody has changed.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object, for machines.")
def foot(
    scan: Path,
    unit: str | None,
    side: str | None,
    sex: str | None,
    leg_height: str | None,
    out: Path | None,
    picture: Path | None,
    force: bool,
    as_json: bool,
) -> int:
    """Measure the foot in SCAN, a PLY, OBJ or STL file: a bare foot with its ankle.

    It may lie anyhow, of either side, with its sole open. Each measure comes with its uncertainty,
    and what looks wrong is said. Look at the picture: it shows where the tapes lie.

    Exit code 0: measured; 2: nothing was measured, and a message says why.
    """
    for file in (out, picture):
        if file is not None:
            refuse_file(file, replace=force)
    if picture is not None and picture.suffix.lower() not in (".svg", ".png"):
        raise FileError(str(picture), "no kind of picture that is drawn", "end it in .svg or .png")
    found = read_scan(scan, unit=unit, side=side, leg_height=leg_height)
    measured = Foot.from_scan(found, sex=sex)
    click.echo(_json(found, measured) if as_json else _text(found, measured))
    if out is not None:
        write_own(out, foot_table(measured), replace=force)
    if picture is not None:
        drawn = draw_scan(found)
        is_png = picture.suffix.lower() == ".png"
        write_own(picture, drawn.png() if is_png else drawn.svg(), replace=force)
    for file in (out, picture):
        if file is not None and not as_json:
            click.echo(f"{file} is written")
    return 0


def _text(scan: FootScan, measured: Foot) -> str:
    lines = [escaped(str(scan)), "", "Estimated from these:"]
    lines += [f"{name.replace('_', ' '):<13} {getattr(measured, name)}" for name in
              measured.estimated]  # fmt: skip
    lines += [f"Note: {note}" for note in measured.notes if note not in scan.remarks]
    return "\n".join(lines)


def _json(scan: FootScan, measured: Foot) -> str:
    told = {
        "file": scan.name,
        "unit": scan.unit,
        "side": scan.side.value,
        "triangles": len(scan.surface.triangles),
        "measured": {
            name: {"mm": round(length.mm, 1), "sd_mm": round(length.sd_mm, 2)}
            for name, length in scan.measures.items()
        },
        "estimated": {
            name: {"mm": round(length.mm, 1), "sd_mm": round(length.sd_mm, 2)}
            for name, length in measured.measures()
            if name not in scan.measures
        },
        "landmarks_mm": {
            name: [round(float(each), 1) for each in at] for name, at in scan.landmarks_mm.items()
        },
        "remarks": list(measured.notes),
    }
    return json.dumps(told, ensure_ascii=False, indent=2)
