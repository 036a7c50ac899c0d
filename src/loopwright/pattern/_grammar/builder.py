"""Builds steps while lark reduces a sentence: one method for each form of the grammar."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, TypeAlias

import attrs
from lark import Token

from loopwright.fabric.stitches import StitchTable
from loopwright.making import CAST_ONS, GRAFTS
from loopwright.pattern import steps as st
from loopwright.pattern._grammar.numerals import (
    column_of,
    entries_in,
    in_brackets,
    number_in,
    one_of,
    refused,
    whole,
)
from loopwright.pattern._grammar.said import Again, Header, Numbered, Remark
from loopwright.pattern._grammar.yarn_rules import YarnRules
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._words import figure, lower, stitch_word
from loopwright.pattern.items import (
    LIFTED,
    Item,
    Lift,
    Mark,
    On,
    PickUp,
    Repeat,
    Run,
    Stay,
    Turn,
    With,
    WrapTurn,
)
from loopwright.pattern.values import (
    Count,
    Sized,
    SizedLength,
    To,
    UntilCount,
    UntilMeasures,
    UntilWorked,
    Where,
    plus,
)

__all__ = ["Builder"]

Until: TypeAlias = UntilCount | UntilMeasures | UntilWorked


@attrs.frozen
class _Times:
    value: int | Sized
    more: bool = False
    vague: bool = False
    total: int | Sized | None = None


def _of(children: Iterable[Any], *kinds: str) -> list[Token]:
    return [child for child in children if isinstance(child, Token) and child.type in kinds]


def _things(children: Iterable[Any]) -> list[Any]:
    return [child for child in children if not isinstance(child, Token)]


def _first(children: Iterable[Any], kind: str, default: str = "") -> str:
    return next((str(token) for token in _of(children, kind)), default)


_SLIPS = {
    (False, False): "sl",
    (True, False): "slk",
    (False, True): "slf",
    (True, True): "slkf",
}  # (knitwise, yarn in front)
_UNSURE = WordForm(r"c3[fb]|t\d{1,2}[fb]", re.NOFLAG)
_THROUGH_BACK = {"k": "ktbl", "p": "ptbl", "k2tog": "ssk", "p2tog": "ssp", "k3tog": "sssk"}


class Builder(YarnRules):
    """Called back by lark's parser; one instance serves one sentence at a time."""

    def __init__(self, table: StitchTable) -> None:
        super().__init__()
        self.table = table
        self.remarks: list[Remark] = []
        self.bare: set[int] = set()  # columns of "k" and "p" without a number

    def remark(self, kind: str, text: str, token: Token) -> None:
        self.remarks.append(Remark(kind, text, (token.start_pos or 0) + 1))

    # values

    def value(self, children: list[Token]) -> int | float:
        return number_in(children[0], str(children[0]))

    def sized_value(self, children: list[Token]) -> Sized:
        parts = [str(children[0]), *entries_in(str(children[1]))]
        return Sized(tuple(number_in(children[0], part) for part in parts))

    def length(self, children: list[Any]) -> SizedLength:
        unit = lower(str(children[1]))
        short = "mm" if unit.startswith("m") else "cm" if unit.startswith("c") else "in"
        return SizedLength(children[0], short)

    # places

    def to_end(self, _: list[Any]) -> To:
        return To()

    def to_last(self, children: list[Any]) -> To:
        return To(before=next(iter(_things(children)), 1))

    def to_mark(self, children: list[Any]) -> To:
        return To(Where.MARKER, name=_marker_name(children[-1]))

    def to_before_mark(self, children: list[Any]) -> To:
        return To(Where.MARKER, _things(children)[0], _marker_name(children[-1]))

    def to_gap(self, _: list[Any]) -> To:
        return To(Where.GAP)

    def to_before_gap(self, children: list[Any]) -> To:
        return To(Where.GAP, _things(children)[0])

    # times

    def exactly(self, children: list[Any]) -> _Times:
        return _Times(_things(children)[0])

    def exactly_word(self, children: list[Any]) -> _Times:
        return _Times(2 if lower(children[0]) == "twice" else 1)

    def vaguely(self, children: list[Any]) -> _Times:
        return _Times(_things(children)[0], more=True, vague=True)

    def vaguely_word(self, children: list[Any]) -> _Times:
        if lower(children[0]) == "once":  # "rep from * once" is once more
            return _Times(1, more=True)
        return _Times(2, more=True, vague=True)

    def more(self, children: list[Any]) -> _Times:
        return _Times(_things(children)[0], more=True)

    def more_word(self, children: list[Any]) -> _Times:
        return self._totalled(2 if lower(children[0]) == "twice" else 1, children)

    def more_total(self, children: list[Any]) -> _Times:
        return self._totalled(_things(children)[0], children)

    def _totalled(self, value: int | Sized, children: list[Any]) -> _Times:
        token = next(iter(_of(children, "TOTAL")), None)
        if token is None:
            return _Times(value, more=True)
        total = in_brackets(token)
        if total != plus(value, 1):
            raise refused(token, f"{value} times more are {plus(value, 1)} in all, not {total}")
        return _Times(value, more=True)

    # items

    def _run(self, token: Token, amount: Any, manners: list[Token]) -> Run:
        found = stitch_word(lower(token), self.table)
        assert found is not None
        key = found[0]
        if not isinstance(amount, To):
            whole(token, amount)
        if lower(token) in ("m1", "inc"):
            self.remark("open choice", f"{token} does not say which increase; read as {key}", token)
        key = self._key(token, key, manners)
        if lower(token) != key and _UNSURE.fullmatch(lower(token)):
            word = f"{token} does not say how many lie over how many"
            self.remark("open choice", f"{word}; read as {key.upper()}", token)
        with_wraps = any(manner.type == "WRAPS" for manner in manners)
        return Run(key, amount, with_wraps, column=column_of(token))

    def _key(self, token: Token, key: str, manners: list[Token]) -> str:
        kinds = {manner.type for manner in manners}
        if key in ("sl", "slf", "slk", "slkf"):
            if not kinds & {"KWISE", "PWISE"}:
                self.remark("slip", f"{token} does not say kwise or pwise; read as pwise", token)
            return _SLIPS["KWISE" in kinds or key[2:3] == "k", "WYIF" in kinds or key[-1] == "f"]
        if kinds & {"KWISE", "PWISE", "WYIB", "WYIF"}:
            raise refused(token, f"only slipped stitches are worked so, not {str(token)!r}")
        if "TBL" in kinds:
            if key not in _THROUGH_BACK:
                raise refused(token, f"{str(token)!r} can't be worked through the back loop here")
            if key not in ("k", "p"):
                self.remark(
                    "open choice", f"{token} tbl is read as {_THROUGH_BACK[key]}, untwisted", token
                )
            return _THROUGH_BACK[key]
        return key

    def run_bare(self, children: list[Any]) -> Run:
        token = children[0]
        word = lower(token)
        amount: Any = To() if word in ("knit", "purl") else 1
        if word in ("k", "p"):
            self.bare.add(column_of(token))
        return self._run(token, amount, children[1:])

    def run_count(self, children: list[Any]) -> Run:
        amount = _things(children)[0]
        return self._run(children[0], amount, _of(children, *_MANNERS))

    def run_next(self, children: list[Any]) -> Run:
        amount = next(iter(_things(children)), 1)
        return self._run(children[0], amount, _of(children, *_MANNERS))

    def run_twice(self, children: list[Any]) -> Run:
        times = 2 if lower(children[1]) == "twice" else 1
        return self._run(children[0], times, _of(children, *_MANNERS))

    def run_to(self, children: list[Any]) -> Run:
        return self._run(children[0], children[1], _of(children, *_MANNERS))

    def manner(self, children: list[Token]) -> Token:
        return children[0]

    def entries_of(self, children: list[Any]) -> tuple[Any, ...]:
        found: list[Any] = []
        for child in _things(children):
            found.extend(child if isinstance(child, tuple | list) else (child,))
        return tuple(found)

    def star(self, children: list[Any]) -> Repeat:
        items, amount = _things(children)
        return self._repeat(children[0], items, amount)

    bracket = star

    def _repeat(self, token: Token, items: tuple[Item, ...], amount: To | _Times) -> Repeat:
        if isinstance(amount, To):
            return Repeat(items, amount, column=column_of(token))
        whole(token, amount.value)
        times = plus(amount.value, 1) if amount.more else amount.value
        if amount.vague:
            self.remark(
                "repeat", f"'repeat {amount.value} times': {amount.value} or {times} in all?", token
            )
        return Repeat(items, times, vague=amount.vague, column=column_of(token))

    def mark(self, children: list[Token]) -> Mark:
        words = str(children[0]).split()
        doing = {"p": "place", "s": "slip", "r": "remove"}[lower(words[0])[0]]
        first = 1 if lower(words[0]) in ("pm", "sm", "rm") else 2
        return Mark(doing, "".join(words[first:]), column=column_of(children[0]))

    def turn(self, children: list[Token]) -> Turn:
        return Turn(column=column_of(children[0]))

    def wrap_turn(self, children: list[Token]) -> WrapTurn:
        return WrapTurn(column=column_of(children[0]))

    def stay(self, children: list[Token]) -> Stay:
        return Stay(column=column_of(children[0]))

    def pick_up(self, children: list[Any]) -> PickUp:
        along = " ".join(_first(children, "ALONG").split())
        amount = whole(children[0], _things(children)[0])
        twisted = bool(_of(children, "TBL"))
        return PickUp(amount, along, twisted, column=column_of(children[0]))

    def lift(self, children: list[Token]) -> Lift:
        found = stitch_word(lower(children[1]), self.table)
        if found is None or found[0] not in LIFTED:
            raise refused(children[1], f"a lifted strand is worked with {' or '.join(LIFTED)}")
        beyond, column = bool(_of(children, "WITH_LAST")), column_of(children[0])
        if beyond and found[0] == "m1l":
            raise refused(children[1], "a strand worked alone needs no last stitch")
        return Lift(found[0], lower(children[0]), beyond=beyond, column=column)

    # parts of a round

    def word_part(self, children: list[Token]) -> tuple[Token, tuple[str, ...]]:
        return children[0], (lower(children[0]),)

    def needle_part(self, children: list[Any]) -> tuple[Token, tuple[str, ...]]:
        return children[0], tuple(f"needle {number}" for number in children[1])

    def each_part(self, children: list[Token]) -> tuple[Token, tuple[str, ...]]:
        return children[0], ()

    def headed(self, children: list[Any]) -> tuple[tuple[str, ...], Token, Item]:
        token, parts = children[0]
        return parts, token, children[2]

    def body(self, children: list[Any]) -> tuple[Item, ...]:
        """Group what follows the name of a part, up to the next name."""
        found: list[Any] = []
        entries = (
            one for child in _things(children)
            for one in (child if isinstance(child, list) else (child,))
        )  # fmt: skip
        for child in entries:
            if isinstance(child, tuple):
                parts, token, item = child
                found.append((parts, token, item if isinstance(item, list) else [item]))
            elif found and isinstance(found[-1], tuple) and not isinstance(child, Stay):
                found[-1][2].append(child)
            else:
                found.append(child)
        if len(found) == 1 and not isinstance(found[0], tuple):
            found = [self._alone(found[0])]
        return tuple(
            On(entry[0], self._lone(entry[2]), column=column_of(entry[1]))
            if isinstance(entry, tuple)
            else entry
            for entry in found
        )

    def _lone(self, items: list[Item]) -> tuple[Item, ...]:
        return (self._alone(items[0]),) if len(items) == 1 else tuple(items)

    def _alone(self, item: Item) -> Item:
        """Read a "K" that stands alone as all there is to do; one stitch would be k1."""
        if isinstance(item, Run) and item.column in self.bare:
            return attrs.evolve(item, amount=To())
        return item

    # rows and rounds

    def course(self, children: list[Token]) -> Token:
        return children[0]

    def numbers(self, children: list[Token]) -> tuple[int, ...]:
        return (whole(children[0], number_in(children[0], children[0])),)

    def span(self, children: list[Token]) -> tuple[int, ...]:
        first, last = (
            whole(child, number_in(child, child)) for child in (children[0], children[2])
        )
        if last < first or last - first >= 10_000:
            raise refused(children[2], f"expected a number from {first} on, within 10000 rounds")
        return tuple(range(first, last + 1))

    def listed(self, children: list[Token]) -> tuple[int, ...]:
        return tuple(whole(c, number_in(c, c)) for c in _of(children, "NUM"))

    def numbered(self, children: list[Any]) -> dict[str, Any]:
        course, numbers = children[0], _things(children)[0]
        return {"course": course.type, "numbers": numbers, "side": _first(children, "SIDE")}

    def next_one(self, children: list[Any]) -> dict[str, Any]:
        course = _of(children, "RND", "ROW")[0]
        return {"course": course.type, "side": _first(children, "SIDE")}

    def next_some(self, children: list[Any]) -> dict[str, Any]:
        course = _of(children, "RND", "ROW")[0]
        return {"course": course.type, "times": whole(children[0], _things(children)[0])}

    def next_length(self, children: list[Any]) -> dict[str, Any]:
        return {"course": "RND", "times": UntilMeasures(_things(children)[0])}

    def until_length(self, children: list[Any]) -> dict[str, Any]:
        return {"course": "RND", "times": self.until_measures(children)}

    def labelled(self, children: list[Any]) -> Numbered:
        label, items = _things(children)
        return _numbered(items, **label)

    def plain_some(self, children: list[Any]) -> Numbered:
        run = self._run(children[0], To(), [])
        course = _of(children, "RND", "ROW")[0]
        return _numbered((run,), course.type, times=whole(course, children[1]))

    def plain_until(self, children: list[Any]) -> Numbered:
        run = self._run(children[0], To(), [])
        courses = _of(children[1:], "ROW", "EVERY_ONE")
        kind = "ROW" if any("row" in lower(token) for token in courses) else "RND"
        return _numbered((run,), kind, times=_things(children)[-1])

    def header(self, children: list[Any]) -> Header:
        rounds, *rest = _things(children)
        options = {"every": 1, "ending": 0}
        options.update(thing for thing in rest if isinstance(thing, tuple))
        times = next(thing for thing in rest if not isinstance(thing, tuple))
        if isinstance(times, _Times):
            times = whole(children[0], times.value)
        return Header(one_of(children[0], rounds), times, **options)

    def by_number(self, children: list[Any]) -> tuple[tuple[int, ...], int]:
        return children[1], 0

    def last_ones(self, children: list[Any]) -> tuple[tuple[int, ...], Count]:
        many = [thing for thing in _things(children) if isinstance(thing, int | float | Sized)]
        return (), whole(children[0], many[0]) if many else 1

    def every(self, children: list[Token]) -> tuple[str, int]:
        word = lower(children[0])
        return "every", 2 if word[0] in "oa" else figure(word[:-2])

    def ending(self, children: list[Token]) -> tuple[str, int]:
        return "ending", figure(str(children[-1]))

    def until_count(self, children: list[Any]) -> UntilCount:
        growing = not _of(children, "REMAIN")
        return UntilCount(whole(children[0], _things(children)[0]), growing)

    def until_measures(self, children: list[Any]) -> UntilMeasures:
        said = lower(_first(children, "MEASURES"))
        here = said.startswith(("section", "it")) and not _of(children, "FROM_CAST_ON")
        return UntilMeasures(_things(children)[0], "here" if here else "cast-on")

    def until_wanted(self, children: list[Any]) -> UntilMeasures:
        return UntilMeasures(next(iter(_things(children)), None), "wanted")

    def until_wished(self, children: list[Any]) -> dict[str, Any]:
        return {"course": "RND", "times": self.until_wanted(children)}

    def until_worked(self, _: list[Any]) -> UntilWorked:
        return UntilWorked()

    def for_length(self, children: list[Any]) -> UntilMeasures:
        return UntilMeasures(_things(children)[0], "here")

    def rep_rounds(self, children: list[Any]) -> Again:
        (numbers, last), *rest = _things(children)
        options = {"every": 1, "ending": 0}
        times: Any = None
        for thing in rest:
            if isinstance(thing, tuple):
                options[thing[0]] = thing[1]
            else:
                times = thing
        if isinstance(times, _Times):
            value = whole(children[0], times.value)
            said = plus(value, 1) if times.more else value
            if times.vague:
                self.remark(
                    "repeat", f"'repeat {value} times': {value} or {said} in all?", children[0]
                )
            return Again(numbers, last, said, times.more, vague=times.vague, **options)
        return Again(numbers, last, times, False, vague=False, **options)

    # all other steps

    def part(self, children: list[Any]) -> st.Part | st.UseYarn:
        items = children[0]
        if len(items) == 1 and isinstance(items[0], With):
            return st.UseYarn(items[0].yarn)
        return st.Part(items)

    def cast_on(self, children: list[Any]) -> st.CastOn:
        return st.CastOn(whole(children[0], _things(children)[0]), _method(children))

    cast_on_by = cast_on

    def closed_cast_on(self, children: list[Any]) -> st.ClosedCastOn:
        return st.ClosedCastOn(whole(children[0], _things(children)[0]))

    def provisional_cast_on(self, children: list[Any]) -> st.ProvisionalCastOn:
        value = whole(children[0], _things(children)[0])
        return st.ProvisionalCastOn(value, _waste(children))

    def join(self, _: list[Any]) -> st.Join:
        return st.Join()

    def in_rows(self, _: list[Any]) -> st.InRows:
        return st.InRows()

    def begin_here(self, _: list[Any]) -> st.BeginHere:
        return st.BeginHere()

    def arrange(self, children: list[Any]) -> st.Arrange:
        values = _things(children)
        said = _of(children, "NUM")
        if said and number_in(said[0], said[0]) != len(values):
            raise refused(said[0], f"{said[0]} needles are named and {len(values)} counts given")
        return st.Arrange(tuple(whole(children[0], value) for value in values))

    def arrange_named(self, children: list[Any]) -> st.Arrange:
        names = [lower(token) for token in _of(children, "PART")]
        values = [whole(children[0], value) for value in _things(children)]
        return st.Arrange(tuple(zip(names, values, strict=True)))

    def hold(self, children: list[Any]) -> st.Hold:
        value = whole(children[0], _things(children)[0])
        on = " ".join(lower(_first(children, "ON_HOLDER")).split())
        return st.Hold(value, _name(children), on)

    def return_held(self, children: list[Any]) -> st.ReturnHeld:
        return st.ReturnHeld(_name(children), bool(_of(children, "WORKED_NEXT")))

    def waste_row(self, children: list[Any]) -> st.WasteRow:
        found = stitch_word(lower(_of(children, "STITCH")[0]), self.table)
        if found is None or found[0] != "k":
            raise refused(_of(children, "STITCH")[0], "a waste row is knitted")
        return st.WasteRow(whole(children[0], _things(children)[0]), _waste(children))

    def take_out(self, children: list[Any]) -> st.TakeOut:
        return st.TakeOut(_waste(children))

    def recapture(self, children: list[Any]) -> st.Recapture:
        return st.Recapture(_waste(children), lower(_first(children, "CORNER", "first")))

    def graft(self, children: list[Any]) -> st.Graft:
        how = " ".join(lower(_first(children, "GRAFT_HOW", GRAFTS[0])).split())
        return st.Graft(how)

    def three_needle(self, _: list[Any]) -> st.ThreeNeedleBindOff:
        return st.ThreeNeedleBindOff()

    def bind_off_all(self, children: list[Any]) -> st.BindOff:
        return st.BindOff(None, self._bind_off_how(children))

    def bind_off_some(self, children: list[Any]) -> st.BindOff:
        value = whole(children[0], _things(children)[0])
        return st.BindOff(value, self._bind_off_how(children))

    def _bind_off_how(self, children: list[Any]) -> str:
        for token in _of(children, "STRETCHY"):
            if lower(token) != "loosely":
                return "stretchy"
            self.remark("open choice", "'loosely' names no method; read as a plain one", token)
        return "plain"

    def draw_up(self, _: list[Any]) -> st.DrawUp:
        return st.DrawUp()

    def weave_in(self, _: list[Any]) -> st.WeaveIn:
        return st.WeaveIn()

    def count(self, children: list[Token]) -> tuple[str, int | Sized]:
        return "count", in_brackets(children[0])

    def start(self, children: list[Any]) -> tuple[Any, int | Sized | None]:
        says, *rest = _things(children)
        return says, rest[0][1] if rest else None


_MANNERS = ("TBL", "KWISE", "PWISE", "WYIB", "WYIF", "WRAPS")


def _numbered(
    items: tuple[Item, ...],
    course: str,
    *,
    numbers: tuple[int, ...] = (),
    side: str = "",
    times: st.Times | None = None,
) -> Numbered:
    if course == "RND":
        return Numbered(st.Round(items), numbers, times)
    return Numbered(st.Row(items, side=_side(side)), numbers, times)


def _side(text: str) -> st.Side | None:
    word = lower(text).strip("() ")
    return None if not word else st.Side.RS if word[0] == "r" else st.Side.WS


def _marker_name(token: Token) -> str:
    text = str(token)
    return "" if lower(text) in ("marker", "m") else text


def _method(children: Iterable[Any]) -> str:
    word = lower(_first(children, "METHOD"))
    for way in CAST_ONS:
        if way.split("-")[0].split()[0] in word:
            return way
    return CAST_ONS[0]


def _name(children: Iterable[Any]) -> str:
    return " ".join(_first(children, "NAMED").split())


def _waste(children: Iterable[Any]) -> str:
    return _name(children) or st.WASTE
