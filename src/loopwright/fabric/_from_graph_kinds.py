"""Which stitch made each loop: given and checked against its edges, or found from them."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Any, Protocol

import numpy as np

from loopwright.fabric.columns import BACK, CHAIN, CROSSED, EDGE, FACING, RANK
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
    crossings = _crossings_found(loops, below, sides)
    for loop, data in enumerate(loops.data):
        key = data.get("stitch", crossings.get(loop))
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
        plain = row.kind is Kind.WORKED and not (row.lifts or row.twist) and row.makes == 1
        if plain and row.key != "pu" and _lies(row, bits, facing=sides[loop] > 0):
            return row.key
    return "p" if bool(bits[0] & BACK) == (sides[loop] > 0) else "k"


def _crossings_found(
    loops: GraphLoops, below: dict[int, list[tuple[int, int]]], sides: list[int]
) -> dict[int, str]:
    """Return the keys of the crossings that loops marked so, and not named, are part of."""
    found: dict[int, str] = {}
    marked = [
        loop
        for loop, data in enumerate(loops.data)
        if "stitch" not in data and any(bits & CROSSED for _, bits in below.get(loop, ()))
    ]
    while marked:
        group = _whole_crossing(loops, marked, below, sides)
        row = _row_of_crossing(loops, group, below, sides) if group else None
        if row is None:
            loops.given.wrong(
                "crossed", "no crossing of the table lies as these loops do: tell 'stitch', and "
                "add a row to the table", *(loops.name(loop) for loop in group or marked[:1]),
            )  # fmt: skip
            return found
        found |= dict.fromkeys(group, row.key)
        marked = marked[len(group) :]
    return found


def _whole_crossing(
    loops: GraphLoops,
    marked: list[int],
    below: dict[int, list[tuple[int, int]]],
    sides: list[int],
) -> list[int]:
    """Return the loops of the crossing that begins with the first of those marked."""
    first = marked[0]
    for width in range(2, len(marked) + 1):
        group = marked[:width]
        if group[-1] - first != width - 1:
            break
        parents = {below[loop][0][0] for loop in group}
        ends = [loop for loop in parents if int(loops.previous[loop]) not in parents]
        if len(ends) == 1 and len(parents) == width:
            row = _ordered(loops, ends[0], width, ahead=sides[ends[0]] == sides[first])
            if below[first][0][0] != row[0]:
                return group
    return []


def _ordered(loops: GraphLoops, first: int, width: int, *, ahead: bool) -> list[int]:
    """Return loops from one on along the yarn, in the order in which a row meets them."""
    row = [first]
    while len(row) < width:
        row.append(int(loops.next[row[-1]]))
    return row if ahead else row[::-1]


def _row_of_crossing(
    loops: GraphLoops,
    group: list[int],
    below: dict[int, list[tuple[int, int]]],
    sides: list[int],
) -> Stitch | None:
    parents = [below[loop][0][0] for loop in group]
    first = next(one for one in parents if int(loops.previous[one]) not in parents)
    facing = sides[group[0]] > 0
    line = _ordered(loops, first, len(group), ahead=sides[first] == sides[group[0]])
    order = tuple(line.index(parent) for parent in parents)
    bits = [below[loop][0][1] for loop in group]
    for row in loops.table:
        if row.order != order or row.twist:
            continue
        deepest = max(row.stack)
        wanted = [row.stack[at] if facing else deepest - row.stack[at] for at in order]
        backs = [(face == "p") == facing for face in row.faces]
        if [one & RANK for one in bits] == wanted and [bool(one & BACK) for one in bits] == backs:
            return row
    return None


def _without_parents(loops: GraphLoops, loop: int, below: dict[int, list[tuple[int, int]]]) -> str:
    """A cast-on where the yarn begins, or where three or more stand together; else a yarn over."""
    run = 1
    for way in (loops.previous, loops.next):
        at = int(way[loop])
        while at >= 0 and at not in below:
            run, at = run + 1, int(way[at])
        if at < 0 and way is loops.previous:
            return "co"
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
    """Write down where a given stitch contradicts the edges of its loop."""
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
    origins = (Kind.CAST_ON, Kind.CLOSED, Kind.WRAP, Kind.LIFTED)
    wanted = 0 if row.kind in origins else row.parents
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
    if row.order:
        if not all(bits & CROSSED for bits in found):
            loops.given.wrong(
                "crossed", f"{row.key!r} is a crossing: tell 'crossed' of each of its through "
                "edges, and in 'rank' how deep it lies", loops.name(loop),
            )  # fmt: skip
        return
    if len(ranks) != len(row.stack):
        return
    width = len(row.stack)
    if ranks not in (row.stack, tuple(width - 1 - rank for rank in row.stack)):
        loops.given.wrong(
            "rank", f"{row.key!r} stacks its parents as {row.stack}, found {ranks}",
            loops.name(loop),
        )  # fmt: skip
