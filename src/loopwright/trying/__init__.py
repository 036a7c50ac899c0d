"""Socks tried by hand: move something and see what it does, in a notebook or a browser."""

from loopwright.border import guard
from loopwright.trying._bench import Bench, Trial, Tried
from loopwright.trying._widget import Explorer, explore

__all__ = ["Bench", "Explorer", "Trial", "Tried", "explore"]

guard(globals())
