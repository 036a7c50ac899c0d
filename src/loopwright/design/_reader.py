"""A design file: a foot, a swatch and choices, in plain words of the trade, as TOML.

Every key has the name of what it sets. The keys of a heel, a toe, a cuff or a leg are the fields of
its class; those of a foot are the measures that `loopwright.sock.Foot.of` takes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import attrs

from loopwright import pattern as written
from loopwright.design._document import LARGEST, VERSION, parse
from loopwright.design._exact import MEASURES, exact_foot, exact_gauge
from loopwright.design._front_keys import front_matter
from loopwright.design._measured_table import measured_in
from loopwright.design._table import TOP, DesignTable, build
from loopwright.design.front import FrontMatter
from loopwright.errors import DesignError, FootError, LoopwrightError, SizingError
from loopwright.fabric.stitches import STITCHES, Stitch, StitchTable
from loopwright.file_reading import read_at_most
from loopwright.gauge import Gauge, Relaxation
from loopwright.pattern import Pattern, Round, Run, Words, crossing_defined
from loopwright.ranges import MOST
from loopwright.sock import (
    AllRound,
    Cuff,
    Measured,
    Panel,
    PatternedLeg,
    ShoeSize,
    Sock,
    SockStripes,
    SockYarn,
    StitchPattern,
    cuff_named,
    cuff_names,
    leg_named,
    leg_names,
    load_file,
    remarks,
    toe_named,
    toe_names,
)
from loopwright.sock.foot import Foot
from loopwright.sock.grading import Design
from loopwright.sock.heels import Direction, heel_named, heel_names
from loopwright.sock.needles import Needles
from loopwright.sock.sizes import chart_size
from loopwright.sock.survey import Sex
from loopwright.yarn import Yarn

__all__ = ["DesignFile", "read_design"]

_FOOT = (*MEASURES, "shoe", "sex", "chart", "tape", "measures")
_FIT = ("ease", "length_ease", "heel_share", "stitches")  # for all sizes, or for one
_ALONE = ""  # the name of the only size, where it has none
_LONGEST_NAME = 40  # characters of a size: up to 160 bytes of the 255 that a file's name may have


@attrs.frozen
class DesignFile:
    """What a design file asks for.

    Parameters
    ----------
    design : Design
        The socks by size; one size without a name has the empty one.
    summary : str
        What the designer says about it.
    words : Words
        American or British terms.
    measured : tuple of Measured
        Pieces that were knitted and measured; `loopwright.fitting.with_hands` learns from them.
    front : FrontMatter
        Author, needles, paper, own words.
    photo : (bytes, str), optional
        The picture that `front` names, and its kind; whoever reads files loads it.
    """

    design: Design
    summary: str = ""
    words: Words = Words.US
    measured: tuple[Measured, ...] = ()
    front: FrontMatter = attrs.field(factory=FrontMatter)
    photo: tuple[bytes, str] | None = attrs.field(default=None, repr=False)

    def remarks(self) -> tuple[str, ...]:
        """Return what is unusual about the numbers, before anything is knitted.

        Examples
        --------
        >>> file = read_design('''
        ... gauge = {stitches = 300, rounds = 400, over = "10 cm"}
        ... foot = {length = "24 cm", ball_girth = "22 cm"}
        ... ''')
        >>> for remark in file.remarks():
        ...     print(remark)
        Gauge: 300 stitches to 10 cm, more than any yarn for socks has (mostly 24 to 44): were they
        counted over another length?
        """
        about: dict[str, list[str]] = {}
        for name, sock in self.design.socks:
            for text in remarks(sock):
                about.setdefault(text, []).append(name)
        everywhere = len(self.design.socks)
        return tuple(
            text if len(names) == everywhere else f"Size {', '.join(names)}: {text}"
            for text, names in about.items()
        )

    def one_size(self, name: str) -> DesignFile:
        """Return the design of one size alone, rewritten as if there were no other.

        Raises
        ------
        SizingError
            There is no such size; says which there are.

        Examples
        --------
        >>> file = read_design('''
        ... title = "Pier socks"
        ... gauge = {stitches = 32, rounds = 44, over = "10 cm"}
        ... [[sizes]]
        ... name = "S"
        ... length = "23 cm"
        ... [[sizes]]
        ... name = "M"
        ... length = "25 cm"
        ... ''')
        >>> alone = file.one_size("M")
        >>> alone.design.title, alone.design.sizes
        ('Pier socks, size M', ('',))
        """
        socks = dict(self.design.socks)
        if name not in socks:
            names = ", ".join(filter(None, socks)) or "one size without a name; leave it out"
            raise SizingError("size", repr(name), f"the design has {names}")
        title = f"{self.design.title}, size {name}" if name else self.design.title
        return attrs.evolve(self, design=Design(title, {"": socks[name]}))

    def pattern(self) -> Pattern:
        """Return the pattern of all sizes."""
        if self.design.sizes == (_ALONE,):
            return self.design.socks[0][1].pattern()
        return self.design.pattern()


def read_design(
    text: str, *, run_parts_in: str | Path | None = None, folder: str | Path | None = None
) -> DesignFile:
    """Return what a design file asks for.

    Parameters
    ----------
    text : str
        TOML; see the reference page "The design file".
    run_parts_in : path, optional
        The folder in which the Python files stand that the key ``parts`` names, if they are to be
        run: they can do whatever you can, so that by default none is and the key is refused.
    folder : path, optional
        Where the designs and patterns stand that ``[[measured]]`` names; without it only pieces of
        this design can be named.

    Raises
    ------
    DesignError
        What can't be used; carries the key, its line, and what was expected.

    Examples
    --------
    >>> file = read_design('''
    ... title = "Pier socks"
    ... gauge = {stitches = 32, rounds = 44, over = "10 cm"}
    ... [foot]
    ... length = "24.6 cm"
    ... ball_girth = "22.5 cm"
    ... ''')
    >>> file.design.socks[0][1].plan().stitches.count
    64
    >>> file.pattern().title
    'Pier socks'
    """
    document = parse(text)
    top = DesignTable(document, document.values)
    _refuse_other_versions(top)
    top.allow(*TOP)
    if "parts" in top:
        _run_parts(top, run_parts_in)
    base = _base(top)
    entries = _sizes(top)
    socks = {name: _sized(base, entry) for name, entry in entries.items()}
    _ask_whose_shoe(entries, socks)
    for name, sock in socks.items():
        _refuse_unplanned(top, "sizes" if name else "foot", sock)
    design = top.call("sizes", Design, base["title"], socks)
    words = top.choice("words", Words, Words.US)
    measured = measured_in(top, socks, _Elsewhere(None if folder is None else Path(folder)))
    front = front_matter(top.table("document"))
    return DesignFile(design, top.text("summary").strip(), words, measured, front)


def _refuse_other_versions(top: DesignTable) -> None:
    """Refuse a later version before what is new in it is taken for a mistake."""
    if top.whole("version", VERSION) != VERSION:
        found, expected = str(top.values["version"]), f"{VERSION}, the version that is read here"
        raise top.refuse("version", found, expected)


@attrs.frozen
class _Elsewhere:
    """Where other designs and patterns stand."""

    folder: Path | None

    def text(self, table: DesignTable, key: str) -> str:
        name = table.line_of_text(key)
        if self.folder is None:
            raise table.refuse(
                key, repr(name), "the folder that it stands in, for whoever reads it"
            )
        try:
            return read_at_most(self.folder / name, LARGEST).decode().replace("\r\n", "\n")
        except (OSError, UnicodeDecodeError) as error:
            reason = getattr(error, "strerror", None) or "not UTF-8 text"
            raise table.refuse(key, f"{name!r}: {str(reason).lower()}", "a file there") from error

    def socks(self, table: DesignTable, key: str) -> dict[str, Sock]:
        told = table.call(key, read_design, self.text(table, key))
        return dict(told.design.socks)


def _run_parts(top: DesignTable, folder: str | Path | None) -> None:
    """Run the Python files that the design names, if that was asked for."""
    named = top.values["parts"]
    names = named if isinstance(named, list) else [named]
    if not all(isinstance(name, str) and name.strip() for name in names):
        raise top.refuse("parts", repr(named)[:40], 'the name of a Python file, "my_heel.py"')
    if folder is None:
        found = f"{', '.join(names)}, which would be run"
        raise top.refuse("parts", found, "--run-parts on the command line, if you trust that file")
    for name in names:
        top.call("parts", load_file, Path(folder) / name)


def _base(top: DesignTable) -> dict[str, Any]:
    """Return all that the sizes have in common."""
    fit = top.table("fit")
    fit.allow(*_FIT)
    return {
        "title": top.line_of_text("title", "Socks"),
        "gauge": _gauge(top, "gauge"),
        "rib_gauge": _gauge(top, "rib_gauge") if "rib_gauge" in top else None,
        "slip_gauge": _gauge(top, "slip_gauge") if "slip_gauge" in top else None,
        "direction": top.choice("direction", Direction, Direction.CUFF_DOWN),
        "needles": top.choice("needles", Needles, Needles.LONG_CIRCULAR),
        "yarn": _yarn(top.table("yarn")) if "yarn" in top else None,
        "yarns": _yarns(top),
        "stripes": _stripes(top),
        "panel": _panel(top),
        "all_round": _all_round(top),
        "heel": _construction(top, "heel", heel_names(), heel_named),
        "toe": _construction(top, "toe", toe_names(), toe_named),
        "cuff": _cuff(top.table("cuff")),
        "leg": _leg(top),
        **_fit(fit),
    }


def _fit(table: DesignTable) -> dict[str, Any]:
    readers: dict[str, tuple[str, Callable[[str], Any]]] = {
        "ease": ("ease", table.number),
        "length_ease": ("length_ease_mm", table.length_mm),
        "heel_share": ("share", table.number),
        "stitches": ("stitches", table.whole),
    }
    return {field: read(key) for key, (field, read) in readers.items() if key in table}


def _gauge(top: DesignTable, key: str) -> Gauge:
    if key not in top:
        expected = "a table [gauge] with stitches, rounds and over"
        raise DesignError("", 1, "no gauge", expected)
    table = top.table(key)
    if "stitches_per_cm" in table:
        return exact_gauge(table)
    table.allow("stitches", "rounds", "over", "state")
    over = table.require("over", '"10 cm"')
    return table.call(
        "",
        Gauge.of,
        _counts(table, "stitches"),
        _counts(table, "rounds"),
        over=tuple(over) if isinstance(over, list) and len(over) == 2 else over,
        state=table.choice("state", Relaxation, Relaxation.WASHED),
    )


def _counts(table: DesignTable, key: str) -> list[float]:
    """Return one count of a swatch or several."""
    found = table.require(key, "what you counted, or a list of counts")
    several = found if isinstance(found, list) else [found]
    for count in several:
        if isinstance(count, bool) or not isinstance(count, int | float):
            raise table.refuse(key, repr(count), "a number, or a list of numbers")
        if not 0 < count <= MOST:
            raise table.refuse(key, f"{str(count)[:20]}", f"more than 0, at most {MOST}")
    return [float(count) for count in several]


def _yarns(top: DesignTable) -> tuple[SockYarn, ...]:
    """Return the yarns with names, and which parts are in which."""
    if "yarns" not in top:
        return ()
    if "yarn" in top:
        raise top.refuse("yarn", "[yarn] and [[yarns]]", "one yarn, or several with names")
    found = []
    for entry in top.tables("yarns"):
        entry.allow("name", "band", "parts", "colour", *_BAND)
        name = entry.line_of_text("name") if "name" in entry else ""
        if not name:
            raise entry.refuse("name" if "name" in entry else "", "no name", 'name = "A"')
        parts = entry.values.get("parts", [])
        if not isinstance(parts, list) or not all(isinstance(part, str) for part in parts):
            raise entry.refuse("parts", repr(parts)[:40], 'parts of the sock: ["heel", "toe"]')
        band = _yarn(entry) if "count" in entry else None
        found.append(
            entry.call("", SockYarn, name=name, yarn=band, parts=parts, colour=entry.text("colour"))
        )
    return tuple(found)


def _stripes(top: DesignTable) -> SockStripes | None:
    if "stripes" not in top:
        return None
    table = top.table("stripes")
    table.allow("sequence", "parts")
    texts = table.require("sequence", 'a list such as ["2 A", "3 B"]')
    texts = texts if isinstance(texts, list) else [texts]
    bands = []
    for text in texts:
        rounds, _, name = str(text).strip().partition(" ")
        if not isinstance(text, str) or not rounds.isdecimal() or not name.strip():
            raise table.refuse("sequence", repr(text), 'rounds and a yarn: "2 A"')
        bands.append((name.strip(), int(rounds[:6])))
    parts = {"parts": table.values["parts"]} if "parts" in table else {}
    return table.call("sequence", SockStripes, bands=bands, **parts)


def _stitches(top: DesignTable) -> StitchTable:
    """Return the stitch table with the design's own."""
    table = STITCHES
    for entry in top.tables("stitches"):
        for key in ("key", "name"):
            entry.require(key, 'a text such as "k4tog"')
        told = {*entry.values} == {"key", "name"}  # a cable, by what the hands do
        row = crossing_defined(entry.text("key"), entry.text("name")) if told else None
        row = row or build(Stitch, entry)
        table = entry.call("key", table.with_stitch, row)
    return table


def _panel(top: DesignTable) -> Panel | None:
    if "panel" not in top:
        return None
    table = top.table("panel")
    table.allow("rounds", "repeats", "plain", "gauge", "matches_cuff", "round_leg")
    pattern = _stitch_pattern(top, table)
    repeats = {"repeats": table.whole("repeats")} if "repeats" in table else {}
    return table.call(
        "", Panel, pattern=pattern, plain=table.whole("plain", 1),
        gauge=_gauge(table, "gauge") if "gauge" in table else None,
        matches_cuff=table.yes("matches_cuff"), round_leg=table.yes("round_leg"), **repeats,
    )  # fmt: skip


def _stitch_pattern(top: DesignTable, table: DesignTable) -> StitchPattern:
    """Return the pattern of a table's rounds."""
    texts = _texts(table, "rounds", 'a list of rounds: ["p1, *k2tog, yo, k3, p1; rep from *"]')
    return table.call("rounds", StitchPattern.of, texts, stitches=_stitches(top))


def _texts(table: DesignTable, key: str, example: str) -> list[str]:
    texts = table.require(key, example)
    if not isinstance(texts, list) or not all(isinstance(text, str) for text in texts):
        raise table.refuse(key, repr(texts)[:40], "texts, one for each round")
    return texts


def _all_round(top: DesignTable) -> tuple[AllRound, ...]:
    """Return the stitch patterns that go all round leg or foot."""
    if "all_round" not in top:
        return ()
    found = []
    for table in top.tables("all_round"):
        table.allow("rounds", "chart", "part", "after", "times", "gauge", "stretch")
        if "chart" in table:
            if "rounds" in table:
                raise table.refuse("chart", "chart beside rounds", "the one or the other")
            rows = _texts(table, "chart", 'a chart of colours: ["ABBA", "BAAB"]')
            pattern = table.call("chart", StitchPattern.of_colours, rows)
        else:
            pattern = _stitch_pattern(top, table)
        given: dict[str, Any] = {"times": table.whole("times")} if "times" in table else {}
        if "gauge" in table:
            given["gauge"] = _gauge(table, "gauge")
        if "stretch" in table:
            given["stretch"] = table.number("stretch")
        part, after = table.text("part") or "leg", table.whole("after", 0)
        found.append(table.call("", AllRound, pattern=pattern, part=part, after=after, **given))
    return tuple(found)


_BAND = ("count", "ball", "fibre_density")


def _yarn(table: DesignTable) -> Yarn:
    if table.path[-1] == "yarn":
        table.allow("name", *_BAND)
    count = table.require("count", '"420 m / 100 g", "238 tex", "4.2 Nm" or "2.5 Ne"')
    density = {"fibre_density": table.number("fibre_density")} if "fibre_density" in table else {}
    name = table.line_of_text("band") or table.line_of_text("name", "yarn")
    table.call("count", Yarn.of, name, count)  # first alone, so that its error has its place
    last = "ball" if "ball" in table else "fibre_density"
    return table.call(last, Yarn.of, name, count, ball=table.values.get("ball"), **density)


def _construction(
    top: DesignTable, what: str, names: tuple[str, ...], named: Callable[[str], Any]
) -> Any:
    """Return a heel or a toe: its ``kind``, and the fields of its class."""
    table = top.table(what)
    usual = named(table.one_of("kind", names, _USUAL[what]))
    return build(type(usual), table, also=("kind",))


_USUAL = {"heel": "forethought", "toe": "wedge"}


def _cuff(table: DesignTable) -> Cuff:
    usual = cuff_named(table.one_of("kind", cuff_names(), "2x2 rib"))
    if "height" in table:  # first alone, so that its error has its place
        table.call("height", attrs.evolve, usual, height_mm=table.length_mm("height"))
    return build(type(usual), table, also=("kind",))


def _leg(top: DesignTable) -> Any:
    table = top.table("leg")
    kind = table.one_of("kind", leg_names(), "plain")
    if kind != PatternedLeg.name:
        return build(type(leg_named(kind)), table, also=("kind",))
    table.allow("kind", "rounds")
    texts = table.require(
        "rounds", 'a list of rounds one repeat wide, such as ["k6", "yo, k2tog, k4"]'
    )
    if not isinstance(texts, list) or not all(isinstance(text, str) for text in texts):
        raise table.refuse("rounds", repr(texts)[:40], 'texts such as ["k6", "yo, k2tog, k4"]')
    rounds = [table.call("rounds", _runs, text) for text in texts]
    for text, runs in zip(texts, rounds, strict=True):
        if not runs:
            raise table.refuse("rounds", repr(text), "stitches and their numbers: k2, yo, k2tog")
    return table.call("rounds", PatternedLeg, rounds=rounds)


def _runs(text: str) -> tuple[Run, ...]:
    """Return the stitches of one repeat of one round; none where it says something else too."""
    steps = written.instructions(f"Rnd 1: {text.strip().rstrip('.')}.")
    items = steps[0].items if len(steps) == 1 and isinstance(steps[0], Round) else ()
    runs = tuple(item for item in items if isinstance(item, Run) and isinstance(item.amount, int))
    return runs if len(runs) == len(items) else ()


def _sizes(top: DesignTable) -> dict[str, DesignTable]:
    """Return the table of each size's foot by its name."""
    if "foot" in top and "sizes" in top:
        raise top.refuse("foot", "[foot] and [[sizes]]", "one foot, or sizes with a foot each")
    if "foot" in top:
        return {_ALONE: top.table("foot")}
    entries = list(top.tables("sizes"))
    if not entries:
        raise DesignError("", 1, "no foot", "a table [foot], or one [[sizes]] for each size")
    named: dict[str, DesignTable] = {}
    for entry in entries:
        name = entry.line_of_text("name") if "name" in entry else ""
        if not name:
            raise entry.refuse("name" if "name" in entry else "", "no name", 'name = "M"')
        if len(name) > _LONGEST_NAME:
            expected = f"at most {_LONGEST_NAME}: files are named after it"
            raise entry.refuse("name", f"a name of {len(name)} characters", expected)
        if name in named:
            raise entry.refuse("name", f"{name!r} twice", "a name for each size")
        entry.call("name", Pattern, "", (), sizes=(name,))
        named[name] = entry
    return named


def _sized(base: Mapping[str, Any], table: DesignTable) -> Sock:
    table.allow("name", *_FOOT, *_FIT)
    chosen = {**base, **_fit(table)}
    return table.call("", Sock, foot=_foot(table), **chosen)


def _foot(table: DesignTable) -> Foot:
    if "chart" in table:
        for key in (*MEASURES, "shoe", "sex"):
            if key in table:
                raise table.refuse(key, f"{key} beside chart", "a row of the chart, or measures")
        return table.call("chart", chart_size, table.text("chart")).foot()
    sex = table.choice("sex", Sex, Sex.UNKNOWN) if "sex" in table else None
    if "measures" in table:
        return exact_foot(table, sex or Sex.UNKNOWN)
    given: dict[str, Any] = {}
    for key in MEASURES:
        if key in table:
            table.length_mm(key)
            given[key] = table.text(key)
    if "shoe" in table:
        given["shoe"] = table.text("shoe")
    if "tape" in table:
        table.length_mm("tape")
        given["tape_sd"] = table.text("tape")
    try:
        return Foot.of(**given, sex=sex)
    except LoopwrightError as error:
        raise DesignError(*_place(table, error), str(error), "", refused=True) from error


_CHILD_MM = 205.0  # a foot of U.S. child's size 3 or so: common practice


def _refuse_unplanned(top: DesignTable, key: str, sock: Sock) -> None:
    """Refuse a sock that can't be planned, asking about what may be a slip in its numbers."""
    try:
        top.call(key, sock.plan)
    except DesignError as error:
        asked = [f"({remark})" for remark in remarks(sock) if remark.endswith("?")]
        found = " ".join([error.found, *asked])
        raise DesignError(error.key, error.line, found, "", refused=True) from error


def _ask_whose_shoe(entries: Mapping[str, DesignTable], socks: Mapping[str, Sock]) -> None:
    """Refuse a British size that may be a child's, where the set has a child's size.

    Sizes 0 to 13 1/2 are numbered twice, and only the other sizes tell which was meant.
    """
    lengths = {name: sock.foot.length.mm for name, sock in socks.items()}
    for name, table in entries.items():
        shoe = " ".join(table.text("shoe").lower().split()) if "shoe" in table else ""
        if not re.fullmatch(r"uk ?\d.*", shoe) or lengths[name] < _CHILD_MM:
            continue
        number = shoe.removeprefix("uk").strip()
        try:
            child = ShoeSize.of(f"UK child {number}").foot_length.mm
        except LoopwrightError:
            continue
        if any(mm < _CHILD_MM for other, mm in lengths.items() if other != name):
            expected = (
                f"'UK child {number}' (a foot of about {child / 10:.1f} cm) or 'UK adult {number}' "
                f"({lengths[name] / 10:.1f} cm)"
            )
            raise table.refuse(
                "shoe", f"{table.text('shoe')!r} in a set with a child's size", expected
            )


def _place(table: DesignTable, error: LoopwrightError) -> tuple[str, int]:
    """Return the key that a foot's error is about, and its line; else the table's."""
    about = (error.what if isinstance(error, FootError) else "shoe").replace(" ", "_")
    key = next((key for key in _FOOT if key in table and about.startswith(key)), "")
    refused = table.refuse(key, "", "")
    return refused.key, refused.line
