"""Scans of feet: a mesh from a file, set upright and measured where a tape would be laid."""

from loopwright.border import guard
from loopwright.scanning._scan import FootScan, FootSide, ScanTape, measure_scan, read_scan

__all__ = ["FootScan", "FootSide", "ScanTape", "measure_scan", "read_scan"]

guard(globals())
