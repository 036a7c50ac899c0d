"""What can be moved on a sock by hand: one control each, with its present value and its bounds.

The controls of a heel, a toe, a leg or a cuff are the fields of its class, as its keys in a design
file are. So a heel of somebody else's can be tried as soon as it is known.
"""

from __future__ import annotations

import enum
import inspect
import re
import types
import typing
from collections.abc import Iterator, Mapping
from typing import Any, Final, TypeAlias

import attrs

from loopwright.errors import LoopwrightError
from loopwright.sock import (
    Direction,
    Plan,
    Sex,
    Sock,
    cuff_names,
    heel_names,
    leg_names,
    toe_names,
)

__all__ = [
    "MEASURES",
    "PARTS",
    "Control",
    "Value",
    "controls",
    "fields_shown",
    "is_share",
    "kind_of",
    "kinds_of",
    "shown_value",
]

Value: TypeAlias = str | bool | float | None
"""Of a control: a word, yes or no, a number in the control's unit; None is what is usual."""

Path: TypeAlias = tuple[str, ...]
"""Of a field in its part: ``("turn", "shape")``."""

PARTS: Final = {"heel": heel_names, "toe": toe_names, "leg": leg_names, "cuff": cuff_names}
MEASURES: Final = (
    "length", "ball_girth", "instep_girth", "heel_girth", "ankle_girth", "leg_girth", "leg_height",
)  # fmt: skip
_GROUP: Final = {"heel": "Heel", "toe": "Toe", "leg": "Leg and cuff", "cuff": "Leg and cuff"}
# Shorter or plainer than the field's own name; one that isn't here is called by its name.
_CALLED: Final = {
    "fabric": "flap worked in",
    "turn.shape": "turn",
    "turn.past_middle": "row 1 goes past the middle by",
    "rows": "rows of the flap",
    "by_height": "rows by the ankle's height",
    "longer": "rows more",
    "corner": "picked up at each corner",
    "twisted": "picked-up stitches twisted",
    "plain_rounds": "plain rounds first",
    "gusset": "gusset, each side",
    "wedge.placement": "decreases stand",
    "wedge.band": "band at each side",
    "wedge.stop": "stops at",
    "wedge.left": "stitches left",
    "wedge.plain": "plain rounds between",
    "wedge.every_round_last": "last rounds without plain ones",
    "wedge.closing": "closed by",
    "rows.turning": "turns",
    "rows.middle": "left in the middle",
    "rows.side": "turns at each side",
    "last": "left in each sector",
    "widest": "stitches at the top",
    "stretchy": "stretchy edge",
}
_LENGTH: Final = "_mm"
_LARGEST: Final = 400  # stitches or rounds that a control goes to; no sock has more of one thing
_STEPS: Final = (1, 2, 3, 4, 6, 8)


@attrs.frozen(kw_only=True)
class Control:
    """One thing to move.

    Parameters
    ----------
    key : str
        ``"heel.turn.shape"``: what a refusal names as well.
    group, words : str
        Under which heading it stands, and what it is called.
    kind : str
        ``"number"``, ``"count"`` (whole), ``"choice"`` or ``"yes"``.
    value : str, bool, float or None
        None where it is left to what is usual.
    unit : str
    low, high, step : float
        Of a number or a count.
    options : tuple of str
        Of a choice.
    usual : float, optional
        The number it has where the value is None; such a control can be left.
    can_be_left : bool
    about : str
        One sentence more.
    """

    key: str
    group: str
    words: str
    kind: str
    value: Value
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    step: float = 1.0
    options: tuple[str, ...] = ()
    usual: float | None = None
    can_be_left: bool = False
    about: str = ""


def controls(sock: Sock) -> tuple[Control, ...]:
    """Return all that can be moved on a sock."""
    try:
        plan = sock.plan()
    except LoopwrightError:
        plan = None
    found = [*_of_part(sock, plan, "heel"), *_of_fit(sock, plan), _direction(sock)]
    found += [*_of_part(sock, plan, "toe"), *_of_part(sock, plan, "leg")]
    return (*found, *_of_part(sock, plan, "cuff"), *_of_foot(sock), *_of_gauge(sock))


def _of_fit(sock: Sock, plan: Plan | None) -> Iterator[Control]:
    yield Control(
        key="fit.ease", group="Fit", words="ease", kind="number", value=_round(100 * sock.ease),
        unit="%", low=-25, high=10, step=0.5, about="The sock's girth less the foot's.",
    )  # fmt: skip
    yield Control(
        key="fit.stitches", group="Fit", words="stitches round the foot", kind="count",
        value=sock.stitches, low=8, high=_LARGEST, step=sock.multiple.of,
        usual=None if plan is None else plan.stitches.count, can_be_left=True,
        about=f"As the ease asks, or a number of your own: {sock.multiple}.",
    )  # fmt: skip
    yield Control(
        key="fit.share", group="Fit", words="heel's share of the round", kind="number",
        value=_round(100 * sock.share), unit="%", low=40, high=65, step=1,
        about="More of it for a high instep.",
    )  # fmt: skip
    yield Control(
        key="fit.length_ease", group="Fit", words="length less the foot's", kind="number",
        value=_round(sock.length_ease_mm / 10), unit="cm", low=-3, high=3, step=0.1,
        about="Below nothing, the sock is shorter than the foot.",
    )  # fmt: skip


def _direction(sock: Sock) -> Control:
    return Control(
        key="direction", group="Fit", words="worked", kind="choice", value=sock.direction.value,
        options=tuple(each.value for each in Direction),
    )  # fmt: skip


def _of_foot(sock: Sock) -> Iterator[Control]:
    for name in MEASURES:
        length = getattr(sock.foot, name)
        in_cm, guess = _round(length.mm / 10), length.is_estimated
        yield Control(
            key=f"foot.{name}", group="Foot", words=name.replace("_", " "), kind="number",
            value=None if guess else in_cm, unit="cm", low=5, high=60, step=0.1,
            usual=round(in_cm, 1), can_be_left=True,
            about="Estimated from the others where nobody measured it.",
        )  # fmt: skip
    yield Control(
        key="foot.sex", group="Foot", words="whose feet it is estimated from", kind="choice",
        value=sock.foot.sex.value, options=tuple(each.value for each in Sex),
    )  # fmt: skip


def _of_gauge(sock: Sock) -> Iterator[Control]:
    gauge = sock.gauge
    for key, per_cm in (("stitches", gauge.stitches_per_cm), ("rounds", gauge.courses_per_cm)):
        yield Control(
            key=f"gauge.{key}", group="Gauge", words=f"{key} to 10 cm", kind="number",
            value=_round(10 * per_cm), low=4, high=80, step=0.5,
        )  # fmt: skip


def _of_part(sock: Sock, plan: Plan | None, what: str) -> Iterator[Control]:
    part: Any = getattr(sock, what)
    names = kinds_of(what, part)
    yield Control(
        key=f"{what}.kind", group=_GROUP[what], words=what, kind="choice", value=part.name,
        options=tuple(names),
    )  # fmt: skip
    numbers = {"heel": plan.heel, "toe": plan.toe, "leg": plan}.get(what) if plan else None
    for path, hint, value in fields_shown(part):
        yield _of_field(part, what, path, hint, value, numbers)


def kinds_of(what: str, part: Any) -> list[str]:
    """Return the constructions that a part can be changed to, its own among them."""
    names = list(PARTS[what]())
    if what == "leg" and part.name != "patterned":
        names.remove("patterned")  # it needs rounds of its own, which are written, not moved
    return names if part.name in names else [*names, part.name]


def fields_shown(
    part: Any, path: tuple[str, ...] = ()
) -> Iterator[tuple[tuple[str, ...], Any, Any]]:
    """Yield the fields of a part that a control can hold: their path, type and value."""
    hints = typing.get_type_hints(type(part))
    for field in attrs.fields(type(part)):
        value, hint = getattr(part, field.name), hints[field.name]
        if not field.init:
            continue
        if attrs.has(type(value)):
            yield from fields_shown(value, (*path, field.name))
        elif kind_of(hint):
            yield (*path, field.name), hint, value


def kind_of(hint: Any) -> str:
    """Return the kind of control for a field's type; empty where there is none."""
    if isinstance(_bare(hint), type):
        for of, kind in ((enum.Enum, "choice"), (bool, "yes"), (int, "count"), (float, "number")):
            if issubclass(_bare(hint), of):
                return kind
    return ""


def _bare(hint: Any) -> Any:
    """Return a type without its None."""
    options = typing.get_args(hint) if isinstance(hint, types.UnionType) else (hint,)
    kinds = [option for option in options if option is not type(None)]
    return kinds[0] if len(kinds) == 1 else None


def is_share(name: str, hint: Any) -> bool:
    """Whether a field's number is a share, which is shown in per cent."""
    return kind_of(hint) == "number" and not name.endswith(_LENGTH)


def _of_field(
    part: Any, what: str, path: tuple[str, ...], hint: Any, value: Any, numbers: Any
) -> Control:
    *_, name = path
    key, kind = ".".join(path).removesuffix(_LENGTH), kind_of(hint)
    told: dict[str, Any] = {
        "key": f"{what}.{key}",
        "group": _GROUP[what],
        "words": _CALLED.get(key, " ".join(path).removesuffix(_LENGTH).replace("_", " ")),
        "kind": kind,
        "value": shown_value(path, hint, value),
        "about": _told(part, path),
    }
    if kind == "choice":
        return Control(**told, options=_options(hint))
    if kind == "yes":
        return Control(**told)
    if kind == "number":
        unit, step, high = ("%", 1, 100) if is_share(name, hint) else ("cm", 0.5, 60)
        return Control(**told, unit=unit, high=high, step=step)
    usual = _usual(part, path, numbers) if value is None else None
    start = usual if value is None else value
    return Control(
        **told, high=_LARGEST, step=_step(part, path, start), usual=usual,
        can_be_left=type(None) in typing.get_args(hint),
    )  # fmt: skip


def shown_value(path: Path, hint: Any, value: Any) -> Value:
    """Return a field's value as its control shows it."""
    kind = kind_of(hint)
    if kind == "choice":
        return str(value.value)
    if kind == "number":
        return _round((100 if is_share(path[-1], hint) else 0.1) * value)
    shown: Value = value
    return shown


def _options(hint: Any) -> tuple[str, ...]:
    return tuple(str(each.value) for each in _bare(hint))


def _usual(part: Any, path: tuple[str, ...], numbers: Any) -> int | None:
    """Return the number of a count that is left free; it has the same name among the numbers."""
    path = ("top",) if path == ("widest",) else path
    for name in path:
        numbers = getattr(numbers, name, None)
    if isinstance(numbers, bool) or not isinstance(numbers, int):
        return None
    return numbers - (getattr(part, "longer", 0) if path == ("rows",) else 0)


def _step(part: Any, path: tuple[str, ...], start: int | None) -> int:
    """Return by how much a count can go on, as its class takes it: some are even."""
    for step in _STEPS if start is not None else ():
        try:
            _evolved(part, path, typing.cast(int, start) + step)
        except LoopwrightError:
            continue
        return step
    return 1


def _evolved(part: Any, path: tuple[str, ...], value: Any) -> Any:
    name, *rest = path
    new = _evolved(getattr(part, name), tuple(rest), value) if rest else value
    return attrs.evolve(part, **{name: new})


def _told(part: Any, path: tuple[str, ...]) -> str:
    """Return the first sentence that the docstring of a field's class says about it."""
    for name in path[:-1]:
        part = getattr(part, name)
    return _parameters(inspect.getdoc(type(part)) or "").get(path[-1], "")


def _parameters(doc: str) -> Mapping[str, str]:
    """Return the first sentence about each parameter of a numpydoc docstring."""
    _, _, rest = doc.partition("Parameters\n----------\n")
    section = re.split(r"\n\n?[A-Z][A-Za-z ]+\n-{3,}\n", rest, maxsplit=1)[0]
    found: dict[str, str] = {}
    for entry in re.split(r"\n(?=\S)", section):
        head, _, text = entry.partition("\n")
        names, _, _ = head.partition(" : ")
        words = re.sub(r" \([^)]*\)", "", " ".join(text.split()))
        first = re.split(r"(?<=[.;:])\s", words, maxsplit=1)[0].rstrip(";:")
        found.update(dict.fromkeys(names.split(", "), first))
    return found


def _round(value: float) -> float:
    """Return a number as a control shows it."""
    rounded = round(value, 2)
    return int(rounded) if rounded == int(rounded) else rounded
