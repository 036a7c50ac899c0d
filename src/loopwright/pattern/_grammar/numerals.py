"""Numbers in tokens: plain, by size, stated in brackets."""

from __future__ import annotations

from typing import Any

from lark import Token

from loopwright.errors import PatternSyntaxError
from loopwright.pattern._words import MAX_NUMBER
from loopwright.pattern.values import Sized

__all__ = ["column_of", "entries_in", "in_brackets", "number_in", "one_of", "refused", "whole"]


def column_of(token: Token) -> int:
    """Return the column of a token in its sentence, from 1."""
    return (token.start_pos or 0) + 1


def refused(token: Token, problem: str) -> PatternSyntaxError:
    """Return the error for a token that is a word of the trade, and wrong here."""
    return PatternSyntaxError(1, column_of(token), problem, ())


def number_in(token: Token, text: str) -> int | float:
    """Return the number that a token, or an entry of it, writes; a dash is 0."""
    value: int | float
    if text in "-–—":
        return 0
    value = float(text) if "." in text else int(text[:12])
    if value > MAX_NUMBER:
        raise refused(token, f"{text[:20]} is too large: the limit is {MAX_NUMBER}")
    return int(value) if isinstance(value, float) and value.is_integer() else value


def whole(token: Token, value: Any) -> Any:
    """Return a count, refused where a number by size has a fraction."""
    entries = value.values if isinstance(value, Sized) else (value,)
    for entry in entries:
        if not isinstance(entry, int):
            raise refused(token, f"expected a whole number, found {entry}")
    return value


def one_of(token: Token, value: Any) -> int:
    """Return a number of rounds that is one for all sizes."""
    if not isinstance(value, int) or not 0 < value < 1000:
        raise refused(
            token, f"expected one number of rounds, the same for all sizes, found {value}"
        )
    return value


def entries_in(text: str) -> list[str]:
    """Return the entries of ``(56, 64)``."""
    inner = text.strip()[1:-1]
    for mark in ":;":
        inner = inner.replace(mark, ",")
    return [entry.strip() for entry in inner.split(",")]


def in_brackets(token: Token) -> int | Sized:
    """Read ``(60 (64, 68) sts)`` or ``(8 times in all)``."""
    text = str(token).strip().lstrip("([=-–— ")
    digits = text[: len(text) - len(text.lstrip("0123456789"))]
    rest = text[len(digits) :].lstrip()
    first = whole(token, number_in(token, digits))
    if rest[:1] not in ("(", "["):
        return int(first)
    close = min((rest.find(mark) for mark in ")]" if mark in rest), default=len(rest))
    others = entries_in(rest[: close + 1])
    return Sized((first, *(whole(token, number_in(token, entry)) for entry in others)))
