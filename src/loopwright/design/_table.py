"""Reading a table of a design: one value at a time, each refused with its key and its line.

`build` makes an attrs class from a table. The class alone says which keys there are, of what kind
and with what default. So a heel which somebody adds can be asked for in a design file as soon as it
exists.
"""

from __future__ import annotations

import enum
import re
import types
import typing
from collections.abc import Callable, Iterable, Iterator, Mapping
from difflib import get_close_matches
from typing import Any, TypeVar

import attrs

from loopwright import units
from loopwright.design._document import Document, Path
from loopwright.errors import DesignError, LoopwrightError
from loopwright.ranges import LENGTH, LONGEST_MM, MOST

__all__ = ["TOP", "DesignTable", "build", "keys_of"]

T = TypeVar("T")
E = TypeVar("E", bound=enum.Enum)

# The keys of a design that stand above its tables, and the tables.
TOP = (
    "version", "title", "summary", "words", "parts", "direction", "needles", "gauge", "rib_gauge",
    "slip_gauge", "yarn", "yarns", "stripes", "panel", "all_round", "stitches",
    "fit", "heel", "toe", "cuff", "leg", "foot", "sizes", "measured", "document",
)  # fmt: skip
_LONGEST_FOUND = 200  # characters of a message that say what was found
_LONGEST_SAID = 2000  # characters of a message of the sock's own
_UNIT_TOLD = re.compile(r"[0-9]\s*(mm|cm|in|inch(?:es)?|\"|″)(?![a-z])", re.IGNORECASE)
_MM_TOLD = re.compile(r"([0-9]+(?:\.[0-9]+)?)(?: to ([0-9]+(?:\.[0-9]+)?))? mm\b")
_PERCENT = re.compile(r"\s*([-+−]?[0-9]+(?:\.[0-9]+)?)\s*%\s*")


@attrs.frozen
class DesignTable:
    """A table of a document, at a path.

    Parameters
    ----------
    document : Document
    values : mapping
        What the table holds.
    path : tuple of str or int
        Where it stands in the document.

    Raises
    ------
    DesignError
        From every method that reads: the key is missing, or of another kind; says its line.

    Examples
    --------
    >>> from loopwright.design import parse
    >>> from loopwright.sock import Sex
    >>> document = parse('''
    ... title = "Rain   socks"
    ... [foot]
    ... length = "24.6 cm"
    ... sex = "female"
    ... ease = "-10 %"
    ... toes = 5
    ... swollen = false
    ... [[sizes]]
    ... name = "S"
    ... ''')
    >>> top = DesignTable(document, document.values)
    >>> top.line_of_text("title"), top.text("summary", "none")
    ('Rain socks', 'none')
    >>> foot = top.table("foot")
    >>> foot.length_mm("length"), foot.number("ease"), foot.whole("toes"), foot.yes("swollen")
    (246.0, -0.1, 5, False)
    >>> foot.choice("sex", Sex, Sex.UNKNOWN), foot.one_of("sex", ["female", "male"])
    (<Sex.FEMALE: 'female'>, 'female')
    >>> [size.require("name", '"S"') for size in top.tables("sizes")]
    ['S']
    >>> foot.allow("length", "sex", "ease", "toes", "swelling")
    Traceback (most recent call last):
    loopwright.errors.DesignError: line 8, foot.swollen: ...
    >>> foot.call("length", units.to_mm, "24.6 stitches")
    Traceback (most recent call last):
    loopwright.errors.DesignError: line 4, foot.length: ...
    >>> raise foot.refuse("toes", "5", "none: a sock has one toe")
    Traceback (most recent call last):
    loopwright.errors.DesignError: line 7, foot.toes: ...
    """

    document: Document
    values: Mapping[str, Any]
    path: Path = ()

    def __contains__(self, key: str) -> bool:
        return key in self.values

    def refuse(self, key: str, found: str, expected: str) -> DesignError:
        """Return the error for a key of this table."""
        path = (*self.path, key) if key else self.path
        shown = found if len(found) <= _LONGEST_FOUND else f"{found[:_LONGEST_FOUND]}..."
        return DesignError(_dotted(path), self.document.line(path), shown, expected)

    def allow(self, *keys: str) -> None:
        """Refuse any other key; one that is nearly right is suggested."""
        for key, value in self.values.items():
            if key not in keys:
                near = get_close_matches(key.lower().replace(" ", "_"), keys, n=2, cutoff=0.6)
                longer = [one for one in keys if one.startswith(f"{key}_")]
                near = near or longer[:2]
                hint = f"{' or '.join(near)}?" if near else f"one of {', '.join(keys)}"
                if self.path and key in TOP and not (longer or isinstance(value, dict)):
                    hint = f"{key} above the first [table]: it is of the whole design"
                raise self.refuse(key, "a key that isn't known here", hint)

    def require(self, key: str, expected: str) -> Any:
        """Return the value of a key that has to be there."""
        if key not in self.values:
            raise self.refuse("", f"no {key!r}", f"{key} = {expected}")
        return self.values[key]

    def table(self, key: str) -> DesignTable:
        """Return the table under a key; an empty one where there is none."""
        found = self.values.get(key, {})
        if not isinstance(found, dict):
            raise self.refuse(key, _shown(found), f"a table, [{_dotted((*self.path, key))}]")
        return DesignTable(self.document, found, (*self.path, key))

    def tables(self, key: str) -> Iterator[DesignTable]:
        """Yield the tables of a list of them."""
        found = self.values.get(key, [])
        if not isinstance(found, list) or not all(isinstance(entry, dict) for entry in found):
            raise self.refuse(key, _shown(found), f"tables, each headed [[{key}]]")
        for place, entry in enumerate(found):
            yield DesignTable(self.document, entry, (*self.path, key, place))

    def text(self, key: str, default: str = "") -> str:
        """Return a text."""
        found = self.values.get(key, default)
        if not isinstance(found, str):
            raise self.refuse(key, _shown(found), "a text in quotes")
        return found

    def line_of_text(self, key: str, default: str = "") -> str:
        """Return a text without line breaks or doubled spaces."""
        return " ".join(self.text(key, default).split())

    def whole(self, key: str, default: int = 0) -> int:
        """Return a whole number."""
        found = self.values.get(key, default)
        if isinstance(found, bool) or not isinstance(found, int):
            raise self.refuse(key, _shown(found), "a whole number")
        if abs(found) > MOST:
            raise self.refuse(key, _shown(found), f"a whole number of at most {MOST}")
        return found

    def number(self, key: str, default: float = 0.0) -> float:
        """Return a number, or the fraction that a text such as ``"-10 %"`` states."""
        found = self.values.get(key, default)
        if isinstance(found, str) and (percent := _PERCENT.fullmatch(found)):
            return float(percent[1].replace("−", "-")) / 100
        if isinstance(found, bool) or not isinstance(found, int | float) or found != found:
            raise self.refuse(key, _shown(found), 'a number, or a share such as "10 %"')
        if abs(found) > MOST:
            raise self.refuse(key, _shown(found), f"a number of at most {MOST}")
        return float(found)

    def yes(self, key: str, default: bool = False) -> bool:
        """Return true or false."""
        found = self.values.get(key, default)
        if not isinstance(found, bool):
            raise self.refuse(key, _shown(found), "true or false")
        return found

    def choice(self, key: str, of: type[E], default: E) -> E:
        """Return the member of an enum that a text names by its value."""
        if key not in self.values:
            return default
        words = {str(member.value).lower(): member for member in of}
        return words[self.one_of(key, words)]

    def one_of(self, key: str, words: Iterable[str], default: str | None = None) -> str:
        """Return one of some words."""
        known = list(words)
        found = self.values.get(key, default)
        plain = " ".join(found.lower().split()) if isinstance(found, str) else ""
        if plain not in known:
            near = get_close_matches(plain, known, n=1)
            hint = f"; {near[0]!r} may be meant" if near else ""
            shown = _shown(found) if key in self.values else "nothing"
            raise self.refuse(key, shown, f"one of {', '.join(known)}{hint}")
        return plain

    def length_mm(self, key: str) -> float:
        """Return a length with its unit as mm; a sign in front makes it a difference."""
        found = self.values[key]
        sign, bare = 1.0, found
        if isinstance(found, str) and found.strip().startswith(("-", "−")):
            sign, bare = -1.0, found.strip()[1:]
        found_mm = self.call(key, units.to_mm, bare, what=_words(key))
        if found_mm > LONGEST_MM:
            raise self.refuse(key, _shown(found), f"at most {LONGEST_MM / 1000:g} m")
        return sign * found_mm

    def call(self, key: str, make: Callable[..., T], /, *values: Any, **named: Any) -> T:
        """Call `make`; what it refuses is refused at this key."""
        try:
            return make(*values, **named)
        except DesignError:
            raise
        except LoopwrightError as error:
            path = (*self.path, key) if key else self.path
            line = self.document.line(path)
            said = str(error)
            said = _in_unit_of(self.values, key, said)
            said = said if len(said) <= _LONGEST_SAID else f"{said[:_LONGEST_SAID]}..."
            raise DesignError(_dotted(path), line, said, "", refused=True) from error


def _in_unit_of(values: Mapping[str, Any], key: str, said: str) -> str:
    """Return a message with its millimetres in the unit that the table's lengths are in.

    Examples
    --------
    >>> _in_unit_of({"length": "9 1/2 in"}, "length", "found 508 mm; expected 50 to 450 mm")
    'found 20 in; expected 2 to 17.7 in'
    >>> _in_unit_of({"length": "24 cm"}, "length", "found 92.04 mm")
    'found 9.2 cm'
    >>> _in_unit_of({"length": "240 mm"}, "length", "found 92 mm")
    'found 92 mm'
    """
    told = [str(values.get(key, "")), *map(str, values.values())]
    unit = next((found[1] for one in told if (found := _UNIT_TOLD.search(one))), "mm").lower()
    if unit == "mm":
        return said
    unit = "cm" if unit == "cm" else "in"

    def again(found: re.Match[str]) -> str:
        numbers = (float(one) / units.to_mm(f"1 {unit}") for one in found.groups() if one)
        return f"{' to '.join(f'{one:.1f}'.removesuffix('.0') for one in numbers)} {unit}"

    return _MM_TOLD.sub(again, said)


def keys_of(cls: type[Any]) -> tuple[str, ...]:
    """Return the keys that `build` reads for a class."""
    return tuple(_key(field.name) for field in attrs.fields(cls) if field.init)


def build(
    cls: Callable[..., T], table: DesignTable, *, also: Iterable[str] = (), **given: Any
) -> T:
    """Return an attrs class from a table whose keys are its fields.

    Lengths (fields that end in ``_mm``) go without that ending, and with a unit. Fields that hold
    another attrs class are tables of their own.

    Parameters
    ----------
    cls : attrs class
    table : DesignTable
    also : iterable of str
        Further keys that the table may have; the caller reads them.
    **given
        Fields that the table doesn't hold.

    Raises
    ------
    DesignError
        An unknown key, or a value of the wrong kind or out of reason.

    Examples
    --------
    >>> from loopwright.design import parse
    >>> from loopwright.sock.heels import Forethought
    >>> document = parse("plain_rounds = 6")
    >>> build(Forethought, DesignTable(document, document.values)).plain_rounds
    6
    """
    fields = [f for f in attrs.fields(typing.cast(Any, cls)) if f.init and f.name not in given]
    table.allow(*(_key(field.name) for field in fields), *also)
    hints = typing.get_type_hints(cls)
    values = {
        field.name: _read(table, _key(field.name), field.name, hints[field.name])
        for field in fields
        if _key(field.name) in table
    }
    return table.call("", cls, **values, **given)


def _read(table: DesignTable, key: str, name: str, kind: Any) -> Any:
    """Return the value of a key as a field's type wants it."""
    options = typing.get_args(kind) if isinstance(kind, types.UnionType) else (kind,)
    kinds = [option for option in options if option is not type(None)]
    if name.endswith(LENGTH):
        return table.length_mm(key)
    for option in kinds:
        if isinstance(option, type) and issubclass(option, enum.Enum):
            return table.choice(key, option, next(iter(option)))
        if isinstance(option, type) and attrs.has(option):
            return build(option, table.table(key))
        if typing.get_origin(option) is tuple:
            return _several(table, key, typing.get_args(option)[0])
    for option, reader in ((bool, table.yes), (int, table.whole), (float, table.number)):
        if option in kinds:
            return reader(key)
    return table.text(key)


def _several(table: DesignTable, key: str, kind: Any) -> tuple[Any, ...]:
    found = table.values[key]
    if not isinstance(found, list):
        raise table.refuse(key, _shown(found), "a list in square brackets")
    if isinstance(kind, type) and attrs.has(kind):
        return tuple(build(kind, entry) for entry in table.tables(key))
    entries = DesignTable(table.document, {str(n): value for n, value in enumerate(found)},
                    (*table.path, key))  # fmt: skip
    return tuple(_read(entries, str(n), "", kind) for n in range(len(found)))


def _key(name: str) -> str:
    return name.removesuffix(LENGTH)


def _dotted(path: Path) -> str:
    """Return a path as messages name it: ``sizes 2, length``."""
    shown = ""
    for part in path:
        shown += f" {part + 1}" if isinstance(part, int) else f".{part}" if shown else part
    return shown


def _words(key: str) -> str:
    return key.replace("_", " ")


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, int) and abs(value) > 10**40:
        return "a number of more than 40 digits"
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."
