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
from loopwright.pattern._rewording.needed_words import needed_words
from loopwright.pattern._rewording.triggers import Sieve, WordForm, WordIndex, shape_of
from loopwright.pattern._rewording.wordings import WORDINGS, rewordings, tidied
from together import together

NUMBER = re.compile(r"(?<![A-Za-z0-9])[0-9]+(?![A-Za-z0-9])")


def can_match(said: str, text: str) -> bool:
    return list(Sieve([said]).may_match(text)) == [0]


@settings(max_examples=12)
@given(st.data())
def test_what_an_expression_matches_is_never_ruled_out(data: st.DataObject) -> None:
    said = data.draw(st.sampled_from([*(one.said for one in WORDINGS), *rule_expressions()]))
    form = re.compile(said, re.IGNORECASE)
    text = data.draw(st.from_regex(form))  # hypothesis's own way from it to a text
    assert can_match(said, text), (said, text)


@pytest.mark.parametrize("letter", ["K", "ſ", "ı", "İ"])
def test_letters_that_count_as_others_are_not_lost(letter: str) -> None:
    said = "k" if letter == "K" else "s" if letter == "ſ" else "i"
    assert can_match(said, letter)


def test_signs_that_say_how_to_match_are_no_words() -> None:
    assert needed_words("(?im)^(?:left|right) mitten$") == ((" mitten ",), (" left ", " right "))


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
        (r"\bco\b", "second colour"),
        (r"\bcast(?:ing)?(?: on)?,? (?:the|all)", "broadcast the"),
        (r"(?:last )?st(?=\W|$)", "stitch"),
        (r"(?:[*;] ?|the )st(?:,| )", "*stitch, twist"),
        (r"row \d+", "row a"),
        (r"k\d{1,2}tog", "k2, 3tog"),
        (r"\b[2-9] rows", "k2 rows"),
        (r"(?<![a-z0-9])k ?\d", "ask 2"),
        (r"(?<![a-z])[kp](?!\w)", "k2, p3, ask"),
        (r"(?<!\w)m(?![a-z0-9])", "am m1"),
    ],
)
def test_a_text_without_the_words_is_ruled_out(expression: str, lacking: str) -> None:
    assert not can_match(expression, lacking)


@together(
    "expression",
    [
        "[kp]?",
        r"\d*",
        "(?:a|)",
        "(?:twin)?",
        "(?=turn)",
        "(?:abc){0,2}",
        "(?<!b)",
        "(?P<a>k?)(?P=a)",
    ],
)
def test_what_needs_no_word_is_always_tried(expression: str) -> None:
    assert needed_words(expression) == ()


@together(
    ("expression", "text"),
    [
        (r"\bst(?:itch)?(?:es)?\b", "stitches"),
        (r"(?:ab){2}\b", "abab"),
        (r"\b(?:ab)+", "cd, abab"),
        (r"\bk\d\d+ ", "k100 sts"),
        (r"(?:k|\d)st\b", "2st"),
        (r"\b(?:the|a)?st\b", "thest"),
        (r"\w?st(?:s|-)?\d", "4sts2"),
        (r"st_? ", "st_ "),
        (r"\b_?st\b", "_st"),
        (r"(?:(?:to|\*) ?)+end\b", "to to end"),
        (r"row(?! \d)(?=,|s)", "rows"),
        (r"\d+ ?rows?", "12rows"),
        (r"(?<![a-z])[kp]\d", "m1k2"),
        (r"(?<![a-z])[2-9]tog", "112tog"),
        (r"(?<![a-z0-9])m1l(?![a-z0-9])", "ém1lß"),
        (r"(?<![a-z0-9])m1l(?![a-z0-9])", "x_m1l_x"),
        (r"k\d", "k٣"),
        (r"(?-i:(?<![a-z])[MC]C)", "MCC"),
        (r"(?-i:(?<![A-Za-z])[MC]C)", "1MCC"),
        (r"(?<![a-c])k(?![a-c])", "skx"),
        (r"(?<!\W)k", "sk"),
        (r"(?<![^a-z])k", "sk"),
        (r"[a-c]k", "ck"),
        (r"[kp]+\d", "kkp3"),
    ],
)
def test_what_bounds_a_word_rules_out_nothing_that_matches(expression: str, text: str) -> None:
    assert re.search(expression, text)
    assert can_match(expression, text)


def test_what_many_texts_may_hold_is_what_each_may_by_itself() -> None:
    texts = ["Now co on 60 sts.", "Rnd 1: *K2, p2;", "rep from * to end.", "", "Knit ém1l_", "Purl"]
    expressions = [r"rep\w*", r"\b(?:co|cast on) \d", r"(?<!\w)m1l", "[*]", "k|end"]
    expressions += ["p2; rep", r"\bco? on \d+ st"]
    index = WordIndex([[text, text.upper()] for text in texts])
    for said in expressions:
        form = WordForm(said)
        alone = [can_match(said, text) for text in texts]
        assert [*map(bool, index.may_hold([form]))] == alone
        behind = [f"{text} {after}" for text, after in zip(texts, [*texts[1:], ""], strict=True)]
        ahead = [can_match(said, text) for text in behind]
        assert [*map(bool, index.may_hold([], [form]))] == ahead
    later = WordForm("end|purl")  # an index knows what is made after it
    assert [*index.may_hold([later])] == [0, 0, 1, 0, 0, 1]
    assert [*WordIndex([]).may_hold([later])] == []


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
            tried += len(sieve.may_match(line))
    assert sentences > 100
    assert tried < sentences * len(WORDINGS) / 4


@together(
    ("expression", "lacking", "matching"),
    [
        (r"rnd \d+: k2tog", "Rnd 17: K, 2tog", "Rnd 18: K2tog"),
        (r"\bsize 3\b", "Size 4", "Size 3"),
        (r"[1-4] sts", "5 sts", "2 sts"),
        (r"\b(?P<n>\d+) and (?P=n)\b", "12 and 13", "12 and 12"),
        (r"\b(\d) of \1 sts", "2 of 3 sts", "4 of 4 sts"),
        (r"\d{2} sts", "9 sts", "10 sts"),
        (r"k(?P<n2>0)\d", "k 17, k19", "k 17, k09"),
    ],
)
def test_what_a_number_decides_is_not_remembered_of_another(
    expression: str, lacking: str, matching: str
) -> None:
    form = WordForm(expression)
    for text, there in [(lacking, False), (matching, True), (lacking, False)]:
        assert (form.search(text) is not None) is there
        assert (form.match(text) is not None) is (re.match(expression, text, re.I) is not None)
        assert bool(form.findall(text)) is there


@settings(max_examples=12)
@given(st.data())
def test_texts_of_one_shape_are_alike_to_a_form_that_is_remembered(data: st.DataObject) -> None:
    said = data.draw(st.sampled_from([*(one.said for one in WORDINGS), *rule_expressions()]))
    text = data.draw(st.from_regex(re.compile(said, re.IGNORECASE)))
    digits = data.draw(st.permutations("0123456789"))
    same = NUMBER.sub(lambda number: "".join(digits[int(one)] for one in number[0]), text)
    assert shape_of(same) == shape_of(text)
    form, plain = WordForm(said), re.compile(said, re.IGNORECASE)
    for one in (text, same, text):
        assert (form.search(one) is None) is (plain.search(one) is None), (said, one)
