"""A chart of 64 stitches and 100 rounds, from pattern to SVG, against drawing bare squares by hand.

Run by hand: ``python -m benchmarks.bench_chart`` from the folder of the tests. A lace round moves
on by a stitch each time, so that nothing repeats and every square is drawn.
"""

from __future__ import annotations

from time import process_time
from xml.etree import ElementTree as ET

from loopwright.pattern import CastOn, Join, Pattern, Round, Run, k, p_to
from loopwright.picture import chart

STITCHES_ROUND, ROUNDS = 64, 100


def lace() -> Pattern:
    """A pattern that does not repeat."""
    rounds = [Round([k(at % 7 + at // 7), Run("k2tog"), Run("yo"), p_to()]) for at in range(ROUNDS)]
    return Pattern("Lace", [CastOn(STITCHES_ROUND), Join(), *rounds])


def by_hand() -> str:
    """One element a square and no symbols: what a user would write first."""
    root = ET.Element("svg", {"xmlns": "http://www.w3.org/2000/svg"})
    for row in range(ROUNDS):
        for column in range(STITCHES_ROUND):
            place = {"x": str(14 * column), "y": str(14 * row), "width": "14", "height": "14"}
            ET.SubElement(root, "rect", place)
    return ET.tostring(root, encoding="unicode")


def best(work: object, times: int = 5) -> float:
    """The shortest of some runs, in seconds of one core."""
    found = []
    for _ in range(times):
        start = process_time()
        assert callable(work)
        work()
        found.append(process_time() - start)
    return min(found)


if __name__ == "__main__":
    pattern = lace()
    ours, bare = best(lambda: chart(pattern).svg()), best(by_hand)
    print(f"chart {ours:.3f} s, bare squares {bare:.3f} s, ratio {ours / bare:.1f}")
