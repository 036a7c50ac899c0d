"""The report: everything that a designer hands on, as one folder."""

from loopwright.border import guard
from loopwright.report._folder import folder
from loopwright.report._page import page
from loopwright.report._publish import publish
from loopwright.report.data import Picture, SizeReport, SockReport

__all__ = [
    "Picture",
    "SizeReport",
    "SockReport",
    "folder",
    "page",
    "publish",
]

guard(globals())
