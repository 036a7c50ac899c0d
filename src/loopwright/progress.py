"""How far long work has come: one habit for all of it.

Whatever takes long takes ``progress=``: a callable that is given how much is done, of how much,
and what is being worked on. It is called about ten times a second at most, and once at the end. If
it raises, the work stops; nothing is left half done, since nothing is changed before it is whole.

Inside, an operation is watched by whoever began it. So work that is put off is heard as well: a
sample relaxes its sock when its girths are first asked for. And each part of a larger work says
how far it has come, and knows nothing of the whole.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final, TypeAlias

import attrs

from loopwright.border import guard

__all__ = ["Progress", "advance", "share", "watched"]

Progress: TypeAlias = Callable[[int, int, str], object]
"""Is given what is done, of how much, and what is being worked on; stops the work by raising."""

_OF: Final = 1000  # parts of the whole that are reported
_PAUSE_S: Final = 0.1  # between two calls, so that telling costs nothing


@attrs.define
class _Watch:
    tell: Progress
    begun: float = 0.0  # how much of the whole was done when the present part began
    part: float = 1.0  # how much of the whole that part is
    what: str = ""
    told_s: float = -1.0  # when it was reported last


_WATCH: ContextVar[_Watch | None] = ContextVar("loopwright_watch", default=None)


@contextmanager
def watched(progress: Progress | None) -> Iterator[None]:
    """Let `progress` hear what is done in this block; without one, nothing changes.

    Inside the work of another it is that one's part, and is heard there too.

    Examples
    --------
    >>> with watched(lambda done, of, what: print(done, of, what)):
    ...     for sock in range(2):
    ...         with share(sock, 2, f"sock {sock + 1}"):
    ...             pass
    500 1000 sock 1
    1000 1000 sock 2
    """
    if progress is None:
        yield
        return
    token = _WATCH.set(_Watch(progress))
    try:
        yield
    finally:
        _WATCH.reset(token)


@contextmanager
def share(place: float, of: float, what: str) -> Iterator[None]:
    """Count this block as one of `of` equal parts of the work in hand, and say when it is done.

    Parts that grow smaller have an `of` that grows, and begin at `place` / `of` of the whole.

    Examples
    --------
    >>> with share(0, 3, "nobody listens"):
    ...     pass
    """
    watch = _WATCH.get()
    if watch is None:
        yield
        return
    before = (watch.begun, watch.part, watch.what)
    watch.begun, watch.part = before[0] + before[1] * place / of, before[1] / of
    watch.what = ": ".join(filter(None, (before[2], what)))
    try:
        yield
        _tell(watch, 1.0, watch.what)
    finally:
        watch.begun, watch.part, watch.what = before


def advance(done: int, of: int) -> None:
    """Tell how much of the work in hand is done; what calls it need not know who listens.

    Examples
    --------
    >>> with watched(lambda done, of, what: print(done, of, what)), share(0, 1, "relaxing"):
    ...     advance(20, 80)
    250 1000 relaxing
    1000 1000 relaxing
    """
    watch = _WATCH.get()
    if watch is not None and time.monotonic() - watch.told_s >= _PAUSE_S:
        _tell(watch, done / of if of else 1.0, watch.what)


def _tell(watch: _Watch, inner: float, what: str) -> None:
    watch.told_s = time.monotonic()
    watch.tell(round(_OF * (watch.begun + watch.part * inner)), _OF, what)


guard(globals())
