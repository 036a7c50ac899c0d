# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Work whose end stands in a sentence of its own: "Knit every round. Stop when it is 7 inches long."."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_ends"]

_MANY = r"(?:\d[\d.½¼¾/ -]*(?: ?[\[(][^)\]]{1,60}[)\]])?|an?|one|two|three|four|five|six|half an?)"
_LENGTH = rf"{_MANY} ?(?:cm|mm|inch(?:es)?|ins?\b|[\"”″])"
_GO = r"(?:knit|work|rib|purl|continue|cont|go|carry|keep|proceed|rep(?:eat)?)"
_NO_END = r"(?!\b(?:until|till|times|twice|once|for (?:\d|about|another)|(?:\d+|one|two|three|four|five|six|eight|ten|the next|a) (?:more )?(?:plain )?(?:rounds?|rnds?|rows?|cm|inch(?:es)?)|cast|bind|turn)\b)"
_WHAT = r"(?:(?:the|your|this|whole) )*(?:foot|leg|sock|cuff|hand|piece|work|body|hat|thumb|mitt(?:en)?|sole|heel|flap|rib(?:bing)?|it|cowl|brim)"
_FAR = (
    rf"(?P<until>{_WHAT} (?:is|measures|reaches|has reached|lacks|wants|needs)\b(?=[^.;*]*{_LENGTH})(?:[^.;*]|\.(?=\d))*?)"
    rf"|(?P<short>{_LENGTH}) (?:short of|shy of|before|away from|less than) (?P<of>[^.;:*\d]+?)"
)
_STOPS = WordForm(
    rf"(?P<work>(?:^|(?<=[.;:] ))(?:(?:now|then|next|and),? )*{_GO}\b(?:{_NO_END}(?:[^.;*]|\.(?=\d)))*?)(?:[.;,]| and| but) (?:and |then |but )*(?:stop(?:ping)?|finish(?:ing)?|end(?:ing)?)(?: (?:knitting|working|here|off))?(?: (?:when|once|as soon as|where|at|about|only when))* (?:{_FAR})(?=[.;]|$)"
)
_WANTS = WordForm(  # "until the foot wants only 2 inches of its length"
    rf"\b(?P<until>(?:un)?til+ {_WHAT}) (?:lacks?|wants?|needs?|has) (?:only |just |but |another )*(?P<n>{_LENGTH})(?: more)?(?: (?:of|to be|to make|to reach|from) (?:(?:its|the|your|full|whole|final|total|finished|wanted|desired|complete|right) )*(?:length|size|foot)|(?: more)? to (?:be (?:complete|finished|done)|go|come))(?=[.;,]|$)"
)
_FABRIC = r"(?:st\.? st|stockinette|stocking st|garter|plain|rib|patt|moss|seed|(?:the )?(?:sole|instep|top|bottom)\b|rounds \d|rnds \d)"
_ON_PLACES = WordForm(  # "knit in rounds again: stockinette on the sole, rib on the instep"
    rf"(?P<go>(?:^|(?<=[.;] ))(?:(?:now|then|next|and),? )*{_GO}(?: on)? (?:again )?(?:to knit |to work |knitting |working )?in (?:rounds|rnds|the round)(?: again| once more)?)(?::|,| [–—-]) (?:with |working |keeping )*(?={_FABRIC}[^.;:]*\b(?:sole|instep)\b)"
)

_AMID = WordForm(  # "Row 32: Sl 1, p9, and stop there, in the middle of the heel."
    r"^(?:(?:next|last|final) row|row \d{1,3})(?: \([RW]S\))?: (?P<items>[^:*;]*?)(?:,? and|,|;) (?:then )?(?:stop|halt|end)(?: (?:there|here|now|at this point))?(?:,? (?:you are )?(?:in|at) the (?:middle|cent(?:er|re)|half-?way point)(?: of the [a-z ]+)?|(?<=there)|(?<=here)|(?<=point))(?=\.?$)"
)


def with_ends(said: MappedText) -> MappedText:
    """Return a line in which work and its end stand in one sentence.

    Examples
    --------
    >>> for text in ("Knit every round. Stop when the foot measures 7 inches.", "Knit until the foot wants only 2 inches of its length."):
    ...     print(with_ends(MappedText.of(text)).text)
    Knit every round until the foot measures 7 inches.
    Knit until the foot is 2 inches short of the length wanted.
    """
    said = said.sub(_AMID, r"\g<items>")
    said = said.sub(_ON_PLACES, r"\g<go> with ").sub(_STOPS, _to_there)
    return said.sub(_WANTS, r"\g<until> is \g<n> short of the length wanted")


def _to_there(match: re.Match[str]) -> str:
    if match["until"]:
        return f"{match['work']} until {match['until']}"
    return f"{match['work']} until it is {match['short']} short of the length wanted"
