"""Many small cases tried in one test: all of them, and each that fails is named.

What pytest does for a test, and for its report between two processes, takes longer than a case of
arithmetic does. So such cases are tried one after another in one test, or in some of them.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Iterable
from typing import Any, TypeAlias

import pytest

Test: TypeAlias = Callable[..., None]
_FAILED = (Exception, pytest.fail.Exception)


def together(
    names: str | tuple[str, ...], cases: Iterable[Any], *, tests: int = 1
) -> Callable[[Test], Test]:
    """Try a test with each case, as ``pytest.mark.parametrize`` does, in so few tests.

    What the test asks for by fixtures is the same for all cases: nothing that one of them alters.
    """
    asked = [names] if isinstance(names, str) else list(names)
    tried = list(cases)

    def decorate(test: Test) -> Test:
        @functools.wraps(test)
        def each(_part: int, **fixtures: Any) -> None:
            failed = []
            for case in tried[_part::tests]:
                values = dict(zip(asked, case if len(asked) > 1 else (case,), strict=True))
                try:
                    test(**values, **fixtures)
                except _FAILED as error:
                    error.add_note(f"with {values}")
                    failed.append(error)
            if failed:
                raise BaseExceptionGroup(f"{len(failed)} of {len(tried[_part::tests])}", failed)

        given = inspect.signature(test).parameters
        assert set(asked) <= set(given), f"{test.__name__} does not ask for {asked}"
        ours = [one for name, one in given.items() if name not in asked]
        if tests == 1:
            return _signed(functools.partial(each, 0), test, ours)
        place = inspect.Parameter("_part", inspect.Parameter.POSITIONAL_OR_KEYWORD)
        in_parts = pytest.mark.parametrize("_part", range(min(tests, len(tried))))
        parted: Test = in_parts(_signed(each, test, [place, *ours]))
        return parted

    return decorate


def _signed(each: Test, test: Test, asks: list[inspect.Parameter]) -> Test:
    """Return a function that asks for these fixtures."""

    @functools.wraps(test)
    def signed(**fixtures: Any) -> None:
        each(**fixtures)

    signed.__signature__ = inspect.Signature(asks)  # type: ignore[attr-defined]
    return signed
