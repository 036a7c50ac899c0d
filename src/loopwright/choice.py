"""Choices between a few words: enumerations whose refusal says what there is to choose from."""

from __future__ import annotations

import re
from difflib import get_close_matches
from enum import Enum

from loopwright.errors import ChoiceError

__all__ = ["Choice"]


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
    """

    @classmethod
    def _missing_(cls, value: object) -> None:
        words = [str(member.value) for member in cls]
        near = get_close_matches(str(value), words, n=1, cutoff=0.3)
        hint = f"; {near[0]!r} may be meant" if near else ""
        *others, last = map(repr, words)
        what = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", cls.__name__).lower()
        raise ChoiceError(what, repr(value), f"expected {', '.join(others)} or {last}{hint}")
