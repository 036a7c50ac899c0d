# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Words that a text explains by itself, and rows that stand side by side on its lines.

"Lift = work the next stitch together with its wrap", and then "k16, lift, w&t".
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_own_words"]

_TAKES_WRAP = WordForm(  # "Lift" = work the next stitch together with its wrap
    r"(?:^|[.;] ?)[\"“']?(?P<name>(?!w&t|turn|knit|purl|wraps?\b)[a-z]{2,12})[\"”']? ?(?:=|means:?|stands for|:) ?(?:to )?(?:(?:knit|purl|work|k|p)(?: or (?:purl|knit|p))?|pick up the wrap and (?:work|knit) it) (?:(?:the )?(?:next|wrapped) (?:st|stitch) )?(?:together |along )?with its (?:wraps?|collars?|stitch|st)\b"
)
_IS_TOLD = WordForm(  # "Pick" means: work …, PW: pick up the wrap and …
    r"(?<![a-z] )[\"“']?\b(?P<name>(?!w&t|turn|knit|purl|wraps?\b|rows?\b|rounds?\b)[a-z]{2,12})[\"”']?(?: means:?|:) ?(?=(?:(?:knit|purl|work) (?:(?:the )?(?:next|wrapped) (?:st|stitch) )|pick up the wrap and (?:work|knit) it )[^.;,]*with its\b)"
)
_SIDE_BY_SIDE = WordForm(r"\(?\b(?P<n>\d{1,2})[).](?= (?:[kp] ?\d|sl|knit|purl|ds))")
_TURNS = WordForm(r"\b(?:w&t|turn)\b")


def with_own_words(lines: Sequence[MappedText]) -> list[MappedText]:
    """Return lines with the words that they explain put as the trade says them.

    Examples
    --------
    >>> told = ["Lift = work the next stitch together with its wrap.", "Row 3: k16, lift, w&t."]
    >>> with_own_words([MappedText.of(line) for line in told])[1].text
    'Row 3: k16, k1 with its wrap, w&t.'
    """
    found = [_row_by_row(line).sub(_IS_TOLD, r"\g<name> = ") for line in lines]
    matches = [match for line in found if (match := _TAKES_WRAP.search(line.text))]
    for name in {match["name"] for match in matches}:
        item = re.compile(rf"(?P<verb>\b[kp]) ?(?P<n>\d+), {name}\b(?=[,.;])", re.IGNORECASE)
        found = [
            one.sub(item, lambda m: f"{m['verb']}{m['n']}, {m['verb'].lower()}1 with its wrap")
            for one in found
        ]
    return found


def _row_by_row(line: MappedText) -> MappedText:
    """Put "(1) k19, w&t. (2) p18, w&t." as two rows."""
    if not _TURNS.search(line.text) or "=" in line.text:
        return line
    numbers = [int(match["n"]) for match in _SIDE_BY_SIDE.finditer(line.text)]
    begins = _SIDE_BY_SIDE.match(line.text.lstrip()) is not None
    if not begins or len(numbers) < 2 or numbers != list(range(numbers[0], numbers[-1] + 1)):
        return line
    return line.sub(_SIDE_BY_SIDE, r"Row \g<n>:").sub(re.compile(r"[.;] +(?=Row \d+:)"), ". ")
