"""What rules a wording out rules out nothing that its expression would match."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from loopwright.pattern._reading import meaning  # noqa: F401 - it fills the table of rules
from loopwright.pattern._reading.rule_table import rule_expressions
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import Sieve, in_small, triggers
from loopwright.pattern._rewording.wordings import WORDINGS, rewordings, tidied
from together import together


def can_match(said: str, small: str) -> bool:
    return Sieve([said]).may_match(small) == [0]


@settings(max_examples=12)
@given(st.data())
def test_what_an_expression_matches_is_never_ruled_out(data: st.DataObject) -> None:
    said = data.draw(st.sampled_from([*(one.said for one in WORDINGS), *rule_expressions()]))
    form = re.compile(said, re.IGNORECASE)
    text = data.draw(st.from_regex(form))  # hypothesis's own way from it to a text
    assert can_match(said, in_small(text)), (said, text)


@pytest.mark.parametrize("letter", ["K", "ſ", "ı", "İ"])
def test_letters_that_count_as_others_are_not_lost(letter: str) -> None:
    said = "k" if letter == "K" else "s" if letter == "ſ" else "i"
    assert can_match(said, in_small(letter))


def test_signs_that_say_how_to_match_are_no_words() -> None:
    assert triggers("(?im)^(?:left|right) mitten$") == (("mitten",), ("left", "right"))


@pytest.mark.parametrize("text", ["knit to the end", "k to the end", "work to the end"])
def test_what_holds_under_a_condition_is_not_ruled_out(text: str) -> None:
    said = r"\b(?P<k>k)?(?(k)(?:nit)?|work) to the end"
    assert re.search(said, text)
    assert can_match(said, text)


@together(
    ("expression", "lacking"),
    [
        ("(?:twin|shadow) turn", "twin, double"),
        ("(?:twin|shadow) turn", "turn"),
        ("to within 3", "to with 3"),
        (r"(k|p) tbl\b", "k b l"),
        ("(?:rib){2,3}", "r b"),
        (r"(?P<sign>[/:]) ?(?P=sign) sts", "s t s"),
        (r"\*? ?[(\[] ?sts", "* sts"),
        (r"k\d+ [+−–-] sts", "k8 = sts"),
    ],
)
def test_a_text_without_the_words_is_ruled_out(expression: str, lacking: str) -> None:
    assert not can_match(expression, lacking)


@together(
    "expression",
    [
        "[kp]",
        r"\d+",
        "(?:a|)",
        "(?:twin)?",
        "(?=turn)",
        "(?:abc){0,2}",
        "(?<!b)",
        "(?P<a>k?)(?P=a)",
    ],
)
def test_what_needs_no_word_is_always_tried(expression: str) -> None:
    assert triggers(expression) == ()


def test_few_wordings_are_tried_on_a_sentence_and_the_outcome_is_the_same(shared: Path) -> None:
    tried = sentences = 0
    table, sieve = rewordings(WORDINGS), Sieve(wording.said for wording in WORDINGS)
    for path in sorted((shared / "ordinary").glob("*.txt"))[:8]:
        for line in path.read_text(encoding="utf-8").splitlines():
            said = every = tidied(MappedText.of(line))
            for wording in WORDINGS:
                every = every.sub(wording.compiled, wording.means)
            assert table.put_in(said) == every
            sentences += 1
            tried += len(sieve.may_match(in_small(line)))
    assert sentences > 100
    assert tried < sentences * len(WORDINGS) / 4
