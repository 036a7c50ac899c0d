"""What is shown of a sock, as plain data: at once from its counts, then as it is worked out.

Nothing is computed here that a lower room doesn't know; here it is only put into words and pictures
for a page. What comes of counts alone is marked as estimated.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

import attrs

from loopwright.fitting import Fit, FootForm, Sample, estimated_fit, fit, foot_form
from loopwright.pattern import Pattern, SockPart, write
from loopwright.pattern.steps import Section
from loopwright.picture import charts, draw_shape, draw_stretch, draw_worn
from loopwright.plurals import plural
from loopwright.sock import Foot, Plan, Sock
from loopwright.sock.heels import HeelNumbers

__all__ = ["at_rest", "drawn", "heel_text", "measured", "reckoned", "worn"]

_RINGS, _COLUMNS = 48, 28  # of the form that is coloured at once: 20 ms
_PLACE_OF: Final = {"top": "leg"}  # a sock's place, where the form calls it otherwise
_SEEN_PX: Final = 420.0
# Numbers of a heel that others tell already, or that only its steps need.
_INNER: Final = frozenset({"half", "start", "width", "set_up", "past_middle", "unworked"})


def reckoned(sock: Sock, near: Sample | None) -> dict[str, Any]:
    """Return what the counts tell: numbers, the heel's words, and estimates.

    Parameters
    ----------
    sock : Sock
    near : Sample, optional
        The nearest sock that was measured; without one no fit is estimated.

    Raises
    ------
    LoopwrightError
        The sock can't be made.
    """
    plan, pattern = sock.plan(), sock.pattern()
    shown = {
        "counts": list(_counts(plan)),
        "measures": [[one.label, _cm(one.asked_mm), _cm(one.finished.mm)] for one in plan.measures],
        "text": heel_text(pattern),
        "yarn": _estimated_yarn(sock, near),
        "title": str(sock),
    }
    if near is None:
        return shown
    alike = near.sock.heel.name == sock.heel.name and near.sock.direction is sock.direction
    parts = near.heel_parts if alike else None
    return shown | _sitting(sock, estimated_fit(sock, near), parts, is_estimated=True)


def drawn(made: Sample) -> dict[str, Any]:
    """Return what the knitted fabric tells: the heel's chart, the yarn, the checks."""
    found = charts(made.knitted, "Heel", colours=made.sock.colours)
    return {
        "loops": len(made.fabric),
        "checks": str(made.report).partition("\n")[2] or str(made.report),
        "yarn": {"words": str(made.yarn).partition(": ")[2], "is_estimated": False},
        "charts": [_picture(one.picture()) for one in found],
    }


def measured(made: Sample) -> dict[str, Any]:
    """Return what the relaxed shape tells: girths and verdict."""
    return _sitting(made.sock, fit(made), made.heel_parts, is_estimated=False)


def at_rest(made: Sample) -> dict[str, Any]:
    """Return the sock at rest, by its yarns where it has several, else by its stitches."""
    drawn = draw_shape(made.shape, by=None, size=_SEEN_PX, colours=made.sock.colours)
    return {"rest": _picture(drawn)}


def worn(made: Sample) -> dict[str, Any]:
    """Return the sock on its foot."""
    return {"foot": _picture(draw_worn(made.worn, size=_SEEN_PX)) | {"is_estimated": False},
            "worn": made.worn.words}  # fmt: skip


def heel_text(pattern: Pattern) -> str:
    """Return what the pattern says under the heel's headings.

    Examples
    --------
    >>> from loopwright import Foot, Gauge, Sock
    >>> sock = Sock(foot=Foot.of(length="24.6 cm"), gauge=Gauge.of(32, 44), heel="short-row")
    >>> [line for line in heel_text(sock.pattern()).splitlines() if "Row 1 (RS)" in line]
    ['Row 1 (RS): K33, w&t.']
    """
    headings = {
        step.title for step in pattern.steps
        if isinstance(step, Section) and step.part is SockPart.HEEL
    }  # fmt: skip
    blocks = write(pattern).split("\n## ")[1:]
    found = [block.strip() for block in blocks if block.partition("\n")[0].strip() in headings]
    return "\n\n".join(found)


def _counts(plan: Plan) -> Iterator[list[str]]:
    share = plan.share
    yield ["round the foot", plural(plan.stitches.count, "stitch")]
    yield ["heel and instep", f"{share.heel} and {share.instep}"]
    if plan.top != plan.stitches.count:
        yield ["at the top", plural(plan.top, "stitch")]
    yield ["rounds", f"cuff {plan.cuff_rounds}, leg {plan.leg_rounds}, foot {plan.foot_rounds}"]
    for words, count in _of_heel(plan.heel):
        yield [f"heel: {words}", str(count)]
    yield ["toe, rounds and rows", f"{plan.toe.courses:g}"]


def _of_heel(numbers: Any) -> Iterator[tuple[str, int]]:
    known = {field.name for field in attrs.fields(HeelNumbers)}
    for field in attrs.fields(type(numbers)):
        value = getattr(numbers, field.name)
        if field.name in known or isinstance(value, bool):
            continue
        if isinstance(value, int) and value and field.name not in _INNER:
            yield field.name.replace("_", " "), value
        elif attrs.has(type(value)):
            for words, count in _of_heel(value):
                yield f"{field.name}, {words}", count


def _estimated_yarn(sock: Sock, near: Sample | None) -> dict[str, Any] | None:
    """Return the yarn in proportion to stitches, rounds and size of a stitch."""
    if near is None:
        return None
    share = _work_mm2(sock.plan()) / _work_mm2(near.plan)
    # A loop's length goes with its width and height alike: the area's root, times the loops.
    loops = share * _stitch_mm2(near.sock) / _stitch_mm2(sock)
    size = (_stitch_mm2(sock) / _stitch_mm2(near.sock)) ** 0.5
    metres = near.yarn.metres.likely * loops * size
    return {"words": f"about {metres:.0f} m", "is_estimated": True}


def _work_mm2(plan: Plan) -> float:
    rounds = plan.cuff_rounds + plan.leg_rounds + plan.foot_rounds
    heel = plan.heel.foot_courses + plan.heel.leg_courses
    rounds_of_heel = plan.heel.foot_rounds + plan.heel.leg_rounds
    whole = rounds + rounds_of_heel + heel / 2 + plan.toe.courses / 2
    return whole * plan.stitches.count * plan.gauge.stitch_width_mm * plan.gauge.course_height_mm


def _stitch_mm2(sock: Sock) -> float:
    return sock.gauge.stitch_width_mm * sock.gauge.course_height_mm


_ON: Final = {
    "heel": "on the heel", "gusset": "on the gussets", "sole": "beside the heel, on the sole",
    "instep": "across the instep", "leg": "across the leg's front", "toe": "on the toe",
}  # fmt: skip


def _heel_parts(sock: Sock, sits: Fit, parts: Mapping[str, float] | None) -> list[list[Any]]:
    """Return where the tape over the heel lies: in words, mm at rest, and on the foot.

    On the foot all parts are stretched alike, as far as is known; without parts that were traced
    on a shape the number is the instep's stitches, and the rest.
    """
    heel = sits.at("heel")
    if parts is None:
        instep_mm = min(sock.gauge.width(sock.plan().share.instep).mm, heel.sock.mm)
        parts = {"instep": instep_mm, "heel": heel.sock.mm - instep_mm}
    whole = sum(parts.values())
    rest, foot = round(heel.sock.mm), round(heel.foot.mm)
    found, done = [], 0.0
    for name, mm in parts.items():
        before, done = done, done + mm
        # Rounded so that they add up.
        each = [round(all_mm * done / whole) - round(all_mm * before / whole)
                for all_mm in (rest, foot)]  # fmt: skip
        found.append([_ON[name], *each])
    return found


def _sitting(
    sock: Sock, sits: Fit, parts: Mapping[str, float] | None, *, is_estimated: bool
) -> dict[str, Any]:
    verdict, heel = sits.verdict, sits.at("heel")
    places = {_PLACE_OF.get(one.place, one.place): one.stretch for one in sits.places}
    how = "estimated" if is_estimated else "measured"
    picture = draw_stretch(
        _form(sock.foot), places, title=f"On the foot: stretch at its places, {how}", size=_SEEN_PX
    )
    return {
        "is_estimated": is_estimated,
        "verdict": {"lines": list(verdict.lines), "short": verdict.short,
                    "is_good": verdict.is_good, "is_on": verdict.is_on},
        "cautions": list(sits.cautions),
        "accuracy": sits.accuracy,
        "places": [_place(one) for one in sits.places],
        "heel_girth": {
            "foot_mm": round(heel.foot.mm), "sock_mm": round(heel.sock.mm),
            "stretch": round(heel.stretch, 3), "foot_is_estimated": heel.foot.is_estimated,
            "parts": _heel_parts(sock, sits, parts),
        },
        "foot": _picture(picture) | {"is_estimated": is_estimated},
    }  # fmt: skip


def _place(one: Any) -> dict[str, Any]:
    low, high = one.interval
    return {
        "place": one.place, "foot_mm": round(one.foot.mm), "sock_mm": round(one.sock.mm),
        "stretch": round(one.stretch, 3), "low": round(low, 3), "high": round(high, 3),
        "feel": one.feel.value, "tight": round(one.tight, 3), "loose": round(one.loose, 3),
        "close_at": round(one.scale.close.stretch, 3),
        "loose_at": round(one.scale.loose.stretch, 3),
        "foot_is_estimated": one.foot.is_estimated,
    }  # fmt: skip


def _form(foot: Foot) -> FootForm:
    return foot_form(foot, rings=_RINGS, columns=_COLUMNS)


def _picture(one: Any) -> dict[str, Any]:
    return {"svg": one.svg(), "title": one.title, "words": one.description,
            "width": round(one.width), "height": round(one.height)}  # fmt: skip


def _cm(mm: float) -> str:
    return "" if mm != mm else f"{mm / 10:.1f} cm"
