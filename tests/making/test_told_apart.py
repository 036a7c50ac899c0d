"""Drawn pieces of work, told in other calls, or by the other hand: they come out the same."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np

from loopwright.errors import LoopwrightError
from loopwright.fabric import STITCHES, Fabric, same_fabric
from loopwright.fabric.columns import LEFT_FLANK
from loopwright.making import Hand, Work, cast_on, closed_cast_on, hold, return_held, waste_row
from making.knitter import sound
from together import together

TAKING = (
    *("k", "p", "k", "ktbl", "k2tog", "ssp", "cdd", "kfb", "kpk"),
    *("sl", "slk", "slf", "sl", "slkf", "1/1lc", "rt"),
)
KEYS = (*TAKING, "yo", "m1l", "m1r", "m1l", "m1r")
Act = Callable[[Work, random.Random], object]


def wrap(work: Work, _: random.Random) -> None:
    work.wrap()
    work.turn()


def double(work: Work, _: random.Random) -> None:
    work.turn()
    work.double_stitch()


def mark(work: Work, r: random.Random) -> None:
    work.place_marker(f"{r.random()}")


def arrange(work: Work, r: random.Random) -> None:
    first, second = sorted(r.randint(0, work.count) for _ in range(2))
    work.arrange((first, second - first, work.count - second))


def to_and_fro(work: Work, r: random.Random) -> None:
    hold(work, r.randint(1, 3), "holder")
    return_held(work, "holder", next_to_work=True)


def other_yarn(work: Work, r: random.Random) -> None:
    if len(work.strands) < 3 and r.random() < 0.5:
        work.join_yarn(f"yarn {len(work.strands)}")
    else:
        work.change_to(r.choice([strand.name for strand in work.strands]))


def waste(work: Work, r: random.Random) -> None:
    waste_row(work, r.randint(1, 3), f"waste {len(work.strands)}")


ACTS: tuple[Act, ...] = (
    wrap, double, mark, arrange, to_and_fro, other_yarn, waste,
    lambda work, _: work.turn(), lambda work, _: work.begin_round_here(),
)  # fmt: skip


def begun(r: random.Random, hand: Hand) -> Work:
    work, how = Work(hand=hand), r.randrange(3)
    if how == 0:
        closed_cast_on(work, r.randint(2, 4))
    else:
        cast_on(work, r.randint(4, 8))
    work.join_round() if how < 2 else work.turn()
    return work


def run(work: Work, r: random.Random, known: tuple[str, ...]) -> list[str]:
    """Draw stitches that don't go beyond this row or round."""
    left, keys = work.left, list[str]()
    for _ in range(r.randint(1, 7)):
        key = r.choice(known)
        if STITCHES[key].takes <= left:
            left -= STITCHES[key].takes
            keys.append(key)
    return keys


def parts(work: Work, keys: list[str], r: random.Random) -> Iterator[list[str]]:
    """Cut a run, but not where all stitches of a round are used up."""
    part, left = list[str](), work.left
    for key in keys:
        part.append(key)
        left -= STITCHES[key].takes
        if left and r.random() < 0.5:
            yield part
            part = []
    yield part


def done(
    number: int, hand: Hand = Hand.RIGHT, *, known: tuple[str, ...] = KEYS, apart: bool = False
) -> Work:
    """Work a drawn piece; what can't be done is left out."""
    r, cuts = random.Random(number), random.Random(-number)
    work = begun(r, hand)
    for _ in range(9):
        act, own = r.choice(ACTS), r.random()
        try:
            if r.random() < 0.6:
                keys, with_wraps = run(work, random.Random(own), known), r.random() < 0.5
                trial = work.copy()
                trial.work(keys, with_wraps=with_wraps)
                for part in [*parts(work, keys, cuts)] if apart else [keys]:
                    work.work(part, with_wraps=with_wraps)
            else:
                act(work, random.Random(own))
        except LoopwrightError:
            continue
    return work


def hands(work: Work) -> dict[str, Any]:
    """What the hands hold, but for the books of what was done."""
    kept = {"_seq", "_cursor", "_round_over", "_markers", "_needles", "_wraps", "_reseated",
            "_last_taken", "_behind", "_line", "course", "in_rounds", "strands"}  # fmt: skip
    told = {name: value for name, value in vars(work).items() if name in kept}
    return {**told, "_seq": work.live.tolist()}


def mirrored(fabric: Fabric) -> tuple[Any, ...]:
    flags = np.bitwise_xor(fabric.flags, LEFT_FLANK)
    return (
        flags.tolist(), fabric.left.tolist(), fabric.right.tolist(), fabric.next.tolist(),
        fabric.parent.tolist(), fabric.child.tolist(), fabric.info.tolist(),
        fabric.stitch.tolist(),
    )  # fmt: skip


@together("number", range(60), tests=2)
def test_several_calls_make_what_one_makes(number: int) -> None:
    """What is lifted and made of nothing has other numbers then, or stands on another needle."""
    once, apart = done(number), done(number, apart=True)
    assert same_fabric(once.fabric(), apart.fabric())
    sound(once.fabric())
    assert (once.left, once.count, once.course) == (apart.left, apart.count, apart.course)
    once, apart = done(number, known=TAKING), done(number, known=TAKING, apart=True)
    assert hands(once) == hands(apart)
    assert once.fabric() == apart.fabric()


@together("number", range(100, 130), tests=2)
def test_the_other_hand_makes_the_mirror_image(number: int) -> None:
    right, left = done(number), done(number, Hand.LEFT)
    assert hands(right) == hands(left)
    fabric = right.fabric()
    straight = (
        fabric.flags.tolist(), fabric.right.tolist(), fabric.left.tolist(), fabric.next.tolist(),
        fabric.parent.tolist(), fabric.child.tolist(), fabric.info.tolist(),
        fabric.stitch.tolist(),
    )  # fmt: skip
    assert straight == mirrored(left.fabric())
