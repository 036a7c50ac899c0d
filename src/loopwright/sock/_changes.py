"""What knitters change on a sock that is too tight, or too loose, as socks to be tried.

What can be changed on a heel stands in the heel's own file (`Heel.changes`). The others are the
sock's: more stitches (less negative ease), the heel on more of them, a leg that is shaped or
ribbed, a longer foot, another heel. Each is common practice (extra plain rounds, a small gusset, a
longer flap, the heel on 60 % of the stitches).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

import attrs

from loopwright.errors import SizingError
from loopwright.plurals import plural
from loopwright.sock._legs import PlainLeg, RibbedLeg, ShapedLeg
from loopwright.sock._sock import Sock
from loopwright.sock.heels import heel_named, heel_names

__all__ = ["Change", "changes"]


_MOST_EASE, _LEAST_EASE = 0.05, -0.25  # no sock of more or less is offered: our choice
_REPEATS: Final = 6  # of the counts that suit cuff, leg and heel, to either side, that are tried
_LONGER_MM: Final = (5.0, 10.0, 15.0, 20.0)
_NO_SERIES: Final = {"another leg", "another heel"}


@attrs.frozen
class Change:
    """One change to a sock.

    Parameters
    ----------
    key : str
        Its kind: "plain rounds", "heel on more stitches", "another heel".
    words : str
        What is changed, as one would tell a knitter.
    by : float
        How many stitches, rounds or rows more, fewer where negative; of the heel's share, the
        difference of the shares; of the foot's length, mm; of another heel or leg, 0.
    sock : Sock
        The sock with that change.
    is_series : bool
        Whether the next change of its kind goes further the same way.
    """

    key: str
    words: str
    by: float
    sock: Sock
    is_series: bool = True


def changes(sock: Sock, *, roomier: bool = True) -> Iterator[Change]:
    """Yield the changes of one thing that give the sock more room, or less.

    Those of one kind stand together, the smallest first. What the sock's other choices rule out
    is not among them; the rest may still turn out not to be made: they are not yet planned.

    Raises
    ------
    SizingError
        The sock as it is can't be made.

    Examples
    --------
    >>> from loopwright import Foot, Gauge
    >>> sock = Sock(foot=Foot.of(length="24.6 cm"), gauge=Gauge.of(32, 44), heel="short-row")
    >>> found = list(changes(sock))
    >>> list(dict.fromkeys(change.key for change in found))
    ['small gusset', 'narrower middle', 'more stitches', 'heel on more stitches', 'another leg',
     'longer foot', 'another heel']
    >>> print(f"{found[0].words} ({found[0].by:+g}): {found[0].sock.heel.gusset}")
    small gusset: 1 stitch more at each side (+1): 1
    """
    for one in sock.heel.changes(sock.plan().setting, roomier=roomier):
        yield from _change(one.key, one.words, one.by, sock, heel=one.heel)
    yield from _counts(sock, roomier=roomier)
    for share in (0.55, 0.6) if roomier else (0.45, 0.4):
        if (share > sock.share) is roomier and share != sock.share:
            words = f"heel on {100 * share:.0f} % of the stitches"
            yield from _change(
                "heel on more stitches", words, share - sock.share, sock, share=share
            )
    yield from _leg(sock, roomier=roomier)
    for by_mm in _LONGER_MM if roomier else (-by for by in _LONGER_MM):
        words = f"foot {abs(by_mm) / 10:g} cm {'longer' if roomier else 'shorter'}"
        length_mm = sock.length_ease_mm + by_mm
        yield from _change("longer foot", words, by_mm, sock, length_ease_mm=length_mm)
    for name in heel_names():
        if name != sock.heel.name:
            words = f"another heel: {name}"
            yield from _change("another heel", words, 0.0, sock, heel=heel_named(name))


def _change(key: str, words: str, by: float, sock: Sock, **changed: Any) -> Iterator[Change]:
    """Yield a change, unless a sock refuses it beside its other choices."""
    try:
        other = attrs.evolve(sock, **changed)
    except SizingError:
        return
    yield Change(key, words, by, other, is_series=key not in _NO_SERIES)


def _counts(sock: Sock, *, roomier: bool) -> Iterator[Change]:
    """Yield more stitches round leg and foot, or fewer: as ease, unless their number was asked."""
    plan = sock.plan()
    now, stitch_mm = plan.stitches.count, sock.gauge.stitch_width_mm
    ball_mm, step = sock.foot.ball_girth.mm, sock.multiple.of
    for times in range(1, _REPEATS + 1):
        count = now + times * step * (1 if roomier else -1)
        ease = round(count * stitch_mm / ball_mm - 1, 3)
        if count < 8 or not _LEAST_EASE <= ease <= _MOST_EASE:
            return
        by = count - now
        words = (
            f"{plural(abs(by), 'stitch')} {'more' if roomier else 'fewer'} round leg and foot: "
            f"{count}, an ease of {100 * ease:+z.0f} %"
        )
        asked = {"ease": ease} if sock.stitches is None else {"stitches": count}
        yield from _change("more stitches", words, by, sock, **asked)


def _leg(sock: Sock, *, roomier: bool) -> Iterator[Change]:
    """Yield a leg that widens to the calf, or one that draws in."""
    if not isinstance(sock.leg, PlainLeg):
        return
    if roomier:
        words = "leg shaped: wider at its upper end"
        yield from _change("another leg", words, 0.0, sock, leg=ShapedLeg())
    elif sock.cuff.is_rib:
        yield from _change("another leg", "leg in the cuff's rib", 0.0, sock, leg=RibbedLeg())
