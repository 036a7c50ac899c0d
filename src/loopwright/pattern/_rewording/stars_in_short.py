# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Repeats of a round told without their words: "*k5, k2tog; from * 6 times", "k2tog, yo, to the end"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings

__all__ = ["with_stars"]

_STS = r"(?:sts|stitches)"
_MANY = r"(?:\d{1,3}(?: ?[(\[][\d, ]{1,40}[)\]])?|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen)"
_RUN = r"(?:k(?:nit)?|p(?:url)?) ?\d{1,3}(?: ?[(\[][\d, ]{1,40}[)\]])?(?: tbl)?"
_CHANGE = r"(?:[kp][23] ?tog(?: tbl)?|ssk|ssp|skpo?|sk2p|s2kp|cdd|yo|m1[lr]?p?|kfb)"
_ITEMS = rf"(?:(?:{_RUN}|{_CHANGE}),? ){{1,8}}?"
_ROUND = r"(?:(?:all|right) (?:the way )?(?:a?round|along)|(?:all )?around|to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?)"


def _as_left(match: re.Match[str]) -> str:
    return f"*{match['items'].strip(' ,')}; rep from * to end. ({match['n']} sts)"


_WAYS = Rewordings(
    (
        (  # "Knit one round, decreasing thus: *k13, k2tog*"
            r"(?:^|(?<=[.;] ))(?:now |then )*(?:knit|work|k) (?:one|1|a) (?P<crs>round|rnd|row)(?:,| and) (?:de|in)creas(?:e|ing)(?: (?:as follows|thus|like this|in this way|this way|so))?[:,] (?=[*(\[])",
            r"Next \g<crs>: ",
        ),
        (  # "(k8 (9), k2tog), eight times in all sizes", "(k7 (8), k2tog), both 8 times"
            rf"(?P<end>[)\]]),? (?:(?P<both>both|all|each) )?(?P<n>{_MANY}) times(?(both)(?=[.;,(]|$)| (?:in|for) (?:all|both|each|every)(?: the)? sizes?\b)",
            r"\g<end> \g<n> times",
        ),
        (  # "rep from * to end (12 repeats)", "…, 24 times in all": how many there are then
            rf"(?P<far>\brep(?:eat)? from \* (?:{_ROUND}|across))(?:,|:| [–—-])? ?\(?{_MANY} (?:(?:pattern |lace )?repeats|times(?= in (?:all|total)))(?: in (?:all|total)| around| altogether)?\)?(?=[.;]|$)",
            r"\g<far>",
        ),
        (  # "*k5, k2tog; from * 6 times": six in all
            rf"\*\s*(?P<items>[^*\[\]()]{{2,80}}?)[;,] (?:(?:work|do|knit)(?: this)? )?from \* (?P<n>{_MANY}) times(?! more)\b",
            r"[\g<items>] \g<n> times",
        ),
        (  # "*yo, k2tog; work from * right round"
            rf"(?P<items>\*[^*]{{2,80}}[;,] )(?:(?:work|do|knit|go on|and so on)(?: this)? )?from \*,? (?:again )?(?:and again )?{_ROUND}",
            r"\g<items>rep from * to end",
        ),
        (  # "knit 8, k2tog, all round, which leaves 54 stitches", and the round told as talk
            rf"(?:^|(?<=[.;] ))(?:and )?(?:(?:now|next|then|again),? |(?:(?:on|in|for) )?the (?:following|next) (?:round|rnd),? (?:(?:it is|you|it goes|work) )?(?=k|p))(?P<items>{_ITEMS}{_CHANGE}),? (?:{_ROUND},? )?(?:(?:which|that|this|it) (?:leaves|makes|gives)|leaving|(?:so (?:that )?)?(?:you have|there are)|to (?:leave|have)) (?P<n>{_MANY})(?: {_STS})?(?: (?:are )?(?:left|remain(?:ing)?))?(?=[.;]|$)",
            _as_left,
        ),
        (  # "k2tog, yo, to the end of the round"
            rf"(?<=: )(?P<items>{_ITEMS}(?:{_CHANGE},|yo|m1)) to (?:the )?end(?: of (?:the )?(?:round|rnd|row))?(?=[.;(:]|$| \()",
            lambda match: f"*{match['items'].strip(' ,')}; rep from * to end",
        ),
        (  # "k9, m1, all round: 40 sts"
            rf"(?<=: )(?P<items>{_ITEMS}{_CHANGE}),? {_ROUND}: (?P<n>{_MANY}) {_STS}(?=[.;]|$)",
            _as_left,
        ),
    )
)


def with_stars(said: MappedText) -> MappedText:
    """Return a line whose repeats have their stars and words.

    Examples
    --------
    >>> with_stars(MappedText.of("Rnd 4: *k5, k2tog; from * 6 times. 36 sts.")).text
    'Rnd 4: [k5, k2tog] 6 times. 36 sts.'
    >>> with_stars(MappedText.of("Eyelets: k2tog, yo, to the end of the round.")).text
    'Eyelets: *k2tog, yo; rep from * to end.'
    """
    return _WAYS.put_in(said)
