# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rounds told for one half of the stitches, with words that say the other is worked alike.

"K1, ssk, k20, k2tog, k1; then the same again over the other half" is put as what the grammar
knows: ``*K1, ssk, k20, k2tog, k1; rep from * once more``.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["with_both_halves"]

_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_SHAPES = (
    r"(?:k2tog|ssk|skpo?|k ?2 ?tog|p2tog|m1\w?|kfb|(?:knit|k) (?:2|two) together|slip-knit-pass)"
)
_HALF = (
    r"(?:half|halves|sides?|needles?)(?: of (?:the )?(?:round|rnd|toe|sock|mitten|stitches|sts))?"
)
_OTHER = rf"(?:(?:the )?(?:other|second|2nd|next|remaining|rem) (?:half|side|needle|{_N}(?: (?:sts|stitches))?|sts|stitches)(?: of (?:the )?(?:round|rnd))?|(?:the )?(?:bottom|lower|back) (?:needle|one)|(?:the )?(?:sole|palm|back|needle 2|heel|sole needle)(?: (?:sts|stitches|needle))?)"
_SAME = r"(?:just |exactly )?(?:the )?(?:very )?same(?: again| thing| once more| decreases?| shaping| increases?)*"
_AGAIN = (
    rf"(?:(?:work|do|knit|make) )?(?:{_SAME}|this again|(?:it|that|this)(?: all)? (?:again|once more)|(?:once )?again|once more|so too|likewise) (?:over|on|for|across|along|with|at|in) {_OTHER}"
    rf"|rep(?:eat)?(?: this| it| that| the same| all this| these)?(?: once(?: more)?| again)? (?:over|on|for|across|along|with|at) {_OTHER}"
    rf"|(?:work|knit|do|shape) {_OTHER} (?:in )?(?:(?:just |exactly )?(?:the )?same(?: way| manner)?|alike|likewise|to match)"
    rf"|{_OTHER} (?:is (?:worked |shaped )?)?(?:(?:just |exactly )?(?:in )?(?:the )?same(?: way)?|likewise|alike)"
)
_ONCE = (  # with no place: where the row itself does not go to the end
    r"(?:rep(?:eat)?(?: this| it)? once(?: more)?"
    r"|(?:and |then )*(?:do|work|knit|rep(?:eat)?) (?:it|that|this|the same)(?: all)?(?: over)? (?:again|once more)"
    r"|(?:and |then )*the same (?:again|once more))"
)
_WHOLE = WordForm(r"\b(?:to (?:the )?end|around|round)\b")
_EACH = rf"(?:(?<=: )(?:each|both) (?:half|halves)(?=:)|(?:on|for|over|across|along) (?:each|every|both|either|the two)(?: of the)?(?: two)? (?!needle(?! ?s)){_HALF})"
_ROW = rf"(?P<row>(?![^.;:]*\bturn\b)(?=[^.;:]*\b{_SHAPES})(?:k|knit|p|purl|ssk|skp|sl|slip|m1|work)[^*.;:]*?)(?: (?:over|on|across) (?:the )?(?:first half|instep|front|first needle|needle 1)(?: (?:sts|stitches))?)?"
_START = (
    r"(?P<lead>^(?:\d{1,2}[.)] )?(?:(?:then|now|next),? )?|: ?)"  # a step's number may stand first
)
_TOLD_ONCE = WordForm(
    rf"{_START}{_ROW}(?:(?:[;,.]| -)(?: and| then| now)*| and(?: then)?) (?:{_AGAIN})(?=[.;(]| \(|$)|{_START.replace('lead', 'lead2')}{_ROW.replace('row>', 'row2>')}(?:[;,] {_ONCE}| and (?:then )?the same (?:again|once more))(?=[.(]| \(|$)",
)
_TOLD_FOR_EACH = WordForm(
    rf"{_START}{_ROW},? {_EACH}(?=[.;(]| \(|$)|(?P<lead2>(?:^|[:.] ?)(?:[^:.*]{{0,40}} )?){_EACH}(?:[:,] ?| )(?:work |do |make )?{_ROW.replace('row>', 'row2>')}(?=[.(]| \(|$)",
)
_ON_EACH_NEEDLE = WordForm(
    rf"{_START}{_ROW},? on (?:each|every) (?:of the )?needles?(?=[.;(]| \(|$)",
)
_TO_LAST = WordForm(
    rf"\bto (?:the )?last (?P<n>{_N})(?: (?P<sts>sts?|stitch(?:es)?)\b(?! (?:of|on|in)\b)|(?=[,;]))"
)
_LAST_OF_FIRST = WordForm(  # "to the last stitch of the top needle": of the one that is told
    rf"\bto (?:the )?last (?P<n>{_N} )?(?P<sts>sts?|stitch(?:es)?) (?:of|on) (?:the )?(?:top|upper|front|first) (?:needle|half|one)\b",
)
_MAY = WordForm(
    r"\b(?:bottom|lower|other|second|2nd|next|rem\w*|sole|palm|back|heel|once|half|halves|both|sides?|top|instep|front|needle|again|more)\b",
)


_STAR = WordForm(r"(?<=: )\* ?", re.NOFLAG)  # of "*k1, ssk, …; do the same on the other half"
_FROM_STAR = WordForm(
    r"\brep(?:eat)?(?:ing)?\b[^;.:]*\*|(?:from|between|since) \*|\* ?to",
)
_PLACE_BY_PLACE = WordForm(  # "on sole, then on instep: k1, ssk, …": the same on both needles
    r"\b(?:first )?on (?:the )?(?:(?P<under>sole|palm|heel)|instep|front|back|top)(?: sts| stitches)?,? (?:and |then |and then )(?:again )?on (?:the )?(?(under)(?:instep|front|back|top)|(?:sole|palm|heel))(?: sts| stitches)?[:,] (?=\*?(?:k|p|ssk|sl|knit|purl|m1)\b|\*?[kp]\d)",
)
_HALF_BY_NAME = r"(?:instep|sole|front|back|palm|heel|top|underside)"
_SAME_THERE = WordForm(  # "on the palm: k1, ssk, k to last 3 sts, k2tog, k1. On the back: the same"
    rf"\b(?:on |over |across )?(?:the )?(?P<a>{_HALF_BY_NAME})(?: sts| stitches| needle)?: ?(?P<row>(?=[^:;.*]*\b{_SHAPES})[^:;.*]+)[;.] (?:and )?(?:on |over |across )?(?:the )?(?!(?P=a)){_HALF_BY_NAME}(?: sts| stitches| needle)?: ?(?:(?:do |work )?{_SAME}|same|likewise|ditto|repeat|(?:as|like)(?: for| on)? (?:the )?(?P=a))(?=[.;(]| \(|\s*$)"
)
_BOTH_NEEDLES = WordForm(  # "both needles: k1, ssk, …", "now: on each needle: k1, ssk, …"
    r"(?P<lead>^(?:\d{1,2}[.)] |- )?(?:(?:then|now|next)[,:]? )?|[:.;] )(?:on )?both(?: of the)? needles[:,] (?=\S)"
    r"|(?P<lead2>^(?:\d{1,2}[.)] |- )?(?:then|now|next)[,:]? )on each needle[:,] (?=\S)"
)
_STARRED_ON_BOTH = WordForm(  # "*k1, kfb, k to last 2 sts, kfb, k1* on both tips", "…, once per needle"
    rf"(?P<open>[*(\[]) ?(?P<row>(?=[^*()\[\]]*\b{_SHAPES})(?![^*]*\brep(?:eat)?\b[^*]*\*)[^*()\[\]:]+?)(?:[*)\]],? ?(?:(?:once )?(?:on|for|per) )?(?:each|both|each of the|both of the|either)?(?: (?:two|2))? ?(?:needles?|tips?)|[;,] (?:(?:do|work) (?:the )?(?:other|second|next) (?:tip|needle) (?:in )?the same(?: way)?|rep(?:eat)? from \* on (?:the )?(?:other|second|next) (?:tip|needle)))(?=[.;(]| \(|\s*$)"
    rf"|(?<=: )(?P<row2>(?=[^*.;:]*\b{_SHAPES})[^*.;:]+?), (?:on )?(?:both|each)(?: of the)?(?: two)? (?:needles?|tips?)(?=[.;(]| \(|\s*$)"
)
_OF_THE_NEEDLE = WordForm(
    r"\bto (?P<n>(?:the )?(?:last )?\d+(?: sts?| stitch(?:es)?)?|(?:the )?last (?:st|stitch))(?: (?:before|from) the end)? (?:of|on) (?:the |this |each )?(?:tip|needle)\b|\bto (?P<n2>\d+(?: sts?| stitch(?:es)?)?) (?:before|from) (?:the )?end of (?:the |this |each )?(?:tip|needle)\b"
)
_IN_BRACKETS = WordForm(  # "(k1, ssk, k18, k2tog, k1) and the same again"
    r"(?<=\w)(?P<close>[)*])(?:[,;]? (?:and |then )*|[,;] )(?:the )?same (?:again|once more)(?=[.;,(]| \(|$)"
)
_UPPER, _LOWER = (
    r"(?:top|upper side|instep|front|back)",
    r"(?:bottom|underside|lower side|sole|palm|heel)",
)
_A_HALF = rf"(?:(?:first )?half(?:way(?: point| mark)?)?(?: of (?:the )?(?:sts|stitches|round|rnd))?|middle of the (?:round|rnd)|side(?: of (?:the )?[a-z]+)?(?! m\w*\b)|{_UPPER}(?: ?/ ?| or (?:the )?| ?\(){_LOWER}\)?(?: needle| sts)?)"
_BEFORE_HALF = WordForm(  # "*k1, ssk, knit to 3 sts before the half, k2tog, k1; rep from * once more"
    rf"(?<=[a-z] )(?:(?:until |to )(?P<n>{_N})(?: (?:sts?|stitch(?:es)?))? (?:before|short of|from|remain(?:ing)?(?: (?:of|on|in))?|left (?:of|on|in)) |to (?:the )?last (?P<n2>{_N} )?(?:sts?|stitch(?:es)?) (?:of|on) )(?:the |this |that |each )?(?:end of (?:the |this |that |each )?)?{_A_HALF}(?![^;*.]*\bk2tog\b[^;*.]*\b(?:ssk|skpo?)\b)(?=[,;] .*\b(?:rep(?:eat)? from \*|twice|two times|other|second|2nd|same))",
)  # "before the side, k2tog, k2, ssk" goes past the side
_PICKED = WordForm(  # "on each needle pick up 1 stitch from the gap, knit 28, and pick up 1 stitch"
    r"\bon (?:each|both)(?: of (?:the|your))?(?: two)? needles?,? (?P<row>pick up [^.;:*]*\bk(?:nit)? ?\d[^.;:*]*\bpick up [^.;:*]*)(?=[.;]|$)"
)
_WORK = WordForm(rf"^work (?=[kp] ?\d|{_SHAPES})")
_OURS = WordForm(r"\bon each half: ")  # which the grammar knows


def with_both_halves(said: MappedText) -> MappedText:
    """Return a line with a round told for one half put as one that is repeated for the other.

    Examples
    --------
    >>> told = MappedText.of("Round 1: K1, ssk, k9, k2tog; then the same over the other half.")
    >>> with_both_halves(told).text
    'Round 1: *K1, ssk, k9, k2tog; rep from * once more.'
    """
    said = said.sub(_PICKED, r"*\g<row>; rep from * once more")
    said = said.sub(_BOTH_NEEDLES, _on_each).sub(_STARRED_ON_BOTH, _on_each_starred)
    if _MAY.search(said.text) is None or _OURS.search(said.text):
        return said
    said = said.sub(_SAME_THERE, r"on each needle: \g<row>")
    said = said.sub(
        _BEFORE_HALF,
        lambda match: f"to last {(match['n'] or match['n2'] or '1').strip()} sts of this half",
    )
    said = said.sub(_IN_BRACKETS, r"\g<close> twice").sub(_PLACE_BY_PLACE, "on each needle: ")
    bare = said if _FROM_STAR.search(said.text) else said.sub(_STAR, "")
    if "*" in bare.text:
        return said
    told = bare.sub(_TOLD_ONCE, _twice).sub(_TOLD_FOR_EACH, _twice)
    told = said if told is bare else told
    return told.sub(_ON_EACH_NEEDLE, r"\g<lead>each needle: \g<row>")


def _on_each(match: re.Match[str]) -> str:
    lead = re.sub(
        r"(?:then|now|next)[,:]? $",
        "Next round: ",
        match["lead"] or match["lead2"] or "",
        flags=re.IGNORECASE,
    )
    return f"{lead}On each needle: "


def _on_each_starred(match: re.Match[str]) -> str:
    row = match["row"] or match["row2"]
    row = _OF_THE_NEEDLE.sub(lambda far: f"to last {_digits(far)} sts", row)
    return f"On each needle: {row}"


def _digits(far: re.Match[str]) -> str:
    many = re.search(r"\d+", far["n"] or far["n2"])
    return many[0] if many else "1"


def _twice(match: re.Match[str]) -> str:
    row = match["row"] or match["row2"]
    if match["row2"] and _WHOLE.search(row):
        return match[0]
    lead = match["lead"] if match["row"] else match["lead2"]
    lead = re.sub(r"[^:.]*$", "", lead) if not match["row"] else lead
    row = _LAST_OF_FIRST.sub(r"to last \g<n>\g<sts> of this half", row)
    row = _TO_LAST.sub(lambda last: f"to last {last['n']} {last['sts'] or 'sts'} of this half", row)
    row = _WORK.sub("", row)
    if not lead and row[:1].islower():
        lead = "Next round: "
    return (
        f"{lead or ''}{' ' if lead and not lead.endswith(' ') else ''}*{row}; rep from * once more"
    )
