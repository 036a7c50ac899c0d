from __future__ import annotations

import builtins
import copy
import inspect
import pickle
from typing import Any, cast, get_args, get_origin, get_type_hints

import attrs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright import errors
from loopwright.errors import LoopwrightError
from loopwright.extras import MissingExtraError
from together import together

CLASSES = [
    kind
    for kind in (*vars(errors).values(), MissingExtraError)
    if inspect.isclass(kind) and issubclass(kind, LoopwrightError) and kind is not LoopwrightError
]


def test_every_error_is_exported() -> None:
    ours = {kind.__name__ for kind in CLASSES if kind.__module__.startswith(errors.__name__)}
    assert ours | {"LoopwrightError"} == set(errors.__all__)


@together("kind", CLASSES)
def test_each_error_is_also_what_a_caller_would_catch(kind: type[LoopwrightError]) -> None:
    bases = {base for base in kind.__mro__ if base.__module__ == "builtins"}
    assert bases - {object, Exception, BaseException}
    assert not hasattr(builtins, kind.__name__)


def _value(hint: Any) -> st.SearchStrategy[Any]:
    if hint is object:  # from_type(object) would search every class in memory
        return st.integers() | st.text(min_size=1)
    if hint is int:
        return st.integers(1, 10_000)  # a step, a line, a number of stitches
    if hint is str:
        return st.text(min_size=1)
    if get_origin(hint) is tuple and get_args(hint)[-1] is ...:
        return st.lists(_value(get_args(hint)[0]), min_size=1, max_size=4).map(tuple)
    return st.from_type(hint)


@pytest.mark.parametrize("kind", CLASSES)
@settings(max_examples=10)
@given(data=st.data())
def test_each_error_keeps_its_fields_and_message_across_processes(
    kind: type[LoopwrightError], data: st.DataObject
) -> None:
    hints = get_type_hints(kind)
    fields = [field for field in attrs.fields(cast("Any", kind)) if field.init]
    values = [data.draw(_value(hints[field.name]), label=field.name) for field in fields]
    error = kind(*values)
    assert error.args == tuple(values)
    assert str(error)
    for again in (pickle.loads(pickle.dumps(error)), copy.copy(error)):
        assert type(again) is kind
        assert [getattr(again, field.name) for field in fields] == values
        assert str(again) == str(error)
    error.add_note("can be noted")
