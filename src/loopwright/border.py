"""The border of the package: wrong kinds of value are refused by name, where they come in.

Inside, types are held by mypy and nothing is checked twice. At the border a value may come from
anywhere, and without a check it would fail deep inside, as somebody else's mistake. `guarded` is
laid on what a package promises. Checks of *values* (a gauge no fabric has) stand where they belong,
in the classes and operations themselves.
"""

from __future__ import annotations

import inspect
import re
import sys
from collections.abc import Callable, Collection, Iterable, MutableMapping, Sequence
from contextlib import suppress
from enum import Enum
from functools import cache, wraps
from types import FunctionType, UnionType
from typing import Any, TypeVar, Union, cast, get_args, get_origin, get_type_hints

import attrs
import numpy as np
from beartype import BeartypeConf, FrozenDict
from beartype.door import is_bearable
from beartype.roar import BeartypeException

from loopwright.errors import ArgumentError, LoopwrightError

__all__ = ["guard", "guarded"]

_T = TypeVar("_T")
_MARK = "__loopwright_guarded__"

# Whole numbers and others come from numpy too.
_NUMBERS: dict[Any, Any] = {
    int: int | np.integer,
    float: float | int | np.integer | np.floating,
}
_RULES = BeartypeConf(hint_overrides=FrozenDict(_NUMBERS), is_random=False)
_SAID_OUT = 4  # members of an enum
_ROWS = (Sequence, Iterable, Collection)
# What a value of the wrong kind makes other people's code raise.
_STUMBLES = (
    *(TypeError, AttributeError, ValueError, LookupError, ArithmeticError),
    *(NotImplementedError, RecursionError, StopIteration),
)


def guard(names: MutableMapping[str, Any]) -> None:
    """Guard what a package promises; called with its ``globals()`` at the end of its ``__init__``.

    Examples
    --------
    >>> def halved(stitches: int) -> int:
    ...     return stitches // 2
    >>> package = {"__name__": "shed", "__all__": ["halved"], "halved": halved}
    >>> guard(package)
    >>> package["halved"]("64")
    Traceback (most recent call last):
    ...
    loopwright.errors.ArgumentError: halved: stitches: found '64'; expected int
    """
    for name in names["__all__"]:
        if name not in names:  # it comes late, from a home that guards it: see `loopwright._late`
            continue
        thing = names[name]
        home = sys.modules.get(getattr(thing, "__module__", ""))
        if inspect.isfunction(thing):
            names[name] = guarded(thing)
            if home is not None and getattr(home, name, None) is thing:
                setattr(home, name, names[name])  # where pickle looks for it
        elif inspect.isclass(thing) and not issubclass(thing, Exception | Enum):
            guarded(thing)


def guarded(thing: _T) -> _T:
    """Return the operation or the class, with wrong kinds of value refused.

    A class looks at its fields once they are made. An operation looks at its arguments only when
    it has failed. What it refuses itself it explains better, and what it can use, such as a list
    for an array, it may. A failure with right arguments is a mistake of ours and comes out as it
    is.

    Raises
    ------
    ArgumentError
        On a call with a value of another kind than the one that is declared; names the argument.

    Examples
    --------
    >>> import attrs
    >>> @guarded
    ... @attrs.frozen
    ... class Ball:
    ...     grams: float
    >>> Ball(50)
    Ball(grams=50)
    >>> Ball("50 g")
    Traceback (most recent call last):
    ...
    loopwright.errors.ArgumentError: Ball: grams: found '50 g'; expected float
    """
    if not inspect.isclass(thing):
        return cast("_T", _guarded_operation(cast("Callable[..., Any]", thing)))
    if _MARK not in vars(thing):
        _guard_class(thing)
    return cast("_T", thing)


def _guarded_operation(operation: Callable[..., Any]) -> Callable[..., Any]:
    if hasattr(operation, _MARK):
        return operation
    known, inside, stumbles = LoopwrightError, ArgumentError, _STUMBLES
    forget, refuse_wrong, is_text = _forget_its_origin, _refuse_wrong, _is_text_for_several

    def checked(*args: Any, **kwargs: Any) -> Any:
        try:
            return operation(*args, **kwargs)
        except inside as error:  # what was handed on: the user called this one
            forget(error)
            refuse_wrong(operation, operation.__qualname__, args, kwargs)
            raise
        except known as error:  # a text is gone through letter by letter, and then refused
            forget(error)
            refuse_wrong(operation, operation.__qualname__, args, kwargs, wrong=is_text)
            raise
        except stumbles:
            refuse_wrong(operation, operation.__qualname__, args, kwargs)
            raise

    return _at_home(operation, checked)


def _forget_its_origin(error: LoopwrightError) -> None:
    """Drop what an error was raised from where it hides that anyway.

    It is nobody's concern, and a parser's error can't be pickled: a pool of processes that sends
    contexts home would die of it.
    """
    if error.__suppress_context__ and error.__cause__ is None:
        error.__context__ = None


def _at_home(operation: Callable[..., Any], checked: Callable[..., Any]) -> Callable[..., Any]:
    """The check with the globals of what it checks, or doctest would not take it for its own."""
    assert isinstance(checked, FunctionType)
    there = FunctionType(
        checked.__code__, operation.__globals__, operation.__name__, None, checked.__closure__
    )
    setattr(there, _MARK, True)
    return wraps(operation)(there)


def _refuse_wrong(
    made: Callable[..., Any],
    name: str,
    args: tuple[Any, ...],
    kwargs: dict[str, Any],
    module: str = "",
    *,
    wrong: Callable[[Any, Any], bool] | None = None,
) -> None:
    """Refuse the first argument that is not of its declared kind, if there is one."""
    signature = inspect.signature(made)
    try:
        given = signature.bind(*args, **kwargs).arguments
    except TypeError:  # the wrong number of arguments, as Python itself says it
        return
    hints = _hints(made, module)
    for argument, value in given.items():
        hint = hints.get(argument, Any)
        kind = signature.parameters[argument].kind
        if kind is inspect.Parameter.VAR_POSITIONAL:
            values = value
        elif kind is inspect.Parameter.VAR_KEYWORD:
            values = value.values()
        else:
            values = (value,)
        for one in values:
            if not _fits(one, hint) if wrong is None else wrong(one, hint):
                expected = f"expected {_worded(hint)}"
                if _is_text_for_several(one, hint):
                    expected += f", such as [{_shown(one)}]"
                raise ArgumentError(name, argument, _shown(one), expected) from None


def _guard_class(kind: type) -> None:
    setattr(kind, _MARK, True)
    if attrs.has(kind):
        _guard_fields(kind)
    else:
        _guard_making(kind)
    for name, member in list(vars(kind).items()):
        if name.startswith("_"):
            continue
        if isinstance(member, classmethod):
            setattr(kind, name, classmethod(_guarded_operation(member.__func__)))
        elif isinstance(member, FunctionType):
            setattr(kind, name, _guarded_operation(member))


def _guard_fields(kind: Any) -> None:
    made = kind.__init__
    right: Callable[[Any], bool] | None = None  # what is declared may be defined later

    @wraps(made)
    def checked(self: Any, *args: Any, **kwargs: Any) -> None:
        nonlocal right
        try:
            made(self, *args, **kwargs)
        except LoopwrightError as error:
            _forget_its_origin(error)
            raise
        except _STUMBLES:
            _refuse_wrong(made, kind.__name__, (self, *args), kwargs, kind.__module__)
            raise
        if right is None:
            right = _field_test(kind)
        if not right(self):
            _refuse_field(kind, self)

    kind.__init__ = checked


def _guard_making(kind: Any) -> None:
    """Look at what an object is made with, where it has no fields to be looked at."""
    made = kind.__init__
    if not isinstance(made, FunctionType):  # that of every object
        return

    @wraps(made)
    def checked(self: Any, *args: Any, **kwargs: Any) -> None:
        if args or kwargs:
            _refuse_wrong(made, kind.__name__, (self, *args), kwargs)
        made(self, *args, **kwargs)

    kind.__init__ = checked


def _field_test(kind: type) -> Callable[[Any], bool]:
    """Return a function that tells whether all fields of an object hold what is declared.

    Objects are made by the thousand. It is written out for each class, as attrs writes its
    ``__init__``: a loop over the fields takes three times as long as making the object.
    """
    names: dict[str, Any] = {}
    tests = []
    for number, field in enumerate(_kinds_of(kind)):
        names |= {f"seen{number}": field.seen, f"takes{number}": field.takes}
        test = "type(self.{0}) in seen{1} or takes{1}(self.{0})"
        if field.may_be_empty and field.length is None:
            names[f"in_rows{number}"] = field.in_rows.issuperset
            row = "type(self.{0}) is tuple and in_rows{1}(map(type, self.{0}))"
            test = f"{row} or {test}"
        tests.append(f"({test.format(field.name, number)})")
    exec(f"def right(self): return {' and '.join(tests) or True}", names)
    return cast("Callable[[Any], bool]", names["right"])


def _refuse_field(kind: type, made: Any) -> None:
    """Refuse the first field of an object that does not hold what is declared."""
    for field in _kinds_of(kind):
        value = getattr(made, field.name)
        if not field.takes(value):
            expected = f"expected {_worded(field.hint)}"
            raise ArgumentError(kind.__name__, field.name.lstrip("_"), _shown(value), expected)


@attrs.define
class _Kind:
    """What is declared of a field, and the types that were found to be right whatever is in them.

    Objects are made by the thousand, of few types: only the first of each is looked at closely.
    """

    name: str
    hint: Any
    seen: set[type] = attrs.field(factory=set)
    in_rows: set[Any] = attrs.field(factory=set)  # of what a tuple may hold, by `_shape`
    length: int | None = None  # of that tuple, where it has one
    may_be_empty: bool = attrs.field(init=False)  # whether a tuple without anything is right
    dtypes: set[Any] = attrs.field(factory=set)  # of arrays

    def __attrs_post_init__(self) -> None:
        self.may_be_empty = _fits((), self.hint)

    def takes(self, value: Any) -> bool:
        is_row = type(value) is tuple
        if is_row and not value:
            return self.may_be_empty
        if is_row and self.in_rows and self.in_rows.issuperset(map(_shape, value)):
            if self.length in (None, len(value)):
                return True
        elif isinstance(value, np.ndarray) and value.dtype in self.dtypes:
            return True
        if not _fits(value, self.hint):
            return False
        one_of = get_args(self.hint) if _is_union(self.hint) else (self.hint,)
        if any(_is_flat(hint) and _fits(value, hint) for hint in one_of):
            self.seen.add(type(value))
        elif is_row and (flat := _flat_row(one_of)) is not None:
            inner, self.length = flat
            if not all(_fits(entry, inner) for entry in value):
                return False
            self.in_rows.update(map(_shape, value))
        elif type(value) is np.ndarray and get_origin(self.hint) is np.ndarray:
            self.dtypes.add(value.dtype)
        return True


def _kinds_of(kind: type) -> list[_Kind]:
    hints = _hints(kind)
    declared = (
        (field.name, hints.get(field.name, Any)) for field in attrs.fields(kind) if field.init
    )
    return [_Kind(name, hint) for name, hint in declared if hint is not Any]


def _is_union(hint: Any) -> bool:
    return get_origin(hint) in (Union, UnionType)


def _is_flat(hint: Any) -> bool:
    """Whether a value's type alone says if it is right: a class, or one of several."""
    if _is_union(hint):
        return all(map(_is_flat, get_args(hint)))
    is_protocol = getattr(hint, "_is_protocol", False)
    return inspect.isclass(hint) and not get_args(hint) and not is_protocol


def _shape(entry: Any) -> Any:
    """What says whether an entry of a tuple is right: its type, or those of what it holds."""
    return tuple(map(_shape, entry)) if type(entry) is tuple else type(entry)


def _is_known_by_shape(hint: Any) -> bool:
    if get_origin(hint) is not tuple:
        return _is_flat(hint)
    return all(entry is ... or _is_known_by_shape(entry) for entry in get_args(hint))


def _flat_row(hints: tuple[Any, ...]) -> tuple[Any, int | None] | None:
    """What a tuple holds and how many, if an entry's shape alone says whether it is right."""
    rows = [get_args(hint) for hint in hints if get_origin(hint) is tuple]
    if len(rows) != 1 or not rows[0] or not _is_known_by_shape(rows[0][0]):
        return None
    first, *others = rows[0]
    if others == [...]:
        return first, None
    return (first, len(rows[0])) if all(one == first for one in others) else None


@cache
def _hints(thing: Any, module: str = "") -> dict[str, Any]:
    """What is declared of fields or arguments; what can't be looked at from outside is any."""
    names = vars(sys.modules[module]) if module in sys.modules else None
    try:
        hints = get_type_hints(thing, names)
    except (NameError, TypeError):  # a converter from elsewhere names what is not known here
        hints = _one_by_one(thing, names)
    return {name: hint if _is_checkable(hint) else Any for name, hint in hints.items()}


def _one_by_one(thing: Any, names: dict[str, Any] | None) -> dict[str, Any]:
    hints: dict[str, Any] = {}
    for name, declared in inspect.get_annotations(thing).items():
        holder = type("Holder", (), {"__annotations__": {name: declared}})
        with suppress(NameError, TypeError):
            hints |= get_type_hints(holder, names or getattr(thing, "__globals__", None))
    return hints


def _is_checkable(hint: Any) -> bool:
    one_of = get_args(hint) if _is_union(hint) else (hint,)
    if all(type(one) is type for one in one_of):
        return True  # without a test of its own, which takes long to make
    try:
        is_bearable(None, hint, conf=_RULES)
    except BeartypeException:
        return False
    return True


def _fits(value: Any, hint: Any) -> bool:
    if hint is Any or type(value) is hint:
        return True
    return is_bearable(value, hint, conf=_RULES) and not _is_text_for_several(value, hint)


def _is_text_for_several(value: Any, hint: Any) -> bool:
    """Whether one text stands where several belong: to Python it is a sequence of letters."""
    if not isinstance(value, str):
        return False
    one_of = get_args(hint) if _is_union(hint) else (hint,)
    rows = [one for one in one_of if get_origin(one) in _ROWS and _fits(value, get_args(one)[0])]
    return bool(rows) and not any(is_bearable(value, one) for one in one_of if one not in rows)


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _worded(hint: Any) -> str:
    """A declared type as a person says it: ``int | None`` is "int or None", choices by name."""
    if _is_union(hint):
        return " or ".join(_worded(one) for one in get_args(hint))
    if inspect.isclass(hint) and issubclass(hint, Enum) and len(hint) <= _SAID_OUT:
        return " or ".join(f"{hint.__name__}.{one.name}" for one in hint)
    text = inspect.formatannotation(hint).replace("NoneType", "None")
    return re.sub(r"[\w.]+\.(?=\w)", "", text)
