# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Labels of rows as one hand writes them: their sides, what they do, and what ends them."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.set_in import CRS, SHORT_LABEL, WORK
from loopwright.pattern._rewording.tables import Means

__all__ = ["ENDED", "ENDS", "NAMED", "SIDE", "SIDED"]

SIDE = r"(?:RS|WS|(?:right|wrong)[ -]side)"
_LEAD = r"^(?P<lead>\s*)"
_WORKED = (
    r"(?:(?:k|p|sl) ?\d|(?:k|p|sl|knit|purl|slip|work)\b|[*(\[]+ ?(?:[kp]|sl|yo|ssk|m1|knit|purl)"
    r"|(?:ssk|ssp|skpo?|yo|k2tog|p2tog|m1[lr]?|kfb|patt|as (?:round|rnd|row)|(?:on )?(?:the )?(?:needles? (?:\d|one)|first needle|n\d|instep)\b(?! only)))"
)


def _sided(match: re.Match[str]) -> str:
    return f"{match['lead']}{match['label']} ({match['side']}){match['end'] or ':'}"


SIDED: tuple[tuple[str, Means], ...] = (
    (  # "Row 1, RS:", "Row 1 - WS:", "Row 1 on the right side.", "Row 1 = RS:"
        rf"{_LEAD}(?P<label>{SHORT_LABEL})(?:,| ?[-–—/=]| on(?: the)?)? ?\[?(?P<side>{SIDE})(?: facing)?\]?(?P<end>[:.])(?=\s)",
        _sided,
    ),
    (  # "Row 1: (RS) K3", "Row 1. (RS): K3", "Row 1: RS: K3"
        rf"{_LEAD}(?P<label>{SHORT_LABEL})[.:] (?:[(\[](?P<side>{SIDE})(?: facing)?[)\]](?P<end>:?)|(?P<side2>{SIDE})(?: facing)?(?P<end2>:))(?=\s)",
        lambda match: f"{match['lead']}{match['label']} ({match['side'] or match['side2']}):",
    ),
    (  # "RS Row 1:", "WS, row 2.", "(RS) Row 1:"
        rf"{_LEAD}(?P<in>[(\[])?(?P<side>{SIDE})(?(in)[)\]]:?|)(?:,| [-–—])? (?P<label>{SHORT_LABEL})(?P<end>[:.])(?=\s)",
        _sided,
    ),
)
ENDED: tuple[tuple[str, Means], ...] = (
    (  # "Round 1, k1, ssk …", "Round 2; knit.", "Rnd 1 → *k1, p1"
        rf"{_LEAD}(?P<label>(?:{SHORT_LABEL}|(?:next|following) {CRS})(?: ?\({SIDE}\))?)(?:, (?={_WORKED})|(?:;| ?(?:→|-+>)) (?=[\w*(\[]))",
        r"\g<lead>\g<label>: ",
    ),
    (  # "Work the next rnd as follows:", "For the next round:"
        rf"{_LEAD}(?:(?:now )?(?:work|knit) (?:the )?(?P<crs>next {CRS})(?: (?:as follows|like this|thus|so))|for (?:the )?(?P<crs2>next {CRS})(?: (?:work|knit) as follows)?): ",
        lambda match: f"{match['lead']}{(match['crs'] or match['crs2']).capitalize()}: ",
    ),
)

NAMED: tuple[tuple[str, Means], ...] = (
    (  # "rd 2: knit", "2nd rd."
        rf"{_LEAD}(?P<nth>\d{{1,2}}(?:st|nd|rd|th) )?(?P<r>r)d(?P<s>s?)(?=\b|\d)(?(nth)|(?=\.? ?\d))",
        r"\g<lead>\g<nth>\g<r>nd\g<s>",
    ),
    (  # "Needle #1: k", "Nd 2:", "dpn 3:", "Needle no. 4:"
        r"(?<![\w#])(?P<name>needle ?(?:#|no\.? ?|number )|nd\.? ?#?|dpn ?#?) ?(?P<number>[1-4])(?=(?:,? (?:and|to|once)\b| ?[:;=]|[,.](?:\s|$)))",
        lambda match: f"{'N' if match['name'][0].isupper() else 'n'}eedle {match['number']}",
    ),
    (  # "N1. K2", "Needle 2 = ssk, k to end"
        r"(?P<name>(?:^\s*|[:.;] )(?:needle|ndl\.?|n) ?[1-4])(?:\.| =) (?=(?:[kp] ?\d|(?:k|p|knit|purl|ssk|sl|slip|work|pick|as|same)\b))",
        r"\g<name>: ",
    ),
)
ENDS: tuple[tuple[str, Means], ...] = (
    (r"(?<=[\w)\]]\.)  (?=[A-Z(]|\[[a-z])", " "),  # two blanks between sentences, as typists set it
    (  # "Rep rows 1 and 2 until 16 sts remain!"
        rf"(?P<said>(?:^\s*|[.!:] ){WORK}[^.!?:]*\d[^.!?]*[\w)\]])!+(?=\s|$)",
        r"\g<said>.",
    ),
)
