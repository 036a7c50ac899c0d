"""A fabric as GraphML and node-link JSON, which graph tools read."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Final

from loopwright._late import LatePackage
from loopwright.errors import FabricFileError
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.file_reading import parse_json

__all__ = ["brief", "from_graphml", "from_node_link", "to_graphml", "to_node_link"]

if TYPE_CHECKING:
    from xml.etree import ElementTree as ET

    import networkx as nx
else:
    ET = LatePackage("xml.etree.ElementTree")
    nx = LatePackage("networkx")

# A reader of XML and a graph of its own take some kilobytes a loop. Marks, loops, edges.
_MOST: Final = {"<": 3_200_000, "<node": 60_000, "<edge": 240_000}
_TAGS: Final = ("<node", "<edge", "<data", "<key", "<graph", "</", "<?", "<!")


def _is_too_large(text: str) -> bool:
    """Tell whether a document holds more than any fabric's, before a reader makes objects of it."""
    if any(text.count(begin) > most for begin, most in _MOST.items()):
        return True
    strange = text.count("<") - sum(text.count(tag) for tag in _TAGS)
    fields = text.count("<data") - 24 * (text.count("<node") + text.count("<edge"))
    return strange > 1000 or fields > 1000


def to_graphml(fabric: Fabric) -> str:
    """Return a fabric as GraphML, an exchange format that graph tools read; see `from_graphml`.

    Edge keys become edge ids (``0-1-yarn``); what carries a loop is an empty word where nothing
    does, since GraphML knows no absent value.
    """
    graph = fabric.graph
    for _, attributes in graph.nodes(data=True):
        attributes["held"] = attributes["held"] or ""
    for a, b, key, attributes in graph.edges(keys=True, data=True):
        attributes["id"] = f"{a}-{b}-{key}"
    return "\n".join(nx.generate_graphml(graph, named_key_ids=True, edge_id_from_attribute="id"))


def from_graphml(text: str, *, stitches: StitchTable = STITCHES) -> Fabric:
    """Return the fabric that a GraphML document describes, one of `to_graphml` or of your own.

    Raises
    ------
    FabricFileError
        The text is no GraphML.
    GraphError
        The graph is no fabric, as by `Fabric.from_graph`.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 4)
    >>> fabric = work.fabric()
    >>> from_graphml(to_graphml(fabric)) == fabric
    True
    """
    if _is_too_large(text):
        raise FabricFileError(
            "the document", "it is larger than any that is read",
            "hand the graph over by `Fabric.from_graph`",
        )  # fmt: skip
    try:
        graph = nx.parse_graphml(text, force_multigraph=True)
    except (ET.ParseError, nx.NetworkXException, KeyError, ValueError) as error:
        raise FabricFileError(
            "the document", f"the text is no GraphML ({brief(error)})", "save the graph again"
        ) from error
    return Fabric.from_graph(graph, stitches=stitches)


def to_node_link(fabric: Fabric) -> str:
    """Return a fabric as node-link JSON, which graph tools of many languages read."""
    return json.dumps(nx.node_link_data(fabric.graph, edges="links"))


def from_node_link(text: str, *, stitches: StitchTable = STITCHES) -> Fabric:
    """Return the fabric that node-link JSON describes; raises as `from_graphml` does.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 4)
    >>> fabric = work.fabric()
    >>> from_node_link(to_node_link(fabric)) == fabric
    True
    """
    try:
        graph = nx.node_link_graph(parse_json(text), edges="links")
    except (ValueError, KeyError, TypeError, AttributeError, nx.NetworkXException) as error:
        raise FabricFileError(
            "the document", f"the text is no node-link JSON ({brief(error)})",
            "save the graph again",
        ) from error  # fmt: skip
    return Fabric.from_graph(graph, stitches=stitches)


def brief(error: BaseException) -> str:
    """Return the first line of what an error says."""
    text = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
    return " ".join(text.split()).rstrip(".")[:120] or type(error).__name__
