"""A bar on a terminal that shows how far long work has come, and nothing elsewhere."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

import click

from loopwright.progress import Progress

__all__ = ["shown_progress"]


@contextmanager
def shown_progress(*, quiet: bool = False) -> Iterator[Progress | None]:
    """Yield what shows progress; None where nobody looks.

    Examples
    --------
    >>> with shown_progress(quiet=True) as progress:
    ...     progress is None
    True
    """
    if quiet or not sys.stderr.isatty():
        yield None
        return
    with click.progressbar(
        length=1, file=sys.stderr, item_show_func=lambda what: what or "", show_eta=False
    ) as bar:

        def show(done: int, of: int, what: str) -> None:
            bar.length = of
            bar.update(done - bar.pos, what)

        yield show
