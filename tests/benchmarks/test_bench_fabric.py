"""The benchmark compares like with like, and the package is the faster; how much, it prints."""

from __future__ import annotations

import pytest

from benchmarks.bench_fabric import (
    bytes_per_loop,
    sock,
    sock_by_hand,
    sock_rows,
    tube,
    tube_by_hand,
)

pytestmark = pytest.mark.once
SMALL = (32, 8, 8, 12)


def test_both_sides_make_the_same_sock_and_find_the_same_cells() -> None:
    here, hand = sock(*SMALL), sock_by_hand(*SMALL)
    assert len(here) == len(hand.graph)
    assert here.cell_sizes() == dict(hand.cells())
    assert hand.questions(set())
    assert len(here.gaps(6)) == 2


def test_both_sides_make_the_same_tube() -> None:
    here, hand = tube(12, 9), tube_by_hand(12, 9)
    assert here.cell_sizes() == dict(hand.cells()) == {4: 107, 13: 2}


def test_questions_by_hand_notice_damage() -> None:
    """The other side's checks do their part, too: each edge taken away is noticed."""
    hand = sock_by_hand(*SMALL)
    edges = list(hand.graph.edges(keys=True))
    for edge in edges[:: len(edges) // 20]:
        hand.graph.remove_edge(*edge)
        data = {"rank": 0} if edge[2] == "through" else {}
        assert not hand.questions(set()) or hand.cells()[4] != sock(*SMALL).cell_sizes()[4]
        hand.graph.add_edge(*edge, **data)


def test_the_package_is_faster_and_small() -> None:
    for row in sock_rows(SMALL, 2):
        print(f"{row.what}: {row.ratio:.0f} times as fast as by hand")
        assert row.ratio > 1
    assert bytes_per_loop(tube(64, 100)) <= 40  # the aim; 22 where most loops are plain
