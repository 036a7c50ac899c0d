"""Designs of a study: socks without their feet and gauges, and how they differ from each other."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Any

import attrs

from loopwright.errors import ArgumentError, MeasureError, StudyError
from loopwright.gauge import Gauge
from loopwright.sock import Sock
from loopwright.sock.foot import Foot
from loopwright.studies._columns import Column

__all__ = ["Variant", "factor_columns", "refuse_unknown", "variants"]

Factor = str | float
_UNITS = {"ease": "1", "share": "1", "length_ease_mm": "mm", "stitches": "stitches"}


def _frozen(values: Mapping[str, Any]) -> Mapping[str, Any]:
    return MappingProxyType(dict(values))


_OPTIONS = tuple(f.name for f in attrs.fields(Sock) if f.name not in ("foot", "gauge"))


@attrs.frozen
class Variant:
    """A sock that still lacks its foot and gauge.

    Parameters
    ----------
    name : str
    options : mapping
        Arguments of `Sock`: ``{"heel": "flap", "ease": -0.1}``.
    factors : mapping of str to str or float
        What a table calls the choices in which the designs of a study differ, a column each.

    Raises
    ------
    StudyError
        An option that socks haven't got, or that can't be told from another by its looks.

    Examples
    --------
    >>> from loopwright.gauge import Gauge
    >>> foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
    >>> sock = Variant("flap", {"heel": "flap"}).sock(foot, Gauge.of(32, 44))
    >>> sock.plan().stitches.count
    64
    >>> print(Variant("flap", {"ease": -0.1, "heel": "flap"}).described)
    flap: ease=-0.1, heel='flap'; []
    >>> Variant.like(sock, name="as mine").sock(foot, Gauge.of(28, 40)).plan().stitches.count
    56
    """

    name: str
    options: Mapping[str, Any] = attrs.field(factory=dict, converter=_frozen)
    factors: Mapping[str, Factor] = attrs.field(factory=dict, converter=_frozen)

    def __attrs_post_init__(self) -> None:
        for option, value in self.options.items():
            if option not in _OPTIONS:
                expected = f"a sock has {', '.join(_OPTIONS)}"
                raise StudyError(f"design {self.name!r}", f"the option {option!r}", expected)
            if " at 0x" in repr(value):
                advice = "make it an attrs class or give it a __repr__ that says what it holds"
                raise StudyError(f"{option} of design {self.name!r}", repr(value), advice)

    @classmethod
    def like(
        cls, sock: Sock, *, name: str = "", factors: Mapping[str, Factor] | None = None
    ) -> Variant:
        """Return the design of a sock that there is, for other feet and gauges."""
        options = {option: getattr(sock, option) for option in _OPTIONS}
        return cls(name or sock.title, options, factors or {})

    def sock(self, foot: Foot, gauge: Gauge) -> Sock:
        """Return the sock for a foot."""
        return Sock(foot=foot, gauge=gauge, **self.options)

    @property
    def described(self) -> str:
        """All that the sock depends on, in words; the same words, the same sock."""
        options = ", ".join(f"{name}={value!r}" for name, value in sorted(self.options.items()))
        return f"{self.name}: {options}; {sorted(self.factors.items())}"

    def __reduce__(self) -> tuple[type[Variant], tuple[Any, ...]]:
        # Mapping proxies don't pickle.
        return Variant, (self.name, dict(self.options), dict(self.factors))


def variants(**choices: Any) -> tuple[Variant, ...]:
    """Return every combination of choices, a design each.

    Parameters
    ----------
    **choices
        Options of `Sock`. A list or a tuple varies the option and becomes a column of the table;
        so does a mapping, whose keys name the values there. Anything else holds for all.

    Raises
    ------
    StudyError
        An option without a value, or one that socks haven't got; a heel, toe or other part, or a
        word, that isn't known.

    Examples
    --------
    >>> for design in variants(heel=["flap", "short-row"], ease=[-0.05, -0.1], toe="round"):
    ...     print(design.name)
    flap, ease -0.05
    flap, ease -0.1
    short-row, ease -0.05
    short-row, ease -0.1
    """
    varied = {name: _named(value) for name, value in choices.items() if _varies(value)}
    fixed = {name: value for name, value in choices.items() if name not in varied}
    for name, values in varied.items():
        if not values:
            raise StudyError(f"option {name!r}", "no values", "name one or more")
    designs = []
    for picked in itertools.product(*(values.items() for values in varied.values())):
        factors = dict(zip(varied, (label for label, _ in picked), strict=True))
        options = dict(zip(varied, (value for _, value in picked), strict=True))
        words = [label if isinstance(label, str) else f"{name} {label:g}"
                 for name, label in factors.items()]  # fmt: skip
        designs.append(Variant(", ".join(words) or "sock", {**fixed, **options}, factors))
        refuse_unknown(designs[-1])
    return tuple(designs)


def refuse_unknown(design: Variant) -> None:
    """Refuse a design with a part or a word that no sock knows: all its cases would fail.

    Raises
    ------
    StudyError
        Says which are known.
    """
    for option, value in design.options.items():
        convert = getattr(attrs.fields_dict(Sock)[option], "converter", None)
        try:
            if convert is not None:
                convert(value)
        except (MeasureError, ArgumentError) as error:
            expected = error.expected if isinstance(error, MeasureError) else str(error)
            raise StudyError(f"{option} of design {design.name!r}", repr(value), expected) from None


def factor_columns(designs: Iterable[Variant]) -> tuple[Column, ...]:
    """Return a column for each factor: numbers where all its values are numbers, else text."""
    values: dict[str, list[Factor]] = {}
    for design in designs:
        for name, value in design.factors.items():
            values.setdefault(name, []).append(value)
    return tuple(
        Column(name, "text")
        if any(isinstance(value, str) for value in found)
        else Column(name, "number", _UNITS.get(name, ""))
        for name, found in values.items()
    )


def _varies(value: Any) -> bool:
    return isinstance(value, list | tuple | Mapping)


def _named(value: Any) -> dict[Factor, Any]:
    if isinstance(value, Mapping):
        return dict(value)
    plain = {one: one for one in value if isinstance(one, str | int | float)}
    if len(plain) < len(value):
        raise StudyError("values", repr(value), "name them: {'name': value, ...}, each once")
    return plain
