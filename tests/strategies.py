"""Strategies that others build on: fabrics of every kind, made by hands at random."""

from __future__ import annotations

from hypothesis import strategies as st

from fabric.pieces import PIECES
from loopwright.fabric import STITCHES, Fabric
from loopwright.making import Hand, Work, bind_off, cast_on, draw_up, graft

KEYS = ("k", "k", "k", "p", "k2tog", "ssk", "yo", "kfb", "m1l", "m1r", "sl", "slf", "cdd",
        "2/1rpc", "2/2lc", "lt")  # fmt: skip


def worked(work: Work, keys: list[str], largest: int = 16) -> None:
    """Work those of the stitches for which there is room, then knit to the end."""
    size, room, run = work.count, work.left, []
    for key in keys:
        row = STITCHES[key]
        if row.takes <= room and size + row.change <= largest and not row.lifts:
            room -= row.takes
            size += row.change
            run.append(key)
    work.work([*run, *["k"] * room])


@st.composite
def small_fabrics(draw: st.DrawFn) -> Fabric:
    """A few rounds or rows of random stitches, closed or still on the needles."""
    work = Work(hand=draw(st.sampled_from(Hand)))
    cast_on(work, draw(st.integers(1, 8)))
    in_rounds = draw(st.booleans())
    if in_rounds:
        work.join_round()
    for keys in draw(st.lists(st.lists(st.sampled_from(KEYS), max_size=8), max_size=5)):
        if not in_rounds:
            work.turn()
        worked(work, keys)
    end = draw(st.sampled_from(("live", "bind off", "draw up", "graft")))
    if end == "bind off" and work.left:
        bind_off(work, work.left)
    elif end == "draw up":
        draw_up(work)
    elif end == "graft" and work.count % 2 == 0:
        graft(work)
    return work.fabric()


@st.composite
def pieces(draw: st.DrawFn) -> Fabric:
    """One of the pieces that tests look at by name, in either hand."""
    name = draw(st.sampled_from(sorted(PIECES)))
    return PIECES[name](draw(st.sampled_from(Hand))).fabric()


def fabrics() -> st.SearchStrategy[Fabric]:
    """Small random fabrics, and now and then a whole piece."""
    return st.one_of(small_fabrics(), small_fabrics(), small_fabrics(), pieces())
