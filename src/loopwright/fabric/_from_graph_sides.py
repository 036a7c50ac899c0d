"""On which flank of its yarn each loop is worked: given, or found from the rows it stands in.

Of two loops that follow each other on a yarn, drawn through two neighbours, both were worked the
way that the neighbours' yarn runs, or both against it. So sides hang together, and are found once
one of them is known; a loop drawn through the one before it was worked after a turn.
"""

from __future__ import annotations

from collections.abc import Hashable
from typing import Any

import numpy as np

from loopwright.fabric._from_graph_kinds import Complaints

__all__ = ["doubtful", "grafted_loops", "sides_found"]


class _Together:
    """Loops whose sides are known relative to each other."""

    def __init__(self, size: int) -> None:
        self._root = list(range(size))
        self._sign = [1] * size

    def find(self, loop: int) -> tuple[int, int]:
        """Return the loop that stands for all of these, and the side relative to it."""
        path = []
        while self._root[loop] != loop:
            path.append(loop)
            loop = self._root[loop]
        sign = 1
        for one in reversed(path):
            sign *= self._sign[one]
            self._root[one], self._sign[one] = loop, sign
        return loop, sign

    def join(self, a: int, b: int, sign: int) -> bool:
        """Say that b's side is `sign` times a's; False if that contradicts what is known."""
        (root_a, sign_a), (root_b, sign_b) = self.find(a), self.find(b)
        if root_a == root_b:
            return sign_a * sign_b == sign
        self._root[root_b], self._sign[root_b] = root_a, sign_a * sign_b * sign
        return True


def sides_found(
    given: Complaints,
    order: list[Hashable],
    following: np.ndarray[Any, Any],
    previous: np.ndarray[Any, Any],
    edges: list[tuple[int, int, dict[str, Any]]],
    data: list[dict[str, Any]],
) -> tuple[list[int], set[int]]:
    """Return +1 or -1 for each loop, and the loops of grafts.

    Where the sides contradict each other is written down.
    """
    told = [one.get("side") for one in data]
    for loop, side in enumerate(told):
        if side not in (None, 1, -1):
            given.wrong("side", f"side is {side!r}, expected 1 or -1", order[loop])
    way, grafted = following.tolist(), grafted_loops(following.tolist(), edges)
    if None not in told:
        return [1 if side == 1 else -1 for side in told], grafted
    together, wrong = _joined(len(order), way, edges, grafted)
    if wrong and not any(data[loop].get("stitch") == "graft" for loop in grafted):
        # What looked like a graft may be a loop drawn through the wrong one.
        plainly = _joined(len(order), way, edges, set())
        if not plainly[1]:
            (together, wrong), grafted = plainly, set()
    for a, b in wrong:
        given.wrong(
            "side", "rows that run both ways at once: look at what these loops are drawn "
            "through", order[a], order[b],
        )  # fmt: skip
    known: dict[int, int] = {}
    for loop, side in enumerate(told):
        if side is not None:
            root, sign = together.find(loop)
            if known.setdefault(root, side * sign) != side * sign:
                given.wrong("side", "the side given contradicts the rows round it", order[loop])
    sides = [known.get(root, 1) * sign for root, sign in map(together.find, range(len(order)))]
    return sides, grafted


def _joined(
    size: int, following: list[int], edges: list[tuple[int, int, dict[str, Any]]], grafted: set[int]
) -> tuple[_Together, list[tuple[int, int]]]:
    """Return which sides hang together, and pairs of loops where they contradict each other."""
    together = _Together(size)
    relations, softly = _relations(following, edges, grafted)
    wrong = [(a, b) for a, b, sign in relations if not together.join(a, b, sign)]
    for a, b in softly:
        together.join(a, b, 1)  # unless it is known that they are not alike
    return together, wrong


def doubtful(
    following: list[int],
    edges: list[tuple[int, int, dict[str, Any]]],
    sides: list[int],
    turned: list[bool],
    data: list[dict[str, Any]],
) -> list[tuple[int, int]]:
    """Return pairs of loops whose sides, or the turn between them, contradict their rows.

    That can be meant, where yarns change or stitches cross; where the edges then make no surface,
    it is the place to look at.
    """
    turns = []
    for loop, after in enumerate(following):
        kinds = {data[loop].get("stitch"), data[after].get("stitch")}
        plain = after >= 0 and not kinds & {"graft", "cc", "lift"}
        if plain and (sides[loop] != sides[after]) != turned[loop]:
            turns.append((loop, after))
    if turns:
        return turns
    plainly = [edge for edge in edges if data[edge[0]].get("stitch") not in ("wrap", "ds", "lift")]
    relations, _ = _relations(following, plainly, grafted_loops(following, plainly))
    return [(a, b) for a, b, sign in relations if sides[a] * sides[b] != sign]


def _relations(
    following: list[int], edges: list[tuple[int, int, dict[str, Any]]], grafted: set[int]
) -> tuple[list[tuple[int, int, int]], list[tuple[int, int]]]:
    """Return pairs of loops whose sides follow from each other, and pairs that may be alike."""
    drawn = _drawn(edges)
    chained = {b for _, b, told in edges if told.get("chain")}
    sure: list[tuple[int, int, int]] = []
    softly: list[tuple[int, int]] = []
    for loop, after in enumerate(following):
        if after < 0:
            continue
        if loop in drawn.get(after, ()):
            # Worked into the stitch made last: after a turn, or bound off in a stretchy way.
            sure.append((loop, after, 1 if after in chained else -1))
            continue
        in_graft = loop in grafted and after in grafted
        other = following[after] if in_graft else after
        pair = _way(drawn.get(loop, []), drawn.get(other, []), following) if other >= 0 else None
        if pair:
            below, sign = pair
            sure += [(below, loop, sign), (below, other, sign)]
        if not in_graft:
            softly.append((loop, after))
    return sure, softly


def _drawn(edges: list[tuple[int, int, dict[str, Any]]]) -> dict[int, list[int]]:
    drawn: dict[int, list[int]] = {}
    for a, b, told in edges:
        if not (told.get("edge") or told.get("chain") or told.get("facing")):
            drawn.setdefault(b, []).append(a)
    return drawn


def grafted_loops(following: list[int], edges: list[tuple[int, int, dict[str, Any]]]) -> set[int]:
    """Return the loops of grafts: drawn by turns through two rows that face each other."""
    drawn = _drawn(edges)
    found: set[int] = set()
    for loop, after in enumerate(following):
        beyond = following[after]
        if not all(len(drawn.get(one, ())) == 1 for one in (loop, after, beyond)):
            continue  # nor is anything drawn where the yarn leads on to none, -1
        if loop in drawn[after] or after in drawn[beyond]:
            continue
        if _way(drawn[loop], drawn[beyond], following):
            found |= {loop, after, beyond}
    return found


def _way(one: list[int], two: list[int], following: list[int]) -> tuple[int, int] | None:
    """Return a parent, and whether the row runs along the parents' yarn (+1) or against it."""
    for a in one:
        for b in two:
            if following[a] == b:
                return a, 1
            if following[b] == a:
                return a, -1
    return None
