# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches of a thumb that come back, with some picked up beside them, in one form of words.

They lay on a thread ("pick up the 13 sts from the waste yarn and 1 st in the gap"), or beside waste
yarn that was knitted in ("knit up 7 sts below, 1 at the corner, 7 above, 1 at the corner").
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Means, Rewordings

__all__ = ["with_thumbs_again"]

_N = r"\d{1,2}(?: ?[(\[][\d ,:;/]+[)\]])?"
_STS = r"(?:sts?|stitch(?:es)?|loops?)\b"
_THREAD = (
    r"(?:(?:the|a|its|their) )?(?:waste yarn|scrap yarn|scrap|thread|holder|pin|safety pin|string)"
)
_ROW = r"(?:(?:the|all the|that) )?(?:waste (?:yarn|wool|thread)|scrap(?: yarn)?|(?:odd|contrast(?:ing)?|other|spare) (?:colou?r(?:ed)? )?(?:yarn|wool|thread|cotton)|cotton|thread)"
_OUT = rf"(?:(?:remove|undo|unpick)(?: carefully)? {_ROW}|(?:pull|take|draw|pick)(?: out)? {_ROW}(?: out)?|(?:pull|take|draw|pick) out {_ROW})"
_KNITS = r"(?:(?:(?:re)?join|with|using|in) (?:the )?(?:yarn|wool|[A-Z]{1,2}|main (?:yarn|colou?r)),? (?:and )?)?"
_ALL = r"(?:knit|k)(?: a?round| (?:them|these)(?: all)?| all(?: (?:of )?(?:them|these|sts))?)?"
_CORNER = r"(?:at|in|from) (?:the |its |each |either |both |one |the other )*(?:corners?|sides?|ends?|gaps?)"

_IT = r"(?: (?:it|the (?:gap|opening|line|slit|hole)))?"


def _beside(match: re.Match[str]) -> str:
    """Put what lies below and above waste yarn as on needles, and what is picked up at its ends."""
    lead = f"{match['b']}Remove the waste yarn and put the {match['n']} sts below and the {match['m']} sts above on needles. "
    return f"{lead}Knit 1 round, picking up {match['k']} st at each corner"


_ROWS: tuple[tuple[str, Means], ...] = (
    (  # "pick up the 13 sts from the waste yarn and 1 st in the gap"
        rf"(?P<b>^|[.;:] )pick up (?:the )?(?P<n>{_N}) (?:held |thumb |waiting )*{_STS} (?:from|off|that (?:wait|are) on) {_THREAD},? (?:and|plus) (?P<m>{_N}) (?:more )?{_STS} (?=in|at|from|over|along|across)",
        r"\g<b>Return the \g<n> held sts to the needles and pick up and knit \g<m> sts ",
    ),
    (  # "put 13 sts on three needles, with 1 new st picked up at the inside", "thumb sts on needles again, plus 1 picked up at the gap"
        rf"(?P<b>^|[.;:] )(?:(?:put|place|get|bring|take) )?(?:the )?(?:(?P<n>{_N}) )?(?P<t>thumb |held |waiting )*{_STS} (?:back )?(?:on|onto|on to) (?:the |your |two |three |\d )?(?:needles|dpns)(?: again)?,? (?:with|plus|and) (?P<m>{_N}) (?:new |more )?(?:{_STS} )?picked up (?=in|at|from|over|along|across|between)",
        lambda match: (
            f"{match['b']}Return the {match['n'] + ' held' if match['n'] else 'held thumb'} sts to the needles and pick up and knit {match['m']} sts "
        ),
    ),
    (  # "get the 13 sts back on the needles"
        rf"(?P<b>^|[.;:] )(?:get|bring|fetch) (?:the )?(?P<n>{_N}) (?:thumb |held )*{_STS} back (?:on|onto|on to) (?:the |your )?(?:needles|dpns)",
        r"\g<b>Return the \g<n> held sts to the needles",
    ),
    (  # "back to the 13 sts on the thread: knit them and pick up 1 st in the corner"
        rf"(?P<b>^|[.;] )(?:go )?back to (?:the )?(?P<n>{_N}) (?:thumb |held )*{_STS} on {_THREAD}[:;,.] (?:(?:knit|k) them|(?:knit|k) (?P=n))(?:,| and)+ pick up(?: and k(?:nit)?)? (?P<m>{_N})",
        r"\g<b>Return the \g<n> held sts to the needles and pick up and knit \g<m>",
    ),
    (  # "pull out the scrap. With D knit up 7 sts below, 1 at the corner, 7 above, 1 at the corner"
        rf"(?P<b>^|[.;:] ){_OUT}[.,;](?: and)? {_KNITS}(?:knit|pick|take) up (?:the )?(?P<n>{_N}) (?:{_STS} )?(?:below|under(?:neath)?|from below){_IT}, (?P<k>{_N}) (?:{_STS} )?{_CORNER},? (?:and )?(?:the )?(?P<m>{_N}) (?:{_STS} )?(?:above|over|from above){_IT},? (?:and )?(?P=k) (?:{_STS} )?{_CORNER}",
        _beside,
    ),
    (  # "Pick out the scrap yarn. There are 14 sts on one side of the gap and 14 on the other."
        rf"(?P<b>^|[.;:] ){_OUT}(?: carefully| one stitch at a time| stitch by stitch)?[.,;:] (?:(?:now |then )?(?:there (?:are|will be)|you (?:now |will )?(?:have|find|see|get)|(?:this|that|it|which) (?:leaves|gives|frees|shows)) )?(?:the )?(?P<n>{_N}) (?:live |open |free )?(?:{_STS} )?(?:are (?:free|live|open|left|now) )?(?:on|at|to|along) (?:(?P<each>each|either) (?:side|edge|needle)|one (?:side|edge|needle)(?: of (?:it|the \w+))?,? and (?P<m>{_N}) (?:{_STS} )?(?:on|at|to|along) the other(?: (?:side|edge|needle))?)(?: of (?:it|the \w+))?(?:[.;] (?:place|put|slip|set|get|take|catch) (?:them|these)(?: all)? on (?:\w+ )?needles(?:,? and(?P<and>(?= k)))?)?(?!; put them|[^.;]*, \d+ on each)",
        lambda match: (
            f"{match['b']}Remove the waste yarn and put {match['n']} sts on each of two needles{'.' if match['and'] else ''}"
            if match["each"] or match["n"] == match["m"]
            else f"{match['b']}Remove the waste yarn and put the {match['n']} sts below and the {match['m']} sts above on needles"
        ),
    ),
    (  # "put 14 + 14 sts on two needles"
        rf"(?P<b>^|[.;:] ){_OUT}(?: carefully| one stitch at a time| stitch by stitch)?(?:[.,;]| and|, and) (?:place|put|slip|set|get|take|catch) (?P<n>{_N}) ?\+ ?(?P=n) {_STS} on (?:\w+ )?needles",
        r"\g<b>Remove the waste yarn and put \g<n> sts on each of two needles",
    ),
    (  # "put the 7 sts below the line on one needle and the 7 above it on another. Join wool and knit all of them, picking up 1 st at each side"
        rf"(?P<b>^|[.;:] )(?:{_OUT}[.,;] )?put (?:the )?(?P<n>{_N}) (?:{_STS} )?below(?: (?:it|the line|{_ROW}))?(?: on one needle)?,? and (?:the )?(?P<m>{_N}) (?:{_STS} )?above(?: (?:it|the line|{_ROW}))?,? on (?:another|the other|a second|(?:two |the |some )?needles)(?: needle)?(?:, {_OUT})?[.,;] (?:and )?{_KNITS}{_ALL},? (?:with (?P<k2>{_N}) (?:{_STS} )?picked up|picking up (?P<k3>{_N})(?: (?:extra|more))?(?: {_STS})?) {_CORNER}",
        lambda match: (
            f"{match['b']}Remove the waste yarn and put the {match['n']} sts below and the {match['m']} sts above on needles. Knit 1 round, picking up {match['k2'] or match['k3']} st at each corner"
        ),
    ),
    (  # "take the contrasting thread out and catch the 14 sts on needles. Knit round, picking up 1 at each side"
        rf"(?P<b>^|[.;:] ){_OUT},? and (?:catch|put|place|slip|gather|get) (?:the )?(?P<n>{_N}) (?:live |open )?{_STS} on (?:the |your |two |three )?needles[.;] {_KNITS}{_ALL},? picking up (?P<k>{_N})(?: (?:extra|more))?(?: {_STS})? {_CORNER}",
        r"\g<b>Remove the waste yarn: \g<n> sts. Knit 1 round, picking up \g<k> st at each corner",
    ),
)
_TABLE = Rewordings(_ROWS)


def with_thumbs_again(said: MappedText) -> MappedText:
    """Return a line with a thumb's stitches, and those picked up beside them, in one form of words.

    Examples
    --------
    >>> told = MappedText.of("Pick up the 13 sts from the waste yarn and 1 st in the gap.")
    >>> with_thumbs_again(told).text
    'Return the 13 held sts to the needles and pick up and knit 1 sts in the gap.'
    """
    return _TABLE.put_in(said)
