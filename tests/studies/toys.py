"""A small stage whose items square themselves, and misbehave when told to."""

from __future__ import annotations

import os
import signal
import time
from multiprocessing.connection import Connection
from pathlib import Path

import attrs
import pyarrow as pa

from loopwright.studies._store import Store

SCHEMA = pa.schema([("item", pa.int64()), ("square", pa.int64()), ("error", pa.string())])


@attrs.frozen
class Squares:
    """Task: the squares of some items; notes in `diary` which process worked each."""

    items: range
    diary: Path
    slow: int | None = None  # waits until `others` items were begun
    others: int = 20
    deadly: int | None = None  # kills its worker whenever it is worked
    deadly_once: int | None = None  # kills its worker the first time
    wrong: int | None = None  # raises an error that is nobody's fault but ours

    def __call__(self) -> pa.Table:
        for item in self.items:
            with (self.diary / str(item)).open("a") as page:
                page.write(f"{os.getpid()}\n")
            if item == self.slow:
                self._wait()
            first = len((self.diary / str(item)).read_text().split()) == 1
            if item == self.deadly or (item == self.deadly_once and first):
                os.kill(os.getpid(), signal.SIGKILL)
            if item == self.wrong:
                raise ZeroDivisionError
        squares = [item * item for item in self.items]
        rows = {"item": list(self.items), "square": squares, "error": [None] * len(squares)}
        return pa.table(rows, schema=SCHEMA)

    def _wait(self) -> None:
        deadline = time.monotonic() + 60
        while len(list(self.diary.iterdir())) < self.others and time.monotonic() < deadline:
            time.sleep(0.01)


@attrs.frozen
class SquareStage:
    """Squares of 0 to `count`, some to a partition."""

    count: int
    diary: Path
    size: int = 4
    slow: int | None = None
    others: int = 20
    deadly: int | None = None
    deadly_once: int | None = None
    wrong: int | None = None

    @property
    def parts(self) -> range:
        return range(-(-self.count // self.size))

    def items(self, part: int) -> range:
        return range(part * self.size, min((part + 1) * self.size, self.count))

    def task(self, items: range) -> Squares:
        return Squares(
            items, self.diary, self.slow, self.others, self.deadly, self.deadly_once, self.wrong
        )

    def lost(self, item: int, reason: str) -> pa.Table:
        return pa.table({"item": [item], "square": [None], "error": [reason]}, schema=SCHEMA)

    def worked(self) -> dict[int, int]:
        """How often each item was begun."""
        pages = {int(page.name): page.read_text().split() for page in self.diary.iterdir()}
        return {item: len(pids) for item, pids in sorted(pages.items())}


def hold(folder: Path, told: Connection) -> None:
    """Hold a store until this process ends."""
    with Store(folder):
        told.send("held")
        time.sleep(60)
