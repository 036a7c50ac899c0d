"""What is worked on a needle, told by another needle or round, for two as for one, or as before."""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rewritten
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.scribe import Lost, Scribe
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.needle_by_needle import with_needles_ahead
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._tally import NEEDLE
from loopwright.pattern.items import KNIT, Item, On, PickUp, Run
from loopwright.pattern.values import Count, Sized, To, Where, as_many, sized, values_of

__all__ = ["across_needles", "arrange_as_before", "count_of_own_needle", "with_needles"]

_NAMED = r"(?:needles? |n ?)(?P<needles>\d(?:(?:, | and )\d)*): ?"
_LIKE = (
    r"(?:(?:work|knit|do) )?(?:(?:exactly |just )?(?:the )?same )?(?:exactly )?"
    r"(?:as|like) (?:for |on |in )?(?:the )?"
)
_AS_NEEDLE = WordForm(rf"(?P<name>{_NAMED}){_LIKE}(?P<other>needle \d)(?=[.;,]|$)")
_AS_ROUND = WordForm(
    rf"(?P<name>{_NAMED}){_LIKE}(?:(?:rnd|round) (?P<n>\d{{1,3}})"
    r"|(?P<nth>\d{1,3})(?:st|nd|rd|th) (?:rnd|round))(?=[.;,]|$)",
)
_MAY = WordForm(r"needle|\bn ?\d")
_TOLD = WordForm(rf"(?:^|[:;.] ){_NAMED}(?P<what>.*?)(?=[;.] (?:needles? |n ?)\d|[;.]?$)")
_AS_LINES_BEFORE = WordForm(  # "Needle 3: same as needle 1", "Repeat on needles 3 and 4"
    r"(?:(?:and|then|now) )*(?:(?:(?:work|on) )?(?:needles? |n ?)(?P<a>\d)(?: (?:and|&) \d)*[:,]?"
    r" (?:(?:work|knit|do|worked|is|are) )*(?:(?:exactly|just|the) )*(?:same|as|like|rep(?:eat)?)\b"
    r"|(?:rep(?:eat)?|(?:work|do|knit) (?:exactly )?the same)(?: this| these| it| both)?"
    r" (?:on|for|over|with|across) needles? (?P<b>\d))"
)


def _as_lines_before(scribe: Scribe, said: MappedText) -> MappedText:
    """Put in what was told of needles on lines of their own: "Needle 3: same as needle 1"."""
    match = _AS_LINES_BEFORE.match(said.text)
    told = [
        f"needles {needles}: {words}; "
        for (number, needles), words in sorted(scribe.context.told_by_needle.items())
        if number == ON_LINES
    ]
    if match is None or (match["b"] and not told):
        return said
    before = MappedText.of(f"Round 1: {''.join(told)}")
    before = MappedText(before.text, (said.at[0],) * len(before.at))
    whole = with_needles_ahead(before.and_then(said))
    begins = re.search(rf"(?<=; )needles? {match['a'] or match['b']}\b.*", whole.text)
    if begins is None or _AS_LINES_BEFORE.match(begins[0]):
        raise Lost("needles that are worked as others were, which were not read")
    return whole.piece(begins.start(), len(whole.text))


ON_LINES = 0  # the number of a round whose needles stand on lines of their own


def with_needles(scribe: Scribe, said: MappedText) -> MappedText:
    """Put in what "needle 3: as needle 1" and "needles 1 and 2: as round 1" stand for."""
    told = scribe.context.told_by_needle
    label = label_of(said.text)
    if label is not None and label.numbers[:1] == (1,):
        told.clear()
    said = _to_its_end(scribe, said)
    if _MAY.search(said.text) is None:
        return said

    def by_needle(match: re.Match[str]) -> str:
        other = re.search(rf"{match['other']}: ([^.;]*)[.;]", said.text, re.IGNORECASE)
        return match["name"] + other[1] if other else match[0]

    def by_round(match: re.Match[str]) -> str:
        number = int(match["n"] or match["nth"])
        words = told.get((number, match["needles"]))
        row = scribe.context.row(number)
        if words is None and row is not None and row.items == (KNIT,):
            words = "knit"
        return f"{match['name']}{words}" if words else match[0]

    said = _as_lines_before(scribe, said.sub(_AS_NEEDLE, by_needle).sub(_AS_ROUND, by_round))
    for number in (label.numbers if label else ()) or (ON_LINES,):
        for part in _TOLD.finditer(said.text):
            if part["needles"] == "1" and number == ON_LINES:
                for one in [one for one in told if one[0] == ON_LINES]:
                    del told[one]  # another round
            told[number, part["needles"]] = part["what"]
    return said


_TO_ITS_END = WordForm(  # "k1, ssk, k to end of needle 1; k to last 3 sts, k2tog, k1"
    r"\bto (?:the )?end of (?:(?:needle|n) ?(?P<n>[1-4])\b"
    r"|(?:the )?(?P<nth>first|second|third) needle\b)(?! ?:)"
)
_BY_NEEDLES = WordForm(r"\b(?:needles?|n) ?\d(?: (?:and|&) \d)?:|\bon (?:each|both|the|needle)\b")


def _to_its_end(scribe: Scribe, said: MappedText) -> MappedText:
    """Return how far a needle is worked as told from the end of the round."""
    if not _TO_ITS_END.search(said.text) or _BY_NEEDLES.search(said.text):
        return said
    live = scribe.now()
    if not live.sure:
        return said

    def far(match: re.Match[str]) -> str:
        number = match["n"] or str(1 + _ORDER.index(match["nth"].lower()))
        if any(f"needle {number}" not in tally.parts for tally in live.tallies):
            return match[0]
        behind = _behind(scribe, f"needle {number}")
        return f"to last {sized(behind)} sts" if all(behind) else match[0]

    return said.sub(_TO_ITS_END, far)


_ORDER = ("first", "second", "third")


def across_needles(scribe: Scribe, step: st.Round | st.Row) -> st.Round | st.Row:
    """Work ``needles 1 and 2: k2, *p2, k2; rep from * to end`` across both, if it fits only so."""
    items = [item for item in step.items if isinstance(item, On)]
    names = [name for item in items for name in item.parts]
    if len(items) < len(step.items) or not any(len(item.parts) > 1 for item in items):
        return step
    live = scribe.now()
    if not live.is_whole_round or names != list(live.tallies[0].parts):
        return step
    found: list[Item] = []
    is_across = False
    for item in items:
        each = [(name, name) for name in item.parts]
        if len(each) > 1 and not _works(scribe, item, each):
            each = [(item.parts[0], item.parts[-1])]
            if not _works(scribe, item, each):
                return step
            is_across = True
        found += [one for _, last in each for one in _up_to(scribe, item.items, last)]
    return attrs.evolve(step, items=tuple(found)) if is_across else step


def _works(scribe: Scribe, item: On, each: Sequence[tuple[str, str]]) -> bool:
    """Tell whether items can be worked on such stretches, all other needles knitted."""
    live = scribe.now()
    before = _behind(scribe, item.parts[0], before=True)
    start = sized([a - b for a, b in zip(as_many(live.ahead, live.ahead), before, strict=True)])
    row = [one for _, last in each for one in _up_to(scribe, item.items, last)]
    whole = st.Round((*([Run("k", start)] if start != 0 else []), *row, KNIT))
    if not any(_behind(scribe, item.parts[-1])):
        whole = attrs.evolve(whole, items=whole.items[:-1])
    return not any(live.trial((whole,), size).troubles for size in range(len(live.tallies)))


def _behind(scribe: Scribe, needle: str, *, before: bool = False) -> list[int]:
    """Return how many stitches lie behind a needle, in each size; or behind the one before it."""
    tallies = scribe.now().tallies
    number = tallies[0].parts.index(needle) - before
    if number < 0:
        return [tally.ahead for tally in tallies]
    return [tally.ahead_at.get((NEEDLE, number), 0) for tally in tallies]


def _up_to(scribe: Scribe, items: Sequence[Item], needle: str) -> tuple[Item, ...]:
    """Return items with their end at that of a needle, told from the end of the round."""
    behind = sized(_behind(scribe, needle))

    def moved(thing: object) -> object:
        if isinstance(thing, To) and thing.where is Where.END:
            return attrs.evolve(thing, before=_sum(thing.before, behind))
        return thing

    return tuple(rewritten(item, moved) for item in items) if behind != 0 else tuple(items)


def _sum(one: Count, more: Count) -> Count:
    pairs = zip(as_many(one, more), as_many(more, one), strict=True)
    return sized([a + b for a, b in pairs])


_NTH = r"(?:first|second|third|fourth|\d(?:st|nd|rd|th))"
_OF_NEEDLE = WordForm(
    r"(?:(?:step )?\d{1,2}[.):] )?\W*"
    r"(?:(?:on|with) )?(?:the )?(?:needles? ?\d(?: ?(?:and|,|-|to) ?\d)?"
    rf"|n ?\d(?: ?(?:and|,|-) ?n ?\d)?|{_NTH}(?: and {_NTH})? needles?)\b",
)


def count_of_own_needle(scribe: Scribe, text: str, before: int) -> None:
    """Forget the count of "needle 1: k8, pick up 13 sts. 21 sts" where it is the needle's alone.

    ``before`` is how many steps there were before the line. A gusset is picked up needle by needle,
    and each line may tell what lies on its own needle, as it may tell the stitches of all.
    """
    entries = scribe.assembler.entries
    last = next((one for one in reversed(entries[before:]) if one.step.count is not None), None)
    if last is None or last.step.count is None or not _OF_NEEDLE.match(text):
        return
    own = _worked_alone([entry.step for entry in entries], before)
    there = sized([tally.count for tally in scribe.now().tallies])
    stated = as_many(last.step.count, there)
    if own is not None and as_many(own, there) == stated != as_many(there, there):
        last.step = attrs.evolve(last.step, count=None)


def _worked_alone(steps: Sequence[st.Step], before: int) -> Count | None:
    """Return how many stitches are worked from a step on, None where it is not told in numbers."""
    held = {step.name: step.stitches for step in steps[:before] if isinstance(step, st.Hold)}
    many: Count = 0
    back: Count = 0
    for step in steps[before:]:
        if isinstance(step, st.ReturnHeld):
            back = _both(back, held.get(step.name, 0))
        elif isinstance(step, st.Part):
            for item in step.items:
                amount = getattr(item, "amount", None)
                if amount == To() and back != 0:
                    amount, back = back, 0
                if not isinstance(item, Run | PickUp) or not isinstance(amount, int | Sized):
                    return None
                many = _both(many, amount)
        elif not isinstance(step, st.Join | st.BeginHere | st.Note):
            return None
    return many


def _both(one: Count, other: Count) -> Count:
    """Return two numbers of stitches, by size where they are, added up."""
    like = max(one, other, key=lambda many: len(values_of(many)))
    both = zip(as_many(one, like), as_many(other, like), strict=True)
    return sized([int(a) + int(b) for a, b in both])


def arrange_as_before(scribe: Scribe, items: Sequence[Item]) -> None:
    """Share stitches out once more as they were before a heel was worked on some of the needles.

    Set aside and taken back, the stitches lie on one needle; a round that names the needles again
    means those that were arranged, where there are as many stitches as then.
    """
    if len(items) < 2 or not all(isinstance(item, On) for item in items):
        return
    live = scribe.now()
    if not live.is_whole_round or not live.sure:
        return
    lost = [
        sum(key[0] == NEEDLE for key in tally.ahead_at) < len(tally.parts) - 1
        for tally in live.tallies
    ]
    steps = (entry.step for entry in reversed(scribe.assembler.entries))
    before = next((step for step in steps if isinstance(step, st.Arrange)), None)
    if before is None or not any(lost):
        return
    if any(tuple(name for name, _ in before.parts) != tally.parts for tally in live.tallies):
        return
    whole = as_many(live.count, live.count)
    each = zip(*(as_many(many, live.count) for _, many in before.parts), strict=True)
    if all(sum(map(int, one)) == int(there) for one, there in zip(each, whole, strict=True)):
        scribe.assembler.add_plain(st.Arrange(before.parts, at=scribe.place))
