# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows told by their markers: "knit to the marker and slip it", "pm for thumb"."""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.tables import Rewordings

__all__ = ["with_marker_words"]

_N = r"\d+(?: ?[(\[][^)\]]*[)\]])?"
_STS = r"(?:sts?|stitch(?:es)?)\b"
_IN_ALL = r"(?: (?:altogether|in all|in total|all told|on the needles?|all together))"
_SHORT = r"(?:pm|sm|rm|m1l|m1r|m1|kfb|k2tog|ssk|skp|yo|co|bo)"
_MARKERS = r"(?:(?:the|both|your|two|all) )*markers?"
_ASIDE = rf"(?P<do>(?:move|put|place|slip|transfer|set|leave|thread|hang) (?:the )?(?:{_N} )?(?:(?:thumb|gusset) )?{_STS} (?:on ?to|on|to) (?:[a-z]+ ){{0,2}}?(?:yarn|wool|holder|thread|pin|string|cotton))"


def _set_aside(match: re.Match[str]) -> str:
    """Put the markers that are taken out meanwhile before and behind; what they bound stays theirs."""
    bare = re.search(r"\d", match["do"]) is None
    return match["do"] if bare else f"remove marker, {match['do']}, remove marker"


_WAYS = Rewordings(
    (
        (r"\b(?:stitch |split |coil |locking )?ring marker(?P<s>s?)\b", r"marker\g<s>"),
        (  # "k to the first ring": a marker, as long as nothing is joined to one
            r"(?<!join )(?<!in )(?<!close )\b(?P<lead>(?:to|past|before|after|slip|remove|take (?:off|out|away)|between|reach)(?: (?:the|your|both|two|these|each|first|second|next|other|last|1st|2nd))* |(?:hang|put on|add|place)(?: on)? (?:(?:a|another|the|first|second|other) )*)(?:stitch )?ring(?P<s>s?)\b",
            r"\g<lead>marker\g<s>",
        ),
        (
            r"(?P<before>[,:] )(?:(?:a|the|first|second|next|other) )*marker (?:on|in)(?=[,;.])",
            r"\g<before>pm",
        ),
        (
            r"\b(?P<to>(?:k|knit|p|purl|work) to the (?:second|next|other|2nd))(?=, )",
            r"\g<to> marker",
        ),
        (
            r"(?P<to>\b(?:marker|m), )(?:move|lift|pass|shift) it (?:over|across|along|(?:on )?to the (?:right|other)(?:[- ]hand)? needle)\b",
            r"\g<to>slip it",
        ),
        (
            r"\b(?P<to>(?:k|knit|p|purl|work|patt)(?: in pattern)? to (?:the |your )?(?:(?:first|second|next|other|last|1st|2nd) )?(?:thumb |gusset )?(?:marker|m))(?:,| and|, and) slip it\b",
            r"\g<to>, sm",
        ),
        (
            r"\b(?P<to>to|slip|sl|remove) (?:the |your )?other (?:thumb |gusset )?(?=(?:marker|m)\b)",
            r"\g<to> next ",
        ),
        (r"\b(?P<pm>pm|place (?:a )?marker) for (?:the )?thumb(?: gusset)?\b", r"\g<pm>"),
        (  # "place marker (PM), make 1 left (M1L)": its short form, told once
            rf"\b(?P<words>(?:place|slip|remove) (?:a |the )?marker|make (?:1|one)(?: st(?:itch)?)?(?: left| right)?|(?:knit|k) (?:2|two) tog(?:ether)?|yarn over|slip,? slip,? knit|knit (?:in|into) (?:the )?front and back) \({_SHORT}\)",
            r"\g<words>",
        ),
        (
            r"\b(?:lift|pick up|raise) (?:and k(?:nit)? )?the (?:strand|bar|loop|thread)\b[^,;.()]*\((?P<lean>left|right)[- ]leaning\)",
            lambda match: f"m1{match['lean'][0].lower()}",
        ),
        (  # "M1, k3, M1, k to end (5 thumb sts)": a part of the round
            rf"(?P<inc>\b(?:m ?1[lr]?|kfb|yo|make (?:1|one)|inc\w*)\b[^()\[\]]*)[(\[]=? ?(?:now )?{_N} (?:thumb|gusset) {_STS}(?: in all| now)?[)\]](?=\.?(?:$| \d))",
            r"\g<inc>",
        ),
        (  # "Row 1: Knit to 1 st before the marker. Remove marker, ssk, turn.": one row
            r"(?P<row>^(?:\d+[.)] )?(?:row|rnd|round) \d+\b[^:*]{0,20}: [^*:]*)[.;] (?P<off>(?:remove|take (?:off|out)) (?:the |this |that )?(?:\w+ )?marker)(?: and|,(?: and)?) (?=(?:ssk|skpo?|ssp|[kp]2tog|(?:k|knit|p|purl) ?(?:2|two) tog)\b)",
            r"\g<row>, remove marker, ",
        ),
        (  # "46 sts; 3 sts between markers": the first is that of the round
            rf"(?P<all>{_N} {_STS}){_IN_ALL}?[;,:] (?:and |with )?{_N} (?:of (?:them|these|which) |(?:(?:thumb|gusset) )?{_STS} )?(?:lie |are )?(?:between|in|before|after|behind|past) (?:the |your |these )?(?:(?:two|thumb|gusset|first|second) )*(?:markers?|m|gusset)\b(?=[\s.)\]]*$)",
            r"\g<all>",
        ),
        (  # "9 sts between the markers and 37 altogether"
            rf"\b{_N} (?:{_STS} (?:between|in|inside) (?:the |your |these )?(?:two |thumb )?(?:markers|gusset)|(?:thumb|gusset) {_STS}),? and (?P<n>{_N})(?: {_STS})?{_IN_ALL}",
            r"\g<n> sts in all",
        ),
        (  # "pm at the start of the rnd and again after 14 sts"
            rf"\b(?P<pm>p|P)(?:m|lace (?:a |one )?marker) at the (?:start|beginning) of the (?:rnd|round),? and (?:again|once more|another|a second(?: one)?|one(?: more)?|also)(?: marker)? (?P<at>after (?:the )?(?:first |next )?{_N} {_STS})",
            r"\g<pm>lace markers at the beginning of the round and \g<at>",
        ),
        (  # "take both markers out while you move the 9 gusset sts to scrap yarn"
            rf"\b(?:take|lift|drop|remove)(?: out| off| away)? {_MARKERS}(?: out| off| away)?,? (?:while|as) you {_ASIDE}",
            _set_aside,
        ),
        (  # "put the 9 thumb sts on scrap yarn, taking both markers off"
            rf"{_ASIDE}(?:,|,? (?:and|while)) (?:you )?(?:tak(?:e|ing)|lift(?:ing)?|drop(?:ping)?|remov(?:e|ing))(?: out| off| away)? (?=(?:(?:the|both|your|two) )+markers){_MARKERS}(?: out| off| away)?(?: as you (?:go|do so|do))?(?=[,.;]| and\b)",
            _set_aside,
        ),
        (rf"(?P<n>{_N}) (?:thumb|gusset) (?P<sts>sts|stitches) (?=inc)", r"\g<n> \g<sts> "),
    )
)


def with_marker_words(said: MappedText) -> MappedText:
    """Return a line with its markers told in the usual words."""
    return _WAYS.put_in(said)
