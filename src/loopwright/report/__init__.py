"""The report: everything that a designer hands on, as one folder."""

from typing import TYPE_CHECKING

from loopwright._late import late
from loopwright.border import guard
from loopwright.report._folder import folder
from loopwright.report._page import page
from loopwright.report.data import DocumentKind, ReportPicture, SizeReport, SockReport

if TYPE_CHECKING:
    from loopwright.report._publish import head_of, publish
    from loopwright.report.comparison import comparison_files, comparison_json
else:  # they read texts, and drape socks on feet
    __getattr__, __dir__ = late(
        globals(),
        {
            "_publish": ("head_of", "publish"),
            "comparison": ("comparison_files", "comparison_json"),
        },
    )

__all__ = [
    "DocumentKind",
    "ReportPicture",
    "SizeReport",
    "SockReport",
    "comparison_files",
    "comparison_json",
    "folder",
    "head_of",
    "page",
    "publish",
]

guard(globals())
