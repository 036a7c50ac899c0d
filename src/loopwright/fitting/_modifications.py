"""What knitters change on a heel that is too tight, or too loose, as socks to be tried.

A modification goes by the fields of the heel's class, not by the heel: a heel of your own that has
``plain_rounds``, ``gusset``, ``wedge``, ``rows`` or ``longer`` is tried with more and fewer of
them. Each is common practice (extra plain rounds, a small gusset, a longer flap, the heel on 60 %
of the stitches); how many of them is searched for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, Final

import attrs

from loopwright.errors import ShapeError
from loopwright.fitting._closed_forms import flap_heel_girth_mm, wedge_heel_girth_mm
from loopwright.sock import Sock
from loopwright.sock.heels import heel_named, heels
from loopwright.sock.shortrows import ShortRows
from loopwright.sock.wedge import Wedge

__all__ = ["MODIFICATIONS", "Change", "Modification", "estimate_mm"]

_ROUNDS: Final = 24  # plain rounds or rows of flap that are tried at most; more is another heel
_GUSSET: Final = 12  # stitches a side; about 4 are common practice at fine gauge


@attrs.frozen
class Change:
    """One change to a sock.

    Parameters
    ----------
    words : str
        What is changed, as one would tell a knitter.
    sock : Sock
        The sock with that change.
    """

    words: str
    sock: Sock


Changes = Callable[[Sock, bool], Iterator[Change]]


@attrs.frozen
class Modification:
    """A kind of change.

    Parameters
    ----------
    name : str
    changes : callable
        Takes a sock and whether it is to be roomier; yields changes, the smallest first, none
        where the heel has nothing of the kind. Those that can't be made are the caller's to drop.
    is_search : bool
        Whether each change goes further the same way, so that the first that does is enough.
    """

    name: str
    changes: Changes
    is_search: bool = True


def estimate_mm(sock: Sock) -> float | None:
    """Return the heel girth by the flattened profile: for searches, without knitting.

    Good to a few per cent between variants of one heel; None where no closed form holds. A small
    gusset is counted at half its width, since it lies in the bend between leg and foot: our
    choice, which meets the relaxed surface within 2 to 3 %.

    Raises
    ------
    SizingError
        The sock can't be made.
    """
    plan = sock.plan()
    heel: Any = plan.heel
    size = {"stitch_mm": sock.gauge.stitch_width_mm, "course_mm": sock.gauge.course_height_mm}
    if hasattr(heel, "picked_up"):
        picked_up = heel.picked_up or heel.chains
        try:
            return flap_heel_girth_mm(plan.stitches.count, heel.rows, picked_up, **size)
        except ShapeError:
            return None
    width = plan.share.heel + getattr(heel, "gusset", 0)
    rounds = (heel.foot_courses + heel.leg_courses) / 2
    if not rounds:
        return None
    stitches = plan.share.instep + width
    return wedge_heel_girth_mm(stitches, rounds, heel_stitches=width, **size)


def _with(sock: Sock, **fields: Any) -> Sock:
    heel: Any = sock.heel
    return attrs.evolve(sock, heel=attrs.evolve(heel, **fields))


def _has(sock: Sock, field: str, kind: type) -> bool:
    heel: Any = sock.heel
    names = [one.name for one in attrs.fields(type(heel))] if attrs.has(type(heel)) else []
    value = getattr(heel, field, None)
    return field in names and isinstance(value, kind) and not isinstance(value, bool)


def _more(count: int, one: str, many: str, more: str = "more") -> str:
    return f"{count} {one if count == 1 else many} {more}"


def _plain_rounds(sock: Sock, roomier: bool) -> Iterator[Change]:
    if not _has(sock, "plain_rounds", int):
        return
    now = getattr(sock.heel, "plain_rounds", 0)
    for by in range(1, _ROUNDS + 1) if roomier else range(1, now + 1):
        words = _more(by, "plain round", "plain rounds", "more" if roomier else "fewer")
        rounds = now + by if roomier else now - by
        yield Change(f"{words} before the shaping", _with(sock, plain_rounds=rounds))


def _gusset(sock: Sock, roomier: bool) -> Iterator[Change]:
    if not _has(sock, "gusset", int):
        return
    now = getattr(sock.heel, "gusset", 0)
    for by in range(1, _GUSSET + 1) if roomier else range(1, now + 1):
        words = _more(by, "stitch", "stitches", "more" if roomier else "fewer")
        gusset = now + by if roomier else now - by
        yield Change(f"small gusset: {words} at each side", _with(sock, gusset=gusset))


def _further(sock: Sock, roomier: bool) -> Iterator[Change]:
    """Yield a heel decreased to fewer stitches, or to more."""
    heel: Any = sock.heel
    if not _has(sock, "wedge", Wedge) or heel.wedge.phases is not None:
        return
    numbers: Any = sock.plan().heel
    wedge, left, start = heel.wedge, numbers.wedge.left, numbers.wedge.start
    lefts = range(left - 4, wedge.least - 1, -4) if roomier else range(left + 4, start, 4)
    for fewer in lefts:
        words = f"heel decreased {'to' if roomier else 'no further than'} {fewer} stitches"
        yield Change(words, _with(sock, wedge=attrs.evolve(wedge, left=fewer)))


def _turns(sock: Sock, roomier: bool) -> Iterator[Change]:
    """Yield short rows to a narrower middle, or to a wider one."""
    heel: Any = sock.heel
    if not _has(sock, "rows", ShortRows):
        return
    numbers: Any = sock.plan().heel
    now, width = numbers.rows.side, numbers.rows.width
    sides = range(now + 1, width // 2) if roomier else range(now - 1, 0, -1)
    for side in sides:
        words = f"short rows to a middle of {width - 2 * side} stitches"
        yield Change(words, _with(sock, rows=attrs.evolve(heel.rows, side=side)))


def _flap(sock: Sock, roomier: bool) -> Iterator[Change]:
    heel: Any = sock.heel
    if not _has(sock, "longer", int):
        return
    numbers: Any = sock.plan().heel
    for by in range(2, _ROUNDS + 1, 2):
        words = _more(by, "row", "rows", "more" if roomier else "fewer")
        fields = {"longer": heel.longer + by}
        if not roomier:
            if numbers.rows - by < 4:
                return
            fields = {"rows": numbers.rows - by, "longer": 0}
        yield Change(f"flap with {words}", _with(sock, **fields))


def _share(sock: Sock, roomier: bool) -> Iterator[Change]:
    for share in (0.55, 0.6) if roomier else (0.45, 0.4):
        if (share > sock.share) is roomier and share != sock.share:
            words = f"heel on {100 * share:.0f} % of the stitches"
            yield Change(words, attrs.evolve(sock, share=share))


def _another(sock: Sock, roomier: bool) -> Iterator[Change]:
    for name in heels():
        if name != sock.heel.name:
            yield Change(f"another heel: {name}", attrs.evolve(sock, heel=heel_named(name)))


MODIFICATIONS: Final = (
    Modification("plain rounds", _plain_rounds),
    Modification("small gusset", _gusset),
    Modification("decreased further", _further),
    Modification("narrower middle", _turns),
    Modification("longer flap", _flap),
    Modification("heel on more stitches", _share),
    Modification("another heel", _another, is_search=False),
)
"""Those that `loopwright.fitting._remedies.remedies` tries."""
