"""What a graph may leave out: it follows from the rest, or is asked for, or comes out as plain.

For each piece a letter says what came of each of `LEFT_OUT`: ``=`` the same fabric, ``~`` the same
with other words for it (a stitch that lies alike, an order of making, the edge's outside), ``!``
refused, since nothing tells it, ``/`` another fabric, where what is left out alone tells a slip, a
twist or a cast-on from what is plain.
"""

from __future__ import annotations

import pytest

from fabric.pieces import PIECES
from loopwright.errors import GraphError
from loopwright.fabric import Fabric, same_fabric
from loopwright.making import Hand

LEFT_OUT = (
    ("stitch",), ("side",), ("turned",), ("outside",), ("course",), ("place", "held"),
    ("fastened",), ("rank",), ("taken",), ("stitch", "turned"), ("stitch", "side"),
    ("stitch", "side", "turned", "course", "taken", "strand"),
)  # fmt: skip
RIGHT, LEFT = Hand
EXPECTED = {
    ("rows", RIGHT): "==~~=====~=~",
    ("rows", LEFT): "~=~~=====~~~",
    ("rows, first stitch slipped", RIGHT): "==~~=====~=~",
    ("tube with wraps", RIGHT): "~!==~==!=~!!",
    ("tube with wraps", LEFT): "~!==~==!=~!!",
    ("tube with wraps left alone", LEFT): "~===~====~~~",
    ("slip stitches", RIGHT): "/===~====///",
    ("slip stitches", LEFT): "/!==~====/!!",
    ("toe up", RIGHT): "/!~~===!=/!!",
    ("increases and decreases", RIGHT): "/===~==!=///",
    ("increases and decreases", LEFT): "/!==~==!=/!!",
    ("crossings", RIGHT): "!!=====!=!!!",
    ("bound off", RIGHT): "=======!====",
    ("bound off", LEFT): "~======!=~~~",
    ("bound off, stretchy", RIGHT): "====~==!===~",
    ("bound off, stretchy", LEFT): "~===~==!=~~~",
    ("rows, bound off on the wrong side", RIGHT): "===~===!====",
    ("three needles", LEFT): "~======!=~~~",
    ("short rows, wrapped", RIGHT): "~==~===!=~~!",
    ("star toe", LEFT): "~======!=~~~",
    ("tube with double stitches", RIGHT): "~!==~==!=~!!",
}


def without(fabric: Fabric, names: tuple[str, ...]) -> Fabric:
    """A fabric made from a graph without these attributes, but for the side of its first loop."""
    graph = fabric.graph
    for _, data in graph.nodes(data=True):
        for name in names:
            data.pop(name, None)
    for _, _, data in graph.edges(data=True):
        for name in names:
            data.pop(name, None)
    first = int(fabric.ids[0])
    graph.nodes[first]["side"] = int(fabric.side[first])
    return Fabric.from_graph(graph)


def what_comes_of(fabric: Fabric, names: tuple[str, ...]) -> str:
    try:
        again = without(fabric, names)
    except GraphError:
        return "!"
    return "=" if again == fabric else "~" if same_fabric(again, fabric) else "/"


@pytest.mark.parametrize(("name", "hand"), EXPECTED)
def test_what_is_left_out_is_found_or_asked_for(name: str, hand: Hand) -> None:
    fabric = PIECES[name](hand).fabric()
    found = "".join(what_comes_of(fabric, names) for names in LEFT_OUT)
    assert found == EXPECTED[name, hand]
