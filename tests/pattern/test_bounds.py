# ruff: noqa: E501 - a text stands on one line, long as it may be
"""Where each rule of thumb ends: the text that is just within it, and the one that is just beyond.

How far a rule goes is our own choice; the counts were made by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeAlias

import pytest

from loopwright.pattern._editing.findings import Finding
from loopwright.pattern._editing.heights import heights
from loopwright.pattern._editing.like_rows import like_rows
from loopwright.pattern._editing.mirrors import mirrors
from loopwright.pattern._editing.reached import reached
from loopwright.pattern._editing.row_numbers import row_numbers
from loopwright.pattern._editing.spoken import spoken
from loopwright.pattern._editing.told_sums import told_sums
from loopwright.pattern._editing.turn_sequences import turn_sequences
from loopwright.pattern._editing.turning_rows import turning_rows
from loopwright.pattern._editing.two_parts import two_parts

Look: TypeAlias = Callable[[str], Iterator[Finding]]


def _rows(*told: str, first: int = 1) -> str:
    return "".join(f"Row {n}: {words}, w&t.\n" for n, words in enumerate(told, first))


GOES_ON = "Continue, working 1 st less before each wrap, through the row that ends {}, w&t.\n"
SHORT = _rows("K25", "P24", "K23")
TO = "Knit until the {} measures 16 cm from the cast-on edge.\n"
LOW = "Height: 15 cm\n\nCast on 80 sts.\n"


def _tall(printed: str, worked: str) -> str:
    return f"Height: {printed} mm\n\nCast on 80 sts.\nKnit until the hat measures {worked} mm from the cast-on edge.\n"


def _garter(length: int) -> str:
    return (
        f"Gauge: 40 rows = 10 cm\nLength: {length} cm\n\nCast on 20 sts.\nKnit. 200 rows in all.\n"
    )


RIB = "Row 1: *K1, p1; rep from * to end.\nRow 2: *P1, k1; rep from * to end.\nWork in rib as before, beginning with "
BOTH = "Rnd 1: K1, ssk, k1.\nRnd 2: "


def _of_which(before: int, part: int) -> str:
    return f"Cast on {before} sts.\nKnit to 30 sts, of which {part} are heel sts."


def _less(printed: str, worked: str = "17 (19)", by: str = "5") -> str:
    return f"Foot length: {printed} in\nWork until the foot is {worked} in, which is {by} in less than the finished length."


def _numbered(*numbers: int) -> str:
    return "".join(f"Row {number}: Knit.\n" for number in numbers)


def _heel(*plain: int, first: int = 1) -> str:
    return "".join(
        f"Row {n}: Sl 1, {'pk'[n % 2]}{many}, {('p2tog', 'ssk')[n % 2]}, {'pk'[n % 2]}1, turn.\n"
        for n, many in enumerate(plain, first)
    )


def _turns(*told: int) -> str:
    return "".join(
        f"Row {n}: {'PK'[n % 2]}{20 - n}{', turn' * turned}.\n" for n, turned in enumerate(told, 1)
    )


def _facing(*sides: tuple[int, str]) -> str:
    return "".join(f"Row {n} ({side}): Knit.\n" for n, side in sides)


def _tails(*behind: int) -> str:
    return "".join(
        f"Row {n}: Sl 1, k{4 + n}, ssk, k{many}, turn.\n"
        for n, many in zip(range(1, 99, 2), behind, strict=False)
    )


TOE = "Cast on 48 (56) sts. Join.\nTOE\nRnd 1: *K1, ssk, k to last 3 sts of needle, k2tog, k1; rep from * on second needle. (4 sts decreased)\nRnd 2: Knit.\n"

LOOKS: dict[str, Look] = {
    "turn_sequences": lambda text: turn_sequences(spoken(text)),
    "like_rows": lambda text: like_rows(spoken(text)),
    "heights": lambda text: heights(text, spoken(text)),
    "mirrors": lambda text: mirrors(spoken(text)),
    "two_parts": lambda text: two_parts(spoken(text)),
    "told_sums": lambda text: told_sums(text, spoken(text)),
    "row_numbers": lambda text: row_numbers(spoken(text)),
    "turning_rows": lambda text: turning_rows(spoken(text)),
    "reached": lambda text: reached(spoken(text)),
}

# Of each check: a text, and what is said of it, with its place; "" where it is right.
SAID: dict[str, tuple[tuple[str, str], ...]] = {
    "turn_sequences": (
        (_rows("K19", "P18", "K15", "P16"), "3:8 15 sts are worked in this row; the rows around it make it 17"),
        (_rows("K19", "P18", "K15"), ""),
        (_rows("K19", "P18", "K14", "P16"), "3:8 14 sts are worked in this row; the rows around it make it 17"),
        (_rows("K19", "P18", "K13", "P16"), ""),
        (_rows("K19", "P18 (20)", "K15", "P16"), ""),
        (_rows("K19 (21)", "P18 (20)", "K17 (18)", "P16 (18)"), "3:8 18 sts are worked in this row; the rows around it make it 19"),
        (_rows("K19", "P16", "K17", "P16"), "2:8 16 sts are worked in this row; the rows around it make it 18"),
        (_rows("K25", "P18", "K17", "P16", "K15"), ""),
        (_rows("K5", "P6", "K8", "P8"), "3:8 8 sts are worked in this row; the rows around it make it 7"),
        (_rows("K5", "P7", "K8", "P11"), "3:8 8 sts are worked in this row; the rows around it make it 9"),
        (_rows("K20", "P18", "K17", "P14"), "3:8 17 sts are worked in this row; the rows around it make it 16"),
        (_rows("K19", "P18", "K15", "P16") + "Row 5: Sl 1, k10, turn.\n", "3:8 15 sts are worked in this row; the rows around it make it 17"),
        (_rows("K19", "P18") + "Purl loosely here.\n" + _rows("K15", "P16", first=3), "4:8 15 sts are worked in this row; the rows around it make it 17"),
        (_rows("K19", "P18", "K15") + "Rows 4 and 5: P16, w&t.\n", ""),
        (_rows("K19", "P18") + "Row 3: Knit.\n" + _rows("K15", "P16", first=4), ""),
        (SHORT + GOES_ON.format("K9"), ""),
        (SHORT + GOES_ON.format("K8"), "4:73 these rows work 25, then 23 sts, and so never 8"),
        (SHORT + GOES_ON.format("K23"), ""),
        (SHORT + GOES_ON.format("K25"), "4:73 these rows work 25, then 23 sts, and so never 25"),
        (SHORT + GOES_ON.format("K8 (9)"), ""),
        (SHORT + GOES_ON.format("P8"), ""),
        (_rows("K25", "P24") + GOES_ON.format("K8"), ""),
        (SHORT + "Continue through the row that ends K8, w&t.\n", ""),
        (SHORT + "Continue in this way.\n", ""),
        (_rows("K25", "P24", "K25") + GOES_ON.format("K8"), ""),
    ),
    "like_rows": (
        (RIB + "row 2.", ""),
        (RIB + "the 3rd row.", "3:9 the rib has 2 rows: there is no row 3"),
        (RIB.replace("p1", "k1").replace("P1", "K1") + "row 2.", ""),  # no rib is told
    ),
    "heights": (
        (LOW + TO.format("hat"), "1:9 15 cm is printed; the piece measures 16 cm before it is done"),
        (LOW + TO.format("hat") + TO.format("cap"), "1:9 15 cm is printed; the piece measures 16 cm before it is done"),
        (LOW + TO.format("hat") + TO.format("cap") + TO.format("cowl"), ""),
        ("Length: 15 cm\n" + LOW + TO.format("hat"), ""),
        (LOW + TO.format("hat") + "Fold the brim.", ""),
        (_tall("970", "1000"), ""),
        (_tall("960", "1000"), "1:9 960 mm is printed; the piece measures 1e+03 mm before it is done"),
        (_tall("100 (110, 135)", "70 (80, 90)"), "1:9 135 mm is printed; what is worked makes about 120 mm, as in the other sizes"),
        (_tall("100 (110, 134)", "70 (80, 90)"), ""),
        (_tall("100 (110, 120, 138, 155)", "70 (80, 90, 100, 110)"), "1:9 155 mm is printed; what is worked makes about 140 mm, as in the other sizes"),
        (_tall("100 (110, 120, 139, 155)", "70 (80, 90, 100, 110)"), ""),
        (_tall("100 (140)", "70 (80)"), ""),
        (_garter(41), ""),
        (_garter(40), "2:9 40 cm is printed; the rows at this gauge make 50 cm"),
        (_garter(60), ""),
        (_garter(61), "2:9 61 cm is printed; the rows at this gauge make 50 cm"),
        (_garter(30), ""),
        (_garter(31), "2:9 31 cm is printed; the rows at this gauge make 50 cm"),
        (_garter(80), ""),
        (_garter(79), "2:9 79 cm is printed; the rows at this gauge make 50 cm"),
    ),
    "mirrors": (
        ("Rnd 1: Ssk, k to last 2 sts, ssk.", "1:30 Ssk and ssk both lean to the left, in a row that mirrors itself otherwise"),
        ("Rnd 1: Ssk, k3, ssk.", ""),
        ("Rnd 1: K2tog, k to last 2 sts, k2tog.", ""),
        ("Rnd 1: M1r, k to last 2 sts, m1r.", "1:30 M1r and m1r both lean to the right, in a row that mirrors itself otherwise"),
        (BOTH + "K7, k2tog, k7, k2tog, k7.", ""),
        (BOTH + "K6, k2tog, k6, k2tog, k6.", "2:23 k2tog and k2tog both lean to the right, in a row that mirrors itself otherwise"),
        (BOTH + "K7, k2tog, k10, k2tog, k7.", ""),
        (BOTH + "K7, k2tog, k11, k2tog, k7.", "2:24 k2tog and k2tog both lean to the right, in a row that mirrors itself otherwise"),
        ("Rnd 1: K7, ssk, ssk, k7.", "1:17 ssk and ssk both lean to the left, in a row that mirrors itself otherwise"),
        ("Rnd 1: K1, ssk, k3, k2tog, p1.", "1:28 K1 on one side and p1 on the other, in a row that mirrors itself otherwise"),
        ("Rnd 1: K1, k2, k3, k2, p1.", ""),
        ("TOE\nRnd 1: K3, k2tog, k10, ssk, k3.", "2:12 k2tog … ssk lean away from the edges: ssk … k2tog?"),
        ("TOE\nRnd 1: K4, k2tog, k10, ssk, k4.", ""),
        ("TOE\nRnd 1: K3, k2tog, k10, ssk, k2.", ""),
        ("TOE\nRnd 1: K3, k2tog, yo, ssk, k3.", ""),
        ("TOE\nRnd 1: K3, k2tog, ssk, k3.", ""),
        ("TOE\nRnd 1: K3, k2tog, k to last 5 sts, ssk, k3.", "2:12 k2tog … ssk lean away from the edges: ssk … k2tog?"),
        ("LEG\nRnd 1: K3, k2tog, k to last 5 sts, ssk, k3.", ""),
        ("TOE LEANING AWAY\nRnd 1: K3, k2tog, k10, ssk, k3.", ""),
        ("TOE\nRnd 1: K3, k2tog, k1, ssk, k6, k2tog, k1, ssk, k3.", ""),
    ),
    "two_parts": (
        (_of_which(12, 20), "2:9 20 of 30 sts leave 10; there were 12"),
        (_of_which(12, 21), ""),
        (_of_which(14, 20), "2:9 20 of 30 sts leave 10; there were 14"),
        (_of_which(15, 20), ""),
        (_of_which(10, 20), ""),
        (_of_which(20, 20), ""),
        (_of_which(12, 19), "2:9 19 of 30 sts leave 11; there were 12"),
        ("There are 28 sts.\nYou have 16 heel stitches; the other 16 wait on needle 2.", "2:5 16 and 16 sts are 32; there were 28"),
        ("There are 27 sts.\nYou have 16 heel stitches; the other 16 wait on needle 2.", ""),
        ("There are 32 sts.\nYou have 16 heel stitches; the other 16 wait on needle 2.", ""),
    ),
    "told_sums": (
        (_less("22 (25)"), "2:24 17 (19) and 5 make 22 (24); 22 (25) is printed"),
        (_less("22 (24)"), ""),
        (_less("23 (25)"), ""),
        (_less("22.05 (24.06)"), ""),
        (_less("22 (27.5)"), "2:24 17 (19) and 5 make 22 (24); 22 (27.5) is printed"),
        (_less("22 (28)"), ""),
        (_less("22 (25, 26)"), ""),
        (_less("6.7 (7.2)", "5.1 (5.6)", "1.6"), ""),
        (_less("24", "17"), ""),
        (_less("22.04", "17"), ""),
    ),
    "row_numbers": (
        ("Odd rows: Knit.\n" + _numbered(2, 4, 6), ""),
        ("Odd-numbered rows: Knit.\n" + _numbered(2, 4, 6), ""),
        ("Even rows: Knit.\n" + _numbered(1, 3, 5), ""),
        ("Even rows: Knit.\n" + _numbered(3, 5), "2:1 the rows of this section begin with number 3: was a row left out, or misnumbered?"),
        ("Even rows: Knit.\n" + _numbered(2, 4, 6), "2:1 the rows of this section begin with number 2: was a row left out, or misnumbered?"),
        ("Purl all even rows.\n" + _numbered(1, 3, 5), ""),
        ("Purl all odd rows.\n" + _numbered(2, 4, 6), ""),
        (_numbered(1, 2, 3, 5), "4:1 expected number 4, found 5: was a row left out, or misnumbered?"),
        (_numbered(1, 2, 4, 4), "3:1 expected number 3, found 4: was a row left out, or misnumbered?"),
        (_numbered(1, 2, 3, 5, 6), "4:1 expected number 4, found 5: was a row left out, or misnumbered?"),
        (_numbered(1) + "Work 3 rows.\n" + _numbered(5), ""),
        (_numbered(1, 3) + "Work 3 rows.\n" + _numbered(5), "2:1 expected number 2, found 3: was a row left out, or misnumbered?"),
        (_numbered(1, 2) + "Rows 3-6: Rep rows 1 and 2.\n", ""),
        (_numbered(1, 2) + "Rows 3-7: Rep rows 1 and 2.\n", "3:1 5 rows can't be 2 rows repeated: which rows are meant?"),
        (_numbered(1, 2) + "Rows 3-7: Rep rows 1 and 2, ending with row 1.\n", ""),
        (_numbered(1, 2) + "Rows 3-6: Rep rows 1 and 2, ending with row 1.\n", "3:1 4 rows of rows 1 to 2 end with row 2, not row 1"),
        (_numbered(1, 2) + "Rows 3 and 4: Rep row 1.\n", ""),
        (_numbered(1, 2, 3) + "Work rows 1-4.", "4:6 there is no row 4 in this text: the last is 3"),
        (_numbered(1, 2, 3) + "Work rows 1-3.", ""),
        (_numbered(1, 2, 3) + "Work rows 1-5.", ""),
        (_numbered(1, 2) + "Work rows 1-3.", ""),
        (_numbered(1, 2, 3) + "Work rows 2-4.", "4:6 there is no row 4 in this text: the last is 3"),
        (_numbered(1, 2, 3) + "Row 4: As row 3.", ""),
        (_numbered(1, 2, 3) + "Row 4: As row 4.", "4:8 row 4 is to be as row 4, which is not before it"),
        (_numbered(1, 2, 3) + "Row 4: As row 5.", "4:8 row 4 is to be as row 5, which is not before it"),
        ("Rows 1-4: As row 2.\n", ""),
        (_numbered(1) + "Rows 2-4: As row 2.\n", "2:11 row 2 is to be as row 2, which is not before it"),
        (_numbered(1) + "Rows 2-4: As row 1.\n", ""),
        (_numbered(1, 2, 3) + "Rep these 4 rows.", "4:1 4 rows to repeat, and 3 rows numbered here: was one left out?"),
        (_numbered(1, 2, 3, 4) + "Rep these 4 rows.", ""),
        (_numbered(1, 2, 3) + "Rep these 3 rows.", ""),
        (_numbered(1, 3) + "Purl all even rows.\nRep these 4 rows.", ""),
        (_numbered(2, 3), "1:1 the rows of this section begin with number 2: was a row left out, or misnumbered?"),
        ("GUSSET\n" + _numbered(1, 2, 3) + "\nTOE\n" + _numbered(4, 5) + "\nTIP\n" + _numbered(7, 8), "11:1 the rows of this section begin with number 7: was a row left out, or misnumbered?"),
    ),
    "turning_rows": (
        (_heel(10, 5, 6, 7), ""),
        (_heel(10, 5, 6, 8), "4:15 8 sts before the decrease; in step with the other rows it would be 7"),
        (_heel(10, 5, 6, 8, 8), "4:15 8 sts before the decrease; in step with the other rows it would be 7"),
        (_heel(10, 5, 7, 9, 11), ""),
        (_heel(10, 5, 8, 7, 8), "3:15 8 sts before the decrease; in step with the other rows it would be 6"),
        (_heel(10, 5), ""),
        (_heel(10, 5, 7), "2:15 5 sts before the decrease; in step with the other rows it would be 6"),
        (_heel(10, 5, 6), ""),
        (_heel(5, 6, 8, 8, first=3), "3:15 8 sts before the decrease; in step with the other rows it would be 7"),
        (_heel(6, 6, 7, 8, first=3), "1:15 6 sts before the decrease; in step with the other rows it would be 5"),
        (_heel(12, 6, 7, 9, 9, first=3), "4:15 9 sts before the decrease; in step with the other rows it would be 8"),
        (_turns(0, 1, 1), "1:11 the other rows of this section say 'turn': is it left out here?"),
        (_turns(1, 0, 1), ""),
        (_turns(1, 0, 1, 1), "2:11 the other rows of this section say 'turn': is it left out here?"),
        (_turns(1, 1, 0), ""),
        (_turns(0, 1), ""),
        (_turns(0, 0, 1), ""),
        (_turns(1, 0, 0), ""),
        (_turns(0, 1) + "Repeat these rows 4 times.", "1:11 the other rows of this section say 'turn': is it left out here?"),
        (_turns(1, 0) + "Repeat these rows 4 times.", "2:11 the other rows of this section say 'turn': is it left out here?"),
        (_turns(1, 1) + "Repeat these rows 4 times.", ""),
        (_turns(1, 1, 0) + "Repeat these rows 4 times.", "3:11 the other rows of this section say 'turn': is it left out here?"),
        (_turns(1, 1, 0) + "Knit 1 row.\nRepeat these rows 4 times.", ""),
        ("Row 1: K15, ssk, p1, turn.", "1:18 knit and purl stitches in one row of a turn: is one of them mistyped?"),
        ("Row 1: K15, ssk, k1, turn.", ""),
        ("Row 1: P15, p2tog, k1, turn.", "1:20 knit and purl stitches in one row of a turn: is one of them mistyped?"),
        ("Row 1: K1, p1, ssk, turn.", "1:12 knit and purl stitches in one row of a turn: is one of them mistyped?"),
        ("Row 1: K15, p1, turn.", ""),
        ("Row 1: K15, p1, k2tog, p1, turn.", ""),
        ("Row 1: K15, p1, ssk.", ""),
        (_facing((1, "RS"), (2, "WS")), ""),
        (_facing((1, "RS"), (2, "RS")), "2:1 row 1 is RS, so that this one should be WS, not RS"),
        (_facing((1, "RS"), (3, "RS")), ""),
        (_facing((1, "RS"), (3, "WS")), "2:1 row 1 is RS, so that this one should be RS, not WS"),
        (_facing((2, "RS"), (1, "RS")), ""),
        (_facing((2, "RS"), (2, "WS")), ""),
        (_facing((1, "WS"), (2, "WS")), "2:1 row 1 is WS, so that this one should be RS, not WS"),
        ("Row 1 (RS): Knit.\nCut yarn.\nRow 2 (RS): Knit.", ""),
        (_tails(1, 1, 1), ""),
        (_tails(1, 1, 2), "3:24 2 sts behind this decrease, and 1 in the other rows of the turn"),
        (_tails(1, 2), ""),
        (_tails(2, 1, 1), "1:24 2 sts behind this decrease, and 1 in the other rows of the turn"),
        (_tails(1, 2, 2, 1), ""),
    ),
    "reached": (
        (TOE + "Rep rnds 1 and 2 until 20 (24) sts remain.", ""),
        (TOE + "Rep rnds 1 and 2 until 20 (22) sts remain.", "5:24 from 56 sts, 4 at a time, there are never 22: after 24 come 20; is one of these meant?"),
        (TOE + "Rep rnds 1 and 2 until 22 (26) sts remain.", "5:24 from 48 sts, 4 at a time, there are never 22: after 24 come 20; is one of these meant?"),
        (TOE + "Rep rnds 1 and 2 until 20 (60) sts remain.", ""),
        (TOE + "Rep rnds 1 and 2 until 48 (56) sts remain.", ""),
        (TOE + "Rep rnds 1 and 2 until 21 (29) sts remain.", "5:24 from 48 sts, 4 at a time, there are never 21: after 24 come 20; is one of these meant?"),
        (TOE + "Rep rnds 1 and 2 4 times. 32 (40) sts.", ""),
        (TOE + "Rep rnds 1 and 2 4 times. 28 (36) sts.", ""),
        (TOE + "Rep rnds 1 and 2 4 times. 24 (32) sts.", "5:1 4 sts at a time, so often, make 32 (40) sts, not 24 (32)"),
        (TOE + "Rep rnds 1 and 2 4 times. 36 (44) sts.", "5:1 4 sts at a time, so often, make 32 (40) sts, not 36 (44)"),
        (TOE + "Rep rnds 1 and 2 4 times. 22 (30) sts.", "5:1 4 sts at a time, so often, make 28 (36) sts, not 22 (30)"),
        (TOE + "Rep rnds 1 and 2 4 more times. 28 (36) sts.", ""),
        (TOE + "Rep rnds 1 and 2 4 more times. 32 (40) sts.", "5:1 4 sts at a time, so often, make 28 (36) sts, not 32 (40)"),
        (TOE + "Rep rnds 1 and 2 4 more times. 20 (28) sts.", "5:1 4 sts at a time, so often, make 28 (36) sts, not 20 (28)"),
        (TOE + "Rep rnds 1 and 2 4 more times. 18 (26) sts.", ""),
        (TOE + "Rep rnds 1 and 2 4 times in all. 32 (40) sts.", ""),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SAID)
def test_how_far_a_rule_goes(name: str) -> None:
    for text, said in SAID[name]:
        found = [f"{one.line}:{one.column} {one.message}" for one in LOOKS[name](text)]
        assert " / ".join(found) == said, text
