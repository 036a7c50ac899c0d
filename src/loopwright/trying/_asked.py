"""What a page asks, read from plain data: every form of the page asks the same."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

import attrs

from loopwright.errors import DesignError, LoopwrightError
from loopwright.trying._bench import Answer, Bench, Trial
from loopwright.trying._choices import Choices, place_of, refusal_words

__all__ = ["Asked", "answered", "asked_of"]

_LONGEST: Final = 200  # letters of a word


@attrs.frozen
class Asked:
    """A question: ``begin``, ``look`` or ``take``, and what it is about."""

    what: str
    size: str | None = None
    side: int = 0
    run: int = 0
    choices: Choices = attrs.field(factory=dict)
    name: str = ""


def asked_of(message: object) -> Asked:
    """Return the question that plain data hold.

    Raises
    ------
    DesignError
        It is none.

    Examples
    --------
    >>> asked_of({"ask": "look", "choices": {"fit.ease": -8}}).choices
    {'fit.ease': -8}
    >>> asked_of(["look"])
    Traceback (most recent call last):
    ...
    loopwright.errors.DesignError: line 1, ask: found a list; expected an object with 'ask'
    """
    if not isinstance(message, dict):
        kind = "a list" if isinstance(message, list) else "something else"
        raise DesignError("ask", 1, kind, "an object with 'ask'")
    what = _read(message, "ask", str, "")
    if what not in ("begin", "look", "take"):
        raise DesignError("ask", 1, repr(what), "begin, look or take")
    choices = _read(message, "choices", dict, {})
    for key, value in choices.items():
        simple = value is None or isinstance(value, str | bool | int | float)
        if not simple or len(key) > _LONGEST or (isinstance(value, str) and len(value) > _LONGEST):
            raise DesignError(key[:_LONGEST], 1, "no choice", "a word, a number, yes or no")
    size = message.get("size")
    if size is not None:
        size = _read(message, "size", str, "")
    return Asked(
        what, size, _read(message, "side", int, 0), _read(message, "run", int, 0), choices,
        _read(message, "name", str, ""),
    )  # fmt: skip


def _read(message: Mapping[str, Any], key: str, kind: type, default: Any) -> Any:
    value = message.get(key, default)
    if not isinstance(value, kind) or isinstance(value, bool):
        raise DesignError(key, 1, f"{type(value).__name__}", f"{kind.__name__}")
    if isinstance(value, str) and len(value) > _LONGEST:
        raise DesignError(key, 1, f"{len(value)} letters", f"at most {_LONGEST}")
    return value


def answered(
    bench: Bench, message: object, tell: Callable[[Answer | None], object]
) -> Trial | None:
    """Answer a question: at once, or for a look as its stages are there, with None at the end.

    Each answer has the run's number and the side that the question had.
    """
    marks: dict[str, Any] = {}
    try:
        asked = asked_of(message)
        marks = {"run": asked.run, "side": asked.side}
        if asked.what == "look":
            size = next(iter(bench.socks)) if asked.size is None else asked.size

            def marked(answer: Answer | None) -> None:
                tell(None if answer is None else {**answer, **marks})

            return bench.start(asked.side, size, asked.choices, marked)
        if asked.what == "begin":
            tell({**bench.begin(asked.size), **marks})
        else:
            path = bench.take(asked.size or "", asked.choices, asked.name)
            tell({"stage": "taken", "name": path.name, "folder": str(path.parent), **marks})
    except LoopwrightError as error:
        tell({"stage": "refused", "key": place_of(error), "words": refusal_words(error), **marks})
    tell(None)
    return None
