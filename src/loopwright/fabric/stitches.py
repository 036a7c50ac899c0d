"""The table of stitches: what each takes, makes, and how its parents lie.

A stitch is one row. Nothing in the package decides by a stitch's name; everything reads the row:

``takes``
    Loops taken off the left needle.
``lifts``
    Running strands lifted on to the left needle first (a make-one lifts 1 and takes 0).
``makes``
    New loops left on the right needle. A slipped stitch makes none and passes on what it takes.
``stack``
    Rank of each parent in the order it is taken, 0 on top, *as seen by the knitter*. A decrease
    leans towards the side its top parent came from: the first taken on top leans left, the last
    taken on top leans right, the middle one is centred.
``faces``
    ``"k"`` or ``"p"`` per new loop, as the knitter sees it while working.
``order``
    A **crossing**, worked with some stitches waiting on a cable needle: which of the stitches taken
    each new loop is drawn through. Its ``stack`` says how deep each of those lies, 0 in front.

A row says what the knitter does; which way it looks from the right side follows from the side
that is being worked, see :mod:`loopwright.making`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cached_property, lru_cache
from itertools import groupby, product

import attrs
import numpy as np
from numpy.typing import NDArray

from loopwright.border import guard
from loopwright.choice import Choice
from loopwright.errors import StitchDefinitionError, UnknownStitchError
from loopwright.plurals import plural
from loopwright.shown import Shown

__all__ = ["STITCHES", "Kind", "Lean", "Stitch", "StitchTable", "crossing"]


class Kind(Choice):
    """What a loop is to the fabric, and so what keeps it from running."""

    WORKED = "worked"  # drawn through its parents
    SLIPPED = "slipped"  # no new loop; the old one grows tall
    OVER = "over"  # yarn over: a loop through nothing
    LIFTED = "lifted"  # a running strand put on the needle
    WRAP = "wrap"  # stands beside the stitch left unworked; needs no child
    CAST_ON = "cast-on"
    CLOSED = "closed cast-on"  # a cast-on with loops on both flanks: no edge
    BOUND_OFF = "bound-off"
    GRAFTED = "grafted"  # needs no child: the strand itself passes on


class Lean(Choice):
    """Which way a decrease leans, as the knitter sees it."""

    NONE = "none"
    LEFT = "left"
    RIGHT = "right"
    CENTRED = "centred"


_WIDEST = 24  # stitches of a crossing
_AT = r"(?:\s+(?:0?\.\d{1,3}|[01])){2}"
_SHAPE = rf"(?:line(?:{_AT}){{2,8}}|dot{_AT}|ring{_AT})"
_SYMBOL = re.compile(rf"{_SHAPE}(?:\s*;\s*{_SHAPE}){{0,7}}")


@attrs.frozen
class Stitch:
    """One row of the table.

    Parameters
    ----------
    key : str
        The abbreviation, as patterns write it.
    name : str
        In full, in words that need no glossary.
    takes, makes, lifts : int, loops
        See :mod:`loopwright.fabric.stitches`.
    stack : tuple of int
        For each loop taken, in the order taken, how deep it lies: 0 on top. Empty where none is.
    faces : str
        One of ``k`` or ``p`` per loop made.
    twist : str
        ``""``, ``"left"`` or ``"right"``: the leg that lies on top of a twisted stitch. Of a
        crossing with some stitches twisted, ``l``, ``r`` or ``-`` for each as it is worked.
    kind : Kind
    yarn_in_front : bool
        A slip with the yarn at the front of the work.
    knitwise : bool
        A slip that turns the loop round on the needle.
    order : tuple of int
        A permutation of ``range(takes)`` that can't be parted into two; empty where the stitches
        are worked as they come.
    symbol : str
        How a chart draws it in a square from (0, 0) at the top left to (1, 1):
        ``"line .2 .8 .8 .2; dot .5 .5; ring .5 .5"``. Where there is none the square holds its key.

    Raises
    ------
    StitchDefinitionError
        The numbers contradict each other; carries ``key``, ``problem``.

    Examples
    --------
    >>> bobble = Stitch("k5in1", "knit five into one stitch", makes=5, faces="kpkpk")
    >>> bobble.takes, bobble.leaves, bobble.change
    (1, 5, 4)

    Two stitches wait in front of the work, a purl and a knit stitch are worked, then the two:

    >>> own = Stitch("c4p", "2 over 2, p1", 4, 4, (0, 0, 1, 1), "pkkk", order=(2, 3, 0, 1))
    >>> own.is_crossing, own.lean.value, own.parents
    (True, 'left', 1)
    """

    key: str
    name: str
    takes: int = 1
    makes: int = 1
    stack: tuple[int, ...] = (0,)
    faces: str = "k"
    lifts: int = 0
    twist: str = ""
    kind: Kind = Kind.WORKED
    yarn_in_front: bool = False
    knitwise: bool = False
    symbol: str = attrs.field(default="", eq=False)
    order: tuple[int, ...] = attrs.field(default=(), kw_only=True)

    def __attrs_post_init__(self) -> None:
        for wrong, problem in (
            self._crossing_problems()
            if self.order
            else (
                (
                    self.kind is not Kind.SLIPPED
                    and sorted(self.stack) != list(range(self.takes + self.lifts)),
                    f"stack {self.stack} must rank each of {self.takes + self.lifts} parents once",
                ),
                (
                    self.takes + self.lifts > 1 and self.makes > 1,
                    "several into several is two stitches, not one",
                ),
                (self.takes + self.lifts > 7 or self.makes > 9, "more than 7 taken or 9 made"),
            )
        ):
            if wrong:
                raise StitchDefinitionError(self.key, problem)
        for wrong, problem in (
            (not self.key or self.key != self.key.strip().lower(), "key must be lower case"),
            (min(self.takes, self.makes, self.lifts) < 0, "counts must not be negative"),
            (
                self.kind is not Kind.SLIPPED
                and (len(self.faces) != self.makes or set(self.faces) - set("kp")),
                f"faces {self.faces!r} must give k or p for each of {self.makes} loops made",
            ),
            (
                self.kind is Kind.SLIPPED and (self.makes, self.lifts) != (0, 0),
                "a slipped stitch makes and lifts nothing",
            ),
            (
                self.twist not in ("", "left", "right")
                and not (self.order and re.fullmatch(rf"[lr-]{{{self.makes}}}", self.twist)),
                "twist must be '', 'left' or 'right'; of a crossing, such as '-l', one a stitch",
            ),
            (
                self.symbol and not _SYMBOL.fullmatch(self.symbol),
                f"symbol {self.symbol!r}: say such as 'line .2 .8 .8 .2; dot .5 .5'",
            ),
        ):
            if wrong:
                raise StitchDefinitionError(self.key, problem)

    def _crossing_problems(self) -> Iterator[tuple[object, str]]:
        order, width = self.order, len(self.order)
        counts = (self.takes, self.makes, len(self.stack))
        yield (
            self.kind is not Kind.WORKED or self.lifts or set(counts) != {width},
            f"a crossing takes, makes and stacks as many stitches as its order names: {width}",
        )
        yield (
            sorted(order) != list(range(width)) or width > _WIDEST,
            f"order {order} must name each of 2 to {_WIDEST} stitches once",
        )
        yield (
            any(max(order[:cut]) < cut for cut in range(1, width)),
            f"order {order} is two crossings side by side, or none: make each a stitch of its own",
        )
        depths = set(self.stack)
        yield (
            depths != set(range(len(depths))) or len(depths) > 8,
            f"stack {self.stack} must begin with 0 in front and leave no depth out, up to 7",
        )
        yield (
            any(
                order[a] > order[b] and self.stack[order[a]] == self.stack[order[b]]
                for b in range(width)
                for a in range(b)
            ),
            f"stack {self.stack}: stitches that cross must lie at different depths",
        )

    @property
    def is_crossing(self) -> bool:
        """Whether its stitches change places: a cable."""
        return bool(self.order)

    @property
    def twists(self) -> tuple[str, ...]:
        """Which way each loop made is twisted: ``""``, ``"left"`` or ``"right"``.

        Examples
        --------
        >>> STITCHES["ktbl"].twists, crossing("lpt", 1, 1, "left", faces="pk", twist="-l").twists
        (('left',), ('', 'left'))
        """
        if self.twist in ("", "left", "right"):
            return (self.twist,) * self.makes
        return tuple({"l": "left", "r": "right", "-": ""}[one] for one in self.twist)

    @property
    def parents(self) -> int:
        """How many loops each new loop is drawn through."""
        return 1 if self.order else self.takes + self.lifts

    @property
    def leaves(self) -> int:
        """Loops on the right needle afterwards: those made, or those slipped."""
        return self.takes if self.kind is Kind.SLIPPED else self.makes

    @property
    def change(self) -> int:
        """By how many the count grows; negative for a decrease."""
        return self.leaves - self.takes

    @property
    def lean(self) -> Lean:
        """Which way the stitch leans, as the knitter sees it; of a crossing what lies in front."""
        if self.order:
            front = [at for at, depth in enumerate(self.stack) if depth == 0]
            ways = {self.order.index(at) > at for at in front}
            return Lean.CENTRED if len(ways) > 1 else Lean.LEFT if ways.pop() else Lean.RIGHT
        if len(self.stack) < 2:
            return Lean.NONE
        top = self.stack.index(0)
        if top == 0:
            return Lean.LEFT
        return Lean.RIGHT if top == len(self.stack) - 1 else Lean.CENTRED


def _together(key: str, name: str, stack: tuple[int, ...], face: str = "k") -> Stitch:
    return Stitch(key, name, takes=len(stack), stack=stack, faces=face)


def _into_one(key: str, name: str, faces: str) -> Stitch:
    return Stitch(key, name, makes=len(faces), faces=faces)


def _lifted(key: str, name: str, twist: str, face: str = "k") -> Stitch:
    return Stitch(key, name, takes=0, lifts=1, faces=face, twist=twist)


def _slip(key: str, name: str, *, front: bool = False, knitwise: bool = False) -> Stitch:
    return Stitch(
        key, name, makes=0, stack=(), faces="", kind=Kind.SLIPPED, yarn_in_front=front,
        knitwise=knitwise,
    )  # fmt: skip


def _origin(key: str, name: str, kind: Kind) -> Stitch:
    return Stitch(key, name, takes=0, stack=(), kind=kind)


def crossing(
    key: str,
    over: int,
    under: int,
    lean: Lean | str,
    *,
    name: str = "",
    faces: str = "",
    twist: str = "",
    symbol: str = "",
) -> Stitch:
    """Return the row of a crossing: some stitches pass in front of others, leaning left or right.

    Parameters
    ----------
    key : str
    over, under : int, stitches
        In front, which wander the way it leans, and behind.
    lean : Lean or str
        ``"left"`` or ``"right"``, as the knitter sees it.
    name : str
        How it is worked; in usual words where left out.
    faces : str
        ``k`` or ``p`` for each stitch as it is worked; all knitted where left out.
    twist, symbol : str
        As in `Stitch`.

    Raises
    ------
    StitchDefinitionError
        A crossing that leans neither way, or faces that are not one a stitch.

    Examples
    --------
    >>> crossing("t3b", 2, 1, "right", faces="kkp").name
    '2 over 1 to the right: slip 1 st to cable needle and hold in back, k2, p1 from cable needle'
    """
    lean = Lean(lean)
    if lean not in (Lean.LEFT, Lean.RIGHT) or min(over, under) < 1:
        raise StitchDefinitionError(key, "a crossing leans left or right, 1 or more over 1 or more")
    left = lean is Lean.LEFT
    first = over if left else under  # stitches that wait on the cable needle
    width = over + under
    faces = faces or "k" * width
    stack = (0,) * over + (1,) * under if left else (1,) * under + (0,) * over
    order = (*range(first, width), *range(first))
    held = f"slip {plural(first, 'st')} to cable needle and hold in {'front' if left else 'back'}"
    worked = _in_runs(faces[: width - first]), _in_runs(faces[width - first :])
    last = worked[1] if ", " not in worked[1] else f"({worked[1]})"
    usual = f"{held}, {worked[0]}, {last} from cable needle"
    name = name or f"{over} over {under} to the {lean.value}: {usual}"
    return Stitch(key, name, width, width, stack, faces, twist=twist, symbol=symbol, order=order)


def _in_runs(faces: str) -> str:
    runs = [f"{face}{len(list(run))}" for face, run in groupby(faces)]
    return ", ".join(runs)


def _crossings() -> Iterator[Stitch]:
    """Yield those that patterns name by their numbers alone, knitted or over a purl ground."""
    for over, under in product(range(1, 7), repeat=2):
        for lean, letter in ((Lean.RIGHT, "r"), (Lean.LEFT, "l")):
            for ground in ("", "p"):
                behind = (ground or "k") * under
                faces = "k" * over + behind if lean is Lean.RIGHT else behind + "k" * over
                key = f"{over}/{under}{letter}{ground}c"
                yield crossing(key, over, under, lean, faces=faces)


def _as_rows(rows: Iterable[Stitch]) -> tuple[Stitch, ...]:
    return tuple(rows)


@attrs.frozen(cache_hash=True, repr=False)
class StitchTable(Shown):
    """The rows in order; a row's place is the code that a fabric's column holds.

    Examples
    --------
    >>> STITCHES["ssk"].takes, STITCHES["ssk"].lean.value
    (2, 'left')
    >>> mine = STITCHES.with_stitch(Stitch("k4tog", "knit four together", 4, 1, (3, 2, 1, 0)))
    >>> mine["k4tog"].change
    -3

    >>> STITCHES.codes(["k", "ssk"]).tolist()
    [8, 13]
    >>> STITCHES.rows[STITCHES.code("ssk")].name
    'slip, slip, knit the slipped stitches together'
    >>> [row.key for row in STITCHES if row.kind is Kind.SLIPPED]
    ['sl', 'slk', 'slf', 'slkf']
    >>> int(STITCHES.of_kind(Kind.SLIPPED).sum())
    4
    """

    rows: tuple[Stitch, ...] = attrs.field(converter=_as_rows)

    def __str__(self) -> str:
        plain = ", ".join(stitch.key for stitch in self if not stitch.is_crossing)
        crossings = sum(stitch.is_crossing for stitch in self)
        more = f", and {plural(crossings, 'crossing')}" if crossings else ""
        return f"{plural(len(self), 'stitch')}: {plain}{more}"

    def __attrs_post_init__(self) -> None:
        if len(self._codes) != len(self.rows):
            keys = [row.key for row in self.rows]
            twice = next(key for key in keys if keys.count(key) > 1)
            raise StitchDefinitionError(twice, "the table has a stitch of this key already")

    def __reduce__(self) -> str | tuple[object, ...]:
        # The table that all fabrics share stays one when a fabric goes to another process.
        return "STITCHES" if self is STITCHES else (StitchTable, (self.rows,))

    @cached_property
    def _codes(self) -> dict[str, int]:
        return {row.key: code for code, row in enumerate(self.rows)}

    def __getitem__(self, key: str) -> Stitch:
        return self.rows[self.code(key)]

    def __contains__(self, key: object) -> bool:
        return key in self._codes

    def __iter__(self) -> Iterator[Stitch]:
        return iter(self.rows)

    def __len__(self) -> int:
        return len(self.rows)

    def code(self, key: str) -> int:
        """Return the code of a stitch; `UnknownStitchError` names near matches."""
        try:
            return self._codes[key]
        except KeyError:
            raise UnknownStitchError(key, tuple(self._codes)) from None

    def codes(self, keys: Iterable[str]) -> NDArray[np.int16]:
        """Return the codes of several stitches, shape (n,)."""
        return np.array([self.code(key) for key in keys], dtype=np.int16)

    def with_stitch(self, stitch: Stitch) -> StitchTable:
        """Return a table with one more row; codes of the old rows stay."""
        return StitchTable((*self.rows, stitch))

    @cached_property
    def takes(self) -> NDArray[np.int16]:
        """Loops taken, by code."""
        return np.array([row.takes for row in self.rows], dtype=np.int16)

    @cached_property
    def leaves(self) -> NDArray[np.int16]:
        """Loops on the right needle afterwards, by code."""
        return np.array([row.leaves for row in self.rows], dtype=np.int16)

    def of_kind(self, *kinds: Kind) -> NDArray[np.bool_]:
        """Return which codes are of these kinds, shape (len(table),); read-only."""
        return _of_kind(self, kinds)


@lru_cache(maxsize=512)
def _of_kind(table: StitchTable, kinds: tuple[Kind, ...]) -> NDArray[np.bool_]:
    found = np.array([row.kind in kinds for row in table.rows], dtype=np.bool_)
    found.flags.writeable = False
    return found


STITCHES = StitchTable(
    (
        # Origins: loops that a cast-on, a lifted strand or a closing makes.
        _origin("co", "cast-on loop", Kind.CAST_ON),
        _origin("cc", "closed cast-on loop", Kind.CLOSED),
        _origin("lift", "lifted running strand", Kind.LIFTED),
        _origin("wrap", "wrap at a turn", Kind.WRAP),
        _origin("ds", "second leg of a double stitch", Kind.WRAP),
        Stitch("pu", "picked up and knitted"),
        Stitch("bo", "bound off", kind=Kind.BOUND_OFF),
        Stitch("graft", "grafted", kind=Kind.GRAFTED),
        # Plain stitches
        Stitch("k", "knit"),
        Stitch("p", "purl", faces="p"),
        Stitch("ktbl", "knit through the back loop", twist="left"),
        Stitch("ptbl", "purl through the back loop", faces="p", twist="left"),
        # Decreases. With k2tog the needle enters the second stitch first, so it lies on top.
        _together("k2tog", "knit two together", (1, 0)),
        _together("ssk", "slip, slip, knit the slipped stitches together", (0, 1)),
        _together("skp", "slip, knit, pass the slipped stitch over", (0, 1)),
        _together("p2tog", "purl two together", (1, 0), "p"),
        _together("ssp", "slip, slip, purl the slipped stitches together", (0, 1), "p"),
        _together("k3tog", "knit three together", (2, 1, 0)),
        _together("sssk", "slip three, knit them together", (0, 1, 2)),
        _together("p3tog", "purl three together", (2, 1, 0), "p"),
        _together("cdd", "centred double decrease", (1, 0, 2)),
        _together("sk2p", "left double decrease: slip, knit two together, pass over", (0, 2, 1)),
        _together("rdd", "right double decrease: ssk, pass the next stitch over", (1, 2, 0)),
        # Increases
        Stitch("yo", "yarn over", takes=0, stack=(), kind=Kind.OVER),
        _lifted("m1l", "make one left: lifted strand, knitted", "left"),
        _lifted("m1r", "make one right: lifted strand, knitted", "right"),
        _lifted("m1lp", "make one left, purled", "left", "p"),
        _lifted("m1rp", "make one right, purled", "right", "p"),
        _into_one("kfb", "knit into front and back", "kp"),
        _into_one("pfb", "purl into front and back", "pp"),
        _into_one("kpk", "knit, purl, knit into one stitch", "kpk"),
        # Slips
        _slip("sl", "slip purlwise, yarn at the back"),
        _slip("slk", "slip knitwise, yarn at the back", knitwise=True),
        _slip("slf", "slip purlwise, yarn in front", front=True),
        _slip("slkf", "slip knitwise, yarn in front", front=True, knitwise=True),
        # Crossings. In a twist two stitches change places without a cable needle.
        *_crossings(),
        crossing("rt", 1, 1, "right", name="right twist: knit the second stitch, then the first"),
        crossing(
            "lt",
            1,
            1,
            "left",
            name="left twist: knit the second stitch from behind, then the first",
        ),
    )
)


guard(globals())
