# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Bands of colours told in one sentence: "knit 2 rounds B, 3 rounds A", "6 red, then 6 white"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.wordings import COLOUR

__all__ = ["with_bands"]

_COL = rf"(?:(?:colou?r |yarn )?(?-i:[A-E])\b(?!-)|{COLOUR}\b)"
_CRS = r"(?:rounds?|rnds?|rows?)"
_BAND = re.compile(
    rf"(?P<n>\d{{1,2}})(?: (?:more )?(?P<c>{_CRS}))?(?: (?:in|with|of))? (?P<col>{_COL})",
    re.IGNORECASE,
)
_BANDS = re.compile(
    rf"(?P<lead>^|[.;:] )(?P<verb>knit|work) (?P<bands>\d{{1,2}} {_CRS}(?: (?:in|with|of))? {_COL}(?:(?:,|;| and| then)+ (?:(?:knit|work) )?\d{{1,2}}(?: {_CRS})?(?: (?:in|with|of))? {_COL})+)"
    rf"(?P<on>,? and (?:so on|so forth|keep to (?:these|the) stripes|(?:continue|go on|carry on) (?:in|with) (?:these|the) stripes)(?: for (?P<many>\d{{1,3}}) {_CRS})?)?(?=[.;]|$)",
    re.IGNORECASE,
)
_CHANGE = re.compile(
    rf"\b(?:change|switch|swap)(?: back)? to (?:the )?(?P<col>{_COL})(?:,| and)+ (?:then )?(?=(?:knit|work|purl|rib|k|p)\b|[kp]\d|\*)",
    re.IGNORECASE,
)


def with_bands(said: MappedText) -> MappedText:
    """Return a line with a sentence for each band of colour, or with the stripes that go on.

    Examples
    --------
    >>> for text in ("Knit 2 rounds B, 3 rounds A.", "Knit 1 round B, 1 round A, and so on for 12 rounds."):
    ...     print(with_bands(MappedText.of(text)).text)
    With yarn B, knit 2 rounds. With yarn A, knit 3 rounds.
    Work in stripes from here: *1 rnd B, 1 rnd A; rep from *. Knit 12 rounds.
    """
    if not re.search(_COL, said.text, re.IGNORECASE):
        return said
    return said.sub(_BANDS, _told_apart).sub(_CHANGE, _changed)


def _called(words: str) -> str:
    low = words.lower()
    if low == "mc" or low.startswith("main"):
        return "main"
    if low.startswith("contrast"):
        return "CC"
    bare = re.sub(
        r"^(?:the |colou?r |yarn )| (?:yarn|wool|colou?r)$", "", words, flags=re.IGNORECASE
    )
    return bare.upper() if len(bare) < 4 and low not in ("red",) else bare.lower()


def _told_apart(match: re.Match[str]) -> str:
    bands = [(int(m["n"]), _called(m["col"])) for m in _BAND.finditer(match["bands"])]
    course = "rows" if "row" in match["bands"].lower() else "rounds"
    short = "row" if course == "rows" else "rnd"
    if match["on"]:
        listed = ", ".join(f"{n} {short}{'s' * (n > 1)} {_band(name)}" for n, name in bands)
        many = match["many"] or sum(n for n, _ in bands)
        return (
            f"{match['lead']}Work in stripes from here: *{listed}; rep from *. Knit {many} {course}"
        )
    verb = match["verb"].lower()
    told = [f"With yarn {name}, {verb} {n} {course if n > 1 else course[:-1]}" for n, name in bands]
    return match["lead"] + ". ".join(told)


def _band(name: str) -> str:
    return name if len(name) == 1 else f"in yarn {name}"


def _changed(match: re.Match[str]) -> str:
    return f"{'With' if match[0][:1].isupper() else 'with'} yarn {_called(match['col'])}, "
