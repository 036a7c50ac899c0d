"""One thread for the arithmetic of one shape.

On vectors as short as a sock's, the threads of linear algebra cost more than they bring, since
they wait for each other in a loop. On two busy cores a shape of 6,000 loops takes four to nine
times as much processor time with them. Whoever has many socks shares those out instead.
"""

from __future__ import annotations

from contextlib import AbstractContextManager
from functools import lru_cache

# Both must have loaded their linear algebra before the controller looks for it.
import numpy as np  # noqa: F401
import scipy.linalg  # noqa: F401
from threadpoolctl import ThreadpoolController

from loopwright.border import guard

__all__ = ["one_thread"]


@lru_cache(maxsize=1)  # looking for the libraries takes longer than limiting them: 0.1 ms
def _controller() -> ThreadpoolController:
    return ThreadpoolController()


def one_thread() -> AbstractContextManager[object]:
    """Return a context in which linear algebra keeps to one thread."""
    limited: AbstractContextManager[object] = _controller().limit(limits=1)
    return limited


guard(globals())
