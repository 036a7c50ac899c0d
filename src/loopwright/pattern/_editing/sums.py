# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Sums that one sentence states: needles, sides, repeats and rows, lengths and rounds."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache, lru_cache, partial
from operator import mul

from loopwright.pattern._editing.figures import alike, is_near, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Sentences, Spoken, next_on_line
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.needle_by_needle import with_needles_ahead
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.plurals import plural

__all__ = ["PICK_UP", "change_in", "picked_alike", "stated_change", "sums"]

_Values = tuple[int, ...]
_Said = tuple[str, int] | None
_Counts = Callable[[], set[_Values]]
_WORDS = {"two": 2, "both": 2, "three": 3, "four": 4, "five": 5}
_MANY = r"(?P<many>\d|two|both|three|four|five)"
_NEEDLES = r"(?:needles?|dpns?|ndls?)"
_TOTAL = WordForm(rf"\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,20}}(?P<n>{COUNT})\s*{STS}")
_EACH = WordForm(
    rf"(?<![\d.])(?<!\d, )(?P<each>{COUNT})\s*(?:{STS}\s*)?(?:on|onto|per|to) (?:each\b ?(?:of )?)?(?:(?:the |your )?{_MANY}\s+)?(?:{_NEEDLES}\b(?! ?\d)|(?<=each )tip|(?<=each)(?=\W*$))",
)
_SPREAD = WordForm(rf"\b(?:on|over|onto|between|among) (?:the |your )?{_MANY} {_NEEDLES}")


def sums(sentences: Sentences) -> Iterator[Finding]:
    """Find sums that do not come out."""
    stripes, each, counts = 0, None, cache(partial(_counts, sentences))
    alone = (_SIDES, _PARTS, _HELD, _ON_TWO, _EACH_OF, PICK_UP, _ON_EACH, _PICKED)
    others = (_TOTAL, _STRIPES, _STRIPED, _MULTIPLE, _ST_REPEAT, _FIRST)
    for one, after in sentences.pairs_about(*alone, *others, ahead=(_STATED, _ROWS_MORE)):
        stripes = _stripes(one) or stripes
        each = _each_needle(one) or each
        more = f" {after.text}" if after is not None and _ROWS_ALONE.match(after.text) else ""
        said = (
            _on_needles(one)
            or _middle_and_sides(one)
            or _parts(one)
            or _held(one)
            or _on_two(one, each)
            or _stripes_in_all(one, stripes)
            or _in_each(one)
            or picked_alike(one.text)
            or _changed(one, after)
            or _on_each(one)
            or _rows_and_rows(one.text + more)
        )
        said = said or _picked_sum(one.text, one.start, after)
        behind = next_on_line(one, after)
        around = _around(one.figures, one.figures, counts)
        if not around and behind is not None:
            around = _around(one.figures, behind.figures, counts)
            said = said or _first_and_other(one, behind, counts)
        if around:
            place = one.place_in_figures(around[1])
            yield Finding(WARNING, "sum", around[0], place.line, place.column)
        if said:
            message, offset = said
            place = one.place(offset)
            yield Finding(WARNING, "sum", message, place.line, place.column)
    yield from _picked_over_sentences(sentences)


_COUNTED = WordForm(rf"(?P<n>{COUNT})\s*{STS}")
_BEGUN = WordForm(rf"\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,12}}(?P<n>{COUNT})")
_ROWS_ALONE = WordForm(rf"[(\[]?(?:{COUNT} {STS}, )?{COUNT} (?:[a-z]+ )?(?:rows|rounds|rnds)\b")


def _counts(sentences: Sentences) -> set[_Values]:
    """Return all numbers of stitches that a text speaks of."""
    counts = {values(m["n"]) for o in sentences.about(_COUNTED) for m in _COUNTED.finditer(o.text)}
    counts |= {values(m["n"]) for o in sentences.about(_BEGUN) for m in _BEGUN.finditer(o.text)}
    return counts


def _on_needles(one: Spoken) -> _Said:
    """Compare what is cast on with the stitches on each needle."""
    total = _TOTAL.search(one.text)
    match = _EACH.search(one.text, total.end()) if total else None
    if total is None or match is None or not re.search(r"\beach\b|\bper\b", match[0]):
        return None
    if re.match(
        rf"[^.;]{{0,12}}\band {COUNT} (?:{STS} ?)?(?:on|onto)\b",
        one.text[match.end() :],
        re.IGNORECASE,
    ):
        return None
    whole = values(total["n"])
    each = values(match["each"], len(whole))
    if len(each) != len(whole) or not all(each):
        return None
    spread = match["many"] or ((_SPREAD.search(one.text) or {"many": ""})["many"])
    needles = {n // e if n % e == 0 else 0 for n, e in zip(whole, each, strict=True)}
    if spread:
        number = _WORDS.get(spread.lower()) or int(spread)
        in_brackets = re.search(r"\([^()]*$", one.text[: match.start()]) is not None
        of_one_size = in_brackets and number * each[0] in whole and len(values(match["each"])) == 1
        if needles != {number} and not of_one_size:
            held = [number * e for e in each]
            return (
                f"{by_size(each)} sts on each of {number} needles are {by_size(held)}, not {by_size(whole)}",
                match.start(),
            )
    elif len(needles) > 1 or not needles <= {2, 3, 4, 5}:
        return f"{by_size(whole)} sts are not {by_size(each)} on each needle", match.start()
    return None


_ON_TWO = WordForm(
    rf"\bneedles? \d and \d,? (?:that is|which (?:hold|are)|hold|together) (?P<n>{COUNT}) (?:{STS})",
)


def _each_needle(one: Spoken) -> _Values | None:
    """Return how many stitches are put on each needle, where a sentence tells."""
    match = _EACH.search(one.text)
    if match is None or _TOTAL.search(one.text) is None or "each" not in match[0].lower():
        return None
    return values(match["each"])


def _on_two(one: Spoken, each: _Values | None) -> _Said:
    """Compare what two needles are said to hold with what was put on each."""
    match = _ON_TWO.search(one.text) if each else None
    if match is None or each is None:
        return None
    held = tuple(2 * many for many in each)
    said = values(match["n"])
    if len(said) != len(held) or said == held:
        return None
    return (
        f"two needles of {by_size(each)} sts hold {by_size(held)}, not {by_size(said)}",
        match.start("n"),
    )


_SIDES = WordForm(
    rf"(?P<total>{COUNT})\s*{STS}[^.;]{{0,40}}?[:,(–—-]\s*(?P<mid>{COUNT})\s*(?:{STS}\s*)?(?:in|at) the (?:middle|centre|center)"
    rf"[^.;\d]{{0,12}}(?P<side>{COUNT})\s*(?:{STS}\s*)?(?:at|on) (?:each|either) side",
)


def _middle_and_sides(one: Spoken) -> _Said:
    """Compare a total with the middle and the two sides that it is made of."""
    match = _SIDES.search(one.text)
    if match is None:
        return None
    total, middle, side = alike(*(values(match[name]) for name in ("total", "mid", "side")))
    made = tuple(a + 2 * b for a, b in zip(middle, side, strict=True))
    if total != made:
        return (
            f"{by_size(middle)} and twice {by_size(side)} are {by_size(made)}, not {by_size(total)}",
            match.start(),
        )
    return None


_PART = rf"{COUNT}\s*(?:{STS}\s*)?(?:on|in|for|at) (?:the )?(?:[a-z0-9]+ ?){{1,3}}?"
_PARTS = WordForm(
    rf"(?P<total>{COUNT})\s*{STS}\s*[:(,;—–-]+\s*(?P<parts>{_PART}(?:(?:,? and |, |; ){_PART})+)\s*(?:[.)\]]|$)",
)
_MORE_THAN_ONE = WordForm(r"\b(?:each|both|every|needles|sides|of)\b")
_HOLD_ALIKE = WordForm(  # "17 on N1 and N3"
    r"(?<![\d.])(?:n|needles? |ndls? )?\d(?:st|nd|rd|th)? ?(?:and|&|\+) ?(?:n|needle |ndl )?\d(?!\d)"
)


def _parts(one: Spoken) -> _Said:
    """Compare a total with the parts that are listed behind it."""
    match = _PARTS.search(one.text)
    if match is None or _MORE_THAN_ONE.search(match["parts"]):
        return None
    total = values(match["total"])
    found = [*re.finditer(COUNT + r"(?= ?(?:sts? |stitches )?(?:on|in|for|at)\b)", match["parts"])]
    parts = [values(part[0], len(total)) for part in found]
    if len(parts) < 2 or any(len(part) != len(total) for part in parts):
        return None
    ends = [*(part.start() for part in found[1:]), None]
    places = [
        2 if _HOLD_ALIKE.search(match["parts"][part.end() : end]) else 1
        for part, end in zip(found, ends, strict=True)
    ]
    once = [sum(column) for column in zip(*parts, strict=True)]
    made = [sum(map(mul, column, places)) for column in zip(*parts, strict=True)]
    if list(total) in (once, made):
        return None
    return f"the parts are {by_size(made)} sts together, not {by_size(total)}", match.start()


_HELD = WordForm(
    rf"(?<!has )(?<!have )(?<!hold )(?<!holds )(?<!\d)(?P<total>{COUNT})\s*(?:{STS})?\s*[:;,(—–-]+ ?(?P<parts>needles? \d(?: and \d)? (?:has|have|holds?) .*)",
)
_HOLDS = WordForm(rf"needles? \d(?P<two> and \d)? (?:has|have|holds?) (?P<n>{COUNT})")


def _held(one: Spoken) -> _Said:
    """Compare a total with what each needle is said to have."""
    match = _HELD.search(one.text)
    if match is None:
        return None
    total = values(match["total"])
    made = [0] * len(total)
    for held in _HOLDS.finditer(match["parts"]):
        for size, many in enumerate(values(held["n"], len(total))[: len(total)]):
            made[size] += many * (1 + bool(held["two"]))
    if list(total) == made or not all(made):  # "on needle 2; needle 1 has nothing to do"
        return None
    return f"the needles hold {by_size(made)} sts together, not {by_size(total)}", match.start()


_EACH_OF = WordForm(
    rf"(?P<each>{COUNT})\s*{STS}? ?(?:in|on|for) each (?:section|wedge|part|segment|sector|panel|side)\b[^.;\d]{{0,8}}[:;,(=–—-]\s*(?:\D{{0,8}})(?P<total>{COUNT})\s*{STS}",
)


def _in_each(one: Spoken) -> _Said:
    """Compare a number in each section with the total: the sections are as many in all sizes."""
    match = _EACH_OF.search(one.text)
    if match is None:
        return None
    each, total = values(match["each"]), values(match["total"])
    if len(each) != len(total) or not all(each):
        return None
    parts = {n // e if n % e == 0 else 0 for n, e in zip(total, each, strict=True)}
    if len(parts) == 1 and 0 not in parts:
        return None
    return f"{by_size(total)} sts are no whole number of sections of {by_size(each)}", match.start(
        "total"
    )


PICK_UP = WordForm(
    rf"\b(?:pick(?:ing)? up|pu|take up|lift)(?: and (?:k|knit))?\.? ?(?P<n>{COUNT})\s*(?:(?:{STS})\s*)?(?:evenly )?"
    r"(?:down|along|up|from|on|at|across)[^.;,]{0,24}\b(?:side|edge|flap|selvedge|chain)",
)


def picked_alike(text: str) -> _Said:
    """Compare what is picked up along the two sides of a flap: they are alike."""
    found = list(PICK_UP.finditer(text))
    if len(found) != 2 or not re.search(
        r"\bother\b|\bright\b|\bsecond\b|\bup\b", found[1][0], re.I
    ):
        return None
    if re.search(
        r"\bcast[- ]on\b|\bco\b|\bbind|\bbo\b|\bbound",
        found[0][0] + found[1][0] + text[found[1].end() :][:24],
        re.IGNORECASE,
    ):
        return None
    first, second = values(found[0]["n"]), values(found[1]["n"])
    if first != second:
        return (
            f"{by_size(first)} sts picked up on one side and {by_size(second)} on the other: should the two be alike?",
            found[1].start("n"),
        )
    return None


_STRIPES = WordForm(r"stripe (?:sequence|pattern)\b[^.:]{0,20}:\s*(?P<rest>.*)")
_STRIPED = WordForm(
    rf"\b(?:sequence|stripes|stripe pattern) (?P<times>{COUNT}) times(?:(?!\b(?:then|plus|and|work|knit)\b)\D){{1,24}}(?P<all>{COUNT}) (?:rows|rounds|rnds)\b",
)


def _stripes(one: Spoken) -> int:
    """Return how many rounds a stripe sequence has, 0 where the sentence tells of none."""
    match = _STRIPES.match(one.text)
    if match is None:
        return 0
    return sum(int(n) for n in re.findall(r"(\d{1,3}) (?:rows|rounds|rnds)", match["rest"]))


def _stripes_in_all(one: Spoken, each: int) -> _Said:
    match = _STRIPED.search(one.text) if each else None
    if match is None:
        return None
    times, stated = alike(values(match["times"]), values(match["all"]))
    made = tuple(each * n for n in times)
    if made == stated:
        return None
    return (
        f"{by_size(times)} times {each} rounds are {by_size(made)}, not {by_size(stated)}",
        match.start("all"),
    )


_MULTIPLE = WordForm(
    rf"\b(?:multiple of |knitted over |worked over |goes over |is over |repeat of )(?P<n>\d+) (?:{STS})"
    r"(?: ?(?:plus|\+) (?P<plus>\d+))?",
)
_ST_REPEAT = WordForm(r"\b(?P<n>\d+)-st(?:itch)? rep(?:eat)?\b")
_TIMES_AROUND = WordForm(
    rf"(?P<n>{COUNT}) times (?:a?round\b|now\b|across\b|(?:on|in|over|across) (?:the|each|every) (?:round|rnd|row)\b)",
)


def _around(text: str, after: str, counts: _Counts) -> _Said:
    """Compare the stitches of a repeat, times its number in a round, with the counts of the text."""
    multiple = _MULTIPLE.search(text)
    width = multiple or _ST_REPEAT.search(text)
    times = _TIMES_AROUND.search(text) or _TIMES_AROUND.search(after)
    if width is None or times is None:
        return None
    if multiple is None and "round" not in times[0].lower():
        return None
    plus = int(multiple["plus"] or 0) if multiple else 0
    made = tuple(int(width["n"]) * n + plus for n in values(times["n"]))
    if not counts() or made in counts():
        return None
    return (
        f"{by_size(values(times['n']))} repeats of {width['n']} sts take {by_size(made)} sts: so many are spoken of nowhere",
        width.start(),
    )


_FIRST = WordForm(
    rf"(?P<slip>\bsl(?:ip)? (?:1|one|the first)(?: st(?:itch)?)?,? (?:and )?(?:then )?(?:k(?:nit)?|p(?:url)?) (?:the )?)?\b(?:first|next) (?P<n>{COUNT}) {STS}"
)
_OTHER = WordForm(rf"\b(?:other|rem(?:aining)?\.?) (?P<n>{COUNT}) (?:[a-z]+ )?{STS}")
_LEFT_BE = WordForm(r"leave the (?:other|rem)")
NEAR = 3  # stitches by which a sum may miss a count, and be meant for it all the same


def _first_and_other(one: Spoken, after: Spoken, counts: _Counts) -> _Said:
    """Compare the first and the other stitches with a count that they nearly make."""
    first = _FIRST.search(one.text)
    other = _OTHER.search(one.text) or _OTHER.search(after.text)
    if first is None or other is None:
        return None
    one_part, rest = values(first["n"]), values(other["n"])
    turned = re.search(r"\bturn\b", one.text[first.end() :]) and not (
        _LEFT_BE.match(after.text) and re.search(r"\bneedle\b", one.text)
    )
    if len(one_part) != len(rest) or turned:
        return None
    if first["slip"] is not None:
        one_part = tuple(1 + many for many in one_part)
    made = tuple(a + b for a, b in zip(one_part, rest, strict=True))
    if made in counts():
        return None
    for count in counts():
        if is_near(count, made, NEAR):
            return (
                f"{by_size(one_part)} and {by_size(rest)} sts are {by_size(made)}, not {by_size(count)}",
                first.start("n"),
            )
    return None


_STATED = WordForm(
    r"[(\[,.;—–-]?\s*(?P<n>\d+) (?:sts?|stitches)\b\.? (?:are |have been |were )?(?P<how>inc|dec|more|fewer|added|gone|lost)[a-z'’]*[.)\]]*\s*$",
)
_ONE_MORE = WordForm(  # not "k to m1", "sl m1": a marker
    r"(?<![a-z])(?:yo|(?<!place )(?<!placing )(?<!to )(?<!before )(?<!after )(?<!past )(?<!sl )(?<!slip )(?<!remove )m1[lrp]{0,2}|kfb|pfb)(?![a-z0-9])"
)
_TWO_LESS = WordForm(r"(?<![a-z])(?:[kp] ?3 ?tog|sk2p|cdd|sssk|s2kpo?)(?![a-z0-9])")
_ONE_LESS = WordForm(
    r"(?<![a-z])(?:[kp] ?2 ?tog|ssk|ssp|skpo?|sl ?1,? ?k ?1,? ?psso|(?:knit|purl) 2 tog(?:ether)?)(?![a-z0-9])",
)
_PASSED_OVER = WordForm(  # one more than the k2tog: "sl 1, k2tog, psso"
    r"(?<![a-z])sl(?:ip)? ?1(?: \w+wise)?,? (?:and )?(?:k2tog|(?:knit|k) ?2 tog\w*),? (?:and )?(?:psso|pass [a-z ]*\bover)",
)
_MANIFOLD = WordForm(
    r"[*\[{]|\(.*\(|\b(?:each|every|both|needles|twice|times|rep\w*|as|like|same|dec|inc|all)\b(?!['’]?d)|"
    r"\b(?:pick(?:ing)? up|cast(?:ing)? o(?:n|ff)|bind(?:ing)? off|co|bo)\b[^,.;]*\d|"
    r"\b(?:[kp]2tog|ssk|ssp|skpo?|kfb|pfb|together)\b[^,.;]*\b(?:a?round|across|end|eor|out|way|along|last|until|till|to (?:marker|m))\b",
)


_TAKEN = WordForm(
    r"(?:\b(?:k(?=[ .\d])|knit\b|work\b|up\b|lift\b)\.?(?: and k(?:nit)?(?=[ .\d])\.?)? ?"
    rf"(?:the |these |rem\w*\.? |first |next |other |across |in |patt\w* )*|first )(?P<n>{COUNT})"
    r"(?!\d|\.\d|tog| ?(?:rows|rounds|rnds|times|tog)| ?[(\[]\d)",
)
_SUM_STATED = WordForm(
    rf"(?:^|[(\[=:.,;]\s*|\b(?:are|have|count) (?:now )?)(?P<n>{COUNT})\s*(?:{STS})(?: in all| now| in total)?(?P<shared>\s*(?:[(\[](?=\d)(?:[^()]|\([^()]*\))*[)\]]|[:;,—–-] ?{COUNT}(?:(?:, (?:and )?| and |/|-){COUNT})+(?: {STS})?))?[)\].]*\s*$",
)  # and how the needles share it: "= 80 sts (25, 30 and 25 sts)"
_AS_TOLD = WordForm(  # "31 instep sts as (lace 3 times, k1)", "in k4, p1 rib": the same once more
    r" as \([^()]*\)| in k\d+,? p\d+ rib"
)
SLIGHT = 4  # stitches by which a sum may miss, and be meant for it all the same


def _picked_over_sentences(sentences: Sentences) -> Iterator[Finding]:
    """Add up what a line works and picks up, where it gives each needle a sentence of its own."""
    for at in sentences.lines_about(_PICKED):
        line = sentences.lines[at]
        told = [one.text for one in line]
        many = [len(_PICKED.findall(text)) for text in told]
        end = next((n for n, text in enumerate(told) if _SUM_STATED.search(text)), len(told))
        text = " ".join(told[: end + 1])
        if max(many) > 1 or sum(many[: end + 1]) != 2 or _BESIDES.search(text):
            continue
        if said := _picked_sum(text, line[0].start, None):
            place = line[0].place(said[1])
            yield Finding(WARNING, "sum", said[0], place.line, place.column)


_BESIDES = WordForm(
    r"\b(?:plus|extra|another|corners?|gaps?|holes?|more|m ?1|tog|ssk|skp\w*)\b|\dtog"
)
_PICKED = WordForm(r"\bpick(?:ing)? up\b|\bk(?:nit)?\.? up\b|\blift(?:ing)? (?:and knit )?\d")


def _picked_sum(text: str, start: int, after: Spoken | None) -> _Said:
    """Add up what is worked and picked up all around a heel, where a count is stated behind it."""
    if len(_PICKED.findall(text)) < 2:
        return None
    stated = _SUM_STATED.search(text)
    end = stated.start() if stated else len(text)
    if stated is None and after is not None and after.label is None:
        stated = _SUM_STATED.search(after.text)
    if stated is None:
        return None
    total = values(stated["n"])
    told = _AS_TOLD.sub("", text[:end])
    numbers = [values(m["n"], len(total)) for m in _TAKEN.finditer(told)]
    if len(numbers) < 4 or any(len(each) != len(total) for each in numbers):
        return None
    slipped = re.search(r"(?:^|: )sl(?:ip)?\.? ?1\b", text[start:], re.IGNORECASE) is not None
    whole = [slipped + sum(column) for column in zip(*numbers, strict=True)]
    ways = [
        whole,
        *([n - k for n, k in zip(whole, out, strict=True)] for out in (numbers[0], numbers[-1])),
    ]
    halved = [n + k for n, k in zip(whole, numbers[-1], strict=True)]  # half lies before
    if list(total) in (*ways, halved):
        return None
    for made in ways:
        if is_near(made, total, SLIGHT):
            return f"the parts are {by_size(made)} sts together, not {by_size(total)}", start
    return None


_ON_EACH = WordForm(
    rf"(?P<total>{COUNT}) ?{STS}(?: in all)?[,;:(–—-]+ ?(?P<each>{COUNT}) (?:{STS} )?"
    r"(?:on|in|for) (?:each|either|both)(?: of the)?(?: (?P<many>two|2|three|3|four|4))? ?(?P<what>needles?|sides?|halves|half)\b",
)


def _on_each(one: Spoken) -> _Said:
    """Compare a total with what is said to be on each needle, or on each half."""
    match = _ON_EACH.search(one.text)
    if match is None:
        return None
    total, each = values(match["total"]), values(match["each"])
    if len(total) != len(each) or not all(each):
        return None
    times = {n // e if n % e == 0 else 0 for n, e in zip(total, each, strict=True)}
    wanted = {2} if match["what"].lower().startswith(("hal", "side")) else times
    if match["many"]:
        wanted = {_WORDS.get(match["many"].lower()) or int(match["many"])}
    if len(times) == 1 and 0 not in times and times == wanted:
        return None
    return f"{by_size(total)} sts are not {by_size(each)} on each {match['what']}", match.start(
        "each"
    )


_ROWS_MORE = WordForm(
    r"\b(?:rows|rounds|rnds) (?P<a>\d+)\s*(?:-|–|to)\s*(?P<b>\d+) (?:a total of )?(?P<t>twice|(?:\d+|two|three|four|five|six|seven|eight|nine|ten) times)(?: in all)?,? "
    r"(?:and |then )+(?:work )?(?:rows|rounds|rnds|row|round|rnd) (?P<c>\d+)(?:\s*(?:-|–|to)\s*(?P<d>\d+))? (?:once(?: more)?|again)"
    r"[^\d]{1,40}(?P<all>\d+) (?:rows|rounds|rnds)\b(?P<rest>[^.;]{0,40})",
)
_NUMBER_WORDS = {"twice": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10}  # fmt: skip


def _rows_and_rows(text: str) -> _Said:
    """Compare "rows 1-6 29 times, then rows 1-4 once more" with the rows that it is said to make."""
    match = _ROWS_MORE.search(text)
    if match is None:
        return None
    word = match["t"].split()[0].lower()
    times = _NUMBER_WORDS.get(word) or int(word)
    first = int(match["b"]) - int(match["a"]) + 1
    last = int(match["d"]) - int(match["c"]) + 1 if match["d"] else 1
    made = times * first + last + bool(re.search(r"set-?up row|counting the", match["rest"], re.I))
    if made == int(match["all"]):
        return None
    return f"{times} times {first} rows and {last} are {made}, not {match['all']}", match.start(
        "all"
    )


_HALVES = WordForm(r"\s*on (?:each|both) (?:half|halves|sides?|needle tips?)\s*[:,]")
_AHEAD_OF = re.compile(
    r"\b((?:n|needles?) ?\d(?:(?:, | and | & )(?:n ?|needle )?\d)*)\s*:", re.IGNORECASE
)


_AGAIN = WordForm(
    r"\s*(?:\*\s*(?P<inner>[^*;\[\]()]+?)[;,.] ?rep(?:eat)? from \* ?(?:(?P<once>once|(?:on|for|over|across|along) (?:the )?(?:(?:second|2nd|other|next) (?:needle|half|side|tip)|needles 3 and 4|palm|sole)(?: sts| stitches)?)|(?P<twice>twice)|(?P<n>\d+)(?: more)? times)(?P<more> more)?"
    r"|[\[(](?P<inner2>[^*;\[\]()]+)[)\]] ?(?:(?P<twice2>twice)|(?P<n2>\d+) times))\W*$",
)


def _often(again: re.Match[str]) -> int:
    """Return how often the inner stitches of a repeat are worked in all."""
    if again["inner2"]:
        return 2 if again["twice2"] else int(again["n2"])
    return 1 + (1 if again["once"] else 2 if again["twice"] else int(again["n"]))


@lru_cache(maxsize=8192)
def stated_change(text: str) -> int | None:
    """Return by how many a sentence says that the stitches grow, in one number; None if it does not."""
    stated = _STATED.search(text)
    if stated is None:
        return None
    return int(stated["n"]) * (
        -1 if stated["how"].lower() in ("dec", "fewer", "gone", "lost") else 1
    )


def change_in(row: str) -> int | None:
    """Return by how many a row changes the count, where it names each shaping once; None else.

    "On each half" stands for two, and so do "needles 1 and 3".
    """
    return _change(row) or None


@lru_cache(maxsize=8192)
def _change(row: str) -> int | None:
    if (half := _HALVES.match(row)) is not None:
        once = _change(row[half.end() :])
        return None if once is None else 2 * once
    if (by_needle := _by_needle(row)) is not None:
        changes = [_change(told) for _, told in by_needle]
        return (
            sum(many * (one or 0) for (many, _), one in zip(by_needle, changes, strict=True))
            if None not in changes
            else None
        )
    if (again := _AGAIN.match(row)) is not None:
        once = _change(again["inner"] or again["inner2"])
        return None if once is None else once * _often(again)
    if _MANIFOLD.search(row):
        return None
    less = len(_ONE_LESS.findall(row)) + 2 * len(_TWO_LESS.findall(row))
    less += len(_PASSED_OVER.findall(row))
    return len(_ONE_MORE.findall(row)) - less


def _by_needle(row: str) -> list[tuple[int, str]] | None:
    """Return on how many needles each part of a row is worked; None if it is not told so."""
    told = with_needles_ahead(MappedText.of(f"Round 1: {row.lstrip()}")).text[len("Round 1: ") :]
    first, *parts = _AHEAD_OF.split(told)
    if first.strip() or len(parts) < 4:
        return None
    return [
        (len(re.findall(r"\d", needles)), what)
        for needles, what in zip(parts[::2], parts[1::2], strict=True)
    ]


_REPEATED = WordForm(  # "*yo, k2tog; rep from * to center st"
    r"\*\s*(?P<inner>[^*;()\[\]]+?)[;,.] ?rep(?:eat)? from \* (?:to|until|across|around)\b[^,;.*]*"
)
_OF_ONE_NEEDLE = WordForm(
    r"\W*(?:on )?(?:the )?(?:(?:second|third|fourth|last|other|2nd|3rd|4th) needle|needle [2-5])\b"
)
_OF_NEEDLE = WordForm(
    r"(?:(?-i:[A-D])|n ?\d|needle \d|(?:instep|sole|back|front|palm|heel)(?: sts| stitches)?): "
)
_DEFINES = WordForm(r"^\W*(?:sk2po?|s2kpo?|cdd|ssk|skpo?|k2tog) ?[:–—-] ?")


def _changed(one: Spoken, after: Spoken | None) -> _Said:
    """Compare "4 sts inc'd" with the increases and decreases of its row, each worked once."""
    told, end = stated_change(one.text), len(one.text)
    if told is not None:
        end = one.text.rindex(str(abs(told)))
    elif after is not None and (alone := _STATED.match(after.text)) is not None:
        told = stated_change(alone[0])
    row = _DEFINES.sub("", one.text[one.start : end])
    if _OF_ONE_NEEDLE.match(row) and _by_needle(row) is None:
        return None  # the last part of a round that is told in several sentences
    row = _REPEATED.sub(lambda one: "" if _change(one["inner"]) == 0 else one[0], row)
    made = change_in(row[row.find("=") + 1 :])  # of "sk2p = sl 1, k2tog, psso" the words told
    if made is None or told is None or made == told:
        return None
    if _OF_NEEDLE.match(one.text) and one.place().column > 1:  # stated for the whole round
        return None
    return f"{_grown(told)} are stated; this row makes {_grown(made)}", one.start


def _grown(change: int) -> str:
    return f"{plural(abs(change), 'st')} {'fewer' if change < 0 else 'more'}"
