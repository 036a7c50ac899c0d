"""A design file with another sock in it: its text, with as few keys changed as will do.

Comments and order stay. What a size may have for itself (its foot, ease, stitches, the heel's
share, the length) is written at that size. Heel, toe, cuff, leg, direction and gauge are those of
all sizes, as in every design file.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, MutableMapping
from enum import Enum
from pathlib import Path
from typing import Any, Final

import attrs
import tomlkit
from tomlkit.items import AoT

from loopwright.design._reader import read_design
from loopwright.errors import DesignError
from loopwright.gauge import Gauge, Relaxation
from loopwright.sock import Foot, Sex, Sock, cuff_named, heel_named, leg_named, toe_named
from loopwright.units import to_mm

__all__ = ["OWN_KEYS", "PARTS", "foot_table", "with_sock"]

OWN_KEYS: Final = {"ease": "ease", "length_ease_mm": "length_ease", "share": "heel_share",
                   "stitches": "stitches"}  # fmt: skip
"""What a size may have for itself: the key of each field of its sock."""
PARTS: Final = {"heel": heel_named, "toe": toe_named, "cuff": cuff_named, "leg": leg_named}
"""Parts that have a table, and how one is had by its name."""
_WORDS: Final = ("direction", "needles")
_GAUGES: Final = ("gauge", "rib_gauge", "slip_gauge")
_NEAR: Final = 1e-4  # of a gauge's numbers, which are written with six digits
_SHOE: Final = ("shoe", "chart")  # say a length; give way to one


def with_sock(
    text: str,
    sock: Sock,
    *,
    size: str = "",
    run_parts_in: Path | None = None,
    folder: Path | None = None,
) -> str:
    """Return a design file's text with another sock for one of its sizes.

    Parameters
    ----------
    text : str
        A design file that `read_design` takes.
    sock : Sock
        What that size is to be. Yarns, stripes, panel and hands may not differ.
    size : str
        Empty where the design has one foot without a name.
    run_parts_in, folder : Path, optional
        As for `read_design`.

    Raises
    ------
    DesignError
        The text is no design, has no such size, or the sock differs in what no key says.

    Examples
    --------
    >>> text = '''
    ... gauge = {stitches = 32, rounds = 44, over = "10 cm"}  # washed
    ... [foot]
    ... length = "25 cm"
    ... ball_girth = "24 cm"
    ... '''
    >>> sock = read_design(text).design.socks[0][1]
    >>> roomy = attrs.evolve(sock, ease=-0.06, heel=heel_named("flap", longer=4))
    >>> print(with_sock(text, roomy))
    <BLANKLINE>
    gauge = {stitches = 32, rounds = 44, over = "10 cm"}  # washed
    [foot]
    length = "25 cm"
    ball_girth = "24 cm"
    <BLANKLINE>
    [fit]
    ease = -0.06
    <BLANKLINE>
    [heel]
    kind = "flap"
    longer = 4
    <BLANKLINE>
    """
    before = dict(read_design(text, run_parts_in=run_parts_in, folder=folder).design.socks)
    if size not in before:
        names = ", ".join(name for name in before if name) or "one size without a name"
        raise DesignError("size", 1, repr(size), f"the design has {names}")
    document = tomlkit.parse(text)
    was = before[size]
    for field, key in OWN_KEYS.items():
        if getattr(sock, field) != getattr(was, field):
            _own_table(document, size)[key] = value_of(field, getattr(sock, field))
    for what, named in PARTS.items():
        if getattr(sock, what) != getattr(was, what):
            _put(document, what, as_table(getattr(sock, what), named))
    for what in _WORDS:
        if getattr(sock, what) != getattr(was, what):
            document[what] = getattr(sock, what).value
    for what in _GAUGES:
        if getattr(sock, what) != getattr(was, what) and getattr(sock, what) is not None:
            _take_gauge(document, what, getattr(sock, what))
    if sock.title != was.title:
        document["title"] = sock.title
    if sock.foot != was.foot:
        _take_foot(_foot_table(document, size), sock.foot)
    new = tomlkit.dumps(document)
    told = dict(read_design(new, run_parts_in=run_parts_in, folder=folder).design.socks)[size]
    if not _is_told(told, sock):
        raise DesignError("", 1, "a sock that no key of a design file can say", "another change")
    return new


def foot_table(foot: Foot) -> str:
    """Return the table of a design file for a foot, with what was measured of it.

    Lengths are given to a tenth of a millimetre, with their uncertainty beside them.

    Examples
    --------
    >>> print(foot_table(Foot.of(length="25 cm", ball_girth="9 1/4 in", sex="female")))
    [foot]
    length = "25 cm"        # ± 6 mm
    ball_girth = "23.49 cm" # ± 6 mm
    sex = "female"
    <BLANKLINE>
    """
    measured = [(name, length) for name, length in foot.measures() if not length.is_estimated]
    keys = [f'{name} = "{round(length.mm, 1) / 10:g} cm"' for name, length in measured]
    widest = max(len(key) for key in keys)
    lines = [
        f"{key:<{widest}} # ± {2 * length.sd_mm:.0f} mm"
        for key, (_, length) in zip(keys, measured, strict=True)
    ]
    if foot.sex is not Sex.UNKNOWN:
        lines.append(f'sex = "{foot.sex.value}"')
    return "\n".join(["[foot]", *lines, ""])


def _take_gauge(document: MutableMapping[str, Any], what: str, gauge: Gauge) -> None:
    """Write a gauge as counts over 10 cm: one of each, or some that are as far apart as it says."""
    if what not in document:
        _put(document, what, tomlkit.table())
    table = document[what]
    one = Gauge.of(10 * gauge.stitches_per_cm, 10 * gauge.courses_per_cm)
    for key, per_cm, sd, alone in (
        ("stitches", gauge.stitches_per_cm, gauge.stitches_sd, one.stitches_sd),
        ("rounds", gauge.courses_per_cm, gauge.courses_sd, one.courses_sd),
    ):
        counts = [_plain(count) for count in _counts(10 * per_cm, 10 * sd, 10 * alone)]
        table[key] = counts[0] if len(counts) == 1 else counts
    table["over"] = "10 cm"
    if "state" in table or gauge.state is not Relaxation.WASHED:
        table["state"] = gauge.state.value


def _counts(mean: float, error: float, alone: float) -> list[float]:
    """Return counts with this mean and this error of it; one count alone has the error `alone`."""
    if math.isclose(error, alone, rel_tol=_NEAR) or not error:
        return [mean]
    pairs = max(1, math.ceil((alone / error) ** 2 / 2))
    apart = error * math.sqrt(2 * pairs - 1)
    return [mean - apart, mean + apart] * pairs


def _plain(count: float) -> float:
    rounded = round(count, 6)
    return int(rounded) if rounded == int(rounded) else rounded


def _is_told(told: Sock, sock: Sock) -> bool:
    """Whether a sock that was read is the one that was written; a gauge's digits are rounded."""
    for what in _GAUGES:
        read, was = getattr(told, what), getattr(sock, what)
        if read is not None and was is not None and _is_near(read, was):
            told = attrs.evolve(told, **{what: was})
    return told == sock


def _is_near(one: Gauge, other: Gauge) -> bool:
    numbers = (attrs.astuple(gauge)[:4] for gauge in (one, other))
    near = all(math.isclose(a, b, rel_tol=_NEAR) for a, b in zip(*numbers, strict=True))
    return near and one.state is other.state


def _foot_table(document: MutableMapping[str, Any], size: str) -> MutableMapping[str, Any]:
    return document["foot"] if "foot" in document else _own_table(document, size)


def _take_foot(table: MutableMapping[str, Any], foot: Foot) -> None:
    """Write what was measured of a foot; what was estimated follows from it."""
    measured = {name: length for name, length in foot.measures() if not length.is_estimated}
    for key in (*_SHOE, *(name for name, _ in foot.measures() if name not in measured)):
        table.pop(key, None)
    for name, length in measured.items():
        if name not in table or to_mm(table[name]) != length.mm:
            in_cm = f"{length.mm / 10:.6g} cm"
            table[name] = in_cm if to_mm(in_cm) == length.mm else f"{length.mm!r} mm"
    if foot.sex is Sex.UNKNOWN:
        table.pop("sex", None)
    else:
        table["sex"] = foot.sex.value


def _own_table(document: MutableMapping[str, Any], size: str) -> MutableMapping[str, Any]:
    """Return the table of a size, or of all where there is one."""
    entries = document.get("sizes")
    if isinstance(entries, AoT | list):
        return next(entry for entry in entries if entry.get("name") == size)
    if "fit" not in document:
        _put(document, "fit", tomlkit.table())
    return document["fit"]  # type: ignore[no-any-return]


def _put(document: MutableMapping[str, Any], key: str, table: Any) -> None:
    if key in document:
        document[key] = table
        return
    if isinstance(document, tomlkit.TOMLDocument):
        document.add(tomlkit.nl())
    document[key] = table


def as_table(part: Any, named: Any) -> Any:
    """Return a heel or a leg as the table that makes it: its kind, and what isn't usual."""
    table = tomlkit.table()
    table["kind"] = part.name
    for key, value in _unusual(part, named(part.name)):
        table[key] = value
    return table


def _unusual(part: Any, usual: Any) -> Iterator[tuple[str, Any]]:
    for field in attrs.fields(type(part)):
        value = getattr(part, field.name)
        if value != getattr(usual, field.name) and field.init:
            yield (
                field.name.removesuffix("_mm"),
                value_of(field.name, value, getattr(usual, field.name)),
            )


def value_of(name: str, value: Any, usual: Any = None) -> Any:
    """Return a field's value as a design file has it."""
    if isinstance(value, Enum):
        return value.value
    if attrs.has(type(value)):
        other = usual if type(usual) is type(value) else type(value)()
        inner = tomlkit.inline_table()
        inner.update(dict(_unusual(value, other)))
        return inner
    if isinstance(value, tuple):
        return [value_of(name, one) for one in value]
    return f"{value:.9g} mm" if name.endswith("_mm") else value
