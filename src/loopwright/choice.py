"""Choices between a few words: enumerations whose refusal says what there is to choose from."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from difflib import get_close_matches
from enum import Enum
from typing import Any

import attrs

from loopwright.errors import ChoiceError

__all__ = ["Choice", "one_of"]


class Choice(Enum):
    """An enumeration of words; another word is refused with a `ChoiceError`.

    Examples
    --------
    >>> class Edge(Choice):
    ...     CHAIN = "chain"
    ...     BEAD = "bead"
    >>> Edge("chain")
    <Edge.CHAIN: 'chain'>
    >>> Edge("chains")
    Traceback (most recent call last):
    loopwright.errors.ChoiceError: edge: found 'chains'; expected 'chain' or 'bead'; 'chain'...
    >>> Edge.what()
    'edge'
    """

    @classmethod
    def what(cls) -> str:
        """Return what is chosen, in words: those of the class's name."""
        return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", cls.__name__).lower()

    @classmethod
    def _missing_(cls, value: object) -> None:
        raise _refusal(cls.what(), value, [str(member.value) for member in cls])


def one_of(words: Iterable[str]) -> Callable[[Any, attrs.Attribute[str], str], None]:
    """Return a validator of attrs fields that refuses any other word with a `ChoiceError`.

    Examples
    --------
    >>> @attrs.frozen
    ... class Edge:
    ...     kind: str = attrs.field(validator=one_of(("chain", "bead")))
    >>> Edge("beads")
    Traceback (most recent call last):
    loopwright.errors.ChoiceError: kind: found 'beads'; expected 'chain' or 'bead'; 'bead' may...
    """
    known = list(words)

    def check(_: Any, field: attrs.Attribute[str], value: str) -> None:
        if value not in known:
            raise _refusal(field.name, value, known)

    return check


def _refusal(what: str, value: object, words: list[str]) -> ChoiceError:
    near = get_close_matches(str(value), words, n=1, cutoff=0.3)
    hint = f"; {near[0]!r} may be meant" if near else ""
    *others, last = map(repr, words)
    several = f"{', '.join(others)} or {last}" if others else last
    return ChoiceError(what, repr(value), f"expected {several}{hint}")
