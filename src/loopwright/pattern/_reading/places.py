# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Named places: which stitches are the instep, which the sole, and work over one of them."""

from __future__ import annotations

import re

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._reading.freed import unused_name
from loopwright.pattern._reading.in_wedges import of_all_wedges, of_gusset_and_hand
from loopwright.pattern._reading.named_halves import halves_by_name
from loopwright.pattern._reading.place_ends import PLACES as _NAMES
from loopwright.pattern._reading.place_ends import up_to_place_ends
from loopwright.pattern._reading.rule_table import rule
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._reading.stated import count_in, stated_in
from loopwright.pattern._reading.told_marks import to_told_marks
from loopwright.pattern._rewording.for_places import without_idle_places
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._tally import GAP, MARKER, NEEDLE, Tally
from loopwright.pattern.items import KNIT, Mark, On, PickUp, Run
from loopwright.pattern.values import Count, as_many, sized, values_of

__all__ = [
    "heel_again",
    "names_place",
    "past_marker",
    "rests_since",
    "size_of",
    "to_far_wrap",
    "with_places",
]


@rule(
    rf"(?:the )?(?:first |next )?(?P<a>{{N}}) {{STS}} (?:are|will be|become|form|make|=) (?:for )?(?:the |your )?(?P<na>{_NAMES})(?: {{STS}})?(?:,|;| and)+ ?(?:the )?(?:remaining |next |last |other |second |following |rem )?(?P<b>{{N}}) (?:{{STS}} )?(?:are |will be |become |form |make |= )?(?:for )?(?:the |your )?(?P<nb>{_NAMES})(?: {{STS}})?[^;\d]*"
)
def _first_are(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    live, first, second = scribe.now(), count_in(said["a"]), count_in(said["b"])
    if not live.is_free or live.behind_any():
        return []
    total = live.count
    whole = [a + b for a, b in zip(as_many(first, total), as_many(second, total), strict=True)]
    if whole != [int(value) for value in values_of(total)]:
        scribe.claim("count", sized(whole))
        return []
    scribe.context.places = {said["na"].lower(): 1, said["nb"].lower(): 2}
    return [st.Arrange((first, second))]


@rule(
    rf"(?:needle|(?:the )?(?=first|second)) ?(?P<a>[12]|first half|second half)(?: of the (?:round|rnd|{{STS}}))? (?:is|=|holds|has|makes|forms|will (?:be|hold)|carries) (?:for )?(?:the |your )?(?P<na>{_NAMES})(?: {{STS}})?(?:,|;| and)+ ?(?:needle|(?:the )?(?=first|second|other)) ?(?P<b>[12]|(?:first|second|other) half)(?: (?:is|=|holds|has|will (?:be|hold)|carries))? (?:for )?(?:the |your )?(?:heel and )?(?P<nb>{_NAMES})(?: (?:and )?(?:the )?(?:sole|heel|gusset))?(?: {{STS}})?"
)
def _needle_is(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    first = 2 if said["a"].lower() in ("2", "second half") else 1
    names = [
        "instep" if said[n].lower().startswith("top") else said[n].lower() for n in ("na", "nb")
    ]
    scribe.context.places = {names[0]: first, names[1]: 3 - first}
    return []


@rule(
    rf"(?:the )?(?P<na>{_NAMES})(?: {{STS}})?(?: is| are|:)? ?=? ?(?:the )?(?P<which>first|last|remaining|other|next) (?P<n>{{N}}) {{STS}}"
    rf"(?P<rest>(?:,|;| and|, and) (?:the )?(?P<nb>{_NAMES})(?: {{STS}})?(?: is| are|:)? ?=? ?(?:the )?(?:rest|others?|remaining|remainder|last)(?: (?P<m>{{N}}))?(?: (?:of the )?{{STS}})?)?"
)
def _place_is(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "instep = first 26 sts, sole = the rest"."""
    live, count = scribe.now(), count_in(said["n"])
    first = said["which"].lower() == "first"
    scribe.context.places[said["na"].lower()] = 1 if first else 2
    if said["nb"]:
        scribe.context.places[said["nb"].lower()] = 2 if first else 1
    total = live.count
    rest = [a - b for a, b in zip(as_many(total, total), as_many(count, total), strict=True)]
    free = live.is_free and not live.behind_any()
    if not first or not free or min(rest) <= 0:
        return []
    return [st.Arrange((count, sized(rest)))]


def size_of(tally: Tally, number: int) -> int | None:
    """Return how many stitches lie at the first or second of two places, or on a needle."""
    if not tally.behind and len(tally.parts) > 2 and number <= len(tally.parts):
        start = 0 if number == 1 else tally.distance((NEEDLE, number - 2))
        end = tally.ahead if number == len(tally.parts) else tally.distance((NEEDLE, number - 1))
        return None if start is None or end is None else end - start
    if tally.behind:
        here = tally.distance((NEEDLE, 0)) == 0 or tally.behind_at.get((NEEDLE, 0)) == tally.behind
        if not here or len(tally.parts) != 2:
            return None
        return tally.ahead if number == 2 else tally.behind
    first = tally.distance((NEEDLE, 0))
    if first is None or len(tally.parts) != 2:
        return None
    return first if number == 1 else tally.ahead - first


def _place(scribe: Scribe, name: str) -> Count | None:
    """Return the stitches of a named place, None if nobody said where it is."""
    number = scribe.context.places.get(name)
    if number is None and name == "heel":
        number = scribe.context.places.get("sole")
    live = scribe.now()
    if number is None or not live.is_free:
        return None
    sizes = [size_of(tally, number) for tally in live.tallies]
    found = [size for size in sizes if size is not None]
    return sized(found) if len(found) == len(sizes) else None


@rule(
    rf"(?:(?:the )?(?:heel|flap)(?: turn| flap)? (?:is|will be|are) (?:now )?(?:turned|worked|knit(?:ted)?|made)(?: flat)?|(?:now |then )?(?:work|working|continue|continuing)(?: the heel| short[- ]rows)?)(?: back and forth)?(?: in rows)?(?: only)? (?:over|on|across|using) (?:just |only )?(?:the )?(?:(?P<many>{{N}}) )?(?P<name>{_NAMES})(?: {{STS}})?(?: only| alone)?(?:,? back and forth)?(?: in rows)?(?:[,;:]? (?:and |while )?(?:let|letting|leave|leaving|keep|keeping|with|the) (?:the )?(?:{_NAMES}|others?|rest|remaining)[^;\d]*)?(?:,? as (?:follows|foll))?:?"
)
def _over_named(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Keep a part as the one in work; where nobody said how large it is, the counts are lost."""
    live = scribe.now()
    if re.match(
        r"(?:now |then )?(?:work|continue) across\b(?!.*\b(?:rows|forth)\b)", said[0], re.I
    ):
        return None  # a part of a round
    scribe.context.course = "ROW"
    if live.held() and live.sure:
        return []
    stitches = _place(scribe, said["name"].lower())
    if (
        stitches is None
        and live.sure
        and scribe.is_turned()
        and re.search(r"\b(?:only|alone)\b", said[0], re.I)
    ):
        stitches = live.ahead  # those that were just worked, behind the turn
    if said["many"] and live.sure:
        many = count_in(said["many"])
        if stitches is not None and as_many(stitches, live.count) != as_many(many, live.count):
            scribe.claim("other", many, stitches)
        if stitches is None:
            return list(scribe.focus(many)) or None
    if stitches is not None:
        return list(scribe.focus(stitches))
    scribe.note(said[0])
    scribe.claim("lost", 0)
    return []


@rule(
    r"(?:(?:the )?(?:heel|flap)(?: turn| flap)? (?:is|will be|are) (?:now )?(?:turned|worked|knit(?:ted)?|made)|(?:you (?:will )?)?(?:now |then )?(?:work|worked|working|continue)(?: the heel| short[- ]rows)?|(?:now |then )?turn the heel|heel,?)(?: flat)?(?: back and forth)?(?: in rows)?(?: only)? (?:over|on|across|using) (?:just |only )?(?:the )?(?:{STS} (?:of|on) |(?P<sts>{N}) {STS} from )?needle (?P<n>[12])(?: only| alone)?(?:,? back and forth)?(?: in rows)?(?: ?[(:,] ?(?P<many>{N}) (?:heel )?{STS}\)?)?(?:,? as (?:follows|foll))?:?(?:[,;] (?:leav(?:e|ing)|(?:and |while )?(?:the )?(?:rest|instep|others?))\b[^;]*)?"
)
def _over_needle(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Keep one needle as the one in work: "the heel is worked on needle 2"."""
    if re.fullmatch(r"(?:now |then )?(?:work|continue) across needle 1", said[0].lower()):
        return None  # the first needle of a round
    live, number = scribe.now(), int(said["n"])
    scribe.context.course = "ROW"
    if number == 3 - scribe.context.resting and (again := heel_again(scribe)) is not None:
        return again
    if not live.is_free or not live.in_rounds:
        return []
    sizes = [size_of(tally, number) for tally in live.tallies]
    if any(size is None for size in sizes):
        total, many = live.count, said["many"] or said["sts"]
        half = [int(value) // 2 for value in values_of(total)]
        if not many and any(int(value) % 2 for value in values_of(total)):
            return []
        sizes = [int(v) for v in as_many(count_in(many), total)] if many else list(half)
    stitches = sized([size for size in sizes if size is not None])
    scribe.context.resting = 3 - number
    if number == 1 or live.behind_any():
        return list(scribe.focus(stitches, ahead=number == 2))
    rest = [
        a - b
        for a, b in zip(as_many(live.count, live.count), as_many(stitches, live.count), strict=True)
    ]
    return [st.Hold(sized(rest), "instep")] if min(rest) > 0 else []


_IN_TWO = WordForm(  # "cast on 20 sts: 10 for the instep, 10 for the sole"
    r"\bcast(?:ing)?[ -]on \d[^;:.]*[:,(] ?\d+(?: ?[(\[][^)\]]*[)\]])?(?: sts)? (?:for|on) (?:the )?(instep|sole)[,;]? (?:and )?\d+(?: ?[(\[][^)\]]*[)\]])?(?: sts)? (?:for|on) (?:the )?(?!\1)(instep|sole)\b",
)
_ACROSS = WordForm(
    rf"(?<=:)\s*(?:k|knit|work)(?: even)? (?:across |over )?(?:the |all )?(?P<first>{_NAMES})(?: sts| stitches)?\s*[,;.]\s*(?:then )?(?:(?:on|across|over) (?:the )?{_NAMES}(?: sts| stitches)?\s*[:,]?\s*|{_NAMES}(?: sts| stitches)?\s*:\s*)?(?=\S)",
)
_NAMED = WordForm(
    rf"\b(?:on |across )?(?:the )?(?P<name>{_NAMES})(?: sts| stitches| needle)?\s*:(?=\s*\S)",
)


_NEEDLE_OF = WordForm(  # "until the heel needle has 56 sts", "to the end of the heel needle"
    rf"\b(?:the )?(?P<name>{_NAMES}) needle\b(?!s|:)"
)


def with_places(scribe: Scribe, said: MappedText) -> MappedText:
    """Put needles for places whose needles are known: "k across instep; k1, m1r …"."""
    said = of_gusset_and_hand(scribe, of_all_wedges(scribe, said))
    idle = without_idle_places(said)
    if idle is not said and not scribe.context.places and not scribe.now().held():
        said = idle
    if (told := _IN_TWO.search(said.text)) is not None:
        scribe.context.places = {told[1].lower(): 1, told[2].lower(): 2}
        return said
    if not scribe.context.places:
        halves_by_name(scribe, said.text)
    places = scribe.context.places
    if not places or not re.search(_NAMES, said.text, re.IGNORECASE):
        return said

    def across(match: re.Match[str]) -> str:
        if places.get(match["first"].lower()) != 1:
            return match[0]
        return " needle 1: knit; needle 2: "

    def named(match: re.Match[str]) -> str:
        number = places.get(match["name"].lower())
        return match[0] if number is None else f"needle {number}:"

    def needle(match: re.Match[str]) -> str:
        number = places.get(match["name"].lower())
        return match[0] if number is None else f"needle {number}"

    said = up_to_place_ends(said, places, scribe.table)
    return said.sub(_ACROSS, across).sub(_NAMED, named).sub(_NEEDLE_OF, needle)


def names_place(scribe: Scribe, said: MappedText) -> bool:
    """Tell whether a sentence names a part of the round that was told how many stitches it has."""
    found = re.search(rf"\b{_NAMES}\b", said.text, re.IGNORECASE)
    return found is not None and _place(scribe, found[0].lower()) is not None


@rule(
    rf"(?:now |then )?(?:k|knit|work|rib|patt) (?:even )?(?:across |over )?(?:all )?(?:of )?(?:the |your )?(?:(?P<n>{{N}}) )?(?P<name>{_NAMES})(?: {{STS}}| needle)?(?: (?:even|plain|once(?: more)?|again|only)| (?:in|as) (?:the )?(?:patt\w*|rib|lace|set|est\w*|st\.? st)(?: as (?:set|est\w*))?)?"
)
def _across_place(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit across the instep" where the text has told how many stitches that is."""
    live, name = scribe.now(), said["name"].lower()
    number, stitches = scribe.context.places.get(name), _place(scribe, name)
    if stitches is None or not live.in_rounds:
        return None
    if said["n"] and as_many(count_in(said["n"]), live.count) != as_many(stitches, live.count):
        scribe.claim("other", count_in(said["n"]), stitches)
    if number == 1 and not live.behind_any():
        return [st.Part((Run("k", stitches),))]
    if number == 2 and as_many(live.ahead, live.count) == as_many(stitches, live.count):
        return [st.Part((Run("k", stitches),))]
    return None


_FAR = WordForm(
    r"(?P<lead>\b(?:(?:sl|slip) ?(?:1|one)(?: st)?(?: [a-z]+)?, )?)(?P<verb>k|p|knit|purl) to (?:the )?(?:last|outermost|final|farthest|furthest) wrapped st(?:itch)?(?:, (?:picking up|lifting|working|knitting|purling) [^,;.\d]*?wraps?[^,;.\d]*)?(?=[,;]? (?:and )?(?:then )?(?:work (?:an? )?)?(?:ssk|skp|k2tog|p2tog|ssp)\b)",
)


_TO_SECOND = WordForm(
    rf"\b(?P<verb>k|knit|p|purl|work) to (?P<off>{COUNT} (?:sts?|stitch(?:es)?) (?:before|short of) )?(?:the )?(?:second|2nd|last) (?:marker|m)\b"
    r"(?P<away>,? (?:removing|taking (?:off|out)) (?:both |the |all )*markers?[^.;,]*)?",
)
_MARKED = WordForm(r"\b(?:markers?|m|sm|pm)\b")


_BARE = WordForm(r"(?<=[,;] )(?:a )?marker(?=[,;] )")  # "K10, marker, m1, marker, k10"


def _between(tally: Tally) -> list[int]:
    """Return how far the markers are that hang amid the stitches ahead."""
    return [n for (kind, _), n in tally.ahead_at.items() if kind == MARKER and n < tally.ahead]


def past_marker(scribe: Scribe, said: MappedText) -> MappedText:
    """Put in the marker that is passed on the way: "knit to the second marker", with two ahead."""
    said = to_told_marks(scribe, said)
    if _BARE.search(said.text) is not None and (live := scribe.now()).sure:
        hung = any(_between(tally) for tally in live.tallies)
        said = said.sub(_BARE, "sm" if hung else "place marker")
    match = _TO_SECOND.search(said.text)
    if match is None or _MARKED.search(said.text[: match.start()]):
        return said
    if any(len(_between(tally)) != 2 for tally in scribe.now().tallies):
        return said

    def both(found: re.Match[str]) -> str:
        mark = "remove m" if found["away"] else "sm"
        to = f"{found['verb']} to"
        far = f"{to} {found['off'] or ''}m"
        return f"{to} m, {mark}, {far}" + (f", {mark}" if found["away"] else "")

    return said.sub(_TO_SECOND, both)


def to_far_wrap(scribe: Scribe, body: MappedText) -> MappedText:
    """Put a number for "knit to the last wrapped st, ssk": the one that was wrapped first."""
    match = _FAR.search(body.text) if "wrapped" in body.text else None
    if match is None or not (live := scribe.now()).sure:
        return body
    slipped = 1 if match["lead"] else 0
    many = []
    for tally in live.tallies:
        gaps = [tally.ahead - at for key, at in tally.ahead_at.items() if key[0] == GAP]
        many.append(max(gaps, default=0) - slipped)
    if not many or min(many) <= 0:
        return body
    return body.sub(_FAR, lambda found: f"{found['lead']}{found['verb']} {sized(many)}")


def rests_since(scribe: Scribe) -> bool:
    """Tell whether the instep was laid to rest, and nothing was worked since."""
    steps = (entry.step for entry in reversed(scribe.assembler.entries))
    last = next((step for step in steps if not isinstance(step, st.Note | st.Section)), None)
    return isinstance(last, st.Hold) and last.name == "instep"


def _was_row(scribe: Scribe) -> bool:
    """Tell whether what was worked last is rows, though nobody said that the round is left."""
    steps = (entry.step for entry in reversed(scribe.assembler.entries))
    last = next((step for step in steps if not isinstance(step, st.Note | st.Section)), None)
    return any(isinstance(row, st.Row) for row in rounds_in((last,) if last else ()))


@rule(
    r"(?:now |then )?(?:k|knit|work) (?:(?:across|over)(?: the)?(?: {STS} (?:of|on))? |(?:the )?{STS} (?:of|on) )?(?:needle (?P<n>\d)|(?:the )?(?P<nth>first|second|1st|2nd) needle)(?: (?:in|as) (?:the )?(?:patt\w*|st st|rib|set|est\w*)(?: as (?:set|est\w*))?)?(?: (?:once(?: more)?|again|only|first|one (?:last|more) time))?"
)
def _across_needle(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "work across needle 1 in patt"."""
    first = (said["nth"] or "").lower() in ("first", "1st")
    live, number = scribe.now(), int(said["n"] or (1 if first else 2))
    held = live.held()
    reached = not live.is_within
    if number == 1 and rests_since(scribe):
        return []  # "work on needle 2 only. Knit across needle 1": the yarn is brought to its row
    in_rows = not live.in_rounds or _was_row(scribe)
    beside = number == (scribe.context.resting or 1)  # the instep, where nobody said
    if beside and len(held) == 1 and live.sure and not live.in_rounds and reached:
        ((name, waiting),) = held.items()
        scribe.context.course, scribe.context.across = "RND", (live.count, waiting)
        return [st.ReturnHeld(name), st.Part((Run("k", waiting),)), st.Join()]
    if number == 2 and len(held) == 1 and live.sure and in_rows and reached:
        ((name, waiting),) = held.items()
        scribe.context.course = "RND"
        places = scribe.context.places
        if name == "instep" and number in (places.get("sole"), places.get("heel")):
            # the heel that was turned, before the instep is joined
            stated = scribe.stated or stated_in(MappedText.of(scribe.following)).count
            whole = [a + b for a, b in zip(*map(values_of, (live.count, waiting)), strict=False)]
            all_stated = stated is not None and [*values_of(stated)] == whole
            return [st.Part((KNIT,)), *(scribe.together() if all_stated else [])]
        return [st.ReturnHeld(name), st.Part((Run("k", waiting),)), st.Join()]
    if not live.in_rounds or not live.sure or held or number not in (1, 2):
        return None
    steps: list[Says] = []
    counts = [tally.count for tally in live.tallies]
    if number == 1 and not any(tally.parts for tally in live.tallies) and _of_three(scribe):
        if any(count % 4 for count in counts):
            return None
        many: Count = sized([count // 4 for count in counts])
    elif not any(tally.parts for tally in live.tallies):
        if any(count % 2 for count in counts) or live.behind_any():
            return None
        half = sized([count // 2 for count in counts])
        steps.append(st.Arrange((half, half)))
        many = half
    else:
        sizes = [size_of(tally, number) for tally in live.tallies]
        if any(size is None for size in sizes):
            return None
        many = sized([size for size in sizes if size is not None])
    return [*steps, st.Part((Run("k", many),))]


def _of_three(scribe: Scribe) -> bool:
    """Tell whether the last rounds were given for three or four needles: the first is a
    quarter.
    """
    for entry in reversed(scribe.assembler.entries[-12:]):
        for row in rounds_in((entry.step,)):
            names = {name for item in row.items if isinstance(item, On) for name in item.parts}
            if names:
                return "needle 3" in names
    return False


@rule(
    r"(?:put|place|arrange|slip|have|keep|divide) (?:the )?(?:first |next )?(?P<n>{N}) (?:{STS} )?(?:on|onto|on to) needle 1,? and (?:the )?(?:others?|rest|remaining|rem|last|next|second)(?: {N})?(?: {STS})? (?:on|onto|on to) needle 2[^;\d]*"
)
def _first_on_one(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "put the first 12 sts on needle 1 and the others on needle 2"."""
    live, first = scribe.now(), count_in(said["n"])
    total = live.count
    rest = [a - b for a, b in zip(as_many(total, total), as_many(first, total), strict=True)]
    if not live.is_free or live.behind_any() or min(rest) <= 0:
        return []
    return [st.Arrange((first, sized(rest)))]


@rule(
    r"needle 1: ?(?:knit|k|work)(?: to end)?[;.] ?needle 2: ?(?:knit|k) ?(?P<n>{N}) {STS} with waste yarn, slide these {N} {STS} back to the left needle and knit them again[^;]*"
)
def _waste_on_two(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "needle 1: knit; needle 2: with waste yarn, k28; slide them back and knit them again"."""
    live, many = scribe.now(), count_in(said["n"])
    if not live.is_whole_round:
        return None
    total = live.count
    first = [a - b for a, b in zip(as_many(total, total), as_many(many, total), strict=True)]
    if min(first) <= 0:
        return None
    name = unused_name(scribe, ("waste", "heel", "second", "third"))
    if name is None:
        return None
    return [st.Part((Run("k", sized(first)),)), st.WasteRow(many, name), st.Part((Run("k", many),))]


@rule(
    r"(?:now |then )?(?:knit|k|work) (?:once more |on |as far as )?(?:up )?(?:to )?(?:the )?(?:first |near |next )?(?:side|beginning|start) of (?:the )?(?:foot|instep|toe|sock)"
)
def _to_the_side(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit to the side of the foot": a quarter of a round that begins under the heel."""
    live = scribe.now()
    if not live.is_whole_round:
        return None
    quarters = [tally.count // 4 for tally in live.tallies]
    told = [(tally.parts, size_of(tally, 1)) for tally in live.tallies]
    if any(
        len(parts) > 1 and first != one for (parts, first), one in zip(told, quarters, strict=True)
    ):
        return None
    if any(tally.count % 4 for tally in live.tallies):
        return None
    return [st.Part((Run("k", sized(quarters)),))]


@rule(
    r"(?:now |from here |for now )?(?:only |just )(?:the )?(?:last |next |first |other )?(?P<n>{N}) (?:(?:sole|heel|gusset|flap)(?: and (?:sole|heel|gusset))? )?{STS} (?:are|will be) (?:now )?(?:worked|knitted|in work|used|needed)(?: on| now| here)?(?:,? back and forth)?(?: in rows)?(?:[,;:]? (?:and |while )?(?:let|leave|keep|the) (?:the )?(?:instep|others?|rest)[^;\d]*)?"
)
def _only_so_many(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "only the 50 sole sts are worked; let the instep rest"."""
    live = scribe.now()
    if not live.is_free:
        return None
    scribe.context.course = "ROW"
    return list(scribe.focus(count_in(said["n"])))


@rule(
    r"(?:(?:now|then|and) )*(?:k|knit|work) (?:(?:across|over) )?(?:all )?(?:of )?(?:the )?(?:(?P<n>{N}) )?(?:held |waiting |resting )?(?:instep(?: {STS}| needle)?|(?:held|waiting|resting) {STS}|(?P<other>(?:{STS} (?:of|on) )?(?:the )?(?:needle 2|n2|(?:second|other) needle|(?P<near>needle 1|n1|first needle))(?: {STS})?))(?: (?:once|one)(?: more)?(?: time)?| again)?"
)
def _across_instep(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Knit the instep between the turn of a heel and the flap that follows it."""
    live = scribe.now()
    held = live.held()
    worked_steps = (e.step for e in reversed(scribe.assembler.entries))
    last = next((s for s in worked_steps if not isinstance(s, st.Note | st.Section)), None)
    if live.in_rounds and not held and scribe.context.places.get("instep") == 1:
        stitches = _place(scribe, "instep") if not live.behind_any() else None
        return None if stitches is None else [st.Part((Run("k", stitches),))]
    if len(held) != 1 or not live.sure or live.in_rounds or scribe.picked:
        return None
    if not isinstance(last, st.Row | st.Part) or live.is_within:
        return None
    if any(isinstance(item, PickUp) for item in last.items):
        return None  # the sides of a flap
    turned = last.is_turned if isinstance(last, st.Row) else not said["near"]
    if said["other"] and (turned or "instep" not in held):
        return None  # it may be the needle that was just worked
    if said["near"] and scribe.context.resting != 1:
        return None
    there = next(iter(held.values()))
    if said["n"] and as_many(count_in(said["n"]), there) != as_many(there, there):
        return None
    (name, waiting), worked = next(iter(held.items())), live.count
    scribe.context.across = (worked, waiting)
    return [st.ReturnHeld(name), st.Part((Run("k", waiting),)), st.Join()]


@rule(
    r"(?:(?:now|then|and) )*(?:k|knit|work) (?:(?:across|over) )?(?:all )?(?:of )?(?:the )?(?:(?P<n>{N}) )?(?:held|waiting|resting|other|remaining)(?: (?P<m>{N}))?(?: instep)?(?: {STS}| needle| half)?(?: (?:once|again))?(?P<end>,? to (?:finish|complete|end|close)(?: off)? (?:the |this )?(?:round|rnd))?"
)
def _across_waiting(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "knit the other 18 sts to finish the round", behind a heel that was turned."""
    live, held = scribe.now(), scribe.now().held()
    if len(held) != 1 or not live.sure or live.in_rounds or scribe.picked or live.is_within:
        return None
    ((name, waiting),) = held.items()
    told = said["n"] or said["m"]
    if told and as_many(count_in(told), waiting) != as_many(waiting, waiting):
        return None
    if name == "thumb" or not (said["end"] or "needle" in said[0].lower()):
        return None
    scribe.context.course = "RND"
    return [st.ReturnHeld(name), st.Part((Run("k", waiting),)), st.Join()]


@rule(
    r"(?:with (?:the )?rs (?:facing|towards you),? )?(?:now |then )?(?:k|knit|work)(?: across| over)?(?: all)?(?: the)?(?: (?P<n>{N}))? heel(?: {STS})?,?(?: (?P<m>sm|pm|(?:slip|place) (?:a |the )?(?:marker|m)),?)?(?: and| then)* (?:rib|k|knit|work)(?: in (?:rib|patt\w*))?(?: across| over)?(?: the)?(?: (?P<n2>{N}))?(?: held)? instep(?: {STS})?(?: in (?:rib|patt\w*)| as (?:set|before|est\w*))*"
)
def _heel_then_instep(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "k the heel sts, sm, rib the instep": the instep that was held comes back."""
    live = scribe.now()
    held = live.held()
    if len(held) != 1 or not live.sure or live.in_rounds or scribe.picked:
        return None
    if live.is_within:
        return None
    ((name, waiting),) = held.items()
    for given, there in ((said["n"], live.count), (said["n2"], waiting)):
        if given and as_many(count_in(given), there) != as_many(there, there):
            scribe.claim("other", count_in(given), there)
    scribe.context.course = "RND"
    between = [Mark("place")] if said["m"] else []
    return [
        st.Part((Run("k", live.count),)), st.ReturnHeld(name),
        st.Part((*between, Run("k", waiting))), st.Join(),
    ]  # fmt: skip


@rule(
    r"(?:now |then )?(?:work|continue|knit)(?: (?:the )?(?:heel|sole)(?: flap)?(?: {STS})?)?(?: only)? back and forth(?: in rows)?[^;\d]*"
    r"|(?:now |then )?(?:(?:(?:go|turn|come|change) )?back|return) (?:again )?to (?:the )?(?:needle (?P<n>[12])|(?:heel|sole)(?: {STS}| needle)?)(?: alone| only| again)*(?: ?\([^()]*\))?"
    r"|(?:now |then )?(?:work|go on|continue) (?:on|with|over) (?:the )?(?:heel|sole)(?: {STS}| needle)? (?:alone|only|again)"
)
def _back_and_forth(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Leave the instep that was just knitted, and go on with the heel."""
    return None if said["n"] == str(scribe.context.resting) else heel_again(scribe)


def heel_again(scribe: Scribe) -> list[Says] | None:
    """Return the steps that leave the instep, just knitted behind a heel, and take up the heel."""
    pair, live = scribe.context.across, scribe.now()
    if pair is None or live.held() or not live.in_rounds:
        return None
    heel, instep = (as_many(one, live.count) for one in pair)
    if [a + b for a, b in zip(heel, instep, strict=True)] != [*as_many(live.count, live.count)]:
        return None  # that was long ago
    scribe.context.across, scribe.context.course = None, "ROW"
    return [st.Hold(pair[0], "heel"), st.Hold(pair[1], "instep"), st.ReturnHeld("heel")]


@rule(
    rf"(?:move|slip|sl|transfer|put|give) (?:the )?(?:last|first|end) (?:(?P<n>{{N}}) )?(?P<na>{_NAMES}) {{STS}} (?:to|on ?to|on|over to) (?:the )?(?P<nb>{_NAMES})(?: {{STS}}| needle)?(?:,? (?:so that|and|making|giving|for)[^;]*)?"
)
def _moved(scribe: Scribe, said: re.Match[str]) -> list[Says] | None:
    """Read "move the last instep st to the sole"."""
    live, places = scribe.now(), scribe.context.places
    here, there = places.get(said["na"].lower()), places.get(said["nb"].lower())
    if {here, there} != {1, 2} or not live.is_free:
        return None
    many = as_many(count_in(said["n"] or "1"), live.count)
    first = [size_of(tally, 1) for tally in live.tallies]
    if None in first or live.behind_any():
        return None
    sign = -1 if here == 1 else 1
    ones = [int(one or 0) + sign * by for one, by in zip(first, many, strict=True)]
    rest = [tally.count - one for tally, one in zip(live.tallies, ones, strict=True)]
    return [st.Arrange((sized(ones), sized(rest)))] if min(*ones, *rest) > 0 else None
