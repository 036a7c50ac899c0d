"""Whatever is handed in at the border: a typed error or a right answer, never somebody else's."""

from __future__ import annotations

import copyreg
import importlib
import inspect
import pickle
import pkgutil
from collections.abc import Callable, Iterator
from contextlib import suppress
from types import TracebackType
from typing import Any

import attrs
import pytest
import tblib.pickling_support

import loopwright as lw
from loopwright.border import guard, guarded
from loopwright.errors import ArgumentError, LoopwrightError, UnknownStitchError
from loopwright.making import cast_on
from together import together

PACKAGES = (
    *("fabric", "making", "pattern", "yarn", "sock", "design", "geometry", "scanning", "fitting"),
    *("picture", "report", "studies", "trying"),
)
GARBAGE: tuple[object, ...] = (
    None,
    3,
    -1.5,
    "x",
    float("nan"),
    b"x",
    object(),
    [],
    ["x"],
    {"a": 1},
    (),
)
# Not asked: what is made by a notebook, and what only types are written with.
# Nor what is only for other rooms of the package: validators, and the walk that hands follow.
# A figure of matplotlib is made as matplotlib likes.
EXEMPT = {"Choice", "DescribedFigure", "not_negative", "Walk", "starts_on_right_side"}


def promised() -> dict[str, Any]:
    """Every class and operation that a package or one of its public modules promises."""
    found: dict[str, Any] = {}
    for module in modules():
        for name in getattr(module, "__all__", ()):
            thing = getattr(module, name)
            if name not in EXEMPT and (inspect.isfunction(thing) or is_made_by_hand(thing)):
                found.setdefault(f"{thing.__module__}.{name}", thing)
    return found


def modules() -> Iterator[Any]:
    for package in PACKAGES:
        home = importlib.import_module(f"loopwright.{package}")
        yield home
        for info in pkgutil.walk_packages(home.__path__, f"{home.__name__}."):
            if "._" not in info.name:
                yield importlib.import_module(info.name)


def is_made_by_hand(thing: Any) -> bool:
    """A class of which a user makes objects: no error and no protocol."""
    return (
        inspect.isclass(thing)
        and not issubclass(thing, Exception)
        and not getattr(thing, "_is_protocol", False)
    )


def makers(thing: Any) -> Iterator[Callable[..., Any]]:
    yield thing
    if inspect.isclass(thing):
        for name, member in vars(thing).items():
            if isinstance(member, classmethod) and not name.startswith("_"):
                yield getattr(thing, name)


def filled(operation: Callable[..., Any], value: object) -> tuple[list[Any], dict[str, Any]]:
    """The same value for every argument that must be given; if none must, for all that may."""
    args: list[Any] = []
    kwargs: dict[str, Any] = {}
    for parameter in inspect.signature(operation).parameters.values():
        if parameter.default is not parameter.empty:
            continue
        if parameter.kind in (parameter.POSITIONAL_ONLY, parameter.POSITIONAL_OR_KEYWORD):
            args.append(value)
        elif parameter.kind is parameter.KEYWORD_ONLY:
            kwargs[parameter.name] = value
    if not args and not kwargs:
        unnamed = (inspect.Parameter.VAR_POSITIONAL, inspect.Parameter.VAR_KEYWORD)
        parameters = inspect.signature(operation).parameters.values()
        kwargs = {one.name: value for one in parameters if one.kind not in unnamed}
    return args, kwargs


def refused_by(make: Callable[..., Any], args: list[Any], kwargs: dict[str, Any]) -> None:
    """Call an operation; what is of another kind is refused in its own name, not an inner one's."""
    try:
        make(*args, **kwargs)
    except ArgumentError as refusal:
        if inspect.isfunction(make) and refusal.operation != make.__qualname__:
            pytest.fail(f"{make.__qualname__} was refused as {refusal.operation}")
        raise
    except LoopwrightError as refusal:
        str(refusal)  # its words must not fail on what it refuses
        raise


THINGS = promised()


@together("name", THINGS, tests=9)
def test_garbage_is_refused_by_a_typed_error(name: str) -> None:
    for make in makers(THINGS[name]):
        for value in GARBAGE:
            args, kwargs = filled(make, value)
            if args or kwargs:
                with suppress(LoopwrightError):
                    refused_by(make, args, kwargs)


def test_each_home_guards_what_it_promises() -> None:
    things = [one for one in THINGS.values() if not inspect.isclass(one) or attrs.has(one)]
    bare = {one.__module__ for one in things if not hasattr(one, "__loopwright_guarded__")}
    assert bare == set(), "each must end with guard(globals())"


def test_the_sweep_sees_what_it_should() -> None:
    assert len(THINGS) > 300
    assert {"loopwright.pattern._reading.reader.read", "loopwright.gauge.Gauge"} <= {
        *THINGS,
        f"{lw.Gauge.__module__}.Gauge",
    }


def test_an_operation_of_nobody_is_caught() -> None:
    def halved(stitches: int) -> int:
        return stitches // 2

    with pytest.raises(TypeError):
        halved("64")  # type: ignore[arg-type]
    with pytest.raises(ArgumentError) as refusal:
        guarded(halved)("64")  # type: ignore[arg-type]
    assert (refusal.value.argument, refusal.value.found) == ("stitches", "'64'")


def test_a_mistake_of_ours_comes_out_as_it_is() -> None:
    def halved(stitches: int) -> float:
        return stitches / 0

    with pytest.raises(ZeroDivisionError):
        guarded(halved)(64)


def test_a_class_looks_at_each_of_its_fields() -> None:
    @guarded
    @attrs.frozen
    class Ball:
        grams: float
        name: str | None = None

    assert Ball(50) == Ball(50.0)
    with pytest.raises(ArgumentError, match="name: found 3; expected str or None"):
        Ball(50, 3)  # type: ignore[arg-type]


def test_a_class_without_fields_looks_at_what_it_is_made_with() -> None:
    with pytest.raises(ArgumentError, match=r"found 'left'; expected Hand.RIGHT or Hand.LEFT"):
        lw.Work(hand="left")  # type: ignore[arg-type]
    with pytest.raises(ArgumentError, match="stitches: found 'x'; expected StitchTable"):
        lw.Work(stitches="x")  # type: ignore[arg-type]


def test_one_text_for_several_is_not_gone_through_by_letters() -> None:
    sock = lw.Sock(foot=lw.Foot.of(length="16 cm"), gauge=lw.Gauge.of(12, 16))
    work = lw.Work()
    cast_on(work, 8)
    work.turn()
    with pytest.raises(ArgumentError, match=r"expected Sequence\[str\], such as \['k2tog'\]"):
        work.work("k2tog")
    with pytest.raises(ArgumentError, match=r"such as \['flap'\]"):
        lw.compare(sock, "flap")
    with pytest.raises(UnknownStitchError, match="no stitch is called 'k2tok'; did you mean k2tog"):
        work.work(["k2tok"])  # several, one of them unknown


@pytest.mark.parametrize("key", [1, None, ["k"]])
def test_a_key_that_is_no_text_is_refused_in_words(key: object) -> None:
    work = lw.Work()
    cast_on(work, 8)
    work.turn()
    with pytest.raises(LoopwrightError) as refused:
        work.work([key])  # type: ignore[list-item]
    assert str(key) in str(refused.value)


def test_guarding_twice_changes_nothing() -> None:
    names = {"__name__": "loopwright.pattern", "__all__": ["read"], "read": lw.read}
    guard(names)
    assert names["read"] is lw.read
    assert pickle.loads(pickle.dumps(lw.read)) is lw.read


@pytest.mark.parametrize(
    "mistake",
    [
        lambda: lw.read("Cast on 8 sts.\nRnd 1: K2tgo.\n"),
        lambda: lw.knit(lw.read("Cast on 8 sts. Join in the round. Rnd 1: K9.")),
        lambda: lw.STITCHES["k2tgo"],
        lambda: lw.Gauge.of(28, 40, over="10"),
        lambda: lw.read(64),  # type: ignore[arg-type]
        lambda: lw.Sock(foot=3, gauge=3),  # type: ignore[arg-type]
    ],
)
def test_errors_come_home_from_other_processes(
    mistake: Callable[[], object], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Plainly pickled, and with tracebacks and contexts, as schedulers of tasks do it [1]_.

    .. [1] tblib: ``tblib.pickling_support``, which some schedulers install.
    """
    tracebacks = tblib.pickling_support.pickle_traceback
    monkeypatch.setitem(copyreg.dispatch_table, TracebackType, tracebacks)
    with pytest.raises(LoopwrightError) as caught:
        mistake()
    error = caught.value
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        assert str(pickle.loads(pickle.dumps(error, protocol))) == str(error)
    function, values = tblib.pickling_support.pickle_exception(error)[:2]
    again = function(*pickle.loads(pickle.dumps(values)))
    assert type(again) is type(error)
    assert str(again) == str(error)
