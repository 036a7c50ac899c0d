"""How objects show themselves: one short line for a programmer, a picture in a notebook.

A main object says in one line what it is (`repr`), says all there is to say in `str`, and in a
notebook shows itself. Pictures stand above what they show and may not be imported from below. So
whoever draws lays a picture down here, and it is asked for by name the first time it is wanted.
"""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from importlib import import_module
from typing import Any, Final, TypeVar

__all__ = ["Shown", "shows"]

_LONGEST: Final = 100  # letters of a line that stands in a list or an error
_T = TypeVar("_T")
_Show = Callable[[Any], str]

_SHOWN: Final[dict[type, _Show]] = {}


def shows(kind: type[_T]) -> Callable[[Callable[[_T], str]], Callable[[_T], str]]:
    """Let a function give the HTML that objects of a kind show in a notebook.

    Examples
    --------
    >>> class Ball(Shown):
    ...     def __str__(self) -> str:
    ...         return "50 g of main"
    >>> @shows(Ball)
    ... def ball_html(ball: Ball) -> str:
    ...     return f"<b>{ball}</b>"
    >>> Ball(), Ball()._repr_html_()
    (<Ball: 50 g of main>, '<b>50 g of main</b>')
    """

    def keep(show: Callable[[_T], str]) -> Callable[[_T], str]:
        _SHOWN[kind] = show
        return show

    return keep


class Shown:
    """An object that says in one line what it is, and shows itself in a notebook.

    A class that derives from it has a ``__str__`` whose first line is enough by itself.
    """

    __slots__ = ()

    def __repr__(self) -> str:
        line = str(self).partition("\n")[0]
        short = line if len(line) <= _LONGEST else f"{line[: _LONGEST - 3]}..."
        return f"<{type(self).__name__}: {short}>"

    def _repr_html_(self) -> str:
        import_module("loopwright.picture.notebook")  # lays down what is drawn
        for kind in type(self).__mro__:
            if kind in _SHOWN:
                return _SHOWN[kind](self)
        return f"<pre>{escape(str(self))}</pre>"
