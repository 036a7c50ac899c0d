"""What the viewer is told of a relaxed fabric, against the fabric itself."""

from __future__ import annotations

import base64
import json
import re
from html import unescape
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from loopwright.errors import PictureError
from loopwright.fabric import Fabric
from loopwright.gauge import Gauge
from loopwright.geometry._shape import Shape, shape
from loopwright.making import Work, cast_on
from loopwright.pattern._knit import knit
from loopwright.picture._colouring import colouring
from loopwright.picture.shape_drawing import view_of
from loopwright.picture.shape_scene import Scene, pack, scene
from loopwright.picture.shape_view import shape_frame, shape_page
from picture.test_stages import heel

GAUGE = Gauge(3.2, 4.4)


def numbers(text: str, kind: str) -> NDArray[Any]:
    return np.frombuffer(base64.b64decode(text), kind)


@pytest.fixture(scope="module")
def flapped() -> Scene:
    """A tube with a heel flap: decreases, picked-up stitches, gaps in the ids of loops."""
    return scene(shape(knit(heel(16, 8)), GAUGE))


@pytest.fixture(scope="module")
def packed(flapped: Scene) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(json.dumps(pack(flapped)))
    return told


def fabric_of(shown: Scene) -> Fabric:
    assert shown.fabric is not None
    return shown.fabric


def ids_of(packed: dict[str, Any]) -> list[int]:
    runs = iter(packed["ids"])
    return [first + at for first, count in zip(runs, runs, strict=True) for at in range(count)]


def test_points_are_within_a_hundredth_of_a_millimetre(
    flapped: Scene, packed: dict[str, Any]
) -> None:
    points = numbers(packed["points"], "<i2").reshape(-1, 3) * packed["mm_per_step"]
    seen = view_of(flapped.shape.surface)
    middle = (seen.min(axis=0) + seen.max(axis=0)) / 2
    assert np.abs(points - (seen - middle)).max() < 0.01
    assert np.linalg.norm(points, axis=1).max() == pytest.approx(packed["radius_mm"], abs=0.01)
    corners = numbers(packed["corners"], "<u2").reshape(-1, 3)
    assert np.array_equal(corners, flapped.shape.surface.triangles)


def test_neighbours_are_those_of_the_graph(flapped: Scene, packed: dict[str, Any]) -> None:
    ids = ids_of(packed)
    assert ids == flapped.shape.loops.tolist()
    following = list(range(1, len(ids) + 1))
    breaks = iter(packed["yarn"])
    for start, end in zip(breaks, breaks, strict=True):
        following[start] = end
    graph = fabric_of(flapped).graph
    yarn = {(ids[at], ids[to]) for at, to in enumerate(following) if to >= 0}
    assert yarn == {(a, b) for a, b, key in graph.edges(keys=True) if key == "yarn"}
    pairs = numbers(packed["through"], "<u2").reshape(-1, 2)
    told = sorted((ids[a], ids[b]) for a, b in pairs.tolist())
    assert told == sorted((a, b) for a, b, key in graph.edges(keys=True) if key == "through")


def test_the_parent_on_top_comes_first(flapped: Scene, packed: dict[str, Any]) -> None:
    ids, fabric = ids_of(packed), fabric_of(flapped)
    below: dict[int, list[int]] = {}
    for parent, child in numbers(packed["through"], "<u2").reshape(-1, 2).tolist():
        below.setdefault(ids[child], []).append(ids[parent])
    doubled = [loop for loop, parents in below.items() if len(parents) == 2]
    assert doubled
    for loop in doubled:
        ranks = [fabric.graph.edges[p, loop, "through"]["rank"] for p in below[loop]]
        assert ranks == [0, 1]


def test_loops_have_the_course_and_stitch_that_they_were_made_with(
    flapped: Scene, packed: dict[str, Any]
) -> None:
    fabric = fabric_of(flapped)
    course = numbers(packed["course"], "<u2")
    assert course.tolist() == fabric.course[fabric.ids].tolist()
    keys = [packed["stitches"][at][0] for at in numbers(packed["stitch"], "<u2").tolist()]
    assert keys == [fabric.stitch_of(loop).key for loop in fabric.ids.tolist()]


def test_each_colour_is_that_of_the_drawn_picture(flapped: Scene, packed: dict[str, Any]) -> None:
    ways = [colour["by"] for colour in packed["colours"]]
    assert ways == ["stitch", "course", "curvature", "strain", "yarn"]
    for colour in packed["colours"]:
        expected = colouring(flapped.fabric, colour["by"], shape=flapped.shape)
        values = numbers(colour["values"], "u1")
        if "names" in colour:
            tints = [[int(hex_[at : at + 2], 16) for at in (1, 3, 5)]
                     for _, hex_, _ in colour["names"]]  # fmt: skip
            assert [count for _, _, count in colour["names"]] == np.bincount(values).tolist()
            limit = 0.5
        else:
            tints = numbers(colour["palette"], "u1").reshape(-1, 3).tolist()
            limit = 2.5  # of 255: half a step of the scale
        assert np.abs(np.array(tints)[values] - 255 * expected.srgb).max() <= limit
        assert colour["words"] == expected.words


def test_yarns_of_one_name_share_a_colour() -> None:
    # The same yarn, cut and joined anew, is two strands: once more names than colours were made.
    work = Work()
    cast_on(work, 8)
    work.join_round()
    work.plain_rounds(2)
    fabric = work.fabric()
    twice = Fabric(
        **{
            name: getattr(fabric, name)
            for name in ("next", "course", "stitch", "flags", "parent", "child", "info", "right",
                         "left", "needles")
        },
        strand=(np.arange(len(fabric.next)) > 10).astype(np.int16),
        strands=fabric.strands * 2,
    )  # fmt: skip
    found = colouring(twice, "yarn")
    assert list(found.names) == [fabric.strands[0].name]
    assert len(np.unique(found.srgb, axis=0)) == 1


def test_a_shape_without_its_fabric_knows_its_own_numbers_only(flapped: Scene) -> None:
    bare = Shape(flapped.shape.surface, flapped.shape.mesh, flapped.shape.loops)
    told = pack(scene(bare))
    assert [colour["by"] for colour in told["colours"]] == ["curvature", "strain"]
    assert "through" not in told


def test_the_fabric_of_another_shape_is_refused(flapped: Scene) -> None:
    work = Work()
    cast_on(work, 4)
    with pytest.raises(PictureError) as caught:
        scene(flapped.shape, work.fabric())
    assert caught.value.problem == "it was relaxed from another fabric"


def test_the_page_stands_alone_and_holds_no_markup_from_outside(flapped: Scene) -> None:
    html = shape_page(flapped, title="</script><b>")
    assert "<b>" not in html
    assert not re.findall(r"""(?:src|href)=|url\(|https?://|@import""", html)
    data = re.search(r'id="data">(.*?)</script>', html, re.S)
    assert data
    assert json.loads(data[1])["shapes"][""]["bits"] == 16


def test_a_frame_holds_that_page(flapped: Scene) -> None:
    frame = shape_frame(flapped, title="A heel")
    held = re.search(r'srcdoc="([^"]*)"', frame)
    assert held
    assert unescape(held[1]) == shape_page(flapped, title="A heel")
    assert 'sandbox="allow-scripts"' in frame
