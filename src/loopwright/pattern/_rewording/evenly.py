# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stitches lost or gained all along one round, in one form of words.

"Knit 1 round, decreasing to 44 sts" is ``Decrease evenly to 44 sts``; "on the next round work k2tog
four times, evenly spaced" is ``Next round: decrease 4 sts evenly``.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import MANY, whole_number

__all__ = ["with_even_shaping"]

_STS = r"(?:sts?\b|stitch(?:es)?\b)"
_LOSES = r"dec(?:r?\.|reas(?:e|ing))?|reduc(?:e|ing)|los(?:e|ing)|get(?:ting)? rid of|tak(?:e|ing) (?:in|away|out)"
_GAINS = r"inc(?:r?\.|reas(?:e|ing))?|gain(?:ing)?|add(?:ing)?|mak(?:e|ing)"
_CRS = r"(?P<crs>round|rnd|row)"
_EVENLY = r"(?:,? (?:evenly|equally)(?: (?:placed|spaced|spread|across|around|over|along|all|the|round|out))*)"
_HERE = rf"(?P<here>(?:on|in|over) the (?:next|following|first) {_CRS})"
_BEGIN = r"(?P<b>^|[.;] )(?:(?:and|then|now),? )*"
_STOP = rf"(?=\.|;|\s*$| ?[(\[—–=-]|, (?:and )?(?:{MANY}) {_STS})"
_TO = WordForm(  # "knit 1 round, decreasing to 44 sts", "reduce to 44 sts on the next round", "next rnd: knit, decreasing evenly to 44 sts"
    rf"(?:{_BEGIN}|(?<=: ))(?:(?:k|knit|work|purl)(?: (?:1|one|a|the next|another) (?:round|rnd|row))?(?:,| and|, and) )?(?:(?P<loses>{_LOSES})|(?P<gains>{_GAINS}))(?: the)?(?: {_STS})?{_EVENLY}?(?: (?:on|in) the next (?:round|rnd|row))? (?:down |up )?to (?P<n>{MANY}) {_STS}{_EVENLY}?(?: (?:on|in) the next (?:round|rnd|row))?{_STOP}"
)
_BY = WordForm(  # "in the next round lose 4 sts, evenly spread", "add 4 sts evenly on the next round"
    rf"{_BEGIN}(?:{_HERE},? (?:(?P<loses>{_LOSES})|(?P<gains>{_GAINS})) (?:by )?(?P<n>{MANY})(?: {_STS})?{_EVENLY}|next {_CRS.replace('crs', 'crs3')}, (?:(?P<loses3>{_LOSES})|(?P<gains3>{_GAINS})) (?P<n3>{MANY})(?: {_STS})?{_EVENLY}?"
    rf"|(?:(?P<loses2>{_LOSES})|(?P<gains2>{_GAINS})) (?:by )?(?P<n2>{MANY})(?: {_STS})?{_EVENLY}? (?:on|in) (?:the next|one|a) {_CRS.replace('crs', 'crs2')}){_STOP}"
)
_WORKED = WordForm(  # "on the next round work k2tog four times, evenly spaced"
    rf"{_BEGIN}(?:{_HERE},? (?:work|knit)|(?:k|knit|work) (?:1|one|a|the next) {_CRS.replace('crs', 'crs2')},? (?:and |while )?(?:work(?:ing)?|mak(?:e|ing)|knitting|taking)) (?:(?P<dec>k2tog|ssk|2 tog(?:ether)?|two together)|(?P<inc>m1|kfb|an? (?:inc|increase)))(?: (?P<n>{MANY}) times)?{_EVENLY}{_STOP}"
)
_MAKES = WordForm(  # "knit 1 round and make 4 evenly"
    rf"{_BEGIN}(?:k|knit) (?:1|one|a|the next) {_CRS} and (?:(?P<loses>{_LOSES})|(?P<gains>{_GAINS})) (?P<n>{MANY})(?: {_STS})?{_EVENLY}{_STOP}"
)


def with_even_shaping(said: MappedText) -> MappedText:
    """Return a line with what is lost or gained all along a round told in one form of words.

    Examples
    --------
    >>> with_even_shaping(MappedText.of("Knit 1 round, decreasing to 44 (48) sts.")).text
    'Decrease evenly to 44 (48) sts.'
    >>> with_even_shaping(MappedText.of("On the next round work k2tog four times, evenly spaced.")).text
    'Next round: decrease 4 sts evenly.'
    """
    said = said.sub(_TO, _to).sub(_BY, _by).sub(_WORKED, _worked)
    return said.sub(_MAKES, _by)


def _figure(many: str) -> str:
    return many if many[0].isdigit() else str(whole_number(many))


def _to(match: re.Match[str]) -> str:
    how = "Decrease" if match["loses"] else "Increase"
    return f"{match['b'] or ''}{how} evenly to {_figure(match['n'])} sts"


def _by(match: re.Match[str]) -> str:
    told = match.groupdict()
    many, loses, course = (
        next((told[key + at] for at in ("", "2", "3") if told.get(key + at)), None)
        for key in ("n", "loses", "crs")
    )
    how = "decrease" if loses else "increase"
    return f"{match['b']}Next {course or 'round'}: {how} {_figure(many or '1')} sts evenly"


def _worked(match: re.Match[str]) -> str:
    how = "decrease" if match["dec"] else "increase"
    course = match["crs"] or match["crs2"]
    return f"{match['b']}Next {course}: {how} {_figure(match['n'] or '1')} sts evenly"
