"""What is unusual about a sock's numbers, before anything is knitted: typing slips, mostly.

Nothing here is impossible, or it would have been refused; each remark says what is usual and from
where that is known.
"""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.gauge import Gauge
from loopwright.sock._sock import Sock
from loopwright.sock.foot import Foot

__all__ = ["remarks"]

# Stitches to 10 cm: rope yarn has 7, lace 40 (a yarn trade association's table, from memory); old
# patterns in fine wool reach 55 (shared/patterns).
_FEWEST, _MOST = 8.0, 60.0
# Rounds to a stitch: 1.19 to 1.45 in published sock gauges (shared/yarn.toml).
_TALL, _FLAT = 1.05, 1.7
# Heel over ball girth: all of the survey's 6,068 feet lie between 1.178 and 1.574.
_SLIM, _HIGH = 1.18, 1.57
_LOOSEST, _TIGHTEST = 0.0, -0.20  # pages for sock knitters advise 10 to 20 % of negative ease


def remarks(sock: Sock) -> tuple[str, ...]:
    """Return what is unusual about a sock's numbers, each as a sentence; often nothing.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="24 cm", ball_girth="22 cm", heel_girth="23.5 cm")
    >>> for remark in remarks(Sock(foot=foot, gauge=Gauge.of(44, 32))):
    ...     print(remark)
    Gauge: 32 rounds to 44 stitches, where plain knitting has about 1.3 times as many rounds as
    stitches: are the two swapped?
    Heel girth 235 mm is 1.07 times the ball girth, where feet have 1.18 to 1.57 times: does the
    tape go over the tip of the heel and the front of the ankle?
    """
    return tuple(dict.fromkeys([*_of_gauge(sock.gauge), *_of_foot(sock.foot), *_of_ease(sock)]))


def _of_gauge(gauge: Gauge) -> Iterator[str]:
    stitches, rounds = 10 * gauge.stitches_per_cm, 10 * gauge.courses_per_cm
    if not _FEWEST <= stitches <= _MOST:
        how = "more" if stitches > _MOST else "fewer"
        yield (
            f"Gauge: {stitches:.0f} stitches to 10 cm, {how} than any yarn for socks has (mostly "
            "24 to 44): were they counted over another length?"
        )
    ratio = rounds / stitches
    if ratio < _TALL or ratio > _FLAT:
        asked = "are the two swapped?" if ratio < _TALL else "is one of the two miscounted?"
        yield (
            f"Gauge: {rounds:.0f} rounds to {stitches:.0f} stitches, where plain knitting has "
            f"about 1.3 times as many rounds as stitches: {asked}"
        )


def _of_foot(foot: Foot) -> Iterator[str]:
    heel, ball = foot.heel_girth, foot.ball_girth
    ratio = heel.mm / ball.mm
    taped = not (heel.is_estimated or ball.is_estimated)
    is_odd = taped and not _SLIM <= ratio <= _HIGH
    if is_odd:
        yield (
            f"Heel girth {heel.mm:.0f} mm is {ratio:.2f} times the ball girth, where feet have "
            f"{_SLIM} to {_HIGH} times: does the tape go over the tip of the heel and the front "
            "of the ankle?"
        )
    for note in foot.notes:
        if not (is_odd and "unusual with the other measures" in note):  # said already
            yield f"{note[:1].upper()}{note[1:]}."


def _of_ease(sock: Sock) -> Iterator[str]:
    if not _TIGHTEST <= sock.ease <= _LOOSEST:
        yield (
            f"Ease {100 * sock.ease:+z.0f} % round the foot, where 10 to 20 % of negative ease "
            "(-10 % to -20 %) are usual."
        )
