# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows in whatever words: how far a row goes towards a turn, and wraps that are worked again."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["with_turns"]

_S = r"(?:sts?|stitch(?:es)?)\b"
_MADE = r"(?: (?:that |which )?(?:was |you |were )?(?:just )?(?:made|formed|left|created|caused|worked)(?: (?:by|at|in|on|from|with))? (?:the |your |that )?(?:last|previous|prior|preceding)? ?(?:turn|row|short row|decrease|dec)(?: row| point)?)?"
_LAST = r"(?:(?:the|your|that|a|last|next|first|previous|previously|prior|most recent(?:ly)?|nearest|already|just|double|doubly|twice) )*(?:double-|doubly-|twice-)?"
_PLACE = re.compile(
    rf"(?P<verb>(?<![\w-])(?<!\bor )(?:k|knit|p|purl|work|rib|pattern|patt)(?: (?:in|on|as|even|plain|patt\w*|est\w*|set|st))* )(?:to|until)(?: you (?:reach|get to|come to|are at))? (?:(?:within )?(?:the |just )?(?P<n>\d+|one|two|three|last|next)?(?(n) |)?(?P<st>{_S}) (?:before|short of|of|from) )?{_LAST}"
    rf"(?P<what>wrapped {_S}|wrapped one\b|wraps?\b(?! (?:the|next|and)\b)|ds\b|double {_S}|(?:twin|shadow)(?:[ -](?:wraps?|{_S}))?|yarn ?overs?\b|yos?\b|gap\b|hole\b|(?:turn(?:ing)?(?: point)?|turned {_S})(?<=\w)\b){_MADE}(?=\s*(?:[,;.)(\]]|$|and\b|then\b))",
    re.IGNORECASE,
)
_AS = r"(?:as (?:one|1|a single)(?: (?:st|stitch))?)"
_WORDS = rf"(?:the|its|both|that|this|next|first|following|foll|own|last|of|with|in|along|from|at|on|around|round|base|to|onto|left|right|needle|through|back|loop|it|them|one|each|two|wraps?|(?:double-?|doubly-?|twice-?)? ?wrapped|st|stitch|tog(?:ether)?|and|{_AS})"
_TAKEN_UP = re.compile(
    rf"(?<![\w-])(?:(?:pick(?:ing)?|lift(?:ing)?|rais(?:e|ing)|catch(?:ing)?|tak(?:e|ing)|scoop|insert)(?: up)?(?: {_WORDS})*?(?:,| and|, and| to|,? then)+ )?(?P<verb>knit|purl|k|p|work)(?! (?:back )?(?:to|on|over|across|along|round|around)\b)(?P<words>(?: {_WORDS})+)(?=\s*(?:[,;.()]|$))",
    re.IGNORECASE,
)
_SO_MANY = re.compile(
    rf"(?<![\w-])(?P<verb>knit|purl|k|p|work) (?:the )?(?:next |following |first )?(?P<n>{COUNT}) (?:wrapped )?{_S} (?:tog(?:ether)? |along )?with (?:their|the|all|all their|its) wraps?(?=\s*(?:[,;.()]|$))",
    re.IGNORECASE,
)
_TELLS = re.compile(
    r"\s*(?:when(?:ever)?|as you|each time|every time|always|note|if|once|remember|to)\b"
)
_WORKS = re.compile(
    r"\b(?:[kp]|knit|purl) ?\d|\bw ?[&+] ?t\b|\bturn\b|\b(?:to|until) (?:the |last |next |first )*(?:\w+[- ])?wrapped\b|:"
)
_ACROSS_TO = re.compile(r"(?<![\w-])(k|knit|p|purl|work) (?:across|over|along|on|back|up) to (?=\S)", re.IGNORECASE)  # fmt: skip


def with_turns(said: MappedText) -> MappedText:
    """Return a sentence in which turns, wraps and gaps are named in our words.

    Examples
    --------
    >>> row = "Row 3: Sl 1, k to 1 st before gap made by previous turn, ssk, k1, turn."
    >>> with_turns(MappedText.of(row)).text
    'Row 3: Sl 1, k to 1 st before gap, ssk, k1, turn.'
    """
    low = said.text.lower()
    if not any(word in low for word in ("wrap", "ds", "double", "twin", "gap", "hole", "turn")):
        return said
    said = said.sub(_ACROSS_TO, r"\1 to ")
    if "wrap" in low and _TELLS.match(low) is None and _WORKS.search(low):
        said = said.sub(_SO_MANY, _many_taken_up).sub(_TAKEN_UP, _one_taken_up)
    return said.sub(_PLACE, _to_the_gap)


def _many_taken_up(match: re.Match[str]) -> str:
    return f"{_letter(match['verb'])}{match['n']} with wraps"


def _one_taken_up(match: re.Match[str]) -> str:
    words = match["words"].lower()
    taken = re.search(r"\bwraps?\b", match[0], re.IGNORECASE)
    if not taken or not re.search(r"\b(?:it|them|st|stitch|one)\b|\btog", words):
        return match[0]
    return f"{_letter(match['verb'])}1 with wraps"


def _letter(verb: str) -> str:
    return {"p": "p", "P": "P"}.get(verb[0], "K" if verb[0].isupper() else "k")


def _to_the_gap(match: re.Match[str]) -> str:
    what = match["what"].lower()
    number = (match["n"] or "1").lower()
    if not number.isdigit():
        number = str(1 + NUMBER_WORDS.index(number)) if number in NUMBER_WORDS else "1"
    before = int(number) if match["st"] else 0
    if what.startswith(("yo", "yarn", "ds", "double")):
        before += 1
    if what.startswith(("turn", "yo", "yarn")) and not match["st"]:
        return match[0]
    short = f"{before} {'st' if before == 1 else 'sts'} before " if before else ""
    return f"{match['verb']}to {short}gap"
