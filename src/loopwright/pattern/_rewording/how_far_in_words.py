# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""How far and how often rows are worked, in words that others use: "up to 78 sts", "six ridges"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Means, Rewordings
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["how_far_in_words"]

_N = rf"(?:\d{{1,3}}(?: ?[(\[][^)\]]{{1,40}}[)\]])?|{'|'.join(NUMBER_WORDS)})"
_CRS = r"(?:rounds|rnds|rows)"
_ST = r"(?:knit|purl|k|p) ?\d{1,2}"
_TOG = r"(?:(?:knit|purl|k|p) ?(?:2|two) ?tog(?:ether)?|ssk|ssp|skpo?)"
_RIB = r"(?P<rib>(?:knit|k) ?\d,? (?:and )?(?:purl|p) ?\d)"
_ROUND = r"(?:,? (?:all |right |the whole way |all the way )?(?:a?round|about)|,? to (?:the )?end)"
_PIECE = r"(?:foot|leg|hand|body|cuff|palm|sleeve|brim|sole)"
_PLAIN = r"(?:straight|even|plain)(?: on)?"


def _by_numbers(match: re.Match[str]) -> str:
    """Put odd and even rows as rows 1 and 2, and "do rows 1 to 12" as how many there are."""
    row = match["c"].capitalize()
    many = f" Work {match['n']} {match['rows']} like these in all" if match["n"] else ""
    return f"{match['b']}{row} 1: {match['odd'].strip()} {row} 2: {match['even']}.{many}"


_ROWS: tuple[tuple[str, Means], ...] = (
    # "On right-side rows: …", "Odd-numbered rows: …. Even-numbered rows: …. Do rows 1 to 12"
    (r"(?P<b>^|[.;] )(?:on|in) (?:all |the |every )*(?P<side>right|wrong)[- ]side rows?: ", lambda match: f"{match['b']}{match['side'].capitalize()}-side rows: "),
    (rf"(?P<b>^|[.;] )(?:(?:all|the|on) )*odd(?:-| )?(?:numbered )?{_CRS}: (?P<odd>[^:]+[.;] )(?:(?:all|the|on) )*even(?:-| )?(?:numbered )?(?P<c>row|round|rnd)s: (?P<even>[^:.]+)\.(?: (?:do|work|knit) (?P<rows>{_CRS}) 1 ?(?:to|-|–|through) ?(?P<n>\d+)(?=[.;]|$))?", _by_numbers),
    # "dec rnd = k1, ssk, …": it is told, and not worked yet
    (r"^(?P<name>(?:[a-z]+ )?(?:dec|inc)\w*\.? (?:rnd|round|row)) ?= ?(?=[*(\[]|[kp] ?\d|(?:k|p|sl|knit|purl|ssk|yo)\b)", r"\g<name> (told only): "),
    # "Join and rib, *k1, p1* all round, for 12 rounds", "mine goes 20 rounds: knit 2, purl 2, the whole way about"
    (r"(?P<b>^|[.;] )join(?P<in>(?: in (?:the )?(?:round|rnd)| into a (?:ring|round|circle))?),? and (?P<rib>rib\b|work (?:in )?rib\b)", r"\g<b>Join\g<in>. \g<rib>"),
    (rf"(?P<b>^|[.;] )(?:rib|ribbing|the (?:rib|cuff|top)|cuff|top|welt)\b[^.;:*()]*? (?:goes|is|has|runs|takes|wants) (?:for )?(?P<n>{_N}) (?P<c>{_CRS}): {_RIB}{_ROUND}?(?= *[.;]|$)", r"\g<b>Work \g<n> \g<c> in \g<rib> rib"),
    (rf"(?P<b>^|[.;] ){_RIB}(?: rib)?,? (?:goes|runs|is worked) (?:on )?(?:for )?(?P<n>{_N}) (?P<c>{_CRS})(?= *[.;]|$)", r"\g<b>Work \g<n> \g<c> in \g<rib> rib"),
    # "Foot: straight for 46 rounds", "Now straight on in stocking stitch; when 24 rounds are done, the top begins"
    (rf"(?P<b>^|[.;] )(?:now |then )?{_PIECE}(?::| [–—-]) {_PLAIN}(?P<far> for (?:{_N}) (?:{_CRS}|cm|in\b|inches)|(?= until\b))", r"\g<b>Knit straight\g<far>"),
    (rf"(?P<b>^|[.;] )(?:(?:now|then) )?(?:(?:go|work|knit) )?(?:{_PLAIN})(?P<in> in (?:stocking stitch|stockinette|st st|rib|patt(?:ern)?))?[;,.] when (?:you have (?:done|worked|knitted|made) )?(?P<n>{_N}) (?P<c>{_CRS})(?: are (?:done|worked|made|knitted|on the needles?))?(?:, not counting [^,.;]*)?, [^.;:*\d]*(?=[.;]|$)", r"\g<b>Work \g<n> \g<c>\g<in>"),
    # "knit 9, knit 2 together, four times": all of it; "K3, k2tog around"
    (rf"(?P<b>^|[:;.] |\b(?:round|rnd|row),? )(?P<x>(?:{_ST}(?:,| and) )?{_TOG})[.]?, (?P<n>{_N}) times(?=[.;,(]|$| and\b)", lambda match: f"{match['b']}({match['x']}) {match['n']} times"),
    (rf"(?P<b>^|[:;.] |\b(?:round|rnd|row),? )(?P<x>{_ST}(?:,| and) {_TOG}),? (?:all |right )?(?:a?round|the way round)(?=[.;]|$)", lambda match: f"{match['b']}*{match['x']}; rep from * around"),
    (r"(?P<b>^|[.;] )(?:in|on) the next (?P<c>round|rnd|row),? (?=[(*\[])", r"\g<b>Next \g<c>: "),
    # "Rows 1 and 2 ..." that go on to a count
    (rf"\b(?:un)?til+ (?:the )?(?:stitch )?(?:count|number|total)(?: of (?:sts|stitches))? (?:is|reads|has come to|comes to) (?P<n>{_N})\b", r"until there are \g<n> sts"),
    (rf"(?P<go>\b(?:go on|continue|carry on|keep on|proceed|(?:and )?on in this manner)\b[^.:*]*?),? (?:up |down )?to (?P<n>\d{{1,3}}) (?:sts|stitches)\b(?! (?:before|after|from))", r"\g<go>, until there are \g<n> sts"),
    (rf"(?P<go>\b(?:go on|continue|carry on|keep on|proceed)\b[^.:*]*?),? ending (?:with|on|after) the (?P<c>row|round|rnd) (?:that|which) leaves (?:you (?:with )?)?(?P<n>\d{{1,3}})(?: (?:sts|stitches))?", r"\g<go>, until \g<n> sts remain"),
    (r"(?P<b>^|[.;] )and (?:so )?on (?=in this (?:way|manner)|like this)", r"\g<b>Continue "),
    # "Work 10 rows of this rib, then 20 rows of st st"
    (rf"(?P<first>\b(?:work|knit|do) {_N} {_CRS} (?:of|in) (?:this|that|the) (?:rib|pattern|patt|stitch|moss|lace)(?: (?:stitch|pattern))?),? (?:and )?then (?=(?:another )?{_N} {_CRS} (?:of|in) )", r"\g<first>. Work "),
)  # fmt: skip
_TABLE = Rewordings(_ROWS)


def how_far_in_words(said: MappedText) -> MappedText:
    """Return a line in the words that the reader knows for how far and how often.

    Examples
    --------
    >>> how_far_in_words(MappedText.of("Work 10 rows of this rib, then 20 rows of st st.")).text
    'Work 10 rows of this rib. Work 20 rows of st st.'
    """
    return _TABLE.put_in(said)
