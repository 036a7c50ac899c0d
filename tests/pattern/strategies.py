"""Random patterns: any structure that the steps allow, whether or not it could be knitted."""

from __future__ import annotations

from functools import cache

from hypothesis import strategies as s

from loopwright.fabric.stitches import STITCHES
from loopwright.making import BIND_OFFS, CAST_ONS, GRAFTS, Hand
from loopwright.pattern import steps as st
from loopwright.pattern._contents import simplified
from loopwright.pattern.items import (
    Item,
    Lift,
    Mark,
    On,
    PickUp,
    Repeat,
    Run,
    Stay,
    Turn,
    WrapTurn,
)
from loopwright.pattern.program import GaugeLine, Pattern
from loopwright.pattern.values import (
    Count,
    Sized,
    SizedLength,
    To,
    UntilCount,
    UntilMeasures,
    UntilWorked,
    Where,
)

ORIGINS = {"co", "cc", "lift", "wrap", "pu", "bo", "graft"}
KEYS = [row.key for row in STITCHES if row.key not in ORIGINS]
NAMES = s.sampled_from(["instep", "heel", "left flap edge", "A", "B2", "cuff-to-toe", "sole 2"])
WORDS = s.sampled_from(
    ["Leg", "Heel flap", "work 3 sts then stop", "Mind the gap: k2, p2; rep.", "On, on,", "# 2;"]
)


@cache
def counts(sizes: int, low: int = 0) -> s.SearchStrategy[Count]:
    number = s.integers(low, low + 3) | s.integers(low, 999)
    if sizes == 1:
        return number
    many = s.tuples(*[number] * sizes).map(Sized)
    return number | many


@cache
def lengths(sizes: int) -> s.SearchStrategy[SizedLength]:
    number = s.integers(1, 500) | s.integers(1, 5000).map(lambda tenths: tenths / 10)
    amount = number if sizes == 1 else number | s.tuples(*[number] * sizes).map(Sized)
    return s.builds(SizedLength, amount, s.sampled_from(["mm", "cm", "in"]))


@cache
def places(sizes: int) -> s.SearchStrategy[To]:
    return (
        s.builds(To, s.just(Where.END), counts(sizes))
        | s.builds(To, s.just(Where.GAP), counts(sizes))
        | s.builds(To, s.just(Where.MARKER), counts(sizes), s.sampled_from(["", "A", "heel"]))
    )


@cache
def inner_items(sizes: int) -> s.SearchStrategy[Item]:
    runs = s.builds(Run, s.sampled_from(KEYS), counts(sizes) | places(sizes), s.booleans())
    single = (
        runs
        | s.builds(Mark, s.sampled_from(["place", "slip", "remove"]), s.sampled_from(["", "A"]))
        | s.builds(PickUp, counts(sizes), NAMES, s.booleans())
        | s.builds(
            Lift,
            s.sampled_from(["k2tog", "ssk"]),
            s.sampled_from(["across", "beside"]),
            beyond=s.booleans(),
        )
    )
    return s.recursive(
        single,
        lambda inner: s.builds(
            Repeat, s.lists(inner, min_size=1, max_size=3), counts(sizes) | places(sizes)
        ),
        max_leaves=6,
    )


@cache
def bodies(sizes: int) -> s.SearchStrategy[list[Item]]:
    """Items of a row or round: some, or some on each needle."""
    some = s.lists(inner_items(sizes), min_size=1, max_size=5)
    parts = s.sampled_from([(), ("needle 1",), ("needle 2", "needle 3"), ("instep",)])
    on: s.SearchStrategy[list[Item]] = s.lists(s.builds(On, parts, some), min_size=1, max_size=3)
    return some | on


@cache
def rounds(sizes: int, kind: str) -> s.SearchStrategy[st.Step]:
    stated = s.none() | counts(sizes)
    if kind == "round":
        return s.builds(st.Round, bodies(sizes), count=stated)
    ends: s.SearchStrategy[list[Item]] = s.sampled_from([[], [Turn()], [WrapTurn()], [Stay()]])
    some = s.lists(inner_items(sizes), min_size=1, max_size=4)
    items = s.tuples(some, ends).map(lambda pair: [*pair[0], *pair[1]])
    return s.builds(st.Row, items, side=s.sampled_from([None, "RS", "WS"]), count=stated)


@s.composite
def repeats(draw: s.DrawFn, sizes: int) -> st.RepeatRounds:
    kind = draw(s.sampled_from(["round", "row"]))
    body: list[st.Step] = draw(s.lists(rounds(sizes, kind), min_size=1, max_size=3))
    if len(body) > 1 and draw(s.booleans()):
        place = draw(s.integers(0, len(body) - 1))
        body[place] = st.RepeatRounds((body[place],), draw(counts(sizes, int(place == 0))))
    until = (
        s.builds(UntilCount, counts(sizes), s.booleans())
        | s.builds(UntilMeasures, lengths(sizes), s.sampled_from(["here", "cast-on"]))
        | s.just(UntilWorked())
    )
    ending = draw(s.integers(0, max(0, len(body) - 1)))
    every = draw(s.sampled_from([1, 1, 2, 4])) if len(body) == 1 else 1
    times = draw(counts(sizes) | until)
    return st.RepeatRounds(
        body, times, every=every, ending=ending, count=draw(s.none() | counts(sizes))
    )


@cache
def other_steps(sizes: int) -> s.SearchStrategy[st.Step]:
    number, stated = counts(sizes), s.none() | counts(sizes)
    named = s.sampled_from([("instep", "sole"), ("heel", "front", "back")])
    parts = named.flatmap(
        lambda names: s.tuples(*[s.tuples(s.just(name), number) for name in names])
    ) | s.lists(number, min_size=1, max_size=4)
    return s.one_of(
        s.builds(st.Section, WORDS),
        s.builds(st.Note, WORDS, s.booleans()),
        s.builds(st.Note, s.just("Lift {} of {} strands."), numbers=s.tuples(number, number)),
        s.builds(st.CastOn, number, s.sampled_from(CAST_ONS), count=stated),
        s.builds(st.ClosedCastOn, number),
        s.builds(st.ProvisionalCastOn, number, NAMES, count=stated),
        s.sampled_from([st.Join(), st.InRows(), st.BeginHere(), st.DrawUp(), st.WeaveIn()]),
        s.sampled_from([st.ThreeNeedleBindOff(), st.CutYarn(), st.CutYarn("B2")]),
        s.builds(st.Arrange, parts, count=stated),
        s.builds(st.Part, bodies(sizes), count=stated).filter(lambda part: not _continues(part)),
        s.builds(st.Hold, number, NAMES, s.sampled_from(["holder", "waste yarn"])),
        s.builds(st.ReturnHeld, NAMES, s.booleans(), count=stated),
        s.builds(st.WasteRow, number, NAMES),
        s.builds(st.TakeOut, NAMES),
        s.builds(st.Recapture, NAMES, s.sampled_from(["first", "last"]), count=stated),
        s.builds(st.Graft, s.sampled_from(GRAFTS)),
        s.builds(st.BindOff, s.none() | number, s.sampled_from(BIND_OFFS), count=stated),
        s.builds(st.UseYarn, NAMES, s.booleans()),
        s.builds(st.UseYarn, NAMES, held=s.just(True)),
    )


def _continues(part: st.Part) -> bool:
    """A part that begins on a needle goes on with the round before, as knitters read it."""
    return isinstance(part.items[0], On)


@s.composite
def patterns(draw: s.DrawFn) -> Pattern:
    sizes = draw(s.integers(1, 3))
    step = rounds(sizes, "round") | rounds(sizes, "row") | repeats(sizes) | other_steps(sizes)
    some: list[st.Step] = draw(s.lists(step, max_size=6))
    names = ["S", "M", "2X L"][:sizes]
    if sizes > 1 and draw(s.booleans()):
        note = st.Note("It curls, as k2tog does.", caution=draw(s.booleans()))
        inside = draw(rounds(sizes, "round") | s.sampled_from([st.WeaveIn(), note]))
        some.append(st.OnlySizes(names[:2], inside))
    if all(isinstance(one, st.Note | st.Section | st.OnlySizes) for one in simplified(some)):
        some.append(st.WeaveIn())  # without an instruction it could not be read back
    gauge = draw(
        s.none()
        | s.builds(
            GaugeLine,
            s.integers(1, 99) | s.just(30.5),
            s.integers(1, 99),
            s.sampled_from([SizedLength(10, "cm"), SizedLength(4, "in")]),
            s.sampled_from(["", "stocking stitch"]),
        )
    )
    return Pattern(
        draw(s.sampled_from(["", "A sock", "Sock no. 2: plain", "Socks, for two,"])),
        some,
        sizes=names if sizes > 1 else draw(s.sampled_from([(), ("M",)])),
        gauge=gauge,
        materials=draw(
            s.sampled_from([(), ("Yarn: 100 g", "5 needles;", "Scissors: one pair,", "Note: none")])
        ),
        hand=draw(s.sampled_from(Hand)),
        abbreviations=draw(s.sampled_from([(), (("k", "knit"), ("w&t", "wrap and turn"))])),
    )
