"""The report: everything that a designer hands on, as one folder."""

from loopwright.report.data import Fit, Measure, Picture, SizeReport, SockReport
from loopwright.report.mesh import Mesh

__all__ = ["Fit", "Measure", "Mesh", "Picture", "SizeReport", "SockReport"]
