# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Short rows in whatever words: how far a row goes towards a turn, and wraps that are worked again."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.needed_words import in_small
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._rewording.yarn_over_turns import with_yarn_overs
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["with_turns"]

_S = r"(?:sts?\b\.?|stitch(?:es)?\b)"
_END = r"(?=\s*(?:[,;.)(\]]|$|and\b|then\b))"
_VERB = r"(?P<verb>(?<![\w-])(?<!\bor )(?:k|knit|p|purl|work|rib|pattern|patt)\.?(?: (?:in|on|as|even|plain|patt\w*|est\w*|set|st))*)"
_TO = r"(?:(?: |, )(?:across|over|along|up|back|as far as|to|until|till|stopping|end(?:ing)?|you (?:reach|get to|come to|meet|bump into|run into|hit|find|arrive at|are at|are)|the next (?:st|stitch) is|(?:but )?only))+"
_MADE = r"(?:that|which|you|was|were|has|have|is|been|had|just|made|formed|left|created|caused|produced|worked|wrapped|doubled|turned|before|last|first|by|at|in|on|of|from|with|the|your|this|each|either|both|same|other|that|far|opposite|near|previous|preceding|prior|turn|turning|row|short|decreases?|dec|round|side|end|edge|left|right|ws|rs|right-side|wrong-side|needle|heel|work|centre|center|middle|ahead|nearest|next|lies|lie|stands|comes|come|to|meet|reach|point|\d)"
_WHICH = r"(?:(?:the|your|that|this|a|its|little|last|next|first|previous|previously|prior|already|most recent(?:ly)?|nearest|closest|group of|block of|just|double|doubly|twice|outermost|waiting|turning) )*(?:double-|doubly-|twice-)?"
_WHAT = (
    rf"(?P<what>wrapped {_S}|wrapped ones?\b|wraps?\b(?! (?:the|next|and)\b)|ds\b|doubled? {_S}|(?:twin(?:ned)?|paired|triple|shadow(?:[ -]wrapped)?)(?:[ -](?:wraps?|{_S}))?(?<=\w)\b|twins\b|triplets?\b|double twins?\b|"
    rf"{_S} (?:with|that has) (?:the|a|its|two|2|both|double|\s)+ ?wraps?\b|(?:{_S}|one) (?:(?:that|which|you|was|were|is|had|has|been|last|just|previously|already) )*(?:wrapped|doubled)\b|"
    rf"yarn ?overs?\b|yos?\b|gaps?\b|hole\b|space\b|where you (?:last |just )?turned(?: last)?\b|(?:turn(?:ing)?(?: point)?|turned {_S})(?<=\w)\b)"
)
_PLAIN = r"(?:plain|unwrapped|un-wrapped|single|unturned)"
_OFFSET = rf"(?:(?:within|of|the|just|right|there|is|are|only|about|stitch|on the|(?P<n>\d+|one|two|three|a|last|next)(?:\(n\))?|{_PLAIN}) )*(?P<st>{_S}) (?:(?:just|right|immediately|directly|remains?|remaining|is|left|lies|stands|away|ahead|wrapped) )*(?:before|short of|of|from|in front of) "
_PLACE = WordForm(
    rf"{_VERB}{_TO} (?:{_OFFSET}|(?P<one>one|two|three|\d) before |(?:just|right|immediately) before |(?:and|to) (?P<incl>including|over|past|beyond) |(?P<m>\d+|one|two|three|the) {_S} (?P<past>past|beyond|after) )?{_WHICH}{_WHAT}(?: {_MADE})*{_END}",
)
_LAST_PLAIN = WordForm(  # "to the last unwrapped st"
    rf"{_VERB}{_TO} (?:(?:the|only|there|is|1|one|last|single) )*(?:unwrapped|un-wrapped) (?P<st>{_S})(?: (?:{_MADE}|remains|is left|left))*{_END}",
)
_PAST = WordForm(  # "past the last turn", "across the DS (as one st) and 1 st more"
    rf"{_VERB} (?:(?:to|on|and|across) )*(?:past|beyond|over|across|through) {_WHICH}{_WHAT}(?: {_MADE})*(?: ?\([^()]*\))?(?:,? working (?:1|one|the) wrapped st with (?:its|the) wraps?)?(?: and (?P<m>\d+|one|two) (?:{_S} )?(?:more|further|beyond)(?: {_S})?| and the next {_S})?{_END}",
)
_AS = r"(?:(?:(?:the )?(?:two|2|both) )?as (?:one|1|a single)(?: (?:st|stitch))?|(?:the )?(?:two|2) tog(?:ether)?)"
_WORDS = rf"(?:the|its|their|all|any|both|that|this|next|first|following|foll|own|last|of|with|in|along|from|at|on|around|round|base|to|onto|for|left|right|needle|through|back|loops?|legs?|it|them|one|each|two|three|[23](?= wraps?\b)|wraps?|ds|doubled?|twins?|triplets?|triple|shadows?|paired|pair|(?:double-?|doubly-?|twice-?)? ?(?:shadow[ -])?wrapped|st|stitch|tog(?:ether)?|and|{_AS})"
_TAKEN_UP = WordForm(
    rf"(?<![\w-])(?:(?:pick(?:ing)?|lift(?:ing)?|rais(?:e|ing)|catch(?:ing)?|tak(?:e|ing)|scoop|insert)(?: up)?(?: {_WORDS})*?(?:,| and|, and| to|,? then)+ )?(?P<verb>knit|purl|k|p|work)(?! (?:back )?(?:to|on|over|across|along|round|around)\b)(?P<words>(?: {_WORDS})+)(?:,? (?:hiding|lifting|taking up|picking up) (?:the|its|both|all|their|up|\s)*wraps?)?(?=\s*(?:[,;.()]|$))",
)
_SO_MANY = WordForm(
    rf"(?<![\w-])(?P<verb>knit|purl|k|p|work) (?:the )?(?:next |following |first )?(?P<n>{COUNT}) (?:wrapped )?{_S} (?:tog(?:ether)? |along )?with (?:their|the|all|all their|its) wraps?(?=\s*(?:[,;.()]|$))",
)
_TELLS = WordForm(
    r"\s*(?:when(?:ever)?|as you|each time|every time|always|note|if|once|remember|to)\b", re.NOFLAG
)
_WORKS = WordForm(
    r"\b(?:[kp]|knit|purl) ?\d|\bw ?[&+] ?t\b|\bturn\b|\b(?:to|until) (?:the |last |next |first )*(?:\w+[- ])?wrapped\b|:",
    re.NOFLAG,
)
_ACROSS_TO = WordForm(r"(?<![\w-])(k|knit|p|purl|work) (?:across|over|along|on|back|up) to (?=\S)")  # fmt: skip
_OPTIONAL = WordForm(r"(?<=wrap)\(s\)")
_NEXT_ONE = rf"(?: (?:in )?(?:the |this |that )?(?:(?:next|following|foll|last) )?(?:{_S}|twin|one|it)(?: {_S})?)?"
_NOW = r"(?: ?\((?:it|this|that|now|which)\b[^()]*\))?"
_TURNED = WordForm(  # "SW next st (now a triplet), turn", "wrap the next st, which …, turn"
    rf"(?<![\w-])(?:(?:(?:make|work|do|place|put) )?(?:an? )?(?:sw|shadow[- ]?wrap|twin)\b(?: {_S})?{_NEXT_ONE}{_NOW},? (?:and |then )?turn|w\.,? (?:and )?turn|(?:(?<=[,;:.] )|(?<=\band )|(?<=\bthen ))wrap{_NEXT_ONE}{_NOW},? (?:and |then )?turn|w ?[&+] ?t(?: the)?(?: next)? {_S})(?=\s*(?:[,;.()]|$|and\b|then\b))",
)
_UNWRAPPED = WordForm(r"\bturn without (?:a wrap|wrapping|the wrap)(?: it| the st)?\b")
_CLOSED = WordForm(  # "work ssk across the gap", "p2tog the sts on either side of it"
    rf"\b(?:work )?(?:an? |the )?(?P<dec>ssk|skpo?|k2tog|p2tog|ssp)(?: (?:across|over|to close|closing) (?:the |your )?(?:gap|hole|turn)| (?:the |these )?(?:2 |two )?{_S} (?:on|at|from) (?:either|each|both) sides? of (?:it|the (?:gap|hole|turn)))(?=\s*(?:[,;.()]|$|and\b))",
)
_EACH_AS_ONE = WordForm(  # "(the DS there as one stitch)", ", each DS as one stitch"
    rf"(?: ?\(|, )(?:(?:the|each|any|all|every|last|other|remaining) )*(?:ds|double {_S}|twins?(?: {_S})?|wrapped {_S})(?: (?:there|you meet|on the way|as you (?:come|get) to (?:it|them)))? (?:as|like) (?:one|1|a single|single) {_S}\)?(?=\s*(?:[,;.]|$))",
)
_THEN = WordForm(r"^\s*(?:then|now|after that|next): (?=ds\b|[kp]\b|knit|purl)")
_NAMES = ("wrap", "ds", "double", "twin", "triple", "paired", "shadow", "sw", "gap", "hole", "space", "turn", "w&t", "legs")  # fmt: skip


def with_turns(said: MappedText) -> MappedText:
    """Return a sentence in which turns, wraps and gaps are named in our words.

    Examples
    --------
    >>> row = "Row 3: Sl 1, k to 1 st before gap made by previous turn, ssk, k1, turn."
    >>> with_turns(MappedText.of(row)).text
    'Row 3: Sl 1, k to 1 st before gap, ssk, k1, turn.'
    >>> row = "Row 5: K10, k twin, SW next st (now a triplet), turn."
    >>> with_turns(MappedText.of(row)).text
    'Row 5: K10, k1 with wraps, w&t.'
    """
    said = with_yarn_overs(said)
    low = in_small(said.text)
    if not any(word in low for word in _NAMES):
        return said
    said = said.sub(_OPTIONAL, "s").sub(_TURNED, "w&t").sub(_UNWRAPPED, "turn")
    said = said.sub(_EACH_AS_ONE, " with wraps").sub(_THEN, "")
    said = said.sub(_CLOSED, r"\g<dec>").sub(_ACROSS_TO, r"\1 to ")
    if _TELLS.match(low) is None and _WORKS.search(low):
        said = said.sub(_SO_MANY, _many_taken_up).sub(_TAKEN_UP, _one_taken_up)
        said = said.sub(_PAST, _past_the_gap)
    return said.sub(_PLACE, _to_the_gap).sub(_LAST_PLAIN, r"\g<verb> to 1 st before gap")


def _many_taken_up(match: re.Match[str]) -> str:
    return f"{_letter(match['verb'])}{match['n']} with wraps"


_TURNED_ST = WordForm(r"\b(?:wraps?|twin|triplet|shadows?|legs|loops)\b")


_IN_BACK = WordForm(r"\b(?:through|in|into) (?:the |their )?backs?(?: loops?| legs?)?\b")


def _one_taken_up(match: re.Match[str]) -> str:
    words = match["words"].lower()
    if not _TURNED_ST.search(_IN_BACK.sub("", match[0])) or not re.search(
        r"\b(?:it|them|st|stitch|one|twin|triplet|legs|loops)\b|\btog", words
    ):
        return match[0]
    return f"{_letter(match['verb'])}1 with wraps"


def _letter(verb: str) -> str:
    return {"p": "p", "P": "P"}.get(verb[0], "K" if verb[0].isupper() else "k")


def _number(word: str | None) -> int:
    word = (word or "1").lower()
    if word.isdigit():
        return int(word)
    return 1 + NUMBER_WORDS.index(word) if word in NUMBER_WORDS else 1


def _is_double(what: str) -> bool:
    """Tell whether a gap lies behind the stitch that words name, and not before it."""
    return what.startswith(("yo", "yarn", "ds", "double", "doubled")) and "twin" not in what


def _to_the_gap(match: re.Match[str]) -> str:
    what = match["what"].lower()
    before = _number(match["n"]) if match["st"] else _number(match["one"]) if match["one"] else 0
    before += _is_double(what)
    if what.startswith(("turn", "yo", "yarn")) and not match["st"]:
        return match[0]
    short = f"{before} {'st' if before == 1 else 'sts'} before " if before else ""
    to = f"{match['verb']} to {short}gap"
    if match["past"] or match["incl"]:
        more = _number(match["m"]) if match["past"] else 0
        return to + _taken_past(match["verb"], what, more)
    return to


def _taken_past(verb: str, what: str, more: int) -> str:
    """Return the stitches of a turn that is passed: with its wrap or both legs, and those behind it."""
    letter = _letter(verb).lower()
    is_stitch = not what.startswith(("gap", "hole", "space", "yo", "yarn"))
    taken = f", {letter}1 with wraps" if is_stitch else ""
    return taken + (f", {letter}{more}" if more else "")


def _past_the_gap(match: re.Match[str]) -> str:
    what = match["what"].lower()
    short = "1 st before " if _is_double(what) else ""
    more = _number(match["m"]) if match["m"] else int(" and the next" in match[0])
    return f"{match['verb']} to {short}gap" + _taken_past(match["verb"], what, more)
