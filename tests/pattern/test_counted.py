"""Texts whose count at the end is known by plain addition, and stripes whose period is."""

from __future__ import annotations

from loopwright.pattern import knit, read
from loopwright.pattern._deriving.gather import _period
from together import together

FLAT = "Cast on 20 sts. Knit 2 rows. "
ROUND = "Cast on 20 sts. Join in the round. Rnd 1: K1, "


@together(
    ("text", "count"),
    [
        (FLAT + "Bind off 3 sts at beg of next row. Knit 2 rows.", 17),
        (FLAT + "Bind off 3 sts at beg of next 2 rows. Knit 2 rows.", 14),
        (FLAT + "Bind off 1 st at the beginning of the next four rows.", 16),
        (FLAT + "Cast on 3 sts at beg of next row. Knit 2 rows.", 23),
        (FLAT + "Cast on 3 sts at beg of next 2 rows. Knit 2 rows.", 26),
        (FLAT + "Cast on 2 sts at the start of the following 3 rows.", 26),
        (FLAT + "Cast on 4 sts. Knit 2 rows.", 24),
        (ROUND + "m1l, k to end. Inc again on next rnd. Knit 2 rnds.", 22),
        (ROUND + "m1l, k to end. Inc again on next 3 rnds. Knit 2 rnds.", 24),
        (ROUND + "k2tog, k to end. Dec again on next 2 rnds. Knit 2 rnds.", 17),
    ],
)
def test_stitches_taken_and_given_at_beginnings_add_up(text: str, count: int) -> None:
    assert len(knit(read(text)).live) == count


@together(
    ("yarns", "period", "kept"),
    [
        ("AABBAABB", 4, 8),
        ("ABABAB", 2, 6),
        ("AAAAAAAA", 0, 8),  # one yarn
        ("ABAB", 0, 4),  # two rounds each: said one by one
        ("AABBAABBA", 4, 9),  # the next begins
        ("AABBAABBB", 4, 8),  # a band that does not fit
        ("AABBAABBAAC", 4, 10),
        ("ABCABCAB", 3, 8),
        ("ABBABBB", 3, 6),
        ("ABCDE", 0, 5),
        ("", 0, 0),
    ],
)
def test_stripes_begin_again(yarns: str, period: int, kept: int) -> None:
    """Twice at least, and with several changes; what does not fit at the end is taken off."""
    rounds = list(yarns)
    assert _period(rounds) == period
    assert "".join(rounds) == yarns[:kept]
