"""Cases that are tried together: each is tried, all that fail are named, parts leave none out."""

from __future__ import annotations

from pathlib import Path

import pytest

from together import together


def test_each_case_that_fails_is_named_and_the_rest_is_tried() -> None:
    tried: list[tuple[int, str]] = []

    @together(("number", "word"), [(1, "one"), (2, "too"), (3, "three"), (4, "for")])
    @together("times", [1, 2])
    def spelt(number: int, word: str, times: int) -> None:
        tried.append((number * times, word))
        assert word in ("one", "two", "three", "four")

    with pytest.raises(BaseExceptionGroup, match="2 of 4") as caught:
        spelt()
    assert len(tried) == 8
    assert "too" in caught.value.exceptions[0].__notes__[0]
    assert "for" in caught.value.exceptions[1].__notes__[0]


def test_parts_have_every_case_once() -> None:
    tried: list[int] = []

    def noted(number: int) -> None:
        tried.append(number)

    each = together("number", range(7), tests=3)(noted)
    (mark,) = each.pytestmark  # type: ignore[attr-defined]
    for part in mark.args[1]:
        each(_part=part)
    assert sorted(tried) == [*range(7)]


def test_a_case_for_a_name_that_is_not_asked_for_is_a_mistake() -> None:
    with pytest.raises(AssertionError, match="does not ask for"):
        together("letter", "ab")(lambda number: None)


@together("number", range(3))
def test_fixtures_are_the_same_for_all(number: int, root: Path) -> None:
    assert (root / "pyproject.toml").is_file()
    assert number < 3
