# ruff: noqa: E501 - a sentence stands on one line
"""Lines that are told in many ways, and understood by what is on the needles."""

from __future__ import annotations

import re

from loopwright.pattern import read, review
from loopwright.pattern import steps as st
from loopwright.pattern._reading.reader import read_closely
from together import together

HEEL = """\
Sizes: S (M)
CO 64 (72) sts. Join in the round.
Rnd 1: Knit.
{parted}
Row 1 (WS): Sl 1, p to end.
Row 2: *Sl 1, k1; rep from * to end.
Rep rows 1 and 2 15 (17) more times.
Row 1 (WS): Sl 1, p18 (20), p2tog, p1, turn.
Row 2: Sl 1, k7, ssk, k1, turn.
Row 3: Sl 1, p to 1 st before gap, p2tog, p1, turn.
Row 4: Sl 1, k to 1 st before gap, ssk, k1, turn.
Rep Rows 3 and 4 until all heel sts have been worked. 20 (22) sts.
"""
PARTED = "K32 (36), turn. Place the remaining 32 (36) sts on a holder for the instep."

GATHERED = (
    "N1: K20 (22), PU&K 17 (19) along flap. N2: rib 32 (36) instep sts. N3: PU&K 17 (19) along flap, K10 (11) from N1.",
    "Joining rnd: With Needle 1, k20 (22) heel sts, then pick up and knit 17 (19) sts along side of flap (one in each slipped edge st and one in the corner); with Needle 2, k32 (36) instep sts; with Needle 3, pick up and knit 17 (19) sts along other side of flap, then knit the first 10 (11) sts from Needle 1 again—86 (96) sts total; 27 (30) sts each on Needles 1 and 3, 32 (36) sts on Needle 2. Rnd now begins at center of heel.",
    "Knit the 20 (22) heel sts. Pick up and knit 17 (19) sts along the flap, one in each bump. Knit the 32 (36) top-of-foot sts. Pick up and knit 17 (19) sts up the other side of the flap, then knit 10 (11) heel sts to get back to the middle of the heel, where the round starts from now on. Count: 86 (96) sts.",
    "Do not turn. PU 17 (19) sts down side of flap. Work instep in patt. PU 17 (19) sts up other side of flap, then k heel sts. 86 (96) in all. Rnds now start at instep.",
    "K across the heel sts, pick up and k 17 [19] sts along the edge of the flap, pm, work 32 [36] instep sts in broken rib (beg with Rnd 1), pm, pick up and k 17 [19] sts along the second edge, then k the first 10 [11] heel sts. 86 [96] sts.",
    "Next row (RS): K10 (11). With a free needle (now the 1st needle) k10 (11), then pick up and k17 (19) sts along side of heel. With 2nd needle k across the 32 (36) instep sts. With 3rd needle pick up and k17 (19) sts along other side of heel, then k10 (11). 86 (96) sts.",
    "With the heel needle (now N1), pick up and knit 16 (18) sts along the side of the flap and 1 in the corner; with N2, knit the 32 (36) instep sts; with N3, pick up and knit the same number along the other side of the flap, then knit the first half of the heel sts from N1—86 (96) sts.",
)  # fmt: skip


@together("line", GATHERED)
def test_the_round_that_takes_up_a_heel(line: str) -> None:
    reading = read_closely(HEEL.format(parted=PARTED) + line, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (86, 96)


def test_a_reading_that_stops_at_mistakes_takes_such_a_line_too() -> None:
    text = HEEL.format(parted=PARTED) + GATHERED[1]
    assert read(text) == read_closely(text, go_on=True).pattern


@together("line", [line for line in GATHERED if re.search(r"86 [(\[]96", line) and "32" in line])
def test_a_total_that_is_not_the_sum_is_noticed(line: str) -> None:
    wrong = line.replace("86 (96)", "88 (98)").replace("86 [96]", "88 [98]")
    found = review(HEEL.format(parted=PARTED) + wrong).findings
    assert any(finding.kind in ("count", "sum") and finding.line == 13 for finding in found)


ONE_LEFT = """\
CO 40 sts. Join in the round.
Rnd 1: Knit.
K20, turn. Place the remaining 20 sts on a holder for the instep.
Row 1 (WS): Sl 1, p to end.
Row 2: Sl 1, k to end.
Rep rows 1 and 2 8 more times.
Row 1 (WS): Sl 1, p10, p2tog, p1, turn.
Row 2: Sl 1, k3, ssk, k1, turn.
Row 3: Sl 1, p to 1 st before gap, p2tog, p1, turn.
Row 4: Sl 1, k to 1 st before gap, ssk, k1, turn.
Rep rows 3 and 4 until all sts have been worked. (12 sts)
"""  # one stitch is left on either side for the last two rows, which have none for their p1 or k1
ONE_TAKEN_UP = (
    "Next rnd: K12, pick up and knit 10 sts along the flap, k20, pick up and knit 10 sts, k6. 52 sts.",
    "Go back to working in the round: k12, pick up 10 sts in flap edge, k20, pick up 10 sts in flap edge, k6. You have 16-20-16 now.",
    "Next round: knit 12, pick up and knit 10, knit 20, pick up and knit 10, knit 6.",
)  # fmt: skip


@together("taken", ONE_TAKEN_UP)
def test_a_heel_taken_up_whose_turn_leaves_none_behind_the_last_decrease(taken: str) -> None:
    text = ONE_LEFT + taken
    reading = read_closely(text, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (52,)
    found = [one for one in review(text).findings if one.severity != "note"]
    assert [one.message.split(":")[0] for one in found] == ["52 sts are still live at the end"]


APART = (
    PARTED,
    "Knit across N1, then slide the sts from N3 onto the other end of N1: 32 (36) heel sts on one needle. The N2 sts will be worked later for the instep. Turn.",
    "The flap is worked back and forth over the first 32 (36) sts; leave the other 32 (36) sts on the cable for the instep.",
    "Knit the first 32 (36) sts and let them rest on two needles; they are the top of the foot. The flap uses only the other 32 (36) sts, which you now work back and forth:",
    "Heel Flap: Slip the sts of Needles 1 and 2 onto one needle—32 (36) heel sts. Leave the 32 (36) instep sts on Needle 3 to be worked later. Work heel sts back and forth in rows as foll:",
    "HEEL FLAP (heel half only; instep half rests)",
    "K. 16 (18), then slip the last 16 (18) sts. of the third needle on to the other end of this needle (32 (36) sts. for the heel). Divide the remaining 32 (36) sts. on two needles and leave them for the instep. Turn.",
    "HEEL\nSet-up: Rib 32 (36), ending with K2. Put these sts on hold for instep. Join RT and work it along with main yarn over the last 32 (36) sts:",
    "HEEL FLAP\nUse only the 32 (36) sts of the first needle. You will work to and fro.",
)  # fmt: skip


@together("parted", APART)
def test_a_heel_set_apart(parted: str) -> None:
    reading = read_closely(HEEL.format(parted=parted), go_on=True, explain=True)
    assert not reading.errors
    counts = [line.after for line in reading.lines if line.text.startswith("Row 1")]
    assert counts[0] == (32, 36)
    assert reading.lines[-1].after == (20, 22)


PIECE = """\
Cast on 32 sts and form a ring.
Knit 4 rounds.
Toe
Dec round: *K1, ssk, k10, k2tog, k1; rep from * once more. 28 sts.
Knit one round.
Divide the sts over needles 1 to 3: 7, 14, 7.
"""
CLOSED = (
    "K the sts of 1st needle onto 3rd needle, so that 14 sts lie on each of two needles. Break off yarn, leaving a long end. Graft the two sets together.",
    "K N1 onto N3. Graft 14 sts to 14 sts. Weave in ends. Make second sock the same.",
    "Graft instep to sole. Weave in ends.",
    "Knit to the first marker, put the 14 top sts on one needle and the 14 bottom sts on another, and graft them. Hide your ends. Cast on the second one straight away, I beg you.",
    "Knit the sts of Needle 1 onto Needle 3—14 sts each on 2 needles. Cut yarn and graft.",
    "Slip the 14 instep sts to one needle and the 14 sole sts to another. Graft toe with Kitchener stitch.",
    "Arrange the sts on two needles, 14 on each, and close the toe by grafting.",
    "With Needle 3, knit across Needle 1. There are 14 sts on each of 2 needles. Cut the yarn, leaving 30 cm, and join the toe with Kitchener stitch.",
    "Break yarn. Thread through the 28 sts and draw up tightly.",
    "Cut yarn with a long tail; using a darning needle, run the tail through all the sts, pull tight and fasten off.",
    "Cut the yarn. Pass the end twice through the 28 sts, tighten, and sew in.",
    "Join the two sets of 14 sts with a three-needle bind-off on the wrong side.",
    "Knit 7 from the first needle so the yarn is at the side. Kitchener the toe closed.",
    "Work to the side of the sock, then graft front to back, 14 sts to 14.",
    "Snip the yarn, leaving a tail of 8 inches, weave it through the live sts and cinch closed.",
    "Bind off.",
    "Cast off loosely in rib.",
    "BO all sts using a stretchy method.",
    "K7. Close toe with Kitchener st (14 sts on each needle).",
    "Divide sts evenly onto 2 needles and graft toe closed. Darn in all loose ends. Block.",
    "Put the stitches of the first and third needles together on one needle and close the toe as you like best: graft, or cast off with three needles.",
    "Fasten off by drawing the yarn through the rem 28 sts.",
)  # fmt: skip


@together("closed", CLOSED)
def test_the_last_stitches_are_closed(closed: str) -> None:
    reading = read_closely(PIECE + closed, go_on=True, explain=True)
    assert not reading.errors
    closing = st.Graft | st.DrawUp | st.ThreeNeedleBindOff | st.BindOff
    assert any(isinstance(step, closing) for step in reading.pattern.steps)
    assert not any("live" in one.message for one in review(PIECE + closed).findings)


NOT_CLOSED = (
    "Leave the sts on the needle for grafting.",
    "Knit 4 more rounds before you graft the toe.",
    "Knit one round, then graft 12 sts to 12 sts.",  # which is not what there is
    "Thread a length of scrap yarn through these sts and leave the sts on it.",
)


@together("said", NOT_CLOSED)
def test_what_is_to_be_closed_later_is_not(said: str) -> None:
    reading = read_closely(PIECE + said, go_on=True, explain=True)
    closing = st.DrawUp | st.ThreeNeedleBindOff | st.BindOff
    assert not any(isinstance(step, closing) for step in reading.pattern.steps)
    assert reading.lines[-1].after == (28,)


RING = """\
Sizes: S (M)
Cast on 40 (48) sts and form a ring.
Knit 4 rounds.
Divide the sts over needles 1 to 4: 10 (12), 10 (12), 10 (12), 10 (12).
"""
ON_WASTE = (
    "Drop your sock yarn and knit across the first 20 (24) stitches with the waste yarn. Push those stitches back to the other tip and knit them again with the sock yarn. Then knit the other half as usual.",
    "Next round: with waste yarn knit the 20 (24) sts of the 1st and 2nd needles. Slip these sts back and knit them again with the sock yarn, then knit the 3rd and 4th needles.",
    "Right mitten: Work 2 sts as for Rnd 1. With a piece of waste yarn k8 (10), slide these sts back onto the left needle, and work them again, along with the rest of the rnd, as for Rnd 1.",
    "Thumb round: Knit the sts of needles 1, 2 and 3. On needle 4, knit to the last 7 (9) sts, knit 6 (8) sts with waste yarn, slip them back and knit them again with the main yarn, k1.",
    "Place the heel: take a contrasting thread and knit 20 (24) sts with it. Return these to the left-hand needle and work them once more in the main colour; finish the round.",
    "Using scrap yarn, knit the next 20 (24) sts. Move them back to the left needle. With MC knit these sts again and go on round.",
    "Knit half the round (20 (24) sts) in waste yarn, put those sts back on the left needle, knit on with the working yarn over them.",
    "Thumb: k1, k7 (8) onto a length of waste yarn, transfer these 7 (8) sts back to the left needle and knit across them again with working yarn, knit to end of rnd.",
    "Heel marker: With waste yarn, k20 (24). Do not break working yarn. Slide the waste-yarn sts back and knit across all sts with the working yarn.",
    "Knit the first 20 (24) sts with waste yarn. Go back to BOR and knit the waste yarn sts again with the sock yarn. Knit to end of rnd.",
    "Work 20 (24) sts in waste yarn, return to the beginning of the round, and knit across these 20 (24) sts again with the working yarn. Continue to the end of the round.",
    "K20 (24) with waste yarn. Start the rnd over: knit all 40 (48) sts with your sock yarn.",
    "Knit 20 (24) sts using waste yarn. Now begin the round again with the main yarn: knit the 20 (24) waste yarn sts and the other 20 (24).",
    "Knit the first 20 (24) sts twice: once with waste yarn, then (after sliding them back) with the sock yarn. Knit to end.",
    "Knit the first 20 (24) sts with waste yarn (WY). Go back and knit the WY sts again with the main yarn. Knit to end of rnd.",
    "Now the waste yarn: knit 20 (24) stitches with it, slip all of these stitches back onto the left needle and forget about them; pick up your working yarn and knit the whole round.",
)  # fmt: skip


@together("said", ON_WASTE)
def test_stitches_knit_on_waste_yarn(said: str) -> None:
    reading = read_closely(RING + said, go_on=True, explain=True)
    assert not reading.errors
    assert [type(step) for step in reading.pattern.steps].count(st.WasteRow) == 1
    assert reading.lines[-1].after == (40, 48)


def test_stitches_put_on_waste_yarn_are_not_knit_on_it() -> None:
    said = "Put the next 8 (10) sts back on waste yarn for the thumb, knit to end."
    reading = read_closely(RING + said, go_on=True, explain=True)
    assert not any(isinstance(step, st.WasteRow) for step in reading.pattern.steps)


OPENING = RING.replace("Divide", "Knit 1 round.\nDivide") + (
    "With waste yarn, knit the first 20 (24) sts, slide them back and knit them again; knit to end.\n"
    "Knit 9 rounds. Bind off.\n"
)
OPENED = (
    "With a spare needle pick up the right leg of each st below the waste yarn, 20 (24) sts, and likewise above it, 20 (24) sts. Remove waste yarn.",
    "Slip a dpn through the 20 (24) sts below the waste yarn and another through the 20 (24) loops above it. Pull out the waste yarn.",
    "Pick up the loops on both sides of the waste yarn: 20 (24) sts on each needle. Now unpick the waste yarn. Breathe.",
    "Draw out the waste wool and take up the loops, 20 (24) below and 20 (24) above the opening.",
    "Remove the waste yarn and pick up 20 (24) sts from the bottom edge and 20 (24) from the top.",
    "Back to the heel! Catch the right leg of each st just below the waste yarn (20 (24) sts), then turn the sock and do the same on the other side (20 (24) sts). Snip the waste yarn and draw it out.",
    "Take the waste yarn out; divide the 40 (48) freed sts so that 20 (24) lie on the needle of the sole and 20 (24) on that of the back.",
    "Place the 20 (24) sts under the waste yarn on a needle.\nPlace the 20 (24) sts over the waste yarn on a second needle.\nTake out the waste yarn.",
    "Insert one needle into the 20 (24) sts under the waste yarn, a second one into the 20 (24) sts over it. Take the waste yarn out.",
    "Pull out the waste yarn a stitch at a time, slipping the live loops onto two needles as they come free: 20 (24) loops below, 20 (24) above.",
)  # fmt: skip


@together("said", OPENED)
def test_both_sides_of_an_opening(said: str) -> None:
    reading = read_closely(OPENING + said, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (40, 48)
    assert not any("waste" in one.message for one in review(OPENING + said).findings)


CORNERS = (
    "Join yarn at one corner. Rnd 1: [Pick up and k 2 sts in the corner, pm between them, k 20 (24)] twice. 44 (52) sts",
    "Join the yarn at one corner. Knit across each needle once, picking up 1 extra stitch at both ends of each needle so that there are no holes. You have 22 (26) sts on each needle, 44 (52) in all.",
    "Round 1: K20 (24), pick up and knit 1 in the corner, k20 (24), pick up and knit 1 in the corner. 42 (50) sts.",
    "Rejoin yarn. *K20 (24), pick up 2 sts in the gap; rep from * once more. 44 (52) sts in all.",
    "Knit 1 rnd, making 2 sts at each corner. 44 (52) sts.",
    "Set-up rnd: *pick up and k1 in the corner, k20 (24), pick up and k1 in the next corner; rep from * on the other needle. 44 (52) sts.",
    "Join your yarn, pick up 1 st in the corner, knit 20 (24), pick up 1 st in the next corner, and knit the other 20 (24). That makes 42 (50) stitches.",
)  # fmt: skip


AT_ONCE = (
    "Heel Rnd 1: Slip the sts on either side of the waste yarn onto needles (20 (24) sts on each side), draw out the waste yarn, and join the working yarn; k across the first 20 (24) sts, pick up and k 1 st between the needles, k across the other 20 (24) sts, pick up and k 1 st between the needles. 42 (50) sts.",
    "First put the sts round the waste yarn on needles, 20 (24) below and 20 (24) above, and pull the waste yarn out. Join the yarn and knit 1 round; at the end of each needle pick up and knit 1 st to close the corner. There are 42 (50) sts.",
    "Free the heel sts from the waste yarn (20 (24) below, 20 (24) above) and put them on needles. Join yarn and k 1 rnd, picking up and knitting an extra st at both corners (42 (50) sts).",
)  # fmt: skip


@together("said", AT_ONCE)
def test_an_opening_and_its_first_round_in_one_line(said: str) -> None:
    reading = read_closely(OPENING + said, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (42, 50)
    assert {one.kind for one in review(OPENING + said).findings} <= {"secured", "doubt"}
    wrong = said.replace("42 (50)", "41 (49)")
    assert any(one.line == 8 for one in review(OPENING + wrong).findings if one.kind != "secured")


@together("said", CORNERS)
def test_a_round_picked_up_at_its_corners(said: str) -> None:
    text = f"{OPENING}{OPENED[3]}\n{said}"
    reading = read_closely(text, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after in ((44, 52), (42, 50))
    assert not any(one.kind in ("count", "sum") for one in review(text).findings)


@together("said", [one for one in CORNERS if "*" not in one])
def test_corners_that_do_not_make_the_total_are_noticed(said: str) -> None:
    wrong = said.replace("44 (52)", "43 (51)").replace("42 (50)", "44 (52)")
    found = review(f"{OPENING}{OPENED[3]}\n{wrong}").findings
    assert any(finding.kind in ("count", "sum", "unread") for finding in found)


HAND = """\
Sizes: S (M)
Cast on 40 (44) sts and join in the round.
Knit 4 rounds.
Rnd 5: K20 (22), pm, m1l, pm, knit to end. 41 (45) sts
Rnd 6: Knit.
Rnd 7: Knit to marker, sm, m1l, knit to marker, m1r, sm, knit to end. 43 (47) sts
Rep rnds 6 and 7 until there are 13 (15) sts between the markers. 53 (59) sts
Knit 1 round.
"""
ASIDE = (
    "Next round. Thread the 13 (15) sts between the markers onto scrap yarn. Take away the second marker, cast on 1 st over the gap, knit to end. You are back to 41 (45) sts.",
    "Next rnd: K20 (22), remove marker, place next 13 (15) sts on waste yarn, remove marker, CO 1 st using backward loop method, k to end. 41 (45) sts.",
    "Knit to the thumb, put the 13 (15) thumb sts on a length of yarn, cast on 3 sts in their place, and knit the rest of the round: 43 (47) sts.",
    "Next round: knit to first marker; slip thumb sts to a stitch holder (13, 15 sts), turn, cast on 3 sts, turn, knit on to the end of the round. 43 (47) sts remain for the hand.",
    "Thumb opening: K20 (22), transfer the 13 (15) gusset sts to a thread, make 1 st by backward loop to bridge the gap, k to end - 41 (45) sts.",
    "Now set the thumb aside: work to the marker, slide the 13 (15) sts of the gusset onto a piece of waste yarn, take off both markers and close the gap with 2 new sts. Work to the end. There are 42 (46) sts.",
    "Next rnd: Patt to m, rm, sl 13 (15) sts to holder, rm, using the backwards-loop cast-on CO 1, patt to end. [41 (45) sts]",
    "K to m, drop m, thread the next 13 (15) sts onto smooth yarn, drop m, m1 (backward loop) over the gap, k to end: 41 (45) sts. Pull the last st tight.",
    "Work the first 20 (22) sts; the next 13 (15) sts rest on a thread. Cast two stitches onto the needle in their place and work the other 20 (22). 42 (46) sts.",
    "Here the thumb begins. Knit to the gusset and take off both markers. Use a needle to hang the thirteen (fifteen) thumb stitches on a strand of wool. Cast on one stitch, and knit the rest of the round. That leaves 41 (45) sts.",
    "On the next round knit to the markers, leave the 13 (15) sts between them on a safety pin, cast on 2 sts across the space, and carry on round. You have 42 (46) sts again.",
)  # fmt: skip
THUMB_TAKEN_UP = (
    "Place the 13 (15) held sts back on the needles. Join yarn; k13 (15), pick up and k 3 sts across the gap. 16 (18) sts",
    "Thumb: Transfer the 13 (15) sts to two dpns, join yarn, k13 (15), pick up and k 2 sts before and 1 st after the corner. 16 (18) sts.",
    "Thumb: Place the thumb sts on three dpns. Pick up 1 st each side of the gap and 1 in it. 16 (18) sts.",
    "Thumb: Put the 13 (15) sts from the waste yarn on three needles. Rejoin the yarn, knit them, and pick up 3 sts along the cast-on edge: 16 (18) sts. Join into a ring.",
    "THUMB\nReturn 13 (15) thumb sts to needles. With RS facing, attach yarn, PU 1 st before, 1 st in and 1 st after the cast-on st, k to end. 16 (18) sts.",
    "Slip the sts from the holder to 2 needles; with a third needle and new yarn, pick up and knit 3 sts at the gap, then k13 (15). 16 (18) sts on three needles.",
    "The hand is done, so take up the thumb. Put the thumb sts on three needles and join a new strand of yarn. Knit them once, then pick up and knit 3 sts over the gap. 16 (18) sts. Mark where the round begins.",
    "1. Put the 13 (15) thumb sts on your favourite short needles.\n2. Join yarn. Knit these stitches and pick up and knit 3 more over the gap: 16 (18) stitches.",
    "Put the thumb sts (13 (15)) onto needles. Join yarn, knit them, then pick up and knit 1 st before the cast-on st, 1 st in it and 1 st after it (3 sts picked up, 16 (18) sts in total).",
    "Take up the thumb sts again on double-pointed needles (13, 15 sts), picking up 3 more where the hand was cast on. 16 (18) sts.",
    "Distribute the thumb sts over 3 dpns, knit across, then pick up 3 extra sts over the gap to close it; 16 (18) sts in all. Mark the beginning of the round.",
)  # fmt: skip


@together("aside", ASIDE)
def test_a_thumb_set_aside(aside: str) -> None:
    reading = read_closely(HAND + aside, go_on=True, explain=True)
    assert not reading.errors
    told = re.findall(r"(4[123]) [(](4[567])[)]", aside)[-1]
    assert reading.lines[-1].after == tuple(map(int, told))
    assert [type(step) for step in reading.pattern.steps].count(st.Hold) == 1


@together("taken", THUMB_TAKEN_UP)
def test_a_thumb_taken_up(taken: str) -> None:
    before = f"{HAND}{ASIDE[1]}\nKnit 10 rounds.\nBind off in rib.\nThumb\n"
    reading = read_closely(before + taken, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (16, 18)


def test_a_thumb_whose_numbers_do_not_close_is_noticed() -> None:
    wrong = ASIDE[5].replace("42 (46)", "44 (48)")
    assert any(one.kind == "count" for one in review(HAND + wrong).findings)
    wrong = ASIDE[5].replace("13 (15)", "12 (14)")  # no such stitches lie between two markers
    reading = read_closely(HAND + wrong, go_on=True, explain=True)
    assert not any(isinstance(step, st.Hold) for step in reading.pattern.steps)


GUSSET = """\
Sizes: S (M)
Cast on 40 (44) sts and join in the round.
Knit 4 rounds.
"""
GROWN = (  # 11 (13) sts between the markers, 50 (56) in all
    "Set-up rnd: K2, pm, M1L, k1, M1R, pm, knit to end—42 (46) sts; 3 sts between markers.\nKnit 2 rnds.\nInc rnd: Knit to m, sm, M1L, knit to m, M1R, sm, knit to end.\nRep last 3 rnds 3 (4) more times—50 (56) sts; 11 (13) sts between markers.",
    "Knit two stitches, hang a marker, make one left, knit one, make one right, hang a marker, knit to the end. Knit two rounds. Now knit to the marker and slip it, make one left, knit to the other marker, make one right, slip it, knit to the end. Go on with two plain rounds and such a round until 11 (13) stitches lie between the markers: 50 (56) stitches.",
    "1. Knit 2, place marker, make 1 left, knit 1, make 1 right, place marker, knit to the end of the round.\n2. Knit 2 rounds.\n3. Knit to the first marker, slip it, make 1 left, knit to the second marker, make 1 right, slip it, knit to the end of the round.\n4. Do steps 2 and 3 again and again until you have 11 (13) stitches between the markers.",
    "K2, pm for thumb, m1l, k1, m1r, pm for thumb, k to end. Then 4 (5) times: knit two rounds; knit a round making one left after the first marker and one right before the second marker. 11 (13) sts are now between the markers and 50 (56) on the needles.",
    "Set-up: K2, place marker (PM), make 1 left (M1L), k1, make 1 right (M1R), PM, knit to end.\nKnit 2 rounds straight, then increase 1 stitch inside each marker on the next round and every 3rd round, until the markers have 11 (13) stitches between them. 50 (56) stitches.",
    "1 - k2, pm, m1l, k1, m1r, pm, k to end\n2 - k\n3 - k\n4 - k to m, sm, m1l, k to m, m1r, sm, k to end\nWork 2-4 three (four) more times. 11 (13) sts in gusset / 50 (56) in all.",
    "Increase rnd (1): K2, pm, m1l, k1, m1r, pm, k to end.\nRnds (2) and (3): K.\nIncrease rnd (4): K to m, sm, m1l, k to m, m1r, sm, k to end.\nRep (2)-(4) until the gusset has 11 (13) sts (50 (56) sts in all).",
    "Here we make room for the thumb.\nFirst round: k2, pm, m1l, k1, m1r, pm, knit all the way around.\nKnit two plain rounds.\nIncrease round: knit to the marker and slip it, m1l, knit to the other marker, m1r, slip the marker, knit to the end.\nKeep doing two plain rounds followed by an increase round until there are 11 (13) stitches between your markers. Your total is now 50 (56).",
    "R1: k2, pm, m1l, k1, m1r, pm, k to end\nR2-3: k\nR4: k to m, sm, m1l, k to m, m1r, sm, k to end\nR5-6: k\nKeep on so, a round of increases and two plain rounds, until there are 11 (13) sts between the markers.",
)  # fmt: skip


@together("grown", GROWN)
def test_a_gusset_grows_between_its_markers(grown: str) -> None:
    reading = read_closely(GUSSET + grown, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (50, 56)
    assert not any(one.kind in ("count", "sum") for one in review(GUSSET + grown).findings)


@together("grown", [one for one in GROWN if "50 (56)" in one and "/" not in one])
def test_a_gusset_that_does_not_reach_its_count_is_noticed(grown: str) -> None:
    found = review(GUSSET + grown.replace("50 (56)", "52 (58)")).findings
    assert any(one.kind in ("count", "sum", "unread", "times") for one in found)


def test_a_gusset_grows_with_the_increases_worked_before() -> None:
    begun = "K2, pm, yo, k1, yo, pm, k to end. Knit 1 round. Knit to marker, sm, yo, knit to marker, yo, sm, knit to end.\n"
    said = "Do steps 2 and 3 until there are 11 (13) stitches between the markers."
    steps = read_closely(GUSSET + begun + said, go_on=True).pattern.steps
    assert {stitch for step in steps for stitch in re.findall(r"m1\w?|yo", str(step))} == {"yo"}


TOE = """\
Sizes: S (M)
Cast on 60 (68) sts and join in the round.
Knit 4 rounds.
Divide the sts over 2 needles: 30 (34), 30 (34).
Toe
Dec round: On each needle, k1, ssk, k to last 3 sts, k2tog, k1. 56 (64) sts.
Plain round: Knit.
"""
GOES_ON = (
    "Work a decrease round and then a plain round, six (seven) times. 32 (36) sts.",
    "Alternate these two until you are back to 32 (36) sts, which is 6 (7) decrease rounds.",
    "Work these two rounds by turns until 32 (36) sts are left.",
    "Do these two rounds 6 (7) more times and you'll have 32 (36) stitches.",
    "Keep alternating dec rounds and plain rounds. Stop at 32 (36) sts.",
    "Now work 6 (7) decrease rounds with nothing in between: 32 (36) sts.",
    "Decrease on every other round until you have worked 7 (8) decrease rounds in all: 32 (36) sts.",
    "Work the dec round every 2nd round 3 (4) times (44 (48) sts), then every round 3 times: 32 (36) sts.",
    "Repeat the decrease round on the 2nd round and then every other round to 40 (44) sts, then every round to 32 (36) sts.",
    "Repeat the last two rounds another 5 (6) times, then the dec round once more. 32 (36) sts remain.",
    "Carry on in the same way, a dec round then a plain round, till there are 8 (9) sts in each quarter: 32 (36) sts.",
    "Dec in this way every alternate rnd 6 (7) times more. [32 (36) sts]",
    "Dec every rnd until 32 (36) sts rem.",
    "Cont dec'ing 4 sts every other rnd as set 6 (7) times: 32 (36) sts.",
    "Work 6 (7) more dec rounds, each followed by a plain round. 32 (36) sts",
    "The next 6 (7) rounds are all decrease rounds. 32 (36) sts.",
)  # fmt: skip


@together("said", GOES_ON)
def test_shaping_that_goes_on(said: str) -> None:
    reading = read_closely(TOE + said, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (32, 36)


def test_a_count_that_shaping_never_reaches_is_noticed() -> None:
    said = "Keep alternating dec rounds and plain rounds. Stop at 33 (36) sts."
    found = review(TOE + said).of("count")
    assert [one.sizes for one in found] == [("S",)]


FLAT_THUMB = """\
Sizes: S (L)
CO 38 (44) sts.
Row 1 (RS): Knit.
Row 2: Purl.
Next row: K14 (16), slide the next 10 (12) sts onto a holder for the thumb, cast on 2 sts, knit to end. 30 (34) sts.
Purl 1 row.
Bind off.
Thumb
"""
FLAT_TAKEN_UP = (
    "With RS facing, pick up and knit 1 st in the edge beside the holder, knit the 10 (12) sts from the holder, pick up and knit 1 st on the other side. 12 (14) sts.",
    "With right side facing, knit up 1 st from the cast-on edge, knit the 10 (12) held sts, knit up 1 st. 12 (14) sts.",
    "RS facing, pick up and knit 1 stitch, knit across the 10 (12) thumb stitches, pick up and knit 1 stitch: 12 (14) stitches.",
    "Rejoin yarn with RS facing. Pick up 1 st from the base, k10 (12) from holder, pick up 1 st from the base. 12 (14) sts.",
)  # fmt: skip


@together("said", FLAT_TAKEN_UP)
def test_a_thumb_is_taken_up_in_rows(said: str) -> None:
    text = f"{FLAT_THUMB}{said}\nPurl 1 row.\nBind off."
    reading = read_closely(text, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-2].after == (12, 14)
    assert not any(one.kind in ("count", "held") for one in review(text).findings)


@together("said", FLAT_TAKEN_UP)
def test_a_total_that_a_thumb_does_not_make_is_noticed(said: str) -> None:
    text = f"{FLAT_THUMB}{said.replace('12 (14) st', '13 (15) st')}\nPurl 1 row.\nBind off."
    assert any(one.kind in ("count", "sum") and one.line == 9 for one in review(text).findings)


def test_stitches_of_sizes_with_their_verb_again() -> None:
    text = "Size: small / large\nCO 42 / 48 sts. Join in the round.\nRnd 1: k13 / k15, p29 / p33.\n"
    reading = read_closely(text, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (42, 48)


TURNED = """\
CO 36 sts. Join in the round.
Rnd 1: Knit.
HEEL FLAP
Work the first 18 sts in rib as set; put them on two spare dpns for the instep. The flap is made on the other 18 sts.
Row 1 (RS): *Sl 1, k1; repeat to end, turn.
Row 2 (WS): Sl 1, purl to end, turn.
Work Rows 1 and 2 nine times altogether.
HEEL TURN
Row 1 (RS): K11, ssk, k1, turn.
Row 2 (WS): Sl 1, p5, p2tog, p1, turn.
Row 3: Sl 1, k to 1 st before the gap, ssk, k1, turn.
Row 4: Sl 1, p to 1 st before the gap, p2tog, p1, turn.
Repeat Rows 3 and 4 until no sts are left at the sides. 12 sts.
GUSSET
"""
HALF_A_HEEL = (
    "Set-up: Knit the first 6 heel sts and mark this spot as the new start of the round.",
    "Set-up: Knit 6 heel sts. The round starts here.",
    "Set-up row: K6; this is the new start of the rnd.",
    "Next row: Knit 6, mark the center of the heel as the beginning of the round.",
    "K6, which brings you to the center of the heel, the new beginning of the round.",
)
BEHIND_IT = "Needle 1: knit the other 6 heel sts, pick up 9 sts along the flap. Needles 2 and 3: rib the instep sts. Needle 4: pick up 9 sts along the flap, knit the last 6 heel sts. Total = 48."


@together("half", HALF_A_HEEL)
def test_a_gusset_behind_half_of_a_heel(half: str) -> None:
    text = f"{TURNED}{half}\n{BEHIND_IT}"
    reading = read_closely(text, go_on=True, explain=True)
    assert not reading.errors
    assert reading.lines[-1].after == (48,)
    assert not any(one.kind in ("count", "sum") for one in review(text).findings)


def test_a_gusset_behind_half_of_a_heel_that_makes_another_total() -> None:
    text = f"{TURNED}{HALF_A_HEEL[0]}\n{BEHIND_IT.replace('up 9', 'up 10')}"
    assert any(one.kind in ("count", "sum") and one.line == 16 for one in review(text).findings)


LETTERED = (
    "From here on, the heel needles are A and C and the instep needle is B.",
    "A and C are the sole needles, B the instep needle.",
    "The sole is on needles A and C; the instep is on needle B.",
    "The needles are now A (sole), B (instep), C (sole).",
)
GATHERED_BY_HAND = "Knit the 12 heel stitches. Pick up and knit 9 stitches along the flap. Knit the 18 instep stitches onto one needle. With another needle, pick up and knit 9 stitches along the second edge, and onto it knit 6 from the heel. 48 sts."


@together("told", LETTERED)
def test_needles_with_letters(told: str) -> None:
    text = (
        f"{TURNED}{GATHERED_BY_HAND}\nYou are at the center back. {told}\n"
        "Decrease round: A: knit to the last 3 stitches, K2tog, K1. B: knit. C: K1, SSK, knit to the end.\n"
        "Even round: Knit.\nDo both rounds 6 times. Check: 36 stitches, 9 on A, 18 on B, 9 on C.\n"
        "Slip the A stitches onto the C needle and graft 18 to 18. Weave in ends."
    )
    reading = read_closely(text, go_on=True, explain=True)
    assert not reading.errors
    assert [line.after for line in reading.lines[-2:]] == [(36,), (0,)]
    assert not any(one.kind in ("count", "needles") for one in review(text).findings)


def test_no_cast_on_is_worked_again_for_rows_that_were_not_read() -> None:
    text = "Cast on 20 sts. Join.\nRnd 1: gobble k1 foo.\nRnd 2: k.\nWork Rnds 1-2 another 8 times."
    reading = read_closely(text, go_on=True, explain=True)
    assert reading.lines[-1].kind == "lost"
    assert reading.lines[-1].after == (20,)
