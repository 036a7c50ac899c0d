# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Stretches of work in one sentence: "12 rnds k2/p2; 8 rnds k", "rib 6 cm k1, p1, then 8 cm plain".

A stretch is how far and in what, in either order, with or without a verb. Each is put into a
sentence of its own in our words; what stands between them stays as it was written.
"""

from __future__ import annotations

import re

from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import NUMBER_WORDS, whole_number

__all__ = ["in_stretches"]

_N = r"\d{1,3}(?: ?[(\[][\d, :;]{1,40}[)\]])?"
_SOME = rf"(?:{_N}|{'|'.join(NUMBER_WORDS)})"
_LONG = r"[\d.½¼¾⅓⅔]{1,6}(?: \d/\d)?(?: ?[(\[][\d.,½¼¾ /:;]{1,60}[)\]])?"
_UNIT = r"(?:cm\b|mm\b|ins?\b(?:\.(?= ?[a-z,;]))?|inch(?:es)?\b|[\"”″])"
_RUN = r"(?:k(?:nit)?|p(?:url)?) ?(?:\d{1,2}|one|two|three|four|five|six)(?: ?tbl)?\b"
_RIB = rf"{_RUN}(?:(?:,? ?/ ?|,? and |, ?| ){_RUN}){{1,5}}"
_PLAIN = r"st\.? st(?:itch)?\b|stockinette(?: st(?:itch)?\b)?|stock(?:ing|inet) st(?:itch)?\b|plain(?: knit(?:ting)?| knit st\w*)?\b|plain and even\b|straight\b|even\b"
_GARTER = r"garter(?: st(?:itch)?\b)?"
_FABRIC = (
    rf"(?:(?:in |of |with |as |a |all )*(?:rib(?:bing)?\b(?: of| in)?[,:]? ?)?[\[(*]? ?(?P<rib>{_RIB})(?: ?[\])*])?(?: ?(?:rib(?:bing)?\b|all round|around|throughout))?(?:(?: ?[x×] ?(?P<times>\d{{1,3}})\b| (?P<times2>\d{{1,3}}) times))?"
    rf"|(?:in |of |with )?(?P<plain>{_PLAIN})|(?:in |of |with )?(?P<garter>{_GARTER}))"
)
_FAR = rf"(?:for |another |a further |about |the (?:first|next|last) |next |last )*(?:(?P<rounds>{_SOME}) (?:more |further )?(?P<crs>rounds?|rnds?|rows?)\b|(?P<long>{_LONG}) ?(?P<unit>{_UNIT}))"
_UNTIL = rf"(?:un)?til{{1,2}} (?:(?:it|the \w+|work|piece|you)(?: is| measures?| reach(?:es)?| have)? )?(?:about )?(?P<until>{_LONG}) ?(?P<unit>{_UNIT})(?: (?:long|deep|high|tall|in all))?"
_VERB = r"(?P<lead>(?:(?:and|now|then|next|thereafter|after that|finally)\b,? ){0,3})(?P<verb>(?:finish|end|begin|start|go on|carry on|continue)(?:ing)? (?:off )?with |(?:(?:all )?(?:work|knit|rib|purl|continue|all|k|p)\b(?: on| in)?,? )?)"
_BARE = r"(?P<bare>knit|purl|k|p)\b"
_FORMS = tuple(
    re.compile(
        rf"{_VERB}{form}(?: (?:more|long|in all|altogether|without shaping))?", re.IGNORECASE
    )
    for form in (
        rf"{_FAR},?:? {_FABRIC}",
        rf"{_FABRIC},? {_FAR}",
        rf"{_FABRIC},? {_UNTIL}",
        rf"{_FAR} {_BARE}",
        _FAR,
        _UNTIL,
    )
)
_ENDS = WordForm(r"(?:[;,.](?: |$)(?:and |then |and then )*| (?:and|then|and then) |$)", re.NOFLAG)
_BEGINS = WordForm(r"^|[;,:.] (?:and )?|\b(?:and|then) ")
_FIRST_PART = WordForm(  # "knit a tube 22 cm long, the first 5 cm in k2, p2 rib"
    rf"(?:knit|work) (?:an? \w+ )?(?:of )?(?P<all>{_LONG} ?{_UNIT})(?: long| deep| high| tall)?,? (?:of which )?the first (?P<part>{_LONG} ?{_UNIT}) (?:are |is )?in (?P<rib>{_RIB})(?: rib(?:bing)?)?(?=[.;]|$)",
)
_IN_TURN = WordForm(  # "6 rounds, purl and knit in turn", "purl 1 round, knit 1 round, alternately"
    rf"(?:work )?(?:(?:{_FAR}|(?:rounds|rnds|rows) (?P<from>\d{{1,3}}) ?[-–] ?(?P<to>\d{{1,3}}))(?: (?:of |in )?{_GARTER})?[:,]? ?\(?)?(?P<a>purl|knit|p|k)(?: (?:1|one|a)(?: round| rnd| row)?)?,? (?:and )?(?P<b>purl|knit|p|k)(?: (?:1|one|a)(?: round| rnd| row)?)?,? (?:in turns?|by turns|alternat\w+|turn and turn about)\)?(?:,? (?:for )?(?P<rounds2>{_SOME}) (?:rounds|rnds|rows)(?: in all| altogether)?)?(?=[.;,]|$)",
)
_TALK = WordForm(
    r",? (?:so|so that|to|which|because|as|for) (?!every|each|rnds?\b|rounds?\b|end\b|last\b|next\b|marker\b)[a-z' -]+\.?$",
)
_CHEAP = WordForm(rf"\d ?(?:{_UNIT}|rounds|rnds|rows)|(?:round|rnd|row)s\b")
_MOST = 24  # stretches and what stands between them, in a sentence


def in_stretches(said: MappedText) -> list[MappedText] | None:
    """Return the sentences that one of several stretches stands for; None where it has none.

    Examples
    --------
    >>> for one in in_stretches(MappedText.of("CO 40, join; 12 rnds k2/p2; 8 rnds k.")):
    ...     print(one.text)
    CO 40, join.
    Work 12 rounds of k2, p2 rib.
    Knit 8 rounds.
    """
    text = said.text
    if len(text) > 400 or _CHEAP.search(text) is None:
        return None
    found: list[MappedText] = []
    at, kept = 0, 0
    while len(found) < _MOST and (begin := _BEGINS.search(text, at)) is not None:
        start = begin.end()
        if (stretch := _stretch(text, start)) is None:
            at = max(start, at + 1)
            if at >= len(text):
                break
            continue
        words, end = stretch
        between = text[kept : begin.start()].strip(" ,;:.")
        if between:
            found.append(_put(said, kept, begin.start(), f"{between}."))
        found.append(_put(said, start, end, words))
        joint = _ENDS.match(text, end)
        at = kept = joint.end() if joint else end
        # what follows begins where this one ended
        while (following := _stretch(text, at)) is not None and len(found) < _MOST:
            words, end = following
            found.append(_put(said, at, end, words))
            joint = _ENDS.match(text, end)
            at = kept = joint.end() if joint else end
    if not found:
        return None
    rest = text[kept:].strip(" ,;.")
    if rest and not _TALK.fullmatch(f" {rest}"):
        found.append(_put(said, kept, len(text), f"{rest}."))
    return found


def _put(said: MappedText, start: int, end: int, words: str) -> MappedText:
    """Return words that stand where a piece of a sentence stood."""
    words = words[:1].upper() + words[1:].replace("..", ".")
    places = [said.at[min(start + n, max(start, end - 1))] for n in range(len(words) + 1)]
    return MappedText(words, tuple(places))


def _stretch(text: str, at: int) -> tuple[str, int] | None:
    """Return the stretch at a place in our words, and where it ends."""
    if (match := _FIRST_PART.match(text, at)) is not None:
        rib = f"Work in {_ribbed(match['rib'])} rib for {match['part']}."
        return (
            f"{rib[:-1]}; then work in stockinette stitch until work measures {match['all']}.",
            match.end(),
        )
    if (match := _IN_TURN.match(text, at)) is not None and (turned := _turned(match)):
        return turned, match.end()
    best: tuple[str, int] | None = None
    for number, form in enumerate(_FORMS):
        match = form.match(text, at)
        if match is None or (best is not None and match.end() <= best[1]):
            continue
        behind = text[match.end() :]
        if not _ENDS.match(behind) and not _TALK.fullmatch(behind):
            continue
        if (words := _worded(match, number)) is not None:
            best = words, match.end()
    return best


def _worded(match: re.Match[str], number: int) -> str | None:
    groups = match.groupdict()
    verb = groups["verb"].lower().strip(" ,")
    rib, garter = groups.get("rib"), groups.get("garter")
    plain = groups.get("plain") or (groups.get("bare") or "").lower().startswith("k")
    purl = (groups.get("bare") or "").lower().startswith("p") or (
        number >= 4 and verb.split(" ")[0] in ("p", "purl")
    )
    if number >= 4:  # the verb says in what
        plain = verb.split(" ")[0] in ("knit", "k")
        if not plain and not purl and verb != "rib":
            return None
    if groups.get("rounds"):
        far = (
            f"{groups['rounds']} {'rows' if groups['crs'].lower().startswith('row') else 'rounds'}"
        )
    else:
        far = ""
    length = (
        f"for {groups['long']} {groups['unit']}"
        if groups.get("long")
        else f"until work measures {groups['until']} {groups['unit']}"
        if groups.get("until")
        else ""
    )
    if times := groups.get("times") or groups.get("times2"):
        items = f"[{_ribbed(rib or '')}] {times} times"
        return (
            f"Work {far} as follows: {items}." if far else f"{items}. Repeat this round {length}."
        )
    if rib:
        how = _ribbed(rib)
        return f"Work {far} of {how} rib." if far else f"Work in {how} rib {length}."
    if garter:
        return f"Work {far} in garter stitch." if far else f"Work in garter stitch {length}."
    if verb == "rib":
        return f"Work {far} in rib." if far else f"Work in rib {length}."
    if purl:
        return f"Purl {far}." if far else None
    if not plain:
        return None
    if far:
        return f"Knit {far}."
    return f"Knit {length}." if number in (3, 4) else f"Work in stockinette stitch {length}."


def _ribbed(said: str) -> str:
    """Write "knit 2/purl two" as "k2, p2"."""
    runs = re.findall(
        r"\b([kp])(?:nit|url)? ?(\d{1,2}|one|two|three|four|five|six)( ?tbl)?\b",
        said,
        re.IGNORECASE,
    )
    return ", ".join(
        f"{letter.lower()}{whole_number(many)}{' tbl' if tbl else ''}" for letter, many, tbl in runs
    )


def _turned(match: re.Match[str]) -> str | None:
    """Put purl and knit rounds in turn as so many times two."""
    told = match["rounds"] or match["rounds2"] or ""
    many = whole_number(told) if told.isdigit() or told.lower() in NUMBER_WORDS else 0
    a, b = ("knit" if match[name][0] in "kK" else "purl" for name in "ab")
    if match["from"]:
        first, last = int(match["from"]), int(match["to"])
        if not 2 < last - first < 60:
            return None
        numbers = [", ".join(map(str, range(at, last + 1, 2))) for at in (first, first + 1)]
        return f"Rnds {numbers[0]}: {a}. Rnds {numbers[1]}: {b}."
    if many < 2 or a == b:
        return None
    pairs = (
        f"{a} 1 round, {b} 1 round, {many // 2} times."
        if many > 3
        else f"{a} 1 round, {b} 1 round."
    )
    return pairs.capitalize() + (f" {a.capitalize()} 1 round." if many % 2 else "")
