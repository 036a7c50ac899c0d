"""What sentences refer to: the pattern in work, rows by their numbers and names, where it goes."""

from __future__ import annotations

import re

import attrs

from loopwright.pattern import steps as st
from loopwright.pattern._reading.marked_parts import Span
from loopwright.pattern.items import Item, Run, items_in
from loopwright.pattern.values import Count

__all__ = ["Context", "is_titled"]


WIDEST = 4  # stitches of a rib; a panel has more


@attrs.define
class Context:
    """What sentences refer to."""

    ground: tuple[Item, ...] | None = None  # the pattern in work, one round of it
    ground_name: str = "stockinette"
    named: dict[str, st.Round | st.Row] = attrs.field(factory=dict)
    every: st.Round | st.Row | None = None  # "all rows: …", where no row was told since
    defined: tuple[st.Round | st.Row, int] | None = (
        None  # a row that is only told, after how many steps
    )
    labels: dict[str, int] = attrs.field(factory=dict)  # line of the first row of each name
    told_again: set[int] = attrs.field(factory=set)  # lines that repeat whole sections
    rows: dict[int, st.Round | st.Row] = attrs.field(factory=dict)  # of this section, by number
    sections: dict[str, tuple[dict[int, st.Round | st.Row], int]] = attrs.field(factory=dict)
    patterns: dict[str, dict[int, st.Round | st.Row]] = attrs.field(factory=dict)
    steps: dict[int, tuple[int, int]] = attrs.field(factory=dict)  # lines of "12. Knit on"
    parts: tuple[Span, ...] = ()  # of the text, between marks that it calls
    told_by_needle: dict[tuple[int, str], str] = attrs.field(factory=dict)  # of rounds, as said
    section: str = ""
    last: int = 0  # number of the row read last
    alternate: tuple[int, tuple[Item, ...]] | None = None  # parity and items of "every alt round"
    others_plain: bool = False  # whether rounds that have no number of their own are plain
    alternate_at: int = -1  # how many steps there were when that was told
    course: str = ""  # RND or ROW, as was read last
    aside: bool = False  # whether a flat piece was left on a holder, and another begins
    unparted: bool = False  # whether heel rows came in a round, while all was in our words
    began: int = 0  # which entry the row of number 1 became
    places: dict[str, int] = attrs.field(factory=dict)  # "instep" and the needle that holds it
    joined: tuple[str, ...] = ()  # sizes that work rows which the others join later
    first_rows: dict[str, int] = attrs.field(factory=dict)  # with which row a size begins
    ahead: tuple[str, ...] = ()  # sizes that worked the last lines alone
    gone_to: str = ""  # the mark at which sizes that have left join again: "Child: go to ** below"
    resting: int = 0  # the needle whose stitches wait while the heel is worked, where that was told
    halves: tuple[Count, ...] = ()  # stitches of both places, as they were told
    heel: Count | None = None  # stitches of a heel that is told before it is parted
    told: Count | None = None  # stitches of a heel that a title tells
    told_at: int = 0  # how many steps there were then
    titled_at: int | None = None  # how many there were where a line said "heel" alone
    alike: bool = False  # whether rounds are told for one half, and both are worked alike
    across: tuple[Count, Count] | None = None  # heel, and instep that was knitted behind it
    hung: tuple[tuple[int, ...], tuple[int, ...]] | None = None  # stitches beyond two markers
    thumb: tuple[tuple[int, ...], tuple[int, ...]] | None = None  # before the thumb's, and its own

    def kept(self) -> Context:
        """Return a copy of what is known now, for `back_to`."""
        return attrs.evolve(self, **{name: getattr(self, name).copy() for name in _GROWING})

    def back_to(self, kept: Context) -> None:
        """Forget what was learned since."""
        for field in attrs.fields(Context):
            known = getattr(kept, field.name)
            setattr(self, field.name, known.copy() if field.name in _GROWING else known)

    def forget_rows(self) -> None:
        """Forget the rows of this section: others with the same numbers follow."""
        self.rows, self.last, self.alternate, self.alike = {}, 0, None, False
        self.first_rows, self.joined, self.ahead = {}, (), ()
        self.gone_to, self.others_plain = "", False

    def name_step(self, number: int, before: st.Round | st.Row | None) -> None:
        """Remember the row of a numbered step of the text, if one was read since `before`."""
        last = self.named.get("last")
        if last is not None and last is not before:
            self.named[f"step {number}"] = last

    def row(self, number: int, of: str = "") -> st.Round | st.Row | None:
        """Return a row by its number: of this section, of another, of a stitch pattern."""
        if of:
            for name, rows in (
                *self.patterns.items(),
                (self.section, self.rows),
                *((n, r) for n, (r, _) in self.sections.items()),
            ):
                if name and (of in name or name in of or is_titled(name, of)) and number in rows:
                    return rows[number]
            return self._rib(number) if of in ("rib", "ribbing") else None
        found = self.rows.get(number)
        if found is None:
            for rows, _ in reversed(list(self.sections.values())):
                if number in rows:
                    return rows[number]
        return found

    def _rib(self, number: int) -> st.Round | st.Row | None:
        """Return the rib row of a number that was told last, whatever its section is called."""
        for rows in (self.rows, *(rows for rows, _ in reversed(list(self.sections.values())))):
            items = items_in(rows[number].items) if number in rows else ()
            runs = [one for one in items if isinstance(one, Run)]
            wide = any(isinstance(one.amount, int) and one.amount > WIDEST for one in runs)
            if {one.stitch for one in runs} == {"k", "p"} and not wide:
                return rows[number]
        return None

    def side_of(self, number: int) -> str:
        """Return the side that a row is worked on, as the text says of it or of a row before it;
        or "".
        """
        if not isinstance(self.row(number), st.Row):
            return ""
        for other in (number, *(one for one in self.rows if one < number)):
            row = self.row(other)
            if isinstance(row, st.Row) and row.side is not None:
                told = st.Side(row.side).value
                return told if (number - other) % 2 == 0 else {"RS": "WS", "WS": "RS"}[told]
        return ""


_GROWING = (  # these are added to, and not put anew
    "named", "labels", "told_again", "rows", "sections", "patterns", "steps", "told_by_needle",
    "places",
)  # fmt: skip


def is_titled(title: str, name: str) -> bool:
    """Tell whether a section is called so: "section b: waves", or "b. waves" alone."""
    letter = re.search(r"^(?:section|part|stage) (?P<one>[a-h]|\d)$", name)
    alone = rf"|{letter['one']}(?=[.:)])" if letter else ""
    return re.match(rf"(?:{re.escape(name)}{alone})(?!\w)", title) is not None
