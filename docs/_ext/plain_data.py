"""What the reference says of constants: their value, and the comment that stands at them.

Autodoc would print the docstring of their class: that a tuple is an immutable sequence.
"""

from __future__ import annotations

import ast
import inspect
import io
import re
import tokenize
from collections.abc import Iterator
from functools import cache
from types import ModuleType

from sphinx.pycode import ModuleAnalyzer

LONGEST = 200  # characters of a value that is still printed
_FOR_TOOLS = re.compile(r"noqa|fmt:|type:|pragma:")


def entry(module: ModuleType, name: str) -> list[str]:
    """A directive that documents a constant, in reStructuredText."""
    value = value_of(module, name)
    shown = [f"   :value: {value}"] if value else []
    return [f".. py:data:: {name}", *shown, "", *(f"   {line}" for line in told_of(module, name))]


def value_of(module: ModuleType, name: str) -> str:
    """The value of a constant in one line, nothing where it is long or names what is in memory."""
    value = repr(getattr(module, name))
    readable = len(value) <= LONGEST and not re.search(r"\bat 0x|<class|<function|\n", value)
    return value if readable else ""


def told_of(module: ModuleType, name: str) -> list[str]:
    """The docstring of a constant, else the comment at it: its unit, source or reason."""
    told = ModuleAnalyzer.for_module(module.__name__).find_attr_docs().get(("", name), [])
    return told or [_sentence(comment) for comment in _comment_at(module, name) if comment]


def _sentence(comment: str) -> str:
    escaped = re.sub(r"([\\*`_|])", r"\\\1", comment)
    return f"{escaped[0].upper()}{escaped[1:]}{'' if escaped.endswith(('.', ':')) else '.'}"


def _comment_at(module: ModuleType, name: str) -> Iterator[str]:
    """The comment in the lines of an assignment, or else that just above it."""
    tree, comments = _source_of(module)
    for node in tree.body:
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        if any(isinstance(target, ast.Name) and target.id == name for target in targets):
            lines = range(node.lineno, (node.end_lineno or node.lineno) + 1)
            beside = [comments[line] for line in (lines[0], lines[-1]) if line in comments][:1]
            above, line = list[str](), node.lineno - 1
            while not beside and line in comments:
                above.insert(0, comments[line])
                line -= 1
            yield " ".join(beside or above)


@cache
def _source_of(module: ModuleType) -> tuple[ast.Module, dict[int, str]]:
    source = inspect.getsource(module)
    tokens = tokenize.generate_tokens(io.StringIO(source).readline)
    comments = {
        token.start[0]: token.string.lstrip("#: ").strip()
        for token in tokens
        if token.type == tokenize.COMMENT and not _FOR_TOOLS.search(token.string)
    }
    return ast.parse(source), comments
