# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Shaping that leaves out its plain rounds, at once or from a count on: told in many ways."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_every_round"]

_MANY = r"\d+(?: ?[(\[][^)\]]{1,60}[)\]])?"
_STS = r"(?:sts?|stitches)"
_CRS = r"(?:rounds?|rnds?|rows?)"
_ON = r"(?:keep(?:ing)?(?: on)?(?: going)?|continu(?:e|ing)|cont|go(?:ing)? on|carry(?:ing)? on|dec\w*|work(?:ing)?|repeat(?:ing)?|rep)"
_LEFT = r"(?: (?:remain(?:ing)?|rem|are left|left|in all|in work))?"
_GOAL = rf"(?:(?:you (?:have|are down to|get to|come to|reach|are left with)|there are|down to|at|with|to|only|just) )*(?P<GOAL>{_MANY})(?: {_STS})?{_LEFT}(?! ?(?:cm|mm|in\b|inch|{_CRS}|times|more))"
_UNTIL = rf"(?:(?:un)?til+|down to|to(?= \d)|(?:and )?(?:stop(?:ping)?|end(?:ing)?|finish(?:ing)?)(?: (?:once|when|as soon as|at|with))?) {_GOAL}"
_BARE = rf"(?:leav(?:e|ing) out|omit(?:ting)?|drop(?:ping)?|skip(?:ping)?|without|(?:work|knit)(?:ing)? no(?: more| further)?|stop(?:ping)? (?:work|knitt)ing|do(?:ing)? without) (?:the |any |all )?(?:plain|knit|even|plain knit|in-?between) {_CRS}(?: (?:in )?between)?(?: from (?:here|now) on| now)?"
_FROM = rf"(?:once|when|as soon as|from (?:the point )?where|after) {_GOAL}"
_END = r"(?=[.;]|$)"
_THEN = r"(?:(?:,| and| but| then|;|\.|now|from here(?: on)?|from then on|[Tt]hen|[Nn]ow) ?)+"
_FORMS = (
    WordForm(  # "keep going, and leave out the plain rnds once you are down to 20 sts. Stop at 12 sts."
        rf"(?P<first>\b{_ON}\b[^.;:*]*?),? (?:(?:and|but) )?{_BARE},? {_FROM.replace('GOAL', 'a')}[,.;]? (?:and |then )*{_UNTIL.replace('GOAL', 'b')}{_END}"
    ),
    WordForm(  # "go on until 20 sts are left, then leave out the plain rounds and decrease until you have 12"
        rf"(?P<first>\b{_ON}\b[^.;:*]*?),? (?:un)?til+ {_GOAL.replace('GOAL', 'a')}{_THEN}{_BARE}{_THEN}(?:{_ON}\b[^.;:*\d]*?,? )?{_UNTIL.replace('GOAL', 'b')}{_END}"
    ),
)
_STOPS = WordForm(  # "Continue in this way, with 2 sts fewer each time. Stop when you have 12 sts."
    rf"(?P<first>(?:^|(?<=[.;] ))(?:now |then )?{_ON}\b(?:(?!\b(?:until|till|times|twice|for|once)\b)[^.;:*])*?)[.;,] (?:and |then )*(?:stop|finish|end) (?:once|when|as soon as|at|with) {_GOAL.replace('GOAL', 'b')}{_END}"
)
_AT_ONCE = WordForm(  # "Now leave out the knit rnds and go on decreasing, 11 sts each time, until 11 sts remain"
    rf"(?P<start>^|[.;] )(?:(?:now|then|and|from here(?: on)?|from now on),? )*{_BARE},? (?:and |but )?(?:{_ON}\b[^.;:*]*?,? )?{_UNTIL.replace('GOAL', 'b')}{_END}"
)
_WITHOUT = WordForm(  # "Go on in this manner, but without the knit rounds, to 11 sts."
    rf"(?P<start>^|[.;] )(?:(?:now|then|and|from here(?: on)?),? )*{_ON}\b[^.;:*\d]*?,? (?:(?:and|but) )?{_BARE},? (?:and |but )?{_UNTIL.replace('GOAL', 'b')}{_END}"
)


def with_every_round(said: MappedText) -> MappedText:
    """Return a line in which shaping without plain rounds is told as shaping on every round.

    Examples
    --------
    >>> told = "Keep going, but leave out the plain rounds once you have 20 sts. Stop at 12 sts."
    >>> with_every_round(MappedText.of(told)).text
    'Keep going in this way until 20 sts remain, then decrease on every round until 12 sts remain.'
    """
    for form in _FORMS:
        said = said.sub(form, _in_two)
    return said.sub(_STOPS, _to_here).sub(_AT_ONCE, _in_one).sub(_WITHOUT, _in_one)


def _in_two(match: re.Match[str]) -> str:
    first = re.sub(r"\bgoing$", "going in this way", match["first"])
    return f"{first} until {match['a']} sts remain, then decrease on every round until {match['b']} sts remain"


def _in_one(match: re.Match[str]) -> str:
    how = "Increase" if re.search(r"\binc", match[0], re.IGNORECASE) else "Decrease"
    return f"{match['start']}{how} on every round {_until(match)}"


def _to_here(match: re.Match[str]) -> str:
    return f"{match['first']} {_until(match)}"


def _until(match: re.Match[str]) -> str:
    grows = re.search(r"\b(?:inc|gain|add|more|wid|grow)", match[0], re.IGNORECASE)
    return f"until there are {match['b']} sts" if grows else f"until {match['b']} sts remain"
