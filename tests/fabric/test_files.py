"""Fabric files: what is saved comes back, and what is damaged is refused by name."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import networkx as nx
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from loopwright.errors import FabricFileError
from loopwright.fabric import STITCHES, Fabric, Stitch, check
from loopwright.fabric.files import from_bytes, from_json, load, save, to_bytes, to_graphml, to_json
from loopwright.making import (
    Hand,
    Work,
    cast_on,
    graft,
    hold,
    provisional_cast_on,
    recapture,
    return_held,
    take_out,
)
from together import together


def heel(hand: Hand = Hand.RIGHT, *, out: bool = False) -> Work:
    """A heel over waste yarn, its instep on a holder."""
    work = Work(hand=hand)
    cast_on(work, 16)
    work.join_round()
    work.plain_rounds(3)
    hold(work, 8, "instep")
    provisional_cast_on(work, 8)
    work.work(["k"] * 8)
    work.round(["k", "ssk", "k", "k", "k2tog", "k"] * 2)
    graft(work)
    if out:
        take_out(work, "waste")
    return work


def wrapped() -> Work:
    work = Work(stitches=STITCHES.with_stitch(Stitch("k4tog", "four", 4, 1, (3, 2, 1, 0))))
    cast_on(work, 10)
    work.turn()
    work.row(["k4tog", "p", "sl", "kfb", "slf", "yo", "p", "p"])
    work.work(["k"] * 3)
    work.wrap()
    work.turn()
    return work


def foot() -> Work:
    work = heel(out=True)
    work.join_yarn("foot")
    return_held(work, "instep")
    recapture(work, "waste")
    work.arrange((8, 8))
    work.plain_rounds(2)
    return work


FABRICS = {
    "empty": Work(),
    "held": heel(),
    "left hand": heel(Hand.LEFT),
    "opened": heel(out=True),
    "wrapped, own stitch": wrapped(),
    "recaptured": foot(),
}


@pytest.fixture(params=FABRICS)
def fabric(request: pytest.FixtureRequest) -> Fabric:
    return FABRICS[request.param].fabric()


def same_in_all(one: Fabric, other: Fabric) -> bool:
    """Equality leaves out what is on the needles; a file must not."""
    groups = all(
        {name: ids.tolist() for name, ids in getattr(one, key).items()}
        == {name: ids.tolist() for name, ids in getattr(other, key).items()}
        for key in ("needles", "held", "wraps")
    )
    rows = all(
        getattr(one, key).tolist() == getattr(other, key).tolist() for key in ("ledger", "removed")
    )
    return one == other and groups and rows and one.stitches == other.stitches


def test_json_round_trip(fabric: Fabric) -> None:
    text = to_json(fabric)
    back = from_json(text)
    assert same_in_all(fabric, back)
    assert to_json(back) == text
    assert str(check(back)) == str(check(fabric))


def test_compact_round_trip(fabric: Fabric) -> None:
    data = to_bytes(fabric)
    back = from_bytes(data)
    assert same_in_all(fabric, back)
    assert to_bytes(back) == data


def test_files_by_name(fabric: Fabric, tmp_path: Path) -> None:
    for name in ("fabric.json", "fabric.loops"):
        save(fabric, tmp_path / name)
        assert same_in_all(fabric, load(tmp_path / name))
    assert (tmp_path / "fabric.json").read_text() == to_json(fabric)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["fabric.json", "fabric.loops"]


def test_a_saved_file_is_for_whoever_may_read_others(tmp_path: Path) -> None:
    """A temporary file is for its owner only; what is moved into place must not stay so."""
    (tmp_path / "plain").write_text("")
    save(heel().fabric(), tmp_path / "fabric.json")
    assert (tmp_path / "fabric.json").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_the_compact_file_is_compact() -> None:
    work = Work()
    cast_on(work, 64)
    work.join_round()
    work.plain_rounds(150)
    fabric = work.fabric()
    assert len(to_bytes(fabric)) < len(fabric)  # less than a byte a loop of plain fabric
    assert len(to_bytes(fabric)) * 20 < len(to_json(fabric))


def test_graphml_is_read_by_networkx(fabric: Fabric) -> None:
    graph = fabric.graph
    back = nx.read_graphml(io.BytesIO(to_graphml(fabric).encode()), node_type=int)
    assert dict(back.nodes(data=True)) == {
        loop: {**values, "held": values["held"] or ""} for loop, values in graph.nodes(data=True)
    }
    edges = {(a, b, values["kind"]) for a, b, values in back.edges(data=True)}
    assert edges == {(a, b, key) for a, b, key in graph.edges(keys=True)}


def damaged(**changes: Any) -> str:
    """The heel's document with entries set; a key's dots lead inwards."""
    document = json.loads(to_json(heel().fabric()))
    for path, value in changes.items():
        *way, last = path.split("__")
        target = document
        for step in way:
            target = target[int(step)] if step.isdigit() else target[step]
        if value is None:
            del target[last]
        else:
            target[int(last) if last.isdigit() else last] = value
    return json.dumps(document)


@together(
    ("text", "place", "problem"),
    [
        ("", "line 1, column 1", "no JSON"),
        ("[]", "the document", "expected named entries, found a list"),
        ("[" * 100_000, "the document", "no JSON"),
        (damaged(format="another"), "format", "expected 'loopwright fabric'"),
        (damaged(version=3), "version", "reads versions up to 2, found 3"),
        (damaged(version=True), "version", "reads versions up to 2, found True"),
        (damaged(version=[]), "version", "reads versions up to 2, found []"),
        (damaged(held=None), "the document", "['held'] is missing"),
        (damaged(extra=1), "the document", "['extra'] is not known"),
        (damaged(bits__flags={}), "bits", "something else"),
        (damaged(loops__next=None), "loops", "['next'] is missing"),
        (damaged(loops__next__3=99_999), "loops.next[3]", "expected -1 to"),
        (damaged(loops__course__3=1.5), "loops.course[3]", "expected a number, found 1.5"),
        (damaged(loops__course__3=True), "loops.course[3]", "expected a number"),
        (damaged(loops__course__3=10**30), "loops.course[3]", f"found {10**30}"),
        (damaged(loops__course="far"), "loops.course", "expected a list, found a text"),
        (damaged(loops__strand__0=7), "loops.strand[0]", "expected 0 to 1, found 7"),
        (damaged(loops__stitch__0=200), "loops.stitch[0]", "expected 0 to"),
        (damaged(loops__flags__0=256), "loops.flags[0]", "expected 0 to 255"),
        (damaged(loops__flags__0=16), "parent[0]", "a loop that was taken out"),
        (damaged(loops__course=[0]), "loops", "1 (course)"),
        (damaged(through__parent__0=-1), "through.parent[0]", "expected 0 to"),
        (damaged(through__child__0=60), "through.child[1]", "child by child"),
        (damaged(beside__left=[1]), "beside", "equally long"),
        (damaged(held__instep__0=5_000), "held.instep[0]", "expected 0 to"),
        (damaged(held__again=[48]), "again", "loop 48 is on 'instep' as well"),
        (damaged(held=[]), "held", "expected named lists, found a list"),
        (damaged(wraps__wrap=[1]), "wraps", "each wrap needs its stitch"),
        (damaged(ledger__0=[1]), "ledger[0]", "expected 6 numbers"),
        (damaged(removed=[[1, 99_999]]), "removed[0][1]", "expected 0 to"),
        (damaged(strands__0__role="idle"), "strands[0].role", "working or waste"),
        (damaged(strands__0__woven=[True]), "strands[0].woven", "each of two tails"),
        (damaged(strands__0__cut=1), "strands[0].cut", "true or false"),
        (damaged(strands__0__name=1), "strands[0].name", "a text"),
        (damaged(stitches__0__kind="magic"), "stitches[0].kind", "expected one of worked"),
        (damaged(stitches__0__kind=[]), "stitches[0].kind", "expected one of worked"),
        (damaged(stitches__0__takes=3), "stitches[0]", "must rank each of 3"),
        (damaged(stitches__0__key="k"), "stitches[8]", "'k' comes twice"),
        (damaged(stitches__0__knitwise=0), "stitches[0].knitwise", "true or false"),
    ],
)  # fmt: skip
def test_a_damaged_document_is_refused_by_name(text: str, place: str, problem: str) -> None:
    with pytest.raises(FabricFileError) as refusal:
        from_json(text)
    assert refusal.value.place == place
    assert problem in refusal.value.problem
    assert refusal.value.advice


LOOPS, CODES, MOST = (len(heel().fabric().flags), len(heel().fabric().stitches), 2**31 - 1)


@together(
    ("path", "low", "high"),
    [
        ("loops__next__3", -1, LOOPS - 1),
        ("loops__strand__3", 0, 1),
        ("loops__course__3", 0, MOST),
        ("loops__stitch__3", 0, CODES - 1),
        ("loops__flags__3", 0, 255),
        ("through__parent__3", 0, LOOPS - 1),
        ("through__child__3", 0, LOOPS - 1),
        ("through__info__3", 0, 255),
        ("held__instep__3", 0, LOOPS - 1),
        ("ledger__1__3", -MOST - 1, MOST),
        ("stitches__1__takes", 0, 24),
        ("stitches__1__makes", 0, 24),
        ("stitches__1__lifts", 0, 24),
        ("stitches__1__stack", 0, 24),
        ("stitches__1__order", 0, 24),
        ("beside", 0, LOOPS - 1),
        ("wraps", 0, LOOPS - 1),
        ("removed", 0, LOOPS - 1),
    ],
)
def test_numbers_beyond_their_ends_are_refused_with_both(path: str, low: int, high: int) -> None:
    for value in (low - 1, high + 1):
        entry: Any = {
            "beside": {"right": [value], "left": [0]},
            "wraps": {"wrap": [value], "stitch": [0]},
            "removed": [[0, value]],
        }.get(path, [value] if path.endswith(("stack", "order")) else value)
        with pytest.raises(FabricFileError) as refusal:
            from_json(damaged(**{path: entry}))
        assert refusal.value.problem == f"expected {low} to {high}, found {value}"


@given(st.data())
@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_random_damage_is_refused_or_harmless(data: st.DataObject) -> None:
    """Whatever bytes are cut or changed, only the typed error comes out."""
    whole = data.draw(st.sampled_from([HEEL_TEXT, HEEL_BYTES]))
    damage = bytearray(whole)
    for place in data.draw(st.lists(st.integers(0, len(whole) - 1), max_size=4)):
        damage[place] = data.draw(st.integers(0, 255))
    del damage[data.draw(st.integers(0, len(whole))) :]
    try:
        if whole is HEEL_TEXT:
            fabric = from_json(damage.decode(errors="replace"))
        else:
            fabric = from_bytes(bytes(damage))
    except FabricFileError:
        return
    assert isinstance(fabric, Fabric)


HEEL_TEXT = to_json(heel().fabric()).encode()
HEEL_BYTES = to_bytes(heel().fabric())


def test_every_truncation_is_refused() -> None:
    for length in range(0, len(HEEL_BYTES), 7):
        with pytest.raises(FabricFileError):
            from_bytes(HEEL_BYTES[:length])
    for length in range(0, len(HEEL_TEXT) - 2, 97):
        with pytest.raises(FabricFileError):
            from_json(HEEL_TEXT[:length].decode())


def test_files_that_are_not_there_or_no_fabrics(tmp_path: Path) -> None:
    with pytest.raises(FabricFileError, match="cannot be read"):
        load(tmp_path / "none")
    (tmp_path / "noise").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(FabricFileError, match="neither a compact fabric nor text"):
        load(tmp_path / "noise")
    with pytest.raises(FabricFileError, match="cannot be written"):
        save(heel().fabric(), tmp_path / "nowhere" / "fabric.json")
