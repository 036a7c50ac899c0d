# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Behind short rows, all stitches are in work again, told in one form of words."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["with_rounds_again"]

_DS = r"(?:DS|double sts?|double stitch(?:es)?|twin sts?|twin stitch(?:es)?|shadow (?:sts?|stitch(?:es)?|pairs?)|pairs?|wraps?|wrapped sts?)"
_AS_ONE = rf"(?:(?:working|knitting|treating|taking) (?:both (?:legs|loops|strands) of )?(?:each|every|all|the|any|remaining| )+{_DS}(?: (?:as|like) (?:one|1|a single|single)(?: (?:sts?|stitch(?:es)?))?| together(?: as one)?| with (?:its|their) (?:sts?|stitch(?:es)?))?(?: as you (?:come to|meet|reach) (?:it|them))?)"
_OTHERS = r"(?:(?:the )?(?:sts|stitches) (?:of|on) (?:the )?)?(?:the )?(?:second needle|needle 2|n2|other needle|instep|front|top)(?: (?:sts|stitches|needle))?"
_TO_THE_END = WordForm(  # "knit to the end of the first needle, working each DS as one stitch, then knit the instep"
    rf"(?P<b>^|[.;:] )(?:(?:now|then|next),? )?(?:(?:go|carry|keep) on knitting|knit|k|work)(?: on| across)? to (?:the )?(?:end|edge)(?: of (?:the )?(?:first needle|needle(?: 1)?|n1|heel(?: (?:sts|stitches|needle))?|row|sole(?: (?:sts|stitches))?))?,? {_AS_ONE}(?:[,;:]| and)+ ?(?:then |and )*(?:knit |k |work )?(?:across |over )?{_OTHERS}(?=[.;]|\s*$)"
)
_ALL_AGAIN = WordForm(  # "Work on both needles again: 64 sts."
    rf"(?P<b>^|[.;] )(?:(?:now|then) )?(?:work|knit) (?:on|over|with|across) (?:(?:both|all)(?: the)? needles|all (?:the )?(?P<n>{COUNT}) (?:sts|stitches)|all (?:the )?(?:sts|stitches)) (?:again|once more)(?:[:,]? \(?(?P<m>{COUNT}) (?:sts|stitches)\)?)?(?=[.;]|\s*$|, (?:in|knit)\b)"
)

_THEN_ROUNDS = WordForm(  # "rep rows 3 and 4 until …, then go back to rounds, knitting the last DS as one st"
    rf"(?P<until>\brep(?:eat)? [^.;:*]*?\buntil [^.;:*]*?),? (?:and )?then (?P<go>(?:go (?:back|on)|work(?: again)?|knit|continue|resume(?: working| knitting)?|return|change back) (?:to |in |on )+(?:the |working in )?(?:rounds?|rnds?)\b)(?=[^.;]*{_DS})"
)


def with_rounds_again(said: MappedText) -> MappedText:
    """Return a line where the work goes back to all stitches behind short rows.

    Examples
    --------
    >>> for text in ("Knit to the end of needle 1, working each DS as one st, and knit the instep sts.", "Work on both needles again: 64 sts."):
    ...     print(with_rounds_again(MappedText.of(text)).text)
    Knit 1 round over all sts, working each DS as one st.
    Work in the round again over all 64 sts.
    """
    said = said.sub(
        _THEN_ROUNDS, lambda one: f"{one['until']}. {one['go'][0].upper()}{one['go'][1:]}"
    )
    return said.sub(_TO_THE_END, _round).sub(_ALL_AGAIN, _again)


def _round(match: re.Match[str]) -> str:
    told = re.search(_AS_ONE, match[0], re.IGNORECASE)
    return f"{match['b']}Knit 1 round over all sts, {told[0] if told else ''}"


def _again(match: re.Match[str]) -> str:
    many = match["n"] or match["m"]
    return f"{match['b']}Work in the round again over all {many + ' ' if many else ''}sts"
