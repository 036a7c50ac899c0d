"""Parts of patterns, as people word them: read, counted as their writers counted, slips noticed.

Written for this project by people who had not seen the program, see passages.py.
"""

from __future__ import annotations

from pattern.passages import COUNT, FOUND, LOST, SLIP, Passage, not_yet, passages, wrong_with
from todays import todays
from together import together

WORSE = "worse than kept: run `PYTHONPATH=tests python tests/pattern/passages.py NAME` to see it"
BETTER = "better than kept: run `PYTHONPATH=tests python tests/pattern/passages.py` to keep it"
KNOWN = not_yet()
CASES = passages()


@together("one", todays(CASES), tests=40)
def test_a_passage_is_read_and_its_slip_noticed(one: Passage) -> None:
    known, found = KNOWN.get(one.name, set[str]()), wrong_with(one)
    assert not found - known, WORSE
    assert not known - found, BETTER


def test_what_is_not_right_yet_is_of_a_passage() -> None:
    assert KNOWN.keys() <= {one.name for one in CASES}
    assert all(words <= {LOST, COUNT, FOUND, SLIP} for words in KNOWN.values())


def test_a_wrong_count_is_seen() -> None:
    right = Passage("x", ("Cast on 40 sts.", "Row 1: K."), (40,), 2, "Row 1: K. 41 sts.", "")
    assert wrong_with(right) == set()
    wrong = Passage("x", ("Cast on 40 sts.", "Sew the wibble."), (42,), 2, "Weave in ends.", "")
    assert wrong_with(wrong) >= {COUNT, SLIP}
