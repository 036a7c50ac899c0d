# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Rows whose own numbers don't agree, whatever is on the needles: no count is needed to see it.

"K to last 4 sts, k2tog, k1" leaves one stitch; "k5, k1" is one run, so that something was left out
between the two; ``*k2; rep from *`` repeats nothing but plain stitches.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.figures import alike
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern._editing.spoken import Sentences, Spoken, next_on_line
from loopwright.pattern._reading.stated import whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS
from loopwright.plurals import plural

__all__ = ["Token", "row_slips", "tokens_at", "unplaced"]

_TWO = (
    r"k2tog(?:[ -]?tbl)?|p2tog(?:[ -]?tbl)?|ssk|ssp|skpo?|sl ?1,? ?k ?1,? ?psso|s1,? ?k1,? ?psso|"
    r"(?:knit|purl|k|p) ?2 tog(?:ether)?"
)
_THREE = (
    r"k3tog|p3tog|sk2po?|cdd|sssk|s2kpo?|sl ?1,? ?k2tog,? ?psso|(?:knit|purl|k|p) ?3 tog(?:ether)?"
)
_NONE = r"yo1?|yfwd|m1[lrp]{0,2}|make (?:1|one)(?: left| right)?"
_TOKEN = WordForm(
    rf"(?:(?P<cable>[ct](?P<crossed>\d+)[fblr]|(?P<over>\d)/(?P<under>\d) ?[lr]p?c|[lr]t)|(?P<two>{_TWO})|(?P<three>{_THREE})|(?P<none>{_NONE})|(?P<one>kfb|pfb|mb\b)|"
    rf"(?P<plain>knit|purl|slip|sl|k|p) ?(?P<n>{COUNT}))(?![a-z0-9])"
    r"(?P<how> (?:tbl|mc|cc|[a-d]\b|pwise|purlwise|kwise|knitwise|wyib|wyif|sts?\b|stitch(?:es)?\b))*",
)
_BETWEEN = WordForm(r"\.?\s*,\s*(?:and |then )?|\s+(?:and|then)\s+")


@attrs.frozen
class Token:
    """One item of a list of stitches: its word, how many it takes in each size, and where it is."""

    word: str
    takes: tuple[int, ...]
    start: int
    end: int
    plain: str = ""
    change: int = 0


_GROUP = WordForm(
    r"[(\[](?P<inner>[^()\[\]*]+(?:[(\[]\d[\d, ]*[)\]][^()\[\]*]*)*)[)\]] ?(?P<n>twice|(?:\d{1,2}|two|three|four|five|six) times)",
)
_OFTEN = {"twice": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}


def tokens_at(text: str, start: int) -> list[Token]:
    """Return the stitches that are listed from a place on, up to the first other word."""
    found, at = list[Token](), start
    while True:
        if (group := _GROUP.match(text, at)) is not None:
            inner = tokens_at(group["inner"], 0)
            if not inner or inner[-1].end != len(group["inner"].rstrip()):
                break
            often = _OFTEN.get(group["n"].split()[0].lower()) or int(group["n"].split()[0])
            spread = [attrs.evolve(one, start=group.start(), end=group.end()) for one in inner]
            found += spread * often
            between = _BETWEEN.match(text, group.end())
            if between is None:
                break
            at = between.end()
            continue
        match = _TOKEN.match(text, at)
        if match is None:
            break
        if match["plain"]:
            takes = whole_numbers(match["n"])
        elif match["cable"]:
            takes = (_crossed(match),)
        else:
            takes = (2 if match["two"] else 3 if match["three"] else int(bool(match["one"])),)
        word = match[0].lower()
        plain = (match["plain"] or "")[:1].lower()
        found.append(Token(word, takes, match.start(), match.end(), plain, _change(match)))
        between = _BETWEEN.match(text, match.end())
        if between is None:
            break
        at = between.end()
    return found


def _crossed(match: re.Match[str]) -> int:
    """Return how many stitches a cable takes; a twist takes two."""
    if match["over"]:
        return int(match["over"]) + int(match["under"])
    return int(match["crossed"] or 2)


def _change(match: re.Match[str]) -> int:
    """Return by how many one of a stitch changes the count."""
    if match["two"] or match["three"]:
        return -1 if match["two"] else -2
    return int(bool(match["none"] or match["one"])) * (match[0].lower() != "mb")


def _sum(tokens: Sequence[Token]) -> tuple[int, ...]:
    many = max((len(token.takes) for token in tokens), default=1)
    return tuple(
        sum(token.takes[min(size, len(token.takes) - 1)] for token in tokens)
        for size in range(many)
    )


def row_slips(sentences: Sentences) -> Iterator[Finding]:
    """Find rows whose own numbers don't agree."""
    slips_markers = any(_SLIPPED.search(one.text) for one in sentences.about(_SLIPPED))
    alone = (_LAST, _TO_MARKER, _REP_LAST, _PAIR, _K_TO, _LONE, _REACHED)
    for one, after in sentences.pairs_about(*alone, ahead=(*_WITHIN, *_ACROSS)):
        turns = after is not None and _TURN.match(after.text) is not None
        said = (
            _to_last(one, turns)
            or _to_marker(one, slips_markers)
            or _unsaid(one)
            or (None if _wrapped(one, after) else _beside(one) or _run_on(one))
            or _alone(one)
            or _edges(one, after)
            or (_passed(one) if slips_markers else None)
        )
        if said:
            message, offset = said
            place = one.place(offset)
            yield Finding(WARNING, "row", message, place.line, place.column)


def _wrapped(one: Spoken, after: Spoken | None) -> bool:
    """Tell whether a sentence goes on in the next line."""
    return after is not None and one.text[-1:].isalnum() and after.text[:1].islower()


_Said = tuple[str, int] | None
_TURN = WordForm(r"\W*(?:turn|w&t)\b")
_LAST = WordForm(
    rf"\b(?:to|until) (?:the )?last (?P<n>{COUNT}) (?:[a-z]+ )?(?:{STS})"
    r"(?: (?:on|of|before) [a-z0-9 ]{1,24})?,\s*(?=[a-z])",
)
_ASIDE = WordForm(  # "slip the next 7 sts on to a pin, cast on 7 sts, "
    rf"(?:and )?(?:slip|sl|place|put|leave|move|transfer) (?:the )?(?:next |following )?(?P<n>{COUNT}) (?:thumb )?(?:{STS}) (?:on|onto|to) [a-z -]{{3,40}}, (?:and )?(?:cast on|co) {COUNT}(?: (?:new )?(?:{STS}))?[a-z -]{{0,40}}, (?:and )?(?:then )?"
)
_ENDS = WordForm(
    r"\s*(?:$|\.?;|\.(?!,)|[)\]*—=-]|[,.;]?\s*\(|[,;.]\s*(?:rep\b|repeat\b|(?:on )?needles? \d|n\d))"
)  # fmt: skip


def _to_last(one: Spoken, turns: bool) -> _Said:
    """Compare "to last 3 sts" with the stitches that follow."""
    for match in _LAST.finditer(one.text, one.start):
        aside = _ASIDE.match(one.text, match.end())
        tokens = tokens_at(one.text, aside.end() if aside else match.end())
        if not tokens or not _ENDS.match(one.text, tokens[-1].end):
            continue
        behind = one.text[tokens[-1].end :].strip(" .,;")
        if not behind and turns:
            continue
        left, taken = _both(match["n"], tokens)
        if aside is not None:
            taken, held = alike(taken, whole_numbers(aside["n"]))
            left, taken = alike(left, tuple(a + b for a, b in zip(taken, held, strict=True)))
            tokens[:1] = [attrs.evolve(tokens[0], start=aside.start())]
        if left != taken:
            listed = one.text[tokens[0].start : tokens[-1].end]
            return (
                f"the last {_shown(left)} are spoken of; '{listed}' takes {_shown(taken)}",
                tokens[0].start,
            )
    return None


_TO_MARKER = WordForm(
    rf"\bto (?P<n>{COUNT}) (?:{STS}) before (?:the )?(?:next |first |second |1st |2nd )?"
    r"(?:m|mkr?|marker)\b\.?(?: [A-Z0-9]\b)?,\s*(?=[a-z])",
)
_SLIPPED = WordForm(r"\b(?:sm|slm|slip (?:the )?(?:m|marker)|sl m|slip it)\b")
_SLIP = WordForm(r"[,;.]?\s*(?:sm|slm|slip (?:the )?(?:m|marker)|sl m|slip it)\b")


def _to_marker(one: Spoken, slips_markers: bool) -> _Said:
    """Compare "to 3 sts before marker" with the stitches up to the marker that is slipped."""
    for match in _TO_MARKER.finditer(one.text, one.start):
        tokens = tokens_at(one.text, match.end())
        if not tokens:
            continue
        left, taken = _both(match["n"], tokens)
        listed = one.text[tokens[0].start : tokens[-1].end]
        if _SLIP.match(one.text, tokens[-1].end):
            if left != taken:
                said = f"{_shown(left)} stand before the marker; '{listed}' takes {_shown(taken)}"
                return said, tokens[0].start
        elif slips_markers and any(t > n for t, n in zip(taken, left, strict=True)):
            for many in range(1, len(tokens)):
                if _both(match["n"], tokens[:many])[1] == left:
                    return "the marker is passed here and not slipped: sm?", tokens[many].start
    return None


def _both(stated: str, tokens: Sequence[Token]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Return a stated number and a sum of stitches, both for as many sizes."""
    left, taken = alike(whole_numbers(stated), _sum(tokens))
    return left, taken


def _shown(values: tuple[int, ...]) -> str:
    if len(set(values)) == 1:
        return plural(values[0], "st")
    return f"{values[0]} ({', '.join(map(str, values[1:]))}) sts"


_REP_LAST = WordForm(
    rf"rep(?:eat)? from \* (?:to|until) (?:the )?last (?P<n>{COUNT}) (?:{STS})(?:\s*[.;]?\s*$|,? turn\W*$)",
)


def _unsaid(one: Spoken) -> _Said:
    """Find stitches behind a repeat of which nothing is said."""
    match = _REP_LAST.search(one.text, one.start)
    if match is None:
        return None
    number = _shown(whole_numbers(match["n"]))
    return f"how the last {number} are worked is not said", match.start("n")


_PAIR = WordForm(
    rf"(?<![a-z0-9])(?<!up and )(?<!up & )(?P<a>knit|purl|k|p) ?(?P<n>{COUNT}), ?(?P<b>knit|purl|k|p) ?(?P<m>{COUNT})"
    r"(?=\s*(?:$|[,;.)\]*]|rib\b))",
)


_AT_A_LINE = WordForm(r"(?:k2tog|ssk|skpo?|p2tog|m1[lr]?),? ?$")
_LEANS = WordForm(r",? ?(?:k2tog|ssk|skpo?|p2tog|m1[lr]?)\b")


_BACK_AT_LINE = WordForm(
    rf", ?(?:knit|purl|k|p) ?(?P<n>{COUNT}),? ?(?:k2tog|ssk|skpo?|p2tog|m1[lr]?)\b"
)


def _around_part(text: str, pair: re.Match[str]) -> bool:
    """Tell whether a run is the instep between two lines: "k2tog, k1, k12, k1, ssk"."""
    behind = _BACK_AT_LINE.match(text, pair.end())
    if behind is not None and _AT_A_LINE.search(text[: pair.start()]):
        return behind["n"] == pair["n"]
    before = re.search(rf"(?P<n>{COUNT}), ?$", text[: pair.start()])
    leans = _LEANS.match(text, pair.end())
    return (
        leans is not None
        and before is not None
        and before["n"] == pair["m"]
        and _AT_A_LINE.search(re.sub(r"(?:knit|purl|k|p) ?$", "", text[: before.start()]))
        is not None
    )


_EDGE_OF_HALF = WordForm(  # "k28, k1, M1L, k to last st, M1R, k1": the second half, alike at both edges
    r"(?P<edge>k ?[1-3]), ?(?:ssk|skpo?|k2tog|m1[lr]?), k(?:nit)? to (?:the )?last [^,.;]{1,12}, ?(?:ssk|skpo?|k2tog|m1[lr]?), ?(?P=edge)\b(?! ?tog)"
)


def _beside(one: Spoken) -> _Said:
    """Find two runs of one plain stitch side by side: something is missing between them."""
    start = one.start
    while match := _PAIR.search(one.text, start):
        first, second = match["a"][0].lower(), match["b"][0].lower()
        half = re.split(r"[:.]\s", one.text[: match.end("n")])[-1].strip().lower()
        twice = "," in half and one.text[match.start("b") :].lower().startswith(half)
        longest = max(*whole_numbers(match["n"]), *whole_numbers(match["m"]))
        beside = max(whole_numbers(match["m"])) < 3 and _LEANS.match(one.text, match.end())
        whole_part = longest > 19 and (  # the instep, knitted across: "k28, k1, ssk"
            beside
            or "instep" in one.text.lower()
            or _EDGE_OF_HALF.match(one.text, match.start("b"))
        )
        if _AT_A_LINE.search(one.text[: match.start()]) and _LEANS.match(one.text, match.end()):
            pass  # "k2tog, k1, k1, ssk": a stitch on each side of the line between two halves
        elif _around_part(one.text, match):
            pass
        elif (
            first == second and not twice and not whole_part
        ):  # "k1, m1, k29, k1, m1, k29": both halves of a round
            said = (
                f"'{match[0]}' is one run of stitches: is something left out in between, or "
                f"{'purl' if first == 'k' else 'knit'} meant?"
            )
            return said, match.start()
        start = match.start("b")
    return None


_LONE = WordForm(
    rf"\*\s*(?P<a>k|p|knit|purl|sl|slip) ?(?P<n>{COUNT})\s*[;,.]? ?rep(?:eat)? (?:from )?\*|"
    rf"[(\[]\s*(?P<a2>k|p|knit|purl) ?(?P<n2>{COUNT})\s*[)\]] (?:to (?:the )?end|around|rep|all round|rib)",
)


def _alone(one: Spoken) -> _Said:
    """Find a repeat of nothing but plain stitches."""
    match = _LONE.search(one.text, one.start)
    if match is None:
        return None
    word = (match["a"] or match["a2"])[0].lower()
    plain = {"k": "knit", "p": "purl", "s": "slip"}[word]
    word = "sl " if word == "s" else word
    return (
        f"a repeat of {word}{match['n'] or match['n2']} alone is '{plain} to end': "
        "is something left out of it?"
    ), match.start()


_DEC, _INC = r"ssk|k2tog|skpo?|sl ?1 k1 psso", r"m1[lr]?|kfb"
_WITHIN = tuple(
    WordForm(
        rf"(?:^|[:;*(\[]\s*|(?:sm|slm), )k(?:nit)? ?(?P<a>\d+), (?:{shape}), (?:k|knit|work|p|purl)\b[^;*.\[\]]*?, "
        rf"(?:{shape}), k(?:nit)? ?(?P<b>\d+)(?=\s*(?:$|[.;)\]]|,? (?:sm|slm)\b))",
    )
    for shape in (_DEC, _INC)
)
_ACROSS = tuple(
    WordForm(
        rf"(?:{shape}), k(?:nit)? ?(?P<a>\d+)[;.,:]? ?(?:[a-z]+ (?:needle|half|side|end): ?|[a-z]?\d?(?:st|nd|rd|th)? ?needles?(?: \d[^:]{{0,12}})?: ?|(?:n ?)?[\da-d]: ?|[^;:.,]{{3,30}}[;.] ?|(?:sm|slm|slip marker)[,;] )"
        rf"k(?:nit)? ?(?P<b>\d+), (?:{shape})\b",
    )
    for shape in (_DEC, _INC)
)


def _edges(one: Spoken, after: Spoken | None) -> _Said:
    """Compare the edges outside of two shapings that belong together: they mirror each other.

    The second may stand in the next sentence of the line, behind the name of its needle.
    """
    behind = next_on_line(one, after)
    more = f" {behind.text}" if behind is not None else ""
    for form in (*_WITHIN, *_ACROSS):
        match = form.search(one.text + more, max(0, one.start - 2))
        if match is not None and match.start() < len(one.text) and match["a"] != match["b"]:
            if "kfb" in match[0].lower() and int(match["b"]) == int(match["a"]) + 1:
                continue  # its new stitch lies to the left: "k1, kfb, … kfb, k2" mirrors (common practice)
            said = (
                f"k{match['a']} on one side and k{match['b']} on the other of two shapings "
                "that should mirror each other"
            )
            return said, match.start("b") - 1
    return None


_K_TO = WordForm(
    rf"(?<![a-z0-9])(?P<a>k|p|knit|purl) ?\d+, (?P<b>k|p|knit|purl) (?:to|until)\b|"
    rf"(?<![a-z0-9])(?P<c>k|p|knit|purl) (?:to|until) (?:the )?last (?:{COUNT} )?(?:{STS}),? (?P<d>k|p|knit|purl) ?(?:\d+(?: ?[(\[][\d, ]+[)\]])?|it)\s*(?:[.;]|\((?!\d)|$)",
)


_NEXT_MARKER = WordForm(
    r"\s*(?:\d+ (?:sts?|stitch(?:es)?) before )?(?:the )?(?:next|second|2nd|other) (?:m|marker)\b",
)


_PICKED_UP = re.compile(r"\bup (?:and|&) $", re.IGNORECASE)  # "pick up and knit 2, knit to end"


def _run_on(one: Spoken) -> _Said:
    """Find "k1, k to": the two are one run, so that something was left out between them."""
    for match in _K_TO.finditer(one.text, one.start):
        if _NEXT_MARKER.match(one.text, match.end()):
            continue  # the first ends at a marker
        if _PICKED_UP.search(one.text, max(0, match.start() - 20), match.start()):
            continue
        first, second = match["a"] or match["c"], match["b"] or match["d"]
        if first[0].lower() == second[0].lower():
            return f"'{match[0].strip(' .;(')}' is one run of stitches: is something left out in between?", match.start()  # fmt: skip
    return None


_REACHED = WordForm(
    rf"\b(?:to|until) (?:{COUNT} (?:{STS}) before )?(?:the )?(?:next |first |second |1st |2nd |thumb )?"
    r"(?:m|mkr?|marker)\b\.?(?: [A-Z0-9]\b)?(?= ?,)",
)
_PASSES = WordForm(
    r"\b(?:sm|slm|sl m|slip (?:the |it|next |second |first )?(?:m|mkr|marker)?|remov\w+|taking out|rm|pass\w*|drop\w*)\b",
)
_STARRED = WordForm(r"\*|[(\[].*[)\]] (?:\d|twice)")


_CHANGES = WordForm(rf"(?<![a-z])(?:{_DEC}|{_INC})(?![a-z0-9])")
_GOES_ON = WordForm(r"[^;]*\b(?:k|knit|p|purl|work) to (?:the )?(?:end|last)\b")


_BY_PLACES = WordForm(r"\b(?:instep|sole|palm|back|front|heel|patt\w*)\b")


def _passed(one: Spoken) -> _Said:
    """Find a marker that is reached in a row and not passed, where another of the row is."""
    if _STARRED.search(one.text[one.start :]):
        return None
    reached = list(_REACHED.finditer(one.text, one.start))
    passed = len(_PASSES.findall(one.text[one.start :]))
    if len(reached) <= passed:
        return None
    if not passed and _BY_PLACES.search(one.text, one.start):
        return None  # "k to 3 sts before marker, k2tog, k1, work instep in pattern, …"
    told = _GOES_ON.search(one.text, reached[-1].end()) if reached else None
    if not passed and (told is None or not _CHANGES.search(one.text, one.start)):
        return None
    for match, after in zip(reached, [*reached[1:], None], strict=True):
        between = one.text[match.end() : after.start() if after else len(one.text)]
        if not _PASSES.search(between):
            return "the marker is reached here and not slipped: sm?", match.start()
    return None


_PLACED = WordForm(
    r"\b(?:pm|place (?:a |another |the |1 |one )?(?:[a-z]+ )?(?:m|mkr|marker)|(?:put|hang|clip|set|insert|add) (?:on |in )?(?:a |another |the )?(?:[a-z]+ )?(?:marker|ring)|(?:marker|ring) on)\b",
)
_SLIPS_ONE = WordForm(
    r"\b(?:sm|slm|sl m|slip it|slip (?:the |a |next |second |first )?(?:m|mkr|marker))\b"
)
_EXPLAINED = WordForm(  # "sm slip marker", "slip marker (sm)", in a list of abbreviations
    r"\b(?:sm|slm|sl m)\W{1,4}(?:to )?slip|\bslip (?:the |a )?(?:m|mkr|marker)\W{1,4}(?:sm|slm|sl m)\b"
)
_MANY_PLACED = WordForm(
    r"\b(?:plac\w*|put\w*|hang|insert|set|add\w*|clip|divid\w*|mark\w*)\b[^.;\n]{0,40}\b(?:markers|mkrs)\b|\b(?:markers|mkrs)\b[^.;\n]{0,24}\b(?:placed|set|hung)\b|[*\[(][^*\])]*\bpm\b[^*\])]*[*\])]"
)


def unplaced(text: str, sentences: Sentences) -> Iterator[Finding]:
    """Find a row that slips more markers than a text ever placed."""
    every = sentences.about(_SLIPS_ONE)
    rows = [(one, [*_SLIPS_ONE.finditer(one.text, one.start)]) for one in every]
    most = max((len(slipped) for _, slipped in rows), default=0)
    placed = len(_PLACED.findall(text)) if most > 1 else 0
    for one, slipped in rows:
        if not placed or len(slipped) <= placed or _STARRED.search(one.text[one.start :]):
            continue
        if _EXPLAINED.search(one.text):
            continue
        if re.search(r"\brep|\btimes\b|\btwice\b", one.text, re.IGNORECASE):
            continue
        if _MANY_PLACED.search(text):
            return
        place = one.place(slipped[-1].start())
        said = (
            f"{plural(len(slipped), 'marker')} slipped in this row, and {placed} placed in all: pm?"
        )
        yield Finding(WARNING, "row", said, place.line, place.column)
        return
