"""What is said of small damages, kept in `damages.read`: run this file to keep it anew.

    PYTHONPATH=tests python tests/fabric/test_damages.py

Under the name of a piece stands a line for each damage, drawn once: what was changed, which checks
see it with the loops they name, and, behind a bar, how it differs from the sound piece. So a change
of a check is seen as a diff of words, in places that nobody would think of.
"""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any, Final

import attrs
import numpy as np
import pytest

from fabric.pieces import PIECES
from loopwright.errors import LoopwrightError
from loopwright.fabric import (
    STITCHES,
    Fabric,
    Limits,
    check,
    difference,
    same_fabric,
)
from loopwright.fabric._report import Flaw
from loopwright.making import Hand

KEPT: Final = Path(__file__).with_name("damages.read")
DAMAGED: Final = (
    "rows, first stitch slipped", "rows, stretchy on the wrong side", "tube with wraps",
    "tube with double stitches", "slip stitches", "star toe", "toe up", "crossings",
    "increases and decreases", "three needles", "bound off", "closed tube", "heel, waste out",
)  # fmt: skip
EACH: Final = 28
LIMITS: Final = Limits(gap_edges=5, float_stitches=1)
BITS: Final = {
    "flags": ("left flank", "turned", "float", "float in front", "gone", "fastened", "drawn",
              "outside"),
    "info": ("rank 1", "rank 2", "rank 4", "back", "edge", "chain", "facing", "crossed"),
}  # fmt: skip
KEYS: Final = ("k", "p", "ktbl", "k2tog", "ssk", "cdd", "yo", "kfb", "m1l", "sl", "co", "bo",
               "graft", "wrap", "ds", "lift", "pu", "cc", "1/1lc", "rt")  # fmt: skip


def damaged(fabric: Fabric, r: random.Random) -> tuple[str, Fabric]:
    """Change one thing; say which."""
    ids = fabric.ids.tolist()
    at, other = r.choice(ids), r.choice(ids)
    what = r.choice(("flags", "info", "flags", "info", "stitch", "stitch", "next", "parent",
                     "edge", "beside", "needle", "ledger", "course", "order", "wraps"))  # fmt: skip
    edge = r.randrange(len(fabric.parent))
    if what in BITS:
        bit = r.choice([at for at in range(8) if BITS[what][at] != "gone"])  # refused by readers
        column: Any = np.array(getattr(fabric, what))
        place = at if what == "flags" else edge
        column[place] ^= np.uint8(1 << bit)
        said = place if what == "flags" else f"{fabric.parent[edge]}-{fabric.child[edge]}"
        return f"{said} {BITS[what][bit]}", attrs.evolve(fabric, **dict[str, Any]({what: column}))
    if what == "stitch":
        key = r.choice(KEYS)
        return f"{at} called {key}", with_entry(fabric, "stitch", at, STITCHES.code(key))
    if what == "next":
        after = r.choice((-1, other, min(at + 2, ids[-1])))
        return f"{at} leads on to {after}", with_entry(fabric, "next", at, after)
    if what == "parent":
        child = fabric.child[edge]
        return f"{child} drawn through {other}", with_entry(fabric, "parent", edge, other)
    if what == "edge":
        kept = np.arange(len(fabric.parent)) != edge
        columns = {name: getattr(fabric, name)[kept] for name in ("parent", "child", "info")}
        said = f"{fabric.parent[edge]}-{fabric.child[edge]} dropped"
        return said, attrs.evolve(fabric, **columns)
    if what == "order":
        later = min(edge + 1, len(fabric.parent) - 1)
        parent = np.array(fabric.parent)
        parent[[edge, later]] = parent[[later, edge]]
        return f"parents of edges {edge}, {later} exchanged", attrs.evolve(fabric, parent=parent)
    if what == "beside":
        pairs = list(zip(fabric.right.tolist(), fabric.left.tolist(), strict=True))
        if pairs and r.random() < 0.7:
            pairs.pop(r.randrange(len(pairs)))
        else:
            pairs.append((at, other))
        right, left = ([pair[n] for pair in pairs] for n in (0, 1))
        return f"{len(pairs)} beside each other, {at}", attrs.evolve(fabric, right=right, left=left)
    return _wrongly_carried(fabric, r, what, at, other)


def _wrongly_carried(
    fabric: Fabric, r: random.Random, what: str, at: int, other: int
) -> tuple[str, Fabric]:
    """Change what is on a needle, waits beside a stitch, or was counted."""
    if what == "needle":
        needles = {name: loops.tolist() for name, loops in fabric.needles.items()}
        needles = needles or {"needle 1": []}
        name = r.choice(sorted(needles))
        loops = needles[name]
        way = r.choice(("lost", "added", "exchanged"))
        if way == "added" or len(loops) < 2:
            loops.insert(r.randint(0, len(loops)), at)
        elif way == "lost":
            at = loops.pop(r.randrange(len(loops)))
        else:
            at = loops[0]
            loops[0], loops[-1] = loops[-1], loops[0]
        return f"{name}: {at} {way}", attrs.evolve(fabric, needles=needles)
    if what == "ledger":
        ledger = np.array(fabric.ledger)
        row, field = r.randrange(len(ledger)), r.randrange(6)
        ledger[row, field] += r.choice((1, -1))
        return f"step {row} field {field}: {ledger[row, field]}", attrs.evolve(
            fabric, ledger=ledger
        )
    if what == "wraps":
        wraps = {"wrap": [at], "stitch": [other]}
        return f"{at} waits beside {other}", attrs.evolve(fabric, wraps=wraps)
    return f"{at} in course 9", with_entry(fabric, "course", at, 9)


def with_entry(fabric: Fabric, name: str, place: int, value: int) -> Fabric:
    column = np.array(getattr(fabric, name))
    column[place] = value
    columns: dict[str, Any] = {name: column}
    return attrs.evolve(fabric, **columns)


def _in_short(found: Flaw) -> str:
    loops = ",".join(map(str, sorted(found.loops)[:9]))
    counted = found.kind in ("counts", "strands", "secured", "grafts", "courses")
    return f"{found.kind} {loops}{f' ({found.problem})' * counted}"


def told(sound: Fabric, other: Fabric) -> str:
    """Say what the checks see in a damaged piece, and how it differs from the sound one."""
    try:
        report = check(other, limits=LIMITS)
        seen = [_in_short(one) for one in report.findings if one.kind != "tails"]
    except LoopwrightError as error:
        seen = [type(error).__name__]
    try:
        differs: Any = "the same" if same_fabric(sound, other) else difference(sound, other)
    except LoopwrightError as error:
        differs = type(error).__name__
    return f"{'; '.join(seen) or 'nothing'} | {differs}"


def lines(name: str) -> list[str]:
    """Return a line for each damage of a piece."""
    r = random.Random(name)
    sound = PIECES[name](r.choice(list(Hand))).fabric()
    found = []
    for _ in range(EACH):
        what, other = damaged(sound, r)
        found.append(f"{what}: {told(sound, other)}")
    return found


def kept() -> dict[str, list[str]]:
    blocks = KEPT.read_text("utf-8").split("\n\n") if KEPT.is_file() else []
    return {block.splitlines()[0]: block.splitlines()[1:] for block in blocks}


@pytest.mark.parametrize("name", DAMAGED)
def test_what_is_said_of_damages_is_as_it_was(name: str) -> None:
    assert lines(name) == kept()[name]


if __name__ == "__main__":
    blocks = ["\n".join((name, *lines(name))) for name in DAMAGED]
    KEPT.write_text("\n\n".join(blocks) + "\n", "utf-8")
