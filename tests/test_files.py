"""Files of results: what was written is read, what is damaged is refused, and the schemas hold.

The schemas are judged by jsonschema, a general-purpose library.
"""

from __future__ import annotations

import json
import re
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import attrs
import jsonschema
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as some

from loopwright import Design, Foot, Gauge, Shape, Sock, fit, knit, read, review, shape
from loopwright.errors import FabricFileError, LoopwrightError, RecordError
from loopwright.fabric import files as fabric_files
from loopwright.files import KINDS, VERSION, from_json, load, save, schema, to_json
from loopwright.fitting import Fit
from loopwright.sock import Panel, Plan, SockYarn, StitchPattern, toe_names
from loopwright.sock.heels import heel_names
from together import together

FOOT = Foot.of(length="24.6 cm", ball_girth="22.5 cm")
GAUGE = Gauge.of(32, 44)
LACE = StitchPattern.of(["p1, *k2tog, yo, k3, p1; rep from *", "p1, *k5, p1; rep from *"])


def plans() -> list[Plan]:
    found = []
    for heel in heel_names():
        for toe, direction in zip(toe_names(), ("cuff down", "toe up", "cuff down"), strict=False):
            sock = Sock(foot=FOOT, gauge=GAUGE, heel=heel, toe=toe, direction=direction)
            try:
                found.append(sock.plan())
            except LoopwrightError:
                continue
    yarns = (SockYarn(name="A"), SockYarn(name="B", parts=["heel"]))
    found.append(Sock(foot=FOOT, gauge=GAUGE, panel=Panel(pattern=LACE), yarns=yarns).plan())
    return found


@pytest.fixture(scope="module")
def fitted() -> Fit:
    return fit(Sock(foot=FOOT, gauge=Gauge.of(20, 28)))


@pytest.fixture(scope="module")
def tube() -> Shape:
    text = "Cast on 16 sts. Join in the round. Rnds 1-6: Knit. Bind off all sts."
    return shape(knit(read(text)), GAUGE)


@cache
def judge(kind: str) -> Any:
    return jsonschema.Draft202012Validator(schema(kind))


def judged(kind: str, text: str) -> None:
    judge(kind).validate(json.loads(text))


@pytest.mark.parametrize("what", ["fabric", "pattern", "sock", "design", "review"])
def test_what_has_files_of_its_own_is_told_which(what: str) -> None:
    text = "Cast on 16 sts. Join in the round. Rnd 1: Knit. Bind off all sts."
    sock = Sock(foot=FOOT, gauge=GAUGE)
    given = {
        "fabric": (knit(read(text)), "fabric.files"),
        "pattern": (read(text), "loopwright.write"),
        "sock": (sock, "write_design, of a Design"),
        "design": (Design("Sock", {"M": sock}), "write_design"),
        "review": (review(text), "its own method to_json"),
    }
    one, said = given[what]
    with pytest.raises(RecordError, match="no plan, fit or shape; it is written by .*" + said):
        to_json(one)  # type: ignore[arg-type]


def test_every_plan_comes_back_as_it_was() -> None:
    found = plans()
    assert len(found) > 10
    for plan in found:
        text = to_json(plan)
        judged("plan", text)
        assert from_json(text) == plan
        assert to_json(from_json(text)) == text


def test_a_fit_comes_back_with_its_limits(fitted: Fit) -> None:
    text = to_json(fitted)
    judged("fit", text)
    assert from_json(text) == fitted
    told = json.loads(text)
    assert told["version"] == VERSION
    assert told["seed"] is None
    assert told["fit"]["passages"][0]["limit"]["source"]


def test_a_shape_comes_back_point_by_point(tube: Shape) -> None:
    text = to_json(tube)
    judged("shape", text)
    found = from_json(text)
    assert isinstance(found, Shape)
    assert np.array_equal(found.surface.vertices_mm, tube.surface.vertices_mm)
    assert np.array_equal(found.mesh.rest_mm, tube.mesh.rest_mm)
    assert found.fabric == tube.fabric
    assert found.quality == tube.quality
    assert to_json(found) == text


def test_files_are_saved_whole_and_read(tmp_path: Path, fitted: Fit) -> None:
    save(fitted, tmp_path / "fit.json")
    assert load(tmp_path / "fit.json") == fitted
    with pytest.raises(RecordError, match=re.escape("let its name end in .json")):
        save(fitted, tmp_path / "fit.txt")
    with pytest.raises(RecordError, match="no such file"):
        load(tmp_path / "other.json")
    (tmp_path / "latin.json").write_bytes(b"\xff\xfe")
    with pytest.raises(RecordError, match="UTF-8"):
        load(tmp_path / "latin.json")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["fit.json", "latin.json"]


@pytest.mark.parametrize("kind", [*KINDS, "design"])
def test_schemas_are_schemas_and_the_docs_hand_them_on(kind: str, root: Path) -> None:
    jsonschema.Draft202012Validator.check_schema(schema(kind))
    page = root / "docs" / "reference" / "result-files.md"
    # The documentation's build writes the files: they follow the classes.
    assert f"<schemas/{kind}.json>" in page.read_text("utf-8")


def test_the_designs_that_travel_with_the_project_are_as_the_schema_says(shared: Path) -> None:
    for path in (shared / "designs").glob("*.toml"):
        jsonschema.validate(tomllib.loads(path.read_text("utf-8")), schema("design"))


@together(
    "wrong",
    [
        'title = "no gauge"\nfoot = {length = "24 cm"}',
        'gauge = {stitches = 32, rounds = 44, over = "10 cm"}',
        'gauge = {stitches = 32, rounds = 44}\nfoot = {length = "24 cm"}',
        'gauge = {stitches = 32, rounds = 44, over = "10 cm"}\nfoot = {toes = 5}',
        'gauge = {stitches = 3, rounds = 4, over = "1 cm"}\nfoot = {}\nheel = {kind = "bent"}',
        'gauge = {stitches = 3, rounds = 4, over = "1 cm"}\nfoot = {}\nversion = 2',
    ],
)
def test_the_schema_of_designs_refuses(wrong: str) -> None:
    with pytest.raises(jsonschema.ValidationError):
        judge("design").validate(tomllib.loads(wrong))


@together(
    ("text", "place"),
    [
        ("", "line 1, column 1"),
        ("[1]", "the document"),
        ('{"format": "loopwright fabric"}', "format"),
        ('{"format": ["loopwright fit"]}', "format"),
        ('{"format": "loopwright fit", "version": 2}', "version"),
        ('{"format": "loopwright fit", "version": true}', "version"),
        ('{"format": "loopwright fit", "version": 1}', "the document"),
        ('{"format":"loopwright fit","version":1,"package":"1","seed":null,"fit":3}', "fit"),
        ("[" * 100_000, "the document"),
    ],
)
def test_other_documents_are_refused_at_their_place(text: str, place: str) -> None:
    with pytest.raises(RecordError) as refused:
        from_json(text)
    assert refused.value.place == place
    assert refused.value.advice


def places(document: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every entry of a document, by its path."""
    found = [path] if path else []
    entries = document.items() if isinstance(document, dict) else (
        enumerate(document) if isinstance(document, list) else ()
    )  # fmt: skip
    for key, value in entries:
        found += places(value, (*path, key))
    return found


ANYTHING: some.SearchStrategy[Any] = some.sampled_from(
    [None, True, -1, 10**400, 1e308, "x", [], {}, [[]], {"kind": "flap"}, "nan", 0.5]
)


@given(some.data())
def test_a_damaged_entry_is_refused_or_changes_what_is_read(
    fitted: Fit, tube: Shape, data: some.DataObject
) -> None:
    results: list[Fit | Shape | Plan] = [fitted, tube, PLAN]
    result = data.draw(some.sampled_from(results))
    document = json.loads(to_json(result))
    *parents, last = data.draw(some.sampled_from(places(document)))
    inside = document
    for key in parents:
        inside = inside[key]
    was, inside[last] = inside[last], data.draw(ANYTHING)
    try:
        found = from_json(json.dumps(document))
    except RecordError:
        return
    same = was == inside[last] or last == "package"
    assert same or to_json(found) != to_json(result)


PLAN = Sock(foot=FOOT, gauge=GAUGE, heel="flap").plan()


def test_an_array_without_its_list_is_refused(tube: Shape) -> None:
    document = json.loads(to_json(tube))
    for wrong in (None, 3, "far"):
        document["shape"]["surface"]["vertices_mm"]["values"] = wrong
        with pytest.raises(RecordError, match="expected a list") as refused:
            from_json(json.dumps(document))
        assert refused.value.place == "shape.surface.vertices_mm.values"


def test_what_is_not_finite_is_not_written(fitted: Fit) -> None:
    with pytest.raises(RecordError, match="not finite"):
        to_json(attrs.evolve(fitted, asked_ease=float("inf")))


def test_a_file_of_the_other_kind_says_where_to_load_it(tmp_path: Path) -> None:
    sock = Sock(foot=Foot.of(length="16 cm"), gauge=Gauge.of(14, 20))
    fabric_files.save(sock.fabric(), tmp_path / "fabric.json")
    save(sock.plan(), tmp_path / "plan.json")
    with pytest.raises(RecordError, match=r"load it with loopwright\.fabric\.files\.load"):
        load(tmp_path / "fabric.json")
    with pytest.raises(FabricFileError, match=r"it is a plan .* load it with loopwright\.files"):
        fabric_files.load(tmp_path / "plan.json")
