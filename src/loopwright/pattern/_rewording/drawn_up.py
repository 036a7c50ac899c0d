# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Last stitches that the yarn is drawn through, in one form of words.

"8 sts; gather them on the tail", "(8) Pull the yarn through" and "fasten off through these" are all
``Draw the yarn through the remaining sts``, a sentence of its own.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY

__all__ = ["with_sts_drawn_up"]

_STS = r"(?:sts?\b|stitch(?:es)?\b|loops?\b)"
_YARN = r"(?:(?:the |your |a |this )?(?:(?:end|tail)(?: of (?:the |your )?(?:yarn|wool|thread))?|(?:yarn|wool|thread)(?:[ -](?:end|tail))?)|it)"
_ALL = rf"(?:(?:(?:all|of|the|these|those|them|both|your|rem(?:aining)?|last|left|{MANY}|{_STS}(?: (?:left|that (?:are left|remain)|remaining))?)(?: |(?=[.;,]|\s*$)))+)"
_GOES = r"(?:draw|pull|run|thread|pass|take|lead|put|bring|sew|weave|go|stitch)"
_THROUGH = r"(?:once |twice |two times |round |around )*(?:through|thru)"
_NEEDLE = r"(?:with (?:a |the |your )?(?:(?:darning|tapestry|wool|sewing|blunt|yarn) )?needle,? )?"
_CUT = r"(?:(?:cut|break|snip)(?: off)?(?: the)?(?: yarn| wool| it)?(?:,? (?:and|then))*[,;]? )?"
_TIGHT = r"(?:,? ?(?:(?:and|then) )*(?:pull|draw|tighten|gather|fasten|finish|end|darn|sew|weave|close|secure|tie|snug)(?:ing)?\b[^.;:]*?)*"
_CLOSE = (
    rf"{_CUT}{_NEEDLE}(?:{_GOES} {_YARN} {_THROUGH}(?: {_ALL})?|{_GOES} {_THROUGH} {_ALL}|{_GOES} {_THROUGH}(?=,? (?:and )?(?:pull|draw|tight|fasten))"
    rf"|(?:tie|fasten|finish|end) off:? (?:with )?(?:{_YARN} )?{_THROUGH} {_ALL}"
    rf"|(?:gather|draw up|pull up)(?: up)? {_ALL}(?: ?(?:with|on|onto|by) {_YARN})?|gather(?: up| in)?(?= ?[.,;]|\s*$)|(?:pull|draw) up(?= ?[.,;]|\s*$)|thread and (?:pull|draw)(?: up| tight)*(?=[.,;]|\s*$)"
    rf"|close (?:the |this )?(?:top|tip|hole|end|toe|thumb|finger|ring)(?: of the (?:thumb|mitten|hat|toe))? (?:with|by (?:drawing|pulling|running|taking)) {_YARN} {_THROUGH}(?: {_ALL})?){_TIGHT}"
)
_COUNT = rf"(?:(?P<n>{MANY}) (?:sts?|stitch(?:es)?)(?: (?:left|remain(?:ing)?|rem|in all))?|[(\[](?P<m>{MANY})(?: {_STS})?[)\]])"
_AMID = WordForm(  # "8 sts; gather them on the tail", "(8) Pull the yarn through"
    rf"(?P<b>[.,;:–—=-]? )?(?<=[ .]){_COUNT}[.,;:]? (?P<close>{_CLOSE})(?=[.;]|\s*$)"
)
_ALONE = WordForm(rf"(?P<b>^(?:\w{{1,2}}[.)] )?|[.;!] ){_CLOSE}(?=[.;]|\s*$)")
_ELSEWHERE = WordForm(
    r"\b(?:waste|scrap|spare|contrast\w*|holder|hold|leav\w+|eyelets?|casing|holes|first|next|each|every)\b"
)
_FORM = "Draw the yarn through the remaining sts"
_OURS = WordForm(r"cut yarn, draw it through the remaining sts and pull tight")


def with_sts_drawn_up(said: MappedText) -> MappedText:
    """Return a line with the drawing up of its last stitches told in one form of words.

    Examples
    --------
    >>> with_sts_drawn_up(MappedText.of("K2tog to end; 8 sts; gather them on the tail.")).text
    'K2tog to end. 8 sts. Draw the yarn through the remaining sts.'
    >>> with_sts_drawn_up(MappedText.of("Tie off: yarn through the 8 sts, pull.")).text
    'Draw the yarn through the remaining sts.'
    """
    if _OURS.search(said.text):
        return said
    return said.sub(_AMID, _behind_count).sub(_ALONE, _by_itself)


def _behind_count(match: re.Match[str]) -> str:
    if _ELSEWHERE.search(match["close"]):
        return match[0]
    before = ". " if match["b"] else ""
    return f"{before}{match['n'] or match['m']} sts. {_FORM}"


def _by_itself(match: re.Match[str]) -> str:
    if _ELSEWHERE.search(match[0]):
        return match[0]
    return f"{match['b']}{_FORM}"
