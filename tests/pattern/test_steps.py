"""Steps that contradict themselves are refused when they are made."""

from __future__ import annotations

import inspect
import pickle
from collections.abc import Callable

import attrs
import pytest

from loopwright.errors import KnitError, PatternSyntaxError, SizeError, StepError
from loopwright.pattern import (
    KNIT,
    STAY,
    Arrange,
    BindOff,
    CastOn,
    GaugeLine,
    Graft,
    Hold,
    Mark,
    Note,
    On,
    OnlySizes,
    PanelRounds,
    Pattern,
    Repeat,
    RepeatRounds,
    Round,
    Row,
    Run,
    Section,
    Sized,
    SizedLength,
    To,
    Turn,
    UntilCount,
    UseYarn,
    Where,
    k,
    knit_round,
    knit_rounds,
    of_size,
    plus,
    sized,
)
from loopwright.pattern import steps as st
from loopwright.pattern._step_words import step_words
from loopwright.pattern._step_work import do_step
from pattern import strategies
from together import together

REFUSED: list[tuple[Callable[[], object], type[Exception], str]] = [
    (lambda: Pattern("", (), sizes=("S", "M")).size_index("L"), StepError, "sizes are: S, M"),
    (lambda: Pattern("", ()).size_index(1), StepError, "sizes are: one, without a name"),
    (lambda: PanelRounds([[Run("k", To())]]), StepError, "stitches and numbers"),
    (lambda: PanelRounds([[Repeat((k(1),), To())]]), StepError, "stitches and numbers"),
    (lambda: PanelRounds([[Turn()]]), StepError, "stitches and numbers"),
    (lambda: PanelRounds([]), StepError, "a panel needs its rounds"),
    (lambda: Sized((4,)), SizeError, "two entries or more"),
    (lambda: sized([]), SizeError, "no size"),
    (lambda: CastOn(-1), SizeError, "whole numbers from 0"),
    (lambda: CastOn(True), SizeError, "whole number"),
    (lambda: CastOn(8, "magic"), ValueError, "magic"),
    (lambda: Run("K"), StepError, "no key of a stitch"),
    (lambda: Run("k", 2.5), StepError, "number of times"),  # type: ignore[arg-type]
    (lambda: k(-2), StepError, "whole numbers from 0"),
    (lambda: To(Where.END, name="A"), SizeError, "only a marker"),
    (lambda: To(Where.MARKER, name="slip"), SizeError, "no marker can be called"),
    (lambda: Mark("place", "to"), StepError, "one plain word"),
    (lambda: Repeat([], 2), StepError, "nothing to work"),
    (lambda: Repeat([STAY], 2), StepError, "can't stand inside"),
    (lambda: Round([3]), StepError, "no item"),  # type: ignore[list-item]
    (lambda: On(["turn"], [KNIT]), StepError, "one word"),
    (lambda: On(["Instep"], [KNIT]), StepError, "one word"),
    (lambda: On(["sole", "heel"], [KNIT]), StepError, "by number"),
    (lambda: Round([On([], [KNIT]), k(2)]), StepError, "belongs to that needle"),
    (lambda: Row([Turn(), k(2)]), StepError, "the turn ends a row"),
    (lambda: Arrange([]), StepError, "different names"),
    (lambda: Arrange([("sole", 2), ("sole", 3)]), StepError, "different names"),
    (lambda: Arrange([("needle 1", 2), ("sole", 3)]), StepError, "or none"),
    (lambda: Hold(4, ""), StepError, "a name is missing"),
    (lambda: Hold(4, "heel; toe"), StepError, "letters, digits"),
    (lambda: UseYarn("the red"), StepError, "leave 'the' out"),
    (lambda: Section(""), StepError, "needs a title"),
    (lambda: Note("two\nlines"), StepError, "one line"),
    (lambda: GaugeLine(20, 0), StepError, "above nothing"),
    (lambda: Note(""), StepError, "needs a text"),
    (lambda: Note("Rest.", count=4), StepError, "states no count"),
    (lambda: On((), (KNIT,), 7), TypeError, "positional"),  # type: ignore[call-arg]
    (lambda: On(["needle 0"], (KNIT,)), StepError, "needle 0"),
    (lambda: On(["needle 1000"], (KNIT,)), StepError, "needle 1000"),
    (lambda: On(["needle two"], (KNIT,)), StepError, "needle two"),
    (lambda: BindOff(-1), StepError, "whole numbers"),
    (lambda: Graft("somehow"), ValueError, "somehow"),
    (lambda: RepeatRounds([], 2), StepError, "nothing to repeat"),
    (lambda: RepeatRounds([knit_round(), Row([KNIT])], 2), StepError, "rows and rounds"),
    (lambda: RepeatRounds([CastOn(8)], 2), StepError, "only rounds"),
    (lambda: RepeatRounds([knit_rounds(2)], 2), StepError, "give the product"),
    (lambda: RepeatRounds([knit_round()] * 2, 2, every=2), StepError, "single round"),
    (lambda: RepeatRounds([knit_round()] * 2, 2, ending=2), StepError, "ending must name"),
    (lambda: OnlySizes([], knit_round()), StepError, "name the sizes"),
    (lambda: OnlySizes(["S"], Section("Leg")), StepError, "for all sizes"),
    (lambda: SizedLength(0), SizeError, "above nothing"),
    (lambda: SizedLength(4, "ell"), ValueError, "ell"),
    (lambda: Pattern("", [], sizes=["S", "S"]), StepError, "the same name"),
    (lambda: Pattern("", [], sizes=["S and M"]), StepError, "can't be called"),
    (lambda: Pattern("", [], abbreviations=[("k;", "x")]), StepError, "can't be written"),
    (lambda: Pattern("two  blanks", []), StepError, "single-spaced"),
]


@together(("make", "error", "words"), REFUSED)
def test_refused(make: Callable[[], object], error: type[Exception], words: str) -> None:
    with pytest.raises(error, match=words):
        make()


def test_steps_do_not_change() -> None:
    step = CastOn(8)
    with pytest.raises(attrs.exceptions.FrozenInstanceError):
        step.stitches = 9  # type: ignore[misc]
    assert hash(step) == hash(CastOn(8))


def test_a_gauge_may_be_of_one_row() -> None:
    assert (GaugeLine(1, 1).stitches, GaugeLine(1, 1).courses) == (1, 1)


def test_where_an_item_is_told_is_not_what_it_is() -> None:
    assert Turn(column=3) == Turn()
    assert repr(Turn(column=3)) == "Turn()"


def test_where_a_step_is_told_is_not_what_it_is() -> None:
    told = CastOn(8, at=st.TextPlace(3, 1))
    assert told == CastOn(8)
    assert repr(told) == repr(CastOn(8))


def test_a_repeat_of_nothing_but_a_repeat_is_one_in_the_sizes_that_have_no_more() -> None:
    """What the small size works none of leaves three times the pair, and that twice."""
    pair = RepeatRounds((Row((KNIT,)), Row((k(1),))), 3, count=1)
    more = RepeatRounds((Row((KNIT,)),), Sized((0, 2)))
    pattern = Pattern("", (CastOn(1), RepeatRounds((more, pair), Sized((2, 3)))), sizes=("S", "M"))
    small, large = (of_size(pattern, size).steps[-1] for size in (0, 1))
    assert small == RepeatRounds(pair.steps, 6, count=1)
    assert isinstance(large, RepeatRounds)
    assert (large.times, large.steps[-1]) == (3, pair)
    until = attrs.evolve(pattern, steps=(CastOn(1), RepeatRounds((more, pair), UntilCount(1))))
    with pytest.raises(StepError, match="give the product"):
        of_size(until, 0)


# The stripes are for the walk alone: hands only hear of the yarns that come of them.
KINDS = [kind for kind in st.Step.__subclasses__() if getattr(st, kind.__name__, None) is kind]
ROWS_AND_WORDS = (st.Round, st.Row, st.Part, st.RepeatRounds, st.OnlySizes, st.Section, st.Note)


@together("kind", KINDS)
def test_each_step_is_worked_and_written(kind: type[st.Step]) -> None:
    """A step that is neither row nor round nor words has its hands and its sentence."""
    own = kind not in ROWS_AND_WORDS
    assert (kind in do_step.registry) == (kind in step_words.registry) == own
    assert not kind.__subclasses__()


def test_each_step_is_drawn_for_the_round_trip() -> None:
    drawn = inspect.getsource(strategies)
    missing = [kind.__name__ for kind in KINDS if f"st.{kind.__name__}" not in drawn]
    assert missing == []


def test_values_by_size() -> None:
    assert sized([8, 8]) == 8
    assert plus(Sized((8, 12)), 2) == Sized((10, 14))
    assert UntilCount([8, 12]).count == Sized((8, 12))
    assert str(SizedLength(Sized((5, 5.5)), "cm")) == "5 (5.5) cm"


@pytest.mark.parametrize(
    "error",
    [
        PatternSyntaxError(2, 8, "found 'x'", ("a comma",), "Rnd 1: x", "did you mean k?"),
        KnitError("Rnd 1: K9.", 9, "8 sts", "k9 needs 9 sts, 8 are left", 2, 8, "M"),
        SizeError((4,), "too few"),
        StepError("Row", "the turn ends a row"),
    ],
)
def test_errors_travel(error: Exception) -> None:
    assert str(pickle.loads(pickle.dumps(error))) == str(error)
    assert isinstance(error, ValueError)


def test_a_yarn_that_is_taken_up_is_no_other_strand_of_it() -> None:
    assert not st.UseYarn("red").new
