"""Counts without a fabric: how many stitches are ahead, behind, held, and where markers hang.

Places are kept so that they need no moving while stitches are worked: what lies ahead is measured
from the end of the row, what lies behind from its beginning. Turning swaps the two.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeAlias

import attrs

from loopwright.plurals import plural

__all__ = [
    "GAP", "MARKER", "NEEDLE", "Key", "Piece", "State", "Tally", "Trouble", "apart", "never",
    "otherwise",
]  # fmt: skip

MARKER, NEEDLE, GAP = "marker", "needle", "gap"
Key: TypeAlias = tuple[str, str | int]  # what hangs there, and its name or number
Piece: TypeAlias = tuple[int, int, int]  # stitches taken, stitches left, how many times
Places: TypeAlias = tuple[tuple[Key, int], ...]
State: TypeAlias = tuple[int, int, bool, bool, tuple[str, ...], Places, Places, int, bool]


class Trouble(Exception):  # noqa: N818 - never reaches a user: it becomes an error or a finding
    """An instruction that cannot be worked as it stands: kind, what is wrong, where.

    ``off`` tells by how many stitches it misses, and of how many.
    """

    def __init__(
        self,
        kind: str,
        problem: str,
        column: int = 0,
        stitch: int = 1,
        off: tuple[int, int] = (0, 0),
    ) -> None:
        super().__init__(problem)
        self.kind, self.problem, self.column, self.stitch = kind, problem, column, stitch
        self.off = off

    @property
    def is_at_the_end(self) -> bool:
        """Whether no stitch is left at all, as its words say: a row may be thought worked."""
        return " 0 are left" in self.problem


def apart(stated: int, worked: int) -> tuple[int, int]:
    """Return by how many stitches two counts differ, and of how many."""
    return abs(stated - worked), max(stated, worked)


def otherwise(stated: int, found: int, said: str) -> Trouble:
    """Return the trouble that a stated number of stitches is not the one found."""
    return Trouble("count", f"{plural(stated, 'st')} {said}", off=apart(stated, found))


def never(doing: str, wanted: int, where: str = "") -> Trouble:
    """Return the trouble that no number of rounds leads to the stitches wanted."""
    said = f"{doing} never gives {plural(wanted, 'st')}{where}"
    return Trouble("count", said, off=apart(wanted, 0))


@attrs.define
class Tally:
    """What is on the needles, as numbers.

    Examples
    --------
    >>> tally = Tally(ahead=8, in_rounds=True)
    >>> tally.advance([(1, 1, 3), (2, 1, 1)])  # k3, k2tog
    >>> tally.behind, tally.ahead, tally.count
    (4, 3, 7)
    """

    ahead: int = 0
    behind: int = 0
    in_rounds: bool = False
    right_side: bool = True
    courses: int = 0
    parts: tuple[str, ...] = ()
    held: dict[str, int] = attrs.field(factory=dict)
    waste: dict[str, tuple[int, int]] = attrs.field(factory=dict)  # stitches below, above
    opened: dict[str, int] = attrs.field(factory=dict)  # taken out and not recaptured: above
    ahead_at: dict[Key, int] = attrs.field(factory=dict)  # stitches between it and the end
    behind_at: dict[Key, int] = attrs.field(factory=dict)  # stitches between the beginning and it
    _number: int = 0
    _round_over: bool = False  # rows began at a round's end, and nothing was worked since

    @property
    def count(self) -> int:
        """Live stitches on the needles."""
        return self.ahead + self.behind

    def copy(self) -> Tally:
        """Return a tally of the same that can go its own way."""
        return Tally(
            self.ahead, self.behind, self.in_rounds, self.right_side, self.courses, self.parts,
            dict(self.held), dict(self.waste), dict(self.opened),
            dict(self.ahead_at), dict(self.behind_at), self._number, self._round_over,
        )  # fmt: skip

    def state(self) -> State:
        """Return how the live stitches lie, and what hangs between them."""
        return (
            self.ahead, self.behind, self.in_rounds, self.right_side, self.parts,
            tuple(self.ahead_at.items()), tuple(self.behind_at.items()),
            self._number, self._round_over,
        )  # fmt: skip

    def go_to(self, state: State) -> None:
        """Let the live stitches lie as others did."""
        self.ahead, self.behind, self.in_rounds, self.right_side, self.parts = state[:5]
        self.ahead_at, self.behind_at = dict(state[5]), dict(state[6])
        self._number, self._round_over = state[7:]

    def advance(self, pieces: Sequence[Piece]) -> None:
        """Work stitches; markers that are passed go along, gaps that are crossed are closed."""
        taken = left = 0
        for takes, leaves, times in pieces:
            taken += takes * times
            left += leaves * times
        if self.ahead_at:
            self._pass(pieces, taken)
        self.ahead -= taken
        self.behind += left
        self._round_over = False
        self.go_round()

    def after(self, pieces: Sequence[Piece]) -> Tally:
        """Return the tally as it will be when these are worked; this one stays as it is."""
        later = self.copy()
        later.advance(pieces)
        return later

    def _pass(self, pieces: Sequence[Piece], taken: int) -> None:
        for key, from_end in list(self.ahead_at.items()):
            distance = self.ahead - from_end
            if distance >= taken:
                continue
            del self.ahead_at[key]
            if key[0] != GAP:
                self.behind_at[key] = self.behind + _left_before(distance, pieces)

    def to_rows(self) -> None:
        """Go over from rounds to rows; at a round's end, either way leads back over all of it."""
        self._round_over |= self.in_rounds and not self.behind
        self.in_rounds = False

    def go_round(self) -> None:
        """Begin the next round where one has come to its end."""
        if self.in_rounds:
            self._bring_back()

    def _bring_back(self) -> None:
        if self.ahead or not self.behind:
            return
        self.ahead, self.behind = self.behind, 0
        self.ahead_at = {
            **dict.fromkeys(self.ahead_at, self.ahead),
            **{key: self.ahead - place for key, place in self.behind_at.items()},
        }
        self.behind_at = {}
        self.courses += 1

    def turn(self) -> None:
        """Turn the work; stitches left unworked leave a gap."""
        over = self._round_over and not self.behind
        if self.ahead and self.behind:
            self._number += 1
            self.ahead_at[GAP, self._number] = self.ahead
        self.ahead, self.behind = self.behind, self.ahead
        self.ahead_at, self.behind_at = self.behind_at, self.ahead_at
        self.right_side = not self.right_side
        if self.in_rounds or over:
            self._bring_back()

    def distance(self, key: Key) -> int | None:
        """Return how many stitches ahead a place is, None if it is not ahead."""
        from_end = self.ahead_at.get(key)
        return None if from_end is None else self.ahead - from_end

    def next_of(self, kind: str, *, beyond: int = 0) -> int | None:
        """Return how many stitches ahead the nearest place of a kind is, `beyond` or farther."""
        found = [
            self.ahead - from_end
            for (what, _), from_end in self.ahead_at.items()
            if what == kind and self.ahead - from_end >= beyond
        ]
        return min(found, default=None)

    def keep_markers_out(self, width: int, times: int, ahead: int) -> None:
        """Refuse to cross `width` stitches, `ahead` of here, where a marker hangs between two of
        them.
        """
        for kind, name in self.ahead_at:
            at = (self.distance((kind, name)) or 0) - ahead
            if kind == MARKER and 0 < at < width * times and at % width:
                called = "a marker" if str(name).startswith("#") else f"marker {name}"
                where = f"hangs amid the {width} sts that cross, behind {at % width} of them"
                raise Trouble("place", f"{called} {where}")

    def has(self, kind: str) -> bool:
        """Tell whether anything of a kind hangs anywhere."""
        return any(key[0] == kind for key in (*self.ahead_at, *self.behind_at))

    def names(self, kind: str) -> tuple[str, ...]:
        """Return the names of all places of a kind."""
        return tuple(str(name) for what, name in (*self.ahead_at, *self.behind_at) if what == kind)

    def ends_at_marker(self, name: str) -> bool:
        """Tell whether the round ends at a marker: the one that hangs where it began."""
        here = [key for key, at in self.behind_at.items() if key[0] == MARKER and at == 0]
        return self.in_rounds and any(not name or key[1] == name for key in here)

    def marker_is_here(self, name: str) -> bool:
        """Tell whether a marker, of a name or any, hangs where the work stands."""
        hung = (key for key in (*self.ahead_at, *self.behind_at) if key[0] == MARKER)
        return any(name in ("", key[1]) and self._is_here(key) for key in hung)

    def mark(self, placing: bool, slipping: bool, called: str) -> None:
        """Place, slip or take off a marker where the work stands."""
        if placing:
            hung = self.names(MARKER)
            free = (f"#{number}" for number in range(len(hung) + 1, 2 * len(hung) + 2))
            name = called or next(name for name in free if name not in hung)
            if name in hung:
                raise Trouble("place", f"marker {name} hangs on the needle already")
            self.place((MARKER, name))
            return
        for name in (called,) if called else self.names(MARKER):
            key = (MARKER, name)
            if self.drop(key):
                if slipping:
                    self.place(key)
                return
        raise Trouble("place", f"marker {called} is not here".replace("  ", " "))

    def place(self, key: Key) -> None:
        """Hang something where the work stands."""
        self.behind_at[key] = self.behind

    def drop(self, key: Key) -> bool:
        """Take something off; True if it hung exactly here."""
        here = self._is_here(key)
        if here:
            self.ahead_at.pop(key, None)
            self.behind_at.pop(key, None)
        return here

    def _is_here(self, key: Key) -> bool:
        return self.distance(key) == 0 or self.behind_at.get(key) == self.behind

    def next_needle(self, number: int) -> None:
        """Let the needle of this number begin where the work stands, after all that was made."""
        self.ahead_at.pop((NEEDLE, number - 2), None)
        self.behind_at[NEEDLE, number - 2] = self.behind

    def arrange(self, parts: Sequence[tuple[str, int]]) -> None:
        """Let needles end where these counts say, from the beginning of the round."""
        for places in (self.ahead_at, self.behind_at):
            for key in [key for key in places if key[0] == NEEDLE]:
                del places[key]
        self.parts = tuple(name for name, _ in parts)
        place = 0
        for number, (_, stitches) in enumerate(parts[:-1]):
            place += stitches
            from_start = place if self.right_side else self.count - place
            if from_start <= self.behind and self.behind:
                self.behind_at[NEEDLE, number] = from_start
            else:
                self.ahead_at[NEEDLE, number] = self.count - from_start

    def begin_here(self) -> None:
        """Let the round begin where the work stands; whoever asks for it shares the needles out
        again.
        """
        markers = {key: at for key, at in self.behind_at.items() if key[0] != NEEDLE}
        kept = {key: at for key, at in self.ahead_at.items() if key[0] != NEEDLE}
        old, self.ahead, self.behind = self.behind, self.count, 0
        self.ahead_at = {key: at + old for key, at in kept.items()}
        self.ahead_at |= {key: old - at for key, at in markers.items()}
        self.behind_at, self.parts = {}, ()

    def clear(self) -> None:
        """Take everything off the needles."""
        self.ahead = self.behind = 0
        self.ahead_at, self.behind_at, self.parts = {}, {}, ()

    def __str__(self) -> str:
        if not self.count and not self.held:
            return "nothing"
        shown = plural(self.count, "st")
        if self.behind:
            shown += f", {self.behind} of them worked"
        if self.held:
            listed = ", ".join(f"{name} {count}" for name, count in self.held.items())
            shown += f"; held: {listed}"
        return shown


def _left_before(distance: int, pieces: Sequence[Piece]) -> int:
    """Return how many stitches stand before a place `distance` stitches on, once it is passed.

    A place amid a decrease comes to lie behind it, but before it where most of it lies beyond.
    """
    left = 0
    for takes, leaves, times in pieces:
        if distance <= 0:
            break
        if not takes:
            left += leaves * times
            continue
        whole = min(times, (distance + takes // 2) // takes)
        left += leaves * whole
        distance -= takes * times
    return left
