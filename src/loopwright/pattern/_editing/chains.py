# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""From one stated count to the next, where a row between the two could not be worked.

Only rows that are complete in themselves are counted: ``*k6, k2tog; rep from * to end``, a row
with each of its decreases named once, "2 sts dec'd". Whatever else is done to the stitches ends a
chain.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Sequence
from functools import lru_cache

import attrs

from loopwright.pattern._editing.figures import alike
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.listed_rows import FOR_EACH
from loopwright.pattern._editing.row_slips import Token, tokens_at
from loopwright.pattern._editing.spoken import OF_SOME_SIZES, Spoken
from loopwright.pattern._editing.sums import change_in, stated_change
from loopwright.pattern._editing.whole_rows import is_met_all_round
from loopwright.pattern._reading.of_each import tells_of_each
from loopwright.pattern._reading.stated import (
    count_in,
    for_sizes,
    number_of,
    stated_of,
    without_thumb,
)
from loopwright.pattern._rewording.both_halves import with_both_halves
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._words import figure
from loopwright.pattern.values import Count, sized, values_of

__all__ = ["chains"]

_PLAIN = WordForm(
    r"(?:(?:k|p|knit|purl)\b\.?(?: to (?:the )?end| all (?:the )?sts| every (?:round|rnd|row)"
    r"| plain| (?:\d+|one|two|three|four) (?:rounds?|rnds?|rows?))?"
    r"|work (?:even|straight)\b.*|(?:in )?patt(?:ern)?|(?:sl|slip) ?1(?: st)?(?: [a-z]+)?, (?:k|p|knit|purl) to end)\W*$",
)
_AGAIN = WordForm(
    r"(?:rep(?:eat)?|work)\b\.? (?:these|the last|last|(?:rounds?|rnds?|rows?) (?P<a>\d+)"
    r"(?:\s*(?:-|–|and|to)\s*(?P<b>\d+))?) ?(?:(?P<many>\d+|two|three|four) )?"
    r"(?:rounds|rnds|rows)?,? ?(?:(?:adding|increasing|decreasing|losing|gaining) [^,;.]{3,30}, ?)?"
    rf"(?P<before>another |a further |a total of )?(?P<times>{COUNT}) ?(?P<more>more |further )?"
    r"times?(?: (?P<after>more|again))?\W*$",
)
_UNTIL = WordForm(
    r"(?:rep(?:eat)?|work)\b\.? (?:these|the last|last|(?:rounds?|rnds?|rows?) (?P<a>\d+)"
    r"(?:\s*(?:-|–|and|to)\s*(?P<b>\d+))?) ?(?:(?P<many>\d+|two|three|four) )?"
    rf"(?:rounds|rnds|rows)?,? ?until (?:there are |you have )?(?P<n>{COUNT}) (?:sts?|stitches)\b"
    r"(?![^;]*\b(?:on|in|at|for the|between|before|after|each|un\w+|past|beyond|every|needles?|then|again|once|twice|more)\b)[^;]*$",
)
_ONCE_MORE = WordForm(r"\b(?:then|once more|again)\b")
_UNTIL_SAID = WordForm(
    rf"\buntil (?:there are |you have )?(?P<n>{COUNT}) (?:sts?|stitches)\b"
    r"(?:,? (?:rem\w*\.?|(?:are )?left))?(?:,? (?:(?:in|for) (?:every|each|all)(?: the)? sizes?|whatever the size))?(?:,? ending[^.;]*)?\W*$",
)
_ROUNDS = WordForm(
    r"(?:k|p|knit|purl|work) \d+ (?:rounds?|rnds?|rows?)\b"
    r"(?! (?:all )?(?:as|like|the same as|of) (?:for )?(?:the )?(?:row|rnd|round)\b| (?:(?:as|like) (?:for|in|on)|of) (?!this|that|it\b|these|those|(?:rib|garter|stock|st\b|st\.|moss|seed|plain|k\d|\*))[a-z])"
)
_SHAPES = WordForm(
    r"(?:[kp]\d ?tog|\d tog)|\b(?:inc(?!h)|dec|ssk|ssp|skp|yo\b|yfwd|yrn|yon\b|yf\b|m1|kfb|tog|cast|bind|co ?\d|bo\b|pick|shap|narrow|take in|lose )",
)
_ENDS = WordForm(
    r"\b(?:(?:place|put|move|transfer|leave|set) (?:the |next |first |these |those |foll\w* )*\d|held|hold|holder|waste|scrap|turn|join|slip|heel|instep|graft|thread|rep\w*|as|like|cdd|s[k2](?:2|k2?)?p\d?|psso|narrow|rows? \d|rnds? \d|rounds? \d)\b|[*\[(]",
)
_BEGUN = WordForm(
    rf"(?:(?:with|using) [^,.]{{1,30}}, ?)?(?:cast(?:ing)? (?:on|up)|co|set (?:up|on))\b\D{{0,12}}(?P<n>{COUNT})(?![^.;]*\b(?:gap|bridge|in (?:its|their) place|in place of|backward)\b| (?:sts? |stitch(?:es)? )?(?:on)?to the \d)",
)
_MOVES = WordForm(r"\b(?:pick|cast|co|held|hold\w*|waste|scrap|place|put|heel|instep)\b")
_WHOLE = WordForm(  # "42 sts, 21 on each half"
    rf"(?P<n>{COUNT}) (?:sts?|stitches)\s*[,:;(—–-]+ ?{COUNT} (?:sts? |stitches )?"
    r"(?:on|in) (?:each|both) [a-z ]+[.)]*$",
)
_OF_PART = WordForm(rf"\W*{COUNT} (?:thumb|gusset) (?:sts?|stitches)\W*")  # not of the round
_ALONE_TOLD = WordForm(rf"(?P<n>{COUNT}) (?:sts?|stitches)(?=,)")
_TELLS = WordForm(
    r"(?:there (?:are|is)|you (?:should |now )*have|this is|the (?:round|rnd|beginning|heel is)|that is|keep|do not)\b",
)
_OF_ONE = WordForm(
    rf"(?!\w+\.? (?:the )?(?:round|rnd|row) \d+\W*$)(?:rep(?:eat)?|work|do)\b\.? (?:only )?(?:the )?(?:(?:dec|inc)\w*\.? )?(?:round|rnd|row)(?: \d+| (?-i:[A-H]))?(?: alone| only)*,? (?P<times>{COUNT}|once|twice|two|three|four|five|six)"
    r"(?: more| further)?(?: times?)?(?: more)?(?:, [^;]*)?\W*$",
)
_OF_ITS_NUMBER = WordForm(r"(?:rep(?:eat)?|work)\b\.? (?:round|rnd|row) \d+\W*$")  # once
_OF_ONE_UNTIL = WordForm(
    rf"(?:rep(?:eat)?|work)\b\.? (?:only )?(?:the )?(?:(?:dec|inc)\w*\.? )?(?:round|rnd|row)(?: \d+)?(?: alone| only)* until (?:there are |you have )?(?P<n>{COUNT}) (?:sts?|stitches)\b"
    r"(?![^;]*\b(?:on|in|at|for the|between|before|after|each|un\w+|past|beyond|every|needles?|then|again|once|twice|more)\b)[^;]*$",
)
_PICKS_ON_NEEDLE = WordForm(  # what is told then lies on this needle, if not in all
    r"(?:(?:step )?\d{1,2}[.):] )?(?:n|needles?|(?:the )?(?:first|second|third|fourth|\d(?:st|nd|rd|th)) needle) ?\d?:.*\bpick(?:ing)? up\b"
)
_IN_ALL = WordForm(r"\b(?:in all|(?:in )?total|altogether)\b")
_NEEDLE = WordForm(r"\b(?:n|needles?) ?\d(?: and \d)?:")
_DOES = WordForm(  # anything that may change a count
    r"\d|\b(?:k|p|knit|purl|sl|slip|cast|bind|co|bo|pick|place|put|held|hold|wast|join|inc|dec|tog|ssk|yo|m1|"
    r"kfb|rep|repeat|times|twice|continue|cont|shap\w*|same|last|each|every|until|graft|cut|break|thread|draw)",
)
_PART_ROW = WordForm(
    rf"(?:k|p|knit|purl) ?(?P<n>{COUNT}),? turn\b[^a-z]*(?:and )?leav(?:e|ing) (?:the )?(?:last|other|rem\w*\.?) "
    rf"(?P<left>{COUNT}) (?:sts?|stitches)\b",
)
_TURNS = WordForm(r"\b(?:turn|w&t|wrap|gap|ds)\b|^\W*(?:(?:the )?same(?: again)?|likewise)\W*$")
_TURNED = WordForm(r"\bturn(?: (?:the |your )?work)?\W*$")
_STAY = WordForm(
    rf"^\W*(?:there (?:are|will be) |you (?:have|see) )?{COUNT} (?:sts?|stitches) (?:are |is |still |now )*(?:left|rem(?:ain)?|stay|wait)\b[^,;.]* (?:on|at|here|there|behind)\b"
)
_ALIKE = WordForm(r"\b(?:both|each|two) (?:hal(?:f|ves)|sides?|needles?)\b[^.;:]*\b(?:alike|the same)\b")  # fmt: skip
_REPEAT = WordForm(
    r"\*\s*(?P<inner>[^*;]+?)[;,.] ?rep(?:eat)? (?:from )?\* ?(?:to (?:the )?(?:end|marker|last)"
    r"(?: of (?:the )?(?:round|rnd|row))?|around|all round)?\W*$",
)
_IT_AGAIN = WordForm(r"(?:work|do|knit|repeat) (?:it|this|that) (?:again|once more)\b")
_Values = tuple[int, ...]


@attrs.define
class _Chain:
    """What is known on the way: stitches, and by how many each row since number 1 changed them."""

    now: _Values | None = None
    changes: tuple[_Values, ...] = ()
    before: tuple[_Values | None, tuple[_Values, ...]] = (None, ())  # the last sentence
    open: _Values | None = None  # the count before a row that says not what it does
    shaped: _Values = ()  # what the last row that changed the count did
    alike: bool = False  # whether rounds are told for one half, and both are worked alike
    line: int = 0  # of the text, where the last row stands
    turned: bool = False  # whether the last sentence ended with a turn
    hand: tuple[str, _Values | None, int] = ("", None, 0)  # its side, the count before, the line


_ELSEWHERE = WordForm(
    r"\b(?:bind|cast) off (?:all|loosely|in|the rem\w*)\b|\bBO (?:all|loosely|in)\b|\b(?:work|make|knit) (?:exactly |just )?(?:the same )?(?:as|like) (?:given )?(?:for|in|the)\b|\bwork (?:exactly )?(?:as|like) (?-i:[A-Z][a-z]+)\b(?! \d)|\b(?:work|make|knit) (?:another|a second)\b|\bas (?:given )?for (?:the )?(?:right|left|first|other)\b"
    r"|(?:\b(?:work|repeat|knit|rep|do)\b|(?:^|: )(?:the same )?(?:as|like)\b)[^.;*]*\b(?:section|part) (?:[a-h]|\d)\b|^(?:now |then )*(?:work|repeat|knit|rep|do) (?:all |the |both )*(?:[a-z]+ )?(?:rows?|rounds?|rnds?) (?:of (?:the )?(?!\d|this|that|rib|st\b|garter|plain)[a-z]|and the (?:row|round|rnd) (?:after|behind))|^(?:now |then )?(?:work|repeat|knit|rep|do)\b(?![^.;]*\b(?:row|round|rnd|rows|rounds|rnds|last|these|this|it|that)\b)[^.;*:]*\b(?:(?:more|another [a-z]+) times|times more|once more|twice(?: more)?|again)(?=\W*$|[.,;])|\b(?:rows|rounds|rnds) (?:again|once more)\b|\bboth (?:rows|rounds|rnds)\b|^(?:(?:rep(?:eat)?|work|do|alternate) )?(?:(?:rows|rounds|rnds) )?(?-i:[A-Ha-h](?:, [A-Ha-h])*,? (?:and|&|then|to) [A-Ha-h])\b,? (?:until|to|down|up|twice|once|\w+ (?:more )?times)\b"
    r"|^[^.:;\d]{1,40}\bonly\W*$|^[^.;*\d]{0,50}\b(?:begin|start|join)s?(?: in)? (?:here|now)\b|\b(?:begin|start|skip)(?:s|ning|ing)?\b[^.;*]* (?:rnds?|rounds?|rows?) \d"
    r"|\b(?:go|skip|jump|move|proceed|continue|pass)\b[^.;*\d]* to [^.;*\d]*\*\*"  # some sizes do
)

_FOR_SOME = WordForm(r"\bonly\W*$")  # sizes that have other counts than all


def chains(sentences: Sequence[Spoken], lost: Container[int] = frozenset()) -> Iterator[Finding]:
    """Find a stated count that the rows since the last one can't give; a line that is lost ends them."""
    chain, section, needle = _Chain(), -1, -1
    for one in sentences:
        first = one.label is not None and one.label.numbers[:1] == (1,)
        if one.section != section or first:
            if one.section != section and _FOR_SOME.search(one.title):
                chain.now = None
            section, chain.changes = one.section, ()
            chain.alike = chain.alike and first
        chain.alike = chain.alike or _ALIKE.search(one.text) is not None
        kept = without_thumb(one.said, sized(chain.now)) if chain.now else one.said
        of_thumb = kept is not one.said
        stated = stated_of(kept.text)
        bare = stated.said.text[one.start :]
        count = None if stated.count is None else _values(stated.count)
        if _PICKS_ON_NEEDLE.match(one.text):
            needle = one.line
        if _OF_PART.fullmatch(one.text) or (one.line == needle and not _IN_ALL.search(one.text)):
            count = None
        if count is None and not of_thumb and (whole := _WHOLE.search(one.text)) is not None:
            count = _values(count_in(whole["n"]))
            bare = one.text[: whole.start()].strip()[one.start :]
        if count is None and not of_thumb and (alone := _ALONE_TOLD.match(one.text)) is not None:
            count, bare = _values(count_in(alone["n"])), ""
        if chain.turned and _STAY.search(one.text):  # of those that wait behind the turn
            continue
        chain.turned = _TURNED.search(one.text) is not None
        _take_hand(chain, one)
        now, changes = chain.now, chain.changes
        goes_on = _is_part(chain, one)
        if one.line in lost:
            chain.now, chain.changes, chain.open, chain.shaped = count, (), None, ()
            chain.before = count, ()
            continue
        if _ELSEWHERE.search(one.text):  # what is on the needles then is told elsewhere
            chain.now, chain.changes, chain.open = None, (), None
        said = _next(chain, one, bare, count)
        chain.before = chain.before if goes_on else (now, changes)
        if said:
            chain.now = chain.open = None  # which of the two counts is right, none can tell
            place = one.place()
            yield Finding(WARNING, "chain", said, place.line, place.column)


_OF_A_HAND = WordForm(  # "Left mitten, set-up: ..."
    r"(?:(?:for|on) )?(?:the )?(?P<side>left|right)(?:[- ]hand)?(?: (?:mitt\w*|glove|sock|one|hand|foot|slipper))?(?:,? (?:set-?up|only|gusset|thumb|(?:inc|dec)\w*|rounds?|rnds?|rows?|\d+))*:"
)
AT_HAND = 3  # lines behind one hand, in which the other is told of


def _take_hand(chain: _Chain, one: Spoken) -> None:
    """Go back to the count before one hand where the same is told for the other."""
    match = _OF_A_HAND.match(one.text)
    if match is None:
        return
    side, before, line = chain.hand
    if side not in ("", match["side"].lower()) and 0 < one.line - line <= AT_HAND:
        chain.now, chain.changes, chain.open = before, (), None
    chain.hand = match["side"].lower(), chain.now, one.line


def _values(count: Count) -> _Values:
    return tuple(int(value) for value in values_of(count))


def _next(chain: _Chain, one: Spoken, bare: str, count: _Values | None) -> str:
    """Take one sentence into a chain; return what is wrong with the count that it states."""
    text = one.text[one.start :]
    if OF_SOME_SIZES.search(one.text):
        chain.now, chain.changes, chain.open = count, (), None
        return ""
    if (again := _AGAIN.match(bare)) is not None:
        return _repeated(chain, again, count)
    if (until := _UNTIL.match(text)) is not None:
        said = _worked_until(chain, until)
        if _ONCE_MORE.search(text, until.end("n")):
            chain.now, chain.changes = None, ()
        return said
    if (single := _OF_ONE.match(bare)) is not None and not _OF_ITS_NUMBER.match(bare):
        return _one_again(chain, single, count)
    if (single := _OF_ONE_UNTIL.match(text)) is not None:
        return _one_until(chain, _values(count_in(single["n"])))
    if (stepped := _AT_A_TIME.search(one.text)) is not None:
        return _at_a_time(chain, one, stepped)
    if one.label is None and _IT_AGAIN.match(bare):
        chain.now, chain.changes, chain.open = count, (), None
        return ""
    if not bare.strip(" ."):
        return _told(chain, one, count)
    if (end := _UNTIL_SAID.search(text)) is not None:
        chain.now, chain.changes, chain.open = _values(count_in(end["n"])), (), None
        return ""
    if (part := _PART_ROW.match(text)) is not None:
        return _part_row(chain, part)
    if (alternate := _ALTERNATE.match(text)) is not None:
        return _one_again(chain, alternate, _told_behind(text[alternate.end() :]) or count)
    if one.label is None and (_PLANS.search(bare) or tells_of_each(bare)):  # the reading tells
        chain.now, chain.changes, chain.open = count, (), None
        return ""
    if one.label is None and count is None and not _CHANGER.search(one.text):
        return ""
    if not (_is_part(chain, one) or _DOES.search(one.text)) or (  # "B: as A"
        count is None
        and one.label is None
        and _TELLS.match(one.text)
        and not _MOVES.search(one.text)
    ):
        return ""
    return _row(chain, one, bare, count)


def _row(chain: _Chain, one: Spoken, bare: str, count: _Values | None) -> str:
    """Take a row, or what else is done to the stitches."""
    for_each = FOR_EACH.match(one.text[: one.start])
    open_ended = _TURNS.search(bare) or _NEEDLES.search(bare) or for_each or chain.alike
    change = None if open_ended else _change_of(one.text, bare, one.label is not None)
    chain.open = None
    goes_on = _is_part(chain, one)
    chain.line = one.line
    if goes_on and change is not None and chain.changes and len(chain.changes[-1]) == 1:
        own = change_in(_PART_NAME.sub("", bare)) if stated_change(one.text) else None
        if own is not None and chain.changes[-1][0] + own == change:
            change = own  # what is stated is told of all needles
        return _other_part(chain, change, count)
    if goes_on and not chain.changes:  # what an earlier part of the row does is not known
        chain.now, chain.shaped = count, ()
        return ""
    if change is None and (repeat := _REPEAT.match(bare)) is not None:
        tokens = tokens_at(repeat["inner"], 0)
        if tokens and tokens[-1].end == len(repeat["inner"]):
            return _divided(
                chain, tokens, count, of_some=OF_SOME_SIZES.search(one.text) is not None
            )
    if change is None and (begun := _BEGUN.match(bare)) is not None:
        chain.now, chain.changes = count or _values(count_in(begun["n"])), ()
        chain.shaped = ()  # what was told before are definitions
        return ""
    if change is None:
        shaped = one.label is not None and not _MOVES.search(bare)
        chain.open = chain.now if shaped and count is None else None
        grown = _grown(chain.now, count) if shaped else None
        if shaped and _SHAPES.search(bare):
            chain.shaped = grown or ()
        chain.now, chain.changes = count, (*chain.changes, grown) if grown else ()
        return ""
    chain.changes += ((change,),) * _many(one, bare)
    chain.shaped = (change,) if change else chain.shaped
    times = _many(one, bare)
    known = chain.now
    made = None if known is None else tuple(n + change * times for n in known)
    chain.now = made if count is None else count
    return "" if is_met_all_round(bare, known, count) else _wrong(made, count)


_NEEDLES = WordForm(
    r"\bneedles?(?: \d)?:.*[.;] ?[^.;:]*\bneedles?(?: \d)?:|\b(?-i:[A-D]) and (?:on )?(?-i:[A-D])[:,]"
)
_PART_NAME = WordForm(
    r"(?:[A-Z]|n ?\d|needles? [\w ]{1,12}|\w+ (?:and \w+ )?needles?|(?:instep|sole|back|front|palm|heel)(?: sts| stitches)?)(?: ?\([^)]*\))?:"
)
_NTH_NEEDLE = WordForm(
    r"\b(?:(?:first|second|third|fourth|1st|2nd|3rd|4th|instep|sole|heel) needle|needle (?:\d|one|two|three|four))\b"
)


def _is_part(chain: _Chain, one: Spoken) -> bool:
    """Tell whether a sentence goes on with the row before it, on another of its needles."""
    return chain.line == one.line and (
        _PART_NAME.match(one.text) is not None
        or (one.label is None and _NTH_NEEDLE.search(one.text) is not None)
    )


def _other_part(chain: _Chain, change: int, count: _Values | None) -> str:
    """Take the next needle of a row: what it changes belongs to the same row."""
    last = chain.changes[-1][0] + change
    chain.changes = (*chain.changes[:-1], (last,))
    chain.shaped = (last,) if last else chain.shaped
    made = None if chain.now is None else tuple(n + change for n in chain.now)
    chain.now = made if count is None else count
    return _wrong(made, count)


def _many(one: Spoken, bare: str) -> int:
    """Return how many rows a sentence is: "rows 2, 3 and 4: k", "knit 2 rounds"."""
    if one.label is not None:
        return max(one.label.times, len(one.label.numbers)) if not one.label.which else 1
    told = _HOW_MANY.search(bare)
    return (number_of(told["n"]) or 1) if told is not None else 1


_HOW_MANY = WordForm(
    r"\b(?P<n>\d{1,3}|two|three|four|five|six|eight|ten) (?:[a-z]+ )?(?:rounds|rnds|rows)\b"
)


def _one_again(chain: _Chain, single: re.Match[str], count: _Values | None) -> str:
    """Work the last row that changed the count a number of times more."""
    word = single["times"]
    times = (number_of(word),) if word.isalpha() else _values(count_in(word))
    known, each = chain.now, chain.shaped
    number = re.search(r"\b(?:round|rnd|row) (\d+|[a-h]\b)", single[0], re.IGNORECASE)
    if number is not None and number[1].isalpha():
        each = ()  # of several that are called so
    elif number is not None and 0 < figure(number[1]) <= len(chain.changes):
        each = chain.changes[figure(number[1]) - 1] or each
    elif number is not None and len(chain.changes) != 1:
        each = ()  # which row is meant is not known
    chain.now, chain.changes = count, ()
    if known is None or not each:
        return ""
    sizes = len(known)
    if not {len(times), len(each)} <= {1, sizes}:
        return ""
    made = tuple(
        n + by * often
        for n, by, often in zip(
            known, each * (sizes // len(each)), times * (sizes // len(times)), strict=True
        )
    )
    chain.now = made if count is None else count
    return _wrong(made, count)


def _one_until(chain: _Chain, wanted: _Values) -> str:
    """Work the last row that changed the count until it is reached."""
    known, each = chain.now, chain.shaped
    chain.now, chain.changes = wanted, ()
    return _never(known, each, wanted)


def _never(known: _Values | None, each: _Values | None, wanted: _Values) -> str:
    """Say that a count is never reached, with so many stitches changed at a time."""
    if known is None or not each:
        return ""
    for now, end, by in zip(*alike(known, wanted, each), strict=True):
        if by and ((end - now) % by or (end - now) // by < 0):
            return f"from {now} sts, {abs(by)} at a time, there are never {end}"
    return ""


def _grown(before: _Values | None, after: _Values | None) -> _Values | None:
    """Return by how many two stated counts differ: what the row between them did, however it did."""
    if before is None or after is None or len(before) != len(after):
        return None
    return tuple(b - a for a, b in zip(before, after, strict=True))


def _in_all(changes: Sequence[_Values], sizes: int) -> _Values | None:
    """Return what some rows change together, in each size."""
    columns = [for_sizes(one, sizes) for one in changes]
    if any(len(one) != sizes for one in columns):
        return None
    return tuple(map(sum, zip(*columns, strict=True)))


_ALTERNATE = WordForm(
    rf"(?:then )?alternate (?:one|1) plain\b[^.:]*?\b(?:inc|dec)\w*\.? (?:rounds?|rnds?|rows?),? (?P<times>{COUNT}) times",
)
_PLANS = WordForm(  # "a decrease round and then a plain round, six times"
    r"\b(?:inc|dec|shap)\w*\.? (?:rounds?|rnds?|rows?)\b[^.]*\b(?:times|twice|turns?|between|alternat\w*|after the other)\b"
    r"|\b(?:inc|dec)\w* (?:on |in )?every\b[^.]*\b(?:times|twice)\b"
    r"|\b(?:[2-9]|\d\d|two|three|four|five|six)(?: more| further| such)* (?:inc\w*|dec\w*|shap\w*|toe|tip|crown)\.? (?:rounds|rnds|rows)\b"
    r"|^(?:continue|cont|keep|carry on|go on|work|knit|dec\w*|inc\w*|and so on)\b[^.*]*\buntil [(*\[]",
)
_BEHIND = WordForm(rf"\W{{0,3}}(?P<n>{COUNT}) (?:sts?|stitches)")
_CHANGER = WordForm(
    r"\d|\b(?:(?:one|two|three|four|five|six|eight|ten) (?:[a-z]+ )?(?:round|rnd|row)s?|cast|bind|pick|graft|(?:inc|dec)\w*|\w*tog|ssk|skp\w*|yo|m1\w*|sl|slip|hold\w*|held|put|place|heel|half|each|thread|waste|free|unpick|"
    r"take|back|all|resume|return|over|rep\w*|again|times|twice|last|turn|shap\w*|same|as)\b",
)


def _told_behind(text: str) -> _Values | None:
    match = _BEHIND.match(text)
    return None if match is None else _values(count_in(match["n"]))


_AT_A_TIME = WordForm(
    rf"\b(?:(?P<how>inc|dec|los|gain)\w*\.? (?P<by>\d+) (?:sts?|stitches)\b|(?P<by2>\d+) (?:sts?|stitches) (?P<how2>fewer|less|more) (?:on |in )?(?:every|each)\b)[^.]*?\b(?:until|to) (?:there are |you have )?(?P<n>{COUNT}) (?:sts?|stitches)\b(?P<rest>[^.]*)",
)
_THEN = WordForm(rf"\buntil (?:there are |you have )?(?P<n>{COUNT}) (?:sts?|stitches)\b")


def _at_a_time(chain: _Chain, one: Spoken, said: re.Match[str]) -> str:
    """Follow "decreasing 4 sts every other round until 32, then every round until 20 sts are left"."""
    by = int(said["by"] or said["by2"])
    down = (said["how"] or said["how2"]).lower() in ("dec", "los", "fewer", "less")
    now = chain.now
    chain.now, chain.changes = None, ()
    if re.search(
        r"\b(?:between|each side|on each|before|unwrapped|on needle|(?:past|after|beyond) the marker|(?:for|in) the (?:thumb|gusset|gore))\b",
        one.text,
        re.IGNORECASE,
    ):
        return ""
    then = _THEN.search(said["rest"])
    for wanted in (_values(count_in(m["n"])) for m in (said, then) if m is not None):
        if now is not None and len(now) == len(wanted):
            for have, end in zip(now, wanted, strict=True):
                if by and ((have - end) % by or (have - end) * (1 if down else -1) < 0):
                    return f"from {have} sts, {by} at a time, there are never {end}"
        now = wanted
    chain.now = now
    return ""


def _told(chain: _Chain, one: Spoken, count: _Values | None) -> str:
    """Take a count that stands alone, or by how many the row before changed it."""
    change = stated_change(one.text)
    if change is not None and count is None:
        known, changes = chain.before
        chain.now = None if known is None else tuple(n + change for n in known)
        chain.changes = (*changes, (change,))
        return ""
    if _is_change(chain, count):  # "(4 sts). 52 sts."
        chain.now, chain.changes, chain.open = count, (), None
        return ""
    wrong = _wrong(chain.now, count)
    if chain.open is not None and (grown := _grown(chain.open, count)) is not None:
        chain.changes, chain.open = (*chain.changes, grown), None
        chain.shaped = grown if any(grown) else chain.shaped
    chain.now = count or chain.now
    return wrong


def _is_change(chain: _Chain, count: _Values | None) -> bool:
    """Tell whether the count before was by how many the stitches change, as this one shows."""
    known, by = chain.before[0], chain.now
    if known is None or by is None or count is None or not len(known) == len(by) == len(count):
        return False
    return all(abs(a - b) == n > 0 for a, b, n in zip(known, count, by, strict=True))


def _wrong(made: _Values | None, count: _Values | None) -> str:
    if made is None or count is None or len(made) != len(count) or made == count:
        return ""
    return f"{by_size(count)} sts are stated; from the count before, there are {by_size(made)}"


@lru_cache(maxsize=8192)
def _change_of(text: str, bare: str, labelled: bool) -> int | None:
    """Return by how many a row surely changes the count; None where that is open."""
    pieces = [piece.strip() for piece in re.split(r"[.;]", _NEEDLE.sub("", bare))]
    if all(_PLAIN.match(piece) for piece in pieces if piece):
        return 0
    if _ROUNDS.match(bare) and not _SHAPES.search(bare):
        return 0
    told = stated_change(text)
    if told is None and _NOT_ALL.search(bare):
        return None
    if told is None and labelled and not _SHAPES.search(bare) and not _ENDS.search(bare):
        return 0
    lead = "Round 1:"
    whole = with_both_halves(MappedText.of(lead + bare.lstrip())).text
    return told if told is not None else change_in(whole.removeprefix(lead))


_NOT_ALL = WordForm(  # words of which the stitches alone do not tell the change
    r"\bfront and (?:the )?back\b|\badjust|\bthis (?:row|round) yourself\b|\b(?:and once more|same on)\b|"
    r"^\W*(?:then )?(?:work|knit|rep(?:eat)?|do|as) (?:(?:the|a|an|another|one|your) )?(?:[a-z-]+ ){1,2}(?:rows?|rnds?|rounds?)\b(?! (?:plain|even|straight))|"
    r"\b(?:rep(?:eat)?|work|as|like|same as) (?:for |in )?(?:the )?(?:\w+ )?(?:rows?|rnds?|rounds?) \d"
)


def _divided(
    chain: _Chain, tokens: Sequence[Token], count: _Values | None, *, of_some: bool
) -> str:
    """Work a repeat all around the stitches that are known."""
    takes, known = sum(token.takes[0] for token in tokens), chain.now
    leaves = takes + sum(token.change for token in tokens)
    chain.now, chain.changes = count, ()
    if known is None or takes < 1 or any(len(token.takes) > 1 for token in tokens):
        return ""
    if of_some:  # what it leaves is one size's
        chain.now = None
        return (
            ""
            if len(known) < 2 or not all(n % takes for n in known)
            else _no_multiple(known, takes)
        )
    if any(n % takes for n in known):
        return _no_multiple(known, takes)
    made = tuple(n // takes * leaves for n in known)
    chain.now = made if count is None else count
    return _wrong(made, count)


def _no_multiple(known: _Values, takes: int) -> str:
    return f"{by_size(known)} sts are no multiple of {takes}"


def _repeated(chain: _Chain, again: re.Match[str], count: _Values | None) -> str:
    """Repeat the rows of a chain: how often is said, and what comes of it."""
    rows = _rows_of(again)
    known, changes = chain.now, chain.changes
    chain.now, chain.changes = count, ()
    changes = _of_rows(again, changes, rows)
    if known is None or not changes:
        return ""
    in_all = (again["before"] or "").lower().startswith("a total")
    more = bool(again["more"] or again["after"]) or (bool(again["before"]) and not in_all)
    times = _values(count_in(again["times"]))
    known, times = alike(known, times)
    each = _in_all(changes, len(times))
    if not each or not all(each) or not (in_all or more):
        return ""
    made = tuple(n + by * (often - in_all) for n, by, often in zip(known, each, times, strict=True))
    count = for_sizes(count, len(times)) if count is not None else None
    chain.now = made if count is None else count
    return _wrong(made, count)


def _part_row(chain: _Chain, part: re.Match[str]) -> str:
    """Work some of the stitches and leave the others: together they are all that there are."""
    worked, left = _values(count_in(part["n"])), _values(count_in(part["left"]))
    known, chain.now, chain.changes = chain.now, worked, ()
    if len(worked) != len(left):
        return ""
    made = tuple(a + b for a, b in zip(worked, left, strict=True))
    if known is None or len(known) != len(made) or known == made:
        return ""
    return (
        f"{by_size(worked)} and {by_size(left)} sts are {by_size(made)}; there are {by_size(known)}"
    )


def _rows_of(said: re.Match[str]) -> int:
    """Return how many rows are repeated, 0 where it is not said."""
    if said["b"]:
        return int(said["b"]) - int(said["a"]) + 1
    word = (said["many"] or "").lower()
    return {"two": 2, "three": 3, "four": 4}.get(word) or int(word or 0)


def _worked_until(chain: _Chain, until: re.Match[str]) -> str:
    """Repeat the rows of a chain until a count is reached: what they change must lead to it."""
    rows, wanted = _rows_of(until), _values(count_in(until["n"]))
    known, changes = chain.now, chain.changes
    chain.now, chain.changes = wanted, ()
    changes = _of_rows(until, changes, rows)
    if known is None or not changes:
        return ""
    return _never(known, _in_all(changes, max(len(known), len(wanted))), wanted)


def _of_rows(said: re.Match[str], changes: tuple[_Values, ...], rows: int) -> tuple[_Values, ...]:
    """Return what the rows changed that are repeated; none where one of them is not known."""
    if said["a"] and said["b"] is not None:
        first, last = int(said["a"]), int(said["b"])
        return changes[first - 1 : last] if len(changes) == last else ()
    return changes[-rows:] if rows and len(changes) >= rows else ()
