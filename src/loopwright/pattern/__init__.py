"""Patterns as programs: typed steps, read and written as instructions, knitted and reviewed."""

from typing import TYPE_CHECKING

from loopwright._late import late
from loopwright.border import guard
from loopwright.pattern._abbreviations import explained
from loopwright.pattern._cables import crossing_defined
from loopwright.pattern._certify import certificate
from loopwright.pattern._contents import items_of, rewritten, rounds_in, simplified, steps_in
from loopwright.pattern._editing.findings import Finding, Review
from loopwright.pattern._knit import knit, knit_on, knitted
from loopwright.pattern._parts import SockPart
from loopwright.pattern._rows_worked import rows_by_step
from loopwright.pattern._words import spelt
from loopwright.pattern._write import Words, in_words, lines_by_step, write
from loopwright.pattern.items import (
    KNIT,
    PURL,
    STAY,
    Item,
    Lift,
    Mark,
    On,
    PickUp,
    Repeat,
    Run,
    Stay,
    Turn,
    With,
    WorkPanel,
    WrapTurn,
    k,
    k_to,
    p,
    p_to,
)
from loopwright.pattern.journal import Doing, DoneRow, Entry, Journal, Knitted, Move, Picked
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.program import GaugeLine, Pattern, of_size
from loopwright.pattern.steps import (
    Arrange,
    BeginHere,
    BindOff,
    CastOn,
    ClosedCastOn,
    CutYarn,
    DrawUp,
    Graft,
    Hold,
    InRows,
    Join,
    Note,
    OnlySizes,
    Part,
    ProvisionalCastOn,
    Recapture,
    RepeatRounds,
    ReturnHeld,
    Round,
    Row,
    Section,
    Side,
    Step,
    TakeOut,
    TextPlace,
    ThreeNeedleBindOff,
    UseYarn,
    WasteRow,
    WeaveIn,
    knit_round,
    knit_rounds,
)
from loopwright.pattern.stripes import KeepPlace, ResumeStripes, Stripes
from loopwright.pattern.values import (
    Count,
    Sized,
    SizedLength,
    To,
    UntilCount,
    UntilMeasures,
    UntilWorked,
    Where,
    plus,
    sized,
)

if TYPE_CHECKING:
    from loopwright.pattern._deriving.deriver import derive
    from loopwright.pattern._editing.reviewer import review
    from loopwright.pattern._reading.explaining import Explanation, explain
    from loopwright.pattern._reading.fragments import instructions
    from loopwright.pattern._reading.reader import read
    from loopwright.pattern._reading.reading import ReadLine
    from loopwright.pattern._rewording.wordings import WORDINGS, OwnWording
else:  # whoever knits and writes only needs no reader of texts
    __getattr__, __dir__ = late(
        globals(),
        {
            "_deriving.deriver": ("derive",),
            "_reading.explaining": ("Explanation", "explain"),
            "_reading.fragments": ("instructions",),
            "_reading.reader": ("read",),
            "_reading.reading": ("ReadLine",),
            "_rewording.wordings": ("WORDINGS", "OwnWording"),
            "_editing.reviewer": ("review",),
        },
    )

__all__ = [
    "KNIT",
    "PURL",
    "STAY",
    "WORDINGS",
    "Arrange",
    "BeginHere",
    "BindOff",
    "CastOn",
    "ClosedCastOn",
    "Count",
    "CutYarn",
    "Doing",
    "DoneRow",
    "DrawUp",
    "Entry",
    "Explanation",
    "Finding",
    "GaugeLine",
    "Graft",
    "Hold",
    "InRows",
    "Item",
    "Join",
    "Journal",
    "KeepPlace",
    "Knitted",
    "Lift",
    "Mark",
    "Move",
    "Note",
    "On",
    "OnlySizes",
    "OwnWording",
    "PanelRounds",
    "Part",
    "Pattern",
    "PickUp",
    "Picked",
    "ProvisionalCastOn",
    "ReadLine",
    "Recapture",
    "Repeat",
    "RepeatRounds",
    "ResumeStripes",
    "ReturnHeld",
    "Review",
    "Round",
    "Row",
    "Run",
    "Section",
    "Side",
    "Sized",
    "SizedLength",
    "SockPart",
    "Stay",
    "Step",
    "Stripes",
    "TakeOut",
    "TextPlace",
    "ThreeNeedleBindOff",
    "To",
    "Turn",
    "UntilCount",
    "UntilMeasures",
    "UntilWorked",
    "UseYarn",
    "WasteRow",
    "WeaveIn",
    "Where",
    "With",
    "Words",
    "WorkPanel",
    "WrapTurn",
    "certificate",
    "crossing_defined",
    "derive",
    "explain",
    "explained",
    "in_words",
    "instructions",
    "items_of",
    "k",
    "k_to",
    "knit",
    "knit_on",
    "knit_round",
    "knit_rounds",
    "knitted",
    "lines_by_step",
    "of_size",
    "p",
    "p_to",
    "plus",
    "read",
    "review",
    "rewritten",
    "rounds_in",
    "rows_by_step",
    "simplified",
    "sized",
    "spelt",
    "steps_in",
    "write",
]

guard(globals())
