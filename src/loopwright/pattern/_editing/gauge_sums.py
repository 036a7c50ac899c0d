# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What so many stitches measure, told beside the gauge: "5 sts to the inch, so 40 sts are 8 inches"."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["gauge_sums"]

_STS = r"(?:sts|stitches)"
_UNIT = r"(?:inch(?:es)?|ins?\b|cm|[\"”″])"
_SUM = WordForm(
    rf"(?P<n>\d+(?:\.\d+)?) {_STS} (?:to|in|per|=|make|are) (?:the |an? |one |each |every )?(?:(?P<per>\d+(?:\.\d+)?) ?)?(?P<unit>{_UNIT})[^.;]*?\b(?:so|that|which means|hence|thus|therefore)\b[^.;\d]*?(?P<m>\d+) {_STS} (?:will |should |then |now )?(?:come to|make|are|go|measure|give|be|work out at|=)(?: about| roughly| some| just)? (?P<long>\d+(?:\.\d+)?) ?(?P<unit2>{_UNIT})"
)
_NEAR = 0.06  # of the length: what a writer rounds away (common practice)


def gauge_sums(sentences: Sentences) -> Iterator[Finding]:
    """Find a length that so many stitches do not have at the gauge that is told with it."""
    for one in sentences.about(_SUM):
        match = _SUM.search(one.text)
        if match is None or (match["unit"] == "cm") != (match["unit2"] == "cm"):
            continue
        made = float(match["m"]) * float(match["per"] or 1) / float(match["n"])
        if abs(made - float(match["long"])) > _NEAR * made:
            unit = "cm" if match["unit"] == "cm" else "in"
            said = f"{match['m']} sts at {match['n']} to {match['per'] or 1} {unit} are {made:.3g} {unit}, not {match['long']}"
            place = one.place(match.start("long"))
            yield Finding(WARNING, "gauge", said, place.line, place.column)
