"""The report: everything that a designer hands on, as one folder."""

from loopwright.border import guard
from loopwright.report._folder import folder
from loopwright.report._page import page
from loopwright.report._publish import head_of, publish
from loopwright.report.data import ReportPicture, SizeReport, SockReport

__all__ = [
    "ReportPicture",
    "SizeReport",
    "SockReport",
    "folder",
    "head_of",
    "page",
    "publish",
]

guard(globals())
