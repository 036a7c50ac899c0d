"""The JSON Schema of a design file, for editors and other programs that read TOML.

It says which keys there are and of what kind; what only a reader can say (whether a foot can be,
whether a heel has room) is left to `read_design`. Heels, toes, cuffs and legs are described by
their classes, so that one of your own is in it as soon as it is known.
"""

from __future__ import annotations

import enum
import types
import typing
from collections.abc import Callable, Iterable
from typing import Any, Final

import attrs

from loopwright.design._document import VERSION
from loopwright.design._exact import MEASURES
from loopwright.design.front import Paper
from loopwright.fabric.stitches import Stitch
from loopwright.gauge import Relaxation
from loopwright.length import Origin
from loopwright.pattern import Words
from loopwright.sock import (
    PatternedLeg,
    cuff_named,
    cuff_names,
    leg_named,
    leg_names,
    toe_named,
    toe_names,
)
from loopwright.sock.heels import Direction, heel_named, heel_names
from loopwright.sock.needles import Needles
from loopwright.sock.survey import Sex

__all__ = ["design_schema"]

Schema = dict[str, Any]

_TEXT: Final[Schema] = {"type": "string"}
_WHOLE: Final[Schema] = {"type": "integer"}
_YES: Final[Schema] = {"type": "boolean"}
_LENGTH: Final[Schema] = {"type": "string", "pattern": "[0-9]", "description": "with its unit"}
_SHARE: Final[Schema] = {"type": ["number", "string"], "description": 'a share, or "10 %"'}
_TEXTS: Final[Schema] = {"type": "array", "items": _TEXT}
_TEXT_OR_TEXTS: Final[Schema] = {"anyOf": [_TEXT, _TEXTS]}


def _table(properties: Schema, required: Iterable[str] = ()) -> Schema:
    found: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
    return found | ({"required": list(required)} if required else {})


def _words(of: type[enum.Enum]) -> Schema:
    # Read in any letters, large or small.
    expected = ", ".join(str(member.value) for member in of)
    return {"type": "string", "description": f"one of {expected}"}


def design_schema() -> Schema:
    """Return the JSON Schema of a design file, version 1, read as TOML.

    Examples
    --------
    >>> found = design_schema()
    >>> sorted(found["required"]), found["properties"]["version"]
    (['gauge'], {'const': 1})
    >>> [each["properties"]["kind"]["const"] for each in found["$defs"]["toe"]["oneOf"]]
    ['wedge', 'round', 'short-row']
    """
    fit = {
        "ease": _SHARE, "length_ease": _LENGTH, "heel_share": _SHARE, "stitches": _WHOLE,
    }  # fmt: skip
    foot = _foot() | fit
    ref = {name: {"$ref": f"#/$defs/{name}"} for name in _shared_tables()}
    top: Schema = {
        "version": {"const": VERSION},
        **dict.fromkeys(("title", "summary"), _TEXT),
        "words": _words(Words),
        "parts": _TEXT_OR_TEXTS,
        "direction": _words(Direction),
        "needles": _words(Needles),
        **dict.fromkeys(("gauge", "rib_gauge", "slip_gauge"), ref["gauge"]),
        "yarn": _table({"name": _TEXT, **_BAND}, ["count"]),
        "yarns": {"type": "array", "items": _table(
            {"name": _TEXT, "band": _TEXT, "parts": _TEXTS, "colour": _TEXT, **_BAND}, ["name"])},
        "stripes": _table({"sequence": _TEXT_OR_TEXTS, "parts": _TEXTS}, ["sequence"]),
        "panel": _table(
            {"rounds": _TEXTS, "repeats": _WHOLE, "plain": _WHOLE, "gauge": ref["gauge"],
             "matches_cuff": _YES}, ["rounds"]),
        "all_round": {"type": "array", "items": _table(
            {"rounds": _TEXTS, "chart": _TEXTS, "part": _TEXT, "after": _WHOLE, "times": _WHOLE,
             "gauge": ref["gauge"], "stretch": {"type": "number"}})},
        "stitches": {"type": "array", "items": _class(Stitch)},
        "fit": _table(fit),
        **{part: ref[part] for part in ("heel", "toe", "cuff", "leg")},
        "foot": _table(foot),
        "sizes": {"type": "array", "items": _table({"name": _TEXT, **foot}, ["name"])},
        "measured": {"type": "array", "items": _measured()},
        "document": _front(),
    }  # fmt: skip
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "loopwright design",
        **_table(top, ["gauge"]),
        "oneOf": [{"required": ["foot"]}, {"required": ["sizes"]}],
        "$defs": _shared_tables(),
    }


_BAND: Final[Schema] = {"count": _TEXT, "ball": _TEXT, "fibre_density": {"type": "number"}}


def _shared_tables() -> Schema:
    return {
        "gauge": {"anyOf": [_swatch(), _rates()]},
        "heel": _kinds(heel_names(), heel_named, "forethought"),
        "toe": _kinds(toe_names(), toe_named, "wedge"),
        "cuff": _kinds(cuff_names(), cuff_named, "2x2 rib"),
        "leg": _kinds(leg_names(), _leg, "plain"),
    }


def _leg(name: str) -> Any:
    return PatternedLeg if name == PatternedLeg.name else leg_named(name)


def _swatch() -> Schema:
    count = {"type": "number", "exclusiveMinimum": 0}
    counts = {"anyOf": [count, {"type": "array", "items": count, "minItems": 1}]}
    over = {"anyOf": [_LENGTH, {"type": "array", "items": _LENGTH, "minItems": 2, "maxItems": 2}]}
    return _table(
        {"stitches": counts, "rounds": counts, "over": over, "state": _words(Relaxation)},
        ["stitches", "rounds", "over"],
    )


def _rates() -> Schema:
    keys = ("stitches_per_cm", "rounds_per_cm", "stitches_sd", "rounds_sd")
    number = {"type": "number", "minimum": 0}
    return _table({**dict.fromkeys(keys, number), "state": _words(Relaxation)}, keys)


def _foot() -> Schema:
    length = _table(
        {"mm": {"type": "number"}, "sd_mm": {"type": "number", "minimum": 0},
         "origin": _words(Origin), "how": _TEXT}, ["mm"],
    )  # fmt: skip
    whole = {**dict.fromkeys(MEASURES, length), "scale": {"type": "number"}, "notes": _TEXTS}
    return {
        **dict.fromkeys(MEASURES, _LENGTH),
        **dict.fromkeys(("shoe", "chart"), _TEXT),
        "sex": _words(Sex),
        "tape": _LENGTH,
        "measures": _table(whole, MEASURES),
    }


def _measured() -> Schema:
    taped = ("heel_girth", "foot_girth", "leg_girth", "foot_length", "tape")
    texts = ("name", "size", "design", "pattern", "note")
    told = {**dict.fromkeys(taped, _LENGTH), **dict.fromkeys(texts, _TEXT)}
    return _table({**told, "state": _words(Relaxation)})


def _front() -> Schema:
    lines = ("author", "credits", "copyright", "skill", "picture")
    own = {"type": "object", "additionalProperties": _TEXT}
    wording = _table(dict.fromkeys(("instead_of", "says", "part"), _TEXT), ["instead_of", "says"])
    return _table(
        {
            **dict.fromkeys(lines, _TEXT),
            **dict.fromkeys(("notes", "needle_for", "needle"), _TEXT_OR_TEXTS),
            "paper": _words(Paper),
            "rounds": _TEXT,
            **dict.fromkeys(("large_print", "inches_first"), _YES),
            **dict.fromkeys(("before", "after"), own),
            "wording": {"type": "array", "items": wording},
        }
    )


def _kinds(names: Iterable[str], named: Callable[[str], Any], usual: str) -> Schema:
    """Return one table for each kind; the usual one may go without its name."""
    found = []
    for name in names:
        cls = named(name)
        cls = cls if isinstance(cls, type) else type(cls)
        rounds = {"rounds": _TEXTS} if cls is PatternedLeg else None
        fields = rounds or _class(cls)["properties"]
        required = [] if name == usual else ["kind"]
        found.append(_table({"kind": {"const": name}, **fields}, required))
    return {"oneOf": found}


def _class(cls: type) -> Schema:
    """Return the table that `build` makes a class from."""
    hints = typing.get_type_hints(cls)
    fields = {
        field.name.removesuffix("_mm"): _value(field.name, hints[field.name])
        for field in attrs.fields(cls)
        if field.init
    }
    return _table(fields)


def _value(name: str, kind: Any) -> Schema:
    if name.endswith("_mm"):
        return _LENGTH
    options = typing.get_args(kind) if isinstance(kind, types.UnionType) else (kind,)
    for option in options:
        if isinstance(option, type) and issubclass(option, enum.Enum):
            return _words(option)
        if isinstance(option, type) and attrs.has(option):
            return _class(option)
        if typing.get_origin(option) is tuple:
            return {"type": "array", "items": _value("", typing.get_args(option)[0])}
    for option, found in ((bool, _YES), (int, _WHOLE), (float, _SHARE)):
        if option in options:
            return found
    return _TEXT
