"""Engines: the same rows from each, none lost, none twice, though workers are really killed."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import numpy as np
import pyarrow as pa
import pytest

from loopwright.errors import StudyError
from loopwright.studies._engines import (
    TRIES,
    Cluster,
    Engine,
    InProcess,
    Processes,
    completed,
    engine_for,
)
from studies.toys import SquareStage


def worked(engine: Engine, stage: SquareStage) -> pa.Table:
    try:
        tables = dict(completed(engine, stage, stage.parts))
    finally:
        engine.close()
    assert sorted(tables) == list(stage.parts)
    return pa.concat_tables([tables[part] for part in stage.parts])


@pytest.fixture(params=["in process", "processes", "cluster"])
def engine(request: pytest.FixtureRequest) -> Engine:
    if request.param == "cluster":
        return Cluster(request.getfixturevalue("client"))
    return Processes(2) if request.param == "processes" else InProcess()


@pytest.fixture(params=["processes", "cluster"])
def mortal(request: pytest.FixtureRequest) -> Engine:
    return (
        Processes(2) if request.param == "processes" else Cluster(request.getfixturevalue("client"))
    )


def test_every_engine_gives_every_row_once(engine: Engine, tmp_path: Path) -> None:
    stage = SquareStage(30, tmp_path)
    table = worked(engine, stage)
    assert table["square"].to_pylist() == [item * item for item in range(30)]
    assert set(stage.worked().values()) == {1}


def test_a_study_of_nothing_is_done_at_once(engine: Engine, tmp_path: Path) -> None:
    assert list(completed(engine, SquareStage(0, tmp_path), ())) == []
    engine.close()


def test_two_processes_share_the_work(tmp_path: Path) -> None:
    worked(Processes(2), SquareStage(30, tmp_path, slow=0))
    assert len({page.read_text() for page in tmp_path.iterdir()}) == 2


def test_a_slow_case_holds_up_its_own_partition_only(mortal: Engine, tmp_path: Path) -> None:
    stage = SquareStage(80, tmp_path, slow=1, others=60)
    order = [part for part, _ in completed(mortal, stage, stage.parts)]
    mortal.close()
    assert order.index(0) > len(order) / 2  # it waits for most of the others


def test_a_worker_that_is_killed_loses_nothing(mortal: Engine, tmp_path: Path) -> None:
    stage = SquareStage(40, tmp_path, deadly_once=17)
    table = worked(mortal, stage)
    assert table["item"].to_pylist() == list(range(40))
    assert table["error"].null_count == 40
    assert stage.worked()[17] == 2


def test_a_case_that_kills_gets_the_blame_alone(tmp_path: Path) -> None:
    """Four deaths. Over processes only: a cluster takes seconds to replace each of its workers."""
    stage = SquareStage(12, tmp_path, size=2, deadly=6)
    table = worked(Processes(2), stage)
    rows = {row["item"]: row for row in table.to_pylist()}
    assert list(rows) == list(range(12))
    assert [item for item, row in rows.items() if row["error"]] == [6]
    assert f"died {TRIES} times with this case alone" in rows[6]["error"]
    assert rows[7]["square"] == 49


def test_a_mistake_of_ours_is_raised_and_not_redone(engine: Engine, tmp_path: Path) -> None:
    stage = SquareStage(12, tmp_path, wrong=5)
    with pytest.raises(ZeroDivisionError):
        worked(engine, stage)
    assert stage.worked()[5] == 1


def test_an_engine_that_is_not_read_on_works_little_ahead(tmp_path: Path) -> None:
    """Memory: partitions are begun as they are taken, not all at once."""
    stage = SquareStage(400, tmp_path)
    engine = Processes(2)
    results = completed(engine, stage, stage.parts)
    next(results)
    time.sleep(0.3)
    results.close()
    engine.close()
    assert max(stage.worked()) < 40


def test_a_cluster_whose_workers_never_come_back_is_told() -> None:
    class Deserted:
        def wait_for_workers(self, n: int, timeout: float) -> None:
            raise TimeoutError(f"only 0/{n} workers arrived after {timeout}")

    with pytest.raises(StudyError, match="run it again: what was finished is kept") as caught:
        Cluster(Deserted()).revive()
    assert caught.value.what == "cluster"


def test_what_names_an_engine(client: Any) -> None:
    assert isinstance(engine_for(None), InProcess)
    assert engine_for(3).workers == 3
    assert engine_for(np.int64(2)).workers == 2
    assert engine_for(client).workers == 2
    mine = Processes(1)
    assert engine_for(mine) is mine


@pytest.mark.parametrize(("executor", "found"), [("two", "a str"), (True, "a bool"), (0, "0")])
def test_what_is_no_engine_is_refused(executor: Any, found: str) -> None:
    with pytest.raises(StudyError) as caught:
        engine_for(executor)
    assert caught.value.found == found
