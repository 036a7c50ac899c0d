"""Where each stitch of a row stands in the text: in our own words and in those we put them into."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from loopwright.pattern import read, review
from loopwright.pattern.items import Item
from together import together

ROWS = {
    "*K1, yo, k2tog tbl; rep from * to last 4 sts, [ssk, p1] twice.":
        "*K1 K1 yo k2tog [ssk ssk p1",
    "K2 B, sl 1 pwise wyif, sl 2 kwise wyib, k2 A, k to end.": "K2 B sl|1 sl|2 k2 A k|to",
    "K2, m1l, k to 2 sts before end, k2tog, place marker c, k1, remove marker b.":
        "K2 m1l k|to k2tog place k1 remove",
    "Knit 2 together, yo, k to end.": "Knit yo k|to",
    "Slip marker, k1, k16.": "Slip k1 k16",
    "K1, pick up and knit 3 sts along flap, k1.": "K1 pick k1",
    "K1, 2/2LC, lift strand across corner and k2tog with next st, k to end.": "K1 2/2LC lift k|to",
    "[[K1, p1] 2 times, k2] 3 times.": "[[K1 [K1 K1 p1 k2",
    "K3 MC, k1 CC, knit two stitches together, k1 in yarn B.": "K3 MC k1 CC knit k1 in",
}  # fmt: skip


def in_order(items: Iterable[Item]) -> Iterator[Item]:
    for item in items:
        yield item
        yield from in_order(getattr(item, "items", ()))


@together("before", ["", "Rnd 1: K16. "])
@together("row", ROWS)
def test_every_item_says_where_it_stands(row: str, before: str) -> None:
    """First in its line and behind another sentence: the words at its place begin the item."""
    line = f"{before}Rnd {2 if before else 1}: {row}"
    text = f"Cast on 16 sts. Join in the round. Place marker b.\n{line}\n"
    step = read(text).steps[-1]
    assert step.at is not None
    assert step.at.line == 2
    places = [step.at.within(item.column).column for item in in_order(step.items)]  # type: ignore[attr-defined]
    told = sorted(line[place - 1 :].replace(" ", "|") for place in places)
    wanted = sorted(ROWS[row].split())
    assert len(told) == len(wanted)
    assert all(one.startswith(word) for one, word in zip(told, wanted, strict=True)), told


@together("before", ["", "Rnd 1: K16. "])
@together("words", ["k2tog", "knit 2 together", "k1 B, k2tog"])
def test_a_finding_behind_other_words_points_at_its_stitch(before: str, words: str) -> None:
    line = f"{before}Rnd {2 if before else 1}: K15, {words}."
    text = f"Cast on 16 sts. Join in the round.\n{line}\n"
    places = {one.column for one in review(text).findings if one.severity == "error"}
    assert places == {line.rindex("k2tog" if "k2tog" in words else words) + 1}
