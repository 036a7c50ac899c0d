"""The report's tables: finished measures, fit, yarn and checks, for one size or for all.

A table is a head and rows of text, and each view (page, PDF, Markdown, CSV) only lays it out.
Uncertainties are standard deviations, as everywhere in the package.
"""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable

import attrs

from loopwright.fitting import Stretch, per_cent
from loopwright.fitting.limits import Limit
from loopwright.picture import lettered
from loopwright.report.data import SizeReport
from loopwright.sock import FinishedMeasure
from loopwright.yarn import YarnNeed

__all__ = [
    "Table",
    "by_size",
    "checks_table",
    "fit_table",
    "length",
    "lengths",
    "measures_csv",
    "measures_table",
    "schematic_table",
    "to_csv",
    "yarn_table",
]

_INCH_MM = 25.4


@attrs.frozen
class Table:
    """Rows of text under a head.

    Parameters
    ----------
    caption : str
    head : tuple of str
    rows : tuple of tuple of str
    numbers : frozenset of int
        The columns that hold numbers.
    """

    caption: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    numbers: frozenset[int] = frozenset()

    def filled(self) -> Table:
        """Return it without the columns that are empty in all rows, for people to read.

        Examples
        --------
        >>> Table("", ("Check", "What to do"), (("all", ""), ("holes", ""))).filled().head
        ('Check',)
        """
        columns = range(len(self.head))
        kept = [at for at in columns if not self.rows or any(row[at] for row in self.rows)]
        return Table(
            self.caption,
            tuple(self.head[at] for at in kept),
            tuple(tuple(row[at] for at in kept) for row in self.rows),
            frozenset(place for place, at in enumerate(kept) if at in self.numbers),
        )


def measures_table(sizes: Iterable[SizeReport]) -> Table:
    """Return the finished measures: what was asked, what it came to, how far rounding moved it."""
    head = ("Measure", "Asked", "Finished", "Uncertain by", "Rounding moved it", "Made of")
    rows = [
        (size.name, measure.name, length(measure.asked_mm), length(measure.finished.mm),
         f"± {measure.finished.sd_mm:.1f} mm", _moved(measure), _made_of(measure))
        for size in sizes for measure in size.measures
    ]  # fmt: skip
    return _table("Finished measures, relaxed and flat", head, rows, numbers={2, 3, 4, 5})


def schematic_table(sizes: Iterable[SizeReport], *, inches_first: bool = False) -> Table:
    """Return what the letters of the schematic stand for, a column for each size."""
    flats = {size.name: size.flat for size in sizes if size.flat is not None}
    rows = [
        (
            f"{one.letter}: {one.words}",
            *(length(one.mm.get(name, math.nan), inches_first=inches_first) for name in flats),
        )
        for one in lettered(flats)
    ]
    names = tuple(name or "Length" for name in flats)
    head = ("On the drawing", *names)
    return Table("What the letters stand for", head, tuple(rows), frozenset(range(1, len(head))))


def fit_table(sizes: Iterable[SizeReport]) -> Table:
    """Return where the sock meets the foot: how far it must stretch, and how sure that is."""
    head = ("Place", "Sock, relaxed", "Foot", "Foot's measure is", "Stretched", "Sits",
            "Chance of more")  # fmt: skip
    rows: list[tuple[str, ...]] = []
    for size in sizes:
        if size.fit is None:
            continue
        rows += [
            (size.name, *_girths(place), place.feel.value, _chance(place, place.scale.close))
            for place in size.fit.places
        ]
        rows += [
            (size.name, *_girths(passage), "", _chance(passage, passage.limit))
            for passage in size.fit.passages
        ]
    return _table("Sock on the foot", head, rows, numbers={2, 3, 5, 7})


def _girths(stretch: Stretch) -> tuple[str, str, str, str, str]:
    low, high = stretch.interval
    sock, foot = stretch.sock, stretch.foot
    return (
        stretch.place,
        f"{sock.mm / 10:.1f} ± {sock.sd_mm / 10:.1f} cm",
        f"{foot.mm / 10:.1f} ± {foot.sd_mm / 10:.1f} cm",
        foot.origin.value,
        f"{stretch.stretch:.2f} ({low:.2f} to {high:.2f})",
    )


def _chance(stretch: Stretch, limit: Limit) -> str:
    chance = per_cent(stretch.chance_over(limit))
    return f"{chance.replace('under', '<').replace('over', '>')} over {limit.stretch:.2f}"


def yarn_table(sizes: Iterable[SizeReport]) -> Table:
    """Return the yarn that a pair takes: likely, and from low to high."""
    head = ("Yarn", "Length", "Weight", "Balls")
    rows = [
        (size.name, need.name, f"{need.metres} m", _grams(need),
         "" if need.balls is None else str(need.balls))
        for size in sizes for need in size.needs
    ]  # fmt: skip
    return _table("Yarn for a pair", head, rows, numbers={2, 3, 4})


def checks_table(sizes: Iterable[SizeReport]) -> Table:
    """Return the verdict of the checks, and what they found."""
    head = ("Verdict", "Check", "Where", "What was found", "What to do")
    rows: list[tuple[str, ...]] = []
    for size in sizes:
        verdict, findings = size.verdict, size.verdict.findings
        word = "sound" if verdict.ok else "has mistakes"
        rows.append((size.name, word, "all", "one sock", verdict.summary, ""))
        rows += [
            (size.name, "mistake" if found.is_mistake else "blemish", found.kind, found.place,
             found.problem, found.advice)
            for found in findings
        ]  # fmt: skip
    return _table("What the checks of the fabric found", head, rows)


def _table(
    caption: str,
    head: tuple[str, ...],
    rows: Iterable[tuple[str, ...]],
    *,
    numbers: Iterable[int] = (),
) -> Table:
    """Put the sizes in front, where there are several."""
    told = tuple(rows)
    if len({row[0] for row in told}) > 1:
        return Table(caption, ("Size", *head), told, frozenset(numbers))
    shifted = frozenset(number - 1 for number in numbers)
    return Table(caption, head, tuple(row[1:] for row in told), shifted)


def to_csv(table: Table) -> str:
    """Return a table as comma-separated text, RFC 4180.

    Examples
    --------
    >>> print(to_csv(Table("", ("Size", "Girth"), (("S, narrow", "20.0 cm"),))), end="")
    Size,Girth
    "S, narrow",20.0 cm
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(table.head)
    writer.writerows([_harmless(cell) for cell in row] for row in table.rows)
    return stream.getvalue()


def measures_csv(sizes: Iterable[SizeReport]) -> str:
    """Return the finished measures as numbers, for a spreadsheet: mm, one measure a row."""
    head = ("size", "measure", "asked_mm", "finished_mm", "finished_sd_mm", "moved_mm", "made_of")
    rows = tuple(
        (size.name, measure.name, _plain(measure.asked_mm), _plain(measure.finished.mm),
         _plain(measure.finished.sd_mm), _plain(measure.moved_mm), _made_of(measure))
        for size in sizes for measure in size.measures
    )  # fmt: skip
    return to_csv(Table("", head, rows))


def _harmless(cell: str) -> str:
    """Keep a spreadsheet from running a name that looks like a formula."""
    suspect = cell.startswith(("=", "+", "-", "@", "\t", "\r")) and not _is_number(cell)
    return f"'{cell}" if suspect else cell


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def _plain(mm: float) -> str:
    return "" if math.isnan(mm) else f"{mm:z.1f}"


def length(mm: float, *, inches_first: bool = False) -> str:
    """Return a length in both units, the knitter's own first; nothing where there is none.

    Examples
    --------
    >>> length(200.0), length(200.0, inches_first=True)
    ('20.0 cm (7 7/8 in)', '7 7/8 in (20.0 cm)')
    """
    return "" if math.isnan(mm) else lengths([mm], inches_first=inches_first)


def by_size(values: Iterable[str]) -> str:
    """Return a value for each size as patterns have them; once where all are alike.

    Examples
    --------
    >>> by_size(["48", "56", "64"]), by_size(["2", "2"])
    ('48 (56, 64)', '2')
    """
    first, *others = values
    if not others or set(others) == {first}:
        return first
    return f"{first} ({', '.join(others)})"


def lengths(mm: Iterable[float], *, inches_first: bool = False) -> str:
    """Return a length for each size in both units, the knitter's own first.

    Examples
    --------
    >>> lengths([200.0, 225.0])
    '20.0 (22.5) cm, or 7 7/8 (8 7/8) in'
    >>> lengths([200.0, 200.0])
    '20.0 cm (7 7/8 in)'
    """
    known = list(mm)
    both = (
        f"{by_size(f'{one / 10:.1f}' for one in known)} cm",
        f"{by_size(map(_inches, known))} in",
    )
    first, other = reversed(both) if inches_first else both
    return f"{first}, or {other}" if "(" in first + other else f"{first} ({other})"


def _inches(mm: float) -> str:
    """Return inches to the nearest eighth, as they are on a tape.

    Examples
    --------
    >>> _inches(200.0), _inches(25.4), _inches(12.0)
    ('7 7/8', '1', '1/2')
    """
    eighths = round(mm / _INCH_MM * 8)
    whole, part = divmod(eighths, 8)
    for half in (4, 2, 1):
        if part % half == 0:
            fraction = f"{part // half}/{8 // half}" if part else ""
            break
    return " ".join(bit for bit in (str(whole) if whole or not part else "", fraction) if bit)


def _signed(value: float, decimals: int) -> str:
    text = f"{abs(value):.{decimals}f}"
    if float(text) == 0:
        return text
    return f"{'+' if value > 0 else '−'}{text}"


def _moved(measure: FinishedMeasure) -> str:
    return "" if math.isnan(measure.moved_mm) else f"{_signed(measure.moved_mm, 1)} mm"


def _made_of(measure: FinishedMeasure) -> str:
    """Return the count and what it counts, in the words that the length itself has."""
    counted = measure.finished.how.removesuffix(" at the gauge")
    return counted.replace("courses", "rounds")


def _grams(need: YarnNeed) -> str:
    return "" if need.grams is None else f"{need.grams} g"
