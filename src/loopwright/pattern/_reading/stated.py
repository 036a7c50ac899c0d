# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What a sentence states besides its instruction: counts, changes, what waits; asides."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TypeVar

import attrs

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, NUMBER, STS
from loopwright.pattern._words import NUMBER_WORDS, figure
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__ = [
    "OF_THUMB", "Stated", "count_in", "for_sizes", "number_of", "numbers_in", "numbers_of_sizes", "stated_in", "stated_of", "whole_numbers", "without_asides", "without_thumb",
]  # fmt: skip

_Number = TypeVar("_Number", int, float)
_WHOSE = r"(?:(?:heel|instep|sole|toe|total|live|remaining|flap|gusset|body|crown|thumb|hand|more or less)\s+)?"
_SAID = (
    r"(?:(?:and\s+)?(?:(?:now )?there (?:are|will be|should be)(?: now)?|you (?:should |will |now |'ll )*(?:have|be left with|end up with)|leaving|leaves|giving|to give|making|makes|this leaves|total(?: of| sts)?:?|for a total of|now|=|=>|→)"
    r"\s*(?:you with\s+)?(?:now\s+|still\s+)?(?:a total of\s+|exactly\s+)?)?"
)
_AFTER = (
    r"(?:\s*,?\s*(?:(?:that )?(?:now )?remain(?:ing)?|rem\b\.?|left|in all|in total|total|again|altogether|are|"
    r"on (?:the |your )?needles?(?! ?\d)|on the needles? now|now|(?:for|in) (?:all|both|every|each|the (?:two|three|four|five))(?: (?:the|of the|\d|two|three|four|five))? sizes?|for (?:the |each )?(?:leg|foot|cuff|hand|body|crown|toe|heel|heel flap|mitten|thumb|size)|around|st))*"
)
_COUNT = WordForm(
    rf"(?P<lead>^|\s*(?:=>|[=→—–:;,]|\s-(?=\s)|(?<=[.!*])|\bto\b(?= leave)|(?=[(\[])))\s*(?P<open>[(\[]\s*)?[-=—–]?\s*{_SAID}"
    rf"(?P<count>{COUNT})\s*{_WHOSE}{STS}{_AFTER}[.!]?\s*[)\]]?\s*[.!]*\s*$",
)
_OF_PLACE = WordForm(rf"\d[^a-z]*(?:sole|instep) {STS}")
_CHANGED = r"(?P<more>inc(?:reased|'d|d|s)?\b|increases?|more|added|dec(?:reased|'d|d|s)?\b|decreases?|fewer|less)"
_CHANGE = WordForm(
    rf"\s*[—–-]?\s*[(\[]?\s*(?P<count>{COUNT})\s*{STS}\s*(?:have been |are |were )?{_CHANGED}"
    r"(?:\s*(?:between (?:the )?markers|each (?:time|round|rnd|row)|per (?:round|rnd|row)|in (?:the |this )?(?:round|rnd|row)|on each needle(?P<each>)))?\s*[)\]]?\s*[.]*\s*$|"
    rf"\s*[(\[]\s*(?P<more2>inc|dec)(?:reases?|reased|'d)?\s+(?P<count2>{COUNT})\s*{STS}\s*[)\]]\s*[.]*\s*$",
)
_TELLS_CHANGE = WordForm(  # "You have 4 more sts.", "That's 4 stitches fewer.", "2 sts have gone."
    rf"^(?:and |so |now )*(?:(?:you|there|this|that|which|it)(?:'ve|'s|'re| have| has| are| is| makes| leaves)?(?: now)?(?: have| got)? )?(?:(?P<a>{COUNT}) (?P<more>more|extra|fewer|less) {STS}|(?P<b>{COUNT}) {STS} (?P<gone>more|extra|fewer|less|gone))(?: (?:now|in all|altogether|than before))*[.!]*$"
    rf"|^(?:this|that|it|each (?:round|rnd)|you(?:'ve| have)?) (?P<does>adds?|added|gains?|gained|makes? another|los(?:es?|t)|takes? away|removes?|removed|(?:gets?|got) rid of) (?P<c>{COUNT}) {STS}[.!]*$"
    rf"|^(?P<d>{COUNT}) {STS} (?:have|are|were) (?:now )?(?:been )?(?P<went>gone|lost|taken away|gained|added|made)[.!]*$",
)
_WAITING = WordForm(
    rf"\s*[(\[]\s*(?P<count>{COUNT})\s*{STS}\s*(?:(?:are |is )?(?:left |still )?unworked|wait\w*|(?:are |is )?(?:left|remain\w*)\s+(?:beyond|unworked|after|on the left)|left on (?:the )?left)[^)\]]*[)\]]\s*[.]*\s*$|"
    rf"\s*,\s*(?:leaving|leave|with)\s+(?P<count2>{COUNT})\s*{STS}\s+(?:unworked|unknit\w*|waiting|at the end|on the (?:left )?needle)[^.;]*[.]*\s*$|"
    rf"\s*[;,]\s*(?:and )?(?:again )?(?:leaving |you leave )?(?P<count4>{COUNT})(?:\s*{STS})?\s+(?:(?:are|is|will|again|now|still|stay|wait|remain|left|rest)\w*\s+)*(?:behind|unworked|on (?:the )?(?:left|left-hand|other) needle)[.;]*\s*$|"
    rf"(?<=\bturn)\s*,?\s*leaving\s+(?P<count3>{COUNT})\s*{STS}\s*[.]*\s*$",
)
_ON_NEEDLE = WordForm(
    rf"\s*(?:[=—–:;(\[]|\s-(?=\s))\s*(?:there (?:are|will be) |you (?:have|should have) )?(?P<count>{COUNT})\s*{STS}\s*(?:remain\s+)?on (?:needle|n) ?\d\s*[)\]]?\s*[.]*\s*$",
)
_ASIDE = WordForm(r"\s*[(\[](?P<inner>(?:[^()\[\]]|[(\[][^()\[\]]{1,12}[)\]])*)[)\]]", re.NOFLAG)
_WORDS = WordForm(r"[a-z']{2,}")
_STITCHY = WordForm(
    r"\b(?:[kp]\d+|k\d?tog|p\d?tog|ssk|skp\w?|yo|knit|purl|[kp]|sl|slip|m1\w*|kfb|cdd|sk2p|c\d\w|yfwd)\b",
)


_PLACE = r"(?:(?:lower|upper|bottom|top|right|left|first|second|other) (?:side|half|edge)|(?:\d(?:st|nd|rd|th)|first|second|third|fourth)(?: needle)?|instep|sole|heel|gusset|thumb|flap|front|back|top|palm|needles? ?\d|n ?\d|each (?:needle|side|half))"
_PART = (
    rf"{COUNT}\s*(?:{STS})?\s*(?:(?:on|for|in|at)\s+)?(?:the\s+)?{_PLACE}(?:\s*(?:sts|stitches))?"
)
_BREAKDOWN = WordForm(  # "76 (82, 92) sts: 28 (30, 34) instep, 48 (52, 58) sole"
    rf"(?P<total>{COUNT}\s*{STS}(?: in all| in total| total)?)\s*[:;,(\[—–-]+\s*{_PART}(?:\s*(?:,|;|and|&|/|\+)+\s*{_PART})+\s*[)\]]?\.?$",
)
_PARTS_ONLY = WordForm(  # "…: 30 (34) instep sts, 54 (62) sole sts"
    rf"(?:(?<=[.:;])|^|(?=[(\[]))\s*[(\[]?\s*(?P<a>{COUNT})\s*(?:{STS})?\s*(?:(?:on|for|in|at)\s+)?(?:the\s+)?{_PLACE}(?:\s*(?:sts|stitches))?\s*(?:,|;|and|&)+\s*(?P<b>{COUNT})\s*(?:{STS})?\s*(?:(?:on|for|in|at)\s+)?(?:the\s+)?{_PLACE}(?:\s*(?:sts|stitches))?\s*[)\]]?\.?$",
)
_ON_NEEDLES = WordForm(  # "slip the first st of needle 2 to needle 1: 15, 30 and 15 sts"
    rf"(?<=[:(])\s*{COUNT}(?:(?:,? and |, ?| ?/ ?){COUNT}){{2,4}}\s*{STS}\)?\.?$",
)
_PAIR = r"needles? [1-4] (?:and|&) (?:needle )?[1-4]\b[^\d.;:]{0,40}[(,:=] ?"
_BY_PAIRS = WordForm(  # "needles 2 and 3 together (6 sts) and needles 4 and 1 together (6 sts)"
    rf"\b{_PAIR}(?P<a>{COUNT})(?: {STS})?\)?[^\d.;:]{{0,40}}{_PAIR}(?P<b>{COUNT})(?: {STS})?\)?[^\d.;:]*\.?$"
)
_NAMED_NEEDLE = WordForm(
    r"\bneedle [1-4]\b|\b(?:1st|2nd|3rd|4th|first|second|third|fourth) needle\b"
)
_PARTS_FIRST = WordForm(  # "…: 52 (58) sole sts, 82 (92) sts in all"
    rf"(?P<lead>[.:;(\[—–]\s*|^(?=\d)|^(?:now )?(?:there (?:are|should be)|you (?:now )?have)(?: now)? ){_PART}(?:\s*(?:,|;|and|&)+\s*{_PART})*\s*[,;:]\s*(?:and )?(?P<total>{COUNT}\s*{STS} (?:in all|in total|total|altogether))(?=\s*[)\]]?[.]*$)",
)
_ADDED_UP = WordForm(  # "(24 sts, 12 sts, 24 sts = 60 sts)", "24 + 12 + 24 = 60 sts"
    rf"(?P<lead>[.:;(\[—–]\s*|^){COUNT}(?:\s*{STS})?(?:\s*(?:,|\+|/|\band\b|&)+\s*{COUNT}(?:\s*{STS})?)+\s*(?:,?\s*(?:=|(?:which |this |that )?(?:makes?|making|is|gives)\b)|[:;,](?= *(?:in all|total|{COUNT}\s*{STS}\s*(?:in all|in total|total|altogether))))\s*(?P<total>{COUNT}\s*{STS})",
)
_OF_GUSSET = WordForm(  # "M.1, k.3, M.1, k. to end (5 thumb sts)": of the round they are a part
    rf"(?<!\w)(?P<inc>m\.?\s?1[lr]?\b|kfb|yo|make (?:1|one)|inc\w*)(?P<rest>[^()\[\]]*)[(\[]=?\s*(?:now )?{COUNT} (?:thumb|gusset) {STS}(?: in all| now)?[)\]](?=\.?(?:$| \d))",
)
_OF_THEM = WordForm(  # "60 sts, half of them on the sole side"
    rf"(?<=sts|hes),? (?:and )?(?:half|{COUNT}) of (?:them|these) (?!(?:lie |are )?(?:on|at) (?:each|either|both) )(?:are |lie |is )?(?:on|for|in|at|between|to|waiting|held)\b[^.;\d]*(?=\.?$)|"
    r"(?<=sts|hes),? (?:and |with )?half (?:of them )?on (?:each|[a-d]\b|n ?\d|needle \d|the)(?: (?:needle|side|half|[a-z]+))?(?:,? (?:and )?(?:the other )?half on [a-z]+(?: \d| [a-z]+)?)?(?=\.?$)|"
    rf"(?<=sts|hes)[,;] (?:(?:(?:that is|that's|or|so) )?{COUNT}(?: ?[-+–/] ?{COUNT}){{1,4}}|(?:that is|that's) {COUNT}(?: {STS})? (?:on|to|per) (?:a|each|every) (?:needle|dpn|side|half))(?=\.?$)|"
    r"(?<=sts|hes)[,;] (?:just )?(?:as many as|the same (?:number )?as|as (?:before|there were|at|in)\b)[a-z ]*(?=\.?$)",
)
_MARKED_OFF = WordForm(  # "place markers on N2 to set off 11 gusset sts, 28 heel sts, 11 gusset sts"
    r"(?:place|put|hang|set|mark)\b[^;.]*\b(?:markers?|mark|off)\b[^;.]*\bgusset (?:sts|stitches)\b[^;.]*\bheel (?:sts|stitches)\b"
)
_NEW_START = WordForm(
    r"\s*[;,]\s*(?:this|here) is (?:now )?the (?:new )?(?:start|beginning|beg\.?) of (?:the )?(?:round|rnd)\.?$",
)
_BARE_COUNT = WordForm(
    rf"[(\[]\s*=?\s*(?P<count>{COUNT})\s*[)\]]\s*\.?$", re.NOFLAG
)  # "… around. (80)"
_BEHIND = WordForm(  # "Knit 2 together all around: 6", "*k14, k2tog* twice: 32", "…, and you will have 24"
    rf"(?:(?<=around|across|.round|.twice)|(?<=.end))\s*[:=–—→]\s*(?P<count>{COUNT})[.!]*$"
    rf"|(?:[,;:–—]|,? and|\bso)(?: and| so| then| now)* (?:(?:you (?:(?:will|should|now|'ll) )*(?:have|(?:are|be) (?:(?:back|down|up) )?(?:at|to|left with)))|you're (?:(?:back|down|up) )?(?:at|to)|there (?:are|will be)|that is|that makes|which (?:makes|leaves|is)) (?P<count2>{COUNT})(?: (?:now|again|left|remaining|altogether|in all|once more))*[.!]*$",
)


_HAVE = WordForm(
    rf"(?:now )?(?:count(?: them)?:?|(?:there |it |that )?should be|(?:in )?total(?: (?:{STS}|number|of {STS}|count))*(?: is| now)* ?[=:]?|(?:number of )?(?:total )?{STS} ?[=:]|you(?:'ll|'ve)?(?: now| should| will)* (?:have|got|end up with|be left with)|(?:you are |now )?back (?:to|at)|(?:(?:so |and |now )*you(?:'re| are)(?: now)?(?: back| down| up)? (?:at|to))|check:?(?: still)?|that makes|which makes) (?P<count>{COUNT})(?: {STS})?(?: again| in all| once more| left| remaining| altogether| now)?[.!]?"
    rf"|(?:now )?(?:there are|you (?:now |should )?have)(?: now)? (?P<count3>{COUNT}) {STS},? and (?:the |your )?(?:new )?(?:rounds?|rnds?) (?:now )?(?:begins?|starts?)\b[^.;\d]*[.!]?"
    rf"|(?:(?:there|so),? )?(?:that|this|it)(?:'s| is) (?P<count2>{COUNT})(?: {STS}| now| left| again| remaining)+[.!]?",
)


_IN_ALL = WordForm(
    rf"\s*(?:[:;=–—]|\s-(?=\s)|,(?= (?:so|that|which|making|leaving)\b))\s*(?:(?:so|that is|which (?:is|makes|leaves)|making|leaving|there are|you have)\s+)?(?P<count>{COUNT})\s*(?:in all|in total|altogether)\.?$|"
    rf"\s*,\s*(?:so(?: that (?:there are|you have))?|and so|which (?:leaves|makes|gives)|leaving|making)\s+(?P<count2>{COUNT})(?:\s*{STS})?\.?$",
)  # "raise one more to match: 66 in all", "knit the 17, so 18 sts"


@attrs.frozen
class Stated:
    """A sentence without what it states, and what that is."""

    said: MappedText
    count: Count | None = None
    change: Count | None = None
    waiting: Count | None = None
    on_needle: Count | None = None


@lru_cache(maxsize=8192)
def count_in(text: str) -> Count:
    """Return the number, or the numbers by size, that a text writes."""
    entries = re.findall(rf"{NUMBER}|(?<=[,:;(\[])\s*[-–—]\s*(?=[,:;)\]])", text)
    values = [0.0 if entry.strip() in "-–—" else float(entry[:12]) for entry in entries]
    whole = [int(value) if value.is_integer() else value for value in values]
    return sized(whole)  # type: ignore[return-value]


def numbers_in(text: str) -> tuple[float, ...]:
    """Return the numbers by size that a text writes, one alone too, as floats."""
    return tuple(float(value) for value in values_of(count_in(text)))


@lru_cache(maxsize=8192)
def whole_numbers(text: str) -> tuple[int, ...]:
    """Return the numbers by size that a text writes, one alone too, cut to whole stitches."""
    return tuple(int(value) for value in values_of(count_in(text)))


def for_sizes(values: tuple[_Number, ...], many: int) -> tuple[_Number, ...]:
    """Return the numbers by size, one alone for as many sizes as there are.

    Examples
    --------
    >>> for_sizes((7,), 3), for_sizes((7, 8), 3)
    ((7, 7, 7), (7, 8))
    """
    return values * many if len(values) == 1 else values


def numbers_of_sizes(text: str, sizes: int) -> tuple[int, ...] | None:
    """Return the number of each size that a text writes, None where it writes another many.

    Examples
    --------
    >>> numbers_of_sizes("7", 3), numbers_of_sizes("7 (8)", 2), numbers_of_sizes("7 (8)", 3)
    ((7, 7, 7), (7, 8), None)
    """
    numbers = whole_numbers(text)
    return for_sizes(numbers, sizes) if len(numbers) in (1, sizes) else None


def number_of(word: str) -> int:
    """Return the number that a word such as ``seven``, ``twice`` or ``12`` stands for, or 0."""
    for part in word.lower().split():
        if part.isdigit():
            return figure(part)
        if part in ("once", "another", "a"):
            return 1
        if part == "twice":
            return 2
        if part in NUMBER_WORDS:
            return 1 + NUMBER_WORDS.index(part)
    return 0


def stated_in(said: MappedText) -> Stated:
    """Take what is stated off the end of a sentence.

    Examples
    --------
    >>> found = stated_in(MappedText.of("Row 2: K2tog to end = 8 sts."))
    >>> found.said.text, found.count
    ('Row 2: K2tog to end', 8)
    """
    found = stated_of(said.text)
    kept = MappedText(found.said.text, tuple(said.at[place] for place in found.said.at))
    return attrs.evolve(found, said=kept)


@lru_cache(maxsize=8192)
def stated_of(text: str) -> Stated:
    """Take what is stated off the end of a text."""
    said = MappedText.of(text)
    if match := _BARE_COUNT.match(said.text) or _HAVE.fullmatch(said.text):
        found = match.groupdict()
        told = found["count"] or found.get("count2") or found.get("count3")
        return Stated(said.piece(0, 0), count_in(told))
    count = change = waiting = on_needle = None
    if _MARKED_OFF.match(said.text):
        return Stated(said, None)
    said = said.sub(_TELLS_CHANGE, _change_told)
    said = said.sub(_BREAKDOWN, lambda match: match["total"]).sub(_NEW_START, "")
    said = said.sub(_OF_GUSSET, r"\g<inc>\g<rest>")
    said = said.sub(_OF_THEM, "").sub(_PARTS_ONLY, _summed).sub(_BY_PAIRS, _summed)
    said = said.sub(_ON_NEEDLES, _all_on_needles)
    for parts in (_PARTS_FIRST, _ADDED_UP):
        said = said.sub(parts, lambda match: match["lead"] + match["total"])
    for _ in range(3):
        if (match := _ON_NEEDLE.search(said.text)) and not _until(said.text[: match.start()]):
            on_needle = count_in(match["count"])
        elif match := _WAITING.search(said.text):
            waiting = count_in(
                match["count"] or match["count2"] or match["count3"] or match["count4"]
            )
        elif match := _SIGNED.search(said.text):
            change = _turned_round(count_in(match["count"] or match["count2"]), "+" not in match[0])
        elif match := _change(said.text):
            change = _signed(match)
        elif match := _IN_ALL.search(said.text) or _BEHIND.search(said.text):
            count = count_in(match["count"] or match["count2"])
        elif (match := _COUNT.search(said.text)) and not _until(said.text[: match.start()]):
            if _OF_PLACE.search(match[0]):  # all there are only while the others wait
                on_needle = count_in(match["count"])
            else:
                count = count_in(match["count"])
        else:
            break
        said = said.piece(0, match.start())
        if said.text.endswith((",", ";", ":", "=")):
            said = said.piece(0, len(said.text) - 1)
        if not said.text:
            break
    return Stated(said, count, change, waiting, on_needle)


def _change_told(match: re.Match[str]) -> str:
    """Return a sentence that tells of a change as a row states it."""
    many = next(match[key] for key in "abcd" if match[key])
    how = next(match[key] for key in ("more", "gone", "does", "went") if match[key]).lower()
    less = re.match(r"fewer|less|gone|los|take|remove|get|got", how) is not None
    return f"{many} sts {'fewer' if less else 'more'}"


def _summed(match: re.Match[str]) -> str:
    """Return the total of two parts of the stitches, as a text states it."""
    a, b = (count_in(match[key]) for key in "ab")
    total = [x + y for x, y in zip(as_many(a, b), as_many(b, a), strict=False)]
    return f" — {sized(total)} sts"


def _all_on_needles(match: re.Match[str]) -> str:
    """Return the total of what a text says to lie on each needle."""
    if _NAMED_NEEDLE.search(match.string[: match.start()]) is None:
        return match[0]
    parts = [count_in(part) for part in re.findall(COUNT, match[0])]
    widest = max(parts, key=lambda part: len(values_of(part)))
    columns = zip(*(as_many(part, widest) for part in parts), strict=True)
    return f" — {sized([sum(column) for column in columns])} sts"


def _change(text: str) -> re.Match[str] | None:
    match = _CHANGE.search(text)
    if match is None:
        return None
    alone = match.start() == 0 or text[match.start() :].lstrip()[:1] in "([—–-"
    after_stop = text[: match.start()].rstrip()[-1:] in (".", ",", ";", ":")
    return match if alone or after_stop else None


_SIGNED = WordForm(
    rf"(?:\s*[(\[]\s*(?P<sign>[+−–-])\s*(?P<count>{COUNT})(?:\s*{STS})?\s*[)\]]|[,.;]\s+(?P<sign2>[+−])\s?(?P<count2>{COUNT})(?:\s*{STS})?)\s*[.]*\s*$",
)  # "… for second needle. (-4)"


def _turned_round(amount: Count, less: bool) -> Count:
    if not less:
        return amount
    return sized([-value for value in values_of(amount)])  # type: ignore[return-value]


def _signed(match: re.Match[str]) -> Count:
    word = (match["more"] or match["more2"] or "").lower()
    amount = count_in(match["count"] or match["count2"])
    return _turned_round(amount, word.startswith(("dec", "fewer", "less")))


def _until(before: str) -> bool:
    """Tell whether the count ends a condition: "until 8 sts remain"."""
    return bool(
        re.search(
            r"\b(?:until|till|til|to|over|on|of|first|last|next|the|every|(?:needles?|n) ?\d\s*[:,=]?)\s*$",
            before,
            re.IGNORECASE,
        )
    )


_LONE = WordForm(r"(?!once|twice|ssp|turn|pm|sm|rm)[a-z]{2,12}")


def without_asides(said: MappedText) -> MappedText:
    """Return the sentence without remarks in brackets."""

    def kept(match: re.Match[str]) -> str:
        inner = match["inner"]
        spoken = len(_WORDS.findall(_STITCHY.sub("", inner)))
        lone = _LONE.fullmatch(inner.strip()) and not _STITCHY.search(inner)
        told = spoken >= 2 and not _STITCHY.match(inner.strip())
        return "" if told or lone else match[0]

    return said.sub(_ASIDE, kept)


OF_THUMB = WordForm(
    rf"(?:^|\s*[—–:;,.(\[]\s*)(?:(?:now |so )?(?:there (?:are|will be|should be)|you(?: should| will)?(?: now)? have)(?: now)? )?(?P<count>{COUNT}) (?:(?:thumb|gusset|thumb gusset) {STS}|{STS} (?:for|in|on) (?:the |your )?(?:thumb|gusset|thumb gusset))(?: in all| now| altogether)?\s*[)\]]?[.!]?$",
)


def without_thumb(said: MappedText, there: Count) -> MappedText:
    """Return a sentence without the stitches of its thumb, where far more are in work.

    Examples
    --------
    >>> without_thumb(MappedText.of("Repeat rounds 2-4 twice: 11 thumb sts."), 42).text
    'Repeat rounds 2-4 twice'
    >>> without_thumb(MappedText.of("Knit 2 rounds: 22 thumb sts."), 44).text  # as much as the hand
    'Knit 2 rounds: 22 thumb sts.'
    """
    match = OF_THUMB.search(said.text)
    if match is None:
        return said
    thumb, whole = (
        as_many(count_in(match["count"]), there),
        as_many(there, count_in(match["count"])),
    )
    few = all(2 * a < b for a, b in zip(thumb, whole, strict=False))
    return said.piece(0, match.start()) if few else said
