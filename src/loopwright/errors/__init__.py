"""Typed errors that carry data; each message says what was found, where, and what to do.

Every class derives from `LoopwrightError` and from the built-in that a caller would catch. Fields
are positional attributes, so that errors survive pickling (a worker process sends them home). They
have no slots: some schedulers pickle exceptions by their dictionary, and would lose the fields.
"""

from __future__ import annotations

from loopwright.errors._files import (
    DesignError,
    FabricFileError,
    FileError,
    PartError,
    RecordError,
    StoreError,
)
from loopwright.errors._graphs import GraphError, NotKnittableError
from loopwright.errors._letters import LetterError
from loopwright.errors._patterns import KnitError, PatternSyntaxError, SizeError, StepError
from loopwright.errors._results import PictureError, ShapeError, UnsoundFabricError
from loopwright.errors._root import LoopwrightError
from loopwright.errors._scans import ScanError
from loopwright.errors._values import (
    ArgumentError,
    ChoiceError,
    FootError,
    GaugeError,
    MeasureError,
    ShoeSizeError,
    SizingError,
    StudyError,
    UnitError,
    YarnError,
)
from loopwright.errors._working import (
    CannotWorkError,
    CountError,
    StitchDefinitionError,
    UnknownLoopError,
    UnknownStitchError,
)

__all__ = [
    "ArgumentError",
    "CannotWorkError",
    "ChoiceError",
    "CountError",
    "DesignError",
    "FabricFileError",
    "FileError",
    "FootError",
    "GaugeError",
    "GraphError",
    "KnitError",
    "LetterError",
    "LoopwrightError",
    "MeasureError",
    "NotKnittableError",
    "PartError",
    "PatternSyntaxError",
    "PictureError",
    "RecordError",
    "ScanError",
    "ShapeError",
    "ShoeSizeError",
    "SizeError",
    "SizingError",
    "StepError",
    "StitchDefinitionError",
    "StoreError",
    "StudyError",
    "UnitError",
    "UnknownLoopError",
    "UnknownStitchError",
    "UnsoundFabricError",
    "YarnError",
]


# Wherever an error is defined, it is known by the name under which it is caught.
for _name in __all__:
    globals()[_name].__module__ = __name__
