# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Two thumbs that should mirror each other: where each stands in its round.

A thumb so far from the start of the right palm stands as far from the end of the left one (common
practice), whichever half of the round is the palm.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._editing.figures import alike, values
from loopwright.pattern._editing.findings import WARNING, Finding, by_size
from loopwright.pattern._editing.spoken import Before, Sentences, Spoken
from loopwright.pattern._reading.stated import for_sizes
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT, STS

__all__ = ["hands"]

_Values = tuple[int, ...]
_HAND = WordForm(
    r"\b(?P<hand>right|left)(?:[ -]hand)?(?: (?:mitten|mitt|glove|wrister|one|warmer|wristwarmer)s?| thumb|(?=\W*$|:))|"
    r"\bthumb[^.:]{0,30}\b(?P<hand2>right|left)\b",
)
_SIDE = WordForm(r"\b(?:right|left)")
_PUT_IN = WordForm(r"\b(?:waste|scrap|holder|thread|thumb|spare|contrast\w*|hold)\b")
_OPENS = WordForm(r"\b(?:waste|scrap|spare|contrast\w*|holder|thread|hold|pm|place marker|m1)\b")
_BEFORE = WordForm(
    rf"\b(?:k|knit|work|patt\w*|rib|p|purl)\.?(?: (?:in|across|over|the|first|next|patt\w*|as|set|main|colou?r|with|mc|A|B))*,? ?(?P<n>{COUNT})(?! ?(?:rounds|rnds|rows|times|tog))",
)
_STATED = WordForm(rf"(?P<n>{COUNT}) ?(?:{STS})")
_CAST_ON = WordForm(rf"\b(?:cast(?:ing)? (?:on|up)|co)\b\D{{0,12}}(?P<n>{COUNT}) {STS}")
_CHANGES = WordForm(
    r"(?:[kp]\.? ?\d ?tog|\d tog)|\b(?:inc(?!h)|dec|ssk|skp|s\.k\.p|yo\b|m ?1|make \d|kfb|tog|pick|shap|cast|bind|turn)",
)
OFF = 2  # stitches by which a place is off for sure, where only the cast-on tells of the round
SLIGHT = 4  # stitches by which a place may miss, and be meant for it all the same
ROUND = 0.75  # of the most stitches that are spoken of; fewer are no round of the hand
BEGIN = 48  # letters of a sentence, in which a hand is named
LONG = 2  # sentences in which the place of a thumb is told


@attrs.frozen
class _Thumb:
    """Where a thumb stands: stitches before it, its own, and those of the round."""

    one: Spoken
    said: str
    before: _Values | None
    own: _Values | None
    whole: tuple[_Values, ...]
    numbers: frozenset[_Values] = frozenset()  # worked before, such as the palm and the back
    cast_on: _Values | None = None  # where nothing has changed them


def hands(sentences: Sentences) -> Iterator[Finding]:
    """Find a left thumb that stands where the right one does, or not where the right one is mirrored."""
    by_side = set(sentences.places_about(_SIDE))
    titles = {title for title in {one.title for one in sentences} if _HAND.search(title)}
    if not titles and not any(_HAND.search(sentences[at].figures[:BEGIN]) for at in by_side):
        return
    gusseted = set(sentences.places_about(_GUSSET))
    counted = Before(sentences, _STATED, _counted)
    worked = Before(sentences, _BEFORE, _worked)
    found: dict[str, _Thumb] = {}
    gussets: dict[str, str] = {}  # how each hand sets its gusset up
    title = of_hand = ""
    for at, one in enumerate(sentences):
        text = one.figures
        hand = _hand(one, text) if at in by_side or one.title in titles else ""
        if hand or one.title != title:
            of_hand = hand or (of_hand if "finish" not in one.title else "")
        title = one.title
        if (
            of_hand
            and at in gusseted
            and _GUSSET.search(text)
            and (said := _same_gusset(gussets, of_hand, text))
        ):
            place = one.place()
            yield Finding(WARNING, "mirror", said, place.line, place.column)
        if hand and hand not in found and _PUT_IN.search(text) and re.search(r"\d", text):
            found[hand] = attrs.evolve(
                _thumb(sentences, at, text, counted(at)),
                numbers=frozenset(worked(at)),
                cast_on=_cast_on(sentences, at),
            )
            if len(found) == LONG:
                if said := _alike(found["right"], found["left"]):
                    place = one.place()
                    yield Finding(WARNING, "mirror", said, place.line, place.column)
                found = {}


def _counted(text: str) -> Iterator[_Values]:
    return (values(match["n"]) for match in _STATED.finditer(text))


def _worked(text: str) -> Iterator[_Values]:
    return (values(match["n"]) for match in _BEFORE.finditer(text))


def _cast_on(sentences: Sentences, at: int) -> _Values | None:
    """Return the stitches that were cast on before a place, where nothing has changed them."""
    for one in reversed(sentences[:at]):
        if (begun := _CAST_ON.search(one.figures)) is not None:
            return values(begun["n"])
        if _CHANGES.search(one.figures):
            return None
    return None


_GUSSET = WordForm(
    r"\b(?:pm|place (?:a )?marker|pl ?m)[,;]? (?:m1[lrp]?|k ?\d|make 1|inc\w*)[^.;]{0,24}?\b(?:pm|place (?:a )?marker|pl ?m)\b",
)


def _same_gusset(gussets: dict[str, str], hand: str, text: str) -> str:
    """Say that the gussets of both hands are set up by the very same words, off the middle."""
    said = _words(text[text.find(":") + 1 :] if ":" in text[:40] else text)
    other = gussets.get("left" if hand == "right" else "right")
    gussets.setdefault(hand, said)
    ends = re.match(r".*?(\d+)(?: \d+)* ?(?:pm|place|pl)\b.*\b(?:pm|marker|m)\b\D*(\d+)", said)
    if other != said or ends is None or ends[1] == ends[2]:
        return ""
    return _SAME


_AS_THE_OTHER = WordForm(r"\b(?:as|like|same|match)\b[^.;:]{0,24}$")


def _hand(one: Spoken, text: str) -> str:
    """Return which hand a sentence is about: as it begins, or as its section is headed."""
    match = _HAND.search(text[:BEGIN])
    if match is not None and _AS_THE_OTHER.search(text[: match.start()]):
        match = None  # "Work as for the right mitten, but …"
    match = match or _HAND.search(one.title)
    told = match and (match["hand"] or match["hand2"])
    other = re.search(
        r"\b(?:needles?|side|edge|lean\w*|left[- ]?leaning)\b", text[:24], re.IGNORECASE
    )
    return told.lower() if told and not other else ""


def _thumb(sentences: Sequence[Spoken], at: int, text: str, counts: Sequence[_Values]) -> _Thumb:
    rest = text[_HAND.search(text[:BEGIN]).end() :] if _HAND.search(text[:BEGIN]) else text  # type: ignore[union-attr]
    rest = rest[rest.find(":") + 1 :] if ":" in rest[:24] else rest
    before = _BEFORE.search(rest)
    own = _BEFORE.search(rest, before.end()) if before is not None else None
    opens = _OPENS.search(rest)
    if opens is not None and len(items := list(_BEFORE.finditer(rest[: opens.start()]))) > 1:
        place, many = _summed(rest, items, opens)
        return _Thumb(sentences[at], _words(rest), place, many, tuple(counts))
    sure = before is not None and own is not None and opens is not None and opens.end() > before.end() and "to" not in rest[: before.start()].split()  # fmt: skip
    if not sure or before is None or own is None:
        return _Thumb(sentences[at], _words(rest), None, None, tuple(counts))
    return _Thumb(sentences[at], _words(rest), values(before["n"]), values(own["n"]), tuple(counts))


def _summed(
    rest: str, items: Sequence[re.Match[str]], opens: re.Match[str]
) -> tuple[_Values | None, _Values | None]:
    """Return the stitches before a thumb that are told in several parts, and its own."""
    behind = rest[items[-1].end() : opens.start()]
    own: re.Match[str] | None = items[-1]
    if re.search(
        r"[;,]", behind
    ):  # "k2, p2, k7; with waste yarn, k7", not "k2, k7 with waste yarn"
        own = _BEFORE.search(rest, opens.end())
    else:
        items = items[:-1]
    before = rest[: items[-1].end()]
    others = _BEFORE.sub("", before)
    if own is None or re.search(r"[\d*]|\b(?:to|tog|ssk|skp\w*|yo|rep\w*|m1\w*)\b", others):
        return None, None
    columns = alike(*(values(one["n"]) for one in items))
    return tuple(map(sum, zip(*columns, strict=True))) if columns[0] else None, values(own["n"])


def _words(text: str) -> str:
    return re.sub(r"\W+", " ", text.lower()).strip()


_SAME = "both thumbs stand at the same place: this makes two mittens for one hand"


def _alike(right: _Thumb, left: _Thumb) -> str:
    """Say that two thumbs stand at one place, or do not mirror each other."""
    same = _SAME if right.said == left.said else ""
    if right.before is None or left.before is None or right.own is None or left.own is None:
        return same
    there, here, own, other = alike(right.before, left.before, right.own, left.own)
    sizes = len(there)
    if not sizes or own != other:
        return same
    ends = tuple(a + b for a, b in zip(there, own, strict=True))
    best: tuple[int, ...] | None = None
    counts = [for_sizes(one, sizes) for one in left.whole]
    most = max((count[0] for count in counts if len(count) == sizes), default=0)
    rounds = {count for count in counts if len(count) == sizes and count[0] >= ROUND * most}
    for count in reversed(counts):
        if (
            len(count) != sizes
            or count[0] < ROUND * most
            or any(n % 2 or n < e + 1 for n, e in zip(count, ends, strict=True))
        ):
            continue
        halves = [n // 2 for n in count]
        off = tuple(_off(a, e, h) for a, e, h in zip(here, ends, halves, strict=True))
        if not any(off):
            return ""
        known = tuple(halves) in left.whole or tuple(halves) in left.numbers or len(rounds) == 1
        if count == for_sizes(right.cast_on or (), sizes) and min(map(abs, off)) >= OFF:
            known = True
        one_off = sizes > 1 and off.count(0) == sizes - 1
        if best is None and (known or one_off) and all(abs(n) <= SLIGHT for n in off):
            best = off
    if there == here:
        return _SAME
    if best is None:
        return ""
    meant = [a - n for a, n in zip(here, best, strict=True)]
    return (
        f"the left thumb stands behind {by_size(here)} sts, and does not mirror the right one, "
        f"which stands behind {by_size(there)}: are {by_size(meant)} meant?"
    )


def _off(before: int, ends: int, half: int) -> int:
    """Return by how many stitches a thumb misses the mirrored place, in either half of the round."""
    off = (before + ends) % half
    return off - half if off > half // 2 else off
