"""The design file: what is to be knitted, written down by hand."""

from loopwright.border import guard
from loopwright.design._document import Document, parse
from loopwright.design._front_keys import front_of
from loopwright.design._reader import DesignFile, read_design
from loopwright.design._rewriting import foot_table, with_sock
from loopwright.design._schema import design_schema
from loopwright.design._table import DesignTable, build, keys_of
from loopwright.design._writing import write_design

__all__ = [
    "DesignFile",
    "DesignTable",
    "Document",
    "build",
    "design_schema",
    "foot_table",
    "front_of",
    "keys_of",
    "parse",
    "read_design",
    "with_sock",
    "write_design",
]

guard(globals())
