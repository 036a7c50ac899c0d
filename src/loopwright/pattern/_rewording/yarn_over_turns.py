# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows that are turned with a yarn over: how it is made, and how far the next row goes."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_yarn_overs"]

_S = r"(?:sts?|stitch(?:es)?)\b"
_YO = r"(?:yo|yarn ?over)\b"
_MADE = WordForm(  # "with a backwards yo, p26"
    rf"(?P<before>^|: |, )(?:with )?(?:a |the )?(?:(?:backwards?|reverse) {_YO}|{_YO} (?:backwards?|in reverse)|(?<=with a ){_YO})(?=,)",
)
_WITH_NEXT = WordForm(  # "k yo tog with next st": the gap is closed
    rf"\b(?P<verb>k|p)(?:nit|url)? (?:the |this )?{_YO} (?:tog(?:ether)? )?with (?:the )?next {_S}(?: tog(?:ether)?)?(?P<back> (?:tbl|through (?:the|their) back loops?))?",
)
_ASIDE = WordForm(rf"(?<=tog) ?\((?:the )?{_YO} (?:and|with|plus) (?:the )?(?:next )?{_S}\)")
_TO = r"(?P<verb>(?<![\w-])(?:k|knit|p|purl)) (?:to|until)(?: you (?:reach|get to|come to))?"
_TO_PAIR = WordForm(  # a stitch, and the yarn over beside it
    rf"{_TO} (?:the |last |next )*pair(?:ed {_S})?(?: (?:made|formed|of)\b[^,;.]*)?(?=[,;.]|$)",
)
_TO_YO = WordForm(rf"{_TO} (?:the |last |next )*{_YO}(?=[,;.]|$)")


def with_yarn_overs(said: MappedText) -> MappedText:
    """Return a row that is turned with its yarn overs named in our words.

    Examples
    --------
    >>> row = "Row 7: Yo, k to the next yo, k yo tog with next st, turn."
    >>> with_yarn_overs(MappedText.of(row)).text
    'Row 7: Yo, k to 1 st before gap, k2tog, turn.'
    """
    low = said.text.lower()
    if "turn" not in low or not re.search(rf"{_YO}|\bpair", low):
        return said
    said = said.sub(_MADE, r"\g<before>yo").sub(_ASIDE, "").sub(_WITH_NEXT, _two_together)
    return said.sub(_TO_PAIR, r"\g<verb> to 2 sts before gap").sub(
        _TO_YO, r"\g<verb> to 1 st before gap"
    )


def _two_together(match: re.Match[str]) -> str:
    return f"{match['verb']}2tog{' tbl' if match['back'] else ''}"
