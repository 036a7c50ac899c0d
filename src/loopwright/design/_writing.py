"""A design written as a design file: what reads back as the same design.

What is usual is left out. A swatch is written as counts over a length where some give its gauge
exactly, a foot by the measures that were taken where the others follow from them. Else both are
written number by number, in tables of their own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, Final

import attrs
import tomlkit

from loopwright.design._document import VERSION
from loopwright.design._reader import DesignFile, read_design
from loopwright.design._rewriting import OWN_KEYS, PARTS, as_table, value_of
from loopwright.errors import DesignError, FootError, UnitError
from loopwright.fabric.stitches import STITCHES, Stitch
from loopwright.gauge import Gauge
from loopwright.length import Length, Origin
from loopwright.pattern import Repeat, Round, Run, SockPart, To, Where, Words, in_words
from loopwright.sock import (
    AllRound,
    Panel,
    PatternedLeg,
    Sock,
    SockStripes,
    SockYarn,
    StitchPattern,
)
from loopwright.sock.foot import TAPE_SD_MM, Foot
from loopwright.sock.grading import Design
from loopwright.sock.needles import Needles
from loopwright.sock.survey import Sex
from loopwright.units import to_tex
from loopwright.yarn import Yarn

__all__ = ["write_design"]

_OVERS: Final = {"10 cm": 10.0, "4 in": 10.16, "5 cm": 5.0, "2 in": 5.08, "1 in": 2.54}


def write_design(design: Design | DesignFile) -> str:
    """Return a design as the text of a design file, which reads back as the same design.

    Parameters
    ----------
    design : Design or DesignFile
        With heels, toes, cuffs and legs that are known by name; one of your own stands in the text
        by its name, and has to be known where it is read. A title that a sock has beside that of
        its design is left out.

    Raises
    ------
    DesignError
        Something that no key of a design file says: sizes with different heels, hands, a measured
        piece of another design.

    Examples
    --------
    >>> from loopwright import Design, Foot, Gauge, Sock
    >>> foot = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
    >>> sock = Sock(foot=foot, gauge=Gauge.of(32, 44), heel="flap", title="Pier socks")
    >>> pier = Design("Pier socks", {"M": sock})
    >>> text = write_design(pier)
    >>> print(text)
    version = 1
    title = "Pier socks"
    <BLANKLINE>
    [gauge]
    stitches = 32
    rounds = 44
    over = "10 cm"
    <BLANKLINE>
    [heel]
    kind = "flap"
    <BLANKLINE>
    [[sizes]]
    name = "M"
    length = "246 mm"
    ball_girth = "225 mm"
    <BLANKLINE>
    >>> read_design(text).design == pier
    True
    """
    whole = design if isinstance(design, DesignFile) else DesignFile(design)
    document = tomlkit.document()
    for key, value in _entries(whole):
        if isinstance(value, dict):
            value = _table(value)
        elif isinstance(value, list) and value and isinstance(value[0], dict):
            many = tomlkit.aot()
            for one in value:
                many.append(_table(one))
            value = many
        if isinstance(value, tomlkit.items.Table | tomlkit.items.AoT) and len(document):
            document.add(tomlkit.nl())
        document[key] = value
    text = tomlkit.dumps(document)
    _refuse_other(read_design(text), whole)
    return text


def _refuse_other(found: DesignFile, whole: DesignFile) -> None:
    """Refuse a text that would read back as another design, by what no key says."""
    for (name, sock), (_, other) in zip(found.design.socks, whole.design.socks, strict=True):
        for field in attrs.fields(Sock):
            if getattr(sock, field.name) != getattr(other, field.name) and field.name != "title":
                what = f"{field.name} of size {name}" if name else field.name
                raise DesignError(field.name, 1, f"the {what}", "what the keys of a design say")
    for field in attrs.fields(DesignFile):
        if field.name in ("summary", "words", "measured", "front") and (
            getattr(found, field.name) != getattr(whole, field.name)
        ):
            raise DesignError(field.name, 1, field.name, "what the keys of a design say")


def _entries(whole: DesignFile) -> Iterator[tuple[str, Any]]:
    design = whole.design
    first = design.socks[0][1]
    yield "version", VERSION
    yield "title", design.title
    if whole.summary:
        yield "summary", tomlkit.string(whole.summary, multiline="\n" in whole.summary)
    for key, value, usual in (
        ("words", whole.words.value, Words.US.value),
        ("direction", first.direction.value, "cuff down"),
        ("needles", first.needles.value, Needles.LONG_CIRCULAR.value),
    ):
        if value != usual:
            yield key, value
    for key in ("gauge", "rib_gauge", "slip_gauge"):
        if (gauge := getattr(first, key)) is not None:
            yield key, _gauge(gauge)
    yield from _yarns(first)
    yield from _patterns(first)
    socks = [sock for _, sock in design.socks]
    alike = [
        key for key in OWN_KEYS if all(getattr(one, key) == getattr(first, key) for one in socks)
    ]
    if fit := _fit(first, alike):
        yield "fit", fit
    for key, named in PARTS.items():
        part = getattr(first, key)
        factory: Any = attrs.fields_dict(Sock)[key].default
        if part != factory.factory():
            yield key, _part(key, part, named)
    if whole.measured:
        yield "measured", [_measured(piece, design) for piece in whole.measured]
    if document := _front(whole):
        yield "document", document
    alone = design.sizes == ("",)
    sizes = [_size(name, sock, alike) for name, sock in design.socks]
    yield ("foot", sizes[0]) if alone else ("sizes", sizes)


def _table(values: Mapping[str, Any]) -> Any:
    table = tomlkit.table()
    for key, value in values.items():
        inner = _table(value) if isinstance(value, dict) and key not in _INLINE else value
        table[key] = inner
    return table


_INLINE: Final = frozenset(name for name in attrs.fields_dict(Foot))


def _gauge(gauge: Gauge) -> dict[str, Any]:
    state = {} if gauge.state.value == "washed" else {"state": gauge.state.value}
    for over, cm in _OVERS.items():
        stitches, rounds = (
            _plain(round(each * cm, 6)) for each in (gauge.stitches_per_cm, gauge.courses_per_cm)
        )
        if Gauge.of(stitches, rounds, over=over, state=gauge.state) == gauge:
            return {"stitches": stitches, "rounds": rounds, "over": over, **state}
    told = attrs.asdict(gauge, filter=lambda field, _: field.name != "state")
    return {key.replace("courses", "rounds"): value for key, value in told.items()} | state


def _plain(number: float) -> float:
    return int(number) if number == int(number) else number


def _yarns(sock: Sock) -> Iterator[tuple[str, Any]]:
    if sock.yarn is not None:
        yield "yarn", {"name": sock.yarn.name, **_band(sock.yarn)}
    if sock.yarns:
        yield "yarns", [_sock_yarn(one) for one in sock.yarns]
    if sock.stripes is not None:
        yield "stripes", _stripes(sock.stripes)


def _sock_yarn(one: SockYarn) -> dict[str, Any]:
    told: dict[str, Any] = {"name": one.name}
    if one.parts:
        told["parts"] = [part.value for part in one.parts]
    if one.colour:
        told["colour"] = one.colour
    if one.yarn is not None:
        told |= {"band": one.yarn.name, **_band(one.yarn)}
    return told


def _band(yarn: Yarn) -> dict[str, Any]:
    told: dict[str, Any] = {"count": _count(yarn.tex)}
    if yarn.ball_g is not None:
        told["ball"] = f"{yarn.ball_g!r} g".replace(".0 g", " g")
    if yarn.fibre_density != attrs.fields(Yarn).fibre_density.default:
        told["fibre_density"] = yarn.fibre_density
    return told


def _count(tex: float) -> str:
    """Return a count in the first system in which it is exact."""
    shown = (
        f"{tex:.12g} tex", f"{1e5 / tex:.9g} m / 100 g", f"{5e4 / tex:.9g} m / 50 g",
        f"{1e3 / tex:.9g} Nm", f"{590.541 / tex:.6g} Ne", f"{tex!r} tex",
    )  # fmt: skip

    def is_exact(text: str) -> bool:
        try:
            return to_tex(text) == tex
        except UnitError:
            return False

    return next(filter(is_exact, shown), shown[-1])


def _stripes(stripes: SockStripes) -> dict[str, Any]:
    parts = [part.value for part in stripes.parts]
    told: dict[str, Any] = {"sequence": [f"{rounds} {yarn}" for yarn, rounds in stripes.bands]}
    return told if parts == ["leg", "foot"] else told | {"parts": parts}


def _patterns(sock: Sock) -> Iterator[tuple[str, Any]]:
    """Stitches of one's own, the panel, and what goes all round."""
    panel = [] if sock.panel is None else [sock.panel]
    patterns = [*(one.pattern for one in panel), *(one.pattern for one in sock.all_round)]
    used = (row for pattern in patterns for row in pattern.stitches)
    if own := [row for row in dict.fromkeys(used) if row not in set(STITCHES)]:
        yield "stitches", [_stitch(row) for row in own]
    for one in panel:
        yield "panel", _panel(one)
    if sock.all_round:
        yield "all_round", [_all_round(one) for one in sock.all_round]


def _panel(panel: Panel) -> dict[str, Any]:
    told: dict[str, Any] = {"rounds": _rounds(panel.pattern)}
    if panel.repeats is not None:
        told["repeats"] = panel.repeats
    if panel.plain != 1:
        told["plain"] = panel.plain
    if panel.gauge is not None:
        told["gauge"] = _gauge(panel.gauge)
    if panel.matches_cuff:
        told["matches_cuff"] = True
    return told


def _all_round(one: AllRound) -> dict[str, Any]:
    told: dict[str, Any] = {"rounds": _rounds(one.pattern)}
    for key, value, usual in (
        ("part", SockPart(one.part).value, "leg"), ("after", one.after, 0),
        ("times", one.times, None), ("stretch", one.stretch, None),
    ):  # fmt: skip
        if value != usual:
            told[key] = value
    return told if one.gauge is None else told | {"gauge": _gauge(one.gauge)}


def _rounds(pattern: StitchPattern) -> list[str]:
    found = []
    for one in pattern.rounds:
        runs = [run for run in one.after if isinstance(run, Run)]
        after = sum(pattern.stitches[run.stitch].takes * _amount(run) for run in runs)
        repeat = Repeat(one.repeat, To(Where.END, after))
        found.append(_words([*one.before, repeat, *one.after]))
    return found


def _amount(run: Run) -> int:
    assert isinstance(run.amount, int)
    return run.amount


def _stitch(row: Stitch) -> dict[str, Any]:
    told: dict[str, Any] = {}
    for field in attrs.fields(Stitch):
        value = getattr(row, field.name)
        if field.init and value is not None and value != field.default:
            told[field.name] = value_of(field.name, value)
    return told


def _words(items: Iterable[Any]) -> str:
    """Return one round as a person writes it, without its number and full stop."""
    _, _, text = in_words(Round(tuple(items))).partition(": ")
    return text[:1].lower() + text[1:].rstrip(".")


def _part(key: str, part: Any, named: Any) -> Any:
    if isinstance(part, PatternedLeg):
        return {"kind": part.name, "rounds": [_words(runs) for runs in part.rounds]}
    return as_table(part, named)


def _fit(sock: Sock, fields: Iterable[str]) -> dict[str, Any]:
    """Return these of what `[fit]` or a size may say, where they aren't the usual."""
    usual = {field.name: field.default for field in attrs.fields(Sock)}
    values = {field: getattr(sock, field) for field in fields}
    return {
        OWN_KEYS[field]: value_of(field, value)
        for field, value in values.items()
        if value != usual[field]
    }


def _size(name: str, sock: Sock, alike: Iterable[str]) -> dict[str, Any]:
    named = {"name": name} if name else {}
    own = [field for field in OWN_KEYS if field not in alike]
    return named | (_measures(sock.foot) or _exact(sock.foot)) | _fit(sock, own)


def _measures(foot: Foot) -> dict[str, Any]:
    """Return the measures that were taken, if the foot follows from them."""
    taken = {name: length for name, length in foot.measures() if not length.is_estimated}
    told: dict[str, Any] = {}
    shoe = ""
    for name, length in taken.items():
        if length.origin is Origin.SHOE_SIZE and name == "length":
            told["shoe"] = shoe = length.how
        else:
            told[name] = f"{length.mm:.9g} mm"
    sex = {} if foot.sex is Sex.UNKNOWN and not shoe else {"sex": foot.sex.value}
    spreads = {length.sd_mm for length in taken.values() if length.origin is Origin.MEASURED}
    tape = {} if spreads <= {TAPE_SD_MM} else {"tape": f"{min(spreads):.9g} mm"}
    try:
        found = Foot.of(
            **{key: value for key, value in told.items() if key != "shoe"},
            shoe=shoe or None, sex=foot.sex, tape_sd=tape.get("tape", f"{TAPE_SD_MM} mm"),
        )  # fmt: skip
    except (FootError, ValueError):
        return {}
    return told | sex | tape if found == foot else {}


def _exact(foot: Foot) -> dict[str, Any]:
    """Return all that a foot holds, number by number."""
    told: dict[str, Any] = {name: _length(length) for name, length in foot.measures()}
    told["scale"] = foot.scale
    told["notes"] = list(foot.notes)
    return {"sex": foot.sex.value, "measures": told}


def _length(length: Length) -> Any:
    inner = tomlkit.inline_table()
    inner.update(attrs.asdict(length) | {"origin": length.origin.value})
    return inner


def _measured(piece: Any, design: Design) -> dict[str, Any]:
    size = next((name for name, sock in design.socks if sock == piece.sock), None)
    if size is None:
        raise DesignError("measured", 1, "a piece of another design", "one of this design's sizes")
    told: dict[str, Any] = {"size": size} if size else {}
    if piece.name:
        told["name"] = piece.name
    taped = list(piece.taped())
    for name, length in taped:
        told[name] = f"{length.mm:.9g} mm"
    if taped[0][1].sd_mm != TAPE_SD_MM:
        told["tape"] = f"{taped[0][1].sd_mm:.9g} mm"
    if piece.state.value != "washed":
        told["state"] = piece.state.value
    return told


def _front(whole: DesignFile) -> dict[str, Any]:
    front = whole.front
    told: dict[str, Any] = {
        key: getattr(front, key)
        for key in ("author", "credits", "copyright", "skill")
        if getattr(front, key)
    }
    for key in ("notes", "needle_for"):
        if getattr(front, key):
            told[key] = list(getattr(front, key))
    if front.needle_mm:
        told["needle"] = [f"{mm:.9g} mm" for mm in front.needle_mm]
    if front.picture is not None:
        told["picture"] = str(front.picture)
    if front.paper is not None:
        told["paper"] = front.paper.value
    if front.rounds != "rnd":
        told["rounds"] = front.rounds
    for key in ("large_print", "inches_first"):
        if getattr(front, key):
            told[key] = True
    for key in ("before", "after"):
        if getattr(front, key):
            told[key] = dict(getattr(front, key))
    if front.wording:
        told["wording"] = [
            {key: text for key, text in attrs.asdict(one).items() if text} for one in front.wording
        ]
    return told
