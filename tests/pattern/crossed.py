r"""Cross beginnings of what people write with ends, and show what is not read as counted.

Each kind of sentence is said in many ways, and mostly it is the usual ones that are read wrong, not
the odd ones. Run this file on a table in three parts, parted by lines of three dashes: the lines
before, the beginnings with ``{}`` where the end comes, and the ends with the stitches in work
behind them and, where that is clear, how many rounds or rows the whole text has. More parts amid
them are middles, with ``{}`` where the end comes::

    Cast on 48 sts. Join.
    Round 1: K1, ssk, k to last 3 sts, k2tog, k1.
    Round 2: Knit.
    ---
    And so on {}.
    Carry on thus {}.
    ---
    till you are down to 24 | 24 | 24
    until 24 are left | 24 | 24

    PYTHONPATH=tests python tests/pattern/crossed.py TABLE

A crossing is wrong where words are lost or something is found in it, or where the count that is
told behind the last line, or that of the fabric that is knitted from it, is another. It is silent
where nothing says so.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from functools import reduce
from itertools import product
from pathlib import Path

import attrs

from loopwright.errors import LoopwrightError
from loopwright.pattern import knit
from loopwright.pattern._editing.findings import NOTE
from pattern.read_back import looked_at

ENDS_ALIVE = "still live at the end"  # a piece of a pattern is not ended


@attrs.frozen
class Ending:
    """How a sentence may end, and what is there then."""

    words: str
    count: int
    rows: int | None = None


@attrs.frozen
class Crossing:
    """How one crossing was read."""

    said: str
    count: int | None  # as the reading has it
    knitted: (
        int | None
    )  # on the needles of the fabric, without what is held; None: not to be knitted
    rows: int | None
    lost: tuple[str, ...]
    findings: tuple[str, ...]

    def is_right(self, wanted: Ending) -> bool:
        """Tell whether nothing is lost or found, and all that is known of it is as counted."""
        counts = self.count == wanted.count and self.knitted in (None, wanted.count)
        counts |= wanted.count == self.knitted == 0  # a line that closes tells those before it
        told = self.lost or self.findings  # what is right is to be left alone
        return counts and not told and wanted.rows in (None, self.rows)


def crossed(before: str, said: str) -> Crossing:
    """Read what is said behind other lines, and knit it where that can be done."""
    found = looked_at(f"{before}\n{said}\n")
    after = [line.after[0] for line in found.reading.lines if line.after]
    knitted = rows = None
    try:
        fabric = knit(found.reading.pattern)
    except LoopwrightError:
        pass
    else:
        held = {int(loop) for loops in fabric.held.values() for loop in loops}
        knitted = sum(int(loop) not in held for loop in fabric.live)
        rows = max(fabric.course.tolist(), default=0)
    return Crossing(
        said,
        after[-1] if after else None,
        knitted,
        rows,
        tuple(str(error).split("\n", maxsplit=1)[0] for error in found.reading.errors),
        tuple(
            finding.message
            for finding in found.review.findings
            if finding.severity != NOTE and ENDS_ALIVE not in finding.message
        ),
    )


def table_of(text: str) -> tuple[str, list[str], list[Ending]]:
    """Return the lines before, the beginnings, and the endings with what is there then."""
    before, *beginnings, endings = text.strip("\n").split("\n---\n")
    told = [[part.strip() for part in line.split("|")] for line in endings.split("\n")]
    return (
        before,
        [
            reduce(_with_next, parts).replace("\\n", "\n")
            for parts in product(*(one.split("\n") for one in beginnings))
        ],
        [Ending(one[0], int(one[1]), int(one[2]) if len(one) > 2 else None) for one in told],
    )


def _with_next(beginning: str, part: str) -> str:
    return beginning.replace("{}", part)


def wrong(
    before: str, beginnings: Sequence[str], endings: Sequence[Ending]
) -> Iterator[tuple[Crossing, Ending]]:
    """Yield the crossings that are not read as counted."""
    for beginning in beginnings:
        for ending in endings:
            one = crossed(before, beginning.replace("{}", ending.words))
            if not one.is_right(ending):
                yield one, ending


def main() -> None:
    """Show each crossing that is read wrong, and how many of how many there are."""
    ask = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    ask.add_argument("table", type=Path, help="a file as told above")
    before, beginnings, endings = table_of(ask.parse_args().table.read_text())
    found = list(wrong(before, beginnings, endings))
    for one, wanted in found:
        kind = "lost" if one.lost else "said" if one.findings else "SILENT"
        told = (one.lost or one.findings or ("",))[0]
        is_read = f"{one.count}, knitted {one.knitted}, rows {one.rows}"
        sys.stdout.write(f"{kind}: {one.said!r}: {is_read}; not {wanted.count}. {told}\n")
    silent = sum(not one.lost and not one.findings for one, _ in found)
    many = len(beginnings) * len(endings)
    sys.stdout.write(f"{len(found)} of {many} are wrong, {silent} of them without a word\n")


if __name__ == "__main__":
    main()
