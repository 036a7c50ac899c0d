"""Patterns as programs: typed steps, read and written as instructions, knitted and reviewed."""
