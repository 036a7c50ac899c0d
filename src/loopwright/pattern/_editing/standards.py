# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What a head prints, against published figures: yarn to its weight, shoe sizes, ease.

Length to 100 g of sock yarn: 329 to 480 m (three pages of yarn shops that quote the trade's table);
of the thicker sorts from memory. A shoe size is two thirds of a centimetre of last, which is longer
than the foot by 1.0 to 2.0 cm (tables that cite ISO 9407). What lies well outside is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import plain_lines
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["standards"]

_NUMBER = r"\d+(?:\.\d+)?"
_BALL = WordForm(
    rf"(?P<long>{_NUMBER}) ?(?P<unit>m|metres|meters|yds?|yards)\b[^.;\d]{{0,16}}?(?P<heavy>{_NUMBER}) ?(?P<mass>g|oz|ozs|grams|ounces)\b",
)
_BALL_TURNED = WordForm(
    rf"(?P<heavy>{_NUMBER}) ?(?P<mass>g|oz|ozs|grams|ounces)\b ?[/(=,] ?(?:about |approx\.? )?(?P<long>{_NUMBER}) ?(?P<unit>m|metres|meters|yds?|yards)\b",
)
SORTS = {  # metres to 100 g, with room on either side
    r"fingering|sock (?:yarn|weight)|4[- ]?ply": (290.0, 530.0),
    r"\bdk\b|double knitting": (180.0, 310.0),
    r"worsted|aran": (120.0, 240.0),
    r"chunky|bulky": (60.0, 160.0),
}
_SHOE = WordForm(
    r"\b(?:shoe |eu |eur )?sizes? (?P<low>[34]\d)(?: ?[-–/] ?(?P<high>[345]\d))?\b(?! ?(?:cm|in\b|sts|\"))",
)
_FOOT = WordForm(
    rf"\bfoot(?: length)?(?: of)?[:,]? (?:about )?(?P<n>{_NUMBER}) ?cm\b(?! ?(?:around|round|circ))",
)
LAST_CM = (1.0, 2.0)  # longer than the foot
SHORTER_CM = 2.0  # a sock than its foot, at most
_EASE = WordForm(
    rf"(?P<made>{_NUMBER}) ?(?P<unit>cm|in\b|inch(?:es)?|\")[^.;]{{0,40}}?\bto fit (?:an? |feet of |hands of |heads of )?[^\d.;]{{0,24}}(?P<worn>{_NUMBER}) ?(?:cm|in\b|inch(?:es)?|\"|-inch)",
)
EASE = (0.75, 1.25)  # of what it is to fit: common practice, from socks to loose mittens


def standards(text: str) -> Iterator[Finding]:
    """Find figures of a head that published ones contradict.

    Examples
    --------
    >>> [one.message for one in standards("Yarn: fingering weight, 200 m / 100 g")]
    ['200 m to 100 g: yarn of this sort has 290 to 530 m to 100 g']
    """
    shoe: re.Match[str] | None = None
    forms = (_SHOE, _BALL, _BALL_TURNED, _FOOT, _EASE)
    for number, line in plain_lines(text).about(*forms):
        shoe = shoe or _SHOE.search(line.text)
        for said, offset in (_yarn(line), _foot(line, shoe), _ease(line)):
            if said:
                yield Finding(WARNING, "standard", said, number, line.at[offset] + 1)


_Said = tuple[str, int]


def _yarn(line: MappedText) -> _Said:
    match = _BALL.search(line.text) or _BALL_TURNED.search(line.text)
    if match is None or not float(match["heavy"]):
        return "", 0
    sort = next((s for s in SORTS if re.search(s, line.text, re.IGNORECASE)), None)
    if sort is None:
        return "", 0
    metres = float(match["long"]) * (0.9144 if match["unit"].lower().startswith("y") else 1.0)
    grams = float(match["heavy"]) * (28.35 if match["mass"].lower().startswith("o") else 1.0)
    low, high = SORTS[sort]
    if low <= metres / grams * 100 <= high:
        return "", 0
    return (
        f"{metres / grams * 100:.0f} m to 100 g: yarn of this sort has {low:.0f} to {high:.0f} m to 100 g",
        match.start(),
    )


def _foot(line: MappedText, shoe: re.Match[str] | None) -> _Said:
    match = _FOOT.search(line.text)
    if match is None or shoe is None:
        return "", 0
    low, high = int(shoe["low"]), int(shoe["high"] or shoe["low"])
    least, most = 2 / 3 * low - LAST_CM[1], 2 / 3 * high - LAST_CM[0]
    if least - SHORTER_CM <= float(match["n"]) <= most + 0.5:
        return "", 0
    sizes = f"{low}-{high}" if high != low else f"{low}"
    return (
        f"a foot of {match['n']} cm: shoe size {sizes} is worn on feet of {least:.1f} to {most:.1f} cm",
        match.start("n"),
    )


def _ease(line: MappedText) -> _Said:
    match = _EASE.search(line.text)
    if match is None or not float(match["worn"]):
        return "", 0
    ratio = float(match["made"]) / float(match["worn"])
    if EASE[0] <= ratio <= EASE[1]:
        return "", 0
    more = f"{abs(ratio - 1):.0%} {'wider' if ratio > 1 else 'narrower'}"
    return f"{match['made']} to fit {match['worn']}: {more} than what it is worn on", match.start()
