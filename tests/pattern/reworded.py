"""Right texts put in other words that mean the same, and whether they are read as before.

Run this file to see, kind by kind, how many of the texts stay whole: every checkpoint kept, no line
lost, no error or warning. Each text takes one way of the kind, drawn by the seed; `--mixes` draws
several kinds at once. What breaks is shown with the lines that break it alone.

    PYTHONPATH=tests python tests/pattern/reworded.py --seed 3 --kind labels --shown
"""

from __future__ import annotations

import argparse
import random
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice

import attrs

from loopwright.errors import LoopwrightError
from loopwright.pattern._reading.reading import Reading
from pattern.ordinary import Text, stitches_after
from pattern.read_back import all_texts, looked_at
from pattern.ways_of_saying import KINDS, LAYOUTS, Line


@attrs.frozen
class Right:
    """A right text: its lines, what is wrong with it already, and the stitches after each line."""

    one: Text
    lines: tuple[Line, ...]
    unmet: frozenset[tuple[int, str]]
    after: dict[int, tuple[int, ...]]


@attrs.frozen
class Reworded:
    """A text in other words, and how they came about."""

    lines: tuple[Line, ...]
    how: str

    @property
    def text(self) -> str:
        return "\n".join(line.text for line in self.lines)


def right_text(one: Text) -> Right:
    reading = looked_at(one.text).reading
    kinds = {at: read.kind for read in reading.lines for at in range(read.line, read.last_line + 1)}
    lines = tuple(
        Line(text, (number,), kinds.get(number, "blank"))
        for number, text in enumerate(one.text.split("\n"), 1)
    )
    unmet = frozenset(
        (point["line"], point["size"])
        for point in one.facts["checkpoints"]
        if stitches_after(reading, one, point) != point["sts"]
    )
    after = {read.last_line: read.after for read in reading.lines if read.kind == "instruction"}
    return Right(one, lines, unmet, after)


def reworded(right: Right, kind: str, rng: random.Random, share: float = 1.0) -> Reworded | None:
    """Return the text with one way of a kind; nothing where no way changes anything."""
    if kind in LAYOUTS:
        layouts = list(enumerate(LAYOUTS[kind]))
        rng.shuffle(layouts)
        for number, layout in layouts:
            changed = tuple(layout(right.lines, rng))
            if changed != right.lines:
                return Reworded(changed, f"{kind} {number}")
        return None
    ways = list(enumerate(KINDS[kind]))
    rng.shuffle(ways)
    for number, way in ways:
        lines = [
            attrs.evolve(line, text=way.changed(line.text, rng, share)) if way.fits(line) else line
            for line in right.lines
        ]
        if tuple(lines) != right.lines:
            return Reworded(tuple(lines), f"{kind} {number}")
    return None


def mixed(right: Right, rng: random.Random, kinds: int = 4) -> Reworded:
    """Return the text with several kinds at random places, and now and then another layout."""
    how: list[str] = []
    here = right
    for kind in rng.sample(list(KINDS), kinds):
        made = reworded(here, kind, rng, rng.choice((0.5, 1.0)))
        if made:
            here, how = attrs.evolve(here, lines=made.lines), [*how, made.how]
    if rng.random() < 0.3 and (made := reworded(here, rng.choice(list(LAYOUTS)), rng)):
        here, how = attrs.evolve(here, lines=made.lines), [*how, made.how]
    return Reworded(here.lines, ", ".join(how))


def broken(right: Right, lines: Sequence[Line]) -> list[str]:
    """Return what is not read as in the right text; nothing where all is."""
    text = "\n".join(line.text for line in lines)
    try:
        found = looked_at(text)
    except LoopwrightError as error:
        return [f"refused: {error}"]
    said = [f"{error.line}: lost: {error.source or error.found}" for error in found.reading.errors]
    said += [f"{finding}" for finding in found.false]
    place = dict(_places(lines))
    for point in right.one.facts["checkpoints"]:
        here = place.get(point["line"])
        if here is None or (point["line"], point["size"]) in right.unmet:
            continue
        there = stitches_after(found.reading, right.one, {**point, "line": here})
        if there != point["sts"]:
            said.append(f"{here}: {point['sts']} sts are {there} (size {point['size']})")
    return said or _otherwise(right, found.reading, place)


def _otherwise(right: Right, reading: Reading, place: dict[int, int]) -> list[str]:
    """Return which lines leave other stitches than those of the right text do.

    A line that closes off what it made leaves none where others stand before it on the line.
    """
    now = {read.last_line: read.after for read in reading.lines if read.kind == "instruction"}
    return [
        f"{place[line]}: otherwise: {after} are {now[place[line]]}"
        for line, after in right.after.items()
        if any(after) and any(now.get(place.get(line, 0), ())) and now[place[line]] != after
    ][:2]


def _places(lines: Sequence[Line]) -> Iterator[tuple[int, int]]:
    """Yield the lines of the first text that end a line, with the place of the latter."""
    number = 0
    for line in lines:
        number += 1 + line.text.count("\n")
        if line.at:
            yield line.at[-1], number


def culprits(right: Right, lines: Sequence[Line]) -> Iterator[tuple[str, str, list[str]]]:
    """Yield changed lines that break the text alone: as they were, as they are, what is said."""
    if len(lines) != len(right.lines):
        return
    for at, (old, new) in enumerate(zip(right.lines, lines, strict=True)):
        if old.text != new.text:
            alone = [*right.lines[:at], new, *right.lines[at + 1 :]]
            if said := broken(right, alone):
                yield old.text, new.text, said


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--kind", action="append", choices=[*KINDS, *LAYOUTS])
    parser.add_argument("--text", default="")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--mixes", type=int, default=0)
    parser.add_argument("--shown", action="store_true")
    told = parser.parse_args()
    rights = [right_text(one) for one in all_texts() if told.text in one.name]
    kinds = told.kind or [*KINDS, *LAYOUTS]
    tried, whole = Counter[str](), Counter[str]()
    for kind in ["a mix"] * told.mixes or kinds:
        for right in rights:
            number = tried["a mix"]
            rng = random.Random(f"{told.seed} {kind} {right.one.name} {number}")
            made = mixed(right, rng) if told.mixes else reworded(right, kind, rng)
            if made is None:
                continue
            said = broken(right, made.lines)
            tried[kind] += 1
            whole[kind] += not said
            if said and told.shown:
                print(f"-- {right.one.name} [{made.how}]")
                alone = list(islice(culprits(right, made.lines), 2))
                for old, new, why in alone:
                    print(f"   - {old}\n   + {new}")
                    print("".join(f"     {one}\n" for one in why[:3]), end="")
                if not alone:
                    numbered = made.text.split("\n")
                    for one in said[:4]:
                        at = int(one.split(":")[0]) if one.split(":")[0].isdigit() else 0
                        print(f"   ? {numbered[at - 1]}\n     {one}")
        if not told.mixes:
            print(f"{whole[kind]:3} of {tried[kind]:3}  {kind}", flush=True)
    print(f"{sum(whole.values())} of {sum(tried.values())}")


if __name__ == "__main__":
    main()
