# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Other ways of saying that rows are worked again: on which side, how they end, what is repeated."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings

__all__ = ["with_repeats"]

_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_C = r"(?:rounds?|rnds?|rows?)\b"
_RS, _WS = r"(?:rs|right[- ]side|right)", r"(?:ws|wrong[- ]side|wrong)"
_BOTH = rf"[(]?(?:on )?(?:the )?{_RS}(?: {_C})? (?:and|&|as well as) (?:on )?(?:the )?{_WS}(?: (?:{_C}|sides?))?(?: alike| both)?[)]?"
_EVERY = rf"(?:every|each|all)(?: single)? {_C}"
_KIND = r"(?:[rw]s|right[- ]side|wrong[- ]side|knit|purl|first|last|second)"

_FEW = r"(?:\d{1,2}|two|three|four|five|six|seven|eight|nine|ten|twelve)"
_GROWING = r"(?:one|1|two|2) (?:more|fewer|less) (?:knit )?sts?(?: more)? (?:before|between|after) [^.;*:\d]*?"

_ROWS = {"r": "rnds", "rn": "rnds", "ro": "rounds"}


def _are_shares(match: re.Match[str]) -> bool:
    """Tell whether what lies on each needle, so many times, is what there is in all."""
    each, whole = ([int(n) for n in re.findall(r"\d+", match[key])] for key in ("each", "n"))
    often = {a // b if b and not a % b else 0 for a, b in zip(whole, each, strict=False)}
    return len(each) == len(whole) and len(often) == 1 and often <= {2, 3, 4}


_WAYS = Rewordings(
    (
        (  # "continue to increase 8 sts every other round, with one more st before each kfb. Work until …"
            rf"\b(?P<on>(?:continue|keep(?: on)?|go on|carry on)(?: to)? (?:inc|dec)reas(?:e|ing)\b(?:(?!\buntil\b)[^.:*])*?\b{_GROWING}(?=[.;:(]|,? ending| \())(?:[.;:](?: (?:work|continue|do (?:so|this)|go on)(?: (?:like this|in this way))? until(?: there are| you have)?)?|,? ending with [^.:]*\.)? [(]?(?P<n>{_N}) sts[)]?(?P<left>(?: (?:are left|remain))?)(?: after (?:round|rnd) \d+)?(?=[.;]|$)",
            r"\g<on> until there are \g<n> sts\g<left>",
        ),
        (
            rf"\b(?:(?P<c>C)|c)ontinue(?: to)? (?P<what>inc|dec)reas(?:e|ing)\b[^.:*]*?\b{_GROWING},? (?:until you have worked|for) (?P<times>{_FEW}) more (?:inc|dec)\w* (?P<crs>round|rnd|row)s(?=[.;]|$)",
            lambda match: (
                f"{'W' if match['c'] else 'w'}ork {match['times']} more {match['what']} {match['crs']}s"
            ),
        ),
        (  # "increase 8 sts in every other round, knitting one more st before each kfb, 4 more times"
            rf"(?P<before>^|[.;] )(?P<what>inc|dec)reas(?:e|ing) {_N} sts (?:in |on )?every (?:other|second|2nd|alternate) (?P<crs>round|rnd|row),? (?:knitting|working|with) {_GROWING}(?: each time)?,? (?P<times>{_FEW}) (?:more |further )?times(?: more)?(?=[.;]|$)",
            r"\g<before>Work \g<times> more \g<what> \g<crs>s",
        ),
        (  # "rep row 1 on every row, RS and WS, for 10 rows in all"
            rf"\b(?P<rep>(?:rep(?:eat)?|work) (?:row|rnd|round) \d+)(?P<for> for (?:garter|moss|seed|rib|the|patt)[a-z ]*?)?(?:,? (?:on )?{_EVERY})?,? (?:on )?{_BOTH},? (?=(?:for|until|till|to|another|a total|\d|once|twice|[a-z]+ (?:more )?times))",
            r"\g<rep> ",
        ),
        (  # "work every row, right side and wrong side, as row 1 for 9 more rows"
            rf"\b(?P<verb>w|k)(?:ork|nit) {_EVERY},? {_BOTH},? (?:as|like) (?P<row>(?:row|rnd|round) \d+),? (?=(?:for|until|till|to|another|a total|\d))",
            lambda match: f"{'R' if match['verb'].isupper() else 'r'}epeat {match['row']} ",
        ),
        (  # "… 9 more times, and then work the WS row once more"
            rf"\b(?P<rep>(?:rep(?:eat)?|work|knit) [^.;]*?\b(?:times?(?: more| in all| in total)?|twice(?: more)?|once more))(?:,? and(?: then)?|,? then|[,;] (?:and )?end(?:ing)? with)(?: work| knit)? (?:the |an? |one )?(?:(?:extra|more|further|additional) )?(?P<row>{_KIND} (?:row|rnd|round))(?: once(?: more| again)?| (?:one|1) (?:more|further) time| (?:one|1) time more| again)?(?=[.;]|$)",
            r"\g<rep>, then the \g<row> once more",
        ),
        (  # "knit the sts of needle 1 one more time, so that the yarn is at the side"
            r"(?P<before>^|[.;:)] )(?:then |now |next,? )?(?P<verb>k|w)(?:nit|ork)?(?: across| over)?(?: the)?(?: (?:sts|stitches) (?:of|on))?(?: the)? (?:needle 1|n ?1|(?:first|1st) needle)(?: (?:sts|stitches))? (?:once more|once again|again|(?:one|a) (?:more|further|last|second) time)(?:,? (?:so (?:that )?|to (?:bring|move|get|shift|take) |in order to )[^.;]*)?(?=(?:[.;]|$)(?! ?(?:turn|graft)))",
            lambda match: (
                f"{match['before']}{'K' if match['verb'].isupper() else 'k'}nit across needle 1. The round begins here"
            ),
        ),
        (  # "knit the next round plain"
            r"\b(?P<verb>k|w)(?:nit|ork) the (?:next|following|second|2nd|other) (?P<crs>round|rnd)(?: (?:plain|even|straight|without (?:any )?(?:shaping|(?:in|de)creas(?:es|ing))))?(?=[.;]|$)",
            r"\g<verb>nit 1 \g<crs>",
        ),
        (  # "R1 + R2 8x", "R1 and R2 9 times"
            rf"^(?:(?:work|rep(?:eat)?|do) )?(?P<crs>r|rnds?|rounds?|rows?) ?(?P<a>\d{{1,2}}) ?(?:\+|&|and) ?(?:(?P=crs) ?)?(?P<b>\d{{1,2}}):? (?P<n>{_N}) ?(?:x|times)(?P<more> more)?(?=[ .;(=\[]|$)",
            lambda match: (
                f"{'Rep' if match['more'] else 'Work'} {_ROWS[match['crs'][:2].lower()]} {match['a']} and {match['b']} {match['n']} {match['more'] or ''}{' ' * bool(match['more'])}times".replace(
                    "  ", " "
                )
            ),
        ),
        (  # "work R1 2x", "rep rnd 1: 2x more"
            rf"^(?:work|rep(?:eat)?|do) (?P<crs>r|rnd|round|row) ?(?P<a>\d{{1,2}}):? (?P<n>{_N}) ?x(?P<more> more)?(?=[ .;(=\[]|$)",
            lambda match: (
                f"Rep {_ROWS[match['crs'][:2].lower()][:-1]} {match['a']} {match['n']} {'more ' * bool(match['more'])}times"
            ),
        ),
        (  # "Row 2 of toe: knit"
            r"^(?P<row>(?:row|rnd|round) \d{1,2}) of (?:the )?(?:toe|gusset|heel|thumb|crown)(?=:)",
            r"\g<row>",
        ),
        (  # "Inc rnd: k1, m1, k to last st, m1, k1 (both needles)"
            r"^(?P<head>[^:()]*: )?(?P<row>[^:()]+?),? \((?:on |for )?(?:both|each)(?: of (?:the|your))? needles?\)(?=\.?$)",
            lambda match: f"{match['head'] or ''}On each needle: {match['row']}",
        ),
        (  # "until there are 28 sts on each needle, 56 in all"
            rf"\b(?P<to>(?:until|till) (?:there are|you have) |(?<=rounds )to |(?<=rnds )to )(?P<each>{_N}) (?:sts|stitches) (?:(?:on|to) (?:each|either|every)(?: of (?:the |your )?(?:two|2|four|4))?|per) (?:needles?|sides?)(?:,? and|[,;:]| [–—-])? ?(?:that is |which makes |making |or )?\(?(?P<n>{_N})(?: sts| stitches)? (?:in all|in total|altogether|total)\)?(?=[.;]|$)",
            lambda match: f"{match['to']}{match['n']} sts" if _are_shares(match) else match[0],
        ),
        (  # "until you have worked all 26 heel sts", "till you've reached the ends of the heel sts"
            rf"\b(?:until|till|til) you(?: have|['’]ve)? (?:now )?(?:(?:worked|used|taken|knit(?:ted)?|included|joined|eaten|consumed|absorbed|gone through) (?:(?:up|in|across|off) )?(?:all|every one|each one)(?: of)?(?: (?:the|these|those))?|(?:reached|come to|got to|arrived at) (?:both |the )*ends? of (?:all )?(?:the|these|those)) (?P<which>(?:{_N} )?(?:[a-z]+ )?)(?:sts|stitches)(?: (?:of|on|at|in) (?:the |each |both |your )*(?:[a-z]+ )?(?:heel|flap|turn|thumb|needles?|sides?|ends?))?(?=[.,;:]|$)",
            r"until all \g<which>sts have been worked",
        ),
    )
)


def with_repeats(said: MappedText) -> MappedText:
    """Return a line with its repeats said as the rules know them."""
    return _WAYS.put_in(said)
