"""Heels side by side: the same sock on the same foot, with one heel after another."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from enum import Enum
from html import escape
from typing import Any, Final, TypeAlias

import attrs

from loopwright.errors import LoopwrightError, SizingError
from loopwright.fitting._fit import UNMEASURED, Fit, fit
from loopwright.fitting._remedies import LeftOut, why_not
from loopwright.fitting._sample import Sample, sample
from loopwright.fitting._verdict import per_cent
from loopwright.geometry import Shape
from loopwright.progress import Progress, share, watched
from loopwright.shown import Shown
from loopwright.sock import Sock
from loopwright.sock.foot import Foot
from loopwright.sock.heels import Heel, heel_named, heel_names

__all__ = ["COLUMNS", "DETAILS", "TRADE", "Compared", "ComparedValue", "Comparison", "compare"]


@attrs.frozen
class Compared:
    """One of the heels.

    Parameters
    ----------
    name : str
    sample : Sample
        The sock with that heel: knitted, checked, relaxed and measured.
    fit : Fit
    """

    name: str
    sample: Sample
    fit: Fit

    @property
    def shape(self) -> Shape:
        """The relaxed sock in space, for a picture."""
        return self.sample.shape


_ALIKE: Final = 0.01  # chances that differ by less count as one

Value: TypeAlias = float | int | str


@attrs.frozen
class ComparedValue:
    """A column of the comparison.

    Parameters
    ----------
    key : str
        For machines.
    title, unit : str
    value : callable
        From one `Compared`.
    digits : int
        Behind the point, when it is shown.
    """

    key: str
    title: str
    unit: str
    value: Callable[[Compared], Value]
    digits: int = 0

    @property
    def head(self) -> str:
        """Title and unit."""
        return f"{self.title}, {self.unit}" if self.unit else self.title

    def shown(self, one: Compared) -> str:
        """Return the value as text."""
        value = self.value(one)
        if isinstance(value, str):
            return value
        if self.unit == "%":
            return per_cent(value / 100).removesuffix(" %")
        return f"{value:.{self.digits}f}"


def _counted(what: str) -> Callable[[Compared], Value]:
    def value(one: Compared) -> Value:
        counted: int = getattr(one.sample.heel_counts, what)
        return counted

    return value


TRADE: Final = (
    ComparedValue("goes_on", "going on", "", lambda one: _on(one)),
    ComparedValue("heel_sits", "at the heel", "", lambda one: one.fit.at("heel").feel.value),
    ComparedValue("tight_or_loose", "to be mended", "", lambda one: _mend(one)),
    ComparedValue("heel_girth_mm", "heel girth", "mm", lambda one: one.sample.girths["heel"].mm),
    ComparedValue("heel_stretch_ratio", "stretched there", "times",
           lambda one: one.fit.at("heel").stretch, 2),
    ComparedValue("picked_up", "picked up", "sts", _counted("picked_up")),
    ComparedValue("grafted", "grafted", "pairs", _counted("grafted")),
    ComparedValue("heel_rounds", "heel's rounds", "", _counted("courses")),
    ComparedValue("yarn_m", "yarn of one", "m", lambda one: one.sample.yarn.metres.likely),
)  # fmt: skip
"""What a knitter asks of a heel, in the order of the table; rounds count rows, too."""

DETAILS: Final = (
    ComparedValue("goes_on_percent", "chance that it goes on", "%",
           lambda one: 100 * one.fit.verdict.goes_on),
    ComparedValue("chance_tight_percent", "chance that the heel is tight", "%",
           lambda one: 100 * one.fit.at("heel").tight),
    ComparedValue("heel_over_ball", "heel to ball", "", lambda one: one.fit.heel_over_ball, 2),
    ComparedValue("gaps", "gaps", "", _counted("gaps")),
    ComparedValue("largest_cell_edges", "largest cell", "edges", _counted("largest_cell")),
    ComparedValue("bound_off", "bound off", "sts", _counted("bound_off")),
    ComparedValue("decreases", "decreases", "", _counted("decreases")),
    ComparedValue("wraps", "wraps", "", _counted("wraps")),
    ComparedValue("rounds", "sock's rounds", "", lambda one: one.sample.rounds),
)  # fmt: skip
"""What else may be compared. Gaps are holes that the checks would find."""

COLUMNS: Final = (*TRADE, *DETAILS)


def _on(one: Compared) -> str:
    told = one.fit.verdict
    return f"{told.on} ({per_cent(told.goes_on)})"


def _mend(one: Compared) -> str:
    """What is likely tight or loose, in words; nothing where nothing is."""
    told = one.fit.verdict
    bad = [] if told.is_sure else [told.through.split(" over ")[0]]
    bad += [f"tight {sits.where}" for sits in told.tight]
    bad += [f"loose {sits.where}" for sits in told.loose]
    return "; ".join(bad) or "nothing"


@attrs.frozen(kw_only=True, repr=False)
class Comparison(Shown):
    """Heels side by side.

    Parameters
    ----------
    foot : Foot
    rows : tuple of Compared
        In the order asked for.
    left_out : tuple of LeftOut
        Heels that can't be made in this sock, and why.

    See Also
    --------
    loopwright.report.comparison_files : writes it as a page, Markdown, CSV and JSON.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
    >>> found = compare(Sock(foot=foot, gauge=Gauge.of(14, 20)), ["flap"])
    >>> print(found.verdict)
    It goes on (chance 98 %). Close in length; easy at the ball and the heel. Not judged: instep,...
    >>> print(found.markdown())
    |                        |           flap |
    | ---------------------- | -------------: |
    | going on               | goes on (98 %) |
    | at the heel            |           easy |
    | to be mended           |        nothing |
    ...
    | picked up, sts         |             10 |
    ...
    >>> "| decreases " in found.text(details=True), "| decreases " in found.text()
    (True, False)
    >>> found.records()[0]["heel"], found.to_dict()["heels"] == found.records()
    ('flap', True)
    >>> found["flap"].shape is found["flap"].sample.shape  # for a picture
    True
    >>> found.cautions  # nothing is tight
    ()
    >>> found.accuracy[:29], found.table_html()[:7]
    ('Girths over the heel, instep ', '<table>')
    >>> found.notes  # a flap as its name alone asks for it
    ()
    """

    foot: Foot
    rows: tuple[Compared, ...]
    left_out: tuple[LeftOut, ...] = ()

    def __getitem__(self, name: str) -> Compared:
        for row in self.rows:
            if row.name == name:
                return row
        raise KeyError(f"no heel {name!r}; there are: {', '.join(row.name for row in self.rows)}")

    @property
    def roomiest(self) -> Compared:
        """The heel with the largest girth."""
        return max(self.rows, key=lambda row: row.sample.girths["heel"].mm)

    @property
    def verdict(self) -> str:
        """Which heel is roomiest and which is closest, and what that means on this foot."""
        if len(self.rows) < 2:
            return str(self.rows[0].fit.verdict) if self.rows else "No heel of these can be made."
        most = self.roomiest
        least = min(self.rows, key=lambda row: row.sample.girths["heel"].mm)
        by = most.sample.girths["heel"].mm - least.sample.girths["heel"].mm
        return (
            f"{self._going_on} Most room at the heel: {_told(most)}; closest at the heel: "
            f"{_told(least)}; {by:.0f} mm between them.{self._good}"
        )

    @property
    def _going_on(self) -> str:
        ranked = sorted(self.rows, key=lambda row: -row.fit.verdict.goes_on)
        first, last = (row.fit.verdict for row in (ranked[0], ranked[-1]))
        if first.goes_on - last.goes_on < _ALIKE:
            alike = "" if first.is_sure else ", whichever the heel, for the leg decides"
            return f"On this foot it {first.on} (chance {per_cent(first.goes_on)}){alike}."
        return (
            f"On this foot the easiest to put on is {ranked[0].name} (chance "
            f"{per_cent(first.goes_on)}), the hardest {ranked[-1].name} "
            f"({per_cent(last.goes_on)})."
        )

    @property
    def _good(self) -> str:
        good = [row.name for row in self.rows if row.fit.verdict.is_good]
        if len(good) == len(self.rows):
            return ""
        if good:
            return f" Nothing to mend with: {', '.join(good)}."
        return " None is well as it is: remedies (loopwright mend) say what helps."

    @property
    def notes(self) -> tuple[str, ...]:
        """What is unusual about heels whose names don't tell it."""
        told = {
            row.name: ", ".join(_unusual(row.sample.sock.heel))
            for row in self.rows
            if row.name == row.sample.sock.heel.name
        }
        differs = "The {} heel differs from the usual: {}."
        notes = [differs.format(name, what) for name, what in told.items() if what]
        rest = "The others are as their names alone ask for them."
        return tuple([*notes, rest] if notes and len(self.rows) > len(notes) else notes)

    @property
    def cautions(self) -> tuple[str, ...]:
        """Cautions of all of them, each once."""
        return tuple(dict.fromkeys(text for row in self.rows for text in row.fit.cautions))

    @property
    def accuracy(self) -> str:
        """How good the girths are, and from how many measured pieces that is known."""
        return self.rows[0].fit.accuracy if self.rows else UNMEASURED

    def records(self) -> list[dict[str, Value]]:
        """Return a dict for each heel, by the columns' keys, with units in the names."""
        return [
            {"heel": row.name, **{column.key: _rounded(column.value(row)) for column in COLUMNS}}
            for row in self.rows
        ]

    def to_dict(self) -> dict[str, Any]:
        """Return all of it as plain data, for JSON."""
        return {
            "foot": {name: round(length.mm, 1) for name, length in self.foot.measures()},
            "heels": self.records(),
            "left_out": [{"heel": out.words, "reason": out.reason} for out in self.left_out],
            "verdict": self.verdict,
            "goes_on": {row.name: row.fit.verdict.is_on for row in self.rows},
            "notes": list(self.notes),
            "cautions": list(self.cautions),
            "accuracy": self.accuracy,
        }

    def markdown(self, *, details: bool = False) -> str:
        """Return the table as Markdown, a column for each heel, its columns aligned."""
        table = self._table(COLUMNS if details else TRADE)
        widths = [max(map(len, column)) for column in zip(*table, strict=True)]
        lines = [
            "| " + " | ".join(_padded(cell, width, at) for at, (cell, width) in
                              enumerate(zip(line, widths, strict=True))) + " |"
            for line in table
        ]  # fmt: skip
        rule = "| " + " | ".join("-" * (w - 1) + (":" if at else "-") for at, w in
                                 enumerate(widths)) + " |"  # fmt: skip
        return "\n".join([lines[0], rule, *lines[1:]])

    def _table(self, columns: Iterable[ComparedValue]) -> list[list[str]]:
        head = ["", *(row.name for row in self.rows)]
        lines = [[column.head, *(column.shown(row) for row in self.rows)] for column in columns]
        return [head, *lines]

    def _texts(self) -> list[str]:
        out = [f"Left out: {one}" for one in self.left_out]
        return [*self.notes, *out, *(f"Caution: {text}" for text in self.cautions), self.accuracy]

    def text(self, *, details: bool = False) -> str:
        """Return all of it as text; with details also what a researcher asks."""
        table = [self.markdown(details=details)] if self.rows else []
        return "\n\n".join([self.verdict, *table, *self._texts()])

    def __str__(self) -> str:
        return self.text()

    def table_html(self) -> str:
        """Return the comparison as a table of HTML, with what it says below."""
        texts = "".join(f"<p>{escape(text)}</p>" for text in self._texts())
        more = "" if not self.rows else (
            f"<details><summary>Details</summary>{_as_html(self._table(DETAILS))}</details>"
        )  # fmt: skip
        return f"{_as_html(self._table(TRADE), self.verdict)}{more}{texts}"


def _as_html(table: list[list[str]], caption: str = "") -> str:
    head, *lines = table
    top = "".join(f"<th>{escape(cell)}</th>" for cell in head)
    body = "".join(
        f"<tr><th>{escape(line[0])}</th>"
        + "".join(f"<td>{escape(cell)}</td>" for cell in line[1:])
        + "</tr>"
        for line in lines
    )
    shown = f"<caption>{escape(caption)}</caption>" if caption else ""
    return f"<table>{shown}<thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def compare(
    sock: Sock,
    heels: Iterable[Heel | str] | None = None,
    foot: Foot | None = None,
    *,
    progress: Progress | None = None,
) -> Comparison:
    """Return heels side by side in one sock, on one foot.

    Parameters
    ----------
    sock : Sock
        All but its heel stays as it is.
    heels : iterable of Heel or str, optional
        By default each heel that is known by name, the sock's own as it is.
    foot : Foot, optional
        The sock's own by default.
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`.

    Raises
    ------
    SizingError
        No heel of that name, or none at all. A heel that can't be made in this sock is left out,
        and said so.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="16 cm", ball_girth="15.5 cm")
    >>> found = compare(Sock(foot=foot, gauge=Gauge.of(14, 20)), ["forethought", "flap"])
    >>> found.roomiest.name, found["forethought"].sample.heel_counts.grafted
    ('flap', 4)
    """
    asked = _named(sock, heels)
    rows, out = [], []
    for place, (name, heel) in enumerate(asked.items()):
        with watched(progress), share(place, len(asked), name):
            try:
                made = sample(attrs.evolve(sock, heel=heel))
                rows.append(Compared(name, made, fit(made, foot)))
            except LoopwrightError as error:
                out.append(LeftOut(name, why_not(error)))
    return Comparison(foot=foot or sock.foot, rows=tuple(rows), left_out=tuple(out))


def _named(sock: Sock, asked: Iterable[Heel | str] | None) -> dict[str, Heel]:
    """Return the heels by names that tell them apart; the same heel twice counts once."""
    given = heel_names() if asked is None else asked
    found: dict[str, Heel] = {}
    for one in given:
        own = isinstance(one, str) and one == sock.heel.name
        heel = sock.heel if own else heel_named(one) if isinstance(one, str) else one
        if heel in found.values():
            continue
        found[_name(heel, found)] = heel
    if not found:
        raise SizingError("heels to compare", "none", "name at least one")
    return found


def _name(heel: Any, taken: Iterable[str]) -> str:
    """Return a heel's name; where it is taken, with what is unusual about this one."""
    if heel.name not in taken:
        return str(heel.name)
    name = plain = f"{heel.name}, {', '.join(_unusual(heel)) or 'another'}"
    number = 2
    while name in taken:
        name, number = f"{plain} ({number})", number + 1
    return name


def _unusual(heel: Any) -> Iterator[str]:
    """Yield what a heel has otherwise than the one that its name alone asks for."""
    if attrs.has(type(heel)) and heel.name in heel_names():
        yield from _otherwise(heel, heel_named(heel.name))


def _otherwise(one: Any, usual: Any) -> Iterator[str]:
    for field in attrs.fields(type(one)):
        value, other = getattr(one, field.name), getattr(usual, field.name, None)
        if value == other:
            continue
        if attrs.has(type(value)) and type(value) is type(other):
            yield from _otherwise(value, other)
        else:
            shown = value.value if isinstance(value, Enum) else value
            yield f"{field.name.replace('_', ' ')} {shown}"


def _rounded(value: Value) -> Value:
    return round(value, 3) if isinstance(value, float) else value


def _told(row: Compared) -> str:
    stretch = row.fit.at("heel").stretch
    return f"{row.name} (stretched {stretch:.2f} times)"


def _padded(cell: str, width: int, at: int) -> str:
    return cell.rjust(width) if at else cell.ljust(width)
