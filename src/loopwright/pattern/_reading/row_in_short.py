# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""A row told in words nobody listed: its stitches are picked out, and must use up what is there.

What is left over between the stitches may only be words that change nothing. The row is taken
where it works out in every size, and comes to the count that it states.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TypeAlias

import attrs

from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.row_leads import MANY, NUMBER_WORDED, STATED_BESIDE, lead_of
from loopwright.pattern._reading.stated import number_of, numbers_of_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import MARKER, Tally
from loopwright.pattern.values import sized

__all__ = [
    "NoRow", "OneStitch", "Passed", "PlainRest", "RowAlong", "RowItem", "RowWords", "WorkedAgain",
    "agrees", "capital", "may_be_row", "row_in_short", "said_items",
]  # fmt: skip

Numbers = tuple[int, ...]

NEEDLES = 4  # among which a round is shared out

_ONE = r"(?:1|one|the next|next|a)"
_ST = r"(?: (?:sts?|stitch(?:es)?)\b\.?)?"
_PASSED = r"(?:p\.? ?s\.? ?s\.? ?o\b\.?|pass(?:ing)? (?:the )?(?:slipped|slip|sl)\.? (?:st\b\.?|stitch|one) over(?: (?:it|that|this|the (?:knit(?:ted)?|other|last) (?:st\b\.?|stitch|one)))?)"
_SLIPS_ONE = rf"sl(?:ip)?\.? ?{_ONE}{_ST}(?: (?:knitwise|kwise|purlwise|pwise|knit-wise))?"
_AND = r"[,;.]? ?(?:and |then )*"
_LIES = (
    r"(?: (?:st\b\.?|stitch|it))?(?: (?:tbl|through (?:the )?backs?(?: (?:of (?:the )?)?loops?)?))?"
)

_STITCH: tuple[tuple[str, str, int, int], ...] = (  # how it is written, our word, takes, leaves
    (rf"{_SLIPS_ONE}{_AND}k(?:nit)?\.? ?(?:2|two|the next (?:2|two)){_ST} ?tog(?:ether)?\.?{_AND}{_PASSED}", "sk2p", 3, 1),
    (rf"{_SLIPS_ONE}{_AND}k(?:nit)?\.? ?{_ONE}{_ST}{_AND}{_PASSED}", "skp", 2, 1),
    (r"sl(?:ip)?[. ]*1?[- ]?k(?:nit)?[. ]*1[- ]?psso|skpo?|s\.k\.p\.?o?\.?", "skp", 2, 1),
    (r"sk2po?|sl(?:ip)?[. ]*1[- ,]k2tog[- ,]psso", "sk2p", 3, 1),
    (r"ssk|s\.s\.k\.|slip,? slip,? knit|slip two(?: knitwise)?,? knit (?:them|the two) together(?: through the backs?(?: loops?)?)?", "ssk", 2, 1),
    (r"ssp", "ssp", 2, 1),
    (r"s2kpo?|cdd", "cdd", 3, 1),
    (rf"k(?:nit)?\.? ?(?:the )?(?:next )?(?:3|three){_ST} ?tog(?:ether)?\b\.?", "k3tog", 3, 1),
    (rf"k(?:nit)?\.? ?(?:the )?(?:next )?(?:2|two){_ST} ?tog(?:ether)?\b\.?(?: (?:tbl|through (?:the )?backs?(?: (?:of (?:the )?)?loops?)?))", "k2tog tbl", 2, 1),
    (rf"k(?:nit)?\.? ?(?:the )?(?:next )?(?:2|two){_ST} ?tog(?:ether)?\b\.?", "k2tog", 2, 1),
    (rf"p(?:url)?\.? ?(?:the )?(?:next )?(?:3|three){_ST} ?tog(?:ether)?\b\.?", "p3tog", 3, 1),
    (rf"p(?:url)?\.? ?(?:the )?(?:next )?(?:2|two){_ST} ?tog(?:ether)?\b\.?", "p2tog", 2, 1),
    (r"m\.? ?1 ?l(?:eft)?\b|make (?:1|one) left|m1[- ]left", "m1l", 0, 1),
    (r"m\.? ?1 ?r(?:ight)?\b|make (?:1|one) right|m1[- ]right", "m1r", 0, 1),
    (r"m\.? ?1\b(?:(?: st\b)?)|make (?:1|one)\b(?: st(?:itch)?\b)?", "m1", 0, 1),
    (r"y\.?o\.?(?![a-z])|yarn[- ]over|(?:wl|wool|yarn|y)\.? ?(?:fwd|forward)\b\.?|yrn\b|yon\b|y\.?f\.?(?![a-z])", "yo", 0, 1),
    (rf"k1?fb|k1?f ?& ?b|kf&b|knit (?:in|into|in to) (?:the )?front and (?:the )?back (?:of )?{_ONE}?{_ST}|inc(?:rease)?\.?(?: 1| one)? (?:in|into) (?:the )?(?:next|1|one){_ST}", "kfb", 1, 2),
    (r"pfb", "pfb", 1, 2),
)  # fmt: skip
_STITCHES = [(re.compile(form, re.IGNORECASE), word, t, g) for form, word, t, g in _STITCH]
_CROSSING = re.compile(
    r"(?:(?P<a>\d{1,2})/(?P<b>\d{1,2}) ?[lr]p?c|[ct](?P<c>\d{1,2})[fb])(?![a-z0-9])", re.IGNORECASE
)
_RUN = WordForm(
    rf"(?P<do>k(?:nit)?|p(?:url)?|sl(?:ip)?)\b\.? ?(?:the )?(?:next |first |last )?(?P<n>{NUMBER_WORDED}){_ST}(?P<how> (?:purlwise|knitwise|pwise|kwise|wyif|wyib|tbl))?(?! ?(?:tog|together|times|more|cm|in\b|inch|rounds?|rnds?|rows?))"
    rf"|(?P<do2>[kp]|sl)\.? ?(?P<n2>{COUNT}){_ST}(?P<how2> (?:purlwise|knitwise|pwise|kwise|wyif|wyib|tbl))?(?! ?(?:tog|times|cm|rounds?|rnds?|rows?))",
)
_ON = r"(?: (?:across|along|plain|straight|on|over|even|all|the way|round|around|it|every(?:thing)?|each|stitch(?:es)?|st|sts))*"
_END = r"(?:the )?(?:very )?(?:end\b(?: of (?:the |this |your |each |that )*(?:rnd|round|row|stitches|sts|needle|side|half|(?:instep|sole|front|back|palm|top)(?:/(?:instep|sole|front|back|palm))?))?|eor\b|e\.?o\.?r\.?(?![a-z]))"
_MARKER = (
    r"(?:the |your |next |first |second |end |centre |center |beginning |bor )*(?:marker|mkr|m)\b"
)
_TO = re.compile(
    rf"{_ON} ?(?:to|until|up to|till|as far as) (?:you (?:reach|come to|get to|have) |there (?:are|is) |within |only |just )*(?:"
    rf"(?:the )?(?:(?:last|final) (?P<last>{NUMBER_WORDED}){_ST}|(?P<one>(?:last|final) (?:st|stitch)\b\.?))(?: of (?:the )?(?:round|rnd|row))?"
    rf"|(?P<left>{NUMBER_WORDED}){_ST} (?:remain\w*|rem\b\.?|are left|left|(?:before|from|short of|of|to go before|in front of|away from) {_END})(?: (?:unworked|left|on (?:the|your) needles?|in (?:the )?(?:round|rnd|row)))*"
    rf"|(?P<from>{NUMBER_WORDED}){_ST} (?:before|from|short of|of|in front of) {_MARKER}"
    rf"|(?P<marker>{_MARKER})"
    rf"|(?P<end>{_END}))"
    rf"|(?P<rest>{_ON} ?(?:(?:to|for|over|on|across) )?(?:all )?(?:the )?(?:rest|remaining|rem\b\.?|others?){_ST}(?: of (?:the )?(?:round|rnd|row|sts|stitches))?)"
    r"|(?P<round> (?:all )?(?:the )?(?:(?:way|whole)? ?)?(?:a?round|across)\b(?: (?:the )?(?:round|rnd|row))?)",
    re.IGNORECASE,
)
_PLAIN = WordForm(r"(?P<do>k(?:nit)?|p(?:url)?)\b\.?(?! ?\d)")
_TIMES = re.compile(
    rf",? ?(?:(?P<more>(?P<a>{NUMBER_WORDED}) times more|(?P<b>{NUMBER_WORDED}) more times?|(?P<c>once|twice) more|(?P<d>once) again)|(?P<times>(?P<e>{NUMBER_WORDED}) times(?: in all| over| altogether)?|twice(?: in all)?|x ?(?P<f>\d+)))",
    re.IGNORECASE,
)
_FROM = re.compile(
    r"(?:(?:rep(?:eat)?(?:ing)?|work|go on|cont(?:inue)?|keep going|again|do)\b\.?,? ?)+(?:from |between |the bit |what is |the part |this |that )*(?:the )?(?:\*{1,2}|stars?\b|asterisks?\b|that|this)(?: ?(?:to|and|-|–) ?(?:the )?(?:\*{1,2}|star\b))?",
    re.IGNORECASE,
)
_ALL_AGAIN = re.compile(
    r"(?:rep(?:eat)?|do|work)(?:ing)?\b\.? ?(?:this|these|those|that|it|so|the same|over and over|again|all of this|(?:\d+|two|three|four|five|six|eight|nine|ten|twelve) (?:sts|stitches)| )*(?= ?(?:to (?:the )?end|(?:a|all )?round|all (?:the )?(?:way|a?round)|across|(?:\d+|[a-z]+) times|twice|once more))|again(?= (?:all (?:the way )?)?a?round)|(?:and )?so on(?= ?(?:to (?:the )?end|(?:all )?a?round|across))",
    re.IGNORECASE,
)
_ONCE_MORE = re.compile(  # "and then do exactly the same over the other half"
    r"(?:(?:and|then|do|work|repeat|again)\b,? ?)*(?:(?:exactly|just) )?(?:the )?same(?: thing| again| once more)*(?: (?:over|on|for|across|along|with|to)? ?(?:the )?(?:other|second|back|remaining|next|rest) ?(?:half|side|needle|sts|stitches|end)?(?: of (?:the |your )?(?!round|rnd|row)[a-z]+)?)?"
    r"|(?:and )?(?:rep(?:eat)?|do|work)(?: (?:this|that|it|so))? (?:(?:one |once )more(?: time)?|once|again)(?! (?:to|around|from))",
    re.IGNORECASE,
)
_FOR_ROWS = re.compile(
    rf"(?:for|over) (?P<n>{NUMBER_WORDED}) (?:more )?(?:rounds|rnds|rows)\b", re.IGNORECASE
)
_SLIPS_MARKER = re.compile(
    r"(?:sl(?:ip)? (?:the )?(?:(?:first|second|next|1st|2nd) )?(?:marker|mkr|m)\b|s\.?m\.?(?![a-z]))",
    re.IGNORECASE,
)
_SETS_MARKER = re.compile(
    r"(?:p\.?m\.?(?![a-z])|(?:place|put|hang|set)(?: on)? (?:the |a |an |another |your )?(?:(?:first|second|1st|2nd) )?(?:stitch )?marker\b)",
    re.IGNORECASE,
)
_PIECES = re.compile(  # "you will cross 6 (8, 10) cables"
    rf"(?:you (?:will )?)?(?:cross |work |have |make |making |crossing )?{COUNT} (?:cables|sections|wedges|(?:pattern )?repeats)\b",
    re.IGNORECASE,
)
_HARMLESS = re.compile(
    r"(?:the|a|an|your|of|in|round|rnd|row|this|that|it|stitch(?:es)?|sts?|way|just|simply|now|then|and|so|also|next|first|finally|again|you|you'll|will|have|should|be|left|are|there|is|makes?|making|leaves?|leaving|gives?|giving|giving you|total|remain(?:ing)?|rem|all|on|(?<!first )(?<!second )(?<!third )(?<!fourth )(?<!\d[snrt][tdh] )(?<!next )(?<!sole )(?<!instep )(?<!heel )needles?(?! ?\d)|as before|altogether|inc(?:reased|'d|s)?|dec(?:reased|'d|s)?|increases?|decreases?|more|fewer|less|around|even(?:ly)?|plain|begin(?:ning)?|start(?:ing)?|end(?:ing)?|with|by|here|done|count|rs|ws|'ll|exactly|cross the cables|(?:dec(?:rease)?|inc(?:rease)?) (?:row|round|rnd)|as follows|thus|follow(?:s|ing)(?: the (?:rib|pattern))?|work (?=(?:a|one|the|this|next|in pattern)\b)|get rid of|per|each|every)\b\.?|[,;.:!=+−–—()\[\]-]",
    re.IGNORECASE,
)  # fmt: skip
_HARMLESS_ALL = re.compile(rf"(?:\s|{_HARMLESS.pattern})*", re.IGNORECASE)
_HALF = WordForm(
    r"(?:(?<=^)|(?<=[;.,:] )|(?<= )(?=on ))(?:on )?(?:the )?(?:needle [AB12]|[AB]|n ?[12]|(?:first|second|1st|2nd|front|back|other) needle|sole|instep|top|bottom|front|back|palm|back of hand)(?: sts| stitches)? ?[:=,] ?(?=[*(\[]?(?:[kps]|knit|purl|sl|ssk|same|as|rep|do|yo|m1|work|like))",
)
_SAME = WordForm(
    r"(?:(?:work|do|rep(?:eat)?|the|just|exactly)\b ?)*(?:same|as|like|rep(?:eat)?)\b[^;.(\[\d]*",
)
_ANY_NUMBER = re.compile(NUMBER_WORDED, re.IGNORECASE)
_NO_STITCHES = WordForm(r" ?(?:cm|mm|in\b|inch|\"|rounds?|rnds?|rows?|times)", re.NOFLAG)
_STARS = re.compile(r"\*+")
_BEFORE_AGAIN = re.compile(r"(?:[\s,;.]+(?=rep|work|go|cont|keep|again|do\b)|\s+)+", re.IGNORECASE)
_BEFORE_TO = re.compile(r"[\s,]+(?=to|until|till|all|around|across|up)", re.IGNORECASE)
_STATED = re.compile(
    rf"[(\[][-=+ ]*(?:you (?:now )?have |now |there are )?(?P<n>{COUNT})(?: (?:sts?|stitch(?:es)?)\b\.?)?(?: (?:inc|dec|increased|decreased|more|fewer|less|left|rem|remain(?:ing)?|now|in all|total|inc'd|dec'd)\b\.?)*[)\]]",
    re.IGNORECASE,
)
_MAY = WordForm(r"\b(?:k|knit|p|purl|ssk|yo)\b|\b[kp]\d|\*")
_STEP = WordForm(r"\d{1,2}[.)] +(?=[A-Z*(\[])", re.NOFLAG)
_NEVER = WordForm(
    r"\b(?:turn|wrap|w&t|cast|bind|pick|holder|waste|rows \d|rounds \d|rnds \d|every|alternate|size|cm|inch(?:es)?|ds|graft)\b",
)


@attrs.frozen
class OneStitch:
    """A stitch, or a run of one: its word, what it takes and leaves in each size."""

    word: str
    takes: Numbers
    leaves: Numbers


@attrs.frozen
class PlainRest:
    """Work plain to a place: the last stitches, or so many before a marker."""

    word: str
    before: Numbers
    marker: bool = False


@attrs.frozen
class Passed:
    """A marker that is slipped."""


@attrs.frozen
class WorkedAgain:
    """What is worked again: so many times, or up to the last stitches."""

    items: tuple[RowItem, ...]
    times: Numbers | None
    before: Numbers
    starred: bool = False


@attrs.frozen
class _Half:
    """What is worked over half of the stitches: a needle, or a side."""

    items: tuple[RowItem, ...]


RowItem: TypeAlias = "OneStitch | PlainRest | Passed | WorkedAgain | _Half"


class NoRow(Exception):  # noqa: N818 - never reaches a user
    """The words are no row, or one that does not work out."""


@lru_cache(maxsize=8192)
def may_be_row(text: str) -> bool:
    """Tell whether a line may tell one row, stitch by stitch."""
    return len(text) < 500 and bool(_MAY.search(text)) and _NEVER.search(text) is None


def row_in_short(
    live: Live, text: str, *, beside: str, is_sentence: bool
) -> tuple[str, Numbers] | None:
    """Return a row in our own words, and the stitches after it; None where it does not work out.

    `beside` is what the next sentence says; a sentence needs no label, and a line does.
    """
    there = tuple(tally.count for tally in live.tallies)
    if not there or not all(there) or not live.sure or live.is_within:
        return None
    label = label_of(text)
    numbered = _STEP.match(text) if label is None else None
    start = label.end if label else numbered.end() if numbered else 0
    inner = label_of(text[start:])
    if (inner and inner.numbers) or re.search(
        r"\b(?:rnd|round|row) \d", text[start:], re.IGNORECASE
    ):
        return None
    if label and (len(label.numbers) > 1 or label.which or label.times > 1):
        return None
    begun = start if label else start + lead_of(text[start:])
    many = MANY.match(text, begun) if label is None else None
    try:
        row = RowWords(text[many.end() if many else begun :], len(there))
        if many:
            row.worked_again(there, many["n"])
        if stated := STATED_BESIDE.match(beside):
            row.state(stated["n"])
    except NoRow:
        return None
    for items in row.meanings():
        ways = [RowAlong(tally, size) for size, tally in enumerate(live.tallies)]
        try:
            after = tuple(way.all_of(items) for way in ways)
            said = "; ".join(_by_needle(items)) or ", ".join(said_items(items))
        except NoRow:
            continue
        if agrees(row.told, there, after, text + beside) and (row.courses == 1 or after == there):
            break
    else:
        return None
    is_row = len(items) > 1 or isinstance(items[0], WorkedAgain)
    if not (label or numbered or (is_row and (row.told or is_sentence))):
        return None
    course = "rnd" if live.in_rounds else "row"
    head = f"Next {row.courses} {course}s:" if row.courses > 1 else f"Next {course}:"
    head = text[:start].strip() if label else f"{numbered[0] if numbered else ''}{head}"
    return f"{head} {capital(said)}. ({sized(after)} sts)", after


def capital(text: str) -> str:
    """Return words that begin with a capital letter."""
    at = next((n for n, sign in enumerate(text) if sign.isalpha()), 0)
    return text[:at] + text[at].upper() + text[at + 1 :]


def agrees(told: Sequence[Numbers], there: Numbers, after: Numbers, text: str = "") -> bool:
    """Tell whether a row makes what it states, or what lies on each needle then."""
    change = tuple(abs(a - b) for a, b in zip(there, after, strict=True))
    shares = _shares(after) if _EACH.search(text) else ()
    return all(numbers in (after, change, *shares) for numbers in told)


_EACH = WordForm(r"\b(?:each|every|per)\b")


def _shares(whole: Numbers) -> Iterator[Numbers]:
    """Yield what lies on each of three needles or four, where they hold as many."""
    for many in (3, 4):
        if not any(n % many for n in whole):
            yield tuple(n // many for n in whole)


class RowWords:
    """The stitches of a row, picked out of its words."""

    def __init__(self, text: str, sizes: int) -> None:
        self.text, self.sizes, self.at = text, sizes, 0
        self.told: list[Numbers] = []
        self.courses = 1  # rows that are worked alike
        self.items = self._in_halves() or self._items("")
        if not self.items:
            raise NoRow

    def _in_halves(self) -> tuple[RowItem, ...]:
        """Read "A: k1, m1l, k to last st, m1r, k1; B: same as A"."""
        named = list(_HALF.finditer(self.text))
        if len(named) != 2 or _HARMLESS_ALL.fullmatch(self.text, 0, named[0].start()) is None:
            return ()
        first = self.text[named[0].end() : named[1].start()]
        second, after = self.text[named[1].end() :], ""
        if (same := _SAME.match(second)) is not None:
            second, after = first, second[same.end() :]
        halves = [
            RowWords(first, self.sizes),
            RowWords(second, self.sizes),
            _Told(after, self.sizes),
        ]
        self.told += [numbers for half in halves for numbers in half.told]
        return tuple(_Half(half.items) for half in halves[:2])

    def _numbers(self, word: str) -> Numbers:
        if word[0].isdigit():
            found = numbers_of_sizes(word, self.sizes)
            if found is None:
                raise NoRow
            return found
        return (number_of(word),) * self.sizes

    def state(self, count: str) -> None:
        """Take a count that is told beside the row."""
        self.told.append(self._numbers(count))

    def worked_again(self, there: Numbers, often: str) -> None:
        """Take the stitches of some rows for what is worked over and over in each of them."""
        many = {*self._numbers(often)}
        if len(many) != 1 or self.courses != 1:
            raise NoRow
        self.courses = many.pop()
        takes = [
            sum(one.takes[size] for one in self.items if isinstance(one, OneStitch))
            for size in range(self.sizes)
        ]
        if all(isinstance(one, OneStitch) for one in self.items) and tuple(takes) != there:
            self.items = (WorkedAgain(self.items, None, (0,) * self.sizes, starred=True),)

    def meanings(self) -> Iterator[tuple[RowItem, ...]]:
        """Yield what the row may mean: "k9, k2tog around" is of all of it where a count says so."""
        yield self.items
        last = self.items[-1]
        if not self.told or len(self.items) == 1 or not isinstance(last, WorkedAgain):
            return
        if len(last.items) == 1 and last.times is None and not any(last.before):
            whole = (*self.items[:-1], *last.items)
            yield (WorkedAgain(whole, None, last.before, starred=True),)

    def _is(self, form: re.Pattern[str]) -> re.Match[str] | None:
        found = form.match(self.text, self.at)
        if found and found.end() > self.at:
            self.at = found.end()
            return found
        return None

    def _items(self, closing: str) -> tuple[RowItem, ...]:
        items: list[RowItem] = []
        while self.at < len(self.text):
            sign = self.text[self.at]
            if sign.isspace():
                self.at += 1
            elif sign == "*":
                self._is(_STARS)
                if closing == "*":
                    return tuple(items)
                inner = self._items("*")
                items.append(self._again(inner, starred=True))
            elif sign in "([" and (told := self._stated_in_brackets()):
                self.told.append(told)
            elif sign in "([":
                self.at += 1
                inner = self._items(")" if sign == "(" else "]")
                items.append(self._again(inner, starred=False))
            elif sign in ")]" and sign == closing:
                self.at += 1
                return tuple(items)
            elif closing == "*" and _FROM.match(self.text, self.at):
                return tuple(items)
            elif not closing and items and self._is(_ALL_AGAIN):
                items = [self._again(tuple(items), starred=True)]
            elif not closing and items and self._is(_ONCE_MORE):
                items = [WorkedAgain(tuple(items), (2,) * self.sizes, (0,) * self.sizes)]
            elif not closing and items and self.courses == 1 and (often := self._is(_FOR_ROWS)):
                self.courses = {*self._numbers(often["n"])}.pop()
            else:
                items += self._one()
        if closing:
            raise NoRow
        return tuple(items)

    def _stated_in_brackets(self) -> Numbers | None:
        found = self._is(_STATED)
        return self._numbers(found["n"]) if found else None

    def _again(self, inner: tuple[RowItem, ...], *, starred: bool) -> WorkedAgain:
        """Read how often what stands in brackets, or behind a star, is worked."""
        none = (0,) * self.sizes
        if not inner:
            raise NoRow
        here = self.at
        self._is(_BEFORE_AGAIN)
        once_more = self._is(_FROM) is not None
        if match := self._is(_TIMES):
            word = next(
                (match[key] for key in "abcdef" if match[key]), "twice" if match["times"] else ""
            )
            times = self._numbers(word)
            if match["more"] or once_more:
                times = tuple(n + 1 for n in times)
            return WorkedAgain(inner, times, none, starred)
        self._is(_BEFORE_TO)
        if self.at and self.text[self.at - 1 : self.at].isspace():
            self.at -= 1
        if match := self._is(_TO):
            if match["marker"] and starred:
                return WorkedAgain(inner, None, none, starred)
            if match["from"] or match["marker"]:
                raise NoRow
            return WorkedAgain(inner, None, self._before(match), starred)
        if starred and (once_more or self.at != here):
            return WorkedAgain(inner, None, none, starred)
        raise NoRow

    def _one(self) -> Iterator[RowItem]:
        for form, word, takes, leaves in _STITCHES:
            if (match := form.match(self.text, self.at)) and not self._is_within_word(match):
                self.at = match.end()
                one = OneStitch(word, (takes,) * self.sizes, (leaves,) * self.sizes)
                if (self.text[self.at - 1] not in ".") and (to := self._is(_TO)):
                    yield WorkedAgain((one,), None, self._before(to), starred=True)
                elif often := self._is(_TIMES):
                    word_of = next((often[key] for key in "ef" if often[key]), "twice")
                    if often["more"]:
                        raise NoRow
                    yield WorkedAgain((one,), self._numbers(word_of), (0,) * self.sizes)
                else:
                    yield one
                return
        if self._is(_SLIPS_MARKER):
            yield Passed()
        elif self._is(_SETS_MARKER):
            yield OneStitch("pm", (0,) * self.sizes, (0,) * self.sizes)
        elif self._is(_PIECES):
            return
        elif crossing := self._is(_CROSSING):
            width = (sum(int(n) for n in crossing.groups() if n),) * self.sizes
            yield OneStitch(crossing[0], width, width)
        elif (match := _RUN.match(self.text, self.at)) and not self._is_within_word(match):
            self.at = match.end()
            n = self._numbers(match["n"] or match["n2"])
            how = (match["how"] or match["how2"] or "").replace("kwise", "knitwise")
            word = {"k": "k", "p": "p", "s": "sl "}[(match["do"] or match["do2"])[0].lower()]
            yield OneStitch(f"{word}{sized(n)}{how}", n, n)
        elif (match := _PLAIN.match(self.text, self.at)) and (
            to := _TO.match(self.text, match.end())
        ):
            self.at = to.end()
            word = match["do"][0].lower()
            if to["marker"] or to["from"]:
                yield PlainRest(word, self._before(to), marker=True)
            else:
                yield PlainRest(word, self._before(to))
        elif match := self._is(_ANY_NUMBER):
            if _NO_STITCHES.match(self.text, self.at):
                raise NoRow
            self.told.append(self._numbers(match[0]))
        elif not self._is(_HARMLESS):
            raise NoRow

    def _is_within_word(self, match: re.Match[str]) -> bool:
        return match.end() < len(self.text) and (
            match[0][-1].isalpha() and self.text[match.end()].isalpha()
        )

    def _before(self, to: re.Match[str]) -> Numbers:
        word = to["last"] or to["left"] or to["from"] or (to["one"] and "one")
        return self._numbers(word) if word else (0,) * self.sizes


class _Told(RowWords):
    """What is stated behind a row."""

    def _in_halves(self) -> tuple[RowItem, ...]:
        if self._items(""):
            raise NoRow
        return (Passed(),)


class RowAlong:
    """One size, worked along the row: stitches ahead, taken, and left."""

    def __init__(self, tally: Tally, size: int) -> None:
        self.size, self.ahead, self.left, self.whole = size, tally.count, 0, tally.count
        places = tally.ahead_at or tally.behind_at
        whole = tally.count
        self.markers = sorted(
            whole - from_end
            for key, from_end in places.items()
            if key[0] == MARKER and 0 < whole - from_end < whole
        )
        self.done = 0

    def all_of(self, items: Sequence[RowItem]) -> int:
        self._work(items)
        if self.ahead:
            raise NoRow
        return self.left

    def _work(self, items: Sequence[RowItem]) -> None:
        for item in items:
            if isinstance(item, OneStitch):
                self._take(item.takes[self.size], item.leaves[self.size])
            elif isinstance(item, PlainRest):
                before = item.before[self.size]
                if item.marker:
                    goal = next((place for place in self.markers if place > self.done), None)
                    n = (goal if goal is not None else self.done + self.ahead) - self.done - before
                else:
                    n = self.ahead - before
                if n < 0:
                    raise NoRow
                self._take(n, n)
            elif isinstance(item, _Half):
                self._in_shares(item.items, 1, 2)
            elif isinstance(item, WorkedAgain):
                self._again(item)

    def _again(self, item: WorkedAgain) -> None:
        if item.times is not None:
            self._in_shares(item.items, item.times[self.size])
            return
        goal, done = item.before[self.size], 0
        while self.ahead > goal:
            before = self.ahead
            self._work(item.items)
            done += 1
            if self.ahead == before:
                raise NoRow
        if self.ahead != goal or not done:
            raise NoRow

    def _in_shares(self, items: Sequence[RowItem], times: int, of: int = 0) -> None:
        """Work items so often; where they go to an end, that is the end of an even share."""
        if not of and not any(isinstance(item, PlainRest) and not item.marker for item in items):
            for _ in range(times):
                self._work(items)
            return
        share = (self.whole if of else self.ahead) // max(of or times, 1)
        before = self.ahead
        for _ in range(times):
            self.ahead = share
            self._work(items)
            if self.ahead:
                raise NoRow
        self.ahead = before - share * times

    def _take(self, takes: int, leaves: int) -> None:
        self.ahead -= takes
        self.done += takes
        self.left += leaves
        if self.ahead < 0:
            raise NoRow


def _by_needle(items: Sequence[RowItem]) -> Iterator[str]:
    """Say what goes to the ends of shares as what is worked on needles."""
    if all(isinstance(item, _Half) for item in items):
        shares = [item.items for item in items if isinstance(item, _Half)]
    elif len(items) == 1 and isinstance(items[0], WorkedAgain) and _ends_in_shares(items[0]):
        many = set(items[0].times or ())
        if len(many) != 1 or not 2 <= max(many) <= NEEDLES:
            raise NoRow
        shares = [items[0].items] * max(many)
    else:
        return
    for number, share in enumerate(shares, start=1):
        yield f"needle {number}: {', '.join(said_items(share))}"


def _ends_in_shares(item: WorkedAgain) -> bool:
    return item.times is not None and any(
        isinstance(one, PlainRest) and not one.marker for one in item.items
    )


def said_items(items: Sequence[RowItem]) -> Iterator[str]:
    """Yield items in our own words."""
    for item in items:
        if isinstance(item, OneStitch):
            yield item.word
        elif isinstance(item, Passed):
            yield "sm"
        elif isinstance(item, PlainRest):
            before = f"{sized(item.before)} sts before " if any(item.before) and item.marker else ""
            last = f"last {sized(item.before)} sts" if any(item.before) else "end"
            yield f"{item.word} to {before + 'marker' if item.marker else last}"
        elif isinstance(item, _Half) or _ends_in_shares(item):
            raise NoRow  # beside other stitches
        elif item.times is not None:
            yield f"[{', '.join(said_items(item.items))}] {sized(item.times)} times"
        else:
            last = f"last {sized(item.before)} sts" if any(item.before) else "end"
            yield f"*{', '.join(said_items(item.items))}; rep from * to {last}"
