"""The report: everything that a designer hands on, as one folder."""

from loopwright.report.data import Picture, SizeReport, SockReport
from loopwright.report.mesh import Mesh

__all__ = ["Mesh", "Picture", "SizeReport", "SockReport"]
