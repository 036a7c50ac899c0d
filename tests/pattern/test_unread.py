"""A line that cannot be understood brings no false finding behind it; `unread.py` measures it."""

from __future__ import annotations

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.findings import NOTE
from pattern.slips import found

SOCK = """Cast on 60 sts. Join in the round.
Work 10 rounds in k2, p2 rib.
Round 1: Knit.
Round 2: *K8, k2tog; rep from * to end. 54 sts.
Round 3: Knit.
Round 4: *K7, k2tog; rep from * to end. 48 sts.
Round 5: *K6, k2tog; rep from * to end. 42 sts.
Bind off. Weave in ends.
"""
RIDDLE = "Wuzzle the flims as the tide allows."


@pytest.mark.parametrize("line", range(1, SOCK.count("\n") + 1))
def test_a_line_out_of_reach_brings_no_finding(line: int) -> None:
    lines = SOCK.split("\n")
    lines[line - 1] = RIDDLE
    assert found("\n".join(lines)) == []


@pytest.mark.parametrize("line", [3, 4, 5, 6, 7])
def test_nor_do_words_amid_a_row(line: int) -> None:
    lines = SOCK.split("\n")
    label, _, rest = lines[line - 1].partition(": ")
    lines[line - 1] = f"{label}: wuzzle the flims, {rest[0].lower()}{rest[1:]}"
    assert found("\n".join(lines)) == []


def test_it_is_named() -> None:
    (note,) = review(SOCK.replace("Round 3: Knit.", RIDDLE)).of("doubt")
    assert (note.severity, note.line) == (NOTE, 5)
    assert "'Wuzzle the flims as the tide allows'" in note.message


def test_a_text_of_which_no_cast_on_was_understood_says_so() -> None:
    start = "Hat\n\nBrim\nWith a long needle, loops for 84 please.\n"
    text = start + "Rnd 1: *K2, p2; rep from * around.\nBind off.\n"
    (note,) = review(text).of("unread")
    assert (note.severity, note.line, note.message[:25]) == (NOTE, 5, "no cast-on was understood")
    told = text.replace("With a long needle, loops for 84 please.", "Cast on 84 sts. Join.")
    assert review(told).of("unread") == ()


def test_a_stated_count_ends_the_doubt() -> None:
    """Behind a line out of reach, what contradicts a later count is found as ever."""
    text = SOCK.replace("Round 3: Knit.", RIDDLE).replace("42 sts", "43 sts")
    assert found(text) == ["each repeat leaves 7 sts: 43 sts are no multiple of 7"]


def test_rows_that_are_repeated_are_not_counted_on_where_one_is_lost() -> None:
    rows = "Cast on 40 sts. Join in the round.\nRound 1: *K1, yo, k7, k2tog; rep from * to end.\n"
    text = rows + f"{RIDDLE}\nRep rounds 1 and 2 3 times more.\nBind off. Weave in ends.\n"
    assert found(text) == []
