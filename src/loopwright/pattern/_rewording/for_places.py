# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Words behind stitches that tell what they are for: "k28 for the sole, rib to end (instep)"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["without_idle_places", "without_places"]

_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_STS = r"(?: (?:sts?|stitch(?:es)?))?"
_PLACE = (
    r"(?:the |your )?(?:sole|instep|palm|back(?: of (?:the )?(?:hand|leg|foot|sock))?|front"
    r"|top of (?:the )?(?:foot|hand)|underside|underfoot|bottom|body|border|edging|panel|band)"
)
_FOR = r"(?:for|as|to form|to make|forming|making)"
_OVER = r"(?:across|over|along|on)"
_END = r"(?=\s*(?:[,;.]|$))"
_ROW = WordForm(r"(?:next|set-?up|first|last|inc|dec|rnds?|rounds?|rows?)\b[^:.;*]*:")
_RUN = WordForm(rf"\b((?:k|p|knit|purl) ?{_N}){_STS} {_FOR} {_PLACE}{_STS}{_END}")
_RUN_OVER = WordForm(rf"\b((?:k|p|knit|purl) ?{_N}){_STS} {_OVER} {_PLACE}{_STS}{_END}")
_OFTEN = WordForm(rf"\b(times|twice) (?:{_FOR}|{_OVER}) {_PLACE}{_STS}{_END}")
_TO_END = WordForm(rf"\b(to (?:the )?end|around) {_FOR} {_PLACE}{_STS}(?=\s*(?:\.|$))")
_THOSE = WordForm(
    rf"\b(k|knit|p|purl) (?:across )?(?:the )?({_N}) (?:sole|palm|back|underside) (?:sts|stitches){_END}",
)
_LED = WordForm(
    rf"(?P<joint>:|[;,.](?: and| then)*) (?:(?:for|{_OVER}) {_PLACE}{_STS})[,:]? "
    r"(?=[kp] ?\d|(?:knit|purl) (?:\d|to)|[*(\[])",
)
_LAST_STARS = WordForm(
    rf"(\* ?[^*:;]*[;,] ?rep(?:eat)? from \*) (?:across|over|along) {_PLACE}{_STS}(?=\s*(?:\.|$))",
)
_HELD_THERE = WordForm(
    rf"\b(k|knit|rib|p|purl|work) (?:across )?{_PLACE} \(({_N}) (?:sts|stitches)\)"
)
_REST = re.compile(  # "k28, rib the remaining 28 sts"
    r"(?<=[:;,] )(?:and |then )*(?:rib|patt(?:ern)?|keep|work|knit)(?: across)?(?: (?:in|to|all))*"
    rf" (?:the )?(?:rem|remaining|other|rest|last)(?: of)?(?: the)?(?: {_N})?(?: [a-z]+)?"
    r"(?: (?:sts|stitches|round|rnd|row))?,? (?:in )?(?P<how>(?:(?:k\d, ?p\d )?rib(?:bing)?|patt\w*"
    r"|as set|as before|as est\w*|as (?:they|the sts) (?:are|appear|come))\b[a-z ]*)(?=\s*(?:\.|$))",
    re.I,
)
_RIB_REST = re.compile(
    rf"(?<=[:;,] )(?:and |then )*(?:rib|patt(?:ern)?) (?:across |over )?(?:the |all )*(?:rem|remaining|other|rest|last)(?: of)?(?: the)?(?: {_N})?(?: [a-z]+)?"
    rf"(?: (?:sts|stitches|round|rnd|row))?(?: {_FOR} {_PLACE})?(?=\s*(?:\.|$))",
    re.I,
)
_IN_RIB = re.compile(
    r"(?<=[:;,] )(?:and |then )*(?:work|continue|cont) (?:to (?:the )?end (?:of (?:the )?(?:round|rnd|row) )?in (?:rib|patt\w*)|in (?:rib|patt\w*) to (?:the )?end)"
    r"(?: as (?:set|before|est\w*))?(?=\s*(?:\.|$))",
    re.I,
)
_STARS = WordForm(  # "*k2, p2; rep from * over 28 sts, k28", "*sl 1, k1* until 18 sts are worked. Turn"
    rf"[*(\[]\s*(?P<body>(?:(?:[kp]|sl|slip) ?\d+(?:, ?|(?=[,;*)\]])))+)(?:[,;]? ?rep(?:eat)? from \*|[*)\]]),? "
    rf"(?:(?:{_OVER}|for) (?:the )?(?:(?:first|next|last) )?(?P<n>{_N}) (?:[a-z]+ )?(?:sts|stitches)"
    rf"|until (?:you have (?:worked )?)?(?P<m>{_N}) (?:sts|stitches)(?: (?:are|have been|were)(?: now)? worked)?)"
    r"(?=[,;]| and|\. turn\b)",
)


_IDLE = (  # no place that a text sets apart
    r"(?:the |your )?(?:palm|back(?: (?:of (?:the |your )?(?:hand|leg|neck|head)|neck))?|front(?: band)?|top of (?:the |your )?(?:foot|hand)"
    r"|border|edging|band|brim|body|panel|neck|crown|shoulder)"
)
_STITCH = (
    r"(?:[kp] ?\d|(?:knit|purl|slip|sl) ?(?:\d|to\b)|ssk|ssp|sk2?p|skpo|yo\b|m1|kfb|[*(\[](?! ?\d))"
)
_IDLE_LEAD = WordForm(
    rf"(?P<joint>^|^[^:.;*]{{3,40}}: |[;,.] )(?:(?:and|then|now) )*(?:work )?(?:for|from|{_OVER}) (?:(?:all )?(?:the )?(?:{_N} )?(?:sts|stitches) (?:of|on) )?{_IDLE}{_STS},?:? (?={_STITCH})"
)
_IDLE_END = WordForm(
    rf"(?:(?<=tog)|(?<=ssk)|(?<=skpo)|(?<=times)|(?<=twice)|(?<=[)\]])) (?:{_OVER}) {_IDLE}{_STS}(?=[;,.]|$)"
)


def without_idle_places(said: MappedText) -> MappedText:
    """Return a sentence without the places at its stitches; all must be in work.

    Examples
    --------
    >>> without_idle_places(MappedText.of("Across the back k2tog, k17, k2tog.")).text
    'k2tog, k17, k2tog.'
    """
    return said.sub(_IDLE_LEAD, r"\g<joint>").sub(_IDLE_END, "")


_SOME = r"(?:(?:the|your|both|all) )*(?:instep|sole|heel|gussets?|palm|back(?: of (?:the )?hand)?|front|top of (?:the )?(?:foot|hand)|thumb(?: gusset)?|rest|others?)(?: sts| stitches)?"
_FABRIC = r"(?:(?:in |as )?(?:the )?(?:(?:established|set|main|usual) )?(?:st\.? ?st\b|stockinette(?: st(?:itch)?)?|stocking st(?:itch)?|patt(?:ern)?|(?:broken |slipped )?rib(?:bing)?|lace|cables?(?: patt(?:ern)?)?|(?:set|est\w*|before)\b)(?: as (?:set|est\w*|before))?|knit(?:ted)?|plain)"
_SO = r"(?:without (?:any )?(?:shaping|(?:de|in)creas\w+)|no (?:shaping|decreas\w+|increas\w+))"
_PLAINLY = rf"(?:(?:work|knit|k) )?(?:even|plain|straight|{_SO})"
_EVEN = rf"(?:(?:work|knit|k)\b(?: (?:(?:one|1|a) )?(?:round|rnd))?(?:,? (?:even|plain|straight|{_SO}))*|{_PLAINLY})(?: (?:on|over|across) all (?:sts|stitches))?"
_DO = r"(?:(?:work|knit|keep|leav)(?:ing)? )?"
_PIECE = rf"(?:{_DO}{_SOME}(?:,? (?:and|&) {_SOME})?,? (?:(?:is|are|stays?|remains?|kept|worked) )*{_FABRIC}|{_DO}{_FABRIC} (?:on|over|across|for) {_SOME})"
_SEP = r"(?:[,;:] (?:(?:and|with|but|while|still) )*| \((?:with )?| (?:and|with|but|while) )"
_EVEN_BY_PLACES = WordForm(  # "Rnd 2: Work even, instep in patt and sole in St st."
    rf"(?P<label>^(?:next |even |plain )?(?:rnds?|rounds?|rows?)\b[^:.*]{{0,24}}: |^\d+(?:st|nd|rd|th) (?:rnd|round|row): )"
    rf"(?:{_EVEN}(?:{_SEP}{_PIECE})+\)?|{_PIECE}(?:{_SEP}{_PIECE})*{_SEP}{_PLAINLY})(?=\.?$|\.? ?[(\d])"
)


def without_places(said: MappedText) -> MappedText:
    """Return a row without the words that only say what its stitches are for.

    Examples
    --------
    >>> without_places(MappedText.of("Rnd 1: K28 for the sole, k28 for the instep.")).text
    'Rnd 1: K28, k28.'
    >>> without_places(MappedText.of("Rnd 1: *K2, p2; rep from * over 28 sts, k28.")).text
    'Rnd 1: [K2, p2] 7 times, k28.'
    """
    if _ROW.match(said.text) is None:
        return said
    said = said.sub(_EVEN_BY_PLACES, r"\g<label>Work even")
    said = said.sub(_RUN, r"\1").sub(_TO_END, r"\1").sub(_OFTEN, r"\1").sub(_STARS, _so_often)
    for rest in (_REST, _RIB_REST, _IN_RIB):
        said = said.sub(rest, "rib to end")
    if re.search(r"\bpick", said.text, re.I):  # what was held comes back
        return said
    return (
        said.sub(_RUN_OVER, r"\1")
        .sub(_THOSE, r"\1 \2")
        .sub(_LED, _joint)
        .sub(_LAST_STARS, r"\1 to end")
        .sub(_HELD_THERE, r"\1 \2")
    )


def _joint(said: re.Match[str]) -> str:
    return ": " if said["joint"] == ":" else ", "


def _so_often(said: re.Match[str]) -> str:
    """Put a number of times for "rep from * over the 28 instep sts", more stitches behind it."""
    width = sum(int(one) for one in re.findall(r"\d+", said["body"]))
    sizes = [int(one) for one in re.findall(r"\d+", said["n"] or said["m"])]
    if not width or any(size % width for size in sizes):
        return said[0]
    first, *rest = [size // width for size in sizes]
    times = f"{first} ({', '.join(map(str, rest))})" if rest else str(first)
    return f"[{said['body'].strip(' ,;')}] {times} times"
