"""How a value of a declared type is written as JSON, read back, and described by a JSON Schema.

The declarations of the attrs classes alone say all three, so that a field which is added is
written, read and described without a line here. Heels and toes of your own are found by name.
"""

from __future__ import annotations

import inspect
import json
import math
import types
import typing
from abc import ABC, abstractmethod
from collections.abc import Iterator
from enum import Enum
from functools import cache
from typing import Any, Final

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.errors import FabricFileError, LoopwrightError, RecordError
from loopwright.fabric import STITCHES, Fabric
from loopwright.fabric import files as fabric_files
from loopwright.fabric.stitches import StitchTable
from loopwright.sock import Toe, toe_named, toe_names
from loopwright.sock.heels import Heel, heel_named, heel_names

__all__ = ["Form", "Schema", "form_of"]

Schema = dict[str, Any]

_JSON: Final = {bool: "boolean", int: "integer", str: "string"}
_AGAIN: Final = "write the file again"


class Form(ABC):
    """How values of one declared type stand in a file."""

    @abstractmethod
    def fits(self, value: Any) -> bool:
        """Whether a value is of this form, to choose between several."""

    @abstractmethod
    def out(self, value: Any) -> Any:
        """Return it as JSON has it."""

    @abstractmethod
    def back(self, data: Any, place: str) -> Any:
        """Return the value; `RecordError` names the place."""

    @abstractmethod
    def schema(self, shared: dict[str, Schema]) -> Schema:
        """Return its JSON Schema; those of classes are put into `shared`."""


def _refuse(place: str, data: Any, expected: str) -> RecordError:
    shown = repr(data)
    shown = shown if len(shown) <= 40 else f"{shown[:37]}..."
    return RecordError(place, f"found {shown}; expected {expected}", _AGAIN)


@attrs.frozen
class _Plain(Form):
    kind: type

    def fits(self, value: Any) -> bool:
        if self.kind is int:
            return isinstance(value, int | np.integer) and not isinstance(value, bool)
        return isinstance(value, self.kind)

    def out(self, value: Any) -> Any:
        return self.kind(value)

    def back(self, data: Any, place: str) -> Any:
        if type(data) is not self.kind:
            raise _refuse(place, data, f"a value of the kind {_JSON[self.kind]}")
        return data

    def schema(self, shared: dict[str, Schema]) -> Schema:
        return {"type": _JSON[self.kind]}


@attrs.frozen
class _Number(Form):
    """A finite number; null stands for one that is not known (NaN)."""

    def fits(self, value: Any) -> bool:
        return isinstance(value, float | int | np.number) and not isinstance(value, bool)

    def out(self, value: Any) -> Any:
        if math.isnan(value):
            return None
        if math.isinf(value):
            raise RecordError("a number", "it is not finite", "a file holds finite numbers")
        return int(value) if isinstance(value, int) else float(value)

    def back(self, data: Any, place: str) -> Any:
        if data is None:
            return math.nan
        if type(data) not in (int, float) or not abs(data) <= _LARGEST:
            raise _refuse(place, data, "a number, or null where it is not known")
        return data

    def schema(self, shared: dict[str, Schema]) -> Schema:
        return {"type": ["number", "null"]}


_LARGEST: Final = 1.7e308


@attrs.frozen
class _Nothing(Form):
    def fits(self, value: Any) -> bool:
        return value is None

    def out(self, value: Any) -> Any:
        return None

    def back(self, data: Any, place: str) -> Any:
        if data is not None:
            raise _refuse(place, data, "null")
        return None

    def schema(self, shared: dict[str, Schema]) -> Schema:
        return {"type": "null"}


@attrs.frozen
class _Word(Form):
    """A member of an enumeration, by its value."""

    kind: type[Enum]

    def fits(self, value: Any) -> bool:
        return isinstance(value, self.kind)

    def out(self, value: Any) -> Any:
        return value.value

    def back(self, data: Any, place: str) -> Any:
        for member in self.kind:
            if member.value == data and type(member.value) is type(data):
                return member
        raise _refuse(place, data, f"one of {', '.join(str(one.value) for one in self.kind)}")

    def schema(self, shared: dict[str, Schema]) -> Schema:
        return {"enum": [member.value for member in self.kind]}


@attrs.frozen
class _Row(Form):
    """A tuple: of any length with one form, or with a form for each entry."""

    entries: tuple[Form, ...]
    any_length: bool

    def fits(self, value: Any) -> bool:
        return isinstance(value, tuple)

    def _forms(self, count: int) -> tuple[Form, ...]:
        return self.entries * count if self.any_length else self.entries

    def out(self, value: Any) -> Any:
        return [form.out(one) for form, one in zip(self._forms(len(value)), value, strict=True)]

    def back(self, data: Any, place: str) -> Any:
        if not isinstance(data, list):
            raise _refuse(place, data, "a list")
        forms = self._forms(len(data))
        if len(forms) != len(data):
            raise _refuse(place, data, f"{len(forms)} entries")
        return tuple(
            form.back(one, f"{place}[{number}]")
            for number, (form, one) in enumerate(zip(forms, data, strict=True))
        )

    def schema(self, shared: dict[str, Schema]) -> Schema:
        if self.any_length:
            return {"type": "array", "items": self.entries[0].schema(shared)}
        inner = [form.schema(shared) for form in self.entries]
        return {
            "type": "array", "prefixItems": inner, "items": False,
            "minItems": len(inner), "maxItems": len(inner),
        }  # fmt: skip


@attrs.frozen
class _Array(Form):
    """An array: its shape, and its entries row by row."""

    dtype: np.dtype[Any]

    def fits(self, value: Any) -> bool:
        return isinstance(value, np.ndarray)

    def out(self, value: Any) -> Any:
        return {"shape": list(value.shape), "values": value.ravel().tolist()}

    def back(self, data: Any, place: str) -> Any:
        if not isinstance(data, dict) or set(data) != {"shape", "values"}:
            raise _refuse(place, data, "an array: its shape and its values")
        size, values = data["shape"], data["values"]
        if not isinstance(size, list) or not all(type(n) is int and 0 <= n < 2**31 for n in size):
            raise _refuse(f"{place}.shape", size, "whole numbers")
        if not isinstance(values, list):
            raise _refuse(f"{place}.values", values, "a list")
        if math.prod(size) != len(values):
            raise _refuse(f"{place}.values", f"{len(values)} entries", f"{math.prod(size)}")
        kinds = {"b": (bool,), "i": (int,), "f": (int, float)}[self.dtype.kind]
        if not {type(one) for one in values} <= set(kinds):
            raise _refuse(f"{place}.values", "entries of another kind", kinds[-1].__name__)
        try:
            found = np.array(values, dtype=self.dtype).reshape(size)
        except OverflowError:
            raise _refuse(f"{place}.values", "a number of many digits", "numbers") from None
        if self.dtype.kind == "f" and not np.isfinite(found).all():
            raise _refuse(f"{place}.values", "a number that is not finite", "finite numbers")
        return found

    def schema(self, shared: dict[str, Schema]) -> Schema:
        word = {"b": "boolean", "i": "integer", "f": "number"}[self.dtype.kind]
        shared.setdefault(
            f"array of {word}",
            {
                "type": "object",
                "properties": {
                    "shape": {"type": "array", "items": {"type": "integer", "minimum": 0}},
                    "values": {"type": "array", "items": {"type": word}},
                },
                "required": ["shape", "values"],
                "additionalProperties": False,
            },
        )
        return {"$ref": f"#/$defs/array of {word}".replace(" ", "%20")}


@attrs.frozen
class _FabricInside(Form):
    """A fabric, as its own file has it."""

    def fits(self, value: Any) -> bool:
        return isinstance(value, Fabric)

    def out(self, value: Any) -> Any:
        return json.loads(fabric_files.to_json(value))

    def back(self, data: Any, place: str) -> Any:
        try:
            return fabric_files.from_json(json.dumps(data))
        except FabricFileError as error:
            raise RecordError(f"{place}.{error.place}", error.problem, error.advice) from error

    def schema(self, shared: dict[str, Schema]) -> Schema:
        return {
            "type": "object",
            "properties": {
                "format": {"const": "loopwright fabric"},
                "version": {"const": fabric_files.VERSION},
            },
            "required": ["format", "version"],
        }


@attrs.frozen
class _StitchesInside(Form):
    """A table of stitches; null stands for the package's own."""

    rows: Form

    def fits(self, value: Any) -> bool:
        return isinstance(value, StitchTable)

    def out(self, value: Any) -> Any:
        return None if value == STITCHES else self.rows.out(value.rows)

    def back(self, data: Any, place: str) -> Any:
        return (
            STITCHES
            if data is None
            else _made(StitchTable, place, {"rows": self.rows.back(data, place)})
        )

    def schema(self, shared: dict[str, Schema]) -> Schema:
        return {"anyOf": [{"type": "null"}, self.rows.schema(shared)]}


@attrs.frozen
class _Record(Form):
    """An attrs class: its fields by name, and `kind` where several classes may stand there."""

    cls: type
    kind: str = ""

    def fits(self, value: Any) -> bool:
        return type(value) is self.cls

    def _fields(self) -> Iterator[tuple[str, str, Form]]:
        hints = _hints(self.cls)
        for field in attrs.fields(self.cls):
            if field.init:
                yield field.name, field.name.lstrip("_"), form_of(hints[field.name])

    def out(self, value: Any) -> Any:
        told = {"kind": self.kind} if self.kind else {}
        return told | {key: form.out(getattr(value, name)) for name, key, form in self._fields()}

    def back(self, data: Any, place: str) -> Any:
        if not isinstance(data, dict):
            raise _refuse(place, data, "named entries")
        fields = {key: form for _, key, form in self._fields()}
        keys = {*fields, "kind"} if self.kind else set(fields)
        for wrong, problem in ((keys - set(data), "is missing"), (set(data) - keys, "is unknown")):
            if wrong:
                raise RecordError(place, f"the entry {min(wrong)!r:.40} {problem}", _AGAIN)
        given = {key: form.back(data[key], f"{place}.{key}") for key, form in fields.items()}
        return _made(self.cls, place, given)

    def schema(self, shared: dict[str, Schema]) -> Schema:
        name = self.cls.__name__.lstrip("_") + ("-by-kind" if self.kind else "")
        if name not in shared:
            shared[name] = {}  # a class may hold itself
            fields = {key: form.schema(shared) for _, key, form in self._fields()}
            if self.kind:
                fields = {"kind": {"const": self.kind}} | fields
            shared[name] |= {
                "type": "object", "properties": fields, "required": list(fields),
                "additionalProperties": False,
            }  # fmt: skip
        return {"$ref": f"#/$defs/{name}"}


@attrs.frozen
class _OneOf(Form):
    """Any of several forms."""

    forms: tuple[Form, ...]

    def fits(self, value: Any) -> bool:
        return any(form.fits(value) for form in self.forms)

    def out(self, value: Any) -> Any:
        for form in self.forms:
            if form.fits(value):
                return form.out(value)
        raise RecordError(type(value).__name__, "it is none that a file holds", "leave it out")

    def back(self, data: Any, place: str) -> Any:
        kinds = {form.kind: form for form in self.forms if isinstance(form, _Record)}
        if isinstance(data, dict) and "" not in kinds and kinds:
            if not isinstance(data.get("kind"), str) or data["kind"] not in kinds:
                raise _refuse(f"{place}.kind", data.get("kind"), f"one of {', '.join(kinds)}")
            return kinds[data["kind"]].back(data, place)
        for form in self.forms:
            try:
                return form.back(data, place)
            except RecordError as error:
                last = error
        raise last

    def schema(self, shared: dict[str, Schema]) -> Schema:
        return {"anyOf": [form.schema(shared) for form in self.forms]}


def _made(cls: Any, place: str, given: dict[str, Any]) -> Any:
    try:
        return cls(**given)
    except LoopwrightError as error:
        raise RecordError(place, str(error), _AGAIN) from error
    except (TypeError, ValueError, ArithmeticError, LookupError) as error:
        raise RecordError(place, f"it contradicts itself ({error})", _AGAIN) from error


def form_of(hint: Any) -> Form:
    """Return the form of a declared type.

    Raises
    ------
    RecordError
        There is none: a field of this type can't be written.
    """
    special = {
        bool: _Plain(bool), int: _Plain(int), str: _Plain(str), float: _Number(),
        type(None): _Nothing(), Fabric: _FabricInside(),
    }  # fmt: skip
    if hint in special:
        return special[hint]
    origin = typing.get_origin(hint)
    if origin in (typing.Union, types.UnionType):
        return _choice(typing.get_args(hint))
    if origin is tuple:
        entries = typing.get_args(hint)
        if entries[1:] == (...,):
            return _Row((form_of(entries[0]),), any_length=True)
        return _Row(tuple(map(form_of, entries)), any_length=False)
    if origin is np.ndarray:
        return _Array(np.dtype(typing.get_args(typing.get_args(hint)[1])[0]))
    if origin is NDArray:  # from numpy 2.5 on, an alias that stays one
        return _Array(np.dtype(typing.get_args(hint)[0]))
    if inspect.isclass(hint) and issubclass(hint, Enum):
        return _Word(hint)
    if hint is StitchTable:
        return _StitchesInside(form_of(_hints(StitchTable)["rows"]))
    if inspect.isclass(hint):
        return _classes(hint)
    raise RecordError(str(hint), "a value of this kind can't be written", "leave it out")


@cache
def _hints(cls: type) -> dict[str, Any]:
    return typing.get_type_hints(cls)


def _choice(options: tuple[Any, ...]) -> Form:
    """Return the form of one of several types; classes among them have their names beside them."""
    classes = [one for one in options if inspect.isclass(one) and attrs.has(one)]
    others = [form_of(one) for one in options if one not in classes]
    others.sort(key=lambda form: not isinstance(form, _Nothing))  # null is none before it is NaN
    if len(classes) == 1:
        return _OneOf((*others, form_of(classes[0])))
    return _OneOf((*others, *(_Record(one, one.__name__) for one in classes)))


def _classes(cls: Any) -> Form:
    """Return the form of a class or of those that derive from it."""
    named: dict[str, type] = {}
    if cls is Heel:
        named = {name: type(heel_named(name)) for name in heel_names()}
    elif getattr(cls, "_is_protocol", False):  # what the sock must know of a toe
        toes: list[Toe] = [toe_named(name) for name in toe_names()]
        made = [typing.get_type_hints(type(toe).numbers)["return"] for toe in toes]
        named = {one.__name__: one for one in made}
    else:
        named = {one.__name__: one for one in _family(cls)}
    if list(named.values()) == [cls]:
        return _Record(cls)
    return _OneOf(tuple(_Record(one, name) for name, one in named.items()))


def _family(cls: type) -> Iterator[type]:
    if attrs.has(cls) and not inspect.isabstract(cls):
        yield cls
    subclasses: list[type] = cls.__subclasses__()
    for derived in subclasses:
        yield from _family(derived)
