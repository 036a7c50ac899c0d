"""What a stitch pattern does to the width and height of a sock at rest.

Measured, where its swatch was counted. Else estimated for patterns of knit and purl whose cell was
relaxed by a program (``cloth.toml``): ribs, garter and seed stitch. Slipped stitches, yarn overs,
decreases, twisted stitches and crossings are not to be had that way: they ask for a swatch.
"""

from __future__ import annotations

import math
import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

import attrs

from loopwright.border import guard
from loopwright.cloth import Cloth
from loopwright.gauge import Gauge
from loopwright.pattern.items import Run
from loopwright.sock._panels import StitchPattern

__all__ = ["AtRest", "at_rest", "beside", "kind_of"]


@attrs.frozen
class AtRest:
    """Width and height of a stitch pattern at rest, over stocking stitch.

    Parameters
    ----------
    kind : str
        "2x2 rib", "garter", or nothing where no estimate is to be had.
    width, height : float
    width_sd, height_sd : float
        Relative.
    how : str
        Where they come from, in words.
    is_rib : bool
        Whether it is pulled out to the width of stocking stitch by the same pull.

    Examples
    --------
    >>> from loopwright.sock import StitchPattern
    >>> at_rest(StitchPattern.of(["k1", "p1"]), Gauge.of(32, 44)).cloth
    <Cloth.GARTER: 'garter'>
    """

    kind: str
    width: float
    width_sd: float
    height: float
    height_sd: float
    how: str
    is_rib: bool = False

    @property
    def cloth(self) -> Cloth | None:
        """Which cloth it is, where a relaxed shape knows its size (`loopwright.geometry.shape`)."""
        return {"garter": Cloth.GARTER, "seed": Cloth.SEED}.get(self.kind)

    @property
    def is_known(self) -> bool:
        """Whether it was measured or estimated, and not only taken for stocking stitch."""
        return bool(self.how)


@cache
def _cloth() -> dict[str, Any]:
    return tomllib.loads(files("loopwright.sock").joinpath("cloth.toml").read_text("utf-8"))


def kind_of(pattern: StitchPattern) -> str:
    """Return what a pattern of knit and purl is called, "" where it is none of those known.

    Examples
    --------
    >>> from loopwright.sock import StitchPattern
    >>> kind_of(StitchPattern.of(["*k2, p2; rep from *"] * 2))
    '2x2 rib'
    >>> kind_of(StitchPattern.of(["k1", "p1"]))
    'garter'
    >>> kind_of(StitchPattern.of(["k2, yo, k2tog"]))
    ''
    """
    rows = [_faces(pattern, number) for number in range(len(pattern.rounds))]
    if not all(set(row) <= {"k", "p"} for row in rows):
        return ""
    if all(len(set(row)) == 1 for row in rows):
        letters = "".join(row[0] for row in rows)
        if set(letters) == {"k"}:
            return "stocking stitch"
        if set(letters) == {"p"}:
            return "reverse stocking stitch"
        return "garter" if _takes_turns(letters) else ""
    if all(row == rows[0] for row in rows):
        return _rib(rows[0])
    checked = all(_takes_turns(row) for row in rows) and len(rows) % 2 == 0
    return "seed" if checked and _takes_turns("".join(row[0] for row in rows)) else ""


def _faces(pattern: StitchPattern, number: int) -> str:
    """Return one repeat of a round, a letter a stitch; "?" for anything but knit and purl."""
    return "".join(
        (run.stitch if run.stitch in ("k", "p") else "?") * int(str(run.amount))
        for run in pattern.rounds[number].repeat
        if isinstance(run, Run)
    )


def _takes_turns(letters: str) -> bool:
    return len(letters) % 2 == 0 and all(
        one != other for one, other in zip(letters, letters[1:] + letters[:1], strict=True)
    )


def _rib(row: str) -> str:
    """Return the name of a rib: knits and purls of its shortest repeat, if there are two runs."""
    size = next(n for n in range(1, len(row) + 1) if row == row[:n] * (len(row) // n))
    cell = row[:size]
    turns = sum(a != b for a, b in zip(cell, cell[1:] + cell[:1], strict=True))
    return f"{cell.count('k')}x{cell.count('p')} rib" if turns == 2 else ""


def at_rest(pattern: StitchPattern, plain: Gauge, measured: Gauge | None = None) -> AtRest:
    """Return what a stitch pattern does at rest, against stocking stitch at a gauge.

    Examples
    --------
    >>> from loopwright.sock import StitchPattern
    >>> rib = at_rest(StitchPattern.of(["*k2, p2; rep from *"]), Gauge.of(32, 44))
    >>> f"{rib.width:.2f} ± {rib.width_sd:.2f}, {rib.height:.2f}"
    '0.59 ± 0.12, 1.08'
    >>> lace = StitchPattern.of(["yo, k2tog, k2", "k4"])
    >>> at_rest(lace, Gauge.of(32, 44)).is_known
    False
    >>> round(at_rest(lace, Gauge.of(32, 44), Gauge.of(28, 42)).width, 2)
    1.14
    """
    kind = kind_of(pattern)
    is_rib = kind.endswith("rib")
    if measured is not None:
        width = plain.stitches_per_cm / measured.stitches_per_cm
        height = plain.courses_per_cm / measured.courses_per_cm
        return AtRest(
            kind, width, measured.stitches_sd / measured.stitches_per_cm,
            height, measured.courses_sd / measured.courses_per_cm, "by its own swatch", is_rib,
        )  # fmt: skip
    if not kind:
        return AtRest("", 1.0, 0.0, 1.0, 0.0, "")
    cloth = _cloth()
    rest = cloth["rest"].get(kind.removesuffix(" rib"), cloth["rest"]["other"])
    if is_rib:
        knit, purl = sorted(map(int, kind.removesuffix(" rib").split("x")), reverse=True)
        name = f"{knit}x{purl}"
        rest = cloth["rest"].get(name, cloth["rest"]["other"])
        across = cloth["rib"].get(name, cloth["rib"]["other"])
        sd = cloth["rib"]["sd"].get(name, cloth["rib"]["sd"]["other"]) / 2
    else:
        across, sd = rest["width"], cloth["rest"]["sd"] / 2
    width, height = (sum(pair) / 2 for pair in (across, rest["height"]))
    spread = (rest["height"][1] - rest["height"][0]) / 2 / height
    if kind.endswith("stocking stitch"):
        return AtRest(kind, width, 0.0, height, 0.0, "as stocking stitch")
    how = f"a model's estimate, good to {200 * sd:.0f} %; measure it for a better one"
    return AtRest(kind, width, sd, height, max(spread, cloth["rest"]["sd"] / 2), how, is_rib)


def beside(plain: Gauge, rest: AtRest, share: float) -> Gauge:
    """Return the gauge of rounds that are partly of a stitch pattern.

    Front and back of a tube have the same rounds: at rest these are as high as the mean of both,
    by their share of the stitches.

    Parameters
    ----------
    plain : Gauge
        Of the rest of the round.
    rest : AtRest
        Of the pattern.
    share : float
        Of the round that it takes.

    Examples
    --------
    >>> from loopwright.sock import StitchPattern
    >>> plain, lace = Gauge.of(32, 44), StitchPattern.of(["yo, k2tog, k2", "k4"])
    >>> by_swatch = at_rest(lace, plain, Gauge.of(28, 40))
    >>> round(10 * beside(plain, by_swatch, 0.5).courses_per_cm, 1)
    41.9
    """
    high = 1 + share * (rest.height - 1)
    courses = plain.courses_per_cm / high
    sd = math.hypot(plain.courses_sd / high, courses * share * rest.height * rest.height_sd / high)
    return attrs.evolve(plain, courses_per_cm=courses, courses_sd=sd)


guard(globals())
