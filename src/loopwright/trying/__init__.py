"""Socks tried by hand: move something and see what it does, in a notebook or a browser."""

from loopwright.border import guard
from loopwright.trying._bench import Bench, Run, Tried

__all__ = ["Bench", "Run", "Tried"]

guard(globals())
