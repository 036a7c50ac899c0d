"""Drawing a stage: the needles from above, as the knitter holds them, and what lies aside.

The near needle is at the bottom. A round goes clockwise on it: from right to left, up at the left,
and back from left to right on the far side. For the left-handed it goes the other way. Stitches
stand outward. Few are drawn loop by loop, many as ticks, every tenth a long one, with their
number.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from math import atan2, cos, pi, sin
from textwrap import wrap
from typing import Any
from xml.etree import ElementTree as ET

from loopwright.border import guard
from loopwright.picture._grafting import graft_path
from loopwright.picture._stage_data import Carrier, Gap, Stage, State
from loopwright.picture._stage_ring import RADIUS, WIDE, Ring, Stand
from loopwright.picture.svg import (
    GREY,
    INK,
    PAPER,
    Picture,
    arrow_head,
    circle,
    group,
    label,
    line,
    number,
    path,
    polygon,
    rect,
    text_width,
    thread,
)

__all__ = ["READING", "draw_stage"]

READING = "A dot is where the yarn is; an arrow, which way the work goes on from there."
_LOOP = 11.0  # px: what a stitch needs to be drawn as a loop, not as a tick
_TEXT = 11.5  # px, all words: 7 pt and more where three stages stand side by side on a sheet
_LINE = 14.0
_LETTERS = 35  # that a line of text holds
_QUIET: dict[str, Any] = {"size": _TEXT, "fill": "#555555"}
_COLOURS = {
    State.LIVE: INK,
    State.NEW: "#00795a",
    State.LIFTED: "#0072b2",
    State.WRAPPED: "#8a3d76",
    State.WASTE: "#b34a00",
    State.WAITING: "#b34a00",
}
_OPEN = (State.NEW, State.WASTE, State.WAITING)  # ticks with an open head


def draw_stage(stage: Stage, place: int | None = None) -> Picture:
    """Return the picture of one stage; `place` is its number in a sequence.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on
    >>> from loopwright.picture import stage
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> print(draw_stage(stage(work, "Cast on"), 1).description)
    needle 1: 8 sts just cast on or picked up. 8 sts on the needles.
    """
    title = re.sub(r"(\d) (sts|rounds?|rows?)\b", "\\1\N{NO-BREAK SPACE}\\2", stage.title)
    head = _lines(f"{place}. {title}" if place else title)[:8]
    y = 6.0 + _LINE * len(head)
    body = [label(8, 17 + _LINE * at, words, size=_TEXT, font_weight="bold")
            for at, words in enumerate(head)]  # fmt: skip
    ring = Ring.of(stage, y)
    if stage.needles:
        body += [*_needles(stage, ring), *_in_ring(stage, ring), *_beginning(stage, ring)]
        body += [*_work_point(stage, ring), *(_gap(*hole) for hole in _holes(stage, ring))]
        y += ring.depth
    elif stage.graft is None:
        body.append(label(8, y + 18, "No stitch is on a needle.", size=_TEXT))
        y += 28
    if stage.graft is not None:
        drawn = graft_path(stage.graft, WIDE, title="", colours=stage.colours)
        body.append(group(drawn.body, transform=f"translate(0 {number(y + 4)})"))
        y += drawn.height + 8
    for carrier in stage.apart:
        words = _lines(f"{_named(carrier)}: {_counted(carrier, stage.colours)}")
        body.append(_aside(carrier, y + 16, words, stage.colours, left_handed=stage.left_handed))
        y += 24 + _LINE * len(words)
    for state, few in _key(stage, ring).items():
        body += [_loop(Stand(14, y + 13, 0, -1), state, few=few, long=False),
                 label(26, y + 15, state.value, size=_TEXT)]  # fmt: skip
        y += 17
    for name in _yarns_of(stage):
        body += _swatch(name, stage, y)
        y += 17
    said = [line for words in _said(stage) for line in _lines(words)]
    body += [label(8, y + 15 + _LINE * at, words, size=_TEXT) for at, words in enumerate(said)]
    y += _LINE * len(said) + 8
    frame = rect(0.5, 0.5, WIDE - 1, y, stroke="#bbbbbb", class_="frame")
    name = f"Stage {place}" if place else "Stage"
    title = f"{name}: {stage.title}" if stage.title else name
    data = {"colours": "own"} if stage.colours else {}
    return Picture(WIDE, y + 1, title, _description(stage), (frame, *body), data)


def _yarns_of(stage: Stage) -> list[str]:
    """Return the yarns to be seen, those on the needles first; none where there is just one."""
    shown = dict.fromkeys(yarn for one in stage.carriers for yarn in one.yarns)
    return [name for name in stage.colours if name in shown or name == stage.yarn]


def _swatch(name: str, stage: Stage, y: float) -> list[ET.Element]:
    """Draw a length of yarn with its name, and say whether it is the one in use."""
    hand = ", in use" if name == stage.yarn else ""
    sample = thread(f"M8 {number(y + 11)}h13", stage.colours[name], 3.4, outline=INK)
    said = label(26, y + 15, f"yarn {name}{hand}", size=_TEXT)
    return [group((sample, said), class_="key", data_yarn=name)]


def _lines(words: str) -> list[str]:
    """Break text to the picture's width; a sentence that needs a line of its own gets it."""
    if len(words) <= _LETTERS:
        return [words]
    first, stop, rest = words.partition(". ")
    if stop and len(first) < _LETTERS and not first.isdigit():
        return [f"{first}.", *_lines(rest)]
    return wrap(words, _LETTERS)


def _description(stage: Stage) -> str:
    said = [f"{_named(one)}: {_counted(one, stage.colours)}." for one in stage.carriers]
    if not stage.needles:
        said.insert(0, "No stitch is on a needle.")
    return " ".join([*said, *_said(stage)]).strip()


def _counted(carrier: Carrier, colours: Mapping[str, str]) -> str:
    """Return how many loops of which state lie there, in words, and of which yarns if several."""
    parts = []
    for state in State:
        count = carrier.states.count(state)
        if count:
            what = "lifted strand" if state is State.LIFTED else "st"
            told = "" if state in (State.LIVE, State.LIFTED) else f" {state.value}"
            parts.append(f"{count} {what}{'s' if count > 1 else ''}{told}")
    yarns = Counter(yarn for yarn in carrier.yarns if yarn in colours)
    if len(yarns) > 1:
        parts += [f"{count} of yarn {yarn}" for yarn, count in yarns.items()]
        return ", ".join(parts)
    return ", ".join(parts) + "".join(f", of yarn {yarn}" for yarn in yarns)


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


def _key(stage: Stage, ring: Ring) -> dict[State, bool]:
    """Return what needs a line in the key, and whether it is drawn as a loop, not as a tick."""
    found: dict[State, bool] = {}
    for at, carrier in enumerate((*stage.needles, *stage.in_ring)):
        few = ring.room(min(at, len(stage.needles) - 1)) >= _LOOP
        for state in carrier.states:
            found[state] = found.get(state, False) or few
    return {state: found[state] for state in State if state in found and state is not State.LIVE}


def _needles(stage: Stage, ring: Ring) -> list[ET.Element]:
    """Draw needles with their stitches and how many there are."""
    found: list[ET.Element] = []
    holes = [place for _, place in _holes(stage, ring)]
    for at, carrier in enumerate(stage.needles):
        count = len(carrier.loops)
        few = ring.room(at) >= _LOOP
        found.append(_needle(ring, at))
        found += [
            _loop(ring.stand(at, (place + 0.5) / count), state, few=few,
                  long=not (place + 1) % 10, hue=_hue(stage.colours, carrier, place))
            for place, state in enumerate(carrier.states)
        ]  # fmt: skip
        found += _count_label(carrier, ring, at, holes)
    return found


def _in_ring(stage: Stage, ring: Ring) -> list[ET.Element]:
    """Draw what a holder or waste yarn carries where it lies: between the needles' ends."""
    found: list[ET.Element] = []
    before = 0
    for carrier in stage.in_ring:
        count = len(carrier.loops)
        few = ring.room(0) >= _LOOP
        found.append(_arc(ring.between(before), ring.between(before + count), count,
                          sum(ring.counts) + ring.rest, **_yarn_of(carrier)))  # fmt: skip
        found += [
            _loop(ring.between(before + place + 0.5), state, few=few, long=not (place + 1) % 10,
                  hue=_hue(stage.colours, carrier, place))
            for place, state in enumerate(carrier.states)
        ]  # fmt: skip
        x, y = ring.between(before + count / 2).out(-18)
        found += [
            label(x, y + 4, str(count), size=_TEXT, anchor="middle", class_="count"),
            label(x, y + 17, _named(carrier), anchor="middle", **_QUIET),
        ]
        before += count
    return found


def _hue(colours: Mapping[str, str], carrier: Carrier, place: int) -> str:
    """Return the colour of a loop's yarn, "" where it is drawn by its state alone."""
    return colours.get(carrier.yarns[place], "") if carrier.yarns else ""


def _arc(start: Stand, stop: Stand, count: int, whole: int, **given: Any) -> ET.Element:
    """Draw a part of the ring from one place to another, the way that the work goes."""
    bend = f"A{number(RADIUS)} {number(RADIUS)} 0 {int(2 * count > whole)} {int(start.turn > 0)}"
    d = f"M{number(start.x)} {number(start.y)}{bend} {number(stop.x)} {number(stop.y)}"
    return path(d, **given)


def _yarn_of(carrier: Carrier) -> dict[str, Any]:
    """Return how the line is drawn that carries stitches aside."""
    held = carrier.kind == "held"
    return {"stroke": GREY, "stroke_width": 2.0, "stroke_dasharray": "5 3" if held else "1.5 3",
            "class_": "held" if held else "waste"}  # fmt: skip


def _named(carrier: Carrier) -> str:
    name, kind = carrier.name, carrier.kind
    return kind if name in kind else name if kind in name else f"{name} ({kind})"


def _needle(ring: Ring, at: int) -> ET.Element:
    given: dict[str, Any] = {"stroke": "#9a8f7d", "stroke_width": 3.0, "class_": "needle"}
    if ring.is_round and not ring.rest:
        return circle(WIDE / 2, ring.middle, RADIUS, **given)
    if ring.is_round:
        whole = sum(ring.counts) + ring.rest
        return _arc(ring.stand(at, 0), ring.stand(at, 1), ring.counts[at], whole, **given)
    start, stop = ring.stand(at, 0).out(0, -5), ring.stand(at, 1).out(0, 5)
    return line(*start, *stop, stroke_linecap="round", **given)


def _count_label(carrier: Carrier, ring: Ring, at: int, holes: list[Stand]) -> list[ET.Element]:
    """Write the number of stitches inside the ring, beside the needle's middle."""
    count = len(carrier.loops)
    if ring.is_round and not ring.rest:
        return [label(WIDE / 2, ring.middle + 4, f"{count} sts", size=_TEXT, anchor="middle")]
    named = carrier.name.replace("needle ", "needle\N{NO-BREAK SPACE}")
    if ring.is_pair:
        return _beside_holes(ring, at, holes, str(count), named)
    middle = ring.stand(at, 0.5)
    # A polygon has its labels beyond the stitches: inside there is room for holes.
    if not ring.in_rounds:
        far, lower = -14.0, 9.0
    elif ring.is_round:
        far, lower = -24.0, 0.0
    else:
        more = 9 if len(ring.counts) == 3 and middle.ny < 0 else 0  # beside its slope there is room
        far, lower = 25 + more + 16 * abs(middle.nx), 10 * max(middle.ny, 0) + 4 * min(middle.ny, 0)
    x, y = middle.out(far)
    texts = [label(x, y + lower, str(count), size=_TEXT, anchor="middle", class_="count")]
    if ring.counts == (count,):
        return texts
    return [*texts, label(x, y + lower + 13, named, anchor="middle", **_QUIET)]


def _beside_holes(
    ring: Ring, at: int, holes: list[Stand], count: str, named: str
) -> list[ET.Element]:
    """Write a needle's label at its middle, or where no hole is drawn and the sheet has room."""
    taken = [hole.x for hole in holes if hole.y == ring.stand(at, 0.5).y]
    wide = 0.92 * text_width(named, _TEXT)
    spots = []
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.1, 0.9):
        x, y = ring.stand(at, share).out(-14)
        for side, left, right in ((1, x - 8, x + 12 + wide), (-1, x - 12 - wide, x + 8)):
            if left > 4 and right < WIDE - 4:
                clear = all(hole + 11 < left or right < hole - 11 for hole in taken)
                spots.append((not clear, x, y + 3, side))
    _, x, y, side = min(spots, key=lambda spot: spot[0])
    return [
        label(x, y, count, size=_TEXT, anchor="middle", class_="count"),
        label(x + 12 * side, y, named, anchor="start" if side > 0 else "end", **_QUIET),
    ]


def _loop(stand: Stand, state: State, *, few: bool, long: bool, hue: str = "") -> ET.Element:
    """Draw a stitch: a loop where there is room, else a tick; in its yarn's colour if it has one.

    Its outline then has the colour of its state.
    """
    colour = _COLOURS[state]
    tx, ty = -stand.ny, stand.nx
    outline, width = (colour, 1.5) if hue else ("", 1.3 if few else 1.0)
    given: dict[str, Any] = {"class_": "loop", "data_state": state.name.lower()}
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
        if state in _OPEN:
            given["stroke_dasharray"] = "2.5 1.5"
        drawn = thread(d, hue or colour, width, outline=outline, **given)
        if state is not State.WRAPPED:
            return drawn
        wrapped = line(*map(float, spot(-4.5, 4.5).split()), *map(float, spot(4.5, 4.5).split()),
                       stroke=colour, stroke_width=1.3)  # fmt: skip
        return group((drawn, wrapped))
    out = 10.0 if long else 6.5
    (x1, y1), (x2, y2) = stand.out(-2), stand.out(out)
    if hue:
        d = f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}"
        tick = thread(d, hue, width, outline=outline, **given)
    else:
        tick = line(x1, y1, x2, y2, stroke=colour, stroke_width=width, **given)
    if state is State.LIVE:
        return tick
    end = (stand.x + stand.nx * (out + 1.5), stand.y + stand.ny * (out + 1.5))
    head = circle(*end, 1.3, stroke=colour, stroke_width=0.7,
                  fill=PAPER if state in _OPEN else colour)  # fmt: skip
    return group((tick, head))


def _place(stage: Stage, ring: Ring, stitch: float) -> Stand:
    """Return the place between stitches, `stitch` of them after the beginning."""
    left = stitch
    for at, carrier in enumerate(stage.needles):
        if left < len(carrier.loops) or at == len(stage.needles) - 1:
            return ring.stand(at, min(1.0, left / len(carrier.loops)))
        left -= len(carrier.loops)
    return ring.stand(0, 0)


def _beginning(stage: Stage, ring: Ring) -> list[ET.Element]:
    """Flag where the round begins; while a holder parts it, the next step says where."""
    if not stage.in_rounds or any(carrier.kind == "held" for carrier in stage.in_ring):
        return []
    flag = ring.stand(0, 0)
    x, y = flag.out(0, 0 if ring.is_round else -4)
    side = -1 if stage.left_handed else 1
    # Where a holder parts the ring, the flag stands at its side, with little room beyond.
    words = ["round", "begins"] if ring.rest else ["round begins"]
    room = 46 if ring.rest else 82
    at = min(x + 8, WIDE - room) if side > 0 else max(x - 8, room)
    anchor = "start" if side > 0 else "end"
    return [
        group(
            (
                line(x, y, x, y + 32, stroke_width=1),
                polygon(((x, y + 22), (x, y + 30), (x + 5 * side, y + 26)), fill=INK),
                *(
                    label(at, y + 41 + 13 * below, word, size=_TEXT, anchor=anchor)
                    for below, word in enumerate(words)
                ),
            ),
            class_="round-begins",
        )
    ]


def _work_point(stage: Stage, ring: Ring) -> list[ET.Element]:
    """Point an arrow to where the work stands, in the direction in which it goes on."""
    wraps = stage.in_rounds and not stage.in_ring
    place = _place(stage, ring, stage.at % stage.count if wraps else stage.at)
    dot = circle(*place.out(19), 2.2, fill=INK)
    given: dict[str, Any] = {"class_": "work", "data_at": stage.at}
    if not stage.goes_on:
        return [group((dot,), **given)]
    step = 1 if stage.right_side else -1
    sweep = [ring.along(place, 19, step * far) for far in (0, 6, 12, 18)]
    (x1, y1), (x2, y2) = sweep[-2], sweep[-1]
    ux, uy = (x2 - x1) / 6, (y2 - y1) / 6
    route = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in sweep)
    head = arrow_head(x2 + 6 * ux, y2 + 6 * uy, ux, uy, long=6, half=3.5)
    side = "RS" if stage.right_side else "WS"
    return [group((dot, path(route, stroke_width=1.6), head), data_side=side, **given)]


def _holes(stage: Stage, ring: Ring) -> list[tuple[Gap, Stand]]:
    """Return the holes that stitches on the needles stand above, and where."""
    loops = [loop for carrier in stage.needles for loop in carrier.loops]
    found = []
    for gap in stage.gaps:
        places = sorted(loops.index(loop) for loop in gap.above if loop in loops)
        if places:
            is_closed = stage.in_rounds and not ring.rest
            middle = _centre(places, len(loops)) if is_closed else sum(places) / len(places)
            found.append((gap, _place(stage, ring, middle + 0.5)))
    return found


def _centre(places: list[int], count: int) -> float:
    """Return the middle of places on a ring of `count`."""
    x = sum(cos(2 * pi * place / count) for place in places)
    y = sum(sin(2 * pi * place / count) for place in places)
    return atan2(y, x) / (2 * pi) * count % count


def _gap(gap: Gap, place: Stand) -> ET.Element:
    x, y = place.out(-16)
    size = len(gap.loops)
    corners = [
        (x + 10 * cos(2 * pi * at / size), y + 10 * sin(2 * pi * at / size)) for at in range(size)
    ]
    return group(
        (
            polygon(corners, fill="#ffe9d6", stroke="#b34a00", stroke_width=1.6),
            label(x, y + 4, str(size), size=_TEXT, anchor="middle", font_weight="bold"),
        ),
        class_="gap", data_edges=size,
    )  # fmt: skip


def _aside(
    carrier: Carrier, y: float, words: list[str], colours: Mapping[str, str], *, left_handed: bool
) -> ET.Element:
    """Draw what lies on a holder or on waste yarn, below the ring, in working order."""
    count = len(carrier.loops)
    whole, step = WIDE - 40, 1 if left_handed else -1
    start = 20.0 if left_handed else WIDE - 20
    few = whole / count >= _LOOP
    parts = [line(20, y, WIDE - 20, y, **_yarn_of(carrier))]
    parts += [
        _loop(Stand(start + step * whole * (place + 0.5) / count, y, 0, -1), state, few=few,
              long=not (place + 1) % 10, hue=_hue(colours, carrier, place))
        for place, state in enumerate(carrier.states)
    ]  # fmt: skip
    parts += [label(8, y + 16 + _LINE * at, one, size=_TEXT) for at, one in enumerate(words)]
    return group(parts, class_="aside", data_name=carrier.name)


guard(globals())
