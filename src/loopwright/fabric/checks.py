"""Invariants of a fabric, each a function that returns findings; `check` gathers them.

A finding names the loops, says where they are and what to do. A *mistake* means that such a fabric
can't exist, or won't hold. A *blemish* (a gap, a long float, a tail not woven in) is a matter of
choice and leaves `Report.ok` true.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.fabric._floats import passed
from loopwright.fabric._place import finding, place_in_words
from loopwright.fabric._queries import closings
from loopwright.fabric._report import Flaw, Limits, Report
from loopwright.fabric._slits import slits
from loopwright.fabric._stitch_checks import (
    check_beside,
    check_courses,
    check_marks,
    check_stitches,
    check_wraps,
)
from loopwright.fabric.columns import DRAWN, FASTENED, FLOAT, GONE, LEFT_FLANK
from loopwright.fabric.fabric import Fabric
from loopwright.fabric.stitches import Kind
from loopwright.plurals import plural

__all__ = [
    "CHECKS",
    "Flaw",
    "Limits",
    "Report",
    "check",
    "check_beside",
    "check_connected",
    "check_counts",
    "check_courses",
    "check_floats",
    "check_gaps",
    "check_grafts",
    "check_marks",
    "check_order",
    "check_secured",
    "check_slits",
    "check_stitches",
    "check_strands",
    "check_surface",
    "check_tails",
    "check_waste",
    "check_wraps",
    "place_in_words",
]


def check_counts(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Live before - taken + made = live after, at each step; and what is live is what is left."""
    ledger = fabric.ledger
    if not len(ledger):
        return
    op, ids, before, taken, made, after = ledger.T
    unsaid = fabric.kinds(Kind.WRAP)[int(ids[-1]) :]  # a wrap is no step
    if before[0] != 0 or ids[-1] > len(fabric.flags) or not unsaid.all():
        yield finding(
            fabric, "counts", [], f"the steps make loops {before[0]} to {ids[-1]} of "
            f"{len(fabric.flags)}", "look for steps lost at the beginning or the end",
        )  # fmt: skip
    wrong = np.flatnonzero(before - taken + made != after)
    steps = ledger[op != 6]
    broken = np.flatnonzero(steps[1:, 2] != steps[:-1, 5])
    for row in wrong[:1].tolist():
        yield finding(
            fabric, "counts", [], f"step {row}: {before[row]} - {taken[row]} + {made[row]} is not "
            f"{after[row]}", "recount this step",
        )  # fmt: skip
    for row in broken[:1].tolist():
        yield finding(
            fabric, "counts", [], f"step {row + 1} begins with {steps[row + 1, 2]} live loops and "
            f"the one before ended with {steps[row, 5]}", "look for a stitch lost in between",
        )  # fmt: skip
    live = int(after[-1])
    if live != len(fabric.live) or len(set(fabric.live.tolist())) != len(fabric.live):
        yield finding(
            fabric, "counts", fabric.live[:1],
            f"{plural(len(fabric.live), 'loop', be=True)} live and the steps leave {live}",
            "look for a stitch dropped or counted twice",
        )  # fmt: skip
    yield from _recounted(fabric, op, ids, taken, made)


def _recounted(
    fabric: Fabric,
    op: NDArray[np.int32],
    ids: NDArray[np.int32],
    taken: NDArray[np.int32],
    made: NDArray[np.int32],
) -> Iterator[Flaw]:
    """Compare each step's numbers with the loops and edges that it left in the graph."""
    size = len(fabric.flags)
    # Loops that are never on a needle: they need nothing through them.
    aside = fabric.kinds(Kind.WRAP, Kind.GRAFTED) | ((fabric.flags & FASTENED) != 0)
    bounds = np.concatenate(([0], ids))
    born = np.concatenate(([0], np.cumsum(~aside)))
    at = np.clip(bounds, 0, size)
    found_made = np.diff(born[at])
    parent, child = fabric.parent[::-1], fabric.child[::-1]
    first_child = np.full(size, size, dtype=np.int32)
    # Written from the last edge to the first, the earliest child stays.
    if len(fabric.removed):
        parent = np.concatenate((parent, fabric.removed[::-1, 0]))
        child = np.concatenate((child, fabric.removed[::-1, 1]))
        order = np.argsort(-child, kind="stable")
        parent, child = parent[order], child[order]
    first_child[parent] = child
    first_child[aside] = size
    gone = np.concatenate(([0], np.cumsum(np.bincount(first_child, minlength=size)[:size])))
    found_taken = np.diff(gone[at])
    made = np.where((op == 4) | (op == 5), 0, made)  # drawn up, or taken out: no loops are made
    wrong = np.flatnonzero((op < 6) & ((found_made != made) | (found_taken > taken) & (op != 2)))
    for row in wrong[:1].tolist():
        loops = np.arange(bounds[row], min(bounds[row + 1], size))
        yield finding(
            fabric, "counts", loops[:1],
            f"step {row} says {taken[row]} taken and {made[row]} made; the fabric shows "
            f"{found_taken[row]} and {found_made[row]}", "look for a loop lost or worked twice",
        )  # fmt: skip


def check_secured(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """No loop is loose: each has a loop through it, or is carried, fastened or drawn up.

    In a finished piece nothing is carried any more. Where every yarn is cut, live loops wait for
    another one, or were forgotten.
    """
    size = len(fabric.flags)
    held = np.zeros(size, dtype=np.bool_)
    held[fabric.parent] = True
    held[fabric.live] = True
    held |= (fabric.flags & (GONE | FASTENED | DRAWN)) != 0
    loose = np.flatnonzero(~(held | fabric.kinds(Kind.WRAP, Kind.GRAFTED)))
    if len(loose):
        yield finding(
            fabric, "secured", loose,
            f"{plural(len(loose), 'loop', be=True)} loose: nothing is drawn through, nothing "
            "carries", "put on a needle and work, or secure, whatever is loose",
        )  # fmt: skip
    live = plural(len(fabric.live), "loop", be=True) + " live"
    if len(fabric.live) and limits.is_finished(fabric):
        yield finding(
            fabric, "secured", fabric.live, f"{live}{_on_holders(fabric)} in a finished piece",
            "bind off, graft or draw up whatever is live",
        )  # fmt: skip
    elif len(fabric.live) and limits.finished is None and _all_cut(fabric):
        yield finding(
            fabric, "secured", fabric.live, f"{live}{_on_holders(fabric)} and every yarn is cut",
            "join a yarn and work on, or close what was forgotten", is_mistake=False,
        )  # fmt: skip
    drawn = np.zeros(size, dtype=np.bool_)
    drawn[fabric.child] = True
    need = fabric.kinds(Kind.WORKED, Kind.BOUND_OFF, Kind.GRAFTED) & fabric.present
    hanging = np.flatnonzero(need & ~drawn)
    if len(hanging):
        lifted = fabric.kinds(Kind.LIFTED)
        before, after = fabric.previous[hanging], fabric.next[hanging]
        caught = ((before >= 0) & lifted[before]) | ((after >= 0) & lifted[after])
        hanging = hanging[~caught]
    if len(hanging):
        yield finding(
            fabric, "secured", hanging,
            f"{plural(len(hanging), 'loop', be=True)} held from below by the strand alone, drawn "
            "through nothing", "recapture the strands there",
        )  # fmt: skip


def _on_holders(fabric: Fabric) -> str:
    """Return the holders that carry loops, in words."""
    names = [repr(name) for name, loops in fabric.held.items() if len(loops)]
    return f" (on {', '.join(names)})" if names else ""


def _all_cut(fabric: Fabric) -> bool:
    return all(strand.cut for strand in fabric.strands if strand.role != "waste")


def check_strands(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Each strand is one simple path from its first loop to its last."""
    following, strand = fabric.next, fabric.strand
    present = fabric.present
    has_next = np.flatnonzero((following >= 0) & present)
    onward = following[has_next]
    outside = has_next[~present[onward]]
    if len(outside):
        yield finding(
            fabric, "strands", outside, "the yarn leads to a loop that isn't there",
            "the strand is cut here: join it or end it",
        )  # fmt: skip
        return
    crossed = has_next[strand[has_next] != strand[onward]]
    if len(crossed):
        yield finding(
            fabric, "strands", crossed, "the yarn changes its strand between two loops",
            "end the one strand and join the other",
        )  # fmt: skip
    indegree = np.bincount(onward, minlength=len(following))
    forked = np.flatnonzero(indegree > 1)
    if len(forked):
        yield finding(
            fabric, "strands", forked, "two loops lead on to the same loop",
            "a yarn has one way through each loop: follow it and mend",
        )  # fmt: skip
        return
    starts = np.flatnonzero(present & (indegree == 0))
    counts = np.bincount(strand[starts], minlength=len(fabric.strands))
    for number in np.flatnonzero(counts > 1).tolist():
        yield finding(
            fabric, "strands", starts[strand[starts] == number],
            f"strand {fabric.strands[number].name!r} is in {counts[number]} pieces",
            "it was cut in between: give each piece a name and secure its ends",
        )  # fmt: skip
    if _closed_path(following, present):
        yield finding(
            fabric, "strands", [], "a strand runs in a ring without ends",
            "a yarn has two ends: find where it was spliced",
        )  # fmt: skip


def _closed_path(following: NDArray[np.int32], present: NDArray[np.bool_]) -> bool:
    """Return whether some loops lie on a ring of yarn (no loop has two before it)."""
    # Contract stretches where the next loop has the next id; what is left is small.
    size = len(following)
    jumps = np.flatnonzero(~present | (following != np.arange(1, size + 1)))
    heads = np.concatenate(([0], jumps + 1, following[jumps]))
    heads = np.unique(heads[(heads >= 0) & (heads < size)])
    tails = np.append(heads[1:] - 1, size - 1)
    heads, tails = heads[present[heads]], tails[present[heads]]
    onward = following[tails]
    position = np.full(size + 1, -1, dtype=np.int64)
    position[heads] = np.arange(len(heads))
    links = np.where(onward >= 0, position[onward], -1)
    # Doubling: after k turns each looks 2**k stretches ahead, and only a ring has no end.
    ahead = np.append(links, -1)  # past an end there is the end
    for _ in range(len(links).bit_length()):
        ahead = ahead[ahead]
    return bool((ahead >= 0).any())


def check_order(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Every loop is made after what it is drawn through, so that no ring of loops can close."""
    early = np.flatnonzero(fabric.parent >= fabric.child)
    if len(early):
        yield finding(
            fabric, "order", np.unique(fabric.child[early]),
            f"{plural(len(early), 'loop', be=True)} drawn through what was made later",
            "a loop can't be worked before its row: follow the yarn and reorder",
        )  # fmt: skip


def check_connected(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """The fabric hangs together."""
    label = fabric.pieces
    ids = fabric.ids
    if not len(ids):
        return
    if np.count_nonzero(np.bincount(label[ids])) > 1:
        pieces, firsts = np.unique(label[ids], return_index=True)
        yield finding(
            fabric, "connected", ids[firsts], f"the fabric is in {len(pieces)} pieces",
            "join them, or make a fabric of each",
        )  # fmt: skip


def check_surface(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """V - E + C = 2 for every piece, and as many openings as expected."""
    ids = fabric.ids
    if not len(ids):
        return
    # Pieces of the surface: a float joins loops, but is no edge of it.
    pieces = int(np.count_nonzero(np.bincount(fabric.surface_pieces[ids])))
    found = fabric.euler_characteristic
    if found != 2 * pieces:
        wrong = f"V - E + C is {found} and not {2 * pieces}"
        for loops in fabric.tangles:
            yield finding(
                fabric, "surface", loops, f"edges cross here: {wrong}",
                "look at what each of these loops is drawn through, and how the yarn goes on: "
                "something is worked through the wrong loop",
            )  # fmt: skip
        if not fabric.tangles:
            yield finding(
                fabric, "surface", _most_odd(fabric),
                f"{wrong}: the edges don't lie on one surface",
                "follow the yarn round the largest cell: it goes on past what it should not, or "
                "something is worked through the wrong loop",
            )  # fmt: skip
    expected = limits.openings
    if expected is not None and len(fabric.openings) != expected:
        sizes = ", ".join(str(cell.size) for cell in fabric.openings) or "none"
        least = min(reversed(fabric.openings), key=lambda cell: cell.size, default=None)
        too_many = len(fabric.openings) > expected
        yield finding(
            fabric, "surface", () if least is None else least.loops,
            f"found {plural(len(fabric.openings), 'opening')} (of {sizes} edges), "
            f"expected {expected}",
            "close what should be closed" if too_many
            else "leave open what should be",
        )  # fmt: skip


def _most_odd(fabric: Fabric) -> tuple[int, ...]:
    """Return the loops of the largest cell that is no opening: where edges cross, cells merge."""
    cells = fabric.cells()
    inside = [cell for cell in cells if cell not in fabric.openings] or cells
    return max(inside, key=lambda cell: cell.size).loops


def check_grafts(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Grafted loops come in pairs, one on either flank, and each joins a loop of its own."""
    grafted = np.flatnonzero(fabric.kinds(Kind.GRAFTED) & fabric.present)
    if not len(grafted):
        return
    isolated = fabric.kinds(Kind.GRAFTED)
    before = fabric.previous[grafted]
    starts = np.flatnonzero((before < 0) | ~isolated[before])
    for start, stop in zip(starts, np.append(starts[1:], len(grafted)), strict=True):
        run = grafted[start:stop]
        left = (fabric.flags[run] & LEFT_FLANK) != 0
        if len(run) % 2 or (left[0::2] == left[1::2]).any() or (left[0::2] != left[0]).any():
            yield finding(
                fabric, "grafts", run, f"{len(run)} grafted loops don't alternate between the two "
                "sides in pairs", "unpick the graft and go through front and back in turn",
            )  # fmt: skip
    inside = isolated[fabric.child]
    through = np.bincount(fabric.child[inside], minlength=len(isolated))[grafted]
    shared = np.bincount(fabric.parent[inside], minlength=len(isolated))
    wrong = np.concatenate((grafted[through != 1], np.flatnonzero(shared > 1)))
    if len(wrong):
        yield finding(
            fabric, "grafts", wrong, "a graft must join each stitch to just one that faces it",
            "go back to this stitch: one was skipped or taken twice",
        )  # fmt: skip


def check_waste(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """A finished piece has no waste yarn in it; and nothing may hang on waste yarn alone."""
    waste = np.array([strand.role == "waste" for strand in fabric.strands], dtype=np.bool_)
    if not waste.any():
        return
    there = np.flatnonzero(waste[fabric.strand] & fabric.present)
    if len(there) and limits.is_finished(fabric):
        yield finding(
            fabric, "waste", there, f"{plural(len(there), 'loop')} of waste yarn left in",
            "recapture what it carries, then take it out",
        )  # fmt: skip


def check_gaps(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Cells above the limit that are no openings: the holes at a heel's corners, for one.

    Where edges cross, cells merge: those are no holes, and `check_surface` tells of them.
    """
    merged = {loop for loops in fabric.tangles for loop in loops}
    for cell in fabric.gaps(limits.gap_edges):
        if not merged.isdisjoint(cell.loops):
            continue
        best = closings(fabric, cell)[:1]
        if best:
            (a, b), stitch, cells = best[0].strand, best[0].stitch, best[0].cells
            advice = (
                f"lift the strand between loops {a} and {b} and work it together with loop "
                f"{stitch}: that leaves {cells[0]} and {cells[1]} edges"
            )
        else:
            advice = "draw it together with a yarn tail"
        around = _perimeter_mm(fabric, cell.loops, limits)
        size = f"{cell.size} edges" + (f", {around:.0f} mm round" if around else "")
        yield finding(
            fabric, "gaps", cell.loops, f"a hole of {size}", advice, is_mistake=False
        )  # fmt: skip


def _perimeter_mm(fabric: Fabric, loops: tuple[int, ...], limits: Limits) -> float | None:
    if limits.stitch_mm is None or limits.course_mm is None:
        return None
    around = zip(loops, loops[1:] + loops[:1], strict=True)
    along = [fabric.next[a] == b or fabric.next[b] == a for a, b in around]
    return sum(limits.stitch_mm if yarn else limits.course_mm for yarn in along)


def check_floats(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Strands that pass more stitches than a toe can be kept out of."""
    floats = np.flatnonzero((fabric.flags & FLOAT) != 0)
    if not len(floats):
        return
    many = passed(fabric, floats)
    long = many > limits.float_stitches
    for start, stitches in zip(floats[long].tolist(), many[long].tolist(), strict=True):
        mm = f" ({stitches * limits.stitch_mm:.0f} mm)" if limits.stitch_mm else ""
        yield finding(
            fabric, "floats", [start, int(fabric.next[start])],
            f"the yarn passes {plural(stitches, 'stitch')}{mm}, more than {limits.float_stitches}",
            "catch it behind a stitch halfway", is_mistake=False,
        )  # fmt: skip


def check_slits(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Borders of two yarns that nothing holds together: each turns back where they meet."""
    for slit in slits(fabric):
        high = f" ({len(slit) * limits.course_mm:.0f} mm)" if limits.course_mm else ""
        yield finding(
            fabric, "slits", [loop for pair in slit for loop in pair],
            f"two yarns meet in {plural(len(slit), 'row')}{high} and neither passes the other",
            "twist them round each other where they meet", is_mistake=False,
        )  # fmt: skip


def check_tails(fabric: Fabric, limits: Limits) -> Iterator[Flaw]:
    """Tails that are not woven in, in a finished piece."""
    if not limits.is_finished(fabric):
        return
    there = np.zeros(len(fabric.strands), dtype=np.bool_)
    there[fabric.strand[fabric.ids]] = True
    for number in np.flatnonzero(there).tolist():
        strand = fabric.strands[number]
        if strand.role == "waste" or all(strand.woven):
            continue
        mine = np.flatnonzero((fabric.strand == number) & fabric.present)
        ends = [*mine[fabric.previous[mine] < 0], *mine[fabric.next[mine] < 0]]
        yield finding(
            fabric, "tails", ends, f"strand {strand.name!r} has tails that are not woven in",
            "weave them in; one next to a gap can close it", is_mistake=False,
        )  # fmt: skip


CHECKS: Final[tuple[Callable[[Fabric, Limits], Iterator[Flaw]], ...]] = (
    check_counts,
    check_secured,
    check_strands,
    check_order,
    check_connected,
    check_surface,
    check_grafts,
    check_stitches,
    check_marks,
    check_courses,
    check_beside,
    check_wraps,
    check_waste,
    check_gaps,
    check_floats,
    check_slits,
    check_tails,
)


_USUAL: Final = Limits()


def check(
    fabric: Fabric,
    *,
    limits: Limits = _USUAL,
    openings: int | None = None,
    checks: Sequence[Callable[[Fabric, Limits], Iterable[Flaw]]] = CHECKS,
) -> Report:
    """Put a fabric through all checks.

    Parameters
    ----------
    fabric : Fabric
    limits : Limits
    openings : int, optional
        How many openings are expected; overrides ``limits.openings``.
    checks : sequence of functions
        `CHECKS`, with your own added: each takes the fabric and the limits, and returns or yields
        what it finds, which `finding` makes.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> work = Work()
    >>> cast_on(work, 12)
    >>> work.join_round()
    >>> work.plain_rounds(3)
    >>> check(work.fabric(), openings=2).ok
    True
    """
    if openings is not None:
        limits = attrs.evolve(limits, openings=openings)
    findings = tuple(found for one in checks for found in one(fabric, limits))
    return Report(findings, str(fabric))


guard(globals())
