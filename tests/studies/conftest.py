"""One cluster for all tests that need one: it takes seconds to begin."""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterator
from multiprocessing import forkserver
from pathlib import Path

import dask.config
import pytest
from distributed import Client, LocalCluster

ENGINES = Path(__file__).with_name("test_engines.py")


@pytest.hookimpl(trylast=True)  # after they were shuffled
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Put what asks for the cluster first: side by side, on one process, one cluster is enough."""
    items.sort(key=lambda item: item.path != ENGINES and "client" not in _asked_by(item))


def _asked_by(item: pytest.Item) -> list[str]:
    return getattr(item, "fixturenames", [])


@pytest.fixture(scope="package")  # it is never quite idle
def _cluster() -> Iterator[Client]:
    # Whatever begins processes here begins them as copies of one that has imported what they need.
    copied = multiprocessing.get_context("forkserver")
    copied.set_forkserver_preload(["distributed", "loopwright.studies._tasks"])
    forkserver.ensure_running()
    with (
        # A task is given one chance: each death costs the seconds in which a worker begins anew.
        dask.config.set(
            {
                "distributed.scheduler.allowed-failures": 0,
                "distributed.worker.multiprocessing-method": "forkserver",
            }
        ),
        LocalCluster(  # type: ignore[no-untyped-call]
            n_workers=2,
            threads_per_worker=1,
            processes=True,
            dashboard_address=":0",
            silence_logs=50,
        ) as cluster,
        Client(cluster) as client,  # type: ignore[no-untyped-call]
    ):
        yield client


@pytest.fixture
def client(_cluster: Client) -> Client:
    """A client of a Dask cluster of two processes, both there after tests that killed one."""
    _cluster.wait_for_workers(2)
    return _cluster
