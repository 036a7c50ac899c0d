# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that go on until so many stitches are there, in one form of words.

"And so on till you are down to 24", "carry on thus until you have 24 left" and "keep going to 24
sts" are all ``Continue in this way until there are 24 sts``.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm

__all__ = ["so_on_until"]

_THUS = r"(?:so|thus|(?:by|on|after|to) (?:this|that|the same) (?:rule|principle|scheme|plan)|following the pattern set|like (?:this|that)|(?:in )?(?:this|that) (?:way|manner|fashion)|in the same (?:way|manner|fashion)|as (?:set|you (?:have )?begun)|likewise)"
_GOES_ON = (
    rf"(?:(?:and|then|now),? )*(?:(?:so (?:on|forth)|on (?:you|we) go|and on|(?:keep|go on|carry on) (?:repeating|doing|working) (?:these|those|them|it|this|that)|do so|rep(?:eat)?|(?:follow|keep to) (?:this|that)(?: (?:rule|scheme|plan|principle))?|(?:widen|narrow)(?: further)?(?: {_THUS})?)"
    rf"|(?:go|carry|keep) on(?: (?:going|working|knitting))?(?: {_THUS})?|(?:continue|cont|proceed)(?: working| knitting)?(?: {_THUS})?|keep (?:going|at it)(?: {_THUS})?|(?:work|knit) {_THUS}"
    rf"|(?P<shape>(?:(?:keep(?: on)?|go on|carry on|continue) (?:de|in)creasing|(?:de|in)crease)(?: {_THUS})?))"
)
_LENGTHS = r"(?! ?(?:rounds?|rnds?|rows?|times|cm|mm|in\b|inch|\"|%|ridges?|rep))"
_MANY = rf"(?P<n>\d+(?: ?[(\[][\d, :;/]+[)\]])?){_LENGTHS}(?: (?:sts?|stitch(?:es)?)\b)?"
_REACHED = (
    rf"(?:(?:un)?til+,? (?:(?:you(?:['’]re| are)? (?:back |once more |again )?(?:have|got|get|are|reach|come|left|with|down|up|at|to)\b|there (?:are|remain)|(?:the |your )?(?:sts|stitches) (?:are|have been) (?:reduced|decreased|increased)|all(?= \d[\d ()\[\],]* (?:sts|stitches) are there)|(?:decreased|increased|reduced|worked)(?: (?:it|them))?|down|up|back|to|got|with|left|only|just|but|no more than|the last|the count is|it is|we are|we have|at|have|are) )*{_MANY}"
    rf"|(?:(?:all the way )?(?:down|up|back) )?to (?=\d[^.;,]*\bst){_MANY.replace('<n>', '<m>')})"
    r"(?: (?:are there|are left|remain(?:ing)?|left|on (?:the|your) needles?|in all|altogether|in total|are on the needles?|in the round|again))*"
)
_SO_ON = WordForm(
    rf"(?P<b>^|[.;] ){_GOES_ON},? {_REACHED}(?=\.|\s*$| ?[(\[]|,? (?:and )?(?:end|finish)(?:ing)? (?:with|after|on) )"
)


_ROWS = r"(?:(?:the|these|those|both|last|same|two|three|four|\d{1,2}(?:st|nd|rd|th)?|rounds?|rnds?|rows?|and|&|[-–]|to|them) ?)+"
_REPEATED = WordForm(  # "repeat rounds 1 and 2 till you are down to 24"
    rf"(?P<b>^|[.;] )(?P<rep>(?:keep (?:on )?)?(?:rep(?:eat)?(?:ing)?|work(?:ing)?|do(?:ing)?|knit(?:ting)?) {_ROWS}(?:over and over |again and again )?)(?=(?:un)?til+ (?:you(?:['’]re| are) (?:down|up)|you have (?:de|in)creased|the (?:sts|stitches) (?:are|have)|only|just)\b){_REACHED}(?=\.|\s*$| ?[(\[])"
)
_A_ROW = r"(?:a|the|one|your) (?:[a-z]+[- ]side |RS |WS |dec\w* |inc\w* |knit )?(?:row|round|rnd)"
_ROW_LEAVES = WordForm(  # "until a right-side row leaves you with 9 sts", "till you have worked a row that gives 9"
    rf"(?:un)?til+ (?:(?:you (?:have |are )?(?:worked|done|knit(?:ted)?|come to|reach(?:ed)?) )?{_A_ROW}(?: that| which)? (?:leaves|gives|brings|has|ends with|with|of)(?: you)?(?: with| to)?|you (?:have )?(?:come|got|get|reach)(?: back| down)?(?: to)?)(?: only| just)? {_MANY}"
)
_ALONE = WordForm(
    r"\b(?P<go>carry on|go on|continue|keep on|keep going|proceed)(?: like this)? (?:alone|by yourself|on your own|unaided|without help|yourself)\b"
)
_PATTERN = WordForm(  # "continue in this pattern until 18 sts remain"
    r"(?P<go>\b(?:carry on|go on|continue|cont|keep on|keep going|proceed) in )(?:this|that|the same) pattern(?=[ ,][^.;:*\d]{0,40}?\b(?:un)?till? [^.;]*\d+ ?(?:[(\[][\d, :;/]+[)\]])? (?:sts|stitches)\b)"
)
_AS_FAR_AS = WordForm(r"\bas far as (?:the )?(?P<row>[(*\[][kp]\d[^()\[\]*]*[)*\]])")
_NARROWER = WordForm(
    r"\bthe middle (?:getting|growing|becoming) (?P<n>\d|one|two|four) (?:sts?|stitch(?:es)?) (?:(?P<less>narrower|shorter|less|fewer)|wider|longer|more)(?= (?:each|every) )"
)
_ON_SIDES = WordForm(  # "carry on on RS rows"
    r"(?P<go>(?:^|[.;] )[a-z][^.;:*\d]{2,60}?) (?:on|in) (?:all |the |all the )?(?P<side>RS|WS|right[- ]side|wrong[- ]side) rows(?=,? (?:(?:un)?till?|to|with|working|having)\b)"
)
_SO_ON_WITH = WordForm(
    r"(?P<b>^|[.;] )(?:and )?so (?:on|forth),? (?=(?:with|working|having|knitting|always) )"
)
_THEM = WordForm(r"(?P<b>(?:^|[.;] )rep(?:eat)? )them (?=over and over|(?:un)?til\b|to \d+ st)")
_BY = WordForm(
    r"(?P<rep>(?:^|[.;] )(?:rep(?:eat)?|work|do) [^.;:*]{3,40}? )(?:x ?(?P<n>\d+)|(?P<m>\d+) ?x)(?P<more> more)?(?=\.|\s*$| ?[(\[])"
)


def so_on_until(said: MappedText) -> MappedText:
    """Return a line with rows that go on until a count told in one form of words.

    Examples
    --------
    >>> so_on_until(MappedText.of("And so on till you are down to 24.")).text
    'Continue in this way until there are 24 sts.'
    >>> so_on_until(MappedText.of("Keep decreasing so until you have 24 (28) left.")).text
    'Keep decreasing so until there are 24 (28) sts.'
    """
    said = said.sub(_ROW_LEAVES, r"until there are \g<n> sts").sub(_ALONE, r"\g<go> like this")
    said = said.sub(_PATTERN, r"\g<go>this way").sub(_AS_FAR_AS, r"until \g<row> has been worked")
    said = said.sub(_ON_SIDES, r"\g<go> on every \g<side> row")
    said = said.sub(_SO_ON_WITH, r"\g<b>Continue in this way, ").sub(
        _NARROWER,
        lambda one: f"with {one['n']} sts {'fewer' if one['less'] else 'more'} in the middle",
    )
    said = said.sub(_SO_ON, _in_one_form).sub(_THEM, r"\g<b>these rounds ")
    said = said.sub(_BY, r"\g<rep>\g<n>\g<m>\g<more> times")
    return said.sub(
        _REPEATED, lambda one: f"{one['b']}{one['rep']}until there are {one['n'] or one['m']} sts"
    )


def _in_one_form(match: re.Match[str]) -> str:
    if match.string[match.end() :].startswith(",") and _DO_SO.match(match[0]):
        return match[0]  # of rows by turns, told in the sentence before
    lead = match["shape"] or "continue in this way"
    if not match["b"].strip() or match["b"].startswith("."):
        lead = lead[0].upper() + lead[1:]
    return f"{match['b']}{lead} until there are {match['n'] or match['m']} sts"


_DO_SO = WordForm(r"\W*do so\b")
