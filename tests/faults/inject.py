"""Put single faults into seven socks, and count how many `check` sees: see the README here."""

from __future__ import annotations

import argparse
import random
import sys
from collections import Counter
from collections.abc import Callable
from typing import Any, Final

import attrs
import numpy as np

from loopwright.errors import LoopwrightError
from loopwright.fabric import Fabric, check
from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    DRAWN,
    EDGE,
    FACING,
    FASTENED,
    FLOAT,
    FLOAT_FRONT,
    GONE,
    LEFT_FLANK,
    OUTSIDE,
    RANK,
    TURNED,
)
from loopwright.fabric.files import from_json, to_json
from loopwright.gauge import Gauge
from loopwright.pattern import knit
from loopwright.sock import Direction, Foot, Sock, heel_named

AIM: Final = 0.99
FOOT: Final = Foot.of(length="24.6 cm", ball_girth="22.2 cm")  # invented
Change = tuple[str, Fabric]
Fault = Callable[[Fabric, random.Random], Change]

# Faults that no check is asked to see, each with the reason.
UNSEEN: Final = {
    "twisted or not": "the same edges: only the key says it",
    "another key of the same edges": "m1l and m1r, ssk and skp: only the key says which",
    "float on the other side": "what was slipped is not recorded, so that either may be meant",
    "course at its edge": "a loop counted to the course next to it changes a number, no stitch",
    "stated count": "what a pattern states is no stitch",
}


def socks() -> list[Fabric]:
    """Seven socks: each heel, both directions, with slipped stitches, wraps and grafts."""

    def made(stitches: int, heel: str, **choices: Any) -> Fabric:
        sock = Sock(foot=FOOT, gauge=Gauge(stitches / 20, 1.375 * stitches / 20),
                    stitches=stitches, heel=heel_named(heel), **choices)  # fmt: skip
        return knit(sock.pattern())

    return [
        made(40, "afterthought"),
        made(44, "forethought"),
        made(48, "short-row"),
        made(40, "short-row with gusset", direction=Direction.TOE_UP),
        made(48, "flap"),
        made(44, "flap", direction=Direction.TOE_UP),
        made(40, "short-row", direction=Direction.TOE_UP),
    ]


def put(fabric: Fabric, name: str, place: int, value: object) -> Fabric:
    column = np.array(getattr(fabric, name))
    column[place] = value
    columns: dict[str, Any] = {name: column}
    return attrs.evolve(fabric, **columns)


def without(fabric: Fabric, names: tuple[str, ...], row: int) -> Fabric:
    return attrs.evolve(
        fabric, **{name: np.delete(getattr(fabric, name), row, 0) for name in names}
    )


def doubled(fabric: Fabric, names: tuple[str, ...], row: int) -> Fabric:
    columns: dict[str, Any] = {}
    for name in names:
        column = getattr(fabric, name)
        columns[name] = np.insert(column, row, column[row], 0)
    return attrs.evolve(fabric, **columns)


THROUGH: Final = ("parent", "child", "info")
BESIDE: Final = ("right", "left")


def any_loop(fabric: Fabric, r: random.Random) -> int:
    return int(fabric.ids[r.randrange(len(fabric.ids))])


def any_edge(fabric: Fabric, r: random.Random) -> int:
    return r.randrange(len(fabric.parent))


def another_parent(fabric: Fabric, r: random.Random) -> Change:
    edge = any_edge(fabric, r)
    step = r.choice((-2, -1, 1, 2))
    return "another parent", put(fabric, "parent", edge, max(0, int(fabric.parent[edge]) + step))


def edge_lost(fabric: Fabric, r: random.Random) -> Change:
    return "through edge lost", without(fabric, THROUGH, any_edge(fabric, r))


def edge_twice(fabric: Fabric, r: random.Random) -> Change:
    return "through edge twice", doubled(fabric, THROUGH, any_edge(fabric, r))


def drawn_the_other_way(fabric: Fabric, r: random.Random) -> Change:
    edge = any_edge(fabric, r)
    return "knit for purl", put(fabric, "info", edge, fabric.info[edge] ^ BACK)


def other_rank(fabric: Fabric, r: random.Random) -> Change:
    edge = any_edge(fabric, r)
    rank = r.choice([n for n in range(4) if n != fabric.info[edge] & RANK])
    bits = (int(fabric.info[edge]) & ~RANK) | rank
    return "another rank", put(fabric, "info", edge, bits)


def marked_edge(fabric: Fabric, r: random.Random) -> Change:
    edge = any_edge(fabric, r)
    bit = r.choice((EDGE, CHAIN, FACING))
    return "mark of an edge", put(fabric, "info", edge, fabric.info[edge] ^ bit)


def beside_lost(fabric: Fabric, r: random.Random) -> Change | None:
    if not len(fabric.right):
        return None
    return "beside edge lost", without(fabric, BESIDE, r.randrange(len(fabric.right)))


def beside_twice(fabric: Fabric, r: random.Random) -> Change | None:
    if not len(fabric.right):
        return None
    return "beside edge twice", doubled(fabric, BESIDE, r.randrange(len(fabric.right)))


def beside_elsewhere(fabric: Fabric, r: random.Random) -> Change | None:
    if not len(fabric.right):
        return None
    return "beside edge elsewhere", put(
        fabric, r.choice(BESIDE), r.randrange(len(fabric.right)), any_loop(fabric, r)
    )


def other_key(fabric: Fabric, r: random.Random) -> Change:
    loop, table = any_loop(fabric, r), fabric.stitches
    code = r.choice([n for n in range(len(table)) if n != fabric.stitch[loop]])
    old, new = table.rows[fabric.stitch[loop]], table.rows[code]
    same = (old.takes, old.makes, old.lifts, old.stack, old.faces, old.kind) == (
        new.takes, new.makes, new.lifts, new.stack, new.faces, new.kind,
    )  # fmt: skip
    kind = "another key"
    if same and "pu" not in (old.key, new.key):
        kind = "another key of the same edges" if old.takes != 1 else "twisted or not"
    return kind, put(fabric, "stitch", loop, code)


def one_course_off(fabric: Fabric, r: random.Random) -> Change:
    loop = any_loop(fabric, r)
    course = int(fabric.course[loop]) + r.choice((-3, -2, -1, 1, 2, 3, 99))
    near = fabric.course[max(0, loop - 1) : loop + 2]
    kind = "course at its edge" if course in near and near[0] != near[-1] else "another course"
    return kind, put(fabric, "course", loop, max(0, course))


def flag(bit: int, kind: str) -> Fault:
    def fault(fabric: Fabric, r: random.Random) -> Change:
        loop = any_loop(fabric, r)
        name = kind
        if bit == FLOAT_FRONT and fabric.flags[loop] & FLOAT:
            name = "float on the other side"
        return name, put(fabric, "flags", loop, int(fabric.flags[loop]) ^ bit)

    return fault


def float_lost(fabric: Fabric, r: random.Random) -> Change | None:
    floats = np.flatnonzero(fabric.flags & FLOAT)
    if not len(floats):
        return None
    loop = int(floats[r.randrange(len(floats))])
    return "float lost", put(
        fabric, "flags", loop, int(fabric.flags[loop]) & ~(FLOAT | FLOAT_FRONT)
    )


def floats_of_a_course(fabric: Fabric, r: random.Random) -> Change:
    course = r.randrange(1, int(fabric.course.max()) + 1)
    flags = np.array(fabric.flags)
    flags[(fabric.course == course) & (fabric.next >= 0)] |= FLOAT
    return "floats of a course", attrs.evolve(fabric, flags=flags)


def yarn_elsewhere(fabric: Fabric, r: random.Random) -> Change:
    loop = any_loop(fabric, r)
    onward = r.choice((-1, any_loop(fabric, r), min(len(fabric.next) - 1, loop + 2)))
    return "yarn elsewhere", put(fabric, "next", loop, onward)


def other_strand(fabric: Fabric, r: random.Random) -> Change | None:
    if len(fabric.strands) < 2:
        return None
    loop = any_loop(fabric, r)
    return "another strand", put(
        fabric, "strand", loop, (int(fabric.strand[loop]) + 1) % len(fabric.strands)
    )


def step_lost(fabric: Fabric, r: random.Random) -> Change:
    row = r.randrange(len(fabric.ledger))
    kind = "stated count" if fabric.ledger[row, 0] == 6 else "step lost"
    return kind, without(fabric, ("ledger",), row)


def step_changed(fabric: Fabric, r: random.Random) -> Change:
    row, column = r.randrange(len(fabric.ledger)), r.randrange(1, 6)
    kind = "stated count" if fabric.ledger[row, 0] == 6 else "step changed"
    rows = np.array(fabric.ledger)
    rows[row, column] += r.choice((-2, -1, 1, 2))
    return kind, attrs.evolve(fabric, ledger=rows)


def still_live(fabric: Fabric, r: random.Random) -> Change:
    held = dict(fabric.held) | {"forgotten": [any_loop(fabric, r)]}
    return "a loop left live", attrs.evolve(fabric, held=held)


def wrap_waits(fabric: Fabric, r: random.Random) -> Change:
    pair = {"wrap": [any_loop(fabric, r)], "stitch": [any_loop(fabric, r)]}
    return "a wrap that waits", attrs.evolve(fabric, wraps=pair)


FAULTS: Final[tuple[Callable[[Fabric, random.Random], Change | None], ...]] = (
    another_parent, edge_lost, edge_twice, drawn_the_other_way, other_rank, marked_edge,
    beside_lost, beside_twice, beside_elsewhere, other_key, one_course_off, float_lost,
    floats_of_a_course, yarn_elsewhere, other_strand, step_lost, step_changed, still_live,
    wrap_waits, flag(LEFT_FLANK, "other flank"), flag(TURNED, "turned or not"),
    flag(FLOAT, "float or not"), flag(FLOAT_FRONT, "float in front"),
    flag(GONE, "taken out or not"),
    flag(FASTENED, "fastened or not"), flag(DRAWN, "drawn up or not"),
    flag(OUTSIDE, "turned outside or not"),
)  # fmt: skip


def is_seen(fabric: Fabric, sound: set[str]) -> bool:
    """Whether a file of it is refused, or a check finds what it did not find before."""
    try:
        read = from_json(to_json(fabric))
        found = {str(finding) for finding in check(read, openings=1).findings}
    except LoopwrightError:
        return True
    return not found <= sound


def main() -> int:
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--faults", type=int, default=700)
    reader.add_argument("--seed", type=int, default=None)
    asked = reader.parse_args()
    seed = random.randrange(2**32) if asked.seed is None else asked.seed
    r = random.Random(seed)
    sound = [(fabric, set(map(str, check(fabric, openings=1).findings))) for fabric in socks()]
    seen, unseen = Counter[str](), Counter[str]()
    while seen.total() + unseen.total() < asked.faults:
        fabric, before = r.choice(sound)
        change = r.choice(FAULTS)(fabric, r)
        if change is None or (change[1] == fabric and _same_rest(change[1], fabric)):
            continue
        (seen if is_seen(change[1], before) else unseen)[change[0]] += 1
    counted = {kind: seen[kind] + unseen[kind] for kind in (*seen, *unseen) if kind not in UNSEEN}
    share = sum(seen[kind] for kind in counted) / sum(counted.values())
    for kind in sorted({*seen, *unseen}):
        print(f"{kind:32} {seen[kind]:4} of {seen[kind] + unseen[kind]:4}  {UNSEEN.get(kind, '')}")
    print(f"seed {seed}: {share:.1%} of {sum(counted.values())} faults that a knitter would see")
    return int(share < AIM)


def _same_rest(one: Fabric, other: Fabric) -> bool:
    """Whether two equal fabrics have the same live loops, steps and wraps, too."""
    return to_json(one) == to_json(other)


if __name__ == "__main__":
    sys.exit(main())
