"""Estimates without knitting: from the counts, and from a sock that was relaxed before.

Girths of tubes follow from the counts. The heel's is that of its flattened profile, scaled to what
the measured sock has, and by how far relaxed heels of either kind are from their profiles. Instep
and ankle go with the round.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import attrs

from loopwright.fitting._fit import Fit, judged
from loopwright.fitting._sample import Sample, taped
from loopwright.length import Length
from loopwright.sock import Direction, Plan, Sock
from loopwright.sock.foot import Foot

__all__ = ["ESTIMATED", "estimate_mm", "estimated_fit", "estimated_girths"]

ESTIMATED: Final = (
    "Estimated from the counts and from a sock that was measured: a few per cent off, until this "
    "one is relaxed."
)


def estimate_mm(sock: Sock) -> float | None:
    """Return the heel girth by the flattened profile: for searches, without knitting.

    Good to a few per cent between variants of one heel; None where no closed form holds.

    Raises
    ------
    SizingError
        The sock can't be made.
    """
    return sock.heel.girth_mm(sock.plan().setting)


def estimated_girths(sock: Sock, measured: Sample, *, scale: float = 1.0) -> Mapping[str, Length]:
    """Return the girths that a sock should have, in the way a sample has them.

    Parameters
    ----------
    sock : Sock
    measured : Sample
        The nearest sock whose girths are known.
    scale : float
        Of the heel, by what others of its kind were off.

    Raises
    ------
    SizingError
        The sock can't be made.
    """
    plan, was, gauge = sock.plan(), measured.girths, sock.gauge
    more = _round_mm(sock, plan) / _round_mm(measured.sock, measured.plan)
    # Patterns and panels on the leg, which its stitches alone don't tell, are in what was measured.
    leg = _leg_mm(sock, plan) / _leg_mm(measured.sock, measured.plan)
    guess, now = (
        None if (mm := estimate_mm(one)) is None else mm * _as_relaxed(one)
        for one in (sock, measured.sock)
    )
    heel = was["heel"].mm * (guess / now if guess and now else more) * scale
    return {
        "ball": _scaled(was["ball"], was["ball"].mm * more),
        "instep": _scaled(was["instep"], was["instep"].mm * more),
        "ankle": _scaled(was["ankle"], was["ankle"].mm * more),
        "heel": _scaled(was["heel"], heel),
        "leg": _scaled(was["leg"], was["leg"].mm * leg),
        "top": taped(gauge.width(plan.top), sock.hands),
    }


def estimated_fit(sock: Sock, measured: Sample, foot: Foot | None = None) -> Fit:
    """Return how a sock should sit, without knitting it.

    Parameters
    ----------
    sock : Sock
    measured : Sample
        The nearest sock whose girths are known: the same heel, if there is one.
    foot : Foot, optional
        The sock's own by default.

    Raises
    ------
    SizingError
        The sock can't be made.

    See Also
    --------
    fit : knits and relaxes it.

    Examples
    --------
    >>> from loopwright.fitting import sample
    >>> from loopwright.gauge import Gauge
    >>> sock = Sock(foot=Foot.of(length="16 cm", ball_girth="15.5 cm"), gauge=Gauge.of(14, 20))
    >>> roomier = attrs.evolve(sock, ease=0.02, heel="flap")
    >>> guess = estimated_fit(roomier, sample(sock, quick=True))
    >>> print(guess.accuracy)
    Estimated from the counts and from a sock that was measured: a few per cent off, until ...
    >>> round(guess.at("ball").sock.mm), round(guess.at("heel").sock.mm)
    (171, 230)
    """
    sits = judged(sock, estimated_girths(sock, measured), sock.foot if foot is None else foot)
    return attrs.evolve(sits, accuracy=ESTIMATED)


# Girth of the relaxed heel over that of its flattened profile, from socks of 40 to 60 stitches that
# were relaxed and measured in full; within 3 % between them. No publication has such figures.
_AS_RELAXED: Final = {
    ("afterthought", Direction.CUFF_DOWN): 0.988, ("afterthought", Direction.TOE_UP): 0.987,
    ("forethought", Direction.CUFF_DOWN): 0.998, ("forethought", Direction.TOE_UP): 1.0,
    ("short-row", Direction.CUFF_DOWN): 0.996, ("short-row", Direction.TOE_UP): 0.993,
    ("short-row with gusset", Direction.CUFF_DOWN): 1.012,
    ("short-row with gusset", Direction.TOE_UP): 1.012,
    ("flap", Direction.CUFF_DOWN): 1.058, ("flap", Direction.TOE_UP): 1.015,
}  # fmt: skip
_POINTED, _CUTS = 8, 0.94  # a pocket closed over so few stitches: the line cuts its tip
_WIDENS = 0.24  # of a gusset's share of the heel's stitches


def _as_relaxed(sock: Sock) -> float:
    """Return how the relaxed heel's girth goes with that of its flattened profile."""
    numbers = sock.plan().heel
    found = _AS_RELAXED.get((sock.heel.name, sock.direction), 1.0)
    wedge, gusset = getattr(numbers, "wedge", None), getattr(sock.heel, "gusset", 0)
    if wedge is not None and wedge.left <= _POINTED:
        found *= _CUTS
    if wedge is not None and gusset:
        found *= 1 + _WIDENS * gusset / sock.plan().share.heel
    return found


def _round_mm(sock: Sock, plan: Plan) -> float:
    return sock.gauge.width(plan.stitches.count).mm


def _leg_mm(sock: Sock, plan: Plan) -> float:
    """Its stitches where it is narrowest."""
    return sock.gauge.width(min(plan.stitches.count, plan.top)).mm


def _scaled(was: Length, mm: float) -> Length:
    return attrs.evolve(was, mm=mm, sd_mm=was.sd_mm * mm / was.mm)
