# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Notes without a verb, as somebody would say them aloud: "plain 12 cm", "then st st for 5 cm"."""

from __future__ import annotations

from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["LEAD", "with_verb"]

LEAD = WordForm(
    r"^(?:(?:thereafter|hereafter|after that|after this|afterwards|from (?:now|here|then|this point) on(?:wards?)?|from here (?:to|until|till|through) (?:the end of )?(?:step|row|round) \d+|finally|at last|from here)\b,? )+",
)
_PLAIN = r"(?:plain(?: knitting| rounds| rnds)?|even|straight|st\.? st|stocking st\w*|stockinette(?: st\w*)?|garter(?: st\w*)?|rib(?:bing)?|(?:k ?\d,? ?p ?\d|\d ?x ?\d) rib(?:bing)?)"
_LENGTH = r"\d+(?:\.\d+)?(?: ?[(\[][^)\]]*[)\]])? ?(?:cm|mm|\"|in\b|ins\b|inch)"
_PLAIN_TO = WordForm(rf"(?:in )?({_PLAIN}),? (?:to|until|till) (?=(?:it |piece |about )?{_LENGTH})")
_PLAIN_FOR = WordForm(rf"({_PLAIN}),? (?:for )?(?=(?:about )?{_LENGTH})")
_PLAIN_ON = WordForm(rf"(?:in )?(?:{_PLAIN})\b,? (?:until|till|for) ")
_LENGTH_OF = WordForm(rf"{_LENGTH}\w*\.? of (?:{_PLAIN})")
_CHANGED_FOR = WordForm(  # "change to stocking stitch for 9 cm"
    rf"^(?:change|switch) to (?={_PLAIN}\b,? (?:until|till|for) )"
)
_LEADS = WordForm(
    r"^(?:(?:and|now|then|next|just)\b,? |for the [a-z]+(?: [a-z]+)?,? (?=(?:work|knit|rib) )|the [a-z]+ in (?=plain|st))+",
)
_BETWEEN_STARS = WordForm(
    r"^((?:and |now |then )*(?:work (?:in )?|rib (?:in )?)|[a-z ]*\brib\b[a-z ]* in )\*([^*]+)\*(?: rib\w*)?",
)
_STARS_FOR = WordForm(rf"^\*([^*]+)\*,? (?:for )?(?={_LENGTH}\.?$)")
_RIB_FIRST = WordForm(r"^rib[,:]? (?:in )?(\(?k ?\d+,? p ?\d+\)?)(?! rib)")
_EACH_STITCH = WordForm(
    r"^((?:now )?(?:knit|k) )(?:every|each|all) (?:st(?:itch)?|sts|stitches) (?:of|on|in) (every (?:round|rnd)\b)",
)
_SOME = WordForm(
    rf"(?=(?:\d+|{'|'.join(NUMBER_WORDS)}) (?:more )?(?:rounds?|rnds?|rows?) (?:of )?(?:{_PLAIN}|over all|in\b|garter|moss|seed))(?P<n>\S+ (?:more )?\w+) (?:of )?",
)


def with_verb(text: str) -> str:
    """Return "plain 12 cm" or "2 rnds over all sts" as somebody would say it aloud."""
    text = LEAD.sub("", _LEADS.sub("", text))
    text = _CHANGED_FOR.sub("work in ", text)
    text = _BETWEEN_STARS.sub(r"\1[\2] rib", text)
    text = _STARS_FOR.sub(r"work in [\1] rib for ", text)
    text = _RIB_FIRST.sub(r"work \1 rib", text)
    text = _EACH_STITCH.sub(r"\1\2", text)
    if match := _PLAIN_TO.match(text):
        return f"work {match[1]} until it measures {text[match.end() :]}"
    if match := _PLAIN_FOR.match(text):
        return f"work {match[1]} for {text[match.end() :]}"
    if _PLAIN_ON.match(text) or _LENGTH_OF.match(text):
        return f"work {text}"
    if match := _SOME.match(text):
        return f"work {match['n']} {text[match.end() :]}"
    return text
