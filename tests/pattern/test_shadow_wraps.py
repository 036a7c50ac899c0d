"""Short rows with shadow wraps, as a text itself names them: each counts as a wrap does."""

from __future__ import annotations

import pytest

from loopwright.pattern import review
from loopwright.pattern._editing.findings import NOTE
from loopwright.pattern._reading.reader import read_closely

SOCK = """\
Sock
Gauge: 30 sts and 42 rows = 10 cm

{named}

Cuff
Cast on 60 sts. Join in the round.
Knit 10 rounds.

Heel
The heel is worked over the first 30 sts.
{rows}
Row 3: K to 1 st before last {one}, {turn}
Row 4: P to 1 st before last {one}, {turn}
Rep rows 3 and 4 until there are 10 {many} on each side of 10 plain sts.
"""
NAMED = "SW (shadow wrap): knit into the st below the next st, leave the loop on the left needle."


@pytest.mark.parametrize(
    ("turn", "one", "many"),
    [("SW, turn.", "SW", "SWs"), ("SW.", "shadowed st", "shadowed sts")],
)
def test_they_are_read_as_wraps(turn: str, one: str, many: str) -> None:
    rows = f"Row 1 (RS): K29, {turn}\nRow 2: P28, {turn}"
    text = SOCK.format(named=NAMED, rows=rows, turn=turn, one=one, many=many)
    assert read_closely(text, go_on=True).errors == ()
    assert not [f for f in review(text).findings if f.severity != NOTE and f.kind == "count"]


def test_a_short_form_that_no_text_explains_stays_what_it_is() -> None:
    rows = "Row 1 (RS): K29, SW, turn.\nRow 2: P28, SW, turn."
    text = SOCK.format(named="", rows=rows, turn="SW, turn.", one="SW", many="SWs")
    assert read_closely(text, go_on=True).errors
