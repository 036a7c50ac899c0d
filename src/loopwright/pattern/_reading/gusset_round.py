# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""The round that takes up a heel, both edges of its flap and the instep, known by its numbers.

It is told in more ways than any other: needle by needle, in four sentences, with remarks on every
stitch. What is on the needles says what it must be: so the parts are looked for in their order,
and the telling is taken for what it says in short where the numbers agree with the needles and
with the total stated; whatever else it says is then talk.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

import attrs

from loopwright.pattern._reading.live import Live
from loopwright.pattern._reading.stated import numbers_of_sizes, whole_numbers
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.values import Count, as_many, sized

__all__ = ["gusset_round", "tells_gusset_round"]

Numbers = tuple[int, ...]

_PICKS = r"(?:(?:pick(?:ing)?(?:s|ed)? up|p/?u)\b|\b(?:lift|take|gather|catch)(?:ing)?(?: up)?\b(?= (?:(?:the|another|other|same) )*\d))"
_TWO_EDGES = WordForm(rf"{_PICKS}.*?{_PICKS}")
_TALK = WordForm(r"\((?=[^()]*[a-z])[^()]*\)|\b(?:do not|don't|without) turn(?:ing)?\b")
_AND_KNIT = WordForm(rf"(?P<picks>{_PICKS})\s*(?:&|and)\s*k(?:nit)?(?=\s*\d|\b)")
_N = r"\d+(?: ?\([\d/]+\))?"  # numbers by size, as they are written here
_PART = re.compile(  # where the next thing to do may begin
    r"[:;!?]|\.(?!\d)|,|[—–]|\s-\s"
    r"|\b(?:and|then|now)\b(?= (?:then )?(?:(?:on ?to|with|using|on) (?:it|this|(?:the|this|that|an?) (?:[a-z]+ ){0,2}?(?:needles?|dpns?|tips?)),? )?(?:k\d|(?:k|knit|work|patt|rib|pick|continue|place|pm|again)\b))",
    re.IGNORECASE,
)
_PICK = WordForm(rf"{_PICKS}(?P<rest>.*)")
_AS_MANY = WordForm(r"\b(?:same number|as many|the same|likewise|to match)\b")
_MORE = WordForm(
    rf"(?:\b(?:and|plus|then)|^|\+)\s*(?P<n>{_N}|one|two)(?: more| extra)*(?: sts?| stitch(?:es)?)?"
    r"(?: more| extra)? (?:in|at|from|between|for|to close) (?:the |each |that |a )?(?:\w+ )?"
    r"(?:gap|corner|hole|top|join|instep)"
    rf"|(?:\b(?:and|plus|then)|\+)\s*(?P<n2>{_N})(?: more| extra)*(?: sts?| stitch(?:es)?)? (?:by|along|down|up|on|off|from) (?:the |that |its )?(?:[a-z]+ )?(?:edge|side|flap)",
    re.IGNORECASE,
)
_WORKS = WordForm(
    r"(?:(?:with|on|using|onto) [^,;]*? ?)?\b(?:k(?=\d)|(?:k|knit|work|patt|pattern|rib|continue)\b)\.?\s*"
    r"(?P<rest>.*)",
)
_NUMBER = WordForm(rf"(?<![a-z\d])(?P<n>{_N})(?!\d| ?mm)")
_HEEL = WordForm(r"\b(?:heel|sole|cup|bottom|instep|sts|stitches)\b")
_HALF = WordForm(r"\bhalf\b|\bto (?:the )?(?:middle|cent(?:er|re))\b")
_WHOLE_NEEDLE = WordForm(r"\bto (?:the )?end of (?:it|(?:the |this |that )?needle)\b")
_MARKS = WordForm(r"\b(?:pm|place (?:a |the |another )?(?:\w+ )?marker)\b")
_OTHER = WordForm(
    r"\b(?:[kp]\d?tog|ssk|skpo?|m1\w?|kfb|yo|dec\w*|inc\w*|cast|bind|slip|sl|turn|repeat|rep)\b"
)
_GATHERS = WordForm(  # "slip all the instep sts on to one needle" moves what waits, and works nothing
    rf"(?:(?:first|now|next|then),? )*(?:slip|sl|slide|place|put|move|transfer|return|arrange) (?:(?:all|both|the|your|held|waiting|remaining|{_N}) )*(?:of )?(?:(?:the|your) )?(?:(?:sts|stitches) (?:of|for|from) the )?(?:instep|held|holder)\b[^,;\d]*$",
)
_NEEDLES = WordForm(
    r"\b(?:needles?|n) ?\d(?:(?: ?,| and| &)+ ?\d)*\b|\b\d (?:instep |sole |other )?(?:needles|dpns)\b",
)


def tells_gusset_round(text: str) -> bool:
    """Tell whether a line picks up along two edges.

    Examples
    --------
    >>> tells_gusset_round("Knit the 12 heel sts. Pick up 10 along the flap, k20, pick up 10, k6.")
    True
    >>> tells_gusset_round("Pick up and knit 16 sts along the thumb opening.")
    False
    """
    return _TWO_EDGES.search(text) is not None


@attrs.frozen
class _Doing:
    """One part of the telling: stitches that are worked or picked up, or a marker."""

    kind: str  # "pick", "work", "mark" or "other"
    many: Numbers | None = None
    words: str = ""


def gusset_round(live: Live, text: str) -> tuple[str, Count, bool] | None:
    """Return in short what a line says that takes up heel and instep, and the stitches there are then.

    Parameters
    ----------
    live : Live
        What is on the needles before it: the heel, with the instep held.
    text : str
        The whole line, in plain signs.

    Returns
    -------
    tuple of str, Count and bool, or None
        The line in our own words, the stitches there are then, and whether it states how many.
        None where the numbers are not those on the needles, or do not make the total.
    """
    held = live.held()
    if len(held) != 1 or live.in_rounds or not any(tally.count for tally in live.tallies):
        return None
    sizes = len(live.tallies)
    heel = _all(as_many(live.count, live.count), sizes)
    instep = _all(as_many(next(iter(held.values())), live.count), sizes)
    plain = _sized(_NEEDLES.sub("needle", _TALK.sub("", text)))
    told = _told(list(_doings(plain, sizes)))
    if told is None or told.works not in (None, instep):
        return None
    stated = [_number(n[0], sizes) for n in re.finditer(_N, plain)]
    begin = ""
    if not live.sure:  # rows before were not understood: the heel is what the line says
        if told.knits is None or _sums(told.knits, told.one, instep, told.two) not in stated:
            return None
        heel, begin = told.knits, f"You have {sized(told.knits)} sts. "
    total = _sums(heel, told.one, instep, told.two)
    begun = tuple(tally.behind for tally in live.tallies)  # of the heel, in a line before
    ahead = heel
    if live.sure and any(begun) and told.knits != heel:
        ahead = tuple(tally.ahead for tally in live.tallies)
        again = _worked(told.after)
        if again not in (None, begun) or (
            total not in stated and (told.knits, again) != (ahead, begun)
        ):
            return None
    if told.knits not in (None, ahead):
        return None
    is_half = _worked(told.after) == tuple(each // 2 for each in heel)  # to the middle of the heel
    if total not in stated and told.knits != ahead and told.works != instep and not is_half:
        return None
    said = told.in_short(ahead, instep, begun if ahead != heel else None)
    most = tuple(max(each) for each in zip(heel, told.one, instep, told.two, strict=True))
    total_said = total if total in stated else _total(stated, total, most)
    behind = f". {sized(total_said)} sts." if total_said else "."
    behind += _shared_out(plain, text, total, sizes)
    return (begin + said + behind, sized(total), bool(total_said)) if said else None


_ON_NEEDLES = WordForm(
    r"\b(?:on|to) (?:the )?(?:(?:needle |n ?)\d\b|(?:first|second|third|fourth)\b)"
)


def _shared_out(plain: str, text: str, total: Numbers, sizes: int) -> str:
    """Return how the stitches lie on needles, where the last sentence tells it of all of them."""
    last = re.split(r"[.;:] (?=\S)", plain.rstrip(" ."))[-1]
    named = [*_ON_NEEDLES.finditer(re.split(r"[.;:] (?=\S)", text.rstrip(" ."))[-1])]
    numbers = [_number(n[0], sizes) for n in re.finditer(_N, last)]
    known = [one for one in numbers if one is not None]
    if len(named) < 2 or len(named) != len(known) or _sums(*known) != total:
        return ""
    told = (f"{sized(many)} on needle {at}" for at, many in enumerate(known, start=1))
    return f" {', '.join(told)}."


def _told(doings: Sequence[_Doing]) -> _Told | None:
    """Return the parts of a round that picks up twice, with something worked between the two."""
    doings = _merged(doings)
    picks = [at for at, one in enumerate(doings) if one.kind == "pick"]
    if len(picks) != 2 or any(one.kind == "other" for one in doings):
        return None
    one, two = (doings[at].many for at in picks)
    if two is None and _AS_MANY.search(doings[picks[1]].words):
        two = one
    between = doings[picks[0] + 1 : picks[1]]
    if one is None or two is None or not any(part.kind == "work" for part in between):
        return None
    return _Told(doings[: picks[0]], one, between, two, doings[picks[1] + 1 :])


def _merged(doings: Sequence[_Doing]) -> list[_Doing]:
    """Return the parts with what is picked up by the way, "and 1 in the corner", put together."""
    found: list[_Doing] = []
    for one in doings:
        last = found[-1] if found else None
        if last and last.kind == one.kind == "pick" and last.many and one.many:
            found[-1] = attrs.evolve(last, many=_sums(last.many, one.many))
        else:
            found.append(one)
    return found


@attrs.frozen
class _Told:
    """What is told of the round: what comes before, between and behind what is picked up."""

    before: Sequence[_Doing]
    one: Numbers
    between: Sequence[_Doing]
    two: Numbers
    after: Sequence[_Doing]

    @property
    def knits(self) -> Numbers | None:
        """Stitches of the heel that are knit first; None where there is no number."""
        return _worked(self.before)

    @property
    def works(self) -> Numbers | None:
        """Stitches of the instep; None where there is no number."""
        return _worked(self.between)

    def in_short(self, heel: Numbers, instep: Numbers, begun: Numbers | None = None) -> str | None:
        """Return it in our own words; None where more is knit behind it than the heel."""
        said = [f"k{sized(heel)} heel sts"] * any(part.kind == "work" for part in self.before)
        said.append(f"pick up and knit {sized(self.one)} sts along the side of the heel flap")
        said += ["pm"] * any(part.kind == "mark" for part in self.between[:1])
        said.append(f"work {sized(instep)} instep sts in pattern")
        said += ["pm"] * any(part.kind == "mark" for part in self.between[1:])
        said.append(f"pick up and knit {sized(self.two)} sts along the other side of the flap")
        if any(part.kind == "work" for part in self.after):
            works = [part for part in self.after if part.kind == "work"]
            if len(works) > 1 and _worked(works[:1]) and not _worked(works):
                return None  # "k9. Knit on to the end of needle 4"
            words = " ".join(part.words for part in self.after)
            half = tuple(each // 2 for each in heel)
            again = begun or _worked(self.after) or (half if _HALF.search(words) else heel)
            if "picked" in words or (_WHOLE_NEEDLE.search(words) and not _worked(self.after)):
                again = _sums(heel, self.one)
            if begun is None and any(
                a > b for a, b in zip(again, _sums(heel, self.one), strict=True)
            ):
                return None
            said.append(f"then k{sized(again)}")
        return ", ".join(said).capitalize()


def _sums(*numbers: Numbers) -> Numbers:
    """Return for each size what its numbers make together."""
    return tuple(sum(each) for each in zip(*numbers, strict=True))


def _all(values: tuple[int, ...], sizes: int) -> Numbers:
    """Return numbers for all sizes."""
    return values * sizes if len(values) == 1 else values


def _total(stated: Sequence[Numbers | None], worked: Numbers, most: Numbers) -> Numbers | None:
    """Return the total that a line states, where it is not what its parts make."""
    for numbers in reversed(stated):
        if numbers and all(
            n > part and abs(n - there) <= there // 4
            for n, part, there in zip(numbers, most, worked, strict=True)
        ):
            return numbers
    return None


def _sized(text: str) -> str:
    """Return a text whose numbers by size hold no commas."""
    return re.sub(
        COUNT, lambda n: re.sub(r"\s*[,:;]\s*", "/", n[0].replace("[", "(").replace("]", ")")), text
    )


def _worked(parts: Sequence[_Doing]) -> Numbers | None:
    """Return how many stitches are worked in all; None where that is not said in numbers."""
    told = [part.many for part in parts if part.kind == "work"]
    if not told or any(many is None for many in told):
        return None
    return _sums(*(many for many in told if many))


def _doings(text: str, sizes: int) -> Iterator[_Doing]:
    """Yield what a line does, part by part; talk and counts are passed over."""
    for part in _PART.split(_AND_KNIT.sub(lambda match: match["picks"], text)):
        words = part.strip()
        if pick := _PICK.search(words):
            number = _NUMBER.search(pick["rest"])
            many = _number(number["n"], sizes) if number else None
            if number and many and (more := _MORE.search(pick["rest"], number.end())):
                many = _plus(many, more["n"] or more["n2"], sizes)
            yield _Doing("pick", many, words)
        elif _MARKS.search(words):
            yield _Doing("mark")
        elif _OTHER.search(words) and not _GATHERS.match(words):
            yield _Doing("other")
        elif works := _WORKS.match(words):
            if re.search(r"\b(?:round|rnd|row)s?\b", works["rest"]) and not _HEEL.search(
                works["rest"]
            ):
                continue
            number = _NUMBER.search(works["rest"])
            yield _Doing("work", _number(number["n"], sizes) if number else None, words)


def _number(said: str | None, sizes: int) -> Numbers | None:
    return None if said is None else numbers_of_sizes(said, sizes)


def _plus(many: Numbers, said: str, sizes: int) -> Numbers:
    words = {"one": (1,), "two": (2,)}
    more = _all(words.get(said.lower(), ()) or whole_numbers(said), sizes)
    return _sums(many, more)
