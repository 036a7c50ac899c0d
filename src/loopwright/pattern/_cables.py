# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Crossings (cables) that a text defines: what the hands do is followed, and gives the row.

"Slip 2 sts to cable needle and hold in front, k2, k2 from cable needle": stitches are moved from
the left needle to cable needles, worked from either, and moved back, as the words say. The order in
which they are worked is the order of the crossing; of two that cross, the one that waited lies
where it was held.
"""

from __future__ import annotations

import re
from functools import lru_cache

from loopwright.errors import StitchDefinitionError
from loopwright.fabric.stitches import STITCHES, Stitch, StitchTable
from loopwright.pattern._words import NUMBER_WORDS

__all__ = [
    "bobble_defined",
    "called_in",
    "crossing_defined",
    "explained",
    "twist_defined",
    "with_defined",
]

_NUMBERS = {word: number for number, word in enumerate(NUMBER_WORDS, start=1)}
_N = rf"(?:\d{{1,2}}|{'|'.join(NUMBER_WORDS)})"
_STS = r"(?:\s*(?:knit|purl|purled|knitted))?(?:\s*(?:sts?\b\.?|stitches|stitch))?"
_CN = r"(?:(?:(?:the|an?|your|this|that)\s+)?(?:same\s+|extra\s+|short\s+)?(?P<{0}>first|second|1st|2nd|front|back)?\s*(?:cn|c\.n\.|cable\s+(?:needle|pin)|spare\s+(?:needle|dpn))(?P<{0}2>\s*[12ab])?(?![a-z0-9]))"
_ABOUT = re.compile(r"\bcn\b|\bc\.n\.|cable (?:needle|pin)|spare (?:needle|dpn)", re.IGNORECASE)
_STEP = re.compile(
    "|".join(
        (
            rf"(?P<back>(?:slip|sl|place|put|return|move)\s+(?:the\s+)?(?:last\s+|left-?most\s+|other\s+|cent(?:re|er)\s+|middle\s+)?(?P<nback>{_N})?{_STS}(?:\s+from\s+{_CN.format('fromcn')})?\s+(?:back\s+)?(?:on)?to\s+(?:the\s+)?left(?:-hand)?(?:\s+needle)?)",
            rf"(?P<slip>(?:(?:slip|sl|place|put|take|move|transfer)\b\.?\s+(?:the\s+)?|(?=(?:next\s+)?\d))(?:next\s+|first\s+|foll(?:owing)?\s+)?(?P<nslip>{_N})?{_STS}\s+(?:purlwise\s+)?(?:on|to|onto|on\s+to)\s+{_CN.format('tocn')})",
            r"(?P<hold>(?:and\s+|then\s+)?(?:hold|held|leave|left|let|keep|place|put)?\s*(?:it\s+|them\s+|these\s+|this\s+)?(?:hang(?:ing)?\s+|wait(?:ing)?\s+)?(?:in|at|to)\s+(?:the\s+)?(?P<side>front|back)(?:\s+of\s+(?:(?:the|your)\s+)?work)?)",
            rf"(?P<from>(?:from|off)\s+{_CN.format('workcn')})",
            r"(?P<left>(?:from|on)\s+(?:(?:the|your)\s+)?left(?:-hand)?(?:\s+needle)?)",
            rf"(?P<work>\b(?P<face>knit|purl|k|p)(?![a-su-z]|t(?!bl|h))\.?\s*(?:(?:the|these|those)\s+)?(?:next\s+|other\s+|rem(?:aining)?\s+|foll(?:owing)?\s+)?(?P<nwork>{_N})?{_STS}(?P<tbl>\s*(?:tbl|through\s+(?:the\s+)?back\s+loops?))?)",
            r"(?P<open>[(\[])",
            r"(?P<close>[)\]])",
            r"(?P<word>[a-z]+(?:\s+it|\s+them)?)",
        )
    ),
    re.IGNORECASE,
)  # fmt: skip
_PREFIX = re.compile(
    r"^(?:(?!\b(?:sl|slip|place|put)\b)[^:])*:", re.IGNORECASE
)  # "2 over 1: slip ..."
_IDLE = re.compile(
    r"(?:and|then|with|now|the|these|those|sts?|stitches|work|them|you|next)(?:\s+(?:it|them))?",
    re.IGNORECASE,
)


def crossing_defined(short: str, long: str) -> Stitch | None:
    """Return the row of the crossing that a text defines; None if it defines none.

    Examples
    --------
    >>> row = crossing_defined("T5L", "sl 2 sts to cn and hold in front, k2, p1, then k2 from cn")
    >>> row.key, row.order, row.stack, row.faces
    ('t5l', (2, 3, 4, 0, 1), (0, 0, 1, 1, 1), 'kkpkk')
    """
    return _defined(" ".join(short.split()), " ".join(long.split()))


@lru_cache(maxsize=256)
def _defined(short: str, long: str) -> Stitch | None:
    if not _ABOUT.search(long) or len(long) > 400:
        return None
    hands = _Hands()
    try:
        for step in _STEP.finditer(_PREFIX.sub("", long)):
            hands.do(step)
        return hands.row(re.sub(r"\s", "", short.lower()), long)
    except (_Unclear, StitchDefinitionError):
        return None


def with_defined(table: StitchTable, definitions: tuple[tuple[str, str], ...]) -> StitchTable:
    """Return the table with the crossings that are defined and that it does not have."""
    for short, long in definitions:
        row = _defined(short, long) or bobble_defined(short, long)
        if row is not None and row.key not in table and called_in(table, row) is None:
            table = table.with_stitch(row)
    return table


def called_in(table: StitchTable, row: Stitch) -> str | None:
    """Return the key of the crossing that is worked as this row, None if the table has none."""
    if not row.is_crossing:
        return None
    wanted = (row.order, row.stack, row.faces, row.twist)
    return next(
        (one.key for one in table if (one.order, one.stack, one.faces, one.twist) == wanted), None
    )


class _Unclear(Exception):  # noqa: N818 - never leaves this module
    """The words don't say what the hands do."""


class _Hands:
    """The left needle, the cable needles, and what was worked."""

    def __init__(self) -> None:
        self.taken = 0  # stitches met on the left needle
        self.back: list[int] = []  # stitches moved back to it
        self.needles: dict[str, list[int]] = {}
        self.in_front: dict[str, bool] = {}
        self.last = ""  # the needle that was filled last
        self.asked: list[tuple[str, int | None, bool]] = []  # to be worked, needle unknown as yet
        self.group: list[tuple[str, int | None, bool]] | None = None
        self.worked: list[tuple[int, str, bool]] = []
        self.waited: list[
            tuple[int, int, bool]
        ] = []  # one waited while the other was worked: in front

    def do(self, step: re.Match[str]) -> None:
        kind = next(
            name
            for name in ("back", "slip", "hold", "from", "left", "work", "open", "close", "word")
            if step[name]
        )
        if kind in ("back", "slip"):
            self._settle()
        getattr(self, f"_{kind}")(step)

    def _slip(self, step: re.Match[str]) -> None:
        name = self._name(step, "tocn")
        if self.needles.get(name):
            name = f"{name}+"
        self.needles[name] = [self._next() for _ in range(_number(step["nslip"]))]
        self.last = name

    def _back(self, step: re.Match[str]) -> None:
        stitches = self.needles.get(self.last, [])
        many = _number(step["nback"])
        if len(stitches) <= many:
            raise _Unclear
        self.back = stitches[len(stitches) - many :]
        del stitches[len(stitches) - many :]

    def _hold(self, step: re.Match[str]) -> None:
        if self.last not in self.needles:
            raise _Unclear
        self.in_front[self.last] = step["side"].lower() == "front"

    def _work(self, step: re.Match[str]) -> None:
        one = (
            step["face"][0].lower(),
            _number(step["nwork"]) if step["nwork"] else None,
            bool(step["tbl"]),
        )
        if self.group is not None:
            self.group.append(one)
        else:
            self._settle()
            self.asked = [one]

    def _open(self, _: re.Match[str]) -> None:
        self._settle()
        self.group = []

    def _close(self, _: re.Match[str]) -> None:
        if self.group is None:
            raise _Unclear
        self.asked, self.group = self.group, None

    def _left(self, _: re.Match[str]) -> None:
        self._settle()

    def _from(self, step: re.Match[str]) -> None:
        self._settle(self._name(step, "workcn"))

    def _word(self, step: re.Match[str]) -> None:
        if not _IDLE.fullmatch(step[0]):
            raise _Unclear

    def _name(self, step: re.Match[str], group: str) -> str:
        said = (step[group] or step[f"{group}2"] or "").strip().lower()
        return {"first": "1", "1st": "1", "a": "1", "second": "2", "2nd": "2", "b": "2"}.get(
            said, said
        )

    def _next(self) -> int:
        if self.back:
            return self.back.pop(0)
        self.taken += 1
        return self.taken - 1

    def _settle(self, needle: str | None = None) -> None:
        """Work what was asked for, from a cable needle or the left one."""
        asked, self.asked = self.asked, []
        if needle is not None and not asked:
            raise _Unclear
        for face, many, twisted in asked:
            stitches = None if needle is None else self._on(needle)
            for _ in range(len(stitches) if many is None and stitches else many or 1):
                if stitches is not None and not stitches:
                    raise _Unclear
                self._one(self._next() if stitches is None else stitches.pop(0), face, twisted)

    def _on(self, needle: str) -> list[int]:
        sides = {"front": True, "back": False}
        for name in [needle, *reversed(list(self.needles))]:
            fits = name == needle or not needle or sides.get(needle) == self.in_front.get(name)
            if fits and self.needles.get(name):
                return self.needles[name]
        raise _Unclear

    def _one(self, stitch: int, face: str, twisted: bool) -> None:
        for name, waiting in self.needles.items():
            self.waited += [
                (other, stitch, self.in_front.get(name, True))
                for other in waiting
                if other < stitch
            ]
        self.worked.append((stitch, face, twisted))

    def row(self, key: str, name: str) -> Stitch:
        """Return what was done as a row of the table."""
        self._settle()
        width = self.taken
        twists = "".join("l" if twisted else "-" for _, _, twisted in self.worked)
        if len(self.worked) != width:
            raise _Unclear
        if any(self.needles.values()) or set(self.in_front) != set(self.needles):
            raise _Unclear
        above: dict[int, set[int]] = {stitch: set() for stitch in range(width)}
        for waited, stitch, in_front in self.waited:
            upper, lower = (waited, stitch) if in_front else (stitch, waited)
            above[lower].add(upper)
        stack = [0] * width
        for _ in range(width):
            stack = [max((stack[one] + 1 for one in above[at]), default=0) for at in range(width)]
        order = tuple(stitch for stitch, _, _ in self.worked)
        faces = "".join(face for _, face, _ in self.worked)
        return Stitch(
            key,
            name,
            width,
            width,
            tuple(stack),
            faces,
            twist={"l": "left", "-": ""}.get("".join({*twists}), twists),
            order=order,
        )


_BOBBLE = re.compile(
    r"\b(?:bobble|nupp|knot|cluster)\b|\binto (?:the )?(?:next|same) st.*\bturn\b", re.I
)
_BOBBLE_NAME = re.compile(r"[A-Z]{1,4}\d?|(?:make )?bobble", re.I)


def bobble_defined(short: str, long: str) -> Stitch | None:
    """Return what a text explains as a bobble: of one stitch, one stitch in the end.

    Examples
    --------
    >>> row = bobble_defined("MB", "make bobble: k1, yo, k1 into the next st, turn; p3tog")
    >>> row.key, row.takes, row.leaves
    ('mb', 1, 1)
    """
    bare = short.strip()
    if not _BOBBLE_NAME.fullmatch(bare) or not _BOBBLE.search(long[:400]):
        return None
    key = "mb" if " " in bare else bare.lower()
    return None if len(key) < 2 else Stitch(key, "make a bobble")


def explained(short: str, long: str) -> Stitch | None:
    """Return the stitch that a text explains: a crossing, a twist or a bobble."""
    return (
        crossing_defined(short, long) or twist_defined(short, long) or bobble_defined(short, long)
    )


_FIRST_AGAIN = (  # "knit the first of the two again", "knit again into the first st"
    r"\bk(?:nit)?(?: again)?(?: (?:in)?to)? (?:the )?(?:first|1st|right(?:-hand)?)\b(?! (?:row|round|rnd))"
)
_RIGHT_TWIST = re.compile(
    r"k(?:nit)? ?(?:(?:2|two|the next (?:2|two))(?: sts| stitches)? ?)tog(?:ether)?\b(?! ?(?:tbl|through))"
    rf".*\b(?:leav|keep|not|without|don't|before).*{_FIRST_AGAIN}"
    r"|k(?:nit)? (?:into )?(?:the )?(?:front of (?:the )?)?(?:second|2nd) (?:st|stitch)(?! (?:tbl|through|from behind))"
    rf".*\b(?:(?:in |at )?front\b.*{_FIRST_AGAIN}|{_FIRST_AGAIN}.*\boff\b)"
    rf"|k(?:nit)? (?:in(?:to)? )?the front of (?:the )?(?:second|2nd) (?:st|stitch).*{_FIRST_AGAIN}",
    re.IGNORECASE,
)
_LEFT_TWIST = re.compile(
    r"k(?:nit)? (?:into )?(?:the )?(?:second|2nd) (?:st|stitch)\b.{0,30}\b(?:tbl|through (?:the )?back|from behind|behind|back loop).*\bk(?:nit)? (?:into )?(?:the )?(?:first|1st)",
    re.IGNORECASE,
)


def twist_defined(short: str, long: str) -> Stitch | None:
    """Return the crossing of two stitches that a text explains without a cable needle.

    Examples
    --------
    >>> twist_defined("RT", "k2tog but do not slip off; k the first st again").key
    '1/1rc'
    """
    if len(long) > 400 or not re.fullmatch(r"[A-Za-z0-9]{2,5}", short.strip()):
        return None
    if _LEFT_TWIST.search(long):
        return STITCHES["1/1lc"]
    return STITCHES["1/1rc"] if _RIGHT_TWIST.search(long) else None


def _number(said: str | None) -> int:
    if said is None:
        return 1
    return int(said) if said.isdigit() else _NUMBERS[said.lower()]
