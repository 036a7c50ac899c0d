"""Pieces of knitting that several tests look at, each made stitch by stitch."""

from __future__ import annotations

from collections.abc import Callable

from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    draw_up,
    edge_loops,
    graft,
    hold,
    pick_up,
    provisional_cast_on,
    recapture,
    return_held,
    take_out,
    three_needle_bind_off,
    waste_row,
)

RIGHT = Hand.RIGHT


def tube(count: int, rounds: int, hand: Hand = RIGHT) -> Work:
    """A tube of `rounds` courses, the cast-on among them."""
    work = Work(hand=hand)
    cast_on(work, count)
    work.join_round()
    work.plain_rounds(rounds - 1)
    return work


def before_a_corner(hand: Hand = RIGHT) -> Work:
    """A heel of 8 stitches in the round is done and opened: the work stands before a corner."""
    work = tube(16, 4, hand)
    work.work(["k"] * 8)
    hold(work, 8, "instep")
    provisional_cast_on(work, 8)
    work.plain_rounds(3)
    graft(work)
    work.join_yarn("foot")
    return_held(work, "instep")
    recapture(work, "waste")
    return work


def wedge(work: Work, stop: int) -> None:
    """Decrease 4 stitches every other round, a band at each side, down to `stop` stitches."""
    while work.count > stop:
        half = work.count // 2
        work.round((["k", "ssk", *["k"] * (half - 6), "k2tog", "k"]) * 2)
        if work.count > stop:
            work.plain_rounds(1)


def closed_tube(hand: Hand = RIGHT) -> Work:
    """The tube of 16 that a wedge closes (model, section 4)."""
    work = tube(16, 6, hand)
    wedge(work, 8)
    graft(work)
    return work


def flat(count: int, rows: int, first: str = "k", hand: Hand = RIGHT) -> Work:
    """Stocking stitch in rows; `first` is worked first in each row."""
    work = Work(hand=hand)
    cast_on(work, count)
    work.turn()
    for number in range(rows):
        face = "k" if number % 2 else "p"
        work.row([first if first == "sl" and number else face, *[face] * (count - 1)])
    return work


def forethought(stage: str, count: int = 48, corner: str = "first", hand: Hand = RIGHT) -> Work:
    """A sock whose heel is made at once over waste yarn, as far as `stage`.

    Stages: held, heel (closed, waste in), out, recaptured, sock.
    """
    work = tube(count, 7, hand)
    half = count // 2
    work.work(["k"] * half)
    hold(work, half, "instep")
    provisional_cast_on(work, half)
    if stage == "held":
        return work
    work.plain_rounds(1)
    wedge(work, count // 3)
    graft(work)
    if stage == "heel":
        return work
    if stage == "out":
        take_out(work, "waste")
        return work
    work.join_yarn("foot")
    return_held(work, "instep")
    recapture(work, "waste", corner=corner)
    if stage == "recaptured":
        return work
    work.plain_rounds(5)
    wedge(work, count // 3)
    graft(work)
    return work


def afterthought(stage: str, count: int = 48, corner: str = "first", hand: Hand = RIGHT) -> Work:
    """A sock with a waste row, opened when the rest is done. Stages: row, toe, out, heel, sock."""
    work = tube(count, 7, hand)
    waste_row(work, count // 2)
    if stage == "row":
        return work
    work.plain_rounds(10)
    wedge(work, count // 3)
    graft(work)
    if stage == "toe":
        return work
    if stage == "out":
        take_out(work, "waste")
        return work
    work.join_yarn("heel")
    recapture(work, "waste", corner=corner)
    if stage == "heel":
        return work
    work.plain_rounds(1)
    wedge(work, count // 3)
    graft(work)
    return work


def flap_and_gusset(hand: Hand = RIGHT, *, slip: bool = True, count: int = 32) -> Work:
    """A sock with a heel flap, a turn, and stitches picked up along both sides of the flap."""
    work = tube(count, 5, hand)
    half = count // 2
    work.work(["k"] * half)
    hold(work, half, "instep")
    work.to_rows()
    work.turn()
    start = work.course
    for number in range(half - 1):
        face = "p" if number % 2 == 0 else "k"
        work.row(["sl" if slip else face, *[face] * (half - 1)])
    near, far = ("left", "right") if hand is RIGHT else ("right", "left")
    courses = {"first_course": start - 1, "last_course": work.course - 1}
    turn_heel(work)
    work.work(["k"] * work.left)
    pick_up(work, edge_loops(work, near, **courses)[::-1])
    return_held(work, "instep")
    work.work(["k"] * work.left)
    pick_up(work, edge_loops(work, far, **courses))
    work.join_round()
    work.plain_rounds(2)
    while work.count > count:
        ends = ["ssk"] if work.count > count + 1 else ["k", "k"]
        work.round([*ends, *["k"] * (work.count - 4), "k2tog"])
        work.plain_rounds(1)
    work.plain_rounds(2)
    wedge(work, count // 4)
    graft(work)
    return work


def turn_heel(work: Work) -> None:
    """The round turn: two together over each gap, one plain stitch, turn; RS faces at the end."""
    half = work.count
    work.work(["sl", *["k"] * (half // 2), "ssk", "k"])
    work.turn()
    work.work(["sl", *["p"] * 3, "p2tog", "p"])
    work.turn()
    inner = 5
    while work.left > inner + 1:
        face, together = ("k", "ssk") if work.right_side_facing else ("p", "p2tog")
        beyond = work.left - inner - 2
        work.work(["sl", *[face] * (inner - 1), together, *[face] * (beyond > 0)])
        work.turn()
        inner += 1


def short_rows(how: str, hand: Hand = RIGHT, count: int = 16) -> Work:
    """A short-row heel in rows: rows get shorter on both sides, then longer again.

    `how` is ``"plain"``, ``"wrap"`` or ``"double"``.
    """
    work = Work(hand=hand)
    cast_on(work, count)
    work.turn()
    work.row(["p"] * count)
    purl = False

    def go(stitches: int, *, turn_done: bool = True) -> None:
        nonlocal purl
        work.work(["p" if purl else "k"] * stitches, with_wraps=True)
        if how == "wrap" and work.left:
            work.wrap()
        work.turn()
        purl = not purl
        if how == "double" and turn_done:
            work.double_stitch()

    leave = (count + 2) // 2 + 1
    for number in range(1, leave):
        go(count - number - (how == "double" and number > 1))
    for number in range(leave - 1, 1, -1):
        go(count - number + (how != "double"))
    work.work(["p" if purl else "k"] * work.left, with_wraps=True)
    return work


def short_rows_in_tube(how: str, hand: Hand = RIGHT) -> Work:
    """Three nested short rows inside a tube, and two rounds over all stitches after them."""
    work = tube(20, 4, hand)
    work.work(["k"] * 14)
    double = how == "double"
    for number in range(3):
        for face, fewer in (("p", 0), ("k", 1)):
            if how.startswith("wrap"):
                work.wrap()
            work.turn()
            if double:
                work.double_stitch()
            work.work([face] * (8 - 2 * number - double - fewer))
    for _ in range(2):
        work.work(["k"] * work.left, with_wraps=how != "wrap, left alone")
    work.plain_rounds(2)
    return work


def slip_stitch_tube(hand: Hand = RIGHT) -> Work:
    """Slips of every kind: adjacent, several courses long, at the ends of the round."""
    work = tube(12, 3, hand)
    for pattern in (
        ["k", "sl", "k"], ["k", "sl", "k"], ["k", "k", "k"], ["sl", "sl", "k"],
        ["sl", "k", "sl"], ["k", "slf", "slk"], ["k"] * 3,
    ):  # fmt: skip
        work.round(pattern * 4)
    work.plain_rounds(2)
    return work


def star_toe(hand: Hand = RIGHT) -> Work:
    """A round toe: decreases in eight wedges, drawn up."""
    work = tube(32, 4, hand)
    for plain in (2, 1, 0):
        work.round([*["k"] * plain, "k2tog"] * (work.count // (plain + 2)))
    draw_up(work)
    return work


def toe_up(hand: Hand = RIGHT) -> Work:
    """A closed cast-on, widened by lifted increases, with a bound-off cuff."""
    work = Work(hand=hand)
    closed_cast_on(work, 6)
    work.join_round()
    work.plain_rounds(1)
    for _ in range(3):
        half = work.count // 2
        work.round((["k", "m1r", *["k"] * (half - 2), "m1l", "k"]) * 2)
        work.plain_rounds(1)
    bind_off(work)
    return work


def fancy_tube(hand: Hand = RIGHT) -> Work:
    """Every decrease and increase of the table in one tube."""
    work = tube(24, 3, hand)
    work.round(["k2tog", "yo", "ssk", "yo", "k", "k"] * 4)
    work.plain_rounds(1)
    work.round(["cdd", "yo", "k", "yo", "kfb", "k"] * 4)
    work.round(["k"] * work.count)
    work.round(
        (["sk2p", "kpk", "k", "rdd"] * 8)[: 4 * (work.count // 8)] + ["k"] * (work.count % 8)
    )
    work.round(["k"] * (work.count % 3) + ["p3tog"] * (work.count // 3))
    work.round(["k", "m1l"] * work.count)
    work.round(["m1r", "k"] * work.count)
    work.plain_rounds(1)
    return work


def bound_off(how: str, hand: Hand = RIGHT, rows: int = 0) -> Work:
    """A tube of 12, or `rows` rows of 8, bound off."""
    work = flat(8, rows, hand=hand) if rows else tube(12, 5, hand)
    if how == "three needles":
        three_needle_bind_off(work)
    else:
        bind_off(work, how=how)
    return work


def cabled_tube(hand: Hand = RIGHT) -> Work:
    """Crossings of every kind round a tube, one above another, beside increases and slips."""
    work = tube(20, 2, hand)
    work.round(["2/2rc", "3/2lpc", "k", "1/2rc", "2/1lpc", "rt", "lt"])
    work.plain_rounds(1)
    work.round(["k", "3/3lc", "k2tog", "yo", "1/1rpc", "sl", "p", "k", "k", "1/4lc"])
    work.round(["2/2lc", "m1l", "2/2rc", "k", "k", "m1r", "lt"] + ["k"] * 8)
    work.plain_rounds(1)
    return work


PIECES: dict[str, Callable[[Hand], Work]] = {
    "tube": lambda hand: tube(16, 6, hand),
    "closed tube": closed_tube,
    "rows": lambda hand: flat(6, 6, "k", hand),
    "rows, first stitch slipped": lambda hand: flat(6, 6, "sl", hand),
    "heel held": lambda hand: forethought("held", hand=hand),
    "heel closed, waste in": lambda hand: forethought("heel", hand=hand),
    "heel, waste out": lambda hand: forethought("out", hand=hand),
    "heel, recaptured": lambda hand: forethought("recaptured", hand=hand),
    "sock, heel at once": lambda hand: forethought("sock", hand=hand),
    "sock, waste row in": lambda hand: afterthought("toe", hand=hand),
    "sock, heel opened later": lambda hand: afterthought("sock", hand=hand),
    "sock, flap": flap_and_gusset,
    "sock, plain flap": lambda hand: flap_and_gusset(hand, slip=False),
    "short rows, plain": lambda hand: short_rows("plain", hand),
    "short rows, wrapped": lambda hand: short_rows("wrap", hand),
    "short rows, double stitches": lambda hand: short_rows("double", hand),
    "tube with short rows": lambda hand: short_rows_in_tube("plain", hand),
    "tube with wraps": lambda hand: short_rows_in_tube("wrap", hand),
    "tube with wraps left alone": lambda hand: short_rows_in_tube("wrap, left alone", hand),
    "tube with double stitches": lambda hand: short_rows_in_tube("double", hand),
    "slip stitches": slip_stitch_tube,
    "star toe": star_toe,
    "toe up": toe_up,
    "increases and decreases": fancy_tube,
    "crossings": cabled_tube,
    "bound off": lambda hand: bound_off("plain", hand),
    "bound off, stretchy": lambda hand: bound_off("stretchy", hand),
    "three needles": lambda hand: bound_off("three needles", hand),
    "rows, bound off on the right side": lambda hand: bound_off("plain", hand, 3),
    "rows, bound off on the wrong side": lambda hand: bound_off("plain", hand, 2),
    "rows, stretchy on the wrong side": lambda hand: bound_off("stretchy", hand, 2),
}
