"""Random legal operations keep every invariant; random illegal ones change nothing.

What is legal is what hands can do: stitches that were held come back where they were, an opening is
recaptured when the needles are free, a holder's stitches don't change places with others. (The
package lets a knitter cross stitches by way of holders; the surface check then says so.)
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from loopwright.errors import CannotWorkError, CountError, LoopwrightError
from loopwright.fabric import STITCHES, check
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    edge_loops,
    graft,
    hold,
    pick_up,
    recapture,
    return_held,
    take_out,
    waste_row,
)
from making.knitter import Knitter, snapshot, sound

PLAIN = ("k", "p", "ktbl", "ptbl")
DECREASES = ("k2tog", "ssk", "p2tog", "ssp", "k3tog", "sssk", "cdd", "sk2p", "rdd")
INCREASES = ("yo", "kfb", "pfb", "kpk")
LIFTS = ("m1l", "m1r", "m1lp")
SLIPS = ("sl", "slk", "slf", "slkf")
KEYS = st.lists(
    st.sampled_from(("k", "k", *PLAIN, *DECREASES, *INCREASES, *LIFTS, *SLIPS, *SLIPS)),
    min_size=1,
    max_size=6,
)
LARGEST = 18  # stitches; more adds time and no new neighbourhoods


def ready(machine: Knitting) -> bool:
    """Whether there is something to work and yarn to work it with."""
    k = machine.k
    return bool(k.waiting) and k.may_work


class Knitting(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self.k = Knitter()

    @initialize(hand=st.sampled_from(Hand), count=st.integers(1, 9), how=st.integers(0, 3))
    def start(self, hand: Hand, count: int, how: int) -> None:
        self.k = Knitter(hand)
        if how == 0:
            self.k.closed_cast_on(count)
            self.k.join_round()
        elif how == 1:
            self.k.provisional_cast_on(count, "waste 0")
        else:
            self.k.cast_on(count)

    # Working --------------------------------------------------------------------------------

    @precondition(ready)
    @rule(keys=KEYS, with_wraps=st.booleans())
    def some_stitches(self, keys: list[str], with_wraps: bool) -> None:
        room, size, run = len(self.k.waiting), self.k.count, []
        for key in keys:
            row = STITCHES[key]
            if row.takes <= room and size + row.change <= LARGEST:
                room -= row.takes
                size += row.change
                run.append(key)
        if run:
            self.k.stitches(run, with_wraps=with_wraps)

    @precondition(ready)
    @rule(with_wraps=st.booleans(), key=st.sampled_from(PLAIN))
    def to_the_end(self, with_wraps: bool, key: str) -> None:
        self.k.stitches([key] * len(self.k.waiting), with_wraps=with_wraps)

    @precondition(lambda self: self.k.count)
    @rule()
    def turn(self) -> None:
        self.k.turn()

    @precondition(ready)
    @rule()
    def wrap_and_turn(self) -> None:
        if self.k.wrap():
            self.k.turn()

    @precondition(ready)
    @rule()
    def turn_with_double_stitch(self) -> None:
        if self.k.turn() and self.k.waiting:
            self.k.double_stitch()

    @precondition(lambda self: self.k.count and not self.k.in_rounds and not self.k.held)
    @rule()
    def join(self) -> None:
        self.k.join_round()

    @precondition(lambda self: not self.k.held)
    @rule()
    def to_rows(self) -> None:
        self.k.to_rows()

    # More and fewer needles -----------------------------------------------------------------

    @precondition(lambda self: self.k.count < LARGEST and not self.k.wrapped)
    @rule(count=st.integers(1, 3), provisional=st.booleans())
    def cast_on_more(self, count: int, provisional: bool) -> None:
        if provisional:
            self.k.provisional_cast_on(count, f"waste {len(self.k.strands)}")
        else:
            self.k.cast_on(count)

    @precondition(ready)
    @rule(part=st.integers(0, 9))
    def knit_in_waste(self, part: int) -> None:
        self.k.waste_row(1 + part % len(self.k.waiting), f"waste {len(self.k.strands)}")

    @precondition(ready)
    @rule(part=st.integers(0, 9))
    def hold_and_return_at_once(self, part: int) -> None:
        self.k.hold(1 + part % len(self.k.waiting), "holder")
        self.k.return_held("holder", next_to_work=True)

    @precondition(lambda self: ready(self) and not self.k.in_rounds and not self.k.held)
    @rule(part=st.integers(0, 9))
    def hold_the_end_of_the_row(self, part: int) -> None:
        count = 1 + part % len(self.k.waiting)
        if self.k.stitches(["k"] * (len(self.k.waiting) - count)):
            self.k.hold(count, "front" if self.k.right_side else "back")

    @precondition(lambda self: self.k.held and not self.k.in_rounds)
    @rule()
    def return_to_the_end_of_the_row(self) -> None:
        name = "front" if self.k.right_side else "back"
        if name in self.k.held:
            self.k.return_held(name)

    @precondition(lambda self: ready(self) and len(self.k.held) < 3)
    @rule(part=st.integers(0, 9), name=st.sampled_from(("one", "two")))
    def hold_anywhere(self, part: int, name: str) -> None:
        if name not in self.k.held:
            self.k.hold(1 + part % len(self.k.waiting), name)

    @precondition(lambda self: not {"one", "two"}.isdisjoint(self.k.held))
    @rule(name=st.sampled_from(("one", "two")), next_to_work=st.booleans())
    def return_anywhere(self, name: str, next_to_work: bool) -> None:
        if name in self.k.held:
            self.k.return_held(name, next_to_work=next_to_work)

    @precondition(lambda self: not self.k.count and {"front", "back"}.isdisjoint(self.k.held))
    @rule(which=st.integers(0, 9), corner=st.sampled_from(("first", "last")), first=st.booleans())
    def open_waste(self, which: int, corner: str, first: bool) -> None:
        can = [name for name in self.k.strands if name.startswith("waste") and self.k.opening(name)]
        if can:
            name = can[which % len(can)]
            if first:
                self.k.take_out(name)
            if self.k.yarn is None:
                self.k.join_yarn(f"yarn {len(self.k.strands) + 1}")
            self.k.recapture(name, corner)

    # Yarns and closings ---------------------------------------------------------------------

    @precondition(lambda self: self.k.count and not self.k.wrapped)
    @rule()
    def new_yarn(self) -> None:
        self.k.join_yarn(f"yarn {len(self.k.strands) + 1}")

    @precondition(lambda self: self.k.count and not self.k.wrapped)
    @rule(which=st.integers(0, 9))
    def other_yarn(self, which: int) -> None:
        uncut = [s.name for s in self.k.work.strands if not s.cut and s.name != self.k.yarn]
        if uncut:
            self.k.change_to(uncut[which % len(uncut)])

    @precondition(ready)
    @rule(part=st.integers(0, 9), how=st.sampled_from(("plain", "stretchy")))
    def bind_off_some(self, part: int, how: str) -> None:
        self.k.bind_off(1 + part % len(self.k.waiting), how)

    @precondition(lambda self: self.k.count and self.k.may_work and not self.k.held)
    @rule(how=st.sampled_from(("graft", "three needles", "draw up")))
    def close(self, how: str) -> None:
        self.k.close(how)  # refused for an odd number, except drawing up

    @precondition(lambda self: self.k.count)
    @rule(places=st.lists(st.integers(0, LARGEST), max_size=3))
    def arrange(self, places: list[int]) -> None:
        cuts = [0, *sorted(min(place, self.k.count) for place in places), self.k.count]
        counts = [b - a for a, b in pairwise(cuts)]
        self.k.work.arrange(counts)
        assert self.k.work.needle_counts == tuple(counts)

    # Refusals -------------------------------------------------------------------------------

    @rule(more=st.integers(1, 3))
    def ask_for_what_is_not_there(self, more: int) -> None:
        k, work = self.k, self.k.work
        too_many = len(k.waiting) + more
        size = work.columns.loops.size
        asked: list[Callable[[], object]] = [
            lambda: work.work(["k"] * too_many),
            lambda: work.work(["k", "knot"]),
            lambda: work.row(["k"] * too_many),
            lambda: work.round(["k"] * too_many),
            lambda: bind_off(work, too_many),
            lambda: bind_off(work, 0),
            lambda: bind_off(work, how="loosely"),
            lambda: hold(work, too_many, "spare"),
            lambda: hold(work, 0, "spare"),
            lambda: waste_row(work, too_many, "spare"),
            lambda: return_held(work, "nowhere"),
            lambda: take_out(work, "nowhere"),
            lambda: take_out(work, "main"),
            lambda: recapture(work, "nowhere"),
            lambda: recapture(work, "waste 0", corner="middle"),
            lambda: cast_on(work, 0),
            lambda: cast_on(work, 2, how="by magic"),
            lambda: pick_up(work, [size]),
            lambda: pick_up(work, [-1]),
            lambda: edge_loops(work, "top", first_course=0, last_course=1),
            lambda: work.state_count(k.count + more),
            lambda: work.arrange([k.count + more]),
            lambda: work.to_marker("nowhere"),
            lambda: work.change_to("nowhere"),
            lambda: work.join_yarn("main") if "main" in k.strands else work.change_to("main"),
        ]
        before = snapshot(work)
        for ask in asked:
            with pytest.raises(LoopwrightError):
                ask()
            assert snapshot(work) == before

    @invariant()
    def needles_add_up(self) -> None:
        assert sum(self.k.work.needle_counts) == self.k.count

    def teardown(self) -> None:
        self.k.compare()
        # What a knitter may leave in the midst of work is no mistake of the package: separate
        # pieces, waste yarn still in, loops that wait for recapture, a graft into waste taken out.
        # Whether all lies on spheres `sound` has asked already.
        left = {"connected", "waste", "surface"}
        left |= {"secured"} if self.k.opened else set()
        left |= {"grafts"} if self.k.gone else set()
        report = check(self.k.work.fabric())
        assert {finding.kind for finding in report.mistakes} <= left, report


Knitting.TestCase.settings = settings(stateful_step_count=20)
TestKnitting = Knitting.TestCase


@given(
    hand=st.sampled_from(Hand),
    count=st.integers(2, 8),
    rows=st.integers(2, 9),
    first=st.sampled_from(("sl", "k", "slf")),
    rounds=st.integers(0, 2),
)
def test_stitches_picked_up_along_both_edges_of_a_flap(
    hand: Hand, count: int, rows: int, first: str, rounds: int
) -> None:
    """One stitch an edge loop; the flap becomes a cup without a hole between old and new."""
    work = Work(hand=hand)
    cast_on(work, count)
    work.turn()
    for number in range(2 * (rows // 2) + 1):
        face = "k" if number % 2 else "p"
        work.row([first if number else face, *[face] * (count - 1)])
    work.work(["k"] * count)  # across, to the left edge
    near, far = ("left", "right") if hand is Hand.RIGHT else ("right", "left")
    edges = {
        edge: edge_loops(work, edge, first_course=0, last_course=work.course - 1)
        for edge in (near, far)
    }
    pick_up(work, edges[near][::-1])
    work.turn()
    work.work(["p"] * work.left)
    pick_up(work, edges[far][::-1])
    work.turn()
    for _ in range(2 * rounds):
        work.row(["k" if work.right_side_facing else "p"] * work.left)
    assert work.count == count + sum(map(len, edges.values()))
    sound(work.fabric())
    assert work.fabric().gaps(6) == ()


@given(hand=st.sampled_from(Hand), each=st.integers(1, 6), odd=st.booleans())
def test_a_graft_needs_two_equal_halves(hand: Hand, each: int, odd: bool) -> None:
    work = Work(hand=hand)
    cast_on(work, 2 * each + odd)
    work.join_round()
    work.plain_rounds(1)
    before = snapshot(work)
    if odd:
        with pytest.raises(CountError) as refusal:
            graft(work)
        assert (refusal.value.found, refusal.value.live) == (2 * each + 1, 2 * each + 1)
        assert snapshot(work) == before
    else:
        graft(work)
        sound(work.fabric())
        with pytest.raises(CannotWorkError) as refusal_of_yarn:
            work.work(["k"])
        assert "no yarn is joined" in str(refusal_of_yarn.value)
