"""Columns of a study's tables: each has a name, a unit and a kind, known before any row is.

Fixed kinds make every partition of a table alike, also one whose rows all failed: a whole number
that is missing stays missing and turns no column into floats. Units travel in the metadata of the
Arrow field and, in pandas, in ``table.attrs["units"]``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import attrs
import pandas as pd
import pyarrow as pa

from loopwright.errors import StudyError

__all__ = ["Column", "as_frame", "as_table", "schema_of", "units_of"]

_KINDS = {
    "number": pa.float64(),
    "count": pa.int64(),
    "yes or no": pa.bool_(),
    "text": pa.string(),
}
_PANDAS = {
    pa.int64(): pd.Int64Dtype(),
    pa.bool_(): pd.BooleanDtype(),
    pa.string(): pd.StringDtype(na_value=float("nan")),
}
_UNIT = b"unit"


@attrs.frozen
class Column:
    """One column of a table.

    Parameters
    ----------
    name : str
        Ends in the unit where there is one: ``"heel_girth_mm"``.
    kind : str
        ``"number"``, ``"count"``, ``"yes or no"`` or ``"text"``.
    unit : str
        ``"mm"``, ``"stitches"``, ``"1"`` for a ratio; empty for text.

    Raises
    ------
    StudyError
        A kind that there isn't.
    """

    name: str
    kind: str = "number"
    unit: str = ""

    def __attrs_post_init__(self) -> None:
        if self.kind not in _KINDS:
            expected = f"expected one of {', '.join(_KINDS)}"
            raise StudyError(f"column {self.name!r}", f"the kind {self.kind!r}", expected)

    @property
    def field(self) -> pa.Field:
        """The column as Arrow has it, its unit in the metadata."""
        return pa.field(self.name, _KINDS[self.kind], metadata={_UNIT: self.unit.encode()})


def schema_of(columns: Iterable[Column]) -> pa.Schema:
    """Return the Arrow schema of these columns.

    Raises
    ------
    StudyError
        Two columns of one name.
    """
    fields = [column.field for column in columns]
    names = [field.name for field in fields]
    for name in names:
        if names.count(name) > 1:
            raise StudyError("columns", f"{name!r} twice", "each needs a name of its own")
    return pa.schema(fields)


def as_table(rows: Sequence[Mapping[str, Any]], schema: pa.Schema) -> pa.Table:
    """Return rows as an Arrow table; what a row lacks is missing, what it has too much is refused.

    Raises
    ------
    StudyError
        A value of the wrong kind, or one that no column takes.

    Examples
    --------
    >>> as_table([{"stitches": 64}, {}], schema_of([Column("stitches", "count")])).to_pylist()
    [{'stitches': 64}, {'stitches': None}]
    """
    for row in rows:
        if extra := set(row) - set(schema.names):
            found = f"values for {', '.join(sorted(extra))}"
            raise StudyError("row", found, f"the columns are {', '.join(schema.names)}")
    columns = []
    for field in schema:
        values = [row.get(field.name) for row in rows]
        try:
            columns.append(pa.array(values, type=field.type))
        except (pa.ArrowInvalid, pa.ArrowTypeError, TypeError, ValueError) as error:
            raise StudyError(f"column {field.name!r}", str(error), "check the measure") from error
    return pa.Table.from_arrays(columns, schema=schema)


def units_of(schema: pa.Schema) -> dict[str, str]:
    """Return each column's unit, where it has one."""
    units = {f.name: (f.metadata or {}).get(_UNIT, b"").decode() for f in schema}
    return {name: unit for name, unit in units.items() if unit}


def as_frame(table: pa.Table) -> pd.DataFrame:
    """Return an Arrow table as a pandas one; ``frame.attrs["units"]`` has the units.

    Numbers that are missing are NaN, other missing values are ``pandas.NA`` or NaN.
    """
    frame = table.to_pandas(types_mapper=_PANDAS.get)
    frame.attrs["units"] = units_of(table.schema)
    return frame
