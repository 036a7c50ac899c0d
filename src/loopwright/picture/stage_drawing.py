"""Drawing a stage: the needles from above, as the knitter holds them, and what lies aside.

The near needle is at the bottom. A round goes from right to left on it, up at the left, back from
left to right on the far side: clockwise. Stitches stand outward. Few are drawn loop by loop, many
as ticks, every tenth a long one, with their number.
"""

from __future__ import annotations

from collections import Counter
from math import atan2, cos, pi, sin, tan
from textwrap import wrap
from typing import Any
from xml.etree import ElementTree as ET

import attrs

from loopwright.picture.grafting import graft_path
from loopwright.picture.stage_data import Carrier, Gap, Stage, State
from loopwright.picture.svg import (
    GREY,
    INK,
    PAPER,
    Picture,
    circle,
    group,
    label,
    line,
    number,
    path,
    polygon,
    rect,
)

__all__ = ["draw_stage"]

_WIDE = 260.0
_RING = 62.0  # px, from the middle of the ring to a needle
_FEW = 14  # loops on a needle that are drawn one by one
_TEXT = 9.0
_COLOURS = {
    State.LIVE: INK,
    State.NEW: "#00795a",
    State.LIFTED: "#0072b2",
    State.WAITING: "#b34a00",
}


@attrs.frozen
class _Stand:
    """A place on the needles, and which way is out."""

    x: float
    y: float
    nx: float
    ny: float
    turn: int = 1  # -1 where the work goes on counter-clockwise, seen from outside

    def out(self, far: float, along: float = 0.0) -> tuple[float, float]:
        """Return a place `far` px outside, `along` px on in the direction of work."""
        return (
            self.x + self.nx * far - self.ny * along * self.turn,
            self.y + self.ny * far + self.nx * along * self.turn,
        )


@attrs.frozen
class _Ring:
    """How the needles lie: in a line, face to face, in a polygon, or one round one."""

    needles: int
    in_rounds: bool
    middle: float

    def stand(self, needle: int, share: float) -> _Stand:
        """Return the place at a share (0 to 1) of a needle, in working order."""
        x = _WIDE / 2
        if not self.in_rounds:
            whole = _WIDE - 50
            each = whole / self.needles
            return _Stand(
                25 + whole - needle * each - 3 - (each - 6) * share, self.middle, 0, -1, -1
            )
        if self.needles == 1:
            angle = pi / 2 + 2 * pi * share
            return _Stand(
                x + _RING * cos(angle), self.middle + _RING * sin(angle), cos(angle), sin(angle)
            )
        if self.needles == 2:
            wide, deep = _RING * 1.4, _RING * 0.5
            step = 1 if needle == 0 else -1
            return _Stand(x + step * wide * (1 - 2 * share), self.middle + step * deep, 0, step)
        inner = _RING * (0.62 if self.needles == 3 else 0.85)
        half = inner * tan(pi / self.needles) - 6
        angle = pi / 2 + needle * 2 * pi / self.needles  # down, then left: clockwise on a page
        base = _Stand(x + inner * cos(angle), self.middle + inner * sin(angle), cos(angle),
                      sin(angle))  # fmt: skip
        px, py = base.out(0, half * (2 * share - 1))
        return _Stand(px, py, base.nx, base.ny)


def draw_stage(stage: Stage, place: int | None = None) -> Picture:
    """Return the picture of one stage; `place` is its number in a sequence."""
    head = wrap(f"{place}. {stage.title}" if place else stage.title, 40)[:4]
    y = 8.0 + 12 * len(head)
    body = [label(8, 16 + 12 * at, words, size=10, font_weight="bold")
            for at, words in enumerate(head)]  # fmt: skip
    if stage.needles:
        deep = (156.0 if len(stage.needles) == 2 else 2 * _RING + 84) if stage.in_rounds else 76.0
        ring = _Ring(len(stage.needles), stage.in_rounds, y + deep / 2)
        body += [*_needles(stage, ring), *_beginning(stage, ring), *_work_point(stage, ring)]
        body += _gaps(stage, ring)
        y += deep
    elif stage.graft is None:
        body.append(label(8, y + 16, "No stitch is on a needle.", size=_TEXT))
        y += 26
    if stage.graft is not None:
        drawn = graft_path(stage.graft, _WIDE)
        body.append(group(drawn.body, transform=f"translate(0 {number(y + 4)})"))
        y += drawn.height + 8
    for carrier in stage.apart:
        body.append(_aside(carrier, y + 14))
        y += 36
    for state in _states_on_needles(stage):
        body += [_loop(_Stand(14, y + 13, 0, -1), state, few=True, long=False),
                 label(26, y + 14, state.value, size=_TEXT)]  # fmt: skip
        y += 16
    body += [label(8, y + 14 + 12 * at, words, size=_TEXT)
             for at, words in enumerate(_said(stage))]  # fmt: skip
    y += 12 * len(_said(stage)) + 12
    frame = rect(0.5, 0.5, _WIDE - 1, y, stroke="#bbbbbb", class_="frame")
    return Picture(
        _WIDE, y + 1, f"Stage {place}" if place else "Stage", _description(stage), (frame, *body)
    )


def _description(stage: Stage) -> str:
    said = [stage.title.rstrip(".") + "." if stage.title else ""]
    said += [
        f"{carrier.kind if carrier.kind not in carrier.name else ''} {carrier.name}: "
        f"{_counted(carrier)}.".strip()
        for carrier in stage.carriers
    ]
    return " ".join([*said, *_said(stage)]).strip()


def _counted(carrier: Carrier) -> str:
    """Return how many loops of which state lie there, in words."""
    parts = []
    for state in State:
        count = carrier.states.count(state)
        if count:
            what = "sts" if state is State.LIVE else f"sts {state.value}"
            parts.append(f"{count} {what}")
    return ", ".join(parts)


def _said(stage: Stage) -> list[str]:
    """Return what stands below the picture."""
    said = []
    if stage.needles:
        facing = (
            " Right side faces."
            if stage.right_side
            else " Wrong side faces; drawn from the right side."
        )
        known = stage.goes_on or stage.in_rounds
        said.append(f"{stage.count} sts on the needles.{facing if known else ''}")
    for size, times in Counter(str(gap) for gap in stage.gaps).items():
        said.append(f"{times} holes, each of {size}." if times > 1 else f"A hole of {size}.")
    return said


def _states_on_needles(stage: Stage) -> list[State]:
    """Return what needs a line in the key."""
    found = {state for carrier in stage.needles for state in carrier.states}
    return [state for state in State if state in found and state is not State.LIVE]


def _needles(stage: Stage, ring: _Ring) -> list[ET.Element]:
    """Draw needles with their stitches and how many there are."""
    found: list[ET.Element] = []
    for at, carrier in enumerate(stage.needles):
        count = len(carrier.loops)
        few = count <= _FEW * (2 if ring.needles == 1 and ring.in_rounds else 1)
        found.append(_needle(ring, at))
        found += [
            _loop(ring.stand(at, (place + 0.5) / count), state, few=few,
                  long=not (place + 1) % 10)
            for place, state in enumerate(carrier.states)
        ]  # fmt: skip
        found += _count_label(carrier, ring, at)
    return found


def _needle(ring: _Ring, at: int) -> ET.Element:
    given: dict[str, Any] = {"stroke": "#9a8f7d", "stroke_width": 3.0, "class_": "needle"}
    if ring.in_rounds and ring.needles == 1:
        return circle(_WIDE / 2, ring.middle, _RING, **given)
    start, stop = ring.stand(at, 0).out(0, -5), ring.stand(at, 1).out(0, 5)
    return line(*start, *stop, stroke_linecap="round", **given)


def _count_label(carrier: Carrier, ring: _Ring, at: int) -> list[ET.Element]:
    """Write the number of stitches inside the ring, beside the needle's middle."""
    count = str(len(carrier.loops))
    named = "" if ring.needles == 1 else carrier.name.replace("needle ", "needle\N{NO-BREAK SPACE}")
    if ring.in_rounds and ring.needles == 1:
        return [label(_WIDE / 2, ring.middle + 4, f"{count} sts", size=11, anchor="middle")]
    middle = ring.stand(at, 0.5)
    inside = -13 if abs(middle.ny) > 0.5 else -20
    x, y = middle.out(inside)
    if not ring.in_rounds:
        y += 6
    texts = [label(x, y + 3, count, size=11, anchor="middle", class_="count")]
    if named and ring.in_rounds and ring.needles == 2:
        texts.append(label(_WIDE / 2 + 18, y + 3, named, size=7.5, fill="#555555"))
    elif named and not ring.in_rounds:
        texts.append(label(x, y + 14, named, size=7.5, anchor="middle", fill="#555555"))
    return texts


def _loop(stand: _Stand, state: State, *, few: bool, long: bool) -> ET.Element:
    """Draw a stitch: a loop where there is room, else a tick."""
    colour = _COLOURS[state]
    tx, ty = -stand.ny, stand.nx
    given: dict[str, Any] = {
        "stroke": colour,
        "stroke_width": 1.3 if few else 1.0,
        "class_": "loop",
        "data_state": state.name.lower(),
    }
    if few:
        wide, high = 3.4, 11.0

        def spot(along: float, out: float) -> str:
            return (
                f"{number(stand.x + tx * along + stand.nx * out)} "
                f"{number(stand.y + ty * along + stand.ny * out)}"
            )

        d = (
            f"M{spot(-wide * 0.5, high)}C{spot(-wide * 1.5, -2)} {spot(-wide, -5)} {spot(0, -5)}"
            f"S{spot(wide * 1.5, -2)} {spot(wide * 0.5, high)}"
        )
        if state is State.NEW:
            given["stroke_dasharray"] = "2.5 1.5"
        return path(d, **given)
    out = 10.0 if long else 6.5
    tick = line(stand.x - stand.nx * 2, stand.y - stand.ny * 2, stand.x + stand.nx * out,
                stand.y + stand.ny * out, **given)  # fmt: skip
    if state is State.LIVE:
        return tick
    end = (stand.x + stand.nx * (out + 1.5), stand.y + stand.ny * (out + 1.5))
    head = circle(*end, 1.3, stroke=colour, stroke_width=0.7,
                  fill=colour if state is State.LIFTED else PAPER)  # fmt: skip
    return group((tick, head))


def _place(stage: Stage, ring: _Ring, stitch: float) -> _Stand:
    """Return the place between stitches, `stitch` of them after the beginning."""
    left = stitch
    for at, carrier in enumerate(stage.needles):
        if left < len(carrier.loops) or at == len(stage.needles) - 1:
            return ring.stand(at, min(1.0, left / len(carrier.loops)))
        left -= len(carrier.loops)
    return ring.stand(0, 0)


def _beginning(stage: Stage, ring: _Ring) -> list[ET.Element]:
    """Flag where the round begins."""
    if not stage.in_rounds:
        return []
    flag = ring.stand(0, 0)
    x, y = flag.out(0, -4 if ring.needles > 1 else 0)
    top, tip = (x, y + 22), (x + 5, y + 26)
    return [
        group(
            (
                line(x, y, *top, stroke_width=1),
                polygon(((x, y + 22), (x, y + 30), tip), fill=INK),
                line(x, y + 22, x, y + 32, stroke_width=1),
                label(min(x + 8, _WIDE - 62), y + 40, "round begins", size=7.5),
            ),
            class_="round-begins",
        )
    ]


def _work_point(stage: Stage, ring: _Ring) -> list[ET.Element]:
    """Point an arrow to where the work stands, in the direction in which it goes on."""
    place = _place(stage, ring, stage.at % stage.count if stage.in_rounds else stage.at)
    if not stage.goes_on:
        return [circle(*place.out(19), 2.2, fill=INK, class_="work", data_at=stage.at)]
    step = 1 if stage.right_side else -1
    sweep = [place.out(19, step * far) for far in (0, 6, 12, 18)]
    if ring.needles == 1 and ring.in_rounds:
        # Follow the round needle.
        turn = [atan2(place.ny, place.nx) + step * far / (_RING + 19) for far in (0, 6, 12, 18)]
        sweep = [
            (_WIDE / 2 + (_RING + 19) * cos(angle), ring.middle + (_RING + 19) * sin(angle))
            for angle in turn
        ]
    (x1, y1), (x2, y2) = sweep[-2], sweep[-1]
    ux, uy = (x2 - x1) / 6, (y2 - y1) / 6
    head = ((x2 + 6 * ux, y2 + 6 * uy), (x2 - 3.5 * uy, y2 + 3.5 * ux),
            (x2 + 3.5 * uy, y2 - 3.5 * ux))  # fmt: skip
    route = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in sweep)
    return [
        group(
            (
                circle(*place.out(19), 2.2, fill=INK),
                path(route, stroke_width=1.6),
                polygon(head, fill=INK),
            ),
            class_="work",
            data_at=stage.at,
            data_side="RS" if stage.right_side else "WS",
        )
    ]


def _gaps(stage: Stage, ring: _Ring) -> list[ET.Element]:
    """Outline holes inside the ring, below the stitches that stand above them."""
    loops = [loop for carrier in stage.needles for loop in carrier.loops]
    found = []
    for gap in stage.gaps:
        places = sorted(loops.index(loop) for loop in gap.above if loop in loops)
        if not places:
            continue
        found.append(_gap(gap, _place(stage, ring, _centre(places, len(loops)) + 0.5)))
    return found


def _centre(places: list[int], count: int) -> float:
    """Return the middle of places on a ring of `count`."""
    x = sum(cos(2 * pi * place / count) for place in places)
    y = sum(sin(2 * pi * place / count) for place in places)
    return atan2(y, x) / (2 * pi) * count % count


def _gap(gap: Gap, place: _Stand) -> ET.Element:
    x, y = place.out(-16)
    size = len(gap.loops)
    corners = [
        (x + 8 * cos(2 * pi * at / size), y + 8 * sin(2 * pi * at / size)) for at in range(size)
    ]
    return group(
        (
            polygon(corners, fill="#ffe9d6", stroke="#b34a00", stroke_width=1.6),
            label(x, y + 3, str(size), size=8, anchor="middle", font_weight="bold"),
        ),
        class_="gap", data_edges=size,
    )  # fmt: skip


def _aside(carrier: Carrier, y: float) -> ET.Element:
    """Draw what lies on a holder or on waste yarn, below the ring."""
    count = len(carrier.loops)
    start, whole = _WIDE - 20, _WIDE - 40
    few = count <= _FEW
    dash = "5 3" if carrier.kind == "held" else "1.5 3"
    parts = [line(20, y, _WIDE - 20, y, stroke=GREY, stroke_width=2, stroke_dasharray=dash,
                  class_="held" if carrier.kind == "held" else "waste")]  # fmt: skip
    parts += [
        _loop(_Stand(start - whole * (place + 0.5) / count, y, 0, -1), state, few=few,
              long=not (place + 1) % 10)
        for place, state in enumerate(carrier.states)
    ]  # fmt: skip
    on = "" if carrier.kind in carrier.name else f" ({carrier.kind})"
    words = f"{carrier.name}{on}: {_counted(carrier)}"
    size = min(8.5, (_WIDE - 16) / (0.6 * len(words)))
    parts.append(label(8, y + 14, words, size=size))
    return group(parts, class_="aside", data_name=carrier.name)
