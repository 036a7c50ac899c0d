"""Which way decreases lean on either side of a line: a gusset, a toe, the top of a mitten."""

from __future__ import annotations

from collections.abc import Iterator

from loopwright.pattern import steps as st
from loopwright.pattern._contents import rounds_in
from loopwright.pattern._editing.findings import WARNING, Finding
from loopwright.pattern.items import Item, Mark, On, Run
from loopwright.pattern.program import Pattern

__all__ = ["leans"]

_LEFT, _RIGHT = frozenset(["ssk", "skp"]), frozenset(["k2tog"])
_ONE = Run("k", 1)


def leans(pattern: Pattern) -> Iterator[Finding]:
    """Find decreases that lean away from the line beside which they stand.

    Where one stitch runs along each side of a line ("k2tog, k1" before it, "k1, ssk" behind it),
    the first leans right and the second left, so that both lean along the line (common practice).
    Outside gussets and toes only two of one lean are spoken of: shaped legs are made either way.
    """
    seen, title = set(), ""
    for outer in pattern.steps:
        if isinstance(outer, st.Section):
            title = outer.title.lower()
        for step in rounds_in((outer,)):
            place = step.at
            if not isinstance(step, st.Round) or place is None or place.line in seen:
                continue
            for before, after in _sides(step.items):
                if said := _wrong(before, after, title):
                    seen.add(place.line)
                    yield Finding(WARNING, "lean", said, place.line, place.column)
                    break


def _wrong(before: str, after: str, title: str) -> str:
    """Say what leans away, of the decreases before and behind a line; "" stands for none."""
    right = before not in _LEFT and after not in _RIGHT
    shaped = "gusset" in title or ("toe" in title and before and after)
    same = bool(before and after) and (before in _LEFT) == (after in _LEFT)
    if right or not (shaped or same):
        return ""
    ends = [f"{before}, k1 before the line"] * bool(before) + [f"k1, {after} behind it"] * bool(
        after
    )
    how = "lean one way" if same else "lean away from it"
    return f"{' and '.join(ends)} {how}: k2tog, k1 before a line, k1, ssk behind it?"


def _sides(items: tuple[Item, ...]) -> Iterator[tuple[str, str]]:
    """Yield the decreases before and behind each needle's end, marker, and the round's end."""
    flat: list[Item | None] = []  # None is the line between two parts
    for item in items:
        if isinstance(item, On):
            for _ in range(len(item.parts) or 2):
                flat += [*item.items, None]
        elif isinstance(item, Mark):
            flat.append(None)
        else:
            flat.append(item)
    if flat and flat[-1] is not None:
        flat.append(None)
    around = [*flat, *flat[:2]]
    for place, there in enumerate(flat):
        if there is None and place >= 2:
            before, one, two, after = (around[place + at] for at in (-2, -1, 1, 2))
            yield _decrease(before, one), _decrease(after, two)


def _decrease(item: Item | None, beside: Item | None) -> str:
    """Return the decrease that stands one knit stitch from a line, "" if none does."""
    if beside != _ONE or not isinstance(item, Run) or item.amount != 1:
        return ""
    return item.stitch if item.stitch in _LEFT | _RIGHT else ""
