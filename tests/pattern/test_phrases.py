"""Phrases of each kind leave the stitches that a knitter would count (wordings: common practice).

A line of phrases.txt holds what is on the needles (`R64` in the round, `F30` flat, `0` nothing
yet), the phrase, and the stitches in work after it; two lines of a text are parted by ``\\n``. A
fourth column says how many rows or rounds are knitted by it. How it is read stands in phrases.read,
see read_back.py.
"""

from __future__ import annotations

from loopwright.fabric import Fabric
from loopwright.pattern import knit, review
from loopwright.pattern._editing.findings import NOTE
from pattern.read_back import (
    ANEW,
    BEFORE,
    looked_at,
    phrase_shown,
    phrases,
    phrases_kept,
    with_phrase,
)
from todays import todays
from together import together

UNFINISHED = (
    "still live", "never returned", "never taken out", "nowhere taken up",
    "both strands of a double st",
)  # fmt: skip
KEPT = phrases_kept()


@together(("on", "said", "count", "rows"), todays(phrases()), tests=30)
def test_a_phrase_is_read_and_counted(on: str, said: str, count: int, rows: int | None) -> None:
    found = looked_at(with_phrase(on, said))
    reading = found.reading
    assert reading.errors == ()
    assert [line.after[0] for line in reading.lines if line.after][-1] == count
    wrong = [
        finding.message
        for finding in found.review.findings
        if finding.severity != NOTE and not any(word in finding.message for word in UNFINISHED)
    ]
    assert wrong == []
    if rows is not None:
        made = knit(reading.pattern)
        assert isinstance(made, Fabric)
        assert max(made.course.tolist()) == BEFORE[on[0]].count("\n") - (on != "0") + rows
    assert phrase_shown(on, said, found) in KEPT, ANEW


def test_a_phrase_that_leaves_another_count_is_seen() -> None:
    text = BEFORE["R"].format(64) + "Dec 1 st at each end of next rnd. 60 sts."
    assert any("states 60 sts" in finding.message for finding in review(text).findings)


def test_a_number_of_times_that_misses_its_count_is_seen() -> None:
    dec = "Rnd 2: On each needle, k1, ssk, k to last 3 sts, k2tog, k1.\nRnd 3: Knit.\n"
    times = "Work both rounds 5 times in total, until you have 32 sts."
    found = review(BEFORE["R"].format(56) + "Divide over 2 needles: 28, 28.\n" + dec + times)
    assert any("32 sts stated; there are 36" in one.message for one in found.findings)


def test_times_that_miss_all_stitches_told_behind_those_between_markers_are_seen() -> None:
    text = (
        "Round 1: Knit 14, pm, m1, pm, knit to end. 29 sts.\nRound 2: Knit to the first marker, "
        "slip it, m1, knit to the next marker, m1, slip it, knit to the end.\nRound 3: Knit.\n"
        "Do Rounds 2 and 3 another 4 times. "
        "Now there are 9 stitches between the markers and 37 altogether."
    )
    found = review(BEFORE["R"].format(28) + text)
    assert any("states 37 sts" in one.message for one in found.findings)


def test_a_section_worked_again_with_what_it_gains_is_counted() -> None:
    text = (
        "A shawl\n\nSection A: garter\nCast on 3 sts.\nKnit 2 rows.\n\nSection B: wider\n"
        "Row 1 (RS): K1, kfb, k to end. (5 sts the first time)\nRow 2 (WS): Knit.\n"
        "Repeat Section B another 10 times, gaining 1 st each time. You now have 16 sts.\n"
    )
    found = [one.message for one in review(text).findings]
    assert any("states 5 sts" in one for one in found), found
    assert any("states 16 sts" in one for one in found), found


def test_a_rib_that_is_changed_to_must_fit_the_round() -> None:
    found = review(BEFORE["R"].format(49) + "Change to single rib (k1, p1) and work 8 rounds.")
    assert any("49 sts are no multiple of 2" in one.message for one in found.findings)


def test_turns_of_yarn_that_make_another_number_are_seen() -> None:
    found = review("Turkish cast-on: 7 wraps round both needles, 16 sts.\nRnd 1: Knit.")
    assert any("states 16 sts; working it leaves 14" in one.message for one in found.findings)


def test_needles_told_beside_plain_work_must_hold_all_sts() -> None:
    told = "Knit straight (12, 24 and 14 on the needles) until 5 cm are wanting."
    found = review(BEFORE["R"].format(48) + told)
    assert any("states 50 sts; working it leaves 48" in one.message for one in found.findings)


def test_counts_told_for_each_pair_of_sections_hold_behind_the_last() -> None:
    rows = "CORNER\nR1 (RS): K2, yo, k to last 2 sts, yo, k2.\nR2 (WS): K1, k2tog, k to end.\n\n"
    told = "REST\nWork the corner three times more. The counts after each pair are 7, 8 and 11."
    found = review("Cast on 5 sts.\n\n" + rows + told)
    assert any("11 sts" in one.message for one in found.findings)
