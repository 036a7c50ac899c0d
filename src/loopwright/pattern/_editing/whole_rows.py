# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows that name all of their stitches, against the counts before and behind them, in every size.

"K1, k2tog, k33, k2tog, k1. (37 sts)" tells by itself that it takes 39 stitches and leaves 37; a
repeat all around tells of what all the stitches, those of before and those of behind, are multiples.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Sequence
from functools import lru_cache

import attrs

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.row_slips import Token, tokens_at
from loopwright.pattern._editing.spoken import OF_SOME_SIZES, Spoken
from loopwright.pattern._reading.stated import number_of
from loopwright.pattern._rewording.harmless import tells_of_shaping
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["WholeRow", "is_met_all_round", "row_of", "whole_rows"]

_Values = tuple[int, ...]
_Said = tuple[str, int] | None
_REPEAT = WordForm(
    r"(?:\*\s*(?P<inner>(?:[^*;()\[\]]|[(\[][a-z][^()\[\]*]*[)\]] ?(?=twice|\d|two|three|four))+?(?:[(\[][^A-Za-z*]+[)\]][^*;()\[\]]*)*?)[;,.]? ?(?:rep(?:eat)?(?:ing)? ?(?:from )?(?:\* ?(?:to \*)?|(?=to )|(?=a?round))|\*)"
    r"|(?P<open>[(\[])(?P<inner2>[^*;()\[\]]+(?:\(\d[\d, :]*\)[^*;()\[\]]*)*)[)\]])"
    r"\s*,?(?: (?:all )?(?P<all>to (?:the )?end(?: of (?:the )?(?:round|rnd|row|needle))?|a?round|across|all round|to (?:the )?marker)|(?P<bare>(?=\s*(?:$|[.(=—–-])))"
    rf"| to (?:the )?last (?P<last>{COUNT} ?)?{STS}| (?P<times>{COUNT}|twice|once)(?P<more> more)?(?: times?)?(?P<more2> more)?)",
)
_COMMA = WordForm(r"\s*[,;:]?\s*(?:and |then |ending (?:with )?|end (?:with )?)?")
_REST = WordForm(
    rf"(?:,? for {COUNT} ?(?:rounds|rnds|rows|cm|inches|in\b|\")[^.;,\d]{{0,16}}(?=[.;,]|$))?\s*(?:[.,;:=(\[—–]|--?|\bremoving[a-z ]+|\bmaking\b|\bleaving\b|\b(?:you|there|now|have|are)\b|\s)*(?:(?P<n>{COUNT}) ?{STS}(?: (?:in all|in total|total|altogether|now|again|rem\w*\.?|(?:are |is )?left|on (?:the |your )?needles?(?! ?\d)|around))*)?\s*[)\].]*\s*$",
)
_TOLD = WordForm(
    rf"^\W*(?:there are (?:now )?|you (?:now )?have |now |count(?: them)?:? )?(?P<n>{COUNT}) {STS}(?: (?:in all|in total|altogether|now|rem\w*|left|on (?:the |your )?needles?))*\W*$",
)
_BEGUN = WordForm(
    rf"\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,12}}(?P<n>{COUNT})(?!\d|\.\d| ?(?:[(\[]\d|cm|in\b|mm|\"))",
)
_OVER_ALL = WordForm(rf"\b(?:over|on|across) all (?:of )?(?:the |your )?(?P<n>{COUNT}) {STS}")
_STATED = WordForm(  # the second: "you have 28 again"
    rf"(?<!have )(?P<n>{COUNT}) (?:[a-z]+ ){{0,2}}?{STS}(?! (?:wide|broad)\b)|(?<=have )(?P<m>{COUNT})(?: (?:[a-z]+ ){{0,2}}?{STS}| (?:again|once more|altogether|in all)\b)"
)
_SOME_OF = WordForm(
    r"\b(?:next|first|last|following|these|those|over|across|the|other|of|on|every|each|before|after)(?: the)? $"
)
_PARTED = WordForm(r"\W*(?:n ?\d|needles? ?\d|(?:2nd|second|next|3rd|third|other) needle|turn|leave|w&t|on (?:the )?(?:needle|second|instep|sole|next|other))\b")  # fmt: skip
_MANY_NEEDLES = WordForm(r"\b(?:n|needles?) ?\d|\b(?:needle|half|instep|sole|side)\b")
_CHANGES = WordForm(
    r"(?:[kp]\d ?tog|\d tog)|\b(?:inc(?!h)|dec|ssk|ssp|skp|yo\b|m1|make 1|kfb|tog|cdd|s[k2]|pick|shap|cast|bind|bo\b|co ?\d|turn|hold|held|waste|put|slip|rep|join|thumb|heel|until|place)",
)
FEW = 7  # stitches; no piece begins with fewer and is worked around at once
SLIGHT = 4  # stitches by which a row may miss a count, and be meant for it all the same
LAST = 6  # counts spoken of before, of which a repeat has to divide one
PLENTY = 12  # repeats; no row names more of them by number


@attrs.frozen
class WholeRow:
    """The stitches of a row: outside of its repeat, and in one; `times` 0 where it goes to the end."""

    takes: _Values
    leaves: _Values
    each: _Values = ()
    each_leaves: _Values = ()
    times: int = 0
    at: int = 0
    end: int = 0


def whole_rows(sentences: Sequence[Spoken], lost: Container[int] = ()) -> Iterator[Finding]:
    """Find rows whose stitches are not those that there are, or do not leave those stated.

    Behind one of the `lost` lines, which were not understood, only what is stated again counts.
    """
    begun = apart = False
    there: list[_Values] = []  # since stitches were cast on
    sure: _Values | None = None  # what is on the needles
    ever: list[_Values] = []  # all that was stated since
    for one, after in zip(sentences, [*sentences[1:], None], strict=False):
        text = one.figures
        if one.label is None and tells_of_shaping(one.text[one.start :]):
            continue
        cast_on = _BEGUN.search(text)
        if cast_on is not None:
            many = values(cast_on["n"])
            begun = min(many) > FEW  # few bridge a gap: how many there are is open
            there = [many] if begun else []
            sure = many if begun else None
            ever, apart = list(there), False
        apart = apart or _APART.search(text) is not None
        unknown = one.line in lost and not one.text.rstrip(" .)").isdigit()
        row = row_of(text, one.start)
        rest = _REST.match(text, row.end) if row is not None else None
        told = _told(rest, after)
        parted = after is not None and _PARTED.match(after.text) is not None
        if row is not None and rest is not None and not parted:
            of_some = OF_SOME_SIZES.search(text[: row.at]) is not None
            said = (
                _left(row, told)
                or _around(row, there, told, of_some=of_some)
                or ("" if there or told else _anywhere(row, ever))
                or _used(row, sure, of_some=of_some)
                or (_neither(row, sure, told) if text[row.at] in "([" else "")
            )
            if said:
                place = one.place_in_figures(row.at)
                yield Finding(WARNING, "sum", said, place.line, place.column)
        if there and not apart and not parted and (said := _so_many(one, row, after, there)):
            place = one.place_in_figures(row.at if row else 0)
            yield Finding(WARNING, "sum", said, place.line, place.column)
        whole = row if rest is not None and not parted else None
        numbers = [values(match["n"] or match["m"]) for match in _STATED.finditer(text)]
        if (all_of := _OVER_ALL.search(text)) is not None and begun:
            there, numbers = [], [values(all_of["n"])]
        if unknown or (whole is None and told is None and not numbers and _SHAPES.search(text)):
            there = []
        if unknown or not there:  # of some stitches it may speak, of all that there are or not
            stated = [m for m in _STATED.finditer(text) if not _SOME_OF.search(text[: m.start()])]
            numbers = [
                many for match in stated if min(many := values(match["n"] or match["m"])) > FEW
            ]
        there += numbers if begun else []
        ever += (many for many in numbers if begun and min(many) > FEW)
        if whole is not None and told is None and not unknown:
            there += _grown(whole, there[-LAST:])
            sure = _after(whole, sure)
        elif cast_on is None:
            sure = None if unknown else _still(one, text, sure)


_SHAPES = WordForm(
    r"(?:[kp]\d ?tog|\d tog)|\b(?:inc(?!h)|dec|ssk|ssp|skp|yo\b|m1|make 1|kfb|tog\b|cdd|sk2p|shap|narrow)",
)


def _grown(row: WholeRow, there: Sequence[_Values]) -> list[_Values]:
    """Return the counts that a row to the end makes of those before it that it goes into."""
    found = []
    for count in there:
        each, stated = alike(row.each, count)
        gains = sum(row.each_leaves) - sum(row.each)
        if (
            row.each
            and gains
            and each
            and all(each)
            and all(n % e == 0 for n, e in zip(stated, each, strict=True))
        ):
            leaves, _ = alike(row.each_leaves, stated)
            found.append(tuple(n // e * k for n, e, k in zip(stated, each, leaves, strict=True)))
    return found


def _still(one: Spoken, text: str, sure: _Values | None) -> _Values | None:
    """Return how many stitches are on the needles behind a sentence that is no such row."""
    alone = _TOLD.match(text) if one.label is None else None
    tail = _TAIL.search(text)
    if alone is not None or (tail is not None and not _MANY_NEEDLES.search(text)):
        return values((alone or tail)["n"])  # type: ignore[index]
    return None if _CHANGES.search(_KEEPS.sub("", text)) else sure


_KEEPS = WordForm(  # all of them are there still
    r"\bturn (?:the |your )?work\b(?: a?round)?(?=(?![^.]*\b(?:\d|only|first|needle|heel|on|over|across|half|rest|sts|stitches))[^.]*\b(?:back and forth|in rows|flat)\b)",
)
_TAIL = WordForm(
    rf"(?:[.=(\[—–]|--) ?(?P<n>{COUNT}) {STS}(?: (?:in all|in total|altogether|now|rem\w*\.?|left|on (?:the |your )?needles?(?! ?\d)))*\s*[)\].]*\s*$",
)


def _told(rest: re.Match[str] | None, after: Spoken | None) -> _Values | None:
    """Return the count that is stated at the end of a row, or alone behind it."""
    if rest is not None and rest["n"]:
        return values(rest["n"])
    alone = _TOLD.match(after.text) if after is not None and after.label is None else None
    return values(alone["n"]) if alone is not None else None


_LEAD = WordForm(  # "Work ribbing, *k2, p2; …"
    r"\s*(?:(?:\d(?:st|nd|rd|th)|first|second|third|both|all|larger|smaller|largest|smallest) sizes?(?: only)?: (?=[*(\[])|(?:work|knit|then work)(?: in)?(?: the| your)? (?:rib|ribbing|pattern|cuff)(?: as follows| thus| like this)?[,:;]? (?=\*)|(?:(?:then|now),? |(?:rib(?:bing)?|cuff|brim|border): |(?:with|using|in) [^,;:.*(\[\d]{1,20}, )(?=[*(\[]))",
)


_LONE = WordForm(  # "K2tog 5 times"
    rf"\W*(?P<dec>[kp]2tog|ssk|ssp|[kp]3tog) (?P<n>{COUNT}) times(?! more)\b"
)


@lru_cache(maxsize=8192)
def row_of(text: str, start: int) -> WholeRow | None:
    """Return what a row takes and leaves, where it names all of its stitches."""
    lead = _LEAD.match(text, start)
    start = lead.end() if lead is not None else start
    if (lone := _LONE.match(text, start)) is not None:
        (token,) = tokens_at(lone["dec"], 0)
        takes = tuple(n * token.takes[0] for n in values(lone["n"]))
        leaves = tuple(n * (token.takes[0] + token.change) for n in values(lone["n"]))
        return WholeRow(takes, leaves, at=lone.start("dec"), end=lone.end())
    before = tokens_at(text, start + (len(text[start:]) - len(text[start:].lstrip())))
    at = before[0].start if before else start
    end = _COMMA.match(text, before[-1].end).end() if before else start  # type: ignore[union-attr]
    repeat = _REPEAT.match(text, end) or _REPEAT.match(text, end + 1)
    if repeat is None or (repeat["open"] and not repeat["all"]):
        return WholeRow(*_both(before), at=at, end=before[-1].end) if before else None
    said = (repeat["inner"] or repeat["inner2"]).strip(" ,.")
    inner = tokens_at(said, 0)
    if not inner or inner[-1].end != len(said):
        return None
    behind = list[Token]()
    last = repeat.end()
    to_last = " last " in repeat[0].lower()
    if to_last or repeat["times"]:
        behind = tokens_at(text, _COMMA.match(text, repeat.end()).end())  # type: ignore[union-attr]
        last = behind[-1].end if behind else last
    takes, leaves = _both([*before, *behind])
    if to_last and values(repeat["last"] or "1") != _both(behind)[0]:
        return None
    each, each_leaves = _both(inner)
    return WholeRow(takes, leaves, each, each_leaves, _times(repeat), repeat.start(), last)


def _times(repeat: re.Match[str]) -> int:
    """Return how often a repeat is worked, 0 for to the end; more than `PLENTY` where it is not known."""
    if not repeat["times"]:
        return 0
    word = repeat["times"]
    often = (number_of(word),) if word.isalpha() else values(word)
    if len(often) > 1:
        return PLENTY + 1
    return often[0] + bool(repeat["more"] or repeat["more2"] or repeat["inner"] is not None)


def _both(tokens: Sequence[Token]) -> tuple[_Values, _Values]:
    """Return what some stitches take and leave, in each size."""
    many = max((len(token.takes) for token in tokens), default=1)
    if any(len(token.takes) not in (1, many) for token in tokens):
        return (0,), (0,)
    takes = tuple(sum(t.takes[min(n, len(t.takes) - 1)] for t in tokens) for n in range(many))
    change = sum(token.change for token in tokens)
    return takes, tuple(n + change for n in takes)


def _left(row: WholeRow, told: _Values | None) -> str:
    """Compare what a row leaves with the count that is stated behind it."""
    if told is None:
        return ""
    outside, stated = alike(row.leaves, told)
    if not row.each:
        return _near(outside, stated, "this row leaves {}, not {}", shaped=row.leaves != row.takes)
    each, stated = alike(row.each_leaves, told)
    outside, stated = alike(row.leaves, stated)
    if not all(each) or len(each) != len(outside) or max(each, default=0) < 2 or row.times:
        return ""
    if row.each == row.each_leaves and row.takes == row.leaves:
        return ""
    for many, out, count in zip(each, outside, stated, strict=True):
        if (count - out) % many:
            beside = f" and {out} beside them" if out else ""
            return f"each repeat leaves {many} sts{beside}: {count} sts are no multiple of {many}{' more' if out else ''}"
    return ""


def _near(made: _Values, told: _Values, said: str, *, shaped: bool = True) -> str:
    if made == told or not shaped or not is_near(made, told, SLIGHT):
        return ""
    return said.format(f"{by_size(made)} sts", by_size(told))


def _used(row: WholeRow, sure: _Values | None, *, of_some: bool = False) -> str:
    """Compare what a row takes with the stitches that there are, in one size if it is `of_some`."""
    if sure is None or row.each:
        return ""
    takes, there = alike(row.takes, sure)
    if of_some and any(a == b for a, b in zip(takes, there, strict=False)):
        return ""
    return (
        _near(takes, there, "this row takes {}; there are {}")
        if min(takes, default=0) > FEW
        else ""
    )


_HOW_MANY = WordForm(
    rf"(?:^|[.,;:(=—–-]) ?(?:(?:there (?:are|will be)|you(?: should| will)?(?: now)? (?:have|work it|work the repeat)|making|giving|(?:which|that) (?:is|are|makes|gives)) )?(?P<n>{COUNT}) (?:(?:pattern |lace |cable )?repeats|ribs|times in (?:all|total))\b(?! (?:of|more|from|on|to)\b)",
)
_APART = WordForm(  # behind which a row may go over some of the stitches
    r"\b(?:heel|hold|held|holder|waste|thumb|instep|sole|front|back|flap|divide|half|needles? ?\d|turn|spare|the (?:first|last|next|other)|only)\b",
)
_IN_RIB = WordForm(r"\bk(?:nit)? ?(?P<k>\d),? p(?:url)? ?(?P<p>\d)\b[^.;]{0,12}\brib")


def _so_many(
    one: Spoken, row: WholeRow | None, after: Spoken | None, there: Sequence[_Values]
) -> str:
    """Compare "… to end: 26 repeats", or "k2, p2 rib. You have 26 ribs", with the counts before."""
    around = row if row is not None and row.each and not row.times else None
    rib = None if around else _IN_RIB.search(one.figures)
    if around is None and rib is None:
        return ""
    begin = around.end if around else rib.end() if rib else 0
    behind = after.figures if after is not None and after.label is None else ""
    told = _HOW_MANY.search(one.figures, begin) or (_HOW_MANY.match(behind) if behind else None)
    if told is None:
        return ""
    each = around.each if around else (int(rib["k"]) + int(rib["p"]),) if rib else (0,)
    outside = around.takes if around else (0,)
    fits: list[_Values] = []
    for count in list(dict.fromkeys(reversed(there)))[:LAST]:
        many, sts = alike(values(told["n"]), count)
        width, beside = alike(each, sts)[0], alike(outside, sts)[0]
        if not len(many) == len(sts) == len(width) == len(beside) or 0 in width:
            return ""
        if all(n * w + o == s for n, w, o, s in zip(many, width, beside, sts, strict=True)):
            return ""
        if not any((s - o) % w for w, o, s in zip(width, beside, sts, strict=True)):
            fits.append(sts)
    if not fits:
        return ""
    width, beside = alike(each, fits[0])[0], alike(outside, fits[0])[0]
    fit = tuple((s - o) // w for w, o, s in zip(width, beside, fits[0], strict=True))
    return f"{told['n']} repeats of {by_size(each)} sts are told; {by_size(fit)} fit into {by_size(fits[0])} sts"


def _neither(row: WholeRow, sure: _Values | None, told: _Values | None) -> str:
    """Find a group so many times that takes not what there is, and leaves not what is stated."""
    if row.each or sure is None or told is None or len(sure) != len(told) or min(sure) < FEW:
        return ""
    takes, there = alike(row.takes, sure)
    leaves, stated = alike(row.leaves, told)
    if any(a == b for a, b in zip((*takes, *leaves), (*there, *stated), strict=True)):
        return ""
    return f"this row takes {by_size(takes)} sts and leaves {by_size(leaves)}; there are {by_size(there)}, and {by_size(stated)} are stated"


def _around(row: WholeRow, there: Sequence[_Values], told: _Values | None, *, of_some: bool) -> str:
    """Find a repeat to the end that goes into none of the counts that were spoken of before.

    Of some sizes it may go into one count and of others into another; but the count that it goes
    into in all sizes but one is the one that is meant.
    """
    if not row.each or row.times or not there or max(row.each) < 2 or 0 in row.each:
        return ""
    near = list(dict.fromkeys(reversed(there)))[:LAST][::-1]
    if told is not None and len(told) == 1 and any(len(count) > 1 for count in near):
        return _of_one_size(row, near, told[0])
    fits: list[tuple[int, int, _Values, _Values]] = []
    for count in near:
        each, stated = alike(row.each, count)
        outside, stated = alike(row.takes, stated)
        if not each or len(each) != len(outside):
            return ""
        left = tuple((n - o) % e for e, o, n in zip(each, outside, stated, strict=True))
        if not any(left) or (of_some and not all(left)):
            return ""
        fits.append((left.count(0), len(left), left, stated))
    each = row.each
    fit, many, left, stated = max(fits, key=lambda found: found[0] / found[1])
    if many < 3 or fit < many - 1:
        last = by_size(near[-1])
        return f"a repeat of {by_size(each)} sts goes into none of the counts before: the last is {last}"
    at = next(n for n, over in enumerate(left) if over)
    each, _ = alike(row.each, stated)
    return f"a repeat of {each[at]} sts does not go into {stated[at]}: {left[at]} are left over, and none in the other sizes"


def _of_one_size(row: WholeRow, near: Sequence[_Values], told: int) -> str:
    """Compare a repeat of one size alone with the counts of before: one of them should leave what is told."""
    each, leaves = row.each[0], row.each_leaves[0]
    if len(row.each) > 1 or any(row.takes) or each == leaves or not leaves or told % leaves:
        return ""
    needed = told // leaves * each
    entries = {n for count in near for n in count}
    if needed in entries or not any(abs(needed - n) <= 1 for n in entries):
        return ""
    return f"{told} sts are left of {needed}: so many are spoken of nowhere before"


def _anywhere(row: WholeRow, ever: Sequence[_Values]) -> str:
    """Find a plain repeat to the end that goes into no count of the text, the last of which is not known."""
    plain = row.each == row.each_leaves and not any(row.takes) and not row.times
    if not plain or len(row.each) != 1 or row.each[0] < 3 or len(ever) < 3:
        return ""
    sizes = max(map(len, ever))
    if any(not any(n % row.each[0] for n in many) for many in ever if len(many) == sizes):
        return ""
    return f"a repeat of {row.each[0]} sts goes into none of the counts that are stated"


def _after(row: WholeRow, sure: _Values | None) -> _Values | None:
    """Return how many stitches there are behind a row that says it not."""
    if row.takes == row.leaves and row.each == row.each_leaves:
        return sure
    if row.each or sure is None:
        return None
    takes, there = alike(row.takes, sure)
    return row.leaves if takes and takes == there else None


def is_met_all_round(bare: str, known: _Values | None, count: _Values | None) -> bool:
    """Tell whether stitches told once leave the count that is stated if they go all round."""
    first = re.search(r"\b(?:k|knit|p|purl) ?\d|\b(?:[kp]2tog|ssk|yo|m1)\b", bare, re.IGNORECASE)
    if known is None or count is None or len(known) != len(count) or first is None:
        return False
    tokens = tokens_at(bare, first.start())
    takes = sum(token.takes[0] for token in tokens)
    if takes < 1 or any(len(token.takes) > 1 for token in tokens):
        return False
    leaves = takes + sum(token.change for token in tokens)
    return all(
        a > takes and a % takes == 0 and a // takes * leaves == b
        for a, b in zip(known, count, strict=True)
    )
