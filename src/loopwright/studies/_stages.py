"""The stages of a study: plan every case, then knit each sock that differs, then each heel.

Most feet of a population end in a sock that another foot has as well: there are only so many
stitch counts and lengths. So cases are planned one by one, which takes milliseconds, and fabrics
are knitted, checked and measured once for all the cases that share them.
"""

from __future__ import annotations

from collections.abc import Iterable, Set

import attrs
import pyarrow as pa

from loopwright.gauge import Gauge
from loopwright.studies._columns import as_table, schema_of
from loopwright.studies._feet import Feet
from loopwright.studies._measures import Measure
from loopwright.studies._tasks import (
    CASE_COLUMNS,
    ERROR_COLUMNS,
    KEY,
    MeasureTask,
    PlanTask,
    Subject,
    failure,
)
from loopwright.studies._variants import Variant, factor_columns

__all__ = ["Cases", "Subjects", "first_cases"]


@attrs.frozen(eq=False)
class Cases:
    """Every design at every gauge for every foot.

    Parameters
    ----------
    feet : Feet
    designs : tuple of Variant
    gauges : tuple of (str, Gauge)
    size : int
        Cases to a partition.
    """

    feet: Feet
    designs: tuple[Variant, ...]
    gauges: tuple[tuple[str, Gauge], ...]
    size: int
    schema: pa.Schema = attrs.field(init=False)

    def __attrs_post_init__(self) -> None:
        planned = {column.name for column in CASE_COLUMNS}  # a factor may be one: stitches
        factors = (c for c in factor_columns(self.designs) if c.name not in planned)
        columns = (*CASE_COLUMNS, *factors, *ERROR_COLUMNS)
        object.__setattr__(self, "schema", schema_of(columns))

    def __len__(self) -> int:
        return len(self.feet) * len(self.gauges) * len(self.designs)

    @property
    def parts(self) -> range:
        """The numbers of the partitions."""
        return range(-(-len(self) // self.size))

    def items(self, part: int) -> range:
        """Return the cases of a partition."""
        return range(part * self.size, min((part + 1) * self.size, len(self)))

    def task(self, items: range) -> PlanTask:
        """Return what plans these cases."""
        each = len(self.gauges) * len(self.designs)
        first, last = items[0] // each, items[-1] // each
        feet = self.feet[first : last + 1]
        return PlanTask(items, first, feet, self.designs, self.gauges, self.schema)

    def lost(self, item: int, reason: str) -> pa.Table:
        """Return the row of a case that can't be planned."""
        row = self.task(range(item, item + 1)).named(item)
        return as_table([{**row, **failure("KilledWorker", reason)}], self.schema)

    def subject(self, key: str, case: int) -> Subject:
        """Return the sock of a case, for measuring."""
        rest, design = divmod(case, len(self.designs))
        foot, gauge = divmod(rest, len(self.gauges))
        return Subject(key, self.feet[foot : foot + 1], self.designs[design], self.gauges[gauge][1])


@attrs.frozen(eq=False)
class Subjects:
    """Socks that differ, or heels that do.

    Parameters
    ----------
    cases : Cases
    firsts : tuple of (str, int)
        Each key with the first case that has it.
    measures : tuple of Measure
    size : int
        Socks to a partition.
    """

    cases: Cases
    firsts: tuple[tuple[str, int], ...]
    measures: tuple[Measure, ...]
    size: int
    schema: pa.Schema = attrs.field(init=False)

    def __attrs_post_init__(self) -> None:
        columns = [column for measure in self.measures for column in measure.columns]
        object.__setattr__(self, "schema", schema_of((KEY, *columns, *ERROR_COLUMNS)))

    def __len__(self) -> int:
        return len(self.firsts)

    @property
    def parts(self) -> range:
        """The numbers of the partitions."""
        return range(-(-len(self) // self.size))

    def items(self, part: int) -> range:
        """Return the subjects of a partition."""
        return range(part * self.size, min((part + 1) * self.size, len(self)))

    def task(self, items: range) -> MeasureTask:
        """Return what measures these subjects."""
        subjects = tuple(self.cases.subject(*self.firsts[item]) for item in items)
        return MeasureTask(subjects, self.measures, self.schema)

    def lost(self, item: int, reason: str) -> pa.Table:
        """Return the row of a subject that can't be measured."""
        row = {KEY.name: self.firsts[item][0], **failure("KilledWorker", reason)}
        return as_table([row], self.schema)


def first_cases(
    tables: Iterable[pa.Table], scope: str, *, failed_socks: Set[str] = frozenset()
) -> dict[str, int]:
    """Return every key of a scope with the first case that has it, in the order of cases.

    A heel is measured on a sock that is whole where there is one: a torn sock may share its heel
    with others, and its failure is its own.
    """
    firsts: dict[str, int] = {}
    doubtful: set[str] = set()
    for table in tables:
        columns = (table[name].to_pylist() for name in ("case", f"same_{scope}", "same_sock"))
        for case, key, sock in zip(*columns, strict=True):
            if key is None:
                continue
            fails = sock in failed_socks
            if key not in firsts or (key in doubtful and not fails):
                firsts[key] = case
                (doubtful.add if fails else doubtful.discard)(key)
    return firsts
