"""Tables of what people say and what stands for it, put in row by row."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from functools import cache, lru_cache
from typing import TypeAlias

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import Sieve

__all__ = ["Means", "Rewordings"]

Means: TypeAlias = str | Callable[[re.Match[str]], str]


@cache
def _in_any_case(said: str) -> re.Pattern[str]:
    return re.compile(said, re.IGNORECASE)


class Rewordings:
    r"""Rows of an expression and what stands for what it matches, put in one after another.

    An expression is compiled when a text first holds its words: a text needs few of them.

    Parameters
    ----------
    rows : iterable of (str, str or callable)
        Expressions, and what is put in the place of what they match.
    compiled : callable
        Makes an expression ready for use; by default in any case.

    Examples
    --------
    >>> table = Rewordings([("twice over", "two times"), ("(two) times", r"\1")])
    >>> table.of("twice over").text  # it remembers what it has seen
    'two'
    """

    def __init__(
        self,
        rows: Iterable[tuple[str, Means]],
        compiled: Callable[[str], re.Pattern[str]] = _in_any_case,
    ) -> None:
        self._rows = tuple(rows)
        self._compiled = compiled
        self._sieve = Sieve(said for said, _ in self._rows)
        self.of: Callable[[str], MappedText] = lru_cache(maxsize=8192)(self._of)

    def _of(self, text: str) -> MappedText:
        """Return a text that stands as it was written, with what stands for each row."""
        return self.put_in(MappedText.of(text))

    def put_in(self, said: MappedText) -> MappedText:
        """Return a text with what stands for each row that it matches."""
        waiting = self._sieve.may_match(said.text)
        while waiting:
            row, *waiting = waiting
            expression, means = self._rows[row]
            form = self._compiled(expression)
            if form.search(said.text) is None:
                self._sieve.rule_out(row, said.text)
                continue
            after = said.sub(form, means)
            if after is not said:  # it may hold other words now
                said = after
                waiting = [n for n in self._sieve.may_match(said.text) if n > row]
        return said
