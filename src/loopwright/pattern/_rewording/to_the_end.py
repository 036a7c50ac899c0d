# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Repeats that go on to the end, in whatever words: "*k2, p2; rep from * the whole way along".

What stands behind a repeat and holds no number and no word of place says that it goes on to the
end. Words that nobody has thought of are taken so, too; those that may tell of another end are named.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.tables import Means, Rewordings
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS

__all__ = ["REPEATS_TO_THE_END"]

_NUMBER = rf"(?:\d+(?: ?[(\[][\d, :;]+[)\]])?|(?:{'|'.join(NUMBER_WORDS)})\b)"  # "6", "6 (8)"
_RUN = rf"(?:k|p|knit|purl) ?{_NUMBER}(?: ?tbl)?(?: (?:sts?|stitch(?:es)?))?"
_ITEM = rf"(?:{_RUN}|(?:sl|slip) ?(?:\d+|one)|[kp][23]tog(?: tbl)?|ssk|ssp|skpo?|sk2p|yo|m1\w?|kfb)"
_C = r"(?:rounds?|rnds?|rows?)"
_CHANGE = r"(?:[kp][23]tog(?: tbl)?|ssk|ssp|skpo?|sk2p|kfb)"
_STOP = r"(?=[.;,:]|\s*$| [(\[–—=]| -> )"
_OTHER_END = r"(?:to|at|with|but|as|if|and then|then|markers?|m|needles?|n|dpns?|tips?|last|first|next|second|other|before|after|between|past|gaps?|st|sts|stitch|stitches|half|halves|sides?|sole|instep|heel|palm|back|front|thumb|gusset|once|twice|thrice|times?|more|again|till?|until|for|turn\w*|sections?|cent(?:er|re)|middle|edges?|corners?|panels?|seam|both|each|every|one|two|three|four|five|six|wraps?|end\w*|beg\w*|work\w*|knit\w*|purl\w*|k|p|in|colou?rs?|yarn|pattern|chart|rep\w*|slip\w*|hold\w*|decreas\w*|increas\w*|dec|inc)"
_ANY_TAIL = rf"(?! to end\b)(?:(?: (?!{_OTHER_END}\b)[a-z'’-]+){{1,6}}(?: to (?:the )?(?:very |bitter |real )*end)?|(?: (?:all|right|on|straight|the|whole|entire|way|clear))* to (?:the |its |your )?(?:very |bitter |real )*end)(?: of (?:the |this |your )?(?:whole |entire )?(?:{_C}|needles?(?! ?\d)))?"
_AROUND = rf"(?:(?:and )?(?:so on |on )?(?:(?:all|right|over|for|through|the|whole|entire|complete|way|and|on|of|to|end|very|this|clear|straight|along|across|throughout|a?round|again|{_C})\b ?)*(?<![a-z])(?:a?round|across|along|throughout|end|way)\b(?: of (?:the |this |each )?(?:whole )?{_C}\b)?)"
_ALL_ROUND = (
    r"(?:(?:all|right|clear|straight|the|whole|way|entire)\b ){0,3}a?round(?: the (?:round|rnd))?"
)
_IN_EACH = r"(?:in|on|for|over|across) (?:each|every)(?: of the)? (?:sections?|panels?|wedges?|segments?|gores?|parts?|thirds?|quarters?|eighths?)"
_EVERY = rf",? (?:(?:all |right |the |way )*(?:to|till) (?:the )?(?:very )?end (?:of|on|in) |(?:all )?(?:a?round|across) |on |in |over |for )?(?:every|each|all) {_C}"
_ON_AND_ON = r",? (?:round and round|round after round|around and around|over and over|on and on)"
_FAR = r"(?P<far>(?:until|till|for)\b[^;.*]*\d[^;.*]*|(?:until|till) [^;.*]{3,60}\b(?:long|length|want\w*|like|deep|tall)\b[^;.*]*)(?=[.;]|$)"
_ITEMS = rf"(?P<items>(?:{_ITEM},? (?:and |then )*)+{_ITEM})"
_RUNS = rf"(?P<items>(?:{_RUN},? (?:and |then )*)+{_RUN})"
_MANY = r"(?P<many>\d[\d.½¼¾]*(?: ?[(\[][\d.½¼¾, :;]+[)\]])? ?(?:cms?|mm|in\b\.?|inch(?:es)?|\"|rounds|rnds|rows))"


_SO_MANY = WordForm(r"for \d+(?: ?[(\[][^)\]]*[)\]])? (?:rounds|rnds|rows)")


def _as_rib(match: re.Match[str]) -> str:
    """Put "work 8 cm in rib, (k3, p1) round and round" as "work 8 cm in the round in k3, p1 rib"."""
    rounds = "in the round " if re.search(r"\ba?round\b", match[0], re.IGNORECASE) else ""
    return f"{match['lead'].removesuffix('in ')}{rounds}in {match['items']} rib"


_VERB = r"(?P<how>k|p|knit|purl|work|rib)"
_ROWS: tuple[tuple[str, Means], ...] = (
    # "rep (k2, p2) to the end", "repeat *k2, p2* around"
    (
        rf"(?P<b>^|[.;:] )rep(?:eat)? (?:\*(?P<items>[^*.;:]+)\*|[(\[](?P<inside>(?=\*?{_ITEM}\b)[^()\[\]]*)[)\]]),? (?:{_AROUND}|to (?:the )?(?:very )?end(?: of (?:the )?{_C})?){_STOP}",
        lambda match: f"{match['b']}*{match['items'] or match['inside']}; rep from * to end",
    ),
    # "knit all but the last 3 sts", "k as far as the last 3 sts"
    (rf"\b{_VERB} (?:all (?:the )?(?:sts |stitches )?(?:but|except)|as far as|right up to) (?:the )?last (?P<n>{_NUMBER})(?P<sts> (?:sts?|stitch(?:es)?))?(?=,)", r"\g<how> to last \g<n>\g<sts>"),
    # "k1, ssk, k the remainder", "sl 1, knit all remaining sts", "k10, knit the others"
    (rf"(?<=[,;] )(?P<then>(?:and |then )*){_VERB} (?:all )?(?:of )?(?:the )?(?:remainder|others|(?<=all )(?:rem(?:aining)?|other) (?:sts|stitches)|(?<=all the )(?:rem(?:aining)?|other) (?:sts|stitches))(?: of (?:the|this|that) (?:{_C}|needle))?(?=[.;,]|$| [(])", r"\g<then>\g<how> to end"),
    # "sl 1, purl back", but "turn, purl back" as so many as were worked
    (rf"(?<=[,;] )(?<!turn[,;] )(?<!w&t[,;] )(?P<then>(?:and |then )*){_VERB} (?:back|all the way)(?: (?:again|across|along|to (?:the )?(?:start|beginning|end)))*(?=[.;,]|$| [(])", r"\g<then>\g<how> to end"),
    # "go around in knit 3, purl 1 until": in rounds, whoever has joined them
    (
        rf"(?:^|(?<=[.;:!] ))(?P<first>g|w)(?:o|ork) (?:on )?a?round(?: and a?round)? in (?=(?:{_RUN}))",
        lambda match: f"{'W' if match['first'].isupper() else 'w'}ork in the round in ",
    ),
    # "rib in *k2, p2* until", "rib (k1, p1) for 5 cm"
    (
        rf"(?:^|(?<=[.;:!] ))(?P<first>r)ib(?:bing)?(?: in)? [*(\[]{_RUNS}[*)\]](?= (?:until|till|for|to)\b)",
        lambda match: f"{'W' if match['first'].isupper() else 'w'}ork in {match['items']} rib",
    ),
    # the stitches of a rib behind its name
    (
        rf"(?P<lead>\bin )(?:an? |the )?(?:[a-z]+ )?rib(?:bing)?(?: of)?[,:]? ?[*(\[]{_RUNS}(?:\*|[)\]]|[;,] rep(?:eat)? from \*)(?:,? {_AROUND})?(?=[.;,]|$| for\b| until\b)",
        _as_rib,
    ),
    (
        rf"(?P<lead>\b(?:work|knit|rib)(?: {_MANY})? in )(?:an? |the )?(?:[a-z]+ )?rib(?:bing)?(?: of)?: ?{_RUNS}(?=[.;]|$)",
        _as_rib,
    ),
    (
        rf"(?P<lead>(?:^|(?<=[.;:!] ))(?:work |knit )?)(?:in )?rib(?:bing)? (?:for )?{_MANY}[,:] ?[*(\[]{_RUNS}(?:\*|[)\]]|[;,] rep(?:eat)? from \*)(?:,? {_AROUND})?(?=[.;]|$)",
        lambda match: f"Work {match['many']} in {match['items']} rib",
    ),
    # "(k5, p1) to end of every round, until the sock is 20 cm long": that round, so far
    (
        rf"(?:(?P<open>[(\[])(?!(?:the|an?|this|that|these|which|for|in|so) )(?P<items>[^()\[\]*.;:]+)[)\]]|\*(?P<starred>[^*.;:]+?)(?:\*|[;,] rep(?:eat)? from \*))(?:{_EVERY}|{_ON_AND_ON}),? {_FAR}",
        lambda match: (
            f"*{match['items'] or match['starred']}; rep from * to end. Repeat the last round {match['far']}{' in all' * bool(_SO_MANY.fullmatch(match['far']))}"
        ),
    ),
    # "knit 3, purl 2 round and round for 30 rounds"
    (rf"(?P<b>^|[.;:] |\band ){_RUNS}{_ON_AND_ON},? (?=for {_NUMBER} (?:more )?(?:rounds|rnds|rows|cms?|inch(?:es)?)\b)", r"\g<b>\g<items> "),
    # "knit one, purl one, for eight rounds"
    (rf"(?P<b>^|[.;:] |\band ){_RUNS}, (?=for {_NUMBER} (?:more )?(?:rounds|rnds|rows|cms?|inch(?:es)?)\b)", r"\g<b>\g<items> "),
    # "rep from * the whole way", "*k2, p2* right along", "(k2, p2) all the way round"
    (rf"(?P<said>\*[^*]*[;,.] ?rep(?:eat)? from \*),?{_ANY_TAIL}{_STOP}", r"\g<said> to end"),
    (rf"(?P<said>\*[^*.;:]+\*|[(\[](?=\*?{_ITEM}\b)[^()\[\]]*[)\]]),? {_AROUND}(?<! to end){_STOP}", r"\g<said> to end"),
    # "knit 2, k2tog, all the way round", "k5 (7), k2tog right around", "k2tog, all round"
    (rf"(?:^|(?<=[.;:!] ))(?P<items>(?:{_ITEM},? (?:and |then )*)+{_ITEM}(?=,)|(?=[^.;:]*\b{_CHANGE})(?:{_ITEM},? (?:and |then )*)+{_ITEM}|{_CHANGE}(?=,)),? {_AROUND}{_STOP}", r"*\g<items>; rep from * to end"),
    # "k3, k2tog around": nobody says of the k2tog alone that it goes around
    (rf"(?:^|(?<=[.;:!] )){_ITEMS}(?<=[a-z]) {_ALL_ROUND}{_STOP}", r"*\g<items>; rep from * to end"),
    # "then two together all the way round", "take every two together right round"
    (
        rf"(?P<lead>^|[.;:!] )(?:(?:now|then|next|and|again),? )*(?:(?:take|work|knit) )?(?:(?:all|every) )?(?:two|2)(?: sts| stitches)? (?:tog|together),? {_ALL_ROUND}{_STOP}",
        r"\g<lead>*k2tog; rep from * to end",
    ),
    # "in every section, k12, k2tog", "k10, k2tog in each wedge"
    (rf"(?:^|(?<=[.;:!] )){_IN_EACH}[,:] {_ITEMS}{_STOP}", r"*\g<items>; rep from * to end"),
    (rf"(?:^|(?<=[.;:!] )){_ITEMS},? {_IN_EACH}{_STOP}", r"*\g<items>; rep from * to end"),
)  # fmt: skip
REPEATS_TO_THE_END = Rewordings(_ROWS)
