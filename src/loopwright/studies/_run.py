"""A study: many designs on many feet, planned, knitted, checked and measured; one tidy table."""

from __future__ import annotations

import pickle
from collections.abc import Iterable, Iterator, Mapping
from importlib.metadata import version
from numbers import Integral
from pathlib import Path
from typing import Any, Protocol

import attrs
import pandas as pd
import pyarrow as pa

from loopwright.errors import StudyError
from loopwright.gauge import Gauge
from loopwright.progress import Progress
from loopwright.studies._columns import as_frame, units_of
from loopwright.studies._engines import Engine, Processes, StudyStage, completed, engine_for
from loopwright.studies._feet import Feet
from loopwright.studies._measures import DEFAULT, SCOPES, Measure, measures_named
from loopwright.studies._stages import Cases, Subjects, first_cases
from loopwright.studies._store import Store
from loopwright.studies._variants import Variant, refuse_unknown

__all__ = ["Study", "study"]

_SOCKS_A_PART = {"sock": 8, "heel": 1}  # about 0.2 s and 2 s of work
_FEWEST, _MOST_PARTS = 64, 1000  # cases to a partition, at least; partitions, at most


class _Place(Protocol):
    """Where partitions are kept: a `Store`, or this process's memory."""

    def claim(self, definition: Mapping[str, Any]) -> None: ...
    def finished(self, stage: str) -> set[int]: ...
    def write(self, stage: str, part: int, table: pa.Table) -> None: ...
    def read(self, stage: str, part: int) -> pa.Table: ...


@attrs.define(eq=False)
class _Memory:
    """Partitions for as long as the study is wanted."""

    tables: dict[tuple[str, int], pa.Table] = attrs.field(factory=dict)

    def claim(self, definition: Mapping[str, Any]) -> None:
        """Nothing to refuse: it is new."""

    def finished(self, stage: str) -> set[int]:
        """None: it is new."""
        return {part for found, part in self.tables if found == stage}

    def write(self, stage: str, part: int, table: pa.Table) -> None:
        """Keep it."""
        self.tables[stage, part] = table

    def read(self, stage: str, part: int) -> pa.Table:
        """Give it back."""
        return self.tables[stage, part]


@attrs.frozen(eq=False)
class Study:
    """What came of a study.

    Parameters
    ----------
    cases : int
    shared : mapping of str to int
        How many socks and heels were knitted for them, by scope.
    measures : tuple of str

    See Also
    --------
    study : makes it.

    Examples
    --------
    No heel takes nine tenths of the round:

    >>> from loopwright.studies import draw_feet, variants
    >>> feet, gauge = draw_feet(2), Gauge.of(32, 44)
    >>> done = study(variants(share=[0.5, 0.9]), feet, gauges=gauge, measures=["checks"], part=2)
    >>> [len(batch) for batch in done.batches()]
    [2, 2]
    >>> print(done.failures[["foot", "design", "error"]])
      foot     design                                              error
    1   F0  share 0.9  heel's share: found 0.9; expected 0.3 to 0.75 ...
    3   M0  share 0.9  heel's share: found 0.9; expected 0.3 to 0.75 ...
    """

    cases: int
    shared: Mapping[str, int]
    measures: tuple[str, ...]
    _place: _Place = attrs.field(repr=False, alias="place")
    _parts: range = attrs.field(repr=False, alias="parts")
    _subjects: Mapping[str, pa.Table] = attrs.field(repr=False, alias="subjects")
    _nothing: pa.Table = attrs.field(repr=False, alias="nothing")

    def batches(self) -> Iterator[pd.DataFrame]:
        """Yield the table partition by partition, for studies that memory won't hold."""
        for part in self._parts:
            yield self._joined(self._place.read("cases", part))

    def table(self) -> pd.DataFrame:
        """Return one tidy table, a row a case, in the order of the cases.

        ``table.attrs["units"]`` has the unit of each column. A case that failed has its reason in
        ``error`` and nothing in the columns that it didn't come to. A sock in which the checks
        found a mistake is such a case. ``ball_stretch_ratio`` and ``heel_stretch_ratio`` are the
        foot's girth to the sock's: 1.25 means that the sock must stretch by a quarter. The ball's
        girth goes by the stitches alone; where the toe tapers there already, it is less, which
        ``ball_girth_method`` says. Absolute heel girths are good to about 9 %, see
        `loopwright.fitting.girths`.
        """
        tables = [self._place.read("cases", part) for part in self._parts]
        return self._joined(pa.concat_tables([self._nothing, *tables]))

    @property
    def failures(self) -> pd.DataFrame:
        """The rows of those cases that failed."""
        table = self.table()
        return table[table["error"].notna()]

    def _joined(self, cases: pa.Table) -> pd.DataFrame:
        frame, units = as_frame(cases), units_of(cases.schema)
        for scope, subjects in self._subjects.items():
            right = as_frame(subjects).rename(columns={"error": "_why", "error_kind": "_kind"})
            units |= units_of(subjects.schema)
            frame = frame.merge(
                right, how="left", left_on=f"same_{scope}", right_on="key", sort=False
            )
            for name, told in (("error_kind", "_kind"), ("error", "_why")):
                frame[name] = frame[name].fillna(frame[told])
            frame = frame.drop(columns=["key", "_why", "_kind"])
        errors = ["error_kind", "error"]
        before = [name for name in frame if name not in errors]
        stretches = []
        for place in ("ball", "heel"):
            if f"{place}_girth_mm" in frame:  # the heel's, where it was measured
                stretches.append(f"{place}_stretch_ratio")
                frame[stretches[-1]] = frame[f"foot_{place}_girth_mm"] / frame[f"{place}_girth_mm"]
        frame = frame[[*before, *stretches, *errors]]
        frame.attrs["units"] = {**units, **dict.fromkeys(stretches, "1")}
        return frame

    def __str__(self) -> str:
        words = ", ".join(f"{number} {scope}s" for scope, number in self.shared.items())
        bad = sum(int(batch["error"].notna().sum()) for batch in self.batches())
        told = f"{bad} failed, see failures" if bad else "none failed"
        return f"{self.cases} cases, {told}; knitted for them: {words or 'nothing'}"


def study(
    designs: Variant | Iterable[Variant],
    feet: Feet,
    *,
    gauges: Gauge | Mapping[str, Gauge],
    measures: str | Measure | Iterable[str | Measure] = DEFAULT,
    executor: Engine | Any | int | None = None,
    store: Path | str | None = None,
    progress: Progress | None = None,
    part: int | None = None,
) -> Study:
    """Try every design at every gauge on every foot.

    Parameters
    ----------
    designs : Variant, or iterable of Variant
        See `variants`.
    feet : Feet
        See `read_feet`, `draw_feet` and `graded_feet`.
    gauges : Gauge, or mapping of str to Gauge
    measures : str or Measure, or iterable of them
        Names from `MEASURES`, or measures of your own. None at all plans the socks only.
    executor : None, int or distributed.Client
        None works in this process, a number in so many processes of this machine, a client on its
        cluster. The table is the same, bit for bit, on machines of one kind.
    store : Path or str, optional
        A folder to keep finished partitions in. Run the same study again to go on where it was
        stopped; another study is refused. Without one, all is kept in memory.
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`.
    part : int, optional
        Cases to a partition.

    Raises
    ------
    StudyError
        Nothing to study, designs of one name, or a measure that there isn't.
    StoreError
        The folder belongs to another study, is being written to, or is full.

    Examples
    --------
    >>> from loopwright.studies import draw_feet, variants
    >>> done = study(variants(heel=["flap", "short-row"]), draw_feet(2), gauges=Gauge.of(32, 44),
    ...              measures=["checks"])
    >>> print(done)
    4 cases, none failed; knitted for them: 4 socks
    >>> done.table()[["foot", "design", "stitches", "holes"]]
      foot     design  stitches  holes
    0   F0       flap        64      0
    1   F0  short-row        64      0
    2   M0       flap        72      0
    3   M0  short-row        72      0
    """
    chosen = (designs,) if isinstance(designs, Variant) else tuple(designs)
    wanted = measures_named([measures] if isinstance(measures, str | Measure) else measures)
    named = _gauges(gauges)
    if not isinstance(feet, Feet):
        advice = "expected Feet: see read_feet, draw_feet and graded_feet"
        raise StudyError("feet", f"a {type(feet).__name__}", advice)
    _refuse_nonsense(chosen, named, part)
    count = len(feet) * len(named) * len(chosen)
    cases = Cases(feet, chosen, named, part or max(_FEWEST, -(-count // _MOST_PARTS)))
    scopes = {scope: tuple(m for m in wanted if m.scope == scope) for scope in SCOPES}
    # Whatever is measured, every sock that differs is knitted and checked.
    scopes = {
        scope: found for scope, found in scopes.items() if found or (scope == "sock" and wanted)
    }
    definition = _definition(cases, wanted)
    for scope, found in scopes.items():
        Subjects(cases, (), found, _SOCKS_A_PART[scope])  # columns that clash are refused now
    engine = engine_for(executor)
    if isinstance(engine, Processes):
        _refuse_stay_at_homes(wanted)
    try:
        if store is None:
            return _run(engine, _Memory(), definition, cases, scopes, progress)
        with Store(Path(store)) as place:
            return _run(engine, place, definition, cases, scopes, progress)
    finally:
        engine.close()


def _run(
    engine: Engine,
    place: _Place,
    definition: Mapping[str, Any],
    cases: Cases,
    scopes: Mapping[str, tuple[Measure, ...]],
    progress: Progress | None,
) -> Study:
    place.claim(definition)
    _finish(engine, place, "cases", cases, progress)
    tables: dict[str, pa.Table] = {}
    for scope, measures in scopes.items():
        read = (place.read("cases", part) for part in cases.parts)
        firsts = first_cases(read, scope, failed_socks=_failed_keys(tables.get("sock")))
        stage = Subjects(cases, tuple(firsts.items()), measures, _SOCKS_A_PART[scope])
        _finish(engine, place, scope, stage, progress)
        found = [place.read(scope, part) for part in stage.parts]
        tables[scope] = pa.concat_tables(found) if found else stage.schema.empty_table()
    return Study(
        len(cases),
        {scope: len(table) for scope, table in tables.items()},
        tuple(measure.name for measures in scopes.values() for measure in measures),
        place,
        cases.parts,
        tables,
        cases.schema.empty_table(),
    )


def _failed_keys(subjects: pa.Table | None) -> set[str]:
    if subjects is None:
        return set()
    rows = zip(subjects["key"].to_pylist(), subjects["error"].to_pylist(), strict=True)
    return {key for key, error in rows if error is not None}


def _finish(
    engine: Engine, place: _Place, name: str, stage: Cases | Subjects, progress: Progress | None
) -> None:
    """Work those partitions of a stage that aren't there yet."""
    there = place.finished(name) & set(stage.parts)
    done = sum(len(stage.items(part)) for part in there)
    failed = 0
    _tell(progress, name, done, len(stage), failed)
    missing = (part for part in stage.parts if part not in there)
    work: StudyStage = stage
    for part, table in completed(engine, work, missing):
        place.write(name, part, table)
        done += len(table)
        failed += len(table) - table["error"].null_count
        _tell(progress, name, done, len(stage), failed)


def _tell(progress: Progress | None, name: str, done: int, of: int, failed: int) -> None:
    if progress is not None:
        progress(done, of, f"{name}, {failed} failed" if failed else name)


def _gauges(gauges: Gauge | Mapping[str, Gauge]) -> tuple[tuple[str, Gauge], ...]:
    if isinstance(gauges, Gauge):
        per_10_cm = f"{10 * gauges.stitches_per_cm:g} × {10 * gauges.courses_per_cm:g}"
        return ((per_10_cm, gauges),)
    if not isinstance(gauges, Mapping):
        advice = "expected a Gauge, such as Gauge.of(32, 44), or a mapping of names to gauges"
        raise StudyError("gauges", repr(gauges), advice)
    for name, gauge in gauges.items():
        if not isinstance(gauge, Gauge):
            raise StudyError(f"gauge {name!r}", repr(gauge), "expected a Gauge: Gauge.of(32, 44)")
    return tuple(gauges.items())


def _refuse_nonsense(
    designs: tuple[Variant, ...], gauges: tuple[tuple[str, Gauge], ...], part: int | None
) -> None:
    for what, found in (("designs", designs), ("gauges", gauges)):
        if not found:
            raise StudyError(what, "none", "expected one or more")
    for design in designs:
        if not isinstance(design, Variant):
            raise StudyError("designs", repr(design), "expected Variants: see variants")
        refuse_unknown(design)
    names = [design.name for design in designs]
    for name in names:
        if names.count(name) > 1:
            raise StudyError("designs", f"{name!r} twice", "each needs a name of its own")
    if part is not None and (not isinstance(part, Integral) or part < 1):
        raise StudyError("part", repr(part), "expected 1 or more cases to a partition")


def _refuse_stay_at_homes(measures: tuple[Measure, ...]) -> None:
    for measure in measures:
        try:
            pickle.dumps(measure)
        except (pickle.PicklingError, AttributeError, TypeError) as error:
            advice = "other processes can't find it: define it at the top of a module"
            raise StudyError(f"measure {measure.name!r}", str(error), advice) from error


def _definition(cases: Cases, measures: tuple[Measure, ...]) -> dict[str, Any]:
    """All that the rows depend on, for a store to compare."""
    return {
        "loopwright": version("loopwright"),
        "feet": cases.feet.digest,
        "designs": [design.described for design in cases.designs],
        "gauges": [f"{name}: {gauge!r}" for name, gauge in cases.gauges],
        "measures": [measure.described for measure in measures],
        "cases": len(cases),
        "part": cases.size,
    }
