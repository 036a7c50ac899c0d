"""Each refusal names the key, the line and what would have done."""

from __future__ import annotations

from enum import Enum
from typing import Any

import attrs
import pytest
from hypothesis import given
from hypothesis import strategies as st

from loopwright.design import DesignTable, build, keys_of, parse
from loopwright.errors import DesignError, SizingError
from together import together


class Way(Enum):
    DOWN = "cuff down"
    UP = "toe up"


@attrs.frozen(kw_only=True)
class Inner:
    rounds: int = 1


@attrs.frozen(kw_only=True)
class Thing:
    way: Way = Way.DOWN
    share: float = 0.5
    left: int | None = None
    height_mm: float | None = None
    name: str = ""
    loose: bool = False
    inner: Inner = attrs.field(factory=Inner)
    phases: tuple[Inner, ...] = ()
    counts: tuple[int, ...] = ()

    def __attrs_post_init__(self) -> None:
        if self.share > 1:
            raise SizingError("share", f"{self.share:g}", "expected at most 1")


def thing(text: str) -> Thing:
    return build(Thing, DesignTable(parse(text), parse(text).values))


def test_every_kind_of_value() -> None:
    assert thing(
        """
        way = "Toe  up"
        share = "60 %"
        left = 20
        height = "1 in"
        name = "pier"
        loose = true
        counts = [1, 2]
        inner.rounds = 3
        [[phases]]
        rounds = 4
        [[phases]]
        """
    ) == Thing(
        way=Way.UP, share=0.6, left=20, height_mm=25.4, name="pier", loose=True, counts=(1, 2),
        inner=Inner(rounds=3), phases=(Inner(rounds=4), Inner()),
    )  # fmt: skip


def test_an_empty_table_is_all_defaults() -> None:
    assert thing("") == Thing()


def test_the_keys_are_the_fields_without_their_units() -> None:
    assert keys_of(Thing)[:4] == ("way", "share", "left", "height")


@together(
    ("text", "key", "line", "found", "expected"),
    [
        ("\nwya = 1", "wya", 2, "a key that isn't known here", "way?"),
        ("zzz = 1", "zzz", 1, "a key that isn't known here", "one of way, share, left"),
        ("[inner]\ndirection = 1", "inner.direction", 2, "a key", "above the first [table]"),
        ("way = 'sideways'", "way", 1, "'sideways'", "one of cuff down, toe up"),
        ("way = 'cuf down'", "way", 1, "'cuf down'", "'cuff down' may be meant"),
        ("way = 3", "way", 1, "3", "one of cuff down, toe up"),
        ("share = 'half'", "share", 1, "'half'", 'a share such as "10 %"'),
        ("share = true", "share", 1, "true", "a number"),
        ("share = nan", "share", 1, "nan", "a number"),
        ("left = 1.5", "left", 1, "1.5", "a whole number"),
        ("left = false", "left", 1, "false", "a whole number"),
        ("name = 3", "name", 1, "3", "a text in quotes"),
        ("loose = 'yes'", "loose", 1, "'yes'", "true or false"),
        ("inner = 3", "inner", 1, "3", "a table, [inner]"),
        ("a = 1\n[inner]\nround = 3", "a", 1, "a key that", "way"),
        ("\n[inner]\n\nround = 3", "inner.round", 4, "a key that isn't known here", "rounds?"),
        ("[[phases]]\n[[phases]]\nrounds = 'x'", "phases 2.rounds", 3, "'x'", "a whole number"),
        ("phases = 3", "phases", 1, "3", "a list in square brackets"),
        ("phases = [3]", "phases", 1, "a list", "tables, each headed [[phases]]"),
        ("counts = [\n1,\n'x']", "counts.1", 1, "'x'", "a whole number"),
    ],
)
def test_a_value_is_refused(text: str, key: str, line: int, found: str, expected: str) -> None:
    with pytest.raises(DesignError) as caught:
        thing(text)
    error = caught.value
    assert (error.key, error.line) == (key, line)
    assert found in error.found
    assert expected in error.expected
    assert not error.refused
    assert str(error).startswith(f"line {line}, {key}: found ")


@pytest.mark.parametrize(
    ("text", "key", "line", "message"),
    [
        ("\nheight = 25", "height", 2, "height: a number without a unit: found 25"),
        ("height = '25 stone'", "height", 1, "height: an unknown unit 'stone'"),
        ("share = 2.0", "", 1, "share: found 2; expected at most 1"),
    ],
)
def test_what_a_lower_layer_refuses_gets_its_place(
    text: str, key: str, line: int, message: str
) -> None:
    with pytest.raises(DesignError) as caught:
        thing(text)
    assert (caught.value.key, caught.value.line, caught.value.refused) == (key, line, True)
    assert message in str(caught.value)


@together(
    ("text", "line", "found"),
    [
        ("a = 1\nb", 2, "'b': expected '=' after a key"),
        ("a = 1\na = 2", 2, "'a = 2': cannot overwrite a value"),
        ("a = 'x", 1, '"a = \'x"'),
        ("a = [", 1, "'a = ['"),
        ("a = " + "[" * 5000, 1, "brackets inside brackets"),
    ],
)
def test_what_is_no_toml_is_refused_with_its_line(text: str, line: int, found: str) -> None:
    with pytest.raises(DesignError) as caught:
        parse(text)
    assert caught.value.line == line
    assert found in caught.value.found


@together(
    ("line", "expected"),
    [
        ("length = 24.6 cm   # heel to toe", 'length = "24.6 cm", with the text in quotes'),
        ('length = "24.6 cm', 'length = "24.6 cm", with the text in quotes'),
        ("sex = female", 'sex = "female", with the text in quotes'),
        ("length = \u201c24 cm\u201d", 'length = "24 cm", with the text in quotes'),
        ("heel girth = '30 cm'", 'heel_girth = "30 cm", with the text in quotes'),
        ("ease: -10 %", 'ease = "-10 %", with the text in quotes'),
        ("stitches = 32,5", "stitches = 32.5, with a point"),
        ("stitches = [32 33]", "TOML: key = value"),
        ("a = 1\na = 2", "each key and each table once"),
        ("length =", "a text in quotes, a number, true or false"),
    ],
)
def test_what_a_line_should_be_is_told(line: str, expected: str) -> None:
    """It was "illegal character '\\n'" where a quote was not closed."""
    with pytest.raises(DesignError) as caught:
        parse(f"{line}\n")
    assert caught.value.expected == expected


def test_lines_of_keys() -> None:
    document = parse(
        'a = 1\nb.c = """\nd = 1\n"""\n[e]\n"f g" = 2\n[[h]]\ni = 1\n[h.j]\nk = 1\n[[h]]\ni = 2\n'
    )
    expected: dict[tuple[Any, ...], int] = {
        ("a",): 1, ("b",): 2, ("b", "c"): 2, ("e",): 5, ("e", "f g"): 6, ("h",): 7, ("h", 0): 7,
        ("h", 0, "i"): 8, ("h", 0, "j"): 9, ("h", 0, "j", "k"): 10, ("h", 1): 11,
        ("h", 1, "i"): 12,
    }  # fmt: skip
    assert document.lines == expected
    assert document.line(("h", 1, "nowhere", 3)) == 11
    assert document.line(("nowhere",)) == 1


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    refused = None
    try:
        thing(text)
    except DesignError as error:
        refused = error
    assert refused is None or 1 <= refused.line <= max(1, len(text.splitlines()))
