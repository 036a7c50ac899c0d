"""What knitters change on a sock whose heel is too tight, or too loose, as socks to be tried.

What can be changed on a heel stands in the heel's own file (`Heel.changes`). Two changes are the
sock's: the heel on more of the stitches, and another heel. Each is common practice (extra plain
rounds, a small gusset, a longer flap, the heel on 60 % of the stitches).
"""

from __future__ import annotations

from collections.abc import Iterator

import attrs

from loopwright.sock._sock import Sock
from loopwright.sock.heels import heel_named, heel_names

__all__ = ["Change", "changes"]


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
        difference of the shares; of another heel, 0.
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
    """Yield the changes of one thing that give the heel more room, or less.

    Those of one kind stand together, the smallest first. Some may turn out not to be made: their
    socks are not yet planned.

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
    ['small gusset', 'narrower middle', 'heel on more stitches', 'another heel']
    >>> print(f"{found[0].words} ({found[0].by:+g}): {found[0].sock.heel.gusset}")
    small gusset: 1 stitch more at each side (+1): 1
    """
    for one in sock.heel.changes(sock.plan().setting, roomier=roomier):
        yield Change(one.key, one.words, one.by, attrs.evolve(sock, heel=one.heel))
    for share in (0.55, 0.6) if roomier else (0.45, 0.4):
        if (share > sock.share) is roomier and share != sock.share:
            words = f"heel on {100 * share:.0f} % of the stitches"
            by = share - sock.share
            yield Change("heel on more stitches", words, by, attrs.evolve(sock, share=share))
    for name in heel_names():
        if name != sock.heel.name:
            other = attrs.evolve(sock, heel=heel_named(name))
            yield Change("another heel", f"another heel: {name}", 0.0, other, is_series=False)
