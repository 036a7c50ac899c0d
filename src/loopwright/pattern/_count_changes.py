"""What each step that is neither row nor round does to the counts, and when it can't be done."""

from __future__ import annotations

from functools import singledispatch

from loopwright.pattern import steps as st
from loopwright.pattern._tally import NEEDLE, Tally, Trouble
from loopwright.pattern.values import Count
from loopwright.plurals import plural

__all__ = ["change_counts"]


@singledispatch
def change_counts(step: st.Step, tally: Tally) -> int:
    """Change the tally as the step does; return how many stitches it makes.

    Raises
    ------
    Trouble
        The stitches do not allow it; the tally is unchanged.
    """
    return 0


def _whole(value: Count | None) -> int:
    assert isinstance(value, int), "the pattern is of one size"
    return value


def _ahead(stitches: int, tally: Tally, doing: str) -> None:
    tally.go_round()
    if not 0 < stitches <= tally.ahead:
        asked, left = plural(stitches, "st", be=True), plural(tally.ahead, be=True)
        raise Trouble("count", f"{asked} to be {doing}, {left} left")


@change_counts.register
def _(step: st.CastOn, tally: Tally) -> int:
    stitches = _whole(step.stitches)
    if not stitches:
        raise Trouble("count", "cast on 1 st or more")
    tally.behind += stitches
    return stitches


@change_counts.register
def _(step: st.ClosedCastOn, tally: Tally) -> int:
    stitches = 2 * _whole(step.each_half)
    if not stitches:
        raise Trouble("count", "cast on 1 st or more on each needle")
    if tally.count:
        raise Trouble("order", f"{plural(tally.count, 'st', be=True)} on the needles already")
    tally.behind = stitches
    return stitches


@change_counts.register
def _(step: st.ProvisionalCastOn, tally: Tally) -> int:
    stitches = _whole(step.stitches)
    if not stitches:
        raise Trouble("count", "cast on 1 st or more")
    _unused(step.waste, tally)
    tally.behind += stitches
    tally.waste[step.waste] = (0, stitches)
    tally.go_round()
    return 2 * stitches


def _unused(name: str, tally: Tally) -> None:
    if name in tally.waste or name in tally.opened:
        raise Trouble("order", f"waste yarn {name} is in the work already: give this another name")


@change_counts.register
def _(step: st.Join, tally: Tally) -> int:
    if tally.in_rounds:
        raise Trouble("order", "the work is joined already")
    if not tally.count:
        raise Trouble("order", "there is nothing on the needles to join")
    tally.in_rounds = True
    tally.go_round()
    return 0


@change_counts.register
def _(step: st.InRows, tally: Tally) -> int:
    tally.to_rows()
    return 0


@change_counts.register
def _(step: st.BeginHere, tally: Tally) -> int:
    if not tally.in_rounds:
        raise Trouble("order", "the work is not joined: there is no round to begin")
    tally.begin_here()
    return 0


@change_counts.register
def _(step: st.Arrange, tally: Tally) -> int:
    parts = [(name, _whole(stitches)) for name, stitches in step.parts]
    total = sum(stitches for _, stitches in parts)
    if total != tally.count:
        listed = " + ".join(str(stitches) for _, stitches in parts)
        raise Trouble(
            "needles",
            f"{listed} = {plural(total, 'st')}, but {plural(tally.count, be=True)} there",
        )
    tally.arrange(parts)
    return 0


@change_counts.register
def _(step: st.Hold, tally: Tally) -> int:
    stitches = _whole(step.stitches)
    if step.name in tally.held:
        held = plural(tally.held[step.name], "st", be=True)
        raise Trouble("order", f"{held} held as {step.name} already")
    _ahead(stitches, tally, "held")
    tally.held[step.name] = stitches
    for key, from_end in list(tally.ahead_at.items()):
        if tally.ahead - from_end < stitches:
            del tally.ahead_at[key]
    tally.ahead -= stitches
    return 0


@change_counts.register
def _(step: st.ReturnHeld, tally: Tally) -> int:
    if step.name not in tally.held:
        held = ", ".join(tally.held) or "none"
        raise Trouble("order", f"no sts are held as {step.name}; held are: {held}")
    _put_ahead(tally.held.pop(step.name), tally, next_to_work=step.next_to_work)
    return 0


def _put_ahead(stitches: int, tally: Tally, *, next_to_work: bool) -> None:
    if not next_to_work:
        tally.ahead_at = {key: at + stitches for key, at in tally.ahead_at.items()}
    tally.ahead += stitches


@change_counts.register
def _(step: st.WasteRow, tally: Tally) -> int:
    stitches = _whole(step.stitches)
    _unused(step.name, tally)
    _ahead(stitches, tally, "knitted with waste yarn")
    tally.waste[step.name] = (stitches, stitches)
    return stitches


@change_counts.register
def _(step: st.TakeOut, tally: Tally) -> int:
    below, above = _waste(step.name, tally)
    tally.waste.pop(step.name)
    tally.opened[step.name] = above
    if below:
        tally.held[f"{step.name} below"] = below
    return 0


@change_counts.register
def _(step: st.Recapture, tally: Tally) -> int:
    if step.name in tally.opened:
        above, below = tally.opened.pop(step.name), tally.held.pop(f"{step.name} below", 0)
    else:
        below, above = _waste(step.name, tally)
        tally.waste.pop(step.name)
    _put_ahead(below + above, tally, next_to_work=False)
    return above


def _waste(name: str, tally: Tally) -> tuple[int, int]:
    if name not in tally.waste:
        there = ", ".join(tally.waste) or "none"
        raise Trouble("order", f"no waste yarn {name} is in the work; there is: {there}")
    return tally.waste[name]


@change_counts.register(st.Graft)
@change_counts.register(st.ThreeNeedleBindOff)
def _(step: st.Step, tally: Tally) -> int:
    if not tally.count:
        raise Trouble("order", "there is nothing on the needles to be joined")
    halves = _two_parts(tally)
    if halves is not None and halves[0] != halves[1]:
        raise Trouble(
            "halves",
            f"{tally.parts[0]} has {plural(halves[0], 'st')} and {tally.parts[1]} {halves[1]}",
        )
    if tally.count % 2:
        raise Trouble("halves", f"no two equal halves can be made of {plural(tally.count, 'st')}")
    made = tally.count
    tally.clear()
    return made


def _two_parts(tally: Tally) -> tuple[int, int] | None:
    """Return the stitches on the two needles, where there are two and the round begins here."""
    first = tally.distance((NEEDLE, 0))
    if len(tally.parts) != 2 or first is None or tally.behind:
        return None
    return first, tally.count - first


@change_counts.register
def _(step: st.BindOff, tally: Tally) -> int:
    tally.go_round()
    if step.stitches is None or step.stitches == tally.count:
        if tally.behind or not tally.ahead:
            done = plural(tally.behind, "st", be=True)
            raise Trouble("order", f"{done} worked in this row already: finish it first")
        made = tally.ahead
        tally.clear()
        return made
    stitches = _whole(step.stitches)
    _ahead(stitches + 1, tally, "worked to bind off one fewer")
    tally.advance([(stitches + 1, 1, 1)])
    return stitches


@change_counts.register
def _(step: st.DrawUp, tally: Tally) -> int:
    if not tally.count:
        raise Trouble("order", "there is nothing on the needles to be drawn up")
    tally.clear()
    return 0
