"""One cluster for all tests that need one: it takes seconds to begin."""

from __future__ import annotations

from collections.abc import Iterator

import dask.config
import pytest
from distributed import Client, LocalCluster


@pytest.fixture(scope="session")
def _cluster() -> Iterator[Client]:
    with (
        # A task is given one chance: each death costs the seconds in which a worker begins anew.
        dask.config.set({"distributed.scheduler.allowed-failures": 0}),
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
