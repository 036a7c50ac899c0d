"""One sentence of instructions to one step, or to what a repeat needs to find its rounds."""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import get_close_matches
from functools import cache, lru_cache
from importlib.resources import files
from threading import Lock
from typing import Any

import attrs
from lark import Lark, Token, UnexpectedToken
from lark.lexer import Lexer

from loopwright.errors import PatternSyntaxError, SizeError, StepError
from loopwright.fabric.stitches import STITCHES, StitchTable
from loopwright.pattern import steps as st
from loopwright.pattern._grammar.builder import Builder
from loopwright.pattern._grammar.said import Again, Header, Numbered, Remark
from loopwright.pattern._grammar.yarn_rules import PanelRound
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import ALIASES, HUMAN, lower, phrases_by_head, tokens
from loopwright.pattern.values import Sized

__all__ = ["Sentence", "grammar", "parse_sentence", "read_anew", "sentence_in"]


@attrs.frozen
class Sentence:
    """What a sentence says, the count it states, and remarks on its wording."""

    says: st.Step | Numbered | Again | Header | PanelRound
    count: int | Sized | None
    remarks: tuple[Remark, ...]


_CABLE = WordForm(r"(?:c|cr|t|tw)\d+[a-z]{0,4}|\d+(?:/\d+)+\s*[a-z]{1,4}", re.NOFLAG)


class _Words(Lexer):
    """The lexer of words.py, as lark calls it; text and table come as a pair."""

    def __init__(self, conf: object) -> None:
        pass

    def lex(self, data: Any) -> Iterator[Token]:  # type: ignore[override]
        text, table = data
        return tokens(text, table)


def grammar() -> str:
    """Return the grammar of one sentence, as lark takes it."""
    return files("loopwright.pattern._grammar").joinpath("grammar.lark").read_text(encoding="utf-8")


_BEFORE = 3  # words that show where a sign stands
_ONE_AT_A_TIME = Lock()  # the builder holds what it has of a sentence; threads may read, too


@cache
def _parser() -> tuple[Lark, Builder]:
    """Return the parser, which takes a third of a second to make, and its builder."""
    builder = Builder(STITCHES)
    parser = Lark(grammar(), parser="lalr", lexer=_Words, transformer=builder)
    return parser, builder


_LABEL = WordForm(r"(?:rnd|round|row) ([1-9]\d{0,2})(?=:| \([RW]S\):)")


@lru_cache(maxsize=8192)
def sentence_in(text: str, table: StitchTable) -> Sentence | PatternSyntaxError | None:
    """Return what a sentence says, why it is refused, or None where it is no sentence at all.

    Rows that differ by their own number only are read once: row 12 as if it were row 11.
    """
    label = _LABEL.match(text)
    if label is None:
        return read_anew(text, table)
    stand_in = "1" * len(label[1])
    found = read_anew(f"{text[: label.start(1)]}{stand_in}{text[label.end(1) :]}", table)
    if isinstance(found, Sentence) and isinstance(found.says, Numbered):
        if found.says.numbers == (int(stand_in),):
            return attrs.evolve(found, says=attrs.evolve(found.says, numbers=(int(label[1]),)))
    elif found is None:
        return None
    return read_anew(text, table)


@lru_cache(maxsize=8192)
def read_anew(text: str, table: StitchTable) -> Sentence | PatternSyntaxError | None:
    """Return the same as `sentence_in`, by the grammar."""
    try:
        return _parsed(text, table)
    except UnexpectedToken:
        return None
    except PatternSyntaxError as error:
        return error.with_traceback(None)


def parse_sentence(text: str, table: StitchTable) -> Sentence:
    """Return what one sentence says.

    Raises
    ------
    PatternSyntaxError
        With ``line`` 1 and the column in the sentence; the reader moves it to the text.
    """
    known = sentence_in(text, table)
    if isinstance(known, Sentence):
        return known
    try:
        return _parsed(text, table)
    except UnexpectedToken as error:
        raise _unexpected(error, text, table) from None


def _parsed(text: str, table: StitchTable) -> Sentence:
    parser, builder = _parser()
    with _ONE_AT_A_TIME:
        builder.table = table
        builder.remarks = []
        builder.bare = set()
        try:
            found: Any = parser.parse((text, table))  # the builder's result, not a tree
        except (StepError, SizeError) as error:
            raise PatternSyntaxError(1, 1, error.problem, (), text) from None
        remarks = tuple(builder.remarks)
    says, count = found
    return Sentence(says, count, remarks)


def _unexpected(error: UnexpectedToken, text: str, table: StitchTable) -> PatternSyntaxError:
    token = error.token
    if (unknown := _taken_for_a_name(error, text, table)) is not None:
        return _unexpected(unknown, text, table)
    names = {HUMAN.get(kind, kind) for kind in error.accepts or error.expected}
    order = list(HUMAN.values())
    expected = tuple(sorted(names, key=lambda name: order.index(name) if name in order else 999))
    if len(expected) > 8:
        expected = (*expected[:5], "another instruction")
    if token.type == "$END":
        return PatternSyntaxError(1, len(text.rstrip()) + 1, "the sentence stops early", expected)
    found = f"found {str(token)!r}"
    before = text[: token.start_pos or 0].split()[-_BEFORE:]
    if before and not str(token).isalnum():  # a sign by itself tells nobody where to look
        found = f"{found} after {' '.join(before)!r}"
    hint = ""
    if token.type == "WORD":
        known = {*(row.key for row in table), *ALIASES, *phrases_by_head()}
        typed = lower(token)
        near = [one for one in get_close_matches(typed, sorted(known), n=3) if one != typed][:2]
        hint = f"did you mean {' or '.join(near)}?" if near else ""
        if _CABLE.fullmatch(typed):
            hint = (
                f"say before the work begins what it is, such as '{token} = slip 2 sts to cable "
                "needle and hold in front, k2, k2 from cable needle'"
            )
    return PatternSyntaxError(1, (token.start_pos or 0) + 1, found, expected, "", hint)


def _taken_for_a_name(
    error: UnexpectedToken, text: str, table: StitchTable
) -> UnexpectedToken | None:
    """Return the error at an unknown word that was taken for a name with a colon behind it."""
    if (error.accepts or error.expected) != {"COLON"}:
        return None
    before = [
        one for one in tokens(text, table) if (one.start_pos or 0) < (error.token.start_pos or 0)
    ]
    if not before or before[-1].type != "PART":
        return None
    try:
        _parsed(f"{text[: before[-1].start_pos]}{before[-1]},", table)
    except UnexpectedToken as earlier:
        return earlier if earlier.token.start_pos == before[-1].start_pos else None
    except PatternSyntaxError:
        pass
    return None
