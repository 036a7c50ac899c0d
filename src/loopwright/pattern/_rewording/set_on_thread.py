# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches set aside amid a round, in one form of words.

"K1, take 8 sts on a safety pin, …", "next 8 sts to a strand of wool" and "lay 8 sts on a thread" are
all ``slip the next 8 sts to a holder``; "make 8 new sts" behind them is ``cast on 8 sts``.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY, whole_number

__all__ = ["with_sts_set_aside"]

_STS = r"(?:sts?\b|stitch(?:es)?\b)"
_VERB = r"(?:lay|take|rest|hold|keep|thread|place|put|slip|leave|move|transfer|set|slide)"
_PLACE = r"(?:(?:safety |stitch )?(?:pin|holder)|(?:(?:a |an )?(?:length|strand|piece|bit|end) of )?(?:(?:a |some )?(?:waste|scrap|spare|contrast(?:ing)?|odd|coloured|smooth) )*(?:wool|yarn|thread|cotton|string))"
_ON = r"(?:on to|onto|on|to|over to)"
_THUMB = r"(?: for (?:the |a )?thumb)?"
_ASIDE = WordForm(
    rf"(?P<b>[,;] )(?:(?:and|then|now),? )*(?:{_VERB} )?(?:the )?(?:next |following |foll )?(?P<n>{MANY})(?: {_STS})?{_THUMB} {_ON} (?:a |an |the |some )?{_PLACE}{_THUMB}(?=[,;]| and )"
)
_FIRST = WordForm(  # "Next round: Thread the first 13 sts, cast on 1 st", "First 13 sts onto a thread"
    rf"(?P<b>: )(?:(?:thread|string) (?:the )?first (?P<n>{MANY})(?: (?:thumb|gusset))? {_STS}{_THUMB}(?: {_ON} (?:a |an |the |some )?{_PLACE})?|(?:(?:take off|thread) )?(?:the )?first (?P<m>{MANY})(?: (?:thumb|gusset))? {_STS}{_THUMB} {_ON} (?:a |an |the |some )?{_PLACE}){_THUMB}(?=[,;]| and )"
)
_NEW = WordForm(
    rf"(?P<b>[,;] (?:and )?)(?:cast on|co|make) (?P<n>{MANY})(?: new)?(?: {_STS})?(?: (?:by|with|using|in) (?:the )?(?:same yarn|(?:[a-z-]+ )?(?:knitted|cable|backward[- ]loop|loop|thumb|e-loop)(?: (?:method|cast[- ]on|loops?))?))?(?: (?:over|above|across|to close) the (?:gap|hole|space))?(?=[,;] ?(?:k|p|work)\w* ?(?:\d|to\b|the (?:rest|last|other)))"
)


def with_sts_set_aside(said: MappedText) -> MappedText:
    """Return a line with stitches that are set aside amid a round told in one form of words.

    Examples
    --------
    >>> told = MappedText.of("K1, take 8 sts on a safety pin, make 8 new sts, k31.")
    >>> with_sts_set_aside(told).text
    'K1, slip the next 8 sts to a holder, cast on 8 sts, k31.'
    """
    aside = said.sub(_ASIDE, _set_aside).sub(
        _FIRST,
        lambda one: f"{one['b']}Slip the first {_figure(one['n'] or one['m'])} sts to a holder",
    )
    return said if aside is said else aside.sub(_NEW, _made)


def _figure(many: str) -> str:
    return many if many[0].isdigit() else str(whole_number(many))


def _set_aside(match: re.Match[str]) -> str:
    return f"{match['b']}slip the next {_figure(match['n'])} sts to a holder"


def _made(match: re.Match[str]) -> str:
    return f"{match['b']}cast on {_figure(match['n'])} sts"
