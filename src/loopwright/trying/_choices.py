"""From choices, which a page holds as words and numbers by key, to a sock, and back.

What isn't moved stays as it is in the sock that was begun with, to the last digit. Its gauge keeps
the spread of its counts, its foot whatever was measured besides.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

import attrs

from loopwright.design import DesignTable, Document, build
from loopwright.errors import DesignError, FootError, GaugeError, LoopwrightError
from loopwright.gauge import Gauge
from loopwright.sock import Direction, Foot, Sex, Sock, cuff_named, heel_named, leg_named, toe_named
from loopwright.trying._controls import (
    MEASURES,
    PARTS,
    Control,
    Value,
    controls,
    fields_shown,
    is_share,
    kind_of,
    kinds_of,
    shown_value,
)

__all__ = ["Choices", "changed_words", "choices_of", "place_of", "refusal_words", "sock_of"]

Choices = Mapping[str, Value]

_NAMED: Final[dict[str, Callable[[str], Any]]] = {
    "heel": heel_named, "toe": toe_named, "leg": leg_named, "cuff": cuff_named,
}  # fmt: skip
_MOST: Final = 9999  # no number of a sock comes near
_LONGEST: Final = 60  # letters of a word that is repeated back
_FIT: Final = {"ease": ("ease", 0.01), "share": ("share", 0.01),
               "length_ease": ("length_ease_mm", 10.0)}  # fmt: skip


def choices_of(sock: Sock) -> dict[str, Value]:
    """Return a sock's choices, by the keys of its controls."""
    return {one.key: one.value for one in controls(sock)}


def sock_of(choices: Choices, begun: Sock) -> Sock:
    """Return the sock of some choices; those that are missing are as in the sock begun with.

    Raises
    ------
    DesignError
        A key that there isn't, or a value of the wrong kind; `DesignError.key` says which.
    LoopwrightError
        What the classes of gauge, foot and constructions refuse.
    """
    was = choices_of(begun)
    moved = {key: value for key, value in choices.items() if was.get(key, _MISSING) != value}
    for key in moved:
        if key not in was and key.partition(".")[0] not in PARTS:
            raise DesignError(str(key)[:_LONGEST], 1, "no such choice", "one of a sock's")
    new: dict[str, Any] = {}
    for key, (field, scale) in _FIT.items():
        if f"fit.{key}" in moved:
            new[field] = round(scale * _number(moved, f"fit.{key}"), 6)
    if "fit.stitches" in moved:
        new["stitches"] = None if moved["fit.stitches"] is None else _whole(moved, "fit.stitches")
    if "direction" in moved:
        new["direction"] = _word(moved, "direction", [each.value for each in Direction])
    for what in PARTS:
        if any(key.startswith(f"{what}.") for key in moved):
            new[what] = _part(choices, what, getattr(begun, what))
    if any(key.startswith("foot.") for key in moved):
        new["foot"] = _foot({**was, **choices}, moved, begun.foot)
    if any(key.startswith("gauge.") for key in moved):
        counts = [_number({**was, **choices}, f"gauge.{key}") for key in ("stitches", "rounds")]
        new["gauge"] = Gauge.of(*counts, over="10 cm", state=begun.gauge.state)
    return attrs.evolve(begun, **new) if new else begun


_MISSING: Final = object()


def _part(choices: Choices, what: str, was: Any) -> Any:
    """Return a construction: that of the sock begun with, or the usual one, with what is moved."""
    kind = _word({f"{what}.kind": was.name, **choices}, f"{what}.kind", kinds_of(what, was))
    usual = was if kind == was.name else _NAMED[what](kind)
    values: dict[str, Any] = {}
    shown = {".".join(path).removesuffix("_mm"): (path, hint, value)
             for path, hint, value in fields_shown(usual)}  # fmt: skip
    for key in choices:
        name = key.removeprefix(f"{what}.")
        if key.startswith(f"{what}.") and name not in shown and name != "kind":
            raise DesignError(key[:_LONGEST], 1, "a choice that it hasn't", f"one of {[*shown]}")
    for name, (path, hint, value) in shown.items():
        key = f"{what}.{name}"
        is_moved = key in choices and choices[key] != shown_value(path, hint, value)
        told = _as_key(choices, key, path, hint) if is_moved else _as_told(path, hint, value)
        if told is not None:
            *parents, last = path
            inner = values
            for parent in parents:
                inner = inner.setdefault(parent, {})
            inner[last.removesuffix("_mm")] = told
    given = {
        field.name: getattr(usual, field.name)
        for field in attrs.fields(type(usual))
        if field.init and not _is_shown(field.name, shown)
    }
    table = DesignTable(Document(values, {}), values, (what,))
    return _with_the_rest(build(type(usual), table, **given), usual)


def _is_shown(name: str, shown: Mapping[str, tuple[tuple[str, ...], Any, Any]]) -> bool:
    return any(path[0] == name for path, _, _ in shown.values())


def _as_key(choices: Choices, key: str, path: tuple[str, ...], hint: Any) -> Any:
    """Return a choice as a design file would have it; None where it is left to what is usual."""
    value, kind = choices[key], kind_of(hint)
    if value is None or kind in ("choice", "yes"):
        return value
    if kind == "count":
        return _whole(choices, key)
    number = _number(choices, key)
    return number / 100 if is_share(path[-1], hint) else f"{number:g} cm"


def _as_told(path: tuple[str, ...], hint: Any, value: Any) -> Any:
    if kind_of(hint) == "choice":
        return value.value
    return f"{value!r} mm" if path[-1].endswith("_mm") else value


def _with_the_rest(new: Any, usual: Any) -> Any:
    """Return a part with those of the usual one's fields, deeper down, that no control shows."""
    changed = {}
    for field in attrs.fields(type(new)):
        mine, other = getattr(new, field.name), getattr(usual, field.name)
        if not field.init:
            continue
        if attrs.has(type(mine)) and type(mine) is type(other):
            changed[field.name] = _with_the_rest(mine, other)
        elif isinstance(other, tuple):
            changed[field.name] = other
    return attrs.evolve(new, **changed) if changed else new


def _foot(choices: Choices, moved: Choices, was: Foot) -> Foot:
    """Return the foot of the measures that were taken; what was moved is exact to 0.1 mm."""
    given: dict[str, Any] = {}
    for name, length in was.measures():
        key = f"foot.{name}"
        if key in moved:
            if moved[key] is not None:
                given[name] = f"{round(10 * _number(moved, key), 1):g} mm"
        elif not length.is_estimated:
            given[name] = f"{length.mm!r} mm"
    sex = _word(choices, "foot.sex", [each.value for each in Sex])
    return Foot.of(**given, sex=sex)


def _number(choices: Choices, key: str) -> float:
    value = choices[key]
    if isinstance(value, bool | str | None) or not abs(value) <= _MOST:  # nor is what isn't one
        raise DesignError(key, 1, _shown(value), f"a number of at most {_MOST}")
    return float(value)


def _whole(choices: Choices, key: str) -> int:
    value = _number(choices, key)
    if value != int(value):
        raise DesignError(key, 1, _shown(value), "a whole number")
    return int(value)


def _word(choices: Choices, key: str, known: list[str]) -> str:
    value = choices[key]
    if not isinstance(value, str) or value not in known:
        raise DesignError(key, 1, _shown(value), f"one of {', '.join(known)}")
    return value


def _shown(value: object) -> str:
    text = f"{value:g}" if isinstance(value, float) else repr(value)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."


def refusal_words(error: LoopwrightError) -> str:
    """Return what an error says, without the line of a file that there isn't."""
    if not isinstance(error, DesignError):
        return str(error)
    return error.found if error.refused else f"found {error.found}; expected {error.expected}"


def place_of(error: LoopwrightError) -> str:
    """Return the key of the control that an error is about; empty where it doesn't say."""
    if isinstance(error, DesignError):
        return error.key
    if isinstance(error, GaugeError):
        return "gauge.rounds" if "courses" in error.what else "gauge.stitches"
    if isinstance(error, FootError):
        about = error.what.replace(" ", "_")
        near = (name for name in MEASURES if about.startswith(name))
        return f"foot.{next(near, MEASURES[0])}"
    return ""


def changed_words(sock: Sock, begun: Sock) -> str:
    """Return in words what differs from the sock begun with.

    Of another construction only its name and what isn't usual with it.
    """
    was = choices_of(begun)
    kinds = {f"{what}.kind": getattr(sock, what).name for what in PARTS}
    usual = choices_of(sock_of(kinds, begun))
    told = [
        _in_words(one, one.value)
        for one in controls(sock)
        if one.value != (was if one.key in kinds else usual).get(one.key, _MISSING)
    ]
    return "; ".join(told) or "as begun"


def _in_words(one: Control, value: Value) -> str:
    if one.key.endswith(".kind"):
        return f"{value} {one.words}"
    if value is None:
        return f"{one.words} as usual"
    if isinstance(value, bool):
        return one.words if value else f"not {one.words}"
    if isinstance(value, str):
        return f"{one.words} {value}"
    return f"{one.words} {value:g} {one.unit}".rstrip()
