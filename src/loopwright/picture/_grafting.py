"""The path of the yarn through a graft, stitch by stitch.

Near stitches are at the bottom, far ones at the top; the yarn goes from right to left, or from left
to right where a left-handed knitter made the fabric. Read from the fabric: whatever the graft did
to it is drawn, in the order of the grafting strand.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from xml.etree import ElementTree as ET

import attrs
import numpy as np

from loopwright.errors import PictureError
from loopwright.fabric import Fabric
from loopwright.fabric.stitches import Kind
from loopwright.making import graft_passes
from loopwright.picture.svg import (
    INK,
    Picture,
    group,
    label,
    line,
    number,
    stacked,
    thread,
)

__all__ = ["draw_graft", "graft_path"]

_FEW = 12  # pairs that are drawn one by one
_YARN = "#b34a00"
_FAR, _NEAR = 76.0, 130.0  # px: where the heads of the far and near stitches lie
_TEXT = 11.5  # px, all words, as in a stage
_LINE = 14.0
_HEAD = 26  # px that a title takes, with the room below it


def draw_graft(fabric: Fabric, *, width: float = 320.0) -> Picture:
    """Return a graft before and after: the stitches facing each other, then the yarn through them.

    Raises
    ------
    PictureError
        The fabric has no graft.

    Examples
    --------
    >>> from loopwright.pattern import knit, read
    >>> toe = knit(read('''
    ... Cast on 8 sts. Join in the round. Rnds 1-2: Knit. Divide sts: front 4, back 4.
    ... Graft the sts of the two needles together, stitch by stitch.
    ... '''))
    >>> print(draw_graft(toe).description)
    Before the graft: 4 near stitches below, 4 far ones above. After the graft: ...
    """
    pairs = _pairs(fabric)
    spots = _spots(min(len(pairs), _FEW), width, left_handed=_is_mirrored(fabric, pairs))
    plain = _Hues.plain(len(pairs))
    before = _picture(len(pairs), width, "Before the graft", spots, plain, [], [], [])
    return stacked("Graft", (before, graft_path(fabric, width)))


@attrs.frozen
class _Hues:
    """Colours of the far and the near stitches and of the grafting yarn."""

    far: Sequence[str]
    near: Sequence[str]
    yarn: str = _YARN
    outline: str = ""

    @classmethod
    def plain(cls, count: int) -> _Hues:
        """One yarn: stitches in ink, and a path that stands out."""
        return cls((INK,) * count, (INK,) * count)

    @classmethod
    def of(cls, fabric: Fabric, pairs: list[tuple[int, int]], colours: Mapping[str, str]) -> _Hues:
        """Each in its yarn's colour."""

        def hue(loop: int) -> str:
            return colours.get(fabric.strands[int(fabric.strand[loop])].yarn, INK)

        near, far = ([hue(int(fabric.parents(pair[side])[0])) for pair in pairs] for side in (0, 1))
        return cls(far, near, hue(pairs[0][0]), INK)


def graft_path(
    fabric: Fabric,
    width: float = 320.0,
    *,
    title: str = "After the graft",
    colours: Mapping[str, str] | None = None,
) -> Picture:
    """Return the last graft of a fabric with the yarn's path and the order of its passes.

    Without a title it takes no room for one. With colours, stitches and path are in their yarns'.

    Raises
    ------
    PictureError
        The fabric has no graft.
    """
    pairs = _pairs(fabric)
    spots = _spots(min(len(pairs), _FEW), width, left_handed=_is_mirrored(fabric, pairs))
    found: dict[tuple[str, int], list[str]] = {}
    for at, needle, stitch in _passes(len(pairs)):
        found.setdefault((needle, stitch), []).append(str(at))
    numbers = [
        label(x, (_NEAR + 33 if needle == "front" else _FAR - 36) + 13 * below, passed, size=_TEXT,
              anchor="middle", class_="passes")
        for at, x in enumerate(spots)
        for needle in ("front", "back")
        for below, passed in enumerate(found[needle, at])
    ]  # fmt: skip
    hues = _Hues.of(fabric, pairs, colours) if colours else _Hues.plain(len(pairs))
    legs, arcs = _yarn(len(pairs), spots, hues)
    drawn = _picture(len(pairs), width, title, spots, hues, legs, arcs, numbers)
    if title:
        return drawn
    lifted = group(drawn.body, transform=f"translate(0 {-_HEAD})")
    return attrs.evolve(drawn, height=drawn.height - _HEAD, body=(lifted,))


def _is_mirrored(fabric: Fabric, pairs: list[tuple[int, int]]) -> bool:
    """Tell whether the graft goes left to right: near loops then have the other side."""
    return int(fabric.side[pairs[0][0]]) < 0


def _pairs(fabric: Fabric) -> list[tuple[int, int]]:
    """Return the pairs of grafted loops (near, far) of the last graft, in the strand's order."""
    grafted = np.flatnonzero(fabric.kinds(Kind.GRAFTED) & fabric.present)
    if not len(grafted):
        raise PictureError("graft", "the fabric has no grafted stitches", "graft it first")
    last = grafted[fabric.strand[grafted] == fabric.strand[grafted[-1]]].tolist()
    run = [last[-1]]
    for loop in reversed(last[:-1]):
        if fabric.next[loop] != run[-1]:
            break
        run.append(loop)
    run.reverse()
    return list(zip(run[0::2], run[1::2], strict=False))


def _passes(count: int) -> list[tuple[int, str, int]]:
    """Return what the needle goes through, in order: number of the pass, needle, stitch."""
    found, first = [], {"front": 0, "back": 0}
    for at, one in enumerate(graft_passes(count), start=1):
        found += [(at, needle, first[needle]) for needle, _ in one.through]
        for needle in one.drops:
            first[needle] += 1
    return found


def _spots(shown: int, width: float, *, left_handed: bool) -> list[float]:
    """Return the middles of the stitches, in working order."""
    each = min(30.0, (width - 20) / (max(shown, 1) + 1)) * (-1 if left_handed else 1)
    start = width / 2 + each * (shown - 1) / 2
    return [start - each * at for at in range(shown)]


def _yarn(count: int, spots: list[float], hues: _Hues) -> tuple[list[ET.Element], list[ET.Element]]:
    """Return the yarn's path from pass to pass: legs between the needles, arcs along one."""
    each = spots[0] - spots[1] if len(spots) > 1 else 24.0
    seen: dict[tuple[str, int], int] = {}
    points = []
    for _, needle, stitch in _passes(count):
        visit = seen[needle, stitch] = seen.get((needle, stitch), 0) + 1
        if stitch < len(spots):
            x = spots[stitch] + each * (0.17 if visit == 1 else -0.17)
            points.append((x, _NEAR if needle == "front" else _FAR, needle))
    (x0, y0, _), (x1, y1, _) = points[0], points[-1]
    bend = f"Q{number(x0 + each / 12)} {number(y0 + 9)} {number(x0)} {number(y0)}"
    legs = [_strand(f"M{number(x0 + each)} {number(y0 + 8)}{bend}", hues)]
    arcs = []
    for (xa, ya, here), (xb, yb, there) in pairwise(points):
        if here == there:
            deep = number(ya + (9 if here == "front" else -9))
            bend = f"C{number(xa)} {deep} {number(xb)} {deep} {number(xb)} {number(yb)}"
            arcs.append(_strand(f"M{number(xa)} {number(ya)}{bend}", hues))
        else:
            legs.append(_strand(f"M{number(xa)} {number(ya)}L{number(xb)} {number(yb)}", hues))
    end = -8 if y1 == _FAR else 8
    legs.append(_strand(f"M{number(x1)} {number(y1)}Q{number(x1 - each / 12)} {number(y1 + end)} "
                        f"{number(x1 - each)} {number(y1 + end)}", hues))  # fmt: skip
    return legs, arcs


def _strand(d: str, hues: _Hues) -> ET.Element:
    return thread(d, hues.yarn, 2.2, outline=hues.outline, stroke_linecap="round", class_="yarn")


def _stitch(x: float, y: float, up: int, wide: float, hue: str, outline: str) -> ET.Element:
    """Draw a stitch with its open head towards the graft; `up` is -1 for a near one."""
    foot, head = y - 16 * up, y + 8 * up
    d = (
        f"M{number(x - wide * 0.2)} {number(foot)}"
        f"C{number(x - wide * 0.1)} {number(y)} {number(x - wide * 0.5)} {number(head)} "
        f"{number(x)} {number(head)}"
        f"S{number(x + wide * 0.1)} {number(y)} {number(x + wide * 0.2)} {number(foot)}"
    )
    return thread(d, hue, 1.6, outline=outline, class_="stitch")


def _picture(
    count: int,
    width: float,
    title: str,
    spots: list[float],
    hues: _Hues,
    legs: list[ET.Element],
    arcs: list[ET.Element],
    numbers: list[ET.Element],
) -> Picture:
    wide = min(24.0, abs(spots[0] - spots[1]) if len(spots) > 1 else 24.0)
    # Arcs lie behind the stitches, legs come out through their heads.
    body = [
        group(arcs, class_="arcs"),
        *(_stitch(x, _FAR, 1, wide, hues.far[at], hues.outline) for at, x in enumerate(spots)),
        *(_stitch(x, _NEAR, -1, wide, hues.near[at], hues.outline) for at, x in enumerate(spots)),
    ]
    if not legs:
        edges = max(spots) + wide, min(spots) - wide
        body += [
            line(edges[0], y, edges[1], y, stroke="#9a8f7d", stroke_width=3, opacity=0.75,
                 class_="needle")
            for y in (_FAR, _NEAR)
        ]  # fmt: skip
    body += [group(legs, class_="legs"), *numbers] if legs else []
    said = [f"{count} near stitches below, {count} far ones above"]
    if count > len(spots):
        said.append(f"the first {len(spots)} are shown")
    if legs:
        told = [
            *(words.replace(" ones", "") for words in said),
            "a number is a pass of the needle:",
            "those beside a stitch go through it",
        ]
    else:
        told = said
    body += [label(8, 11, title, size=_TEXT, font_weight="bold")] if title else []
    body += [
        label(width / 2, _NEAR + 61 + _LINE * at, words, size=_TEXT, anchor="middle",
              fill="#555555")
        for at, words in enumerate(told)
    ]  # fmt: skip
    high = _NEAR + 66 + _LINE * (len(told) - 1)
    return Picture(width, high, title, "; ".join(said) + ".", tuple(body))
