"""Check a certificate again, with networkx alone: ``python tests/certified.py FILE``.

A dart is one end of an edge: the loop that it leaves, or the crossing (``x``), the other end's
dart, a label. Rings give the darts round each, counter-clockwise; with a face on its left hand, a
walk that arrives leaves by the dart just before the one that it came by.
"""

# fmt: off
# ruff: noqa: E401, E701, I001
import json, struct, sys
from collections import Counter
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from typing import Any
import networkx as nx

YARN, PARENT, CHILD, LIVE, STATE = 1, 1024, 2048, 4096, 4096 | 8192  # what a label says
def problems(paper: dict[str, Any]) -> list[str]:
    """Return what does not hold; nothing for a certificate that says the truth."""
    darts, rings, states = paper["edges"], paper["rings"], paper["loops"]
    count, found, wrong = len(states), paper["found"], []
    def require(right: object, problem: str) -> None:
        if not right: wrong.append(problem)
    every, plain = range(len(darts)), [label & ~STATE for _, _, label in darts]
    require(sorted(d for ring in rings for d in ring) == list(every), "a dart in no ring, or two")
    require(all(d in every and darts[d][0] == n for n, r in enumerate(rings) for d in r), "rings")
    require(all(t in every and darts[t][1] == d != t for d, (_, t, _) in enumerate(darts)), "twins")
    if wrong: return wrong
    crossed = [[plain[d] for d in ring] for n, ring in enumerate(rings) if states[n] == "x"]
    require(all(sorted(r) == [4, 5, 6, 7] and r[0] ^ r[2] == 1 for r in crossed), "crossings")
    up, loops = [d for d in every if PARENT <= plain[d] < CHILD], count - len(crossed)
    if wrong: return wrong
    top = {d: upper_end(darts, rings, plain, d) for d in up}
    require(all(plain[top[d]] == plain[d] + CHILD - PARENT for d in up), "labels of twins")
    # Faces: V - E + C is 2 for each piece of the surface, and there are as many as stated.
    before = {d: ring[n - 1] for ring in rings for n, d in enumerate(ring)}
    follow = [before[darts[d][1]] for d in every]
    faces = list(nx.connected_components(nx.Graph(enumerate(follow))))
    surface = nx.Graph([(a, darts[t][0]) for a, t, _ in darts])
    surface.add_nodes_from(range(count))
    pieces, lone = nx.number_connected_components(surface), sum(not ring for ring in rings)
    told = [found[name] for name in ("loops", "edges", "cells", "pieces", "euler")]
    require(told == [loops, len(darts) // 2, len(faces) + lone, pieces, 2 * pieces], "numbers")
    require(count - len(darts) // 2 + len(faces) + lone == 2 * pieces, "V - E + C")
    sizes = Counter(map(len, faces))
    require({str(n): sizes[n] for n in sizes} == found["sizes"], "sizes of cells")
    require(not Counter(found["openings"]) - sizes, "openings that are no cells")
    require(paper["limits"]["openings"] in (None, len(found["openings"])), "number of openings")
    require(nx.check_planarity(surface)[0], "the graph without floats is not planar")
    # Yarn: simple paths, each loop on one of them, joined as the darts and floats say.
    require("x" not in states[:loops] and found["crossings"] == len(crossed), "crossing vertices")
    require(sorted(n for path in paper["strands"] for n in path) == list(range(loops)), "strands")
    yarn = {frozenset(edge) for path in paper["strands"] for edge in pairwise(path)}
    joined = {frozenset((darts[d][0], darts[darts[d][1]][0])) for d in every if plain[d] == YARN}
    require(yarn == joined | {frozenset(edge[:2]) for edge in paper["floats"]}, "yarn edges")
    # Through edges: an order of making exists, nothing is loose, grafts match loop with loop.
    through = [(darts[d][0], darts[top[d]][0]) for d in up]
    require(nx.is_directed_acyclic_graph(nx.DiGraph(through)), "loops drawn through each other")
    loose = {n for n, state in enumerate(states) if state == "."} - {a for a, _ in through}
    live = not loose and all((label & LIVE > 0) == (states[a] == "l") for a, _, label in darts)
    require(live and states.count("l") == found["live"], "loops loose or live")
    pairs = [(a, ("graft", b)) for a, b in through if states[b] == "g"]
    require(not pairs or nx.is_perfect_matching(nx.Graph(pairs), set(pairs)), "graft pairs")
    # The key: the digest of all pieces, numbered from where the certificate says.
    codes = sorted(code(darts, follow, starts, paper["floats"]) for starts in paper["starts"])
    bare = "".join(states[n] for n, ring in enumerate(rings) if not ring)
    alone = [len(bare) - bare.count("l") - bare.count("d"), bare.count("l"), bare.count("d"), 0]
    text = sha256(b"/".join(codes) + f"|{lone} alone: {alone}".encode()).hexdigest()
    require(paper["key"] == f"fabric-1:{text}", "the key is another fabric's")
    return wrong

def upper_end(darts: list[Any], rings: list[Any], plain: list[int], dart: int) -> int:
    """Return the dart at the upper end of an edge, past those that it crosses."""
    while plain[dart := darts[dart][1]] in (4, 6):
        dart = next(d for d in rings[darts[dart][0]] if plain[d] == plain[dart] + 1)
    return dart

def code(darts: list[Any], follow: list[int], starts: list[int], floats: list[Any]) -> bytes:
    """Return the darts of a piece as they are numbered from its starts, breadth first."""
    number = dict[int, int]()
    for start in starts:
        number[start], queue = len(number), [start]
        for dart in queue:  # which grows
            new = dict.fromkeys(d for d in (darts[dart][1], follow[dart]) if d not in number)
            number |= {d: len(number) + n for n, d in enumerate(new)}
            queue += new
    order = list(number)
    rows = zip(*([darts[d][2], number[darts[d][1]], number[follow[d]]] for d in order), strict=True)
    first = {darts[d][0]: number[d] for d in reversed(order)}
    ends = sorted([*sorted((first.get(a, -1), first.get(b, -1))), f]
                  for a, b, f in floats if a in first or b in first)
    flat = [int(entry) for row in (*rows, *ends) for entry in row]
    return struct.pack(f"<{len(flat)}i", *flat)

if __name__ == "__main__":
    listed = problems(json.loads(Path(sys.argv[1]).read_text("utf-8")))
    print("\n".join(f"wrong: {one}" for one in listed) or "everything stated holds")
    sys.exit(bool(listed))
