"""What the documents say in the same words wherever they say it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from loopwright.pattern import Words
from loopwright.report._instructions import LineKind, by_heading
from loopwright.report.data import SizeReport, SockReport

__all__ = ["FEET", "cautions", "gauge_line", "paragraphs", "verdicts"]

FEET = (
    "A tight or ridged sock can harm a foot with diabetes, neuropathy or swelling, and the harm "
    "may not be felt. Before knitting for such a foot, ask a clinician."
)


def cautions(report: SockReport) -> tuple[str, ...]:
    """Return what can hurt, each once, in the order of the pattern, and the clinician's last.

    Whatever else sends a wearer to a clinician (a ridge, a tight band) stands in the instructions.

    Parameters
    ----------
    report : SockReport
    """
    told = (
        line.text
        for heading in by_heading(report.pattern)
        for line in heading.lines
        if line.kind is LineKind.CAUTION
    )
    return tuple(dict.fromkeys((*(text for text in told if "clinician" not in text), FEET)))


def verdicts(sizes: Iterable[SizeReport]) -> tuple[tuple[str, str], ...]:
    """Return each size's name and its verdict in sentences, what would mend it among them."""
    return tuple(
        (f"Size {size.name}" if size.name else "", _kept(" ".join(size.lines))) for size in sizes
    )


def gauge_line(report: SockReport, words: Words) -> str:
    """Return the gauge in a knitter's words: rounds, and a tension where English is British."""
    name = "Tension" if words is Words.UK else "Gauge"
    size = report.gauge
    per_cm = size.stitches_per_cm, size.courses_per_cm
    over, length = "10 cm (4 in)", 10.0
    if report.front.inches_first or (not _whole(per_cm, 10.0) and _whole(per_cm, 10.16)):
        over, length = "4 in (10 cm)", 10.16
    stitches, rounds = (length * each for each in per_cm)
    return (
        f"{name}: {stitches:.3g} stitches and {rounds:.3g} rounds to {over} in stocking "
        "stitch. Work a swatch, wash it as you will wash the sock, and count again."
    )


def _whole(per_cm: Iterable[float], length_cm: float) -> bool:
    """Tell whether a length has whole or half stitches and rounds: it is the one they counted."""
    return all(abs(2 * length_cm * each - round(2 * length_cm * each)) < 0.02 for each in per_cm)


def paragraphs(text: str) -> list[str]:
    """Return the paragraphs of a text, each on one line."""
    return [" ".join(part.split()) for part in re.split(r"\n\s*\n", text) if part.strip()]


def _kept(text: str) -> str:
    """Keep a number and its sign on one line."""
    return text.replace(" %", "\N{NO-BREAK SPACE}%")
