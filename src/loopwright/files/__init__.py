"""Files of results: a plan, a fit, a shape, each as JSON with a version and a JSON Schema.

A file holds all that its object holds. What is read is equal to what was written (a shape, whose
arrays have no one way to be equal, has the same numbers). Nothing in a file is run, and an unknown
version, a file cut short or an entry out of place is refused by name. A fabric has files of its
own, :mod:`loopwright.fabric.files`; a design is TOML, :func:`loopwright.design.write_design`.
"""

from loopwright.border import guard
from loopwright.files._documents import (
    KINDS,
    VERSION,
    from_json,
    load,
    save,
    schema,
    to_json,
)

__all__ = ["KINDS", "VERSION", "from_json", "load", "save", "schema", "to_json"]

guard(globals())
