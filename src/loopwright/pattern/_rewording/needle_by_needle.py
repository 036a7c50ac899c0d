# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A round told needle by needle, in whatever words, as the grammar has it.

"On the first needle, knit to the last 3 sts, k2tog, k1. Knit the second needle. K1, ssk, k to end
on needle 3" is put as ``needle 1: knit to the last 3 sts, k2tog, k1; needle 2: knit; needle 3: K1,
ssk, k to end``. It is done for clauses behind one another that name each needle once, so that none
is left out: this tells such a round from other sentences that speak of needles.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final, TypeAlias

import attrs

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.needed_words import in_small

__all__ = ["with_needles_ahead"]

_NTH: Final = r"(?:first|second|third|fourth|1st|2nd|3rd|4th)"
_TOO: Final = r"(?:,? (?:and|&) |, | ?& ?)"
_CALLED: Final = (
    rf"(?:(?:the )?{_NTH}(?:{_TOO}(?:the )?{_NTH})* (?:needles?|dpns?|ndls?)\b"
    rf"|(?:needles?|dpns?|ndls?\.?|n) ?[1-4](?:{_TOO}(?:(?:needle|dpn|ndl|n) ?)?[1-4])*\b(?! ?(?:sts?|times|rounds?|rnds?)\b)"
    r"|needle (?:one|two|three|four)\b)"
)
_NEEDLES: Final = (
    rf"(?:{_CALLED}|(?<=those of )(?:the )?{_NTH}\b|(?<=those on )(?:the )?{_NTH}\b"
    rf"|(?<=on )the {_NTH}\b|(?<=with )the {_NTH}\b|the {_NTH}(?=: ))"
)
_LEAD: Final = r"(?P<lead>^(?:[^:*]{0,30}(?:rnds?|rounds?)\b[^:]{0,20}: )?|^(?:in|on|for) the (?:next|first) (?:round|rnd),? |^(?:the )?[a-z]+(?: [a-z]+)?\. (?=(?:on )?(?:the )?(?:first|1st|needle) ))"
_AHEAD: Final = r"(?:(?:and|then|next|now|finally|lastly),? )*"
_ON: Final = r"(?:on|along|over|across|for|of|from|at|with)"
_WORK: Final = r"(?:k|knit|p|purl|ssk|skp\w?|sl|slip|m1\w?|kfb|k2tog|p2tog|yo|work|rib|plain|even|straight|patt(?:ern)?|in (?:rib|patt)\w*|\*|\[|\()"
_IN_PATTERN: Final = r"(?:in (?:the )?(?:set |established |rib )?(?:patt(?:ern)?|rib(?:bing)?|lace|cable pattern)(?: as (?:set|est\w*|before))?|as (?:set|est\w*|before))"
_PLAIN: Final = rf"(?: (?:plain|straight|even|without shaping|(?:in )?(?:stockinette|st\.? st)(?: st)?|{_IN_PATTERN}))"
_VERB: Final = r"(?P<verb>k|knit|work|purl|p|rib|patt(?:ern)?|keep)\b\.?"
_MANY: Final = r"(?:\d+(?: ?[(\[][^)\]]*[)\]])? )?"
_STS: Final = rf"(?: all)?(?: (?:the|those))?(?: {_MANY}(?:sts|stitches|st))?(?: that are)?"
_SAME: Final = (
    r"(?:(?:work(?:ed)?|do|knit|rep(?:eat)?),? )?(?:(?:in )?(?:just |exactly )?(?:the )?same(?: way| manner| again| thing)?"
    rf"(?: as(?: for| on)? (?P<source>{_CALLED}))?|(?:just |exactly )?(?:as|like)(?: for| on)? (?P<source2>{_CALLED}|[1-4](?=\W*$))|rep(?:eats?)?(?: as)?(?: for| on)? (?P<source3>{_CALLED})|likewise|ditto)"
)
_END: Final = r"(?= ?\(|$)"
# What a clause may be: its needle is behind "to the last 3 sts", is worked like another, is all
# that is worked, stands first, or last.
_OVER_LAST, _AS_ANOTHER, _SAME_ON, _ALL_OF, _FIRST, _LAST = (
    re.compile(_LEAD + _AHEAD + form, re.IGNORECASE)
    for form in (
        rf"(?P<work>(?:k|knit|work) (?:across )?to (?:the )?last [^,;.]*?(?:sts?|stitches|stitch)) (?:on|of) (?P<needle>{_NEEDLES})(?=,)",
        rf"(?:(?:work|knit|do) )?(?:{_ON} )?(?P<needle>{_NEEDLES})[,:]?(?: is| are)?(?: worked| done| knitted)? {_SAME}{_END}",
        rf"(?:(?:(?:work|do|make) )?(?:just |exactly )?(?:the )?same(?: again| thing)?|rep(?:eat)?(?: this| it| that| the same)?) (?:{_ON} )+(?P<needle>{_NEEDLES}){_END}",
        rf"{_VERB}(?P<before>{_PLAIN})?{_STS}(?: {_ON})?(?: the {_MANY}(?:sts|stitches) {_ON})? (?P<needle>{_NEEDLES})(?P<how>{_PLAIN})?{_END}",
        rf"(?:{_ON} )?(?P<needle>{_NEEDLES})(?:(?: ?[:,–—-])? )(?={_WORK}(?:\b|\d|(?<=\W)))",
        rf"(?P<work>(?=\b{_WORK}(?:\b|\d))(?!(?:k|knit|work) to (?:the )?end\b)[^:]*?),? {_ON} (?P<needle>{_NEEDLES}){_END}",
    )
)
_NAMES: Final = (("first", "1", "one"), ("second", "2", "two"), ("third", "3", "three"), ("fourth", "4", "four"))  # fmt: skip
_NAME: Final = re.compile(rf"{_NTH}|(?<!\d)[1-4](?!\d)|\b(?:one|two|three|four)\b", re.IGNORECASE)
_SAID: Final = re.compile(
    rf"{_CALLED}|\b(?:on|with|of) the (?:second|third|2nd|3rd)\b", re.IGNORECASE
)
_MAY: Final = re.compile(r"n ?[1-4]|needle|dpn|ndl|the (?:second|third|2nd|3rd)")  # one is there
_NAMES_ONE: Final = rf"(?={_AHEAD}(?:{_ON} )?{_NEEDLES}[:, ])"
_WORKS_ONE: Final = rf"(?={_AHEAD}(?:k|knit|work|purl|rib|patt|do|rep(?:eat)?|the same)\b(?: (?:in|patt\w*|rib|the|same|sts|stitches|those|across|on|over|of|as|set|it|this))* {_NEEDLES})"
_WITHIN: Final = r"(?<!1st)(?<!2nd)(?<!3rd)(?<!4th)(?<!first)(?<!second)(?<!third)(?<![Nn]\d)(?<!eedle \d)"  # a list of needles
_SAME_AS_ONE: Final = (  # "needle 3 is like needle 1, and needle 4 is like needle 2": no list, though a number is behind each
    rf"(?:(?<=like needle \d)|(?<=like n\d)|(?<=like the (?:first|third) needle)|(?<=like the second needle)|(?<=as needle \d)|(?<=as n\d)|(?<=epeats needle \d)|(?<=epeats n\d)|(?<=(?:as|ke) for needle \d)|(?<=(?:as|ke) on needle \d)),?(?: and| while)?(?: then)? "
    rf"(?=(?:on |for )?{_NEEDLES}[,:]?(?: is| are)?(?: worked| done| knitted)? (?:like|as|repeats?|(?:just |exactly )?(?:the )?same)\b)"
)
_CLAUSE: Final = re.compile(
    rf"(?P<clause>(?:[^.;|]|\.(?=\d)|(?<=\b[a-z]\d)\.(?=,)|(?<=\bk)\.(?= {_NTH}))+?)(?:(?:(?<!\bk)\.|;)(?= |$)| (?=\|)|(?<=\bk)\.(?= (?!{_NTH})|$)|,? (?:and|while)(?: then)? {_WORKS_ONE}|{_WITHIN},? (?:and|while)(?: then)? {_NAMES_ONE}|, {_WORKS_ONE}|{_WITHIN}, {_NAMES_ONE}|{_SAME_AS_ONE}|$) *",
    re.IGNORECASE,
)
_OURS: Final = re.compile(
    r"(?:^|: |(?<=; ))needles? [1-4](?:(?:, | and )[1-4])*: (?!(?:the )?same|as |like|in |rib|patt|k$|k |p$)",
    re.IGNORECASE,
)
_NEXT: Final = re.compile(r"^(?:in|on|for) the (?:next|first) (?:round|rnd),? $", re.IGNORECASE)
_BARE: Final = re.compile(  # all that is worked on a needle
    rf"(?P<verb>k|knit|p|purl|rib|patt(?:ern)?|work|keep)?\.?(?: ?(?P<how>(?:plain|straight|even|{_IN_PATTERN}))| across| all(?: sts)?)?$",
    re.IGNORECASE,
)


_LEFT_N: Final = rf"(?:the )?(?:last )?(?P<n>\d+|two|three|four)(?:{_STS})?"
_ENDS_ON: Final = tuple(  # how far one goes along a needle, each as "to last 3 sts of the first needle"
    re.compile(
        rf"(?P<work>\b(?:k|knit|work)\b\.?)(?P<on> (?:along |across |over |on )?(?P<needle>{_CALLED}))? {far}",
        re.IGNORECASE,
    )
    for far in (
        rf"(?:to|until) (?:within )?{_LEFT_N} (?:of|from|before) the end(?(on)(?: of (?:it|the needle))?| of (?P<of>{_CALLED}))(?=,)",
        rf"(?:until|till) (?:there are |only |you have )*{_LEFT_N}(?: (?:still|are|remain|is))*(?: left)?(?(on)(?: (?:on|of) (?:it|the needle))?| (?:on|of) (?P<of>{_CALLED}))(?=,)",
        rf"(?:up )?to {_LEFT_N}(?(on)(?: (?:on|of) (?:it|the needle))?| (?:on|of) (?P<of>{_CALLED}))(?=,)",
    )
)
_BEGINS: Final = re.compile(  # "begin the third needle with k1, skpo, and knit to the end"
    rf"\b(?:begin|start) (?P<needle>{_CALLED}) (?:with|by)(?: working)? (?P<work>[^.;]*?)(?P<then>,? (?:and|then)(?: then)? |, )(?=(?:k|knit|work|purl)\b)"
    rf"|(?P<work2>\b(?:k1|p1|knit 1|knit one|ssk|k2tog)[^.;]*?) at the (?:start|beginning) of (?P<needle2>{_CALLED}),?(?P<then2> (?:and |then )*)(?=(?:k|knit|work|purl)\b)",
    re.IGNORECASE,
)


_FIRST_NAMED: Final = re.compile(
    r"\bfirst needle\b(?=.*\blast needle\b)", re.IGNORECASE | re.DOTALL
)
_MIDDLE_NAMED: Final = re.compile(
    r"\b(?:second|third|fourth) needle|\bneedle [234]\b", re.IGNORECASE
)
_LAST_NAMED: Final = re.compile(r"(?P<the>\bthe )?\blast needle\b", re.IGNORECASE)
_FRONT_NAMED: Final = re.compile(  # the one between the first and the last
    rf"\b(?:(?P<on>{_ON}) )?(?:the )?(?:front|instep|middle|top) needle\b|\b(?P<verb>knit|k|work)(?: across)? the (?:front|instep)(?=[.,;])",
    re.IGNORECASE,
)


def _second(match: re.Match[str]) -> str:
    if match["verb"]:
        return f"{match['verb']} the second needle"
    return f"{match['on'] + ' ' if match['on'] else ''}second needle"


def _with_plain_ends(said: MappedText) -> MappedText:
    """Put how far to go along a needle, and what it begins with, each in one form of words."""

    def goes(match: re.Match[str]) -> str:
        return f"{match['work']} to last {match['n']} sts of {match['needle'] or match['of']}"

    def begins(match: re.Match[str]) -> str:
        needle, work = match["needle"] or match["needle2"], match["work"] or match["work2"]
        return f"on {needle} {work}, "

    if _FIRST_NAMED.search(said.text) and not _MIDDLE_NAMED.search(said.text):
        said = said.sub(_LAST_NAMED, lambda match: f"{match['the'] or ''}third needle")
        said = said.sub(_FRONT_NAMED, _second)
    for form in _ENDS_ON:
        said = said.sub(form, goes)
    return said.sub(_BEGINS, begins)


_NTH_ALONE: Final = re.compile(  # "k the first and third needles and rib the second"
    rf"\b(?P<verb>(?:k|knit|p|purl|work|rib)\b\.?)(?: (?:in rib|plain|across|over|on))* (?:the )?(?P<nth>{_NTH})(?P<too>(?:{_TOO}(?:the )?{_NTH})*)(?!{_TOO}(?:the )?{_NTH})(?=,| and\b| but\b| while\b|;|\.?$|\. [A-Z])",
    re.IGNORECASE,
)
_LIKE_NTH: Final = re.compile(  # "the third needle is like the first, and the fourth is like the second"
    rf"(?:(?<=\blike )|(?<=\bas ))(?:the )?{_NTH}(?=[,.;]| and\b|$)|\bthe {_NTH}(?= (?:is |are )?(?:worked )?(?:like|as)\b)",
    re.IGNORECASE,
)
_LIKE_TWO: Final = re.compile(  # "3rd and 4th needles: as 1st and 2nd"
    rf"\b(?P<a>{_NTH}) (?:and|&) (?P<b>{_NTH}) needles,?:? (?:(?:worked |the )?(?:same )?(?:as|like)) (?:the )?(?P<c>{_NTH}) (?:and|&) (?:the )?(?P<d>{_NTH})(?: needles)?(?=[.;,(]|$)",
    re.IGNORECASE,
)
_THE_OTHERS: Final = re.compile(  # "rib the second needle and k the other two"
    r"\b(?P<verb>(?:k|knit|p|purl|work|rib)\b\.?)(?: (?:across|over|on))* the (?:other|remaining) (?P<many>two|2|three|3)(?: needles)?(?=\.?$|[,;]|\. [A-Z])",
    re.IGNORECASE,
)
_KEEPS: Final = re.compile(
    r"\bkeep(?:ing)? (?:to )?(?:the )?rib(?:bing)?(?: correct)? (?=(?:on|over|across) )",
    re.IGNORECASE,
)
_BUT: Final = re.compile(rf",? but (?=(?:k|knit|p|purl|work|rib)\b[^,;.]*{_NTH})", re.IGNORECASE)


def _in_full(said: MappedText) -> MappedText:
    """Return a round with "needle" behind each first, second and third that it works."""
    if (
        re.search(rf"\b{_NTH}(?:{_TOO}(?:the )?{_NTH})* needles?\b", said.text, re.IGNORECASE)
        is None
    ):
        return said
    said = said.sub(_KEEPS, "rib ").sub(_BUT, " and ")
    said = said.sub(_NTH_ALONE, r"\g<verb> the \g<nth>\g<too> needle")
    said = said.sub(_LIKE_TWO, r"\g<a> needle: as \g<c>; \g<b> needle: as \g<d>")
    said = said.sub(_LIKE_NTH, lambda match: f"{match[0]} needle")
    named = set(_numbers(" ".join(re.findall(rf"\b{_NTH}\b", said.text, re.IGNORECASE))))
    return said.sub(_THE_OTHERS, lambda match: _others(match, named))


_INSTEP: Final = re.compile(  # "on the first needle …; knit the instep sts; on the third needle …"
    rf"(?<=[;,.] ){_AHEAD}(?:(?P<verb>k|knit|work|rib|patt(?:ern)?)\b\.?(?: (?:across|over|all|of))* (?:the )?(?:\d+ )?instep(?: needles?| sts| stitches)?|(?:the )?instep(?: needles?| sts| stitches)?,?:? (?P<verb2>knit|k|work|in patt(?:ern)?))(?P<how> {_IN_PATTERN})?(?=[;,.] {_AHEAD}(?:{_ON} )?(?:the )?(?P<next>{_NTH} needle|(?:needle|n) ?[34]\b))",
    re.IGNORECASE,
)


def _with_instep_named(said: MappedText) -> MappedText:
    """Name the needles of the instep, where those before and after it are named."""
    found = _INSTEP.search(said.text)
    if found is None:
        return said
    before = _numbers(" ".join(re.findall(_CALLED, said.text[: found.start()], re.IGNORECASE)))
    (after,) = _numbers(found["next"])[:1]
    missing = range(2, after)
    if set(before) != {1} or not missing:
        return said
    verb = found["verb"] or found["verb2"]
    what = _plain(verb, found["how"] or "")
    names = " and ".join(map(str, missing))
    return said.sub(_INSTEP, f"needle{'s' * (len(missing) > 1)} {names}: {what}")


def _others(match: re.Match[str], named: set[int]) -> str:
    many = {"two": 2, "three": 3}.get(match["many"].lower()) or int(match["many"])
    others = [one for one in range(1, many + len(named) + 1) if one not in named]
    if len(others) != many:
        return match[0]
    return f"{match['verb']} needles {' and '.join(map(str, others))}"


_ROUND: Final = r"(?P<lead>(?:^|\. )(?:next )?(?:rnd|round)\b[^:.*]{0,24}: )"
_PART: Final = r"(?:[^:;.*()\[\]]|[(\[][\d, ]+[)\]])+?"
_SPAN: Final = r"(?:(?:across|over|along|on|all|to|end|of|the) )+"
_REPEATED: Final = (
    rf"(?:(?:and|then|now) )*(?:work |knit |rib )?(?:\*(?P<rep>[^*:;.]+)[;,.] ?rep(?:eat)? from \* {_SPAN}"
    rf"|[(\[](?P<rep2>[^()\[\]*:;.]+)[)\]] {_SPAN})"
)
_ONE, _TWO = (rf"(?:(?:needle|n) ?{n}\b|{nth} needle|needle {word}\b)" for n, nth, word in ((1, "(?:first|1st)", "one"), (2, "(?:second|2nd)", "two")))  # fmt: skip
_REPEATS_LAST: Final = re.compile(  # "K28, *k3, p1; rep from * across Needle 2"
    rf"{_ROUND}(?P<part>{_PART})(?: {_SPAN}{_ONE})?[,;] {_REPEATED}{_TWO}(?=\W*$|\. )",
    re.IGNORECASE,
)
_REPEATS_FIRST: Final = re.compile(  # "*K3, p1; rep from * across Needle 1, k28 on Needle 2"
    rf"{_ROUND}{_REPEATED}{_ONE}[,;] (?:and |then )*(?P<part>{_PART}) {_SPAN}{_TWO}(?=\W*$|\. )",
    re.IGNORECASE,
)


def _with_repeats_ahead(said: MappedText) -> MappedText:
    """Name both needles of a round one of which is told by a repeat along it."""
    if "eedle" not in said.text or not re.search(r"[*(\[]", said.text):
        return said

    def last(match: re.Match[str]) -> str:
        inner = match["rep"] or match["rep2"]
        return f"{match['lead']}needle 1: {match['part']}; needle 2: *{inner}; rep from * to end"

    def first(match: re.Match[str]) -> str:
        inner = match["rep"] or match["rep2"]
        return f"{match['lead']}needle 1: *{inner}; rep from * to end; needle 2: {match['part']}"

    return said.sub(_REPEATS_LAST, last).sub(_REPEATS_FIRST, first)


_FOLLOWS: Final = r"(?:next|second|2nd|following|other)"
_SAME_PAIR: Final = r"(?:(?:do|work|rep(?:eat)?) )?(?:(?:the |this |exactly )*same(?: again)? (?:on|for|over|with) (?:the )?(?:other|next|remaining) (?:two|2|pair of)(?: needles)?|(?:the )?(?:other|next|remaining) (?:two|2) needles (?:the same(?: way)?|likewise|in the same way|alike|like this))"
_PAIR_TWICE: Final = re.compile(  # "*K1, ssk, k to end of needle; next needle, k to last 3 sts, k2tog, k1; rep from * once"
    rf"(?P<lead>(?:^|[.;] |: ))(?:(?P<star>\* ?)|(?P<open>[(\[] ?))?(?:on (?:the )?(?:first|1st)(?: needle)?[,:] |needle 1[:,] )?(?P<a>(?=[^*:;]*\bneedle\b|[^*:;]*;[^*:;]*\bsecond\b)[^*:.()\[\];]+?)(?:;|, then|,? and then|,)(?: and)?(?: then)? "
    rf"(?:(?:(?:on|along|over|for) )?(?:the )?(?:{_FOLLOWS} needle\b|(?<=on the )(?:second|next|other)\b)[,:]? |(?P<verb>k|knit) (?:the )?{_FOLLOWS} needle )(?P<b>[^*:.()\[\];]+?)"
    rf"(?:(?(star)[;,.] ?(?:rep(?:eat)? from \*(?: (?:once(?: more| again)?|(?:for|on|over|with) (?:the )?(?:other|next|remaining) (?:two|2)(?: needles)?))+|(?:then |and )*{_SAME_PAIR})|(?(open) ?[)\]] (?:twice|2 times)|[;,.] (?:then |and )*{_SAME_PAIR})))(?=[.,;]|$| \()",
    re.IGNORECASE,
)
_OF_NEEDLE: Final = re.compile(r" (?:of|on) (?:the |this |that )?needle\b", re.IGNORECASE)


def _with_pairs_named(said: MappedText) -> MappedText:
    """Name four needles that are told by two of them, and twice."""

    def named(match: re.Match[str]) -> str:
        first = _OF_NEEDLE.sub("", match["a"]).strip(" ,")
        second = _OF_NEEDLE.sub("", f"{match['verb'] or ''} {match['b']}").strip(" ,")
        told = enumerate((first, second, first, second), 1)
        return match["lead"] + "; ".join(f"needle {number}: {work}" for number, work in told)

    if "eedle" not in said.text:
        return said
    said = said.sub(_PAIR_TWICE, named)
    while _ITS_NEXT.search(said.text):
        said = said.sub(_ITS_NEXT, lambda one: f"{one['before']}needle {1 + int(one['n'])}: ")
    return said


_ITS_NEXT: Final = re.compile(  # "Needle 1: …. Next needle: …"
    r"(?P<before>\bneedle (?P<n>[1-3])[:,] [^:*]*[.;] )(?:(?:and|then),? )*(?:(?:on|along|over|for) )?(?:the )?(?:next|following) needle[:,] ",
    re.IGNORECASE,
)


_Work: TypeAlias = str | tuple[tuple[int, int], ...]  # words of ours, or stretches of the line


@attrs.frozen
class _Clause:
    """What is worked on some needles, told in one clause."""

    start: int
    end: int
    lead: str
    needles: tuple[int, ...]
    work: _Work | None  # None: as on other needles
    like: tuple[int, ...] = ()
    is_ours: bool = False


def with_needles_ahead(said: MappedText) -> MappedText:
    """Return a line with each needle's name ahead of what is worked on it.

    Examples
    --------
    >>> told = MappedText.of("Rnd 1: K to last 3 sts on needle 1, k2tog, k1. Knit the second needle.")
    >>> with_needles_ahead(told).text
    'Rnd 1: needle 1: K to last 3 sts, k2tog, k1; needle 2: knit.'
    >>> with_needles_ahead(MappedText.of("Rnd 2: Knit the sts of N1 and N3 and rib those of the 2nd.")).text
    'Rnd 2: needle 1: knit; needle 2: work in pattern; needle 3: knit.'
    """
    said = _with_pairs_named(said)
    if not _MAY.search(in_small(said.text)):
        return said
    said = _with_repeats_ahead(_with_instep_named(_in_full(_with_plain_ends(said))))
    text = said.text
    if len(_SAID.findall(text)) < 2 or "pick" in text.lower():
        return said
    for run in reversed(list(_runs(text))):
        first = run[0]
        lead = first.lead
        told = said.cut(first.start, first.start + len(lead))
        if not lead or _NEXT.match(lead):
            told = _put("Next round: ", told)
        between = ""
        for needles, what in _in_order(_told(said, run)):
            names = f"{between}needle{'s' * (len(needles) > 1)} {' and '.join(map(str, needles))}: "
            told, between = told.and_then(_put(names, what)).and_then(what), "; "
        rest = said.cut(run[-1].end, len(said.text))
        said = said.cut(0, first.start).and_then(told).and_then(rest)
    return said


def _put(words: str, where: MappedText) -> MappedText:
    """Return words that stand for a piece of the line."""
    return MappedText(words, (where.at[0],) * len(words) + (where.at[-1],))


def _told(said: MappedText, run: Sequence[_Clause]) -> Iterator[tuple[int, MappedText]]:
    """Yield what is worked on each needle, as the clauses tell it."""
    for number, clause in enumerate(run):
        here = said.cut(clause.start + len(clause.lead), clause.end)
        for needles, work in _works(clause, run[:number]):
            what = _put(work, here) if isinstance(work, str) else _joined(said, work)
            if clause.work is None:
                what = _put(what.text, here)
            yield from ((needle, what) for needle in needles)


def _in_order(
    told: Iterator[tuple[int, MappedText]],
) -> Iterator[tuple[tuple[int, ...], MappedText]]:
    """Yield needles in the order in which they are worked, neighbours told together as one."""
    for _, group in groupby(sorted(told, key=_by_number), key=lambda one: id(one[1])):
        whole = list(group)
        yield tuple(needle for needle, _ in whole), whole[0][1]


def _by_number(one: tuple[int, MappedText]) -> int:
    return one[0]


def _joined(said: MappedText, stretches: Sequence[tuple[int, int]]) -> MappedText:
    first, *others = (said.cut(*one) for one in stretches)
    for other in others:
        first = first.and_then(other)
    return first


def _works(clause: _Clause, before: Sequence[_Clause]) -> Iterator[tuple[tuple[int, ...], _Work]]:
    if clause.work is not None:
        yield clause.needles, clause.work
        return
    like = clause.like
    if not like and len(before) == len(clause.needles) > 1:
        like = tuple(one for other in before for one in other.needles)
    by_needle = {one: other.work for other in before for one in other.needles}
    if len(like) == len(clause.needles) > 1:
        for one, other in zip(clause.needles, like, strict=True):
            yield (one,), by_needle.get(other) or "knit"
    else:
        yield clause.needles, (by_needle.get(like[0]) if like else before[-1].work) or "knit"


def _runs(text: str) -> Iterator[list[_Clause]]:
    """Yield clauses behind one another that name each needle once; not if all are ours already."""
    run: list[_Clause] = []
    for match in (*_CLAUSE.finditer(text), None):
        found = _clause(text, match, first=not run) if match else None
        there = {one for clause in run for one in clause.needles}
        if found is not None and not there & set(found.needles) and (run or found.work):
            run.append(found)
            continue
        if _is_whole(run) and (run[0].lead or ":" not in text[: run[0].start]):
            yield [*run[:-1], _without_count(text, run[-1])]
        run = [found] if found is not None and found.work and match is not None else []


_COUNT: Final = re.compile(  # "—4 sts dec'd", "(52 sts)": of the round, not of its last needle
    r"\s*(?:[—–=:]|\s-\s|[(\[]) ?=?\s*\d+[^()\[\]—–=:]*\b(?:sts?|stitches)\b[^()\[\]]*[)\]]?$",
    re.IGNORECASE,
)


def _without_count(text: str, clause: _Clause) -> _Clause:
    found = _COUNT.search(text, clause.start, clause.end)
    if found is None or not isinstance(clause.work, tuple) or clause.work[-1][0] >= found.start():
        return clause
    *others, (start, _) = clause.work
    return attrs.evolve(clause, end=found.start(), work=(*others, (start, found.start())))


def _is_whole(run: Sequence[_Clause]) -> bool:
    there = sorted(one for clause in run for one in clause.needles)
    if len(run) < 2 or there != list(range(1, len(there) + 1)):
        return False
    known = {0}
    for clause in run:
        if not known >= set(clause.like):
            return False
        known |= set(clause.needles)
    return not all(clause.is_ours for clause in run)


def _clause(text: str, said: re.Match[str], *, first: bool) -> _Clause | None:
    words, start, end = said["clause"], said.start("clause"), said.end("clause")
    for form in (_OVER_LAST, _AS_ANOTHER, _SAME_ON, _ALL_OF, _FIRST, _LAST):
        match = form.match(words)
        if match is None or (match["lead"] and not first):
            continue
        work: _Work | None
        if form in (_AS_ANOTHER, _SAME_ON):
            if first:
                return None
            work = None
        elif form is _ALL_OF:
            work = _plain(match["verb"], (match["before"] or "") + (match["how"] or ""))
        elif form is _FIRST:
            work = _bare(words[match.end() :]) or ((start + match.end(), end),)
        elif form is _OVER_LAST:
            work = (_stretch(match, start), (start + match.end(), end))
        else:
            work = (_stretch(match, start),)
        ours = _OURS.search(text, start, end) is not None
        like = _numbers(_source(match)) if work is None else ()
        return _Clause(start, end, match["lead"], _numbers(match["needle"]), work, like, ours)
    return None


def _stretch(match: re.Match[str], start: int) -> tuple[int, int]:
    return start + match.start("work"), start + match.end("work")


def _source(match: re.Match[str]) -> str:
    """Return the needles that are named as those to be worked like; "" where none are."""
    groups = match.groupdict()
    return next((groups[key] for key in ("source", "source2", "source3") if groups.get(key)), "")


def _bare(words: str) -> str | None:
    """Return what is worked on all stitches of a needle; None where more is told."""
    match = _BARE.match(words.rstrip())
    if match is None or not (match["verb"] or match["how"]):
        return None
    return _plain(match["verb"] or "work", match["how"] or "")


def _plain(verb: str, how: str) -> str:
    patterned = re.search(r"patt|rib|lace|set|est|before", f"{verb} {how}", re.IGNORECASE)
    if patterned:
        return "work in pattern"
    return "purl" if verb.lower() in ("p", "purl") else "knit"


def _numbers(names: str) -> tuple[int, ...]:
    """Return the numbers of needles."""
    found = (match[0].lower() for match in _NAME.finditer(names))
    return tuple(
        next(
            number
            for number, names in enumerate(_NAMES, 1)
            if one[:3] in {n[:3] for n in names} or one[0] == str(number)
        )
        for one in found
    )
