"""Short random runs of `Work` that look for a fabric on which edges cross.

Run by hand: ``python tests/making/short_runs.py SEED SECONDS``. It keeps no books, so it tries some
fifty runs in the second where `test_machine.py` tries one, and most mistakes of the hands show in
rounds of two or three stitches. What is unsound is made as small as it goes, and printed; then the
exit code is 1.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from random import Random
from typing import NamedTuple

from loopwright.errors import LoopwrightError
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    draw_up,
    graft,
    hold,
    provisional_cast_on,
    recapture,
    return_held,
    take_out,
    three_needle_bind_off,
    waste_row,
)
from making.knitter import sound

PLAIN = ("k", "p", "ktbl", "ptbl")
SHAPED = (
    *("k2tog", "ssk", "p2tog", "cdd", "k3tog", "yo", "kfb", "pfb", "kpk", "m1l", "m1r", "m1lp"),
    *("sl", "slk", "slf", "slkf"),
)
LARGEST = 12  # stitches


class Op(NamedTuple):
    """One thing to do, and two small numbers that say how."""

    name: str
    a: int
    b: int


def cast_some_on(work: Work, op: Op) -> None:
    if op.b % 4 == 0:
        closed_cast_on(work, 1 + op.a % 3)
    elif op.b % 4 == 1:
        provisional_cast_on(work, 1 + op.a % 5, "waste 0")
    else:
        cast_on(work, 1 + op.a % 5)
    if op.b % 4 in (0, 2):
        work.join_round()


def some(work: Work, op: Op) -> None:
    draw = Random(op.a)
    keys = draw.choices(PLAIN + SHAPED, [4] * len(PLAIN) + [1] * len(SHAPED), k=1 + op.a % 4)
    if work.count < LARGEST:
        work.work(keys, with_wraps=bool(op.b % 2))


def to_the_end(work: Work, op: Op) -> None:
    work.work([PLAIN[op.a % 4]] * work.left, with_wraps=bool(op.b % 2))


def turn(work: Work, op: Op) -> None:
    work.turn()


def wrap_and_turn(work: Work, op: Op) -> None:
    work.wrap()
    work.turn()


def double_stitch(work: Work, op: Op) -> None:
    work.turn()
    work.double_stitch()


def join(work: Work, op: Op) -> None:
    if not work.in_rounds and not work.held:
        work.join_round()


def to_rows(work: Work, op: Op) -> None:
    if not work.held:
        work.to_rows()


def more(work: Work, op: Op) -> None:
    if work.count < LARGEST and op.b % 2:
        cast_on(work, 1 + op.a % 2)
    elif work.count < LARGEST:
        provisional_cast_on(work, 1 + op.a % 2, f"waste {len(work.strands)}")


def in_waste(work: Work, op: Op) -> None:
    waste_row(work, 1 + op.a % max(1, work.left), f"waste {len(work.strands)}")


def aside_and_back(work: Work, op: Op) -> None:
    hold(work, 1 + op.a % max(1, work.left), "cable needle")
    return_held(work, "cable needle", next_to_work=True)


def lay_aside(work: Work, op: Op) -> None:
    hold(work, 1 + op.a % max(1, work.left), ("one", "two")[op.b % 2])


def take_back(work: Work, op: Op) -> None:
    return_held(work, ("one", "two")[op.b % 2], next_to_work=bool(op.a % 2))


def end_of_row_aside(work: Work, op: Op) -> None:
    if not work.in_rounds and not work.held and work.left:
        work.work(["k"] * (op.a % work.left))
        hold(work, work.left, "front" if work.right_side_facing else "back")


def end_of_row_back(work: Work, op: Op) -> None:
    if not work.in_rounds:
        return_held(work, "front" if work.right_side_facing else "back")


def open_waste(work: Work, op: Op) -> None:
    can = [strand.name for strand in work.strands if strand.name.startswith("waste")]
    if work.count or not can or {"front", "back"} & set(work.held):
        return
    name = can[op.a % len(can)]
    if op.a % 3 == 0:
        take_out(work, name)
    if work.yarn is None:
        work.join_yarn(f"yarn {len(work.strands) + 1}")
    recapture(work, name, corner=("first", "last")[op.b % 2])


def another_yarn(work: Work, op: Op) -> None:
    uncut = [one.name for one in work.strands if not one.cut and one.name != work.yarn]
    if work.count and op.b % 3 == 0:
        work.join_yarn(f"yarn {len(work.strands) + 1}")
    elif work.count and uncut:
        work.change_to(uncut[op.a % len(uncut)])


def bind_some_off(work: Work, op: Op) -> None:
    bind_off(work, 1 + op.a % max(1, work.left), how=("plain", "stretchy")[op.b % 2])


def close(work: Work, op: Op) -> None:
    if not work.held:
        (graft, three_needle_bind_off, draw_up)[op.a % 3](work)


WHAT: dict[Callable[[Work, Op], None], int] = {
    some: 6, to_the_end: 5, turn: 4, wrap_and_turn: 4, double_stitch: 3, join: 1, to_rows: 2,
    more: 3, in_waste: 3, aside_and_back: 1, lay_aside: 5, take_back: 5, end_of_row_aside: 1,
    end_of_row_back: 1, open_waste: 4, another_yarn: 3, bind_some_off: 2, close: 1,
}  # fmt: skip
BY_NAME = {call.__name__: call for call in WHAT}


def drawn(draw: Random) -> list[Op]:
    calls = draw.choices(list(WHAT), list(WHAT.values()), k=draw.randrange(3, 13))
    names = [cast_some_on.__name__, *(call.__name__ for call in calls)]
    return [Op(name, draw.randrange(48), draw.randrange(12)) for name in names]


def unsound_after(hand: Hand, ops: list[Op], *, look_always: bool = True) -> int | None:
    """Return how many of `ops` were done when edges crossed first; None if they never did."""
    work = Work(hand=hand)
    cast_some_on(work, ops[0])
    for done, op in enumerate(ops[1:], start=2):
        try:
            BY_NAME[op.name](work, op)
        except LoopwrightError:
            continue
        if look_always and is_unsound(work):
            return done
    return len(ops) if not look_always and is_unsound(work) else None


def is_unsound(work: Work) -> bool:
    try:
        sound(work.fabric())
    except AssertionError:
        return True
    return False


def smallest(hand: Hand, ops: list[Op]) -> list[Op]:
    """Leave out what may be left out, and lower the numbers, as long as it stays unsound."""
    ops = ops[: unsound_after(hand, ops)]
    for place in reversed(range(1, len(ops))):
        fewer = ops[:place] + ops[place + 1 :]
        if unsound_after(hand, fewer) is not None:
            ops = fewer
    for place, op in enumerate(ops):
        for lower in (Op(op.name, a, b) for a in range(op.a + 1) for b in range(op.b + 1)):
            simpler = [*ops[:place], lower, *ops[place + 1 :]]
            if unsound_after(hand, simpler) is not None:
                ops = simpler
                break
    return ops


def main(seed: int, seconds: float) -> int:
    draw, until, runs, found = Random(seed), time.monotonic() + seconds, 0, set[str]()
    while time.monotonic() < until:
        hand, ops = draw.choice(list(Hand)), drawn(draw)
        runs += 1
        if unsound_after(hand, ops, look_always=False) is not None:
            small = smallest(hand, ops)
            kind = " ".join(op.name for op in small[1:])
            if kind not in found:
                print(f"unsound: {hand.name.lower()} hand;", *map(tuple, small), flush=True)
            found.add(kind)
    print(f"{runs} runs, {len(found)} kinds unsound")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]), float(sys.argv[2])))
