"""From a graph to the columns of a fabric: what is given is checked, what follows is found.

A graph of one's own knows yarn and through edges and how each stitch faces; the rest follows from
them where it follows at all. Everything wrong is gathered, with its nodes, before it is refused.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from heapq import heappop, heappush
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final, TypeAlias

import numpy as np

from loopwright._late import LatePackage
from loopwright.errors import GraphError
from loopwright.fabric._from_graph_kinds import kinds_found, violations_of_stitches
from loopwright.fabric._from_graph_sides import doubtful, sides_found
from loopwright.fabric.columns import (
    BACK,
    CHAIN,
    CROSSED,
    DRAWN,
    EDGE,
    FACING,
    FASTENED,
    FLOAT,
    FLOAT_FRONT,
    LEFT_FLANK,
    OUTSIDE,
    TURNED,
)
from loopwright.fabric.stitches import Kind, StitchTable
from loopwright.file_reading import parse_json

__all__ = ["Doubts", "Given", "columns_of", "edges_of"]

if TYPE_CHECKING:
    import networkx as nx
else:
    nx = LatePackage("networkx")

_KINDS: Final = ("yarn", "through", "beside")
_LOOP_BITS: Final = {"turned": TURNED, "outside": OUTSIDE, "fastened": FASTENED, "drawn": DRAWN}
_EDGE_BITS: Final = {"edge": EDGE, "chain": CHAIN, "facing": FACING, "crossed": CROSSED}
_NODE_NUMBERS: Final = ("course", "place", "opened")
_EDGE_NUMBERS: Final = ("number", "rank", "taken")  # of which each may be left out
_MOST: Final = 2**31  # beyond all numbers of a column
_STRAND: Final = {"role": "working", "woven": (False, False), "cut": False}


Doubts: TypeAlias = list[tuple[Hashable, Hashable]]
"""Pairs of nodes whose sides, or the turn between them, contradict their rows."""


class Given:
    """A graph with its loops numbered in the order of making, and what is wrong with it."""

    def __init__(self, graph: nx.Graph) -> None:
        self.names: list[Hashable] = list(graph)
        self.violations: list[tuple[str, tuple[Hashable, ...]]] = []
        self.next: dict[Hashable, Hashable] = {}
        self.previous: dict[Hashable, Hashable] = {}
        self.yarn: dict[Hashable, dict[str, Any]] = {}
        self.through: list[tuple[Hashable, Hashable, dict[str, Any]]] = []
        self.beside: list[tuple[int, Hashable, Hashable]] = []
        self.data: dict[Hashable, dict[str, Any]] = dict(graph.nodes)
        self._sort(graph)

    def wrong(self, kind: str, problem: str, *nodes: Hashable) -> None:
        """Write down a violation."""
        self.violations.append((f"{kind}: {problem} ({_listed(nodes)})", nodes))

    def require_sound(self) -> None:
        """Raise what was written down, if anything was."""
        if self.violations:
            words, nodes = zip(*self.violations, strict=True)
            raise GraphError(words, nodes)

    def _sort(self, graph: nx.Graph) -> None:
        if not graph.is_directed():
            self.wrong("edges", "they must be directed: yarn runs from a loop to the next")
            return
        for node, data in graph.nodes(data=True):
            self._require_numbers(data, _NODE_NUMBERS, node)
        for a, b, data in graph.edges(data=True):
            self._require_numbers(data, _EDGE_NUMBERS, a, b)
        if self.violations:
            return
        for a, b, key, data in edges_of(graph):
            kind = key if key in _KINDS else data.get("kind")
            if kind not in _KINDS:
                found = f"kind is {kind!r}"
                if kind is None and isinstance(key, str):
                    found = f"key {key!r:.40} is unknown, and there is no attribute 'kind'"
                self.wrong("edges", f"{found}; expected yarn, through or beside", a, b)
            elif a == b:
                self.wrong(kind, "an edge leads from a loop to itself", a)
            elif kind == "yarn":
                self._add_yarn(a, b, data)
            elif kind == "through":
                self.through.append((a, b, data))
            else:
                told = data.get("number")
                number = len(self.beside) if told is None else int(told)
                self.beside.append((number, a, b))
        twice = _twice((a, b) for a, b, _ in self.through)
        for a, b in twice:
            self.wrong("through", "a loop is drawn through the same loop twice", a, b)
        self.beside.sort(key=lambda edge: edge[0])

    def _require_numbers(
        self, data: dict[str, Any], names: tuple[str, ...], *nodes: Hashable
    ) -> None:
        for name in names:
            told = data.get(name, 0)
            try:
                is_number = (told is None and len(nodes) > 1) or abs(int(told)) < _MOST
            except (TypeError, ValueError, OverflowError):
                is_number = False
            if not is_number:
                found = f"{told!r:.40}" if isinstance(told, str) else type(told).__name__
                self.wrong(name, f"found {found}, expected a whole number", *nodes)

    def _add_yarn(self, a: Hashable, b: Hashable, data: dict[str, Any]) -> None:
        if a in self.next:
            self.wrong(
                "yarn", f"it goes on from loop {a!r} in two ways; a yarn has one way through each "
                "loop", a, self.next[a], b,
            )  # fmt: skip
        elif b in self.previous:
            self.wrong(
                "yarn", f"two loops lead on to loop {b!r}; a yarn has one way through each loop",
                self.previous[b], a, b,
            )  # fmt: skip
        else:
            self.next[a], self.previous[b], self.yarn[a] = b, a, data

    # The order of making ----------------------------------------------------------------------

    def order(self) -> list[Hashable]:
        """Return the loops in an order of making, the one given if it is one."""
        before: list[tuple[Hashable, Hashable]] = [(a, b) for a, b, _ in self.through]
        for a, b in self.next.items():
            if self._is_lifted(b):
                before.append((a, b))
            elif self._is_lifted(a):
                before.append((b, a))
                first: Hashable | None = a
                while first is not None and self._is_lifted(first):
                    first = self.previous.get(first)
                if first is not None:
                    before.append((first, b))
            else:
                before.append((a, b))
        place = {name: number for number, name in enumerate(self.names)}
        if all(place[a] < place[b] for a, b in before):
            return self.names
        return self._sorted(before, place)

    def _is_lifted(self, loop: Hashable) -> bool:
        return bool(self.data[loop].get("stitch") == "lift")

    def _sorted(
        self, before: list[tuple[Hashable, Hashable]], place: dict[Hashable, int]
    ) -> list[Hashable]:
        """Sort topologically, the earliest given first."""
        after: dict[Hashable, list[Hashable]] = {}
        waits = dict.fromkeys(self.names, 0)
        for a, b in before:
            after.setdefault(a, []).append(b)
            waits[b] += 1
        ready = [place[name] for name in self.names if not waits[name]]
        found: list[Hashable] = []
        while ready:
            name = self.names[heappop(ready)]
            found.append(name)
            for other in after.get(name, ()):
                waits[other] -= 1
                if not waits[other]:
                    heappush(ready, place[other])
        if len(found) < len(self.names):
            left = set(self.names) - set(found)
            rings = nx.DiGraph([(a, b) for a, b in before if a in left and b in left])
            ring = [a for a, _ in nx.find_cycle(rings)]
            self.wrong("order", "each of these loops must be made before the next", *ring)
        return found


def edges_of(graph: nx.Graph) -> Iterable[tuple[Hashable, Hashable, Any, dict[str, Any]]]:
    """Return the edges of a graph, each with its key, None where it has none, and its data."""
    if graph.is_multigraph():
        return list(graph.edges(keys=True, data=True))
    return [(a, b, None, data) for a, b, data in graph.edges(data=True)]


def _twice(pairs: Iterable[tuple[Hashable, Hashable]]) -> list[tuple[Hashable, Hashable]]:
    seen: set[tuple[Hashable, Hashable]] = set()
    twice = []
    for pair in pairs:
        if pair in seen:
            twice.append(pair)
        seen.add(pair)
    return twice


def columns_of(
    graph: nx.Graph, stitches: StitchTable
) -> tuple[dict[str, Any], list[Hashable], Doubts, Given]:
    """Return the columns of a graph's fabric, its nodes in their order, and rows that look odd.

    What is wrong with single stitches stands in what was given: whether the edges make a surface
    can be told all the same.

    Raises
    ------
    GraphError
        Names every violation.
    """
    given = Given(graph)
    order = given.order()
    given.require_sound()
    columns = _Columns(given, order, graph.graph, stitches)
    return columns.all(), order, columns.doubts, given


class _Columns:
    """Fills the columns; it lives for one call."""

    def __init__(
        self, given: Given, order: list[Hashable], told: dict[str, Any], stitches: StitchTable
    ) -> None:
        self.given, self.order, self.told, self.table = given, order, told, stitches
        self.number = {name: number for number, name in enumerate(order)}
        self.data = [given.data[name] for name in order]
        self.doubts: Doubts = []
        self.below: dict[int, list[int]] = {}
        self.next = np.full(len(order), -1, dtype=np.int32)
        for a, b in given.next.items():
            self.next[self.number[a]] = self.number[b]
        self.previous = np.full(len(order), -1, dtype=np.int32)
        ends = np.flatnonzero(self.next >= 0)
        self.previous[self.next[ends]] = ends

    def all(self) -> dict[str, Any]:
        strand, strands = self._strands()
        edges = [(self.number[a], self.number[b], data) for a, b, data in self.given.through]
        self._require_faces(edges)
        sides, grafted = sides_found(
            self.given, self.order, self.next, self.previous, edges, self.data
        )
        self.given.require_sound()
        turned = self._turned(sides)
        pairs = doubtful(self.next.tolist(), edges, sides, turned, self.data)
        self.doubts = [(self.name(a), self.name(b)) for a, b in pairs]
        parent, child, info = self._through(edges, sides)
        self.given.require_sound()
        kinds = kinds_found(self, sides, parent, child, info, grafted)
        self.given.require_sound()
        violations_of_stitches(self, kinds, sides, parent, child, info)
        needles, held, live = self._carried(kinds, parent, sides, turned)
        return {
            "next": self.next, "strand": strand, "course": self._courses(parent, child, turned),
            "stitch": kinds, "flags": self._flags(sides, turned, kinds, parent, live),
            "parent": parent, "child": child, "info": info,
            "right": [self.number[a] for _, a, _ in self.given.beside],
            "left": [self.number[b] for _, _, b in self.given.beside],
            "strands": strands, "needles": needles, "held": held, "wraps": self._wraps(),
        }  # fmt: skip

    def name(self, loop: int) -> Hashable:
        """Return the node of a loop."""
        return self.order[loop]

    # Yarn -------------------------------------------------------------------------------------

    def _listed(self, name: str, usual: Any) -> Any:
        """Return what the graph says of all its loops, in JSON: a list, or lists by name."""
        try:
            told = parse_json(self.told[name]) if name in self.told else usual
        except (ValueError, TypeError, AttributeError):
            told = None
        inside = told.values() if isinstance(told, dict) else told
        kind = list if isinstance(usual, dict) else dict
        if type(told) is not type(usual) or not all(isinstance(one, kind) for one in inside):
            self.given.wrong(name, "the graph's attribute is not the JSON that was written")
            self.given.require_sound()
        return told

    def _strands(self) -> tuple[np.ndarray[Any, Any], list[dict[str, Any]]]:
        strands = [{"name": "", **_STRAND, **one} for one in self._listed("strands", [])]
        numbers = {one["name"]: number for number, one in enumerate(strands)}
        strand = np.zeros(len(self.order), dtype=np.int16)
        begun: dict[str, int] = {}
        for start in np.flatnonzero(self.previous < 0).tolist():
            path = self._path(start)
            told = [(loop, self.data[loop].get("strand")) for loop in path]
            names = {name: loop for loop, name in reversed(told) if name is not None}
            parted = [b for (_, one), (b, other) in pairwise(told) if one != other]
            if len(names) > 1:
                self.given.wrong(
                    "yarn", f"one yarn has the names {sorted(map(str, names))}",
                    *(self.name(loop) for loop in parted),
                )  # fmt: skip
            name = str(next(iter(names))) if names else _unused(begun)
            if name in begun:
                self.given.wrong(
                    "yarn", f"strand {name!r} is in pieces: give each a name of its own",
                    self.name(begun[name]), self.name(start),
                )  # fmt: skip
            begun[name] = start
            if name not in numbers:
                role = str(self.data[start].get("role", "working"))
                numbers[name] = len(strands)
                strands.append({"name": name, **_STRAND, "role": role})
            strand[path] = numbers[name]
        return strand, strands

    def _path(self, start: int) -> list[int]:
        path = [start]
        while self.next[path[-1]] >= 0:
            path.append(int(self.next[path[-1]]))
        return path

    # Edges ------------------------------------------------------------------------------------

    def _require_faces(self, edges: list[tuple[int, int, dict[str, Any]]]) -> None:
        for a, b, data in edges:
            face = data.get("face")
            if face not in ("k", "p"):
                found = "is missing" if face is None else f"is {face!r}"
                self.given.wrong(
                    "face", f"'face' {found} on a through edge: tell 'k' or 'p', as seen from "
                    "the right side", self.name(a), self.name(b),
                )  # fmt: skip
        self.given.require_sound()

    def _through(
        self, edges: list[tuple[int, int, dict[str, Any]]], sides: list[int]
    ) -> tuple[list[int], list[int], list[int]]:
        by_child: dict[int, list[tuple[int, dict[str, Any]]]] = {}
        for a, b, data in edges:
            by_child.setdefault(b, []).append((a, data))
        self.below = {child: [a for a, _ in above] for child, above in by_child.items()}
        rows = []
        for child in sorted(by_child):
            for a, data in self._in_order(child, by_child[child], sides):
                rows.append((a, child, self._info(a, child, data, len(by_child[child]))))
        parent, child_column, info = (list(column) for column in zip(*rows, strict=True)) if rows \
            else ([], [], [])  # fmt: skip
        return parent, child_column, info

    def _info(self, parent: int, child: int, data: dict[str, Any], many: int) -> int:
        rank = data.get("rank")
        if rank is None and many > 1:
            self.given.wrong(
                "rank", "'rank' is missing on a through edge: tell which parent lies on top, 0 "
                "for the uppermost", self.name(parent), self.name(child),
            )  # fmt: skip
        place = int(rank or 0)
        if not 0 <= place <= 7:
            self.given.wrong(
                "rank", f"rank is {place}, expected 0 to 7", self.name(parent), self.name(child)
            )
            place = 0
        bits = place | (BACK if data["face"] == "p" else 0)
        for name, bit in _EDGE_BITS.items():
            bits |= bit if data.get(name) else 0
        return bits

    def _in_order(
        self, child: int, parents: list[tuple[int, dict[str, Any]]], sides: list[int]
    ) -> list[tuple[int, dict[str, Any]]]:
        """Return the parents of a loop in the order in which they were taken."""
        if len(parents) == 1:
            return parents
        taken = [int(data["taken"]) for _, data in parents if data.get("taken") is not None]
        if len(taken) == len(parents):
            if sorted(taken) != list(range(len(taken))):
                self.given.wrong(
                    "taken", f"the parents of a loop are taken as {taken}, expected 0 to "
                    f"{len(taken) - 1}", self.name(child),
                )  # fmt: skip
            return sorted(parents, key=lambda edge: int(edge[1]["taken"]))
        last = [edge for edge in parents if edge[1].get("facing") or edge[1].get("chain")]
        last.sort(key=lambda edge: bool(edge[1].get("chain")))
        parents = [edge for edge in parents if edge not in last]
        if len(parents) < 2:
            return [*parents, *last]
        wraps = [edge for edge in parents if self.data[edge[0]].get("stitch") in ("wrap", "ds")]
        plain = [edge for edge in parents if edge not in wraps]
        chain = self._along_the_row([a for a, _ in plain], child, sides)
        if chain is None:
            self.given.wrong(
                "taken", "'taken' is missing: tell which of a loop's parents was taken first, 0 "
                "for that", self.name(child), *(self.name(a) for a, _ in parents),
            )  # fmt: skip
            return parents
        plain.sort(key=lambda edge: chain.index(edge[0]))
        for wrap in sorted(wraps, key=lambda edge: edge[0]):  # the newest outermost
            plain = [wrap, *plain] if sides[wrap[0]] == sides[child] else [*plain, wrap]
        return [*plain, *last]

    def _along_the_row(self, loops: list[int], child: int, sides: list[int]) -> list[int] | None:
        """Return loops in the order in which a row meets them, None where nothing tells it."""
        if len(loops) < 2:
            return loops
        first = [loop for loop in loops if int(self.previous[loop]) not in loops]
        path = first[:1]
        while path and int(self.next[path[-1]]) in loops:
            path.append(int(self.next[path[-1]]))
        if len(path) == len(loops):
            return path if sides[path[0]] == sides[child] else path[::-1]
        return self._over_a_gap(loops, child) if len(loops) == 2 else None

    def _over_a_gap(self, loops: list[int], child: int) -> list[int] | None:
        """The same for two that no yarn joins: the row comes from the one and goes to the other."""
        for row, comes_from in ((self.previous, True), (self.next, False)):
            beside = int(row[child])
            near = [
                loop
                for loop in loops
                if any(
                    other in (int(self.next[loop]), int(self.previous[loop]))
                    for other in self.below.get(beside, ())
                )
            ]
            if len(near) == 1:
                other = loops[1 - loops.index(near[0])]
                return [near[0], other] if comes_from else [other, near[0]]
        return None

    # Loops ------------------------------------------------------------------------------------

    def _turned(self, sides: list[int]) -> list[bool]:
        turned = []
        for loop, data in enumerate(self.data):
            after = int(self.next[loop])
            apart = after >= 0 and sides[after] != sides[loop]
            aside = {data.get("stitch"), self.data[after].get("stitch") if after >= 0 else None}
            found = apart and not aside & {"graft", "cc", "lift"}
            turned.append(bool(data.get("turned", found)))
        return turned

    def _flags(
        self, sides: list[int], turned: list[bool], kinds: list[int], parent: list[int],
        live: set[int],
    ) -> list[int]:  # fmt: skip
        flags = []
        above = set(parent)
        bound = self.table.of_kind(Kind.BOUND_OFF)
        for loop, data in enumerate(self.data):
            bits = LEFT_FLANK if sides[loop] < 0 else 0
            bits |= TURNED if turned[loop] else 0
            for name, bit in _LOOP_BITS.items():
                bits |= bit if name != "turned" and data.get(name) else 0
            ends = int(self.next[loop]) < 0 and loop not in above and loop not in live
            if "fastened" not in data and ends and bound[kinds[loop]]:
                bits |= FASTENED
            yarn = self.given.yarn.get(self.name(loop), {})
            bits |= FLOAT if yarn.get("float") else 0
            bits |= FLOAT_FRONT if yarn.get("front") else 0
            flags.append(bits)
        return flags

    def _courses(self, parent: list[int], child: list[int], turned: list[bool]) -> list[int]:
        """Return the courses: those given, or one above the highest below, never sinking."""
        if all("course" in data for data in self.data):
            return [int(data["course"]) for data in self.data]
        courses = [0] * len(self.order)
        edges: dict[int, list[int]] = {}
        for a, b in zip(parent, child, strict=True):
            edges.setdefault(b, []).append(a)
        for loop in range(len(self.order)):
            before = int(self.previous[loop])
            least = courses[before] + turned[before] if before >= 0 else 0
            above = max((courses[a] + 1 for a in edges.get(loop, ()) if a != before), default=0)
            courses[loop] = max(least, above)
        return courses

    def _carried(
        self, kinds: list[int], parent: list[int], sides: list[int], turned: list[bool]
    ) -> tuple[dict[str, list[int]], dict[str, list[int]], set[int]]:
        """Return what is on needles and holders, as given, or what nothing is drawn through.

        One loop alone, with others drawn through those on either side of it, was dropped.
        """
        told: dict[str, list[tuple[int, int]]] = {}
        above = set(parent)
        for loop, data in enumerate(self.data):
            if data.get("held"):
                place = int(data.get("place", loop))
                told.setdefault(str(data["held"]), []).append((place, loop))
                if loop in above:
                    self.given.wrong(
                        "live", f"it is carried on {data['held']!r}, and another loop is drawn "
                        "through it", self.name(loop),
                    )  # fmt: skip
        if any("held" in data for data in self.data):
            groups = {name: [loop for _, loop in sorted(loops)] for name, loops in told.items()}
            needles = {n: g for n, g in groups.items() if n.startswith("needle ")}
            held = {n: g for n, g in groups.items() if n not in needles}
            return needles, held, {loop for group in groups.values() for loop in group}
        aside = self.table.of_kind(Kind.WRAP, Kind.GRAFTED)
        bound = self.table.of_kind(Kind.BOUND_OFF)
        live = [
            loop
            for loop in range(len(self.order))
            if loop not in above
            and not self._is_dropped(loop, above, turned)
            and not aside[kinds[loop]]
            and not (bound[kinds[loop]] and int(self.next[loop]) < 0)
            and not self.data[loop].get("drawn")
            and not self.data[loop].get("fastened")
        ]
        if live and sides[live[-1]] < 0:
            live.reverse()
        return ({"needle 1": live} if live else {}), {}, set(live)

    def _is_dropped(self, loop: int, above: set[int], turned: list[bool]) -> bool:
        before, after = int(self.previous[loop]), int(self.next[loop])
        in_row = before >= 0 and after >= 0 and not turned[before] and not turned[loop]
        return in_row and before in above and after in above

    def _wraps(self) -> dict[str, list[int]]:
        told = self._listed("wraps", {})
        by_text = {str(name): number for number, name in enumerate(self.order)}
        return {
            name: [by_text[str(loop)] for loop in loops if str(loop) in by_text]
            for name, loops in told.items()
        }


def _listed(nodes: tuple[Hashable, ...]) -> str:
    """Return the first six nodes by name."""
    return ", ".join(map(repr, nodes[:6])) + (" ..." if len(nodes) > 6 else "")


def _unused(names: Iterable[str]) -> str:
    taken = set(names)
    if "main" not in taken:
        return "main"
    number = 2
    while f"yarn {number}" in taken:
        number += 1
    return f"yarn {number}"
