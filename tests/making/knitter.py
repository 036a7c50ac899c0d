"""A knitter who keeps their own books: two needles as plain lists, edges in a plain networkx graph.

The books share nothing with the package: here stitches stand on a left and a right needle and are
moved one by one, there they are one array with a cursor. Loops are numbered in the order in which
they come to be; lifted strands have numbers of their own, since the books don't know which strand
the needle picks.
"""

from __future__ import annotations

import pickle
from collections import Counter
from collections.abc import Callable, Sequence

import networkx as nx
import numpy as np

from loopwright.errors import LoopwrightError
from loopwright.fabric import STITCHES, Fabric, Kind
from loopwright.fabric.columns import FLOAT, GONE
from loopwright.making import (
    Hand,
    Work,
    bind_off,
    cast_on,
    closed_cast_on,
    draw_up,
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

Token = tuple[str, int]  # ("made", 3): the fourth loop made; ("lift", 0): the first strand lifted


def snapshot(work: Work) -> bytes:
    """Everything that `work` is, as bytes: equal before and after an operation that is refused."""
    state = dict(vars(work))
    columns = state.pop("columns")
    tables = [block.trimmed() for block in (columns.loops, columns.through, columns.beside)]
    plain = {
        name: sorted(value) if isinstance(value, set) else value for name, value in state.items()
    }
    plain.pop("stitches")
    flat = [(name, column.tolist()) for table in tables for name, column in table.items()]
    return pickle.dumps(repr((flat, plain)))


class Knitter:
    """A `Work` and the books beside it; every method does one thing to both and compares."""

    def __init__(self, hand: Hand = Hand.RIGHT) -> None:
        self.work = Work(hand=hand)
        self.left: list[Token] = []
        self.right: list[Token] = []
        self.in_rounds = False
        self.right_side = True
        self.yarn: str | None = None
        self.strands: dict[str, list[Token]] = {}
        self.edges = nx.MultiDiGraph()  # through edges
        self.held: dict[str, list[Token]] = {}
        self.wraps: dict[Token, list[Token]] = {}
        self.wrap_loops: set[Token] = set()
        self.closed: set[Token] = set()
        self.waste_on_wrong_side: set[str] = set()
        self.opened: dict[str, list[Token]] = {}
        self.made_on_right_side: dict[Token, bool] = {}
        self.fresh = False  # turned, and nothing passed since
        self.wrapped = False  # a wrap waits for its turn
        self.round_over = False  # rows began at a round's end, and nothing moved since
        self.made = self.lifted = 0
        self.gone: set[Token] = set()

    # The books ------------------------------------------------------------------------------

    def new(self, yarn: str | None = None) -> Token:
        token = ("made", self.made)
        self.made += 1
        name = self.yarn if yarn is None else yarn
        assert name is not None
        self.strands[name].append(token)
        if name == self.yarn:
            self.fresh = False
        self.edges.add_node(token)
        return token

    def lift(self) -> Token:
        token = ("lift", self.lifted)
        self.lifted += 1
        self.edges.add_node(token)
        return token

    def settle(self) -> None:
        """At the end of a round the next one begins."""
        self.round_over = False
        if self.in_rounds and not self.left:
            self.left, self.right = self.right, []

    @property
    def waiting(self) -> list[Token]:
        """What is to be worked in this round or row; after a hold at a round's end, the next."""
        return self.right if self.in_rounds and not self.left else self.left

    @property
    def count(self) -> int:
        return len(self.left) + len(self.right)

    @property
    def may_work(self) -> bool:
        return self.yarn is not None and not self.wrapped

    @property
    def is_lone(self) -> bool:
        """One stitch is all the round: there is none to turn back over."""
        return self.in_rounds and self.count == 1

    def ensure_yarn(self) -> None:
        if self.yarn is None:
            name = "main" if not self.strands else f"yarn {len(self.strands) + 1}"
            self.strands[name] = []
            self.yarn = name

    # Operations -----------------------------------------------------------------------------

    def refused(self, operation: Callable[[], object]) -> str | None:
        """The message if it is refused, and nothing changed then; None if it is done."""
        before = snapshot(self.work)
        try:
            operation()
        except LoopwrightError as error:
            message = str(error)
        else:
            return None
        assert snapshot(self.work) == before, "a refused operation left traces"
        return message

    def do(self, operation: Callable[[], object], books: Callable[[], None], legal: bool) -> bool:
        """Do it if it is legal and keep the books; else see it refused and nothing changed."""
        message = self.refused(operation)
        assert bool(legal) is (message is None), message or "an illegal operation was done"
        if legal:
            books()
            self.compare()
        return bool(legal)

    def stitches(self, keys: Sequence[str], *, with_wraps: bool = False) -> bool:
        rows = [STITCHES[key] for key in keys]
        takes = sum(row.takes for row in rows)
        legal = takes <= len(self.waiting) and self.may_work

        def books() -> None:
            if takes:
                self.settle()
            self.round_over = False
            for row in rows:
                parents = [self.left.pop(0) for _ in range(row.takes)]
                parents += [self.lift() for _ in range(row.lifts)]
                if row.kind is Kind.SLIPPED:
                    self.right += parents
                    self.fresh = False
                    continue
                wrapped = [w for parent in parents for w in self.wraps.pop(parent, [])]
                children = [self.new() for _ in range(row.makes)]
                self.right += children
                for child in children:
                    self.edges.add_edges_from((parent, child) for parent in parents)
                if with_wraps and children:  # with the loop on the side of the turn
                    for wrap in wrapped:
                        same = self.made_on_right_side[wrap] == self.right_side
                        self.edges.add_edge(wrap, children[0 if same else -1])
            if keys:
                self.settle()

        lifts = any(row.lifts for row in rows)
        if lifts and legal:  # whether a strand runs there the books cannot say
            message = self.refused(lambda: self.work.work(keys, with_wraps=with_wraps))
            if message is not None:
                assert "lift a strand" in message
                return False
            books()
            self.compare()
            return True
        return self.do(lambda: self.work.work(keys, with_wraps=with_wraps), books, legal)

    def turn(self) -> bool:
        """Turn; refused right after a wrap's or double stitch's own turn."""

        def books() -> None:
            self.left, self.right = self.right[::-1], self.left[::-1]
            self.right_side = not self.right_side
            self.fresh, self.wrapped = True, False
            if (self.in_rounds or self.round_over) and not self.left:
                self.left, self.right = self.right, []

        last = self.last_loop()
        return self.do(
            self.work.turn, books, self.count > 0 and not (self.fresh and last in self.wrap_loops)
        )

    def last_loop(self) -> Token | None:
        path = self.strands.get(self.yarn or "", [])
        return path[-1] if path else None

    def wrap(self) -> bool:
        def books() -> None:
            over = self.round_over
            self.settle()
            self.round_over = over
            wrap = self.new()
            self.wraps.setdefault(self.left[0], []).append(wrap)
            self.wrap_loops.add(wrap)
            self.made_on_right_side[wrap] = self.right_side
            self.wrapped = True

        legal = self.last_loop() is not None and bool(self.waiting) and not self.is_lone
        return self.do(self.work.wrap, books, legal and not self.wrapped and not self.fresh)

    def double_stitch(self) -> bool:
        """Make one, or see it refused; accepted only on the loop made last."""
        if self.refused(self.work.double_stitch) is not None:
            return False
        assert self.yarn is not None
        leg = self.left.pop(0)
        assert leg == self.strands[self.yarn][-1]
        parents = list(self.edges.predecessors(leg))
        stitches = [p for p in parents if p not in self.wrap_loops]
        assert len(stitches) == 1
        assert list(self.edges.successors(stitches[0])) == [leg]
        self.right.append(stitches[0])
        self.wraps[stitches[0]] = [*sorted(set(parents) - set(stitches)), leg]
        self.wrap_loops.add(leg)
        self.made_on_right_side[leg] = not self.right_side
        self.edges.remove_edges_from([(p, leg) for p in parents])
        self.settle()
        self.compare()
        return True

    def join_round(self) -> bool:
        def books() -> None:
            self.in_rounds = True
            self.settle()

        return self.do(self.work.join_round, books, not self.in_rounds and self.count > 0)

    def to_rows(self) -> bool:
        def books() -> None:
            self.round_over |= self.in_rounds and not self.right
            self.in_rounds = False

        return self.do(self.work.to_rows, books, not self.closed & {*self.left, *self.right})

    def cast_on(self, count: int) -> bool:
        def books() -> None:
            self.round_over = False
            self.ensure_yarn()
            self.right += [self.new() for _ in range(count)]

        return self.do(lambda: cast_on(self.work, count), books, count > 0 and not self.wrapped)

    def closed_cast_on(self, count: int) -> bool:
        def books() -> None:
            self.round_over = False
            self.ensure_yarn()
            loops = [self.new() for _ in range(2 * count)]
            self.right = loops[1::2][::-1] + loops[0::2]
            self.fresh = True
            self.closed |= set(loops)

        legal = count > 0 and not self.count and not self.wrapped
        return self.do(lambda: closed_cast_on(self.work, count), books, legal)

    def provisional_cast_on(self, count: int, name: str) -> bool:
        def books() -> None:
            self.round_over = False
            self.ensure_yarn()
            self.strands[name] = []
            waste = [self.new(name) for _ in range(count)]
            for parent in waste:
                child = self.new()
                self.edges.add_edge(parent, child)
                self.right.append(child)
            self.settle()

        legal = count > 0 and name not in self.strands and not self.wrapped
        return self.do(lambda: provisional_cast_on(self.work, count, name), books, legal)

    def waste_row(self, count: int, name: str) -> bool:
        def books() -> None:
            self.strands[name] = []
            if not self.right_side:
                self.waste_on_wrong_side.add(name)
            over = self.round_over
            self.settle()
            self.round_over = over
            below = [self.left.pop(0) for _ in range(count)]
            waste = [self.new(name) for _ in range(count)]
            self.edges.add_edges_from(zip(below, waste, strict=True))
            self.left = waste + self.left

        legal = 0 < count <= len(self.waiting) and name not in self.strands and not self.wrapped
        return self.do(lambda: waste_row(self.work, count, name), books, legal)

    def hold(self, count: int, name: str) -> bool:
        def books() -> None:
            self.settle()
            loops = [self.left.pop(0) for _ in range(count)]
            self.held[name] = loops if self.right_side else loops[::-1]

        legal = 0 < count <= len(self.waiting) and name not in self.held
        return self.do(lambda: hold(self.work, count, name), books, legal)

    def return_held(self, name: str, *, next_to_work: bool = False) -> bool:
        def books() -> None:
            self.put_ahead(self.held.pop(name), next_to_work=next_to_work)

        def operation() -> None:
            return_held(self.work, name, next_to_work=next_to_work)

        if name in self.held:  # whether strands would cross the books cannot say
            message = self.refused(operation)
            if message is not None:
                assert "the strands would cross" in message
                return False
            books()
            self.compare()
            return True
        return self.do(operation, books, legal=False)

    def put_ahead(self, loops: list[Token], *, next_to_work: bool) -> None:
        loops = loops if self.right_side else loops[::-1]
        self.left = loops + self.left if next_to_work else self.left + loops

    def opening(self, name: str) -> tuple[list[Token], list[Token]] | None:
        """The loops below and above a waste strand; None if it cannot come out."""
        waste = set(self.strands.get(name, [])) - self.gone
        live = {*self.left, *self.right, *(t for group in self.held.values() for t in group)}
        if not waste or waste & live or not name.startswith("waste"):
            return None
        below = [p for t in self.strands[name] for p in self.edges.predecessors(t)]
        if name in self.waste_on_wrong_side:
            below.reverse()
        above = sorted({c for t in waste for c in self.edges.successors(t)})
        if any(set(self.edges.predecessors(c)) - waste for c in above):
            return None
        return below, above

    def take_out(self, name: str) -> bool:
        opening = self.opening(name)

        def books() -> None:
            assert opening is not None
            self.remove(name)
            self.opened[name] = opening[1]
            if opening[0]:
                self.held[f"{name} below"] = opening[0]

        return self.do(lambda: take_out(self.work, name), books, opening is not None)

    def remove(self, name: str) -> None:
        self.gone |= set(self.strands[name])
        for token in self.strands[name]:
            self.wraps.pop(token, None)
        self.edges.remove_nodes_from(self.strands[name])

    def bind_off(self, count: int, how: str) -> bool:
        legal = 0 < count <= len(self.waiting) and self.may_work
        everything = count == self.count

        def books() -> None:
            last: Token | None = None
            self.settle()
            for _ in range(count):
                parent = self.left.pop(0)
                self.wraps.pop(parent, None)
                if last is not None and how == "stretchy":
                    stitch = self.new()
                    self.edges.add_edge(parent, stitch)
                    parent = stitch
                made = self.new()
                self.edges.add_edge(parent, made)
                if last is not None:
                    self.edges.add_edge(last, made)
                last = made
            if everything:
                self.yarn = None
            elif last is not None:
                self.right.append(last)
                self.settle()

        return self.do(lambda: bind_off(self.work, count, how=how), books, legal)

    def halves(self) -> tuple[list[Token], list[Token]]:
        around = self.left + self.right
        half = len(around) // 2
        return around[:half], around[half:][::-1]

    def close(self, how: str) -> bool:
        legal = self.may_work and self.count > 0
        if how != "draw up":
            legal = legal and self.count % 2 == 0
        near, far = self.halves()

        def books() -> None:
            if how == "graft":
                for pair in zip(near, far, strict=True):
                    for parent in pair:
                        self.edges.add_edge(parent, self.new())
            elif how == "three needles":
                last = None
                for pair in zip(near, far, strict=True):
                    made = self.new()
                    self.edges.add_edges_from((parent, made) for parent in pair)
                    if last is not None:
                        self.edges.add_edge(last, made)
                    last = made
            for stitch in self.left + self.right:
                self.wraps.pop(stitch, None)
            self.left, self.right = [], []
            self.yarn, self.round_over = None, False

        operations = {
            "graft": graft, "three needles": three_needle_bind_off, "draw up": draw_up,
        }  # fmt: skip
        return self.do(lambda: operations[how](self.work), books, legal)

    def join_yarn(self, name: str) -> bool:
        def books() -> None:
            self.strands[name] = []
            self.yarn = name
            self.fresh = False

        legal = name not in self.strands and not self.wrapped
        return self.do(lambda: self.work.join_yarn(name), books, legal)

    def change_to(self, name: str) -> bool:
        cut = {strand.name for strand in self.work.strands if strand.cut}

        def books() -> None:
            self.yarn = name
            path = self.strands[name]
            # Back at the stitch after which this yarn was turned, nothing was passed.
            self.fresh = bool(path) and self.work._line is not None and self.work._line.turned

        legal = name in self.strands and name not in cut and not self.wrapped
        return self.do(lambda: self.work.change_to(name), books, legal)

    def recapture(self, name: str, corner: str) -> bool:
        """Recapture, or see it refused; whether a strand runs there the books don't know."""
        opening = self.opening(name)
        if name in self.opened:
            opening = self.held.get(f"{name} below", []), self.opened[name]
        message = self.refused(lambda: recapture(self.work, name, corner=corner))
        if message is not None:
            known = ("no strand runs", "from both sides", "the strands would cross")
            assert opening is None or any(reason in message for reason in known)
            return False
        assert opening is not None
        below, above = opening
        if self.opened.pop(name, None) is None:
            self.remove(name)
        self.held.pop(f"{name} below", None)
        self.put_ahead(below + [self.lift() for _ in above], next_to_work=False)
        on_needles = self.tokens(self.work.live)
        lifts = [token for token in on_needles if token[0] == "lift"]
        assert len(on_needles) == self.count
        # The order of lifted strands is the surface's to judge: take it over.
        both = iter(lifts if self.right_side else lifts[::-1])
        self.left = [next(both) if t[0] == "lift" and t in lifts else t for t in self.left]
        self.compare()
        return True

    def pick_up(self, loops: list[int]) -> bool:
        tokens = self.tokens(np.array(loops, dtype=np.int32))

        def books() -> None:
            for parent in tokens:
                child = self.new()
                self.edges.add_edge(parent, child)
                self.right.append(child)
            if tokens:
                self.settle()

        return self.do(lambda: pick_up(self.work, loops), books, self.may_work)

    # Comparing ------------------------------------------------------------------------------

    def numbering(self) -> list[Token]:
        """The token of each id."""
        loops = self.work.columns.loops
        lift = self.work.stitches.code("lift")
        counts: Counter[str] = Counter()
        tokens: list[Token] = []
        for code in loops.stitch[: loops.size].tolist():
            kind = "lift" if code == lift else "made"
            tokens.append((kind, counts[kind]))
            counts[kind] += 1
        return tokens

    def tokens(self, ids: np.ndarray[tuple[int, ...], np.dtype[np.int32]]) -> list[Token]:
        numbering = self.numbering()
        return [numbering[loop] for loop in ids.tolist()]

    def compare(self) -> None:
        """The package and the books agree about needles, holders, edges and strands."""
        work, fabric = self.work, self.work.fabric()
        numbering = self.numbering()
        assert len(numbering) == self.made + self.lifted
        order = self.right + self.left if self.right_side else (self.right + self.left)[::-1]
        assert self.tokens(work.live) == order
        assert work.left == len(self.waiting)
        assert {n: self.tokens(g) for n, g in fabric.held.items()} == self.held
        assert work.yarn == self.yarn
        waiting: dict[Token, list[Token]] = {}
        for wrap, stitch in zip(fabric.wraps["wrap"], fabric.wraps["stitch"], strict=True):
            waiting.setdefault(numbering[stitch], []).append(numbering[wrap])
        assert waiting == {stitch: wraps for stitch, wraps in self.wraps.items() if wraps}
        through = Counter(
            (numbering[p], numbering[c])
            for p, c in zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True)
        )
        assert through == Counter((a, b) for a, b, _ in self.edges.edges)
        self.compare_strands(fabric, numbering)
        sound(fabric)

    def compare_strands(self, fabric: Fabric, numbering: list[Token]) -> None:
        names = [strand.name for strand in fabric.strands]
        paths: dict[str, list[Token]] = {name: [] for name in names}
        following = fabric.next.tolist()
        starts = set(fabric.ids.tolist()) - {b for b in following if b >= 0}
        for start in sorted(starts):
            name, loop = names[fabric.strand[start]], start
            assert not paths[name], f"strand {name} is in pieces"
            while loop >= 0:
                assert names[fabric.strand[loop]] == name
                paths[name].append(numbering[loop])
                loop = following[loop]
        made = {n: [t for t in path if t[0] == "made"] for n, path in paths.items()}
        assert made == {
            n: [] if set(path) & self.gone else path for n, path in self.strands.items()
        }


def sound(fabric: Fabric) -> None:
    """V - E + C = 2 for each piece; edges and yarn join loops that are there; the ledger counts."""
    ends = np.concatenate((fabric.parent, fabric.child, fabric.right, fabric.left))
    assert fabric.present[ends].all()
    assert fabric.present[fabric.next[fabric.next >= 0]].all()
    assert euler_excess(fabric) == 0, fabric.cell_sizes()
    if len(fabric.ledger):
        assert fabric.ledger[-1, 5] == len(fabric.live)
    for _, _, before, taken, made, after in fabric.ledger.tolist():
        assert before - taken + made == after


def euler_excess(fabric: Fabric) -> int:
    """V - E + C, less 2 for each connected piece: 0 without a mistake."""
    graph = nx.Graph()
    graph.add_nodes_from(fabric.ids.tolist())
    flags, following = fabric.flags.tolist(), fabric.next.tolist()
    graph.add_edges_from(
        (a, following[a])
        for a in fabric.ids.tolist()
        if following[a] >= 0 and not flags[a] & (FLOAT | GONE)
    )
    graph.add_edges_from(zip(fabric.parent.tolist(), fabric.child.tolist(), strict=True))
    graph.add_edges_from(zip(fabric.right.tolist(), fabric.left.tolist(), strict=True))
    return int(fabric.euler_characteristic - 2 * nx.number_connected_components(graph))
