# ruff: noqa: E501 - a row stands on one line, long as it may be
"""Crossings in words: read, defined in the text, written, derived, and found where they are wrong.

Names as they are common practice: C4F and C4B (held in front, in back), T3B (two over one purl),
and by numbers, 2/2 RC, 2/1 LPC, as the trade's master list of abbreviations has them (from memory).
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from loopwright import derive, difference, knit, read, review, write
from loopwright.errors import PatternSyntaxError, StitchDefinitionError
from loopwright.fabric import STITCHES, crossing, same_fabric
from loopwright.pattern import Pattern, Run, explained
from loopwright.pattern._cables import called_in, crossing_defined
from loopwright.pattern._contents import items_of
from together import together

TUBE = "Cast on {n} sts. Join in the round. Rnd 1: {work}."


def keys_in(pattern: Pattern) -> list[str]:
    return [item.stitch for item in items_of(pattern.steps) if isinstance(item, Run)]


@pytest.mark.parametrize(
    ("words", "key"),
    [
        ("C4F", "2/2lc"),
        ("c4b", "2/2rc"),
        ("C6B", "3/3rc"),
        ("C12F", "6/6lc"),
        ("T3B", "2/1rpc"),
        ("T3F", "2/1lpc"),
        ("T4F", "2/2lpc"),
        ("C3B", "1/2rc"),
        ("2/2 RC", "2/2rc"),
        ("2/2LC", "2/2lc"),
        ("3/1 lpc", "3/1lpc"),
        ("1/2-RPC", "1/2rpc"),
        ("RT", "rt"),
        ("LT", "lt"),
    ],
)
def test_names_of_crossings(words: str, key: str) -> None:
    takes = STITCHES[key].takes
    pattern = read(TUBE.format(n=2 * takes, work=f"*{words}; rep from * to end"))
    assert keys_in(pattern) == [key]
    twice = read(TUBE.format(n=2 * takes, work=f"{words} twice"))
    assert same_fabric(knit(pattern), knit(twice))
    assert knit(pattern).euler_characteristic == 2


@together(
    ("long", "key"),
    [
        ("slip next 2 sts to cable needle, hold in front, k2, then k2 from cable needle", "2/2lc"),
        ("sl 1 st to cn and hold at back, k2, p1 from cn", "2/1rpc"),
        ("Slip 2 sts onto cn and hold to front of work, purl next st, then knit 2 sts from cn",
         "2/1lpc"),
        ("place 3 sts on cable needle at back of work, knit 3, knit the 3 sts from cable needle",
         "3/3rc"),
        ("slip one st to cn, leave in front, k2, knit st from cn", "1/2lc"),
    ],
)  # fmt: skip
def test_definitions_in_the_text(long: str, key: str) -> None:
    """Whatever a name means elsewhere, the text says what it means here."""
    takes = STITCHES[key].takes
    body = TUBE.format(n=takes + 2, work="K1, C5X, k1")
    pattern = read(f"Abbreviations: C5X = {long}.\n\n{body}")
    assert keys_in(pattern) == ["k", key, "k"]
    other = read(f"Abbreviations: C4F = {long}.\n\n" + body.replace("C5X", "C4F"))
    assert keys_in(other) == ["k", key, "k"]


def test_a_crossing_of_three_groups_comes_with_its_text() -> None:
    plait = (
        "sl 3 sts to cn and hold in back, k2, sl the last st from cn back to left needle, p1, "
        "k2 from cn"
    )
    text = f"""Harbour plait

Abbreviations: T5R = {plait}

Cast on 16 sts. Join in the round.
Rnd 1: *K2, T5R, k1; rep from * to end.
Rnd 2: Knit.
Bind off all sts.
"""
    pattern = read(text)
    fabric = knit(pattern)
    assert fabric.surface.crossings == 2 * (2 * 2 + 2 * 1 + 1 * 2)
    assert fabric.euler_characteristic == 2
    assert review(text).ok
    again = read(write(pattern))
    assert again == pattern
    assert same_fabric(knit(again), fabric)
    assert same_fabric(knit(derive(fabric), stitches=fabric.stitches), fabric)


@given(st.sampled_from([row for row in STITCHES if row.is_crossing]), st.sampled_from(["US", "UK"]))
def test_every_row_is_said_and_read(row, words: str) -> None:  # type: ignore[no-untyped-def]
    """The row's own words define it, and its name in a text is that row again."""
    if row.key not in ("rt", "lt"):
        defined = crossing_defined(row.key, row.name)
        assert defined is not None
        assert called_in(STITCHES, defined) in (row.key, "rt", "lt")
    pattern = read(TUBE.format(n=row.takes + 2, work=f"K1, {row.key}, k1"))
    text = write(explained(pattern, words=words), words=words)
    assert keys_in(read(text)) == ["k", row.key, "k"]
    assert text.count("cable needle") >= (row.key not in ("rt", "lt"))


@together(
    ("text", "column", "problem"),
    [
        (TUBE.format(n=6, work="5/3 RC"), 42, "5/3 RC needs 8 sts, 6 are left"),
        (TUBE.format(n=8, work="K6, C4F"), 46, "2/2 LC needs 4 sts, 2 are left"),
        (TUBE.format(n=8, work="*C4F, k1; rep from * to end"), 42, "8 sts are no multiple of 5"),
        (
            TUBE.format(n=8, work="K3, place marker, k5. Rnd 2: K1, C4B, k3"),
            75,
            "a marker hangs amid the 4 sts that cross, behind 2 of them",
        ),
        (
            TUBE.format(n=8, work="K2, place marker a, k6. Rnd 2: *2/1 LC, k1; rep from * to end"),
            74,
            "marker a hangs amid the 3 sts that cross, behind 2 of them",
        ),
    ],
)
def test_wrong_ones_are_found_at_their_column(text: str, column: int, problem: str) -> None:
    (error,) = [one for one in review(text).findings if one.severity == "error"]
    assert problem in error.message
    assert error.column == column


def test_a_marker_beside_the_stitches_that_cross_is_no_trouble() -> None:
    text = TUBE.format(n=8, work="K2, place marker, k6. Rnd 2: K2, C4B, k2. Bind off all sts")
    assert review(text).ok


def test_an_unknown_one_says_what_to_write() -> None:
    with pytest.raises(PatternSyntaxError, match="say before the work begins what it is"):
        read(TUBE.format(n=8, work="C5R, k3"))


def test_what_a_short_name_leaves_open_is_remarked() -> None:
    remarks = [one.message for one in review(TUBE.format(n=8, work="T3B, C4F, k1")).findings]
    assert any("T3B does not say how many lie over how many; read as 2/1RPC" in r for r in remarks)
    assert not any("C4F" in r for r in remarks)


TWISTED = """
T2F: sl 1 st to cn and hold in front, p1, k1 tbl from cn.
T2B: sl 1 st to cn and hold in back, k1 tbl, p1 from cn.
Cast on 16 sts. Join in the round.
Rnd 1: *P1, T2B, T2F, T2F, p1; rep from * to end.
Rnd 2: *P1, ktbl, p2, ktbl, p1, ktbl, p1; rep from * to end.
"""


def test_one_stitch_of_a_crossing_is_twisted() -> None:
    """Each loop of the round by hand, side by side with the words: purled ones are not twisted."""
    fabric = knit(read(TWISTED))
    first = fabric.ids[fabric.course[fabric.ids] == 1][:8].tolist()
    found = [fabric.stitch_of(loop) for loop in first]
    assert [row.key for row in found] == ["p", "t2b", "t2b", "t2f", "t2f", "t2f", "t2f", "p"]
    assert [found[at].twists for at in (1, 3)] == [("left", ""), ("", "left")]
    assert fabric.surface.crossings == 2 * 3
    assert fabric.euler_characteristic == 2
    told = derive(fabric)
    assert same_fabric(knit(told, stitches=fabric.stitches), fabric)
    assert same_fabric(knit(read(write(explained(read(TWISTED))))), fabric)


def test_untwisted_is_another_fabric_and_where_is_said() -> None:
    fabric = knit(read(TWISTED))
    plain = knit(read(TWISTED.replace("p1, k1 tbl from", "p1, k1 from")))
    told = difference(fabric, plain)
    assert told is not None
    assert "stitch 5 of 16" in str(told)
    assert "twisted to the left in the one, not twisted in the other" in str(told)


@pytest.mark.parametrize("twist", ["l", "l--", "lx", "both"])
def test_twists_are_one_a_stitch(twist: str) -> None:
    with pytest.raises(StitchDefinitionError, match="one a stitch"):
        crossing("t2f", 1, 1, "left", twist=twist)


ROUNDS = "Cast on 30 sts. Join in the round.\nRnds 1-2: *K4, p1; rep from * to end.\n{}\nRnd 4: *K4, p1; rep from * to end.\n"


@together(
    "told",
    [
        "C4L (cable four, left): move 2 sts to your cable needle, let it hang at the front of the work, k2, k the 2 sts from the cable needle.\nRnd 3: *C4L, p1; rep from * to end.",
        "Rnd 3: *Cross 4, p1; rep from * to end. (Cross 4: slip two sts to a spare needle held in front, k2, then k those two from the spare needle.)",
        "Rnd 3: [c4l, p1] rep to end.\nWhere c4l = 2 sts to cn, hold in front; k2; k2 from cn.",
        "3rd round: * Slip next 2 sts. on to a spare needle and leave at front, k.2, then k.2 from spare needle, p.1; repeat from * to end.",
        "Rnd 3: *cable 4 (place 2 sts on cn in front, k2, k2 from cn), p1, repeat from * to end.",
    ],
)  # fmt: skip
def test_a_crossing_is_told_anywhere(told: str) -> None:
    """Below the rows that use it, in brackets behind its name, or in the row itself."""
    text = ROUNDS.format(told)
    assert keys_in(read(text)).count("2/2lc") == 1
    assert [one for one in review(text).findings if one.severity == "error"] == []


def test_a_row_that_begins_with_a_crossing_explains_none() -> None:
    row = "Cable rnd: slip 2 sts to cn and hold in front, k2, k2 from cn, p1; rep to end. (30 sts)"
    assert "2/2lc" in keys_in(read(ROUNDS.format(row)))
