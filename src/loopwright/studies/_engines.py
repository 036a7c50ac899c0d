"""Where the partitions of a study are worked: in this process, over its cores, over a cluster.

An engine takes tasks and gives futures; everything else is the same for all of them and stands in
`completed`. Its rules:

* A few tasks more than there are workers are under way at once, so that memory doesn't grow with
  the study. One slow partition keeps one worker busy while the others go on.
* An error that a task raises is an error of ours, and ends the study: the tasks themselves turn
  what goes wrong in a case into a row.
* A worker's death (killed, out of memory, a crash in compiled code) says nothing about who was to
  blame, since all that was under way is lost with it. So each of the lost is redone *alone*. What
  kills a worker alone is redone case by case, and a case that does so `TRIES` times becomes a row
  that says so.

Numbers must not depend on the engine. A sum over threads does, in its last bits, so tasks keep
numerical libraries to one thread (see `loopwright.studies._tasks`): more cores, more workers.
"""

from __future__ import annotations

import multiprocessing
import os
import threading
import time
from collections import deque
from collections.abc import Callable, Generator, Iterable
from concurrent.futures import FIRST_COMPLETED, CancelledError, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from multiprocessing.connection import wait as wait_for_end
from numbers import Integral
from typing import Any, Protocol, TypeAlias, cast

import attrs
import pyarrow as pa

from loopwright.errors import StudyError

__all__ = [
    "TRIES",
    "Cluster",
    "Engine",
    "InProcess",
    "Processes",
    "StudyStage",
    "completed",
    "engine_for",
]

TRIES = 2  # deaths of a worker with one case alone before the case gets the blame
_AHEAD = 2  # tasks under way for each worker: one being worked, one waiting so that none idles
_PATIENCE_S = 300  # for a worker to come back; a queue of a shared cluster may take as long
_SETTLED_S = 1.0  # until a nanny knows that the worker it began runs: our choice

Task: TypeAlias = Callable[[], pa.Table]
Completed: TypeAlias = Generator[tuple[int, pa.Table], None, None]


class StudyStage(Protocol):
    """What is to be worked: partitions of numbered items."""

    def items(self, part: int) -> range:
        """Return the items of a partition."""
        ...

    def task(self, items: range) -> Task:
        """Return what works them; it and its table travel between processes."""
        ...

    def lost(self, item: int, reason: str) -> pa.Table:
        """Return the row of an item that can't be worked."""
        ...


class Engine(Protocol):
    """Where tasks are worked."""

    @property
    def workers(self) -> int:
        """How many tasks go on at the same time."""
        ...

    def submit(self, task: Task) -> Future[pa.Table]:
        """Begin a task."""
        ...

    def is_death(self, error: BaseException) -> bool:
        """Whether this error means that a worker died, and no more."""
        ...

    def revive(self) -> None:
        """Make ready again after a death."""
        ...

    def close(self) -> None:
        """Let go of everything that the engine itself began; what is under way is given up."""
        ...


@attrs.define(eq=False)
class InProcess:
    """One task after the other, here."""

    workers: int = attrs.field(default=1, init=False)

    def submit(self, task: Task) -> Future[pa.Table]:
        """Work the task at once."""
        future: Future[pa.Table] = Future()
        future.set_result(task())
        return future

    def is_death(self, error: BaseException) -> bool:
        """Never: whoever asks is alive."""
        return False

    def revive(self) -> None:
        """Do nothing."""

    def close(self) -> None:
        """Do nothing."""


def _context() -> multiprocessing.context.BaseContext:
    """Return how processes are begun: never by forking this one, which may have threads."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(["loopwright.studies._tasks"])
    return context


@attrs.define(eq=False)
class Processes:
    """Processes of this machine.

    Parameters
    ----------
    workers : int, optional
        As many as this process may use cores, by default.

    Notes
    -----
    As with every program that begins processes, a script that uses it must keep its own statements
    under ``if __name__ == "__main__":``.
    """

    workers: int = attrs.field(factory=lambda: _cores())
    _pool: ProcessPoolExecutor | None = attrs.field(default=None, init=False)

    def __attrs_post_init__(self) -> None:
        if self.workers < 1:
            raise StudyError("workers", str(self.workers), "expected 1 or more")

    def submit(self, task: Task) -> Future[pa.Table]:
        """Begin a task in one of the processes."""
        if self._pool is None:
            self._pool = ProcessPoolExecutor(
                self.workers, mp_context=_context(), initializer=_die_with_parent
            )
        return self._pool.submit(_call, task)

    def is_death(self, error: BaseException) -> bool:
        """Whether a process died."""
        return isinstance(error, BrokenProcessPool)

    def revive(self) -> None:
        """Begin with new processes; a pool that lost one takes no more tasks."""
        self.close()

    def close(self) -> None:
        """End the processes."""
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None


@attrs.define(eq=False)
class Cluster:
    """A Dask cluster, through a client that the caller has and keeps.

    Parameters
    ----------
    client : distributed.Client
    """

    client: Any
    _under_way: set[Any] = attrs.field(factory=set, init=False)

    @property
    def workers(self) -> int:
        """Threads of all workers there are now; at least 1, as some may be on their way."""
        threads: int = sum(self.client.nthreads().values())
        return max(threads, 1)

    def submit(self, task: Task) -> Future[pa.Table]:
        """Begin a task on the cluster."""
        future: Future[pa.Table] = Future()

        def hand_over(remote: Any) -> None:
            # Asked for anew: a worker may die between the end of its task and the table's way here,
            # and then the scheduler lets another one work the task again.
            self._under_way.discard(remote)
            try:
                future.set_result(remote.result())
            except BaseException as error:  # noqa: BLE001 whatever it is, it is told where it is asked for
                future.set_exception(error)

        # Not pure: a task that is redone is a task of its own.
        remote = self.client.submit(_call, task, pure=False)
        self._under_way.add(remote)
        remote.add_done_callback(hand_over)
        return future

    def is_death(self, error: BaseException) -> bool:
        """Whether the scheduler gave a task up since workers died with it, again and again."""
        # By name: whoever has no cluster need not wait for Dask to be imported.
        return type(error).__name__ == "KilledWorker"

    def revive(self) -> None:
        """Wait until the cluster has replaced a worker, and a moment more.

        A worker that dies while its nanny is still beginning it is not begun again, so that a case
        that kills its worker at once could end a whole cluster.

        Raises
        ------
        StudyError
            No worker came back in time.
        """
        try:
            self.client.wait_for_workers(1, timeout=_PATIENCE_S)
        except TimeoutError as error:
            advice = "begin workers anew and run it again: what was finished is kept"
            raise StudyError("cluster", f"no worker in {_PATIENCE_S} s", advice) from error
        time.sleep(_SETTLED_S)

    def close(self) -> None:
        """Give up what is under way; the client stays open."""
        self.client.cancel(list(self._under_way))
        self._under_way.clear()


def engine_for(executor: Engine | Any | int | None) -> Engine:
    """Return the engine that a caller means.

    Parameters
    ----------
    executor : None, int, distributed.Client or Engine
        None for this process, a number for so many processes.

    Raises
    ------
    StudyError
        None of these.

    Examples
    --------
    >>> engine_for(2)
    Processes(workers=2, _pool=None)
    """
    if executor is None:
        return InProcess()
    if isinstance(executor, Integral) and not isinstance(executor, bool):
        return Processes(int(executor))
    if hasattr(executor, "nthreads"):
        return Cluster(executor)
    if all(hasattr(executor, name) for name in ("submit", "is_death", "revive", "close")):
        return cast(Engine, executor)
    raise StudyError(
        "executor",
        f"a {type(executor).__name__}",
        "expected None (this process), a number of processes, or a Dask client",
    )


def completed(engine: Engine, stage: StudyStage, parts: Iterable[int]) -> Completed:
    """Work partitions and yield each with its table, in the order in which they get done.

    The caller closes the engine. See the module for the rules.
    """
    waiting = iter(parts)
    under_way: dict[Future[pa.Table], int] = {}
    more = True
    while more or under_way:
        while more and len(under_way) < _AHEAD * engine.workers:
            part = next(waiting, None)
            if part is None:
                more = False
                break
            future = _submitted(engine, stage.task(stage.items(part)))
            under_way[future] = part
            if future.done():  # in this process: yield before the next is worked
                break
        done, _ = wait(under_way, return_when=FIRST_COMPLETED)
        lost = []
        for future in sorted(done, key=under_way.__getitem__):
            part = under_way.pop(future)
            if (table := _result(engine, future)) is None:
                lost.append(part)
            else:
                yield part, table
        if lost:
            yield from _redone(engine, stage, lost, under_way)


def _submitted(engine: Engine, task: Task) -> Future[pa.Table]:
    """Begin a task; a pool that turns out to be broken gives a future that says so."""
    try:
        return engine.submit(task)
    except Exception as error:
        if not engine.is_death(error):
            raise
        future: Future[pa.Table] = Future()
        future.set_exception(error)
        return future


def _result(engine: Engine, future: Future[pa.Table]) -> pa.Table | None:
    """The task's table, or None where a worker died with it; other errors are raised."""
    try:
        return future.result()
    except CancelledError as error:
        raise StudyError(
            "engine",
            "a task that was given up",
            "see that the cluster's scheduler runs; what was finished is kept, so run it again",
        ) from error
    except Exception as error:
        if not engine.is_death(error):
            raise
        engine.revive()
        return None


def _redone(
    engine: Engine, stage: StudyStage, lost: list[int], under_way: dict[Future[pa.Table], int]
) -> Completed:
    """Redo alone what was lost, once all else that is under way has come home."""
    suspects = deque(lost)
    for future in wait(under_way).done:
        part = under_way.pop(future)
        if (table := _result(engine, future)) is None:
            suspects.append(part)
        else:
            yield part, table
    for part in sorted(suspects):
        yield part, _alone(engine, stage, stage.items(part))


def _alone(engine: Engine, stage: StudyStage, items: range) -> pa.Table:
    """Work these items with nothing beside them, halving them where they kill a worker."""
    for _ in range(TRIES):
        table = _result(engine, _submitted(engine, stage.task(items)))
        if table is not None:
            return table
        if len(items) > 1:
            break
    if len(items) == 1:
        reason = f"the worker died {TRIES} times with this case alone: killed, or out of memory?"
        return stage.lost(items[0], reason)
    middle = len(items) // 2
    halves = (items[:middle], items[middle:])
    return pa.concat_tables([_alone(engine, stage, half) for half in halves])


def _call(task: Task) -> pa.Table:
    return task()


def _die_with_parent() -> None:
    """End this worker when the study's process is killed; else it would wait for tasks for ever."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_follow, args=(parent.sentinel,), daemon=True).start()


def _follow(sentinel: int) -> None:
    wait_for_end([sentinel])
    os._exit(1)


def _cores() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
