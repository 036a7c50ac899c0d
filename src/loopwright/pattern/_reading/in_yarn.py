# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Work that begins with its yarn; rounds keep it, and so take it up again when they are repeated."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import attrs

from loopwright.pattern._grammar.said import Numbered
from loopwright.pattern._reading.scribe import Says, Scribe
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.yarn_names import yarn_first
from loopwright.pattern.items import With

__all__ = ["in_yarn", "yarn_then_work"]


def in_yarn(scribe: Scribe, yarn: str, says: Sequence[Says]) -> list[Says]:
    """Return what is worked in a yarn: a round begins with it, before all else it is taken up."""
    kept = scribe.context.named.get("last")
    first = says[0] if len(says) == 1 else None
    if not isinstance(first, Numbered) or kept is None:
        return [*scribe.taking(yarn), *says]
    row = first.step
    if row.items != kept.items:
        return [*scribe.taking(yarn), *says]
    told = [isinstance(item, With) for item in row.items]  # "with A, as row 1": not in its B
    items = With(yarn), *row.items[told.index(False) if False in told else 0 :]
    again = attrs.evolve(kept, items=items)
    for name, one in scribe.context.named.items():
        if one is kept:
            scribe.context.named[name] = again
    for number, one in scribe.context.rows.items():
        if one is kept:
            scribe.context.rows[number] = again
    return [attrs.evolve(first, step=attrs.evolve(row, items=items))]


_JOINED_AND = WordForm(  # "join yarn CC and knit one round, decreasing 4 sts evenly"
    r"\s*(?P<yarn>(?:(?:re)?join|change to|switch to|attach) (?:in )?yarn \w+)(?:,? and(?: then)?|[,;](?: then)?) (?=(?:k|p|knit|purl|work|rib|inc|dec)\w*\b|[*(\[])"
)


def yarn_then_work(
    scribe: Scribe, said: MappedText, say: Callable[[Scribe, MappedText], str]
) -> str | None:
    """Take a sentence that begins with its yarn in two parts; None for any other."""
    if (named := yarn_first(said)) is not None:
        scribe.give(scribe.taking(named[0]))
        return say(scribe, named[1]) if named[1].text else "instruction"
    if (joined := _JOINED_AND.match(said.text)) is not None:
        say(scribe, said.piece(0, joined.end("yarn")))
        return say(scribe, said.piece(joined.end(), len(said.text)))
    return None
