"""A certificate: a fabric as edges in their order round each loop, and what was found of it.

Whoever reads it needs nothing of this package: the edges and rings say it all, and every number
stated can be counted again. `tests/certified.py` does so, in under 100 lines.
"""

from __future__ import annotations

import json
from importlib.metadata import version
from typing import Any, Final

import attrs
import numpy as np

from loopwright.errors import UnsoundFabricError
from loopwright.fabric._maps import Darts, key_of
from loopwright.fabric.checks import Limits, check
from loopwright.fabric.columns import DRAWN, FASTENED
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind

__all__ = ["Certificate", "certify"]

_FORMAT: Final = "loopwright certificate"
_VERSION: Final = 1
_LIMITS: Final = Limits()


@attrs.frozen
class Certificate:
    """What was checked of a fabric, with all that is needed to check it again.

    Parameters
    ----------
    key : str
        The canonical key of the fabric.
    document : dict
        What the JSON holds; see the reference page *Fabric files*.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.join_round()
    >>> work.plain_rounds(3)
    >>> paper = certify(work.fabric(), openings=2)
    >>> paper.key == work.fabric().canonical_key
    True
    >>> paper.document["found"]["openings"], paper.document["found"]["euler"]
    ([9, 9], 2)
    >>> paper.to_json()[:35]
    '{"format":"loopwright certificate",'
    """

    key: str
    document: dict[str, Any] = attrs.field(repr=False, hash=False)

    def to_json(self) -> str:
        """Return the certificate as text."""
        return json.dumps(self.document, ensure_ascii=False, separators=(",", ":")) + "\n"


def certify(
    fabric: Fabric,
    *,
    limits: Limits = _LIMITS,
    openings: int | None = None,
    instructions: str = "",
) -> Certificate:
    """Return a certificate that a fabric is sound.

    Parameters
    ----------
    fabric : Fabric
    limits : Limits
        What the checks allow.
    openings : int, optional
        How many openings are expected; overrides ``limits.openings``.
    instructions : str
        The text that makes the fabric, to stand beside it.

    Raises
    ------
    UnsoundFabricError
        The fabric has mistakes: there is nothing to certify.
    """
    if openings is not None:
        limits = attrs.evolve(limits, openings=openings)
    report = check(fabric, limits=limits)
    if not report.ok:
        raise UnsoundFabricError(tuple(map(str, report.mistakes)))
    darts = Darts(fabric)
    key, starts = key_of(fabric, darts)
    number = {int(loop): place for place, loop in enumerate(fabric.ids)}
    rows = len(fabric.flags)
    number |= {rows + at: len(fabric) + at for at in range(fabric.surface.crossings)}
    document = {
        "format": _FORMAT,
        "version": _VERSION,
        "package": version("loopwright"),
        "key": key,
        "limits": attrs.asdict(limits),
        "checks": {"mistakes": [], "blemishes": [str(found) for found in report.blemishes]},
        "found": _found(fabric),
        "strands": [
            [number[loop] for loop in _path(fabric, strand)]
            for strand in range(len(fabric.strands))
        ],
        "floats": [[number[a], number[b], front] for a, b, front in darts.floats.tolist()],
        "loops": _states(fabric) + "x" * fabric.surface.crossings,
        "edges": _edges(fabric, darts, number),
        "rings": _rings(fabric, darts),
        "starts": starts,
        "instructions": instructions,
    }
    return Certificate(key, document)


def _found(fabric: Fabric) -> dict[str, Any]:
    surface = fabric.surface
    return {
        "loops": len(fabric), "crossings": surface.crossings, "edges": surface.edges,
        "cells": surface.cells,
        "euler": fabric.euler_characteristic,
        "pieces": len(set(fabric.surface_pieces[fabric.ids].tolist())),
        "openings": sorted(cell.size for cell in fabric.openings),
        "live": len(fabric.live),
        "sizes": {str(size): count for size, count in fabric.cell_sizes().items()},
    }  # fmt: skip


def _path(fabric: Fabric, strand: int) -> list[int]:
    mine = fabric.ids[fabric.strand[fabric.ids] == strand]
    path = mine[fabric.previous[mine] < 0].tolist()[:1]
    while path and int(fabric.next[path[-1]]) >= 0:
        path.append(int(fabric.next[path[-1]]))
    return [int(loop) for loop in path]


def _states(fabric: Fabric) -> str:
    """Return a letter for each loop: what keeps it from running.

    Crossing vertices follow, each an ``x``.

    ``l`` live, ``d`` drawn up, ``f`` fastened, ``g`` grafted, ``w`` a wrap, ``.`` one through it.
    """
    letters = np.full(len(fabric.flags), ".", dtype="<U1")
    letters[fabric.kinds(Kind.WRAP)] = "w"
    letters[fabric.kinds(Kind.GRAFTED)] = "g"
    letters[(fabric.flags & FASTENED) != 0] = "f"
    letters[(fabric.flags & DRAWN) != 0] = "d"
    letters[fabric.live] = "l"
    return "".join(letters[fabric.ids].tolist())


def _edges(fabric: Fabric, darts: Darts, number: dict[int, int]) -> list[list[int]]:
    """Return each dart: the loop that it leaves, its twin, its label."""
    origin = [number[loop] for loop in darts.origin.tolist()]
    return [
        list(row) for row in zip(origin, darts.twin.tolist(), darts.label.tolist(), strict=True)
    ]


def _rings(fabric: Fabric, darts: Darts) -> list[list[int]]:
    """Return the darts round each loop, counter-clockwise as seen from the right side."""
    before = darts.follow[darts.twin].tolist()
    first: dict[int, int] = {}
    for dart, loop in enumerate(darts.origin.tolist()):
        first.setdefault(loop, dart)
    rings = []
    rows = len(fabric.flags)
    for loop in (*fabric.ids.tolist(), *range(rows, rows + fabric.surface.crossings)):
        ring: list[int] = []
        dart = first.get(loop, -1)
        while dart >= 0 and (not ring or dart != ring[0]):
            ring.append(dart)
            dart = before[dart]
        rings.append(ring[::-1])
    return rings
