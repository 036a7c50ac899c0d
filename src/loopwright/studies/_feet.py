"""Feet by the thousand: read from a table, drawn from the survey, or graded by a chart.

A table of feet holds what was measured of each, in mm, and nothing else. What wasn't measured is
missing here and estimated, with its uncertainty, when the foot is asked for: `Feet.foot`.
"""

from __future__ import annotations

import hashlib
import warnings
from collections.abc import Iterable, Iterator, Mapping
from numbers import Integral
from pathlib import Path
from typing import Any, Final, overload

import attrs
import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq
from numpy.typing import NDArray

from loopwright import units
from loopwright.errors import FileError, FootError, StudyError, UnitError
from loopwright.length import Length, Origin
from loopwright.sock.foot import TAPE_SD_MM, Foot, complete
from loopwright.sock.sizes import size_chart
from loopwright.sock.survey import Sex, population

__all__ = ["SURVEY_NAMES", "Feet", "draw_feet", "graded_feet", "read_feet"]

Floats = NDArray[np.float64]

_MEASURES = tuple(f.name for f in attrs.fields(Foot) if f.name not in ("sex", "notes"))

SURVEY_NAMES: Mapping[str, str] = {
    "footlength": "length",
    "balloffootcircumference": "ball_girth",
    "balloffootlength": "ball_length",
    "anklecircumference": "ankle_girth",
    "heelanklecircumference": "heel_girth",
    "heelbreadth": "heel_breadth",
    "footbreadthhorizontal": "ball_breadth",
    "calfcircumference": "calf_girth",
    "lateralmalleolusheight": "ankle_height",
}
"""Measures by the names that the survey's own tables give them, see ``sock/survey.toml``."""

_LARGEST: Final = 16 * 2**20  # bytes of a table: some 300,000 feet with ten measures
_MOST_COLUMNS: Final = 1000
_MOST_ROWS: Final = 300_000
_LONGEST_HEADS: Final = 2**16  # bytes
_TOO_LARGE: Final = "it is larger than any that is read"
_SEXES = {
    "f": Sex.FEMALE, "female": Sex.FEMALE, "woman": Sex.FEMALE, "women": Sex.FEMALE,
    "m": Sex.MALE, "male": Sex.MALE, "man": Sex.MALE, "men": Sex.MALE,
    "": Sex.UNKNOWN, "unknown": Sex.UNKNOWN, "u": Sex.UNKNOWN,
}  # fmt: skip


def _frozen(values: Any) -> Floats:
    array = np.array(values, dtype=np.float64)
    array.setflags(write=False)
    return array


def _strings(values: Iterable[str]) -> tuple[str, ...]:
    return tuple(values)


def _sexes_of(values: Iterable[Sex]) -> tuple[Sex, ...]:
    return tuple(values)


@attrs.frozen(eq=False)
class Feet:
    """A table of feet.

    Parameters
    ----------
    names : tuple of str
        The measures, fields of `Foot`.
    mm : ndarray, shape (n, names), mm
        NaN where a measure is missing.
    sexes : tuple of Sex
    ids : tuple of str
        One each, none twice.
    sd_mm : float, mm
        How uncertain each measure is, as a standard deviation.
    origin : Origin
        Where the measures come from.

    Raises
    ------
    StudyError
        Shapes that don't agree, a measure that no foot has, or one id twice.

    Examples
    --------
    >>> feet = Feet(("length", "ball_girth"), [[246.0, 228.0], [271.0, float("nan")]],
    ...             sexes=(Sex.FEMALE, Sex.MALE), ids=("a", "b"))
    >>> print(feet.foot(1).ball_girth)
    251.9 ± 10.5 mm (estimated from the survey: from length; male)
    >>> [round(foot.length.mm) for foot in feet]
    [246, 271]
    >>> feet.known_mm(1), feet.digest
    ({'length': 271.0}, '0ede08082a8ccb52')
    >>> print(feet.frame())
      foot     sex  length_mm  ball_girth_mm
    0    a  female      246.0          228.0
    1    b    male      271.0            NaN
    """

    names: tuple[str, ...] = attrs.field(converter=_strings)
    mm: Floats = attrs.field(converter=_frozen)
    sexes: tuple[Sex, ...] = attrs.field(converter=_sexes_of)
    ids: tuple[str, ...] = attrs.field(converter=_strings)
    sd_mm: float = TAPE_SD_MM
    origin: Origin = Origin.MEASURED

    def __attrs_post_init__(self) -> None:
        shape = (len(self.ids), len(self.names))
        if self.mm.shape != shape or len(self.sexes) != len(self.ids):
            found = f"{len(self.ids)} ids, {len(self.sexes)} sexes, measures {self.mm.shape}"
            raise StudyError("feet", found, f"expected as many of each, and measures {shape}")
        for name in self.names:
            if self.names.count(name) > 1:
                raise StudyError("feet", f"the measure {name!r} twice", "keep one column of each")
            if name not in _MEASURES:
                raise StudyError(
                    "feet", f"a measure {name!r}", f"a foot has {', '.join(_MEASURES)}"
                )
        if len(set(self.ids)) < len(self.ids):
            twice = next(one for one in self.ids if self.ids.count(one) > 1)
            advice = "each foot needs its own, or none has one: leave the column out"
            raise StudyError("feet", f"the id {twice!r} twice", advice)

    def __len__(self) -> int:
        return len(self.ids)

    def __iter__(self) -> Iterator[Foot]:
        return map(self.foot, range(len(self)))

    @overload
    def __getitem__(self, rows: slice) -> Feet: ...
    @overload
    def __getitem__(self, rows: int) -> Foot: ...
    def __getitem__(self, rows: slice | int) -> Feet | Foot:
        """Return some of the feet, or one as `foot` does."""
        if not isinstance(rows, slice):
            return self.foot(rows)
        return attrs.evolve(self, mm=self.mm[rows], sexes=self.sexes[rows], ids=self.ids[rows])

    def __reduce__(self) -> tuple[type[Feet], tuple[Any, ...]]:
        # A read-only array comes back writable from pickle: make it again.
        return Feet, tuple(getattr(self, f.name) for f in attrs.fields(Feet))

    def known_mm(self, row: int) -> dict[str, float]:
        """Return what was measured of one foot, mm."""
        pairs = zip(self.names, self.mm[row].tolist(), strict=True)
        return {name: mm for name, mm in pairs if mm == mm}

    def foot(self, row: int) -> Foot:
        """Return one foot, what wasn't measured estimated.

        Raises
        ------
        FootError
            See `Foot.of`.
        IndexError
            There is no such row.
        """
        known = {
            name: Length(mm, self.sd_mm, self.origin) for name, mm in self.known_mm(row).items()
        }
        return complete(known, self.sexes[row])

    def column(self, name: str) -> Floats:
        """Return one measure of all feet as it was taken, shape (n,), mm; NaN where missing."""
        if name not in self.names:
            return np.full(len(self), np.nan)
        return self.mm[:, self.names.index(name)]

    @property
    def digest(self) -> str:
        """Sixteen hex digits that tell this table from any other."""
        words = (self.names, [sex.value for sex in self.sexes], self.ids, self.sd_mm, self.origin)
        told = hashlib.sha256(repr(words).encode())
        told.update(self.mm.astype("<f8").tobytes())
        return told.hexdigest()[:16]

    def frame(self) -> pd.DataFrame:
        """Return the table for pandas, a row a foot; columns end in ``_mm``."""
        columns = {f"{name}_mm": self.mm[:, at] for at, name in enumerate(self.names)}
        frame = pd.DataFrame(
            {"foot": list(self.ids), "sex": [sex.value for sex in self.sexes], **columns}
        )
        frame.attrs["units"] = dict.fromkeys(columns, "mm")
        return frame


def read_feet(
    path: Path | str,
    *,
    columns: Mapping[str, str] | None = None,
    unit: str | None = None,
    sex: str = "sex",
    id: str = "id",
    sd: units.QuantityLike = f"{TAPE_SD_MM} mm",
) -> Feet:
    r"""Read a table of feet, a row a foot, from CSV or Parquet.

    Parameters
    ----------
    path : Path or str
        Ends in ``.csv``, or in ``.parquet`` or ``.pq``.
    columns : mapping of str to str, optional
        Measures by the names of the columns; by default those named after a measure, alone
        (``length``) or with the unit (``ball_girth_cm``). Other columns are passed over.
    unit : str, optional
        Of the columns whose names don't end in one.
    sex, id : str
        The columns of these; where there are none, the sex is unknown and feet are numbered.
    sd : str or Quantity
        How uncertain the measures are.

    Raises
    ------
    FileError
        No such file, or not such a table.
    FootError
        A cell that holds no length or sex; says its row and column.
    StudyError
        No column of a foot's measures, or one without its unit.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     path = Path(folder) / "feet.csv"
    ...     _ = path.write_text("id,sex,length_cm,heel_girth_in\nAda,F,24.6,12\nBo,,27.1,\n")
    ...     feet = read_feet(path)
    >>> feet.mm.round(1).tolist()
    [[246.0, 304.8], [271.0, nan]]
    """
    frame = _table(Path(path))
    wanted = _wanted(frame, columns, unit)
    table = np.column_stack(
        [_lengths(frame[column], scale) for column, (_, scale) in wanted.items()]
    )
    sexes = _sexes(frame[sex]) if sex in frame else [Sex.UNKNOWN] * len(frame)
    ids = frame[id].astype(str) if id in frame else map(str, range(len(frame)))
    names = tuple(name for name, _ in wanted.values())
    return Feet(names, table, sexes, tuple(ids), units.to_mm(sd, what="uncertainty"))


def draw_feet(n: int, *, sex: Sex | str = Sex.UNKNOWN, seed: int = 0) -> Feet:
    """Draw feet from the survey's means, standard deviations and correlations.

    Parameters
    ----------
    n : int
        How many.
    sex : Sex or str
        Of all of them, ``"female"`` or ``"male"``; unknown for as many men as women (one more
        woman where `n` is odd).
    seed : int
        0 or more. The same seed gives the same feet, and the first of them whatever `n` is.

    Raises
    ------
    StudyError
        A number or a seed that isn't whole and 0 or more, or a sex that there isn't.

    Notes
    -----
    The measures are drawn from a normal distribution, which the survey's nearly have. It has no
    children and is fitter than most people, see `loopwright.sock.survey`.

    Examples
    --------
    >>> women = draw_feet(2000, sex=Sex.FEMALE, seed=1)
    >>> women.ids[:2], bool(abs(women.column("length").mean() - 246.29) < 1)
    (('F0', 'F1'), True)
    """
    for what, number in (("feet", n), ("seed", seed)):
        if not isinstance(number, Integral) or number < 0:
            raise StudyError(what, repr(number), "expected a whole number, 0 or more")
    if str(getattr(sex, "value", sex)) not in _SEXES:
        raise StudyError("sex", repr(sex), "expected 'female', 'male' or 'unknown'")
    sex = _SEXES[str(getattr(sex, "value", sex))]
    if sex is Sex.UNKNOWN:
        women = draw_feet(-(-n // 2), sex=Sex.FEMALE, seed=seed)
        men = draw_feet(n // 2, sex=Sex.MALE, seed=seed)
        return attrs.evolve(
            women,
            mm=np.concatenate([women.mm, men.mm]),
            sexes=women.sexes + men.sexes,
            ids=women.ids + men.ids,
        )
    people = population(sex)
    letter = sex.value[0].upper()
    # A stream for each sex, so that women and men of one seed aren't the same feet at two scales.
    rng = np.random.Generator(np.random.PCG64([seed, ord(letter)]))
    spread = np.linalg.cholesky(people.covariance)
    mm = people.mean_mm + rng.standard_normal((n, len(people.names))) @ spread.T
    ids = tuple(f"{letter}{number}" for number in range(n))
    return Feet(people.names, mm, (sex,) * n, ids, sd_mm=0.0, origin=Origin.CALCULATED)


def graded_feet(*wearers: str) -> Feet:
    """Return the feet of the size chart, a size each.

    Parameters
    ----------
    *wearers : str
        ``"child"``, ``"woman"``, ``"man"``; all of them by default.

    Raises
    ------
    StudyError
        The chart has no such wearer.

    Examples
    --------
    >>> graded_feet("woman").ids
    ('woman 3-6', 'woman 6-9', 'woman 8-12')
    """
    known = list(dict.fromkeys(row.wearer for row in size_chart()))
    for wearer in wearers:
        if wearer not in known:
            raise StudyError("wearer", repr(wearer), f"the chart has {', '.join(known)}")
    rows = [row for row in size_chart() if row.wearer in (wearers or known)]
    feet = [row.foot() for row in rows]
    return Feet(
        ("length", "leg_height"),
        [[foot.length.mm, foot.leg_height.mm] for foot in feet],
        tuple(foot.sex for foot in feet),
        tuple(f"{row.wearer} {row.us_shoes}" for row in rows),
        sd_mm=max(foot.length.sd_mm for foot in feet),
        origin=Origin.COMMON_PRACTICE,
    )


def _table(path: Path) -> pd.DataFrame:
    readers = {".csv": _read_csv, ".parquet": _read_parquet, ".pq": _read_parquet}
    if path.suffix.lower() not in readers:
        raise FileError(str(path), "is no table that is known here", "expected .csv or .parquet")
    try:
        frame = readers[path.suffix.lower()](path)
    except pd.errors.ParserWarning as error:
        advice = "see that commas separate the values, and that no value has one"
        raise FileError(str(path), "has a row with more values than columns", advice) from error
    except OSError as error:
        problem = (error.strerror or str(error)).lower()
        raise FileError(str(path), problem, "check the name and its folder") from error
    except (ValueError, KeyError, TypeError, pa.ArrowException) as error:
        # pandas and Arrow: malformed, empty, not UTF-8
        raise FileError(str(path), f"can't be read: {error}", "check the file") from error
    if twice := [str(name) for name in frame.columns[frame.columns.duplicated()]]:
        raise FileError(str(path), f"has the column {twice[0]!r} twice", "keep one")
    if len(frame.columns) == 1 and ";" in str(frame.columns[0]):
        raise FileError(str(path), "is separated by semicolons", "expected commas")
    return frame


def _read_parquet(path: Path) -> pd.DataFrame:
    with pq.ParquetFile(path) as file:
        groups = (file.metadata.row_group(group) for group in range(file.metadata.num_row_groups))
        size = max(sum(group.total_byte_size for group in groups), 8 * file.metadata.num_rows)
        many = file.metadata.num_columns > _MOST_COLUMNS or file.metadata.num_rows > _MOST_ROWS
        if many or max(size, path.stat().st_size) > _LARGEST:
            raise ValueError(_TOO_LARGE)
        return file.read().to_pandas()


def _read_csv(path: Path) -> pd.DataFrame:
    with path.open("rb") as stream:
        heads = stream.read(_LONGEST_HEADS).partition(b"\n")[0]
        is_large = path.stat().st_size > _LARGEST or heads.count(b",") > _MOST_COLUMNS
        if is_large or len(heads) == _LONGEST_HEADS:
            raise ValueError(_TOO_LARGE)
        stream.seek(0)
        if stream.read(_LARGEST).count(b"\n") > _MOST_ROWS:
            raise ValueError(_TOO_LARGE)
    # All as text: what isn't a number is then reported with its row.
    with warnings.catch_warnings():  # a row that is too long would be cut, or shifted
        warnings.simplefilter("error", pd.errors.ParserWarning)
        return pd.read_csv(
            path, dtype=str, keep_default_na=False, encoding="utf-8-sig", index_col=False
        )


def _wanted(
    frame: pd.DataFrame, columns: Mapping[str, str] | None, unit: str | None
) -> dict[str, tuple[str, float]]:
    """Each column that is a measure, with the measure and the mm in one of its units."""
    wanted: dict[str, tuple[str, float]] = {}
    for column in map(str, frame.columns) if columns is None else columns:
        if column not in frame:
            has = ", ".join(map(str, frame.columns))
            raise StudyError("table of feet", f"no column {column!r}", f"it has {has}")
        plain, written = _split(column)
        name = plain if columns is None else columns[column]
        if columns is None and name not in _MEASURES:
            continue
        if written is None and unit is None:
            advice = f"call it {column}_mm or {column}_cm, or name the unit: unit='mm'"
            raise StudyError(f"column {column!r}", "no unit", advice)
        wanted[column] = (name, units.to_mm(f"1 {written or unit}", what=f"unit of {column!r}"))
    if not wanted:
        has = ", ".join(map(str, frame.columns)) or "none"
        advice = f"expected some of {', '.join(_MEASURES)}, or a mapping of columns"
        raise StudyError("table of feet", f"the columns {has}", advice)
    return wanted


def _split(column: str) -> tuple[str, str | None]:
    """The name of a column without the unit that it may end in, and the unit."""
    name, _, last = column.rpartition("_")
    try:
        units.to_mm(f"1 {last}", what=column)
    except UnitError:
        return column, None
    return (name, last) if name else (column, None)


def _lengths(cells: pd.Series, scale: float) -> Floats:
    values = np.full(len(cells), np.nan)
    for row, cell in enumerate(cells):
        if cell is None or cell != cell or (isinstance(cell, str) and not cell.strip()):
            continue
        try:
            values[row] = float(cell) * scale
        except (TypeError, ValueError):
            raise _bad_cell(
                cells, row, cell, "expected a number such as 24.6, or nothing"
            ) from None
        if not np.isfinite(values[row]):
            raise _bad_cell(cells, row, cell, "expected a finite number")
    return values


def _sexes(cells: pd.Series) -> list[Sex]:
    found = []
    for row, cell in enumerate(cells):
        word = "" if cell is None or cell != cell else str(cell).strip().lower()
        if word not in _SEXES:
            raise _bad_cell(cells, row, cell, f"expected one of {', '.join(filter(None, _SEXES))}")
        found.append(_SEXES[word])
    return found


def _bad_cell(cells: pd.Series, row: int, cell: object, expected: str) -> FootError:
    shown = repr(cell)
    shown = shown if len(shown) <= 60 else f"{shown[:57]}..."
    return FootError(f"row {row + 1}, column {str(cells.name)!r}", shown, expected)
