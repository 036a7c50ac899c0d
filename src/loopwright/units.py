"""The one registry of units, and the boundary where quantities become plain floats.

Stitches and courses are units of their own: 64 stitches and 64 courses are no more equal than
64 metres and 64 grams, and adding them raises. A row and a round are both a course: which of the
two a fabric is worked in is a fact of the fabric, not of the number. One stitch of one course is
one loop, so that a stitch gauge times a course gauge is a number of loops to an area.

Public functions of this package take quantities, or text such as ``"25 cm"``, and convert once by
a function below; inside are floats whose names end in the unit (``length_mm``). A bare number is
refused, since 10 may be inches or centimetres.

The registry is private to the package. Quantities from a user's own registry are accepted where
their units are known here. Quantities of stitches do not survive pickling (pint rebuilds
them in the process's default registry): send floats or classes of this package between processes.
"""

from __future__ import annotations

import math
import re
import reprlib
from collections.abc import Mapping
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeAlias

import numpy as np

from loopwright._late import LatePackage
from loopwright.border import guard
from loopwright.errors import UnitError

__all__ = [
    "Quantity",
    "QuantityLike",
    "cm",
    "course",
    "gram",
    "inch",
    "loop",
    "metre",
    "mm",
    "parse",
    "registry",
    "stitch",
    "tex",
    "to_courses_per_mm",
    "to_grams",
    "to_loops_per_mm2",
    "to_mm",
    "to_stitches_per_mm",
    "to_tex",
    "yarn_count",
]

if TYPE_CHECKING:
    # What pint's own classes do, in types that are known in full: pint's are not, and whoever
    # multiplied by one of the units below would get an error from a strict type checker.
    class Unit(Protocol):
        """A unit, by which a number is multiplied to make a quantity."""

        def __mul__(self, other: Unit, /) -> Unit: ...
        def __rmul__(self, other: float, /) -> Quantity: ...
        def __truediv__(self, other: Unit, /) -> Unit: ...
        def __rtruediv__(self, other: float, /) -> Quantity: ...
        def __pow__(self, other: int, /) -> Unit: ...

    class Quantity(Protocol):
        """A number with a unit."""

        @property
        def magnitude(self) -> Any:
            """The number."""

        @property
        def units(self) -> Any:
            """The unit."""

        def m_as(self, units: Any, /) -> Any:
            """Return the number in another unit."""

        def to(self, other: Any, /) -> Quantity:
            """Return the quantity in another unit."""

        def check(self, dimension: Any, /) -> bool:
            """Whether it is of this dimension."""

        def __mul__(self, other: float | Unit | Quantity, /) -> Quantity: ...
        def __rmul__(self, other: float, /) -> Quantity: ...
        def __truediv__(self, other: float | Unit | Quantity, /) -> Quantity: ...
        def __rtruediv__(self, other: float, /) -> Quantity: ...
        def __pow__(self, other: int, /) -> Quantity: ...
        def __add__(self, other: Quantity, /) -> Quantity: ...
        def __sub__(self, other: Quantity, /) -> Quantity: ...
        def __lt__(self, other: Quantity, /) -> bool: ...
        def __le__(self, other: Quantity, /) -> bool: ...
        def __gt__(self, other: Quantity, /) -> bool: ...
        def __ge__(self, other: Quantity, /) -> bool: ...

    import pint

    from loopwright import _registry as _made

    registry: pint.UnitRegistry[Any]
    """The registry that every quantity of this package belongs to."""

    QuantityLike: TypeAlias = Quantity | str
    """What public functions take: a quantity, or text such as ``"25 cm"`` or ``"9 1/2 in"``."""

    mm: Unit
    """A millimetre."""
    cm: Unit
    """A centimetre."""
    metre: Unit
    """A metre."""
    inch: Unit
    """An inch, 25.4 mm exactly."""
    gram: Unit
    """A gram."""
    tex: Unit
    """Fineness of a yarn: grams to 1000 m."""
    stitch: Unit
    """A stitch, counted along a course."""
    course: Unit
    """A course, that is a row or a round, counted along the fabric."""
    loop: Unit
    """A loop: one stitch of one course."""
else:
    pint = LatePackage("pint")
    _made = LatePackage("loopwright._registry")

    def __getattr__(name: str) -> Any:
        """Make what needs pint when it is first asked for; it takes long to import."""
        if name not in __all__:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        if name == "registry":
            return _made.registry
        if name.startswith("Quantity"):
            return pint.Quantity if name == "Quantity" else pint.Quantity | str
        return getattr(_made.registry, name)

    def __dir__() -> list[str]:
        return sorted({*globals(), *__all__})


# Units that text may use. pint alone would read "4 ply" as four pico-light-years.
_WRITTEN: Final = frozenset(
    (
        *("millimeter", "centimeter", "decimeter", "meter", "kilometer", "inch", "foot", "yard"),
        *("gram", "kilogram", "milligram", "ounce", "pound"),
        *("tex", "decitex", "dtex", "kilotex", "millitex", "denier"),
        *("number_meter", "number_english", "number_worsted"),
        *("stitch", "course", "loop"),
    )
)
_SHORT: Final = {'"': "inch", "″": "inch", "'": "foot", "′": "foot"}
_VULGAR: Final[Mapping[str, str]] = {
    "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3",
    "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8",
}  # fmt: skip
_FRACTION: Final = r"[-+−]?(?:[0-9]+[ -]+)?[0-9]+/[0-9]+"
_DECIMAL: Final = r"[-+−]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?"
_NUMBER: Final = f"{_FRACTION}|{_DECIMAL}"
_UNIT: Final = r"[A-Za-z]+|[\"″'′]"
_TEXT: Final = re.compile(
    rf"(?P<number>{_NUMBER})\s*(?P<unit>{_UNIT})"
    rf"(?:\s*(?:/|=|\bper\b|\bto\b|\bover\b|\bin\b)\s*(?P<per>{_NUMBER})?\s*(?P<per_unit>{_UNIT}))?"
)
_LONGEST: Final = 60  # characters; a longer text is no measure

# What nearly every text says, read without pint: the unit, what of, and how many to one of those.
_USUAL: Final = {
    "mm": ("mm", 1.0), "cm": ("mm", 10.0), "m": ("mm", 1000.0),
    "in": ("mm", 25.4), '"': ("mm", 25.4), "″": ("mm", 25.4), "yd": ("mm", 914.4),
    "g": ("g", 1.0), "oz": ("g", 28.349523125), "lb": ("g", 453.59237),
    "sts": ("stitch", 1.0), "rows": ("course", 1.0), "rnds": ("course", 1.0),
    "rounds": ("course", 1.0), "": ("", 1.0),
}  # fmt: skip
_USUAL_OF: Final = {
    "millimeter": "mm/", "gram": "g/",
    "stitch / millimeter": "stitch/mm", "course / millimeter": "course/mm",
}  # fmt: skip
_TEX_MM: Final = 1e6  # millimetres to a gram, of a yarn of 1 tex

_LENGTH: Final = "a length with its unit, such as '25 cm', '9 1/2 in' or 25 * cm"
_MASS: Final = "a weight with its unit, such as '100 g' or 100 * gram"
_STITCH_GAUGE: Final = "stitches to a length, such as '32 sts / 10 cm' or 32 * stitch / (10 * cm)"
_COURSE_GAUGE: Final = "courses to a length, such as '44 rows / 10 cm' or 44 * course / (10 * cm)"
_DENSITY: Final = "loops to an area, such as 14 * loop / cm**2, or two gauges multiplied"
_COUNT: Final = (
    "a yarn count, such as '238 tex', '4.2 Nm', '2.5 Ne', '2140 denier', '420 m / 100 g'"
)


def to_mm(value: QuantityLike, *, what: str = "length") -> float:
    """A length in millimetres.

    Parameters
    ----------
    value : Quantity or str
        A length; zero is allowed.
    what : str, optional
        What is measured, for the message.

    Returns
    -------
    float, mm

    Raises
    ------
    UnitError
        A bare number, another kind of quantity, or a length below zero or not finite.

    Examples
    --------
    >>> to_mm("9 1/2 in")
    241.3
    >>> from loopwright.units import cm
    >>> to_mm(25 * cm)
    250.0
    >>> to_mm(25, what="foot length")
    Traceback (most recent call last):
      ...
    loopwright.errors.UnitError: foot length: a number without a unit: found 25; expected a length
    with its unit, such as '25 cm', '9 1/2 in' or 25 * cm
    """
    return _convert(value, "millimeter", what, _LENGTH, zero=True)


def to_grams(value: QuantityLike, *, what: str = "weight") -> float:
    """A weight in grams.

    Takes its arguments, and refuses, as `to_mm` does.

    Returns
    -------
    float, g

    Examples
    --------
    >>> round(to_grams("2 oz"), 1)
    56.7
    """
    return _convert(value, "gram", what, _MASS, zero=True)


def to_stitches_per_mm(value: QuantityLike, *, what: str = "stitch gauge") -> float:
    """A stitch gauge in stitches to a millimetre.

    Takes its arguments, and refuses, as `to_mm` does; zero is refused too.

    Returns
    -------
    float, stitches per mm

    Examples
    --------
    >>> to_stitches_per_mm("32 sts / 10 cm")
    0.32
    >>> from loopwright.units import cm, course
    >>> to_stitches_per_mm(44 * course / (10 * cm))
    Traceback (most recent call last):
      ...
    loopwright.errors.UnitError: stitch gauge: the wrong kind of quantity: found 4.4 course /
    centimeter; expected stitches to a length, ...
    """
    return _convert(value, "stitch / millimeter", what, _STITCH_GAUGE)


def to_courses_per_mm(value: QuantityLike, *, what: str = "course gauge") -> float:
    """A course gauge in courses (rows or rounds) to a millimetre.

    Takes its arguments, and refuses, as `to_mm` does; zero is refused too.

    Returns
    -------
    float, courses per mm

    Examples
    --------
    >>> to_courses_per_mm("44 rounds over 10 cm")
    0.44
    """
    return _convert(value, "course / millimeter", what, _COURSE_GAUGE)


def to_loops_per_mm2(value: QuantityLike, *, what: str = "stitch density") -> float:
    """A stitch density in loops to a square millimetre.

    Takes its arguments, and refuses, as `to_mm` does; zero is refused too.

    Returns
    -------
    float, loops per mm²

    Examples
    --------
    >>> from loopwright.units import cm, course, stitch
    >>> round(to_loops_per_mm2(3.2 * stitch / cm * 4.4 * course / cm), 4)
    0.1408
    """
    return _convert(value, "loop / millimeter**2", what, _DENSITY)


def to_tex(value: QuantityLike, *, what: str = "yarn count") -> float:
    """A yarn count of any system in tex, grams to 1000 m.

    Direct systems (tex, denier) weigh a length, indirect ones (Nm, Ne, and a ball's band) measure
    a weight; either may be given.

    Returns
    -------
    float, tex

    Examples
    --------
    >>> round(to_tex("420 m / 100 g"), 1)
    238.1
    >>> round(to_tex("60 Nm"), 2)
    16.67
    """
    plain, of = _plainly(value)
    if of == "mm/g" and 0 < plain < math.inf:  # a ball's band
        return _rounded(_TEX_MM / plain)
    quantity = _quantity(value, what, _COUNT)
    if quantity.check("[length] / [mass]"):
        if not quantity.magnitude > 0:
            raise UnitError(what, "not above zero", _shown(value), _COUNT)
        quantity = 1 / quantity
    return _convert(quantity, "tex", what, _COUNT)


def yarn_count(tex: float, unit: str) -> float:
    """A fineness in tex as the count of another system.

    Parameters
    ----------
    tex : float, grams per 1000 m
    unit : str
        ``"tex"``, ``"dtex"``, ``"denier"``, ``"Nm"`` (metric), ``"Ne"`` (cotton) or ``"NeW"``
        (worsted).

    Returns
    -------
    float, in `unit`

    Examples
    --------
    >>> round(yarn_count(238.1, "Nm"), 1)
    4.2
    """
    fineness = to_tex(tex * _made.registry.tex) * _made.registry.tex
    target = _unit(unit, "yarn count", unit, _COUNT)
    if (1 * target).check("[length] / [mass]"):
        return float((1 / fineness).m_as(target))
    return _convert(fineness, str(target), "yarn count", _COUNT)


def parse(text: str, *, what: str = "measure", expected: str = "a number and a unit") -> Quantity:
    """The quantity that a text states.

    One number and one unit, or two of them as a ratio (``/``, ``per``, ``to``, ``over``, ``in``,
    ``=``). Fractions are read as knitters write them; nothing is evaluated.

    Parameters
    ----------
    text : str
    what, expected : str, optional
        What is measured and what would have done, for the message.

    Returns
    -------
    Quantity

    Raises
    ------
    UnitError
        The text is no such measure, or its unit is unknown.

    Examples
    --------
    >>> print(parse("32 sts to 4 in"))
    8.0 stitch / inch
    """
    found = _TEXT.fullmatch(_plain(text)) if len(text) <= _LONGEST else None
    if found is None:
        problem = "a decimal comma" if "," in text else "not a number with a unit"
        raise UnitError(what, problem, _shown(text), expected)
    try:
        number = _number(found["number"]) / _number(found["per"] or "1")
    except ZeroDivisionError:
        raise UnitError(what, "a division by zero", _shown(text), expected) from None
    unit = _unit(found["unit"], what, text, expected)
    if found["per_unit"]:
        unit = unit / _unit(found["per_unit"], what, text, expected)
    quantity: Quantity = number * unit
    return quantity


def _convert(value: object, unit: str, what: str, expected: str, *, zero: bool = False) -> float:
    plain, of = _plainly(value)
    if of != _USUAL_OF.get(unit):
        try:
            plain = float(_quantity(value, what, expected).m_as(unit))
        except pint.PintError:
            problem = "the wrong kind of quantity"
            raise UnitError(what, problem, _shown(value), expected) from None
    result = _rounded(plain)
    if not math.isfinite(result):
        raise UnitError(what, "not a finite number", _shown(value), expected)
    if result < 0 or (result == 0 and not zero):
        problem = "below zero" if result < 0 else "not above zero"
        raise UnitError(what, problem, _shown(value), expected)
    return result


def _rounded(value: float) -> float:
    """Return 15 figures: 9 1/2 in is 241.3 mm, not 241.29999999999998; equal gauges are equal."""
    return float(f"{value:.15g}")


def _plainly(value: object) -> tuple[float, str]:
    """Return what a text in the usual units says, in mm and grams, and of what it is.

    Of anything else nothing is known here.
    """
    is_short = isinstance(value, str) and len(value) <= _LONGEST
    found = _TEXT.fullmatch(_plain(str(value))) if is_short else None
    if found is None:
        return math.nan, "unknown"
    unit, per = _USUAL.get(found["unit"]), _USUAL.get(found["per_unit"] or "")
    if unit is None or per is None:
        return math.nan, "unknown"
    try:
        number = _number(found["number"]) / _number(found["per"] or "1")
    except ZeroDivisionError:
        return math.nan, "unknown"
    return number * unit[1] / per[1], f"{unit[0]}/{per[0]}"


def _quantity(value: object, what: str, expected: str) -> Quantity:
    if isinstance(value, str):
        return parse(value, what=what, expected=expected)
    if not isinstance(value, pint.Quantity):
        bare = isinstance(value, int | float | Fraction | np.number | np.ndarray)
        problem = "a number without a unit" if bare else "not a quantity"
        raise UnitError(what, problem, _shown(value), expected)
    if np.ndim(value.magnitude):
        raise UnitError(what, "an array where one number goes", _shown(value), expected)
    try:
        magnitude = float(value.magnitude)
    except (TypeError, ValueError):
        raise UnitError(what, "not a real number", _shown(value), expected) from None
    if isinstance(value, _made.registry.Quantity):
        return _made.registry.Quantity(magnitude, value.units)
    try:  # a user's own registry: the same units by name
        return _made.registry.Quantity(magnitude, str(value.units))
    except pint.PintError:
        return _in_base_units(value, what, expected)


def _in_base_units(value: Any, what: str, expected: str) -> Quantity:
    """Take a unit that only a user's own registry knows through the base units of that."""
    try:
        base = value.to_base_units()
        return _made.registry.Quantity(float(base.magnitude), str(base.units))
    except pint.PintError:
        raise UnitError(what, "an unknown unit", _shown(value), expected) from None


def _unit(word: str, what: str, text: str, expected: str) -> Any:
    unit = _known(word)
    if unit is None:
        raise UnitError(what, f"an unknown unit {word!r}", _shown(text), expected)
    return unit


@lru_cache(maxsize=256)  # else four fifths of the time that reading a text takes
def _known(word: str) -> Any:
    for spelled in (_SHORT.get(word, word), word.lower()):
        try:
            unit = _made.registry.parse_units(spelled)
        except (pint.PintError, ValueError):  # a number, such as "nan", is no unit
            continue
        if str(unit) in _WRITTEN:
            return unit
    return None


def _plain(text: str) -> str:
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, fraction)
    return text.strip()


def _number(text: str) -> float:
    sign, digits = (-1.0 if text[0] in "-−" else 1.0), text.lstrip("+-−")
    if "/" not in digits:  # Fraction("1e999999999") would be written out in full
        return sign * float(digits)
    return sign * float(sum(Fraction(part) for part in re.split("[ -]+", digits)))


def _shown(value: object) -> str:
    return reprlib.repr(value) if isinstance(value, str) else str(value)[:_LONGEST]


guard(globals())
