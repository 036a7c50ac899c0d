"""Which stitch made each loop: told and checked against its edges, or found from them."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Any, Protocol

import numpy as np

from loopwright.fabric.columns import BACK, CHAIN, EDGE, FACING, RANK
from loopwright.fabric.stitches import Kind, Stitch, StitchTable

__all__ = ["kinds_found", "violations_of_stitches"]


class Complaints(Protocol):
    """Where violations are written down."""

    def wrong(self, kind: str, problem: str, *nodes: Hashable) -> None: ...


class GraphLoops(Protocol):
    """What is known of a graph's loops so far."""

    @property
    def given(self) -> Complaints: ...
    @property
    def data(self) -> list[dict[str, Any]]: ...
    @property
    def table(self) -> StitchTable: ...
    @property
    def next(self) -> np.ndarray[Any, Any]: ...
    @property
    def previous(self) -> np.ndarray[Any, Any]: ...
    def name(self, loop: int) -> Hashable: ...


def kinds_found(
    loops: GraphLoops,
    sides: list[int],
    parent: list[int],
    child: list[int],
    info: list[int],
    grafted: set[int],
) -> list[int]:
    """Return the code of the stitch that made each loop."""
    below = _below(parent, child, info)
    chains = {a for a, bits in zip(parent, info, strict=True) if bits & CHAIN}
    codes = []
    for loop, data in enumerate(loops.data):
        key = data.get("stitch")
        if key is None and loop in chains:
            key = "bo"
        elif key is None:
            key = "graft" if loop in grafted else _found(loops, loop, below, sides)
        elif key not in loops.table:
            loops.given.wrong("stitch", f"no stitch is called {key!r}", loops.name(loop))
            key = "k"
        codes.append(loops.table.code(str(key)))
    return codes


def _below(
    parent: list[int], child: list[int], info: list[int]
) -> dict[int, list[tuple[int, int]]]:
    below: dict[int, list[tuple[int, int]]] = {}
    for a, b, bits in zip(parent, child, info, strict=True):
        below.setdefault(b, []).append((a, bits))
    return below


def _found(
    loops: GraphLoops, loop: int, below: dict[int, list[tuple[int, int]]], sides: list[int]
) -> str:
    """Return the key of a stitch that lies as this loop does."""
    bits = [info for _, info in below.get(loop, ())]
    if any(info & (CHAIN | FACING) for info in bits):
        return "bo"
    if any(info & EDGE for info in bits):
        return "pu"
    if not bits:
        return _without_parents(loops, loop, below)
    for row in loops.table:
        plain = row.kind is Kind.WORKED and not row.lifts and row.makes == 1 and not row.twist
        if plain and row.key != "pu" and _lies(row, bits, facing=sides[loop] > 0):
            return row.key
    return "p" if bits[0] & BACK and sides[loop] > 0 else "k"


def _without_parents(loops: GraphLoops, loop: int, below: dict[int, list[tuple[int, int]]]) -> str:
    """A cast-on where the yarn begins, or where three or more stand together; else a yarn over."""
    run, at = 1, int(loops.previous[loop])
    while at >= 0 and at not in below:
        run, at = run + 1, int(loops.previous[at])
    if at < 0:
        return "co"
    at = int(loops.next[loop])
    while at >= 0 and at not in below:
        run, at = run + 1, int(loops.next[at])
    return "co" if run > 2 else "yo"


def _lies(row: Stitch, info: list[int], *, facing: bool) -> bool:
    """Tell whether edges lie as this stitch makes them, worked with this side facing."""
    width = row.takes + row.lifts
    if len(info) != width:
        return False
    for rank, bits in zip(row.stack, info, strict=True):
        purl = row.faces[0] == "p"
        seen = rank if facing else width - 1 - rank
        if bits & (RANK | BACK) != seen | (BACK if purl == facing else 0):
            return False
    return True


def violations_of_stitches(
    loops: GraphLoops,
    codes: list[int],
    sides: list[int],
    parent: list[int],
    child: list[int],
    info: list[int],
) -> None:
    """Write down where a stitch that was told contradicts the edges of its loop."""
    rows = loops.table.rows
    wrap = loops.table.of_kind(Kind.WRAP)
    below: dict[int, list[int]] = {}
    for a, b, bits in zip(parent, child, info, strict=True):
        if not wrap[codes[a]]:
            below.setdefault(b, []).append(bits)
    facing: list[tuple[int, bool]] = []
    for loop, data in enumerate(loops.data):
        row = rows[codes[loop]]
        found = below.get(loop, [])
        if "stitch" not in data:
            continue
        _count_parents(loops, loop, row, found, int(data.get("opened", 0) or 0))
        if row.kind is Kind.WORKED and found and not any(b & (EDGE | CHAIN) for b in found):
            _look_at_stack(loops, loop, row, found)
            faces = {bool(bits & BACK) for bits in found}
            if len(faces) > 1:
                loops.given.wrong(
                    "face", "a loop can't be drawn through one stitch to the front and through "
                    "another to the back", loops.name(loop),
                )  # fmt: skip
            elif len(set(row.faces)) == 1:
                seen = faces.pop() == (row.faces[0] == "p")  # as from the right side
                facing.append((loop, seen == (sides[loop] > 0)))
    right = sum(is_right for _, is_right in facing)
    for loop, is_right in facing:
        if is_right != (2 * right >= len(facing)):
            loops.given.wrong(
                "face", f"stitch {rows[codes[loop]].key!r} would lie the other way, worked by the "
                "hand that made the others", loops.name(loop),
            )  # fmt: skip


def _count_parents(
    loops: GraphLoops, loop: int, row: Stitch, found: list[int], opened: int
) -> None:
    plain = [bits for bits in found if not bits & (CHAIN | FACING)]
    wanted = 0 if row.kind in (Kind.CAST_ON, Kind.CLOSED, Kind.WRAP, Kind.LIFTED) else (
        row.takes + row.lifts
    )  # fmt: skip
    if not plain and wanted == 1 and _hangs(loops, loop):
        return
    if len(plain) + opened != wanted:
        loops.given.wrong(
            "stitch", f"{row.key!r} is drawn through {wanted}, found {len(plain)}",
            loops.name(loop),
        )  # fmt: skip


def _hangs(loops: GraphLoops, loop: int) -> bool:
    """Whether waste yarn carried a loop: the strand beside it is lifted now."""
    beside = (int(loops.previous[loop]), int(loops.next[loop]))
    return any(n >= 0 and loops.data[n].get("stitch") == "lift" for n in beside)


def _look_at_stack(loops: GraphLoops, loop: int, row: Stitch, found: list[int]) -> None:
    ranks = tuple(bits & RANK for bits in found)
    if len(ranks) != len(row.stack):
        return
    width = len(row.stack)
    if ranks not in (row.stack, tuple(width - 1 - rank for rank in row.stack)):
        loops.given.wrong(
            "rank", f"{row.key!r} stacks its parents as {row.stack}, found {ranks}",
            loops.name(loop),
        )  # fmt: skip
