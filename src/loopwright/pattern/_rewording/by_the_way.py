# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What people say by the way, before or behind what is to be done: "Next, …", "… with the RS facing"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings

__all__ = ["without_what_is_by_the_way"]

_NEEDLES = (
    r"(?:with|on|using|in) (?:the |your |a |an )?(?:pair of )?(?:(?:smaller|larger|bigger|thinner|thicker|finer|original|US ?\d+|size \d+|\d+(?:\.\d+)? ?mm)(?:,? (?:and )?| ))+"
    r"(?:size )?(?:needles?|dpns|pins|circular(?: needle)?)"
)
_TENSION = (
    r"(?:(?:keeping|with|at|in|using) (?:an? |the |your )?(?:nice |fairly |very )?(?:even|comfortable|loose|firm|gentle|relaxed|steady|normal|usual) (?:tension|gauge)"
    r"|keeping (?:the|your|an?) (?:tension|gauge|yarn) (?:even|loose|firm|relaxed|steady))"
)
_FACING = r"with (?:the )?(?:rs|right side|ws|wrong side) (?:facing|towards)(?: (?:you|me|up|out|outwards))?"
_BEFORE = r"before (?:you (?:go|carry|move|continue)|going|carrying|moving|continuing)(?: on)?"
_ROUND = r"(?:all|right|all the way|the whole way|completely) (?:a?round|about)"
_ALONG = r"as you (?:go|knit|work)(?: along| round| around)?"
_TAIL = rf"(?:{_NEEDLES}|{_TENSION}|{_BEFORE}|{_ALONG}|keeping (?:the |your )?edges? (?:neat|even|tidy|firm|straight|loose)|ready (?:for|to (?:begin|start)) the [a-z]+|for (?:your|the chosen) size)"
_ENDS = r"(?P<ends>\b(?:rounds?|rnds?|rows?|end|evenly|turn|sts?|stitch(?:es)?|off|k2tog|ssk|times|twice|cm|mm|inches|ins?|rib|yarn|holder|each|needles?|edge|knit|purl)\b|\d|[\")\]]),? "
_STOP = r"(?=\s*(?:[.;]|$))"
_WORKS = r"(?:k|p|knit|purl|work|rib|dec\w*|inc\w*|bind|cast|place|put|slip|rep|repeat|continue|join|graft|turn|divide|pick|(?:next|foll\w*) (?:round|rnd|row)|(?:round|rnd|row)s? \d+)\b|[kp]\d|[*(\[]"
_PART = r"(?!round|rnd|row)[a-z]+"
_DONE = rf"(?:when|once|as soon as|after) (?:you(?:['’]re| are) ready|(?:the|this|that) {_PART} is (?:done|finished|completed?|worked|knitted)|you have (?:finished|completed|worked|done) the {_PART})"
_LEAD = rf"(?:next|first|firstly|secondly|thirdly|first of all|first off|to (?:begin|start|finish|end)(?: with)?|after (?:that|this)|{_DONE}|{_NEEDLES}|{_TENSION}),"
_PLACE = rf"for the (?:cuff|leg|brim|body|wrist|border|band)|{_FACING}|(?:beginning|starting) (?:at|from|with) the marker"
_CHANGED = r"(?:change|switch|swap|go (?:up|down)) to (?:the |your )?(?:smaller|larger|bigger|thinner|thicker|finer) (?:size )?(?:needles?|dpns|pins)(?:,? (?:and(?: then)?|then)|,)"


def _beginning(match: re.Match[str]) -> str:
    return f"{match['before']}{match['first'].upper()}"


def _facing(match: re.Match[str]) -> str:
    """Leave which side is told where stitches are picked up: it tells from where."""
    return match[0] if "pick" in match.string[: match.start()].lower() else match["ends"]


_N = r"\d+(?: ?[\[(][^)\]]{1,60}[)\]])?"
_LIE = rf"{_N} (?:[a-z]+ )?(?:sts|stitches) (?:(?:lie|are|stand|sit|wait|live) )?(?:on|at|to) (?:either|each|both) (?:sides?|ends?) of (?:the )?{_N} (?:[a-z]+ )?(?:sts|stitches)"


_FORMS = Rewordings(
    (
        (  # "work back and forth on needle 2, where 10 gusset sts lie on either side of the 24 heel sts"
            rf",? (?:where(?: there are| you have)?|which (?:has|holds|now holds)|with) {_LIE}{_STOP}",
            "",
        ),
        (  # "work 7 more rows the same, RS and WS alike"
            rf",? (?:on )?(?:both sides|(?:rs|right side) and (?:ws|wrong side)|(?:ws|wrong side) and (?:rs|right side))(?: rows)? (?:alike|the same){_STOP}",
            "",
        ),
        (rf"(?P<before>^|[.;] +)(?:{_LEAD}|{_CHANGED}) (?=(?:{_WORKS}))(?P<first>\S)", _beginning),
        (rf"(?P<before>^|[.;] +){_NEEDLES},? (?P<first>p)(?=ick up\b)", _beginning),
        (
            rf"(?P<before>^|[.;] +)(?:{_PLACE}), (?=(?:divide|dec\w*|inc\w*|turn|place|put)\b)(?P<first>\S)",
            _beginning,
        ),
        (rf"{_ENDS}{_TAIL}(?:,? (?:and )?{_TAIL})?{_STOP}", r"\g<ends>"),
        (rf"{_ENDS}{_FACING}{_STOP}", _facing),
        (rf"(?P<ends>\b(?:rounds?|rnds?|end)),? {_ROUND}{_STOP}", r"\g<ends>"),
        (
            rf"(?P<does>(?:^|[.;] +)(?:knit|purl|k|p) [^.;:]*?),? (?:without|with no) (?:any |further |more )*shaping{_STOP}",
            r"\g<does>",
        ),
    )
)


def without_what_is_by_the_way(said: MappedText) -> MappedText:
    """Return a line without what asks for nothing that a count could show.

    Examples
    --------
    >>> said = "Next, purl 1 round with the smaller needles. Knit 20, turn with WS facing."
    >>> without_what_is_by_the_way(MappedText.of(said)).text
    'Purl 1 round. Knit 20, turn.'
    """
    return _FORMS.put_in(said)
