# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What the hands do, told at length: "bring the ends together", "scoop up 19 sts along the flap"."""

from __future__ import annotations

import re
from collections.abc import Callable

from loopwright.pattern._rewording.tables import Rewordings
from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["TOLD_BY_HAND"]

_N = r"\d+(?: ?[(\[][\d, :;]+[)\]])?"
_UP = r"(?<!up )(?<!knit )(?<!\bk )\b"  # with "pick up" before it, it is read as it stands
_ALONG = r"(?:(?:garter|chain|slipped|edge|flap|selvedge)[- ])*(?:ridges?|chains?|loops?|bumps?|sts|stitches|st|stitch)\b"
_NUMBER = rf"(?:(?:{'|'.join(NUMBER_WORDS)})\b)"


def _as_many_again(match: re.Match[str]) -> str:
    """Put "one st out of every ridge on the other side" as the number picked up before it."""
    before = re.findall(rf"pick up and knit ({_N}) sts", match.string[: match.start()])
    return f"pick up and knit {before[-1]} sts" if len(before) == 1 else match[0]


_STITCHES = rf"(?:(?:all )?(?:the |these |those )?(?:{_N} )?(?:sts|stitches)|them|it|the work|the (?:needle|cord))"
_CORD_ROW = (  # one row of a cord: knitted, not turned, slid to where it can be knitted again
    rf"\*? ?(?:k|knit) ?(?:{_N}(?: sts?)?|{_STITCHES}|(?:1|one|a) row)[;,.]? ?(?:and |but )?(?:do not|don['’]t|without) turn(?:ing)?(?: (?:the |your )?work)?[;,.]?(?: (?:but|and|then|instead))*"
    rf" (?:slide|sliding|push|pushing|slip|move) {_STITCHES}(?: back)?(?: (?:to|along to|on to) the (?:other|right(?:[- ]hand)?|opposite|front|first|working) (?:end|side|tip|point)(?: of (?:the|your) (?:needle|dpn))?)?(?:[;,.]?[^.;*:\d]{{0,90}}\bagain)?"
)


def _corded(match: re.Match[str]) -> str:
    """Put a cord that is told row by row as so many rows of one, or as long as it is to be."""
    before = match["before"]
    if match["far"]:
        return f"{before}Work an I-cord {match['far']} long"
    rows = match["n"] or match["rows"]
    return f"{before}Work an I-cord for {rows if rows[0].isdigit() else whole_number(rows)} rows"


def _in_its_case(words: str) -> Callable[[re.Match[str]], str]:
    """Return words that begin as large as those whose place they take."""

    def put(match: re.Match[str]) -> str:
        first = next(one for one in match.groups() if one and one.isalpha() and len(one) == 1)
        return words.capitalize() if first.isupper() else words

    return put


def _again_and_on(match: re.Match[str]) -> str:
    """Put "slip the 9 back, and k them and the rest of the round" as both."""
    if not re.search(r"\bback\b", match.string[: match.start()], re.IGNORECASE):
        return match[0]
    return f"{match['knit']} them again and {match['knit'].lower()} to end"


TOLD_BY_HAND = Rewordings(
    (
        (  # "Knit them; do not turn but slide them to the other end, knit them again. Do this 6 times in all"
            rf"(?P<before>^|[.;:] ){_CORD_ROW}[.;,*]* (?:and |then )*(?:(?:do|repeat|rep|work|knit|continue|carry on|go on|keep on)(?: (?:this|from \*|so|thus|like this|in this (?:way|manner)|it|that|this row|the row))*),? (?:(?P<n>{_NUMBER}|\d{{1,3}}) times|(?:for|until you have(?: worked)?) (?P<rows>\d{{1,3}}) rows|(?:until|till) (?:(?:the |your |it |this )*(?:cord|stalk|tie|it|piece|string)? ?(?:is|measures)) (?P<far>\d+(?:\.\d+)? ?(?:cm|mm|in|inches|inch|\"))(?: long)?)(?: in all| in total| altogether)?(?=[.;,]|$)",
            _corded,
        ),
        (  # "slip the 9 back, and k them and the rest of the round in M"
            rf"\b(?P<knit>k|knit|work)(?: across| over)? (?:them|these|those|(?:these|those|the same) {_N}(?: sts| stitches)?)(?: again)?,? (?:and |then )+(?:(?:k|knit|work) )?(?:(?:all )?the (?:rest(?: of the (?:round|rnd|sts|stitches))?|(?:remaining|other) (?:sts|stitches))|on to the end(?: of the (?:round|rnd))?)(?: (?:in|with) [a-z ]+?)?(?=[.;]|$)",
            _again_and_on,
        ),
        # "k19 across second flap, cast on 28, k19 across first flap"
        (
            rf"\bk(?:nit)? ?(?P<n>{_N})(?: sts)? across (?:the )?(?:second|2nd) (?:ear ?)?(?:flap|piece|strap)\b",
            r"k\g<n>",
        ),
        (
            rf"\bk(?:nit)? ?(?P<n>{_N})(?: sts)? across (?:the )?(?:first|1st) (?:ear ?)?(?:flap|piece|strap)\b",
            r"take along the \g<n> waiting sts in knit",
        ),
        (
            rf"\b(?P<work>knit|purl|work) (?P<n>{_N}|{_NUMBER}) last (?P<crs>rounds|rnds|rows)\b",
            r"\g<work> \g<n> \g<crs>",
        ),
        (r"\b(?P<c>c)able-cast (?=\d|one\b|two\b)", r"\g<c>ast on "),
        # "bring round into a circle", "bring the ends together": joined
        (
            r"\b(?P<b>b)ring(?: the (?:work|sts|stitches|needles|ends)| it| them)?(?: a?round)? (?:in)?to (?:a |the )?(?:circle|ring|round)\b",
            _in_its_case("join in the round"),
        ),
        (
            r"\b(?P<b>b)ring the (?:two )?ends (?:of the (?:work|row|needles) )?together\b(?: \([^()]*\))?",
            _in_its_case("join in the round"),
        ),
        (
            r"\b(?P<u>u)sing the (?:yarn|wool) from the last (?:stitch|st), knit into the first(?: (?:one|stitch|st))?(?=[.;,!])",
            _in_its_case("join in the round"),
        ),
        (  # "join, 10-10-10-10, and"
            r"\b(?P<j>j)oin(?: in the round)?[,:] (?P<list>\d+(?P<more>(?:-\d+){1,3}))(?=[,.;]| and\b)",
            lambda match: (
                f"{'D' if match['j'] == 'J' else 'd'}ivide the sts over {match['more'].count('-') + 1} needles ({match['list']}) and join"
            ),
        ),
        # "cast on 51 stitches, viz., 17 upon each of three pins"
        (
            r"(?<=[a-z\d]),? (?:viz\.?|namely|that is|i\.e\.)[,:]? (?=\d+ (?:up)?on (?:each|every|one)\b)",
            ", ",
        ),
        (
            r"(?P<before>^|[.;:,] )(?P<s>s)plit (?=(?:(?:the|your|all|these|them) )*(?:sts |stitches )?(?:up )?(?:on ?to|over|between|among|evenly|equally)\b(?! (?:two|2) (?:halves|sides)))",
            lambda match: match["before"] + ("D" if match["s"] == "S" else "d") + "ivide ",
        ),
        (
            r"\b(?P<rib>rib|in (?:a )?ribs? of|ribbing,?) ?(?P<a>\d) plain,? (?:and )?(?P<b>\d) purl\b",
            r"\g<rib> k\g<a>, p\g<b>",
        ),
        # "scoop up 19 sts along the flap", "1 st from each of the 15 chain sts", "one st out of every ridge (14 ridges)"
        (r"\bscoop(?P<ing>ing)?(?: up)? (?:another )?(?=\d)", r"pick\g<ing> up "),
        (
            rf"{_UP}(?:1|one)(?: (?:st|stitch|loop))? (?:out of|from|in|into|through) (?:each|every|all)(?: one)? of the (?P<n>{_N}) {_ALONG}(?= (?:of|on|along|down|up|at)\b|[,;.]| and\b|$)",
            r"pick up and knit \g<n> sts",
        ),
        (
            rf"{_UP}(?:1|one)(?: (?:st|stitch|loop))? (?:out of|from|in|into|through) (?:each|every) {_ALONG}(?P<where>(?: (?:of|on|along|down|up|at) [^()\d,;.]*?)?) ?\((?P<n>{_N}) {_ALONG}\)",
            r"pick up and knit \g<n> sts\g<where>",
        ),
        (
            rf"{_UP}(?:1|one)(?: (?:st|stitch|loop))? (?:out of|from|in|into|through) (?:each|every) {_ALONG}(?= (?:of|on|along|down|up|at) (?:the )?(?:other|second|opposite|far)\b)",
            _as_many_again,
        ),
        (
            rf"\b(?P<one>(?:1|one) (?:st |stitch )?(?:from|in|at) the (?:corner|gap)),? and (?P<up>pick up and knit {_N} sts(?: (?:of|on|along|down|up|at) [a-z ]+)?)(?=[.,;]|$)",
            r"\g<up> and \g<one>",
        ),
        # "knit nine, narrow, knit nine": in old books, for two together
        (
            rf"(?P<run>\b(?:k|knit) ?(?:\d+|{_NUMBER}),? (?:and |then )*)narrow(?=[,.;*)\]]|$| (?:all|a?round|to)\b)",
            r"\g<run>k2tog",
        ),
        (rf"(?P<before>^|[:;*] ?)narrow(?=, (?:k|knit) ?(?:\d|{_NUMBER}))", r"\g<before>k2tog"),
    )
)
