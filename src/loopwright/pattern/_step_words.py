"""The words of steps that are neither rows nor rounds: one sentence each, as it is read."""

from __future__ import annotations

from functools import singledispatch

from loopwright.errors import StepError
from loopwright.pattern import steps as st
from loopwright.pattern._yarn_words import stripe_words, yarn_words
from loopwright.pattern.stripes import KeepPlace, ResumeStripes, Stripes
from loopwright.pattern.values import Amount

__all__ = ["step_words", "sts"]


@singledispatch
def step_words(step: st.Step) -> str:
    """Return the words of a step without items, without its count and the full stop."""
    raise StepError(type(step).__name__, "there are no words for this step")


@step_words.register
def _(step: st.CastOn) -> str:
    how = "in a stretchy way" if step.how == "stretchy" else step.how
    return f"Cast on {sts(step.stitches)}, {how}"


@step_words.register
def _(step: st.ClosedCastOn) -> str:
    return f"With a closed cast-on, cast on {sts(step.each_half)} on each of 2 needles"


@step_words.register
def _(step: st.ProvisionalCastOn) -> str:
    return f"Provisionally cast on {sts(step.stitches)} over waste yarn{_called(step.waste)}"


@step_words.register
def _(step: st.Join) -> str:
    return "Join to work in the round"


@step_words.register
def _(step: st.InRows) -> str:
    return "Work back and forth from here"


@step_words.register
def _(step: st.BeginHere) -> str:
    return "Rnd begins here"


@step_words.register
def _(step: st.Arrange) -> str:
    if step.parts[0][0].startswith("needle "):
        counts = ", ".join(str(count) for _, count in step.parts)
        return f"Divide sts over {len(step.parts)} needles: {counts}"
    return "Divide sts: " + ", ".join(f"{name} {count}" for name, count in step.parts)


@step_words.register
def _(step: st.Hold) -> str:
    on = "a holder" if step.on == "holder" else step.on
    return f"Place next {sts(step.stitches)} on {on} as {step.name}"


@step_words.register
def _(step: st.ReturnHeld) -> str:
    after = ", to be worked next" if step.next_to_work else ""
    return f"Return to needle the sts held as {step.name}{after}"


@step_words.register
def _(step: st.WasteRow) -> str:
    return (
        f"With waste yarn, knit next {sts(step.stitches)}{_called(step.name)}; "
        "slip them back to be worked again"
    )


@step_words.register
def _(step: st.TakeOut) -> str:
    return f"Take out the waste yarn{_called(step.name)}"


@step_words.register
def _(step: st.Recapture) -> str:
    return (
        f"Recapture the sts from the waste yarn{_called(step.name)}, "
        f"taking the strand at the {step.corner} corner"
    )


@step_words.register
def _(step: st.Graft) -> str:
    return f"Graft the sts of the two needles together, {step.how}"


@step_words.register
def _(step: st.ThreeNeedleBindOff) -> str:
    return "Work a three-needle bind-off over all sts"


@step_words.register
def _(step: st.BindOff) -> str:
    what = "all sts" if step.stitches is None else f"{sts(step.stitches)}"
    return f"Bind off {what}" + (" with a stretchy bind-off" if step.how == "stretchy" else "")


@step_words.register
def _(step: st.DrawUp) -> str:
    return "Cut yarn, draw it through the remaining sts and pull tight"


@step_words.register
def _(step: st.UseYarn) -> str:
    if step.new:
        return "Rejoin yarn" if step.name == st.MAIN else f"Join yarn {step.name}"
    return f"{'Go on in' if step.held else 'Change to'} {yarn_words(step.name)}"


@step_words.register(Stripes)
@step_words.register(KeepPlace)
@step_words.register(ResumeStripes)
def _(step: Stripes | KeepPlace | ResumeStripes) -> str:
    return stripe_words(step)


@step_words.register
def _(step: st.CutYarn) -> str:
    return f"Cut yarn {step.name}".rstrip()


@step_words.register
def _(step: st.WeaveIn) -> str:
    return "Weave in all ends"


def _called(waste: str) -> str:
    return "" if waste == st.WASTE else f" called {waste}"


def sts(count: Amount) -> str:
    """Return a count of stitches with its noun."""
    return f"{count} st" if count == 1 else f"{count} sts"
