"""Your hands: what measured pieces say of how your socks differ from the model.

Ordinary Bayesian regression. Each thing that a tape said is a row. The logarithm of knitted over
calculated is width, height and heel by the shares of `TapeLine`, plus what differs from piece to
piece, plus the tape. The prior is what holds while nothing is measured: 9 % over the heel, as two
standard deviations. All are taken as normal, so that the posterior is a matrix and no sampling.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

import attrs
import numpy as np

from loopwright.design import DesignFile
from loopwright.fitting._sample import Sample
from loopwright.fitting.girths import measure
from loopwright.geometry import shape
from loopwright.pattern import knit
from loopwright.progress import Progress, share, watched
from loopwright.sock import PIECE_SD, Hands, Measured, TapeLine
from loopwright.sock.grading import Design

__all__ = ["hands_of", "learned", "with_hands"]

_OTHER_STATE: Final = 0.03  # relative, of a piece measured in another state than its swatch: ours
_LINES: Final = {
    "heel_girth": TapeLine.OVER_THE_HEEL,
    "foot_girth": TapeLine.ROUND,
    "leg_girth": TapeLine.ROUND,
    "foot_length": TapeLine.ALONG,
}


def learned(readings: Iterable[tuple[TapeLine, float, float]], *, pieces: int) -> Hands:
    """Return the posterior of some readings.

    Parameters
    ----------
    readings : iterable of tuple
        What was measured; knitted over calculated; its relative standard deviation, the tape's and
        whatever else this reading has, without the spread from piece to piece.
    pieces : int
        How many pieces they are of.

    Examples
    --------
    One heel that came out 4 % smaller moves the next by most of that, and halves the doubt:

    >>> hands = learned([(TapeLine.OVER_THE_HEEL, 0.96, 0.012)], pieces=1)
    >>> factor, sd = hands.factor(TapeLine.OVER_THE_HEEL)
    >>> round(factor, 3), round(sd, 3)
    (0.967, 0.023)
    """
    prior = Hands()
    precision = np.linalg.inv(np.array(prior.covariance))
    weighted = precision @ np.array(prior.mean)
    for line, ratio, sd in readings:
        row = np.array(line.value)
        weight = 1 / (sd**2 + PIECE_SD**2)
        precision = precision + weight * np.outer(row, row)
        weighted = weighted + weight * math.log(ratio) * row
    covariance = np.linalg.inv(precision)
    mean = covariance @ weighted
    rows = tuple((float(a), float(b), float(c)) for a, b, c in covariance)
    return Hands((float(mean[0]), float(mean[1]), float(mean[2])), rows, pieces)


def hands_of(pieces: Iterable[Measured], *, progress: Progress | None = None) -> Hands:
    """Return how the socks of the hands that knitted some pieces differ from the model.

    Parameters
    ----------
    pieces : iterable of Measured
        Each is knitted and relaxed here too, to be held against; of one pair of hands.
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`.

    Raises
    ------
    FootError
        A tape that can't have been round that piece.

    Examples
    --------
    >>> from loopwright import Foot, Gauge, Sock
    >>> from loopwright.length import Length
    >>> sock = Sock(foot=Foot.of(length="16 cm", ball_girth="15.5 cm"), gauge=Gauge.of(14, 20))
    >>> heel = Sample(sock).girths["heel"]
    >>> hands = hands_of([Measured(sock=sock, heel_girth=Length(0.95 * heel.mm, 3.0))])
    >>> print(hands)
    by 1 measured piece these hands differ from the model: round -1.0 ± 3.2 %, in length -1.0 ...
    """
    several = tuple(pieces)
    rows: list[tuple[TapeLine, float, float]] = []
    with watched(progress):
        for place, piece in enumerate(several):
            with share(place, len(several), piece.name or f"piece {place + 1}"):
                rows += _readings(piece)
    return learned(rows, pieces=len(several))


def _readings(piece: Measured) -> Iterable[tuple[TapeLine, float, float]]:
    calculated = _calculated(piece)
    other = 0.0 if piece.state is piece.swatch.state else _OTHER_STATE
    for name, taped in piece.taped():
        ratio = taped.mm / calculated[name]
        piece.refuse_slips(name, ratio)
        yield _LINES[name], ratio, math.hypot(taped.sd_mm / taped.mm, other)


def _calculated(piece: Measured) -> dict[str, float]:
    """Return what the model has for each thing that a tape measures, mm."""
    if piece.sock is not None:
        made = Sample(attrs.evolve(piece.sock, gauge=piece.swatch, hands=None))
        girths = made.girths
        return {
            "heel_girth": girths["heel"].mm,
            "foot_girth": girths["ball"].mm,
            "leg_girth": girths["leg"].mm,
            "foot_length": made.plan.measure("foot length").finished.mm,
        }
    assert piece.pattern is not None  # refused otherwise
    lines = measure(shape(knit(piece.pattern), piece.swatch))
    found = {"foot_girth": lines.ball.length_mm, "foot_length": lines.sole.length_mm,
             "leg_girth": lines.cuff_mm}  # fmt: skip
    return found | ({"heel_girth": lines.heel.length_mm} if lines.heel else {})


def with_hands(design_file: DesignFile, *, progress: Progress | None = None) -> DesignFile:
    """Return a design whose socks know what its measured pieces say of the hands that knit them.

    As it is where nothing was measured, or the socks know already.

    Parameters
    ----------
    design_file : DesignFile
    progress : callable, optional
        Is given what is done, of how much, and what; see `loopwright.progress`.

    Examples
    --------
    >>> from loopwright.design import read_design
    >>> design_file = read_design('''
    ... gauge = {stitches = 14, rounds = 20, over = "10 cm"}
    ... foot = {length = "16 cm", ball_girth = "15.5 cm"}
    ... [[measured]]
    ... foot_girth = "13.6 cm"
    ... ''')
    >>> ((_, sock),) = with_hands(design_file).design.socks
    >>> sock.hands.pieces
    1
    """
    socks = design_file.design.socks
    if not design_file.measured or any(sock.hands for _, sock in socks):
        return design_file
    hands = hands_of(design_file.measured, progress=progress)
    known = {name: attrs.evolve(sock, hands=hands) for name, sock in socks}
    return attrs.evolve(design_file, design=Design(design_file.design.title, known))
