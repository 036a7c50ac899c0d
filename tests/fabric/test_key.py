"""Canonical keys and differences, against isomorphism searched for by networkx."""

from __future__ import annotations

from hashlib import sha256

import attrs
import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabric.pieces import PIECES, tube
from fabric.test_queries import renumbered
from loopwright.fabric import STITCHES, Fabric, crossing, difference, same_fabric
from loopwright.fabric._maps import twists
from loopwright.fabric.columns import BACK, CROSSED, DRAWN, FLOAT, FLOAT_FRONT, RANK
from loopwright.making import Hand, Work, cast_on, graft, hold
from strategies import fabrics, small_fabrics


def drawn_out(fabric: Fabric) -> nx.MultiDiGraph:
    """Every dart and every loop as a node, so that only networkx decides what is the same."""
    graph, surface = nx.MultiDiGraph(), fabric.surface
    live, n, t = set(fabric.live.tolist()), len(fabric.next), len(fabric.parent)
    for loop in fabric.ids.tolist():
        drawn = bool(fabric.flags[loop] & DRAWN)
        graph.add_node(("loop", loop), what=("loop", loop in live, drawn))
    for vertex in range(surface.crossings):
        graph.add_node(("loop", n + vertex), what=("crossing",))
    for dart in np.flatnonzero(surface.valid).tolist():
        what: tuple[object, ...] = ("yarn",)
        if surface.origin[dart] >= n:
            place, vertex = divmod(dart - 2 * (n + t + len(fabric.right)), surface.crossings)
            what = ("down", "up")[place % 2], (place < 2) == bool(surface.left_over[vertex])
        elif dart >= 2 * n + 2 * t:
            what = ("left" if dart < 2 * n + 2 * t + len(fabric.right) else "right",)
        elif dart >= 2 * n:
            edge = (dart - 2 * n) % t
            twist = fabric.stitch_of(int(fabric.child[edge])).twist
            info = int(fabric.info[edge])
            if info & CROSSED:  # the depth is told where the edges cross
                info &= ~(CROSSED | RANK)
            what = ("up" if dart < 2 * n + t else "down", info, twist)
        graph.add_node(dart, what=what)
    for dart in np.flatnonzero(surface.valid).tolist():
        graph.add_edge(dart, int(surface.twin[dart]), kind="twin")
        graph.add_edge(dart, int(surface.follow[dart]), kind="follow")
        graph.add_edge(dart, ("loop", int(surface.origin[dart])), kind="at")
    for loop in fabric.ids[(fabric.flags[fabric.ids] & FLOAT) != 0].tolist():
        if fabric.next[loop] >= 0:
            front = bool(fabric.flags[loop] & FLOAT_FRONT)
            ends = ("loop", loop), ("loop", int(fabric.next[loop]))
            graph.add_edge(*ends, kind=("float", front))
            graph.add_edge(*ends[::-1], kind=("float", front))
    return graph


def isomorphic(one: Fabric, other: Fabric) -> bool:
    a, b = drawn_out(one), drawn_out(other)
    if len(a) != len(b) or a.number_of_edges() != b.number_of_edges():
        return False

    def kinds(edges: dict[int, dict[str, object]]) -> list[str]:
        return sorted(str(edge["kind"]) for edge in edges.values())

    return bool(
        nx.is_isomorphic(
            a,
            b,
            node_match=lambda x, y: x["what"] == y["what"],
            edge_match=lambda x, y: kinds(x) == kinds(y),
        )
    )


@st.composite
def changed(draw: st.DrawFn, fabric: Fabric) -> Fabric:
    """The same fabric with other numbers, and perhaps one thing in it changed."""
    order = draw(st.permutations(range(len(fabric.flags))))
    other = renumbered(fabric, order)
    what = draw(st.sampled_from(("nothing", "face", "state", "front", "float", "twist")))
    loop = draw(st.sampled_from(range(len(other.flags))))
    flags, info, stitch = other.flags.copy(), other.info.copy(), other.stitch.copy()
    if what == "face" and len(info):
        info[draw(st.sampled_from(range(len(info))))] ^= BACK
    elif what == "state":
        flags[loop] ^= DRAWN
    elif what == "front":
        flags[loop] ^= FLOAT_FRONT
    elif what == "float":
        flags[loop] ^= FLOAT
    elif what == "twist":
        key = other.stitches.rows[stitch[loop]].key
        swap = {"k": "ktbl", "ktbl": "k", "p": "ptbl", "ptbl": "p"}
        stitch[loop] = other.stitches.code(swap.get(key, key))
    return attrs.evolve(other, flags=flags, info=info, stitch=stitch)


@given(small_fabrics().filter(lambda fabric: len(fabric) <= 30), st.data())
def test_keys_are_equal_exactly_where_networkx_finds_an_isomorphism(
    fabric: Fabric, data: st.DataObject
) -> None:
    other = data.draw(changed(fabric))
    same = isomorphic(fabric, other)
    assert (fabric.canonical_key == other.canonical_key) == same
    assert same_fabric(fabric, other) == same
    assert (difference(fabric, other) is None) == same


@given(small_fabrics(), small_fabrics())
def test_two_fabrics_part_at_loops_that_they_have(one: Fabric, other: Fabric) -> None:
    found = difference(one, other)
    assert (found is None) == (one.canonical_key == other.canonical_key)
    if found is not None:
        assert found.one is not None or found.other is not None
        for fabric, loop in ((one, found.one), (other, found.other)):
            assert loop is None or fabric.require(loop) == loop
        assert found.problem
        assert str(found).startswith(found.place or found.other_place)


@given(fabrics(), st.data())
def test_a_stitch_changed_is_where_the_fabrics_part(fabric: Fabric, data: st.DataObject) -> None:
    """One edge drawn through to the other side: the place is its loop, in both orders."""
    if not len(fabric.info):
        return
    edge = data.draw(st.sampled_from(range(len(fabric.info))))
    info = fabric.info.copy()
    info[edge] ^= BACK
    other = attrs.evolve(fabric, info=info)
    found = difference(fabric, other)
    if found is None:  # the change is a likeness of the whole
        assert isomorphic(fabric, other)
        return
    if len(fabric) > 60:  # in small fabrics a likeness may stand elsewhere
        child, parent = int(fabric.child[edge]), int(fabric.parent[edge])
        assert found.one in (child, parent)
        assert found.one == found.other
    back = difference(other, fabric)
    assert back is not None


@pytest.mark.parametrize("hand", Hand)
@pytest.mark.parametrize("name", PIECES)
def test_pieces_have_keys_of_their_own(name: str, hand: Hand) -> None:
    fabric = PIECES[name](hand).fabric()
    order = np.random.default_rng(1).permutation(len(fabric.flags))
    if not len(fabric.held) and (fabric.flags & 16).sum() == 0:
        assert renumbered(fabric, order.tolist()).canonical_key == fabric.canonical_key
    mirrored = PIECES[name](Hand.LEFT if hand is Hand.RIGHT else Hand.RIGHT).fabric()
    assert fabric.canonical_key != mirrored.canonical_key
    assert difference(fabric, mirrored) is not None


def test_keys_stay_as_they_are_from_version_to_version() -> None:
    """Kept in studies and files: another text would part what is the same."""
    assert tube(16, 6).fabric().canonical_key == (
        "fabric-1:9b32983af01a30a00c27bbf8b1202b30616e9c5943fdc460a0b3ea249d5d6235"
    )
    assert PIECES["slip stitches"](Hand.RIGHT).fabric().canonical_key == (
        "fabric-1:b873d6a23d8cde66947e315dc3544755650a0bfab1a55c3ddbf793fc9fc32c1c"
    )
    keys = "\n".join(made(hand).fabric().canonical_key for made in PIECES.values() for hand in Hand)
    assert sha256(keys.encode()).hexdigest() == (
        "e779534b914dae84ab892b5b7a2bcd58ac5d52f89ab193d6111a08728557a06a"
    )


def test_what_is_drawn_up_is_not_what_is_on_the_needles() -> None:
    live = tube(8, 3).fabric()
    held = tube(8, 3)
    hold(held, 8, "holder")
    assert same_fabric(live, held.fabric())  # what carries the loops doesn't matter
    up = attrs.evolve(live, flags=live.flags | np.where(live.course == 2, DRAWN, 0))
    found = difference(live, attrs.evolve(up, needles={}))
    assert found is not None
    assert found.problem == "live in the one, drawn up in the other"
    assert found.one == 16


def test_the_earliest_place_is_told_in_words() -> None:
    def made(third: list[str]) -> Fabric:
        work = tube(12, 3)
        work.round(third)
        work.plain_rounds(3)
        return work.fabric()

    plain = made(["k"] * 12)
    for keys, problem in (
        (["k", "k", "p", *["k"] * 9], "knit in the one, purl in the other"),
        (["k", "k", "ktbl", *["k"] * 9], "not twisted in the one, twisted to the left in the"),
        (["k", "k", "k2tog", *["k"] * 8], "drawn through 1 loop in the one, drawn through 2"),
    ):
        found = difference(plain, made(keys))
        assert found is not None
        assert (found.one, found.other) == (38, 38)
        assert found.problem.startswith(problem)
        assert found.place.endswith("course 3, stitch 3 of 12: loop 38 (k, main)")
    lean = difference(made(["k2tog", *["k"] * 10]), made(["ssk", *["k"] * 10]))
    assert lean is not None
    assert lean.problem == "loop 2 of 2 on top in the one, loop 1 of 2 on top in the other"


def test_a_piece_more_and_a_float_elsewhere_are_told_too() -> None:
    def strips(number: int) -> Fabric:
        work = Work()
        for _ in range(number):
            cast_on(work, 4)
            work.join_round()
            graft(work)
            work.to_rows()
        return work.fabric()

    more = difference(strips(2), strips(1))
    assert more is not None
    assert more.problem == "a loop in the one and none in the other"
    fewer = difference(strips(1), strips(2))
    assert fewer is not None
    assert fewer.one is None
    assert fewer.problem == "a loop in the other and none in the one"
    slipped = []
    for key in ("sl", "slf"):
        work = tube(8, 3)
        work.round(["k", key, *["k"] * 6])
        work.plain_rounds(1)
        slipped.append(work.fabric())
    found = difference(*slipped)
    assert found is not None
    assert found.problem == "a float behind after it in the one and not in the other"


def test_a_loop_by_itself_is_live_or_drawn_up_or_both_or_neither() -> None:
    work = Work()
    cast_on(work, 1)
    fabric = work.fabric()
    states = [
        attrs.evolve(fabric, needles=needles, flags=[drawn])
        for needles in ({}, {"needle 1": [0]})
        for drawn in (0, DRAWN)
    ]
    assert len({one.canonical_key for one in states}) == 4


def test_pieces_that_only_a_float_joins_are_all_in_the_key() -> None:
    """Of a cast-on, parted by floats: as many loops before each as after it, or others."""

    def parted(*sizes: int) -> Fabric:
        work = Work()
        cast_on(work, sum(sizes))
        flags = np.zeros(sum(sizes), dtype=np.uint8)
        flags[np.cumsum(sizes)[:-1] - 1] = FLOAT
        return attrs.evolve(work.fabric(), flags=flags, needles={})

    two = [(a, b) for a in range(2, 6) for b in range(2, 6)]
    three = [(a, b, c) for a in range(2, 4) for b in range(2, 4) for c in range(2, 4)]
    keys = {sizes: parted(*sizes).canonical_key for sizes in (*two, *three)}
    assert len(set(keys.values())) == len({min(sizes, sizes[::-1]) for sizes in keys})
    for sizes, key in keys.items():
        assert key == keys[sizes[::-1]]  # from its other end it is the same
        fabric = parted(*sizes)
        for seed in range(3):
            order = np.random.default_rng(seed).permutation(sum(sizes)).tolist()
            assert renumbered(fabric, order).canonical_key == key


@pytest.mark.parametrize("twist", ["l--", "-r-", "--l", "rl-"])
@pytest.mark.parametrize("before", range(3))
def test_each_loop_of_a_crossing_has_its_own_twist(twist: str, before: int) -> None:
    """Three crossings, two of them side by side; untwisted ones part where the first twist is."""
    fabrics = []
    for each in (twist, "---"):
        own = crossing("own", 1, 2, "left", faces="kkk", twist="" if each == "---" else each)
        work = Work(stitches=STITCHES.with_stitch(own))
        cast_on(work, 12)
        work.join_round()
        work.round([*["k"] * before, "own", "own", "k", "own", *["k"] * (2 - before)])
        work.plain_rounds(1)
        fabrics.append(work.fabric())
    ways = [{"-": 0, "l": 1, "r": 2}[one] for one in twist]
    plain, other = [0] * before, [0] * (2 - before)
    assert twists(fabrics[0]).tolist()[12:24] == [*plain, *ways, *ways, 0, *ways, *other]
    found = difference(*fabrics)
    assert found is not None
    first = next(place for place, way in enumerate(ways) if way)
    way = ("", "left", "right")[ways[first]]
    assert found.problem == f"twisted to the {way} in the one, not twisted in the other"
    assert found.one in (12 + before + first, 12 + before + 3 + first)


def with_one_stitch(key: str) -> Fabric:
    """The third stitch of the third round, of 12, is of this kind; loop 26 lies below it."""
    work = tube(12, 3)
    work.round(["k", "k", key, *["k"] * (10 - STITCHES[key].takes)])
    work.plain_rounds(3)
    return work.fabric()


PARTED = {
    "k p": (38, 38, "knit in the one, purl in", "purl in the one, knit in"),
    "k ktbl": (38, 38, "not twisted in the one, twisted to the left", "twisted to the left in"),
    "k kfb": (
        26,
        26,
        "1 loop is drawn through it in the one, 2",
        "2 loops are drawn through it",
    ),
    "k sl": (26, 26, "the loops round it are joined", "the loops round it are joined"),
    "p ssk": (38, 38, "drawn through 1 loop in the one", "drawn through 2 loops in the one"),
    "k2tog ssk": (38, 38, "loop 2 of 2 on top in the one", "loop 1 of 2 on top in the one"),
    "p sl": (38, 49, "purl in the one, knit in", "knit in the one, purl in"),
    "sl slf": (
        37,
        37,
        "a float behind after it in the one",
        "a float in front after it",
    ),
    "k 1/1lc": (26, 38, "stitches cross in the other", "stitches cross in the one"),
    "1/1lc 1/1rc": (
        38,
        38,
        "stitches cross, those in front going l",
        "stitches cross, those in",
    ),
    "1/1lc sl": (39, 49, "one of a crossing in the one", "none of a crossing in the one"),
}


@pytest.mark.parametrize("keys", PARTED)
def test_where_fabrics_part_is_the_same_the_other_way_round(
    keys: str,
) -> None:
    *loops, here, elsewhere = PARTED[keys]
    one, other = map(with_one_stitch, keys.split())
    there, back = difference(one, other), difference(other, one)
    assert there is not None
    assert back is not None
    assert (there.one, there.other) == (back.other, back.one) == tuple(loops)
    for found, said in zip((there, back), (here, elsewhere), strict=True):
        assert found.problem.startswith(str(said))
        assert f": loop {found.one} (" in found.place
        assert f": loop {found.other} (" in found.other_place


def test_two_pieces_part_where_the_second_does() -> None:
    def pouches(key: str) -> Fabric:
        work = Work()
        for yarn, count, middle in (("main", 8, "k"), ("other", 10, key)):
            work.join_yarn(yarn)
            cast_on(work, count)
            work.join_round()
            work.round(["k", "k", middle, *["k"] * (count - 3)])
            work.plain_rounds(12)
            graft(work)
            work.to_rows()
        return attrs.evolve(work.fabric(), right=[], left=[])

    found = difference(pouches("k"), pouches("p"))
    assert found is not None
    assert found.problem == "knit in the one, purl in the other"
    assert found.one == found.other == 15 * 8 + 10 + 2  # 14 courses and a graft come before it
