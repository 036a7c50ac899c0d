# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A sentence that was lost, said in plainer words: ends of repeats, numbers of times, what stitches are like.

Such a phrase may be worded in any way; what it means is known by the few words that bear meaning
in it. Here all others are left out. This is tried where a sentence was not understood as it stands.
"""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._rewording.wordings import COUNT

__all__ = ["plainer"]

_N = rf"(?:{COUNT}|one|two|three|four|five|six|seven|eight|nine|ten|twelve)"
_STS = r"(?:sts|stitches|st|stitch)\b"
_CRS = r"(?:rounds|rnds|rows)"
_STOP = r"(?=\s*(?:[.,;)\]]|\(|$))"
_FULLY = (  # words of which none says more than that nothing is left out
    r"(?:(?:the|this|your|whole|entire|full|right|clear|complete(?:ly)?|very|all|every|way|long|round|around|about|across|along|"
    r"through(?:out)?|over|back|to|until|till|of|row|rnd|circle|needles?|end|start|beginning|marker|you|come|reach|get|are|again|on|and|so|it|is|"
    r"used|up|done|sts|stitches|off)\b ?)"
)
_LIKE = (  # what stitches are like, in any word but those that say where they lie, or what to do
    r"(?!(?:k|p|sl|knit|purl|slip|held|hold\w*|wait\w*|rest\w*|remain\w*|rem|left|unworked|unknit|wrapp?e?d?|new|picked|live|cast|bound|more|fewer|less|further|"
    r"extra|instep|sole|heel|flap|gusset|thumb|ds|double|other|edge|side|corner|end|gap|marker|needle|in|on|at|of|to|for|from|with|by|and|or|times?|"
    r"rounds?|rnds?|rows?|sts?|stitch\w*|turned|first|last|next|total|each|every|decreased|increased|dec|inc|as|than|before|after|between|over|under|"
    r"tog\w*|cm|mm|inch\w*|in|m|ms|markers|loops?|wraps?|slipped|up|down|are|is|be|will|should|you|have|now|there|again|twice|once)\b)[a-z][a-z'’-]+"
)
_COUNTED = r"(?:pairs|ribs|repeats|repetitions|ridges|waves|groups|units|panels|wedges|sections|segments|points|motifs|cables|garter ridges|times)"
_FORMS = Rewordings(
    (
        # "k1, *k1, put the left tip through both …; rep from * till all are off"
        (rf"^(?:[^:*]{{1,40}}: )?[^:]*[,;] ?rep(?:eat)? from \* (?:un)?till? (?:all|every|each)(?: of| the)*(?: {_STS})? (?:are|is|have been|has been|come) (?:off|bound off|cast off)\b[^;*]*$", "bind off all sts"),
        # "rep from * the whole way round", "repeat from * right around to the marker"
        (rf"\b(?P<rep>rep(?:eat)?\.?(?: from)? \*)(?: (?!(?:(?:to|until|till|the|of|on|and) ?)+\W*$)(?P<full>{_FULLY}+?)){_STOP}", r"\g<rep> to end"),
        # "rep from * on the other needle", "repeat from * along the second half"
        (rf"\b(?P<rep>rep(?:eat)?\.?(?: from)? \*)(?: (?:on|over|along|across|for|with|to the end of))? (?:the )?(?:other|second|next|remaining|back) (?:needle|half|side){_STOP}", r"\g<rep> once more"),
        # "rep from * 7 times total"
        (rf"(?<=\*) (?P<n>{_N}) times,? (?:total|overall|all told|(?:all )?together|in sum|as a whole)\b", r" \g<n> times in all"),
        # "knit to 1 st from needle's end"
        (rf"\b(?P<to>to|until|till) (?P<n>{_N})(?P<sts> {_STS})? (?:remain )?(?:before|from|short of|shy of|away from|this side of) (?:the |this |that |your |each )?(?P<of>needle|half|side|row|round|rnd)(?:'s|’s|s') end\b", r"\g<to> \g<n> sts before the end of the \g<of>"),
        # "purl the 2 new sts and the foll 14 sts"
        (rf"\b(?P<do>k|p|knit|purl) (?:the |these |your )?(?P<n>{COUNT}) (?:[a-z-]+ ){{0,2}}(?:{_STS})?,? ?(?:and|then|plus) (?:the |these )?(?:foll(?:owing)?\.? |next |other |first |last )?(?P<m>{COUNT}) (?:[a-z-]+ )?{_STS}(?! (?:tog|before|from))", r"\g<do> \g<n> sts, \g<do> \g<m> sts"),
        # "K and p alternately to end, i.e. (k1, p1) 9 times"
        (r"^(?P<label>[^:*]{1,40}: )?[^:;*()\[\]\d]{3,60}?,? (?:i\.e\.|ie|that is(?: to say)?|namely|in other words|which is)[,:]? (?=[*(\[]|[kp] ?\d)", lambda match: match["label"] or ""),
        # "Rib: k1, p1 around, 5 rounds. (24 sts)"
        (rf"^(?:[a-z ]{{3,20}}: )?(?P<items>[kp] ?\d+(?: tbl)?,? (?:and )?[kp] ?\d+(?: tbl)?) (?:all )?(?:a?round|across),? (?:for )?(?P<n>{COUNT}) (?P<c>{_CRS}){_STOP}", r"work \g<n> \g<c> of \g<items> rib"),
        # "Sl 1, k1 across; that is 13 pairs"
        (rf"(?:[,;:.–—-]|(?<=\w)) ?(?:(?:and|so|for) )?(?:that(?: is|'s|’s)|this is|which is|it is|(?:that|this|it|which) (?:makes|gives|comes to)|making|giving|i\.?e\.?,?|=) (?:you )?(?:a total of |in all |altogether )?{_N} {_COUNTED}(?: (?:in all|in total|altogether|of \w+))?{_STOP}", ""),
        # "work the 4 wave rounds 12 times; that's 48 rounds", "both rows a total of 13 times = 26 rows"
        (rf"(?P<times>\b(?:times|twice|once more)(?: more)?(?:,? (?:in all|in total|altogether|total))?) ?(?:[,;:.–—-]|(?<=\w)) ?(?:(?:and|so|for|to|you|will|have|now|then|should|there|are|that|this|it|which|is|was|makes?|making|gives?|giving|worked|done|i\.?e\.?|in all|altogether|a total of|=|'s|’s)(?:[ ,]|(?=['’])))*(?P<n>{COUNT}) (?:[a-z]+ )?(?P<c>{_CRS})(?: (?:in all|in total|altogether|total|all told|together|so far|worked|done))*{_STOP}", r"\g<times> (\g<n> \g<c>)"),
        # "Work it 15 times" behind a round, "Do the same twice more"
        (rf"^(?:(?:and|then|now) )*(?P<do>work|do|knit|repeat|rep) (?:it|this|that|that one|so|the same)(?= (?:a total of |another |a further )?(?:{_N} (?:more )?times|once|twice))", r"\g<do> this row"),
        # "then purl the 21 speckled sts"
        (rf"\b(?P<do>k|p|knit|purl|sl|slip) (?:the |these |those |your |all )?(?:next |following |first |last )?(?P<n>{COUNT}) {_LIKE}(?: {_LIKE}){{0,2}} {_STS}", r"\g<do> \g<n> sts"),
    )
)  # fmt: skip


def plainer(said: MappedText) -> Iterator[MappedText]:
    """Yield a sentence in plainer words, if it has any.

    Examples
    --------
    >>> [one.text for one in plainer(MappedText.of("*K3, p1; rep from * the whole way round."))]
    ['*K3, p1; rep from * to end.']
    >>> list(plainer(MappedText.of("*K3, p1; rep from * to the heel.")))
    []
    """
    plain = _FORMS.of(said.text)
    if plain.text != said.text:
        yield MappedText(plain.text, tuple(said.at[place] for place in plain.at))
