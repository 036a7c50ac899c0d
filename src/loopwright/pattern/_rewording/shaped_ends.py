# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Shaping at the ends of flat rows, however it is told, as "dec 1 st at each end of every 4th row"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Means, Rewordings

__all__ = ["with_shaped_ends"]

_N = r"\d+(?: ?[(\[][^)\]]{1,60}[)\]])?"
_FABRIC = r"(?:st\.? ?st\b\.?|stocking[- ](?:stitch|st)|stockinette(?: stitch| st)?|garter(?: stitch| st)?|(?:moss|seed)(?: stitch| st)?|rib(?:bing)?|patt(?:ern)?(?: as set)?)"
_ENDS = r"(?:(?:each|both|either) (?:ends?|sides?|edges?)|(?:the )?(?:beg(?:inning)?|start) and (?:the )?end)"
_ROWS = (
    r"(?:(?:every|each|the|this|alt\w*|next|foll\w*|\d+(?:st|nd|rd|th))\b[^.;:*(]{0,40}?\brows?)"
)
_DEC = r"(?:k2tog|ssk|skpo?|p2tog|k2tog tbl|k3tog|p3tog|sk2po?)"
_INC = r"(?:kfb|m1[lr]?|yo|make 1)"


def _one_more_or_less(match: re.Match[str]) -> str:
    what = "dec" if re.match(_DEC, match["what"], re.IGNORECASE) else "inc"
    many = "2 sts" if re.match(r"[kp]3tog|sk2p", match["what"], re.IGNORECASE) else "1 st"
    return f"{match['b']}{what.capitalize() if match['b'] != ', ' else what} {many} at {match['where']}"


def _at_one_end(match: re.Match[str]) -> str:
    """Put "at the end of every RS row work k2tog, k1, until" as "dec 1 st at the end of every RS row until"."""
    down = re.match(_DEC, match["what"], re.IGNORECASE)
    return f"{match['b']}{'Dec' if down else 'Inc'} 1 st at {match['where']} of {match['rows']} "


_TWO = r"(?:2|two)(?: (?:sts|stitches))?"
_TOG = r"(?:2|two) (?:sts|stitches) (?:together|tog)\b"
_OF_ROW = r"(?: of (?:the |this )?(?:round|rnd|row))?"
_BOTH_ENDS = rf"(?:the )?first {_TWO},? (?:and|as well as) (?:the )?last {_TOG}|(?:the )?last {_TWO},? (?:and|as well as) (?:the )?first {_TOG}|(?:the )?first and (?:the )?last {_TOG}|(?:the )?last and (?:the )?first {_TOG}"
_ALL_BUT = rf"(?P<verb>knit|purl|k|p)(?: to (?:the )?end{_OF_ROW}| (?:a?round|across)| all (?:the )?(?:sts|stitches))?"


def _two_together(match: re.Match[str]) -> str:
    """Put "knit, working the last 2 sts together" as "k to last 2 sts, k2tog"."""
    verb = (match["verb"] or match["verb2"])[0].lower()
    at = (match["where"] or match["where2"] or "").lower()
    first = [f"{verb}2tog"] if match["both"] or at.startswith(("first", "beg", "start")) else []
    last = [f"{verb}2tog"] if match["both"] or at.startswith(("last", "end")) else []
    said = ", ".join([*first, f"{verb} to last 2 sts" if last else f"{verb} to end", *last])
    head = f"Next {match['crs'].lower()}: " if match["verb2"] else ""
    return f"{match['b']}{head}{said}"


def _one_more(match: re.Match[str]) -> str:
    """Put "knit one round, increasing in the last st" as "k to last st, kfb"."""
    verb = (match["verb"] or match["verb2"])[0].lower()
    head = f"Next {match['crs'].lower()}: " if match["verb2"] else ""
    more = "pfb" if verb == "p" else "kfb"
    last = match["where"].lower() == "last"
    head += f"{match['yarn']}, " if match["yarn"] else ""
    return f"{match['b']}{head}" + (
        f"{verb} to last st, {more}" if last else f"{more}, {verb} to end"
    )


_TABLE: tuple[tuple[str, Means], ...] = (
    (rf"(?P<b>^|[.;] )(?:make|add|m) ?(?P<n>{_N}|one|a) (?:new )?(?:st|stitch) (?=(?:at |on )?(?:the )?{_ENDS} (?:of|on) )", r"\g<b>Inc 1 st "),
    (rf"(?P<b>^|[.;] )(?P<how>work|cont(?:inue)?|keep|knit) (?:straight|even) in (?P<fabric>{_FABRIC}),? (?:but|while|and) (?P<what>dec|inc)(?:reas(?:e|ing))? (?={_N} |one |a )", r"\g<b>\g<how> in \g<fabric>, \g<what> "),
    # "k1, m1, k to last st, m1, k1 on the next and every following 4th row until there are 50 sts"
    (rf"(?P<b>^|[.;] )(?P<row>(?:k ?\d+|k(?:nit)? to (?:the )?last|{_DEC}\b|{_INC}\b)[^.;:()*]*?),? (?:on|in) (?:(?:the )?next|this)(?: (?P<c>row|rnd|round))?(?:,? and(?: then)?|, then)(?: on| in)? (?P<every>every|each) (?:foll\w*\.? )?(?P<nth>other|alt\w*|\w+) (?P<c2>row|rnd|round)\b(?: (?:after|following|that follows)(?: (?:it|that|this))?)?,? (?=(?:un)?til|to \d|{_N} times|\w+ times)", r"\g<b>Next \g<c2>: \g<row>. Repeat this \g<c2> every \g<nth> \g<c2> "),
    (rf"(?P<b>: |^|[.;] )(?:(?:(?<=: )|(?=(?:knit|purl),)){_ALL_BUT}|(?<!: )(?:(?P<yarn>(?:with|in|using) [^,.;:\d]{{3,30}}),? )?(?P<verb2>knit|purl|k|p) (?:(?:1|one|a)(?: more| plain)?|another) (?P<crs>round|rnd|row)),? (?:(?:but|and|while|then) )?(?:(?:working|knitting|work|knit) (?:in|into) (?:the )?front and back of|(?:working |work )?kfb (?:in|into)|inc(?:reas(?:e|ing))?(?: (?:1|one|a)(?: st| stitch)?)? (?:in|into)) (?:the )?(?P<where>first|last) (?:st|stitch)(?=[.;]| ?[(\[]|$)", _one_more),
    # "of the next row and of the two following RS rows", "and of every 4th row after it"
    (r"(?P<b>^|[.;] )(?:now |then |next,? )?shap(?:e|ing) (?:the )?[a-z -]{3,24}?(?:,? by|,) (?P<what>dec|inc)(?:reas(?:ing|e))? (?=[^.;:]*\b(?:ends?|sides?|edges?|beg\w*|start) (?:of|on)\b)", r"\g<b>\g<what> "),
    (rf"\b(?:of|on) (?:(?:the )?next|this) row,? and (?:of |on )?(?:the )?(?:next )?(?P<n>{_N}|two|three|four|five|six) (?:(?:following|foll\.?|next) )?(?:alt\w*|RS|WS|right-side|wrong-side) rows\b", r"of the next row and foll \g<n> alt rows"),
    (r"\b(?:of|on) (?:(?:the )?next|this) row,? and (?:of |on )?every (?P<n>\d+(?:th|rd|nd)|other|second|third|fourth|sixth|alt\w*) row (?:after (?:it|that|this)|that follows|following|from then on)\b(?!,? until (?:it|this) has)", r"of the next row and every foll \g<n> row"),
    (rf"(?P<b>: |^|[.;] )(?:(?<=: ){_ALL_BUT}|(?<!: )(?P<verb2>knit|purl|k|p) (?:(?:1|one|a)(?: more| plain)?|another) (?P<crs>round|rnd|row)),? (?:(?:but|and|while|then) )?(?:working|work|knitting|knit|purling|purl|taking)(?: (?P<both>{_BOTH_ENDS})| (?:the )?(?P<where>first|last) {_TOG}| {_TOG} at the (?P<where2>beg(?:inning)?|start|end)\b{_OF_ROW})(?=[.;]| ?[(\[]|$)", _two_together),
    (rf"(?P<b>^|[.;:] )(?:now |then )?in (?P<fabric>{_FABRIC})(?: now)?,? (?P<what>dec|inc)(?=\w* (?:{_N}|one|a) (?:(?:st|stitch|sts|stitches) )?(?:at )?(?:the )?(?:each|both|either|beg|start|end))", r"\g<b>Work in \g<fabric>, \g<what>"),
    (rf"(?P<b>^|[.;:] )(?:now |then )?(?:go|carry|keep) on (?:working )?in (?P<fabric>{_FABRIC}),? (?:and |but )?(?=(?:dec|inc)\w* )", r"\g<b>Continue in \g<fabric>, "),
    (rf"(?P<b>^|[.;:,] )(?:work )?(?P<what>{_DEC}|{_INC})(?: once)? at (?P<where>{_ENDS}|the (?:beginning|beg|start|end))(?= of {_ROWS})", _one_more_or_less),
    (rf"\b(?P<what>(?:dec|inc)(?:rease|reasing)?) (?:(?:a|one) )?(?:(?:st|stitch) )?(?=at (?:{_ENDS}) of {_ROWS})", r"\g<what> 1 st "),
    (rf"(?P<b>^|[.;:] )(?:now |then )?at (?P<where>{_ENDS}|the (?:beginning|beg|start|end)) of (?P<rows>(?:every|each|all)\b[^.;:*(]{{0,30}}?\brows?),? (?:work |do )?(?:k ?1, ?)?(?P<what>{_DEC}|{_INC})(?:, ?k ?1)?,? (?=(?:un)?til|{_N} times)", _at_one_end),
    # "every right-side row, 12 times in all, and purl 1 row after the last": the rows of the schedule end so
    (r"(?P<all>\b(?:dec|inc)\w*\b[^.;:*]*\b(?:every|each|alt\w*|foll\w*)\b[^.;:*]*\brows?\b[^.;:*]*?),? (?:and |with )?(?:purl|knit|work)(?:ing)? (?:1|one|a) row (?:after|behind) (?:the last|it|the last (?:one|decrease|increase|dec|inc)|each)(?=[.;]|$)", r"\g<all>"),
    (r"\b(?P<what>(?:dec|inc)(?:rease)?)(?:,| now)? only (?=(?:on |at |in )?(?:every|each) )", r"\g<what> "),
    (rf"(?P<rows>\bof the next row and of every \w+ row)(?: after (?:it|that))?,? until (?:it|this) has been done (?P<n>{_N}|\w+) times", r"\g<rows> \g<n> times in all"),
    # "cast off 6 sts at beg of each of the next 4 rows, so that 24 sts remain"
    (rf"(?P<off>\b(?:cast|bind) off {_N} (?:sts |stitches )?(?:at|on) (?:the )?(?:beg\w*|start)\.? of [^.;:*]*?\brows?),? (?:so that|until|and|which leaves|leaving|when) (?:there are |you have |only )?(?P<n>{_N}) (?:sts|stitches)(?: now)?(?: remain| are left| left| remaining| rem)?(?=[.;]|$)", r"\g<off>. \g<n> sts"),
    # "purl the 6th row"
    (r"(?P<b>^|[.;] )(?P<how>knit|purl) (?:the )?(?P<n>\d+)(?:st|nd|rd|th) (?P<c>row|round|rnd)(?=[.;]|$)", r"\g<b>\g<c> \g<n>: \g<how>"),
    (r"(?P<b>^|[.;] )(?P<how>knit|purl) (?:the way|your way|across) back(?=[.;]|$)", r"\g<b>\g<how> 1 row"),
)  # fmt: skip
_WORDS = Rewordings(_TABLE)


def with_shaped_ends(said: MappedText) -> MappedText:
    """Return a line with shaping at the ends of its rows told in one way.

    Examples
    --------
    >>> with_shaped_ends(MappedText.of("K2tog at both ends of every row until 20 sts are left.")).text
    'Dec 1 st at both ends of every row until 20 sts are left.'
    """
    return _WORDS.put_in(said)
