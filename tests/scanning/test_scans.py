"""Scans of feet whose measures are known, against those and against other programs' sections.

A form is made by this package and so are its measures; the places on it are found from the bare
mesh, turned anyhow, and the girths are checked by trimesh's sections and scipy's hulls besides.
"""

from __future__ import annotations

import tracemalloc
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from numpy.typing import NDArray
from scipy.optimize import minimize_scalar
from scipy.spatial import ConvexHull

from loopwright.errors import FootError, ScanError, UnitError
from loopwright.geometry import Surface, export
from loopwright.scanning import FootScan, FootSide, measure_scan, read_scan
from loopwright.sock import Foot
from scanning.scans import bent, of_length, on_a_floor, pointed, scan_of
from together import together

Floats = NDArray[np.float64]

PROMISED_MM = 2.0
WITHIN = 0.95
KNOWN = ("length", "ball_girth", "instep_girth", "heel_girth", "ankle_girth", "leg_girth")

DRAWS: dict[str, tuple[Foot, dict[str, Any]]] = {
    "plain": (of_length(262), {"noise_mm": 0.5, "seed": 1}),
    "holes": (of_length(241, ball=0.97), {"noise_mm": 0.3, "seed": 2, "holes": 4}),
    "sole open": (of_length(278), {"noise_mm": 0.5, "seed": 3, "sole": False}),
    "short and coarse": (of_length(198, ball=0.90), {"seed": 4, "top": 0.55, "columns": 70}),
}


@pytest.fixture(scope="module")
def scans() -> dict[str, tuple[Foot, FootScan]]:
    """Each draw, measured once."""
    return {name: (foot, measure_scan(scan_of(foot, **how))) for name, (foot, how) in DRAWS.items()}


@pytest.fixture(scope="module")
def clean() -> tuple[Foot, FootScan]:
    """A foot without noise, as it stands."""
    foot = of_length(250)
    return foot, measure_scan(scan_of(foot))


def errors_mm(foot: Foot, scan: FootScan) -> Iterator[tuple[str, float, float]]:
    for name, length in scan.measures.items():
        if name != "leg_height":  # chosen, not measured
            yield name, length.mm - getattr(foot, name).mm, length.sd_mm


def test_measures_are_right_within_two_millimetres_or_said_to_be_worse(
    scans: dict[str, tuple[Foot, FootScan]],
) -> None:
    found = [each for foot, scan in scans.values() for each in errors_mm(foot, scan)]
    girths = [(name, error) for name, error, _ in found if name in KNOWN]
    assert len(girths) >= 20
    assert np.mean([abs(error) <= PROMISED_MM for _, error in girths]) >= WITHIN, girths
    assert np.mean([abs(error) <= max(PROMISED_MM, 2 * sd) for _, error, sd in found]) >= WITHIN
    assert max(abs(error) / sd for _, error, sd in found) < 4


def test_what_is_not_there_is_not_measured(scans: dict[str, tuple[Foot, FootScan]]) -> None:
    _, short = scans["short and coarse"]
    assert "leg_girth" not in short.measures
    assert any("sock's edge" in remark or "grows thicker" in remark for remark in short.remarks)
    _, whole = scans["plain"]
    assert set(KNOWN) <= set(whole.measures)
    assert not [remark for remark in whole.remarks if "hole" in remark or "cut" in remark]


def test_holes_and_an_open_sole_are_named(scans: dict[str, tuple[Foot, FootScan]]) -> None:
    assert any(remark.startswith("4 holes: ") for remark in scans["holes"][1].remarks)
    assert any("sole is open" in remark for remark in scans["sole open"][1].remarks)
    assert not any("sole is open" in remark for remark in scans["holes"][1].remarks)


def test_it_stands_on_its_sole_with_its_toes_in_front(
    scans: dict[str, tuple[Foot, FootScan]],
) -> None:
    for foot, scan in scans.values():
        p, length = scan.surface.vertices_mm, foot.length.mm
        assert p[:, 2].min() == pytest.approx(0)
        leg = p[p[:, 2] > 0.5 * length]
        assert leg[:, 0].mean() < 0.4 * length
        # Heel and ball on the floor; the form's own arch is 0.02 of the length high.
        for low, high in ((0.1, 0.25), (0.65, 0.8)):
            part = p[(p[:, 0] > low * length) & (p[:, 0] < high * length)]
            assert part[:, 2].min() < 4


def section(scan: FootScan, at: Floats, normal: Floats) -> float:
    """Girth of a section by trimesh, its hull by scipy."""
    mesh = trimesh.Trimesh(scan.surface.vertices_mm, scan.surface.triangles, process=False)
    untyped: Any = trimesh
    cut = untyped.intersections.mesh_plane(mesh, normal, at).reshape(-1, 3)
    basis = untyped.geometry.plane_transform(at, normal)
    return float(ConvexHull(trimesh.transform_points(cut, basis)[:, :2]).area)


def test_tapes_are_as_long_as_the_hulls_of_sections_by_others(
    clean: tuple[Foot, FootScan],
) -> None:
    scan = clean[1]
    for name in ("ball_girth", "heel_girth", "ankle_girth", "leg_girth"):
        line = scan.tapes[name].points_mm
        middle = line.mean(axis=0)
        normal = np.linalg.svd(line - middle)[2][2]
        assert section(scan, middle, normal) == pytest.approx(scan.measures[name].mm, abs=0.5)


def test_the_heel_and_the_ankle_are_found_where_a_search_finds_them(
    clean: tuple[Foot, FootScan],
) -> None:
    """By sections of trimesh: the thinnest level one; the shortest over the heel's lower back."""
    foot, scan = clean
    heights = np.arange(0.3, 0.7, 0.02) * foot.length.mm
    level = [section(scan, np.array([40, 0, z]), np.array([0, 0, 1.0])) for z in heights]
    assert scan.measures["ankle_girth"].mm == pytest.approx(min(level), abs=1)
    tip = np.array([0.03, 0, 0.045]) * foot.length.mm + [1.5, 0, 1.5]

    def over(slope: float) -> float:
        return section(scan, tip, np.array([-np.sin(slope), 0, np.cos(slope)]))

    shortest = minimize_scalar(over, bounds=(0.5, 1.2), method="bounded", options={"maxiter": 12})
    assert scan.measures["heel_girth"].mm == pytest.approx(shortest.fun, abs=1.5)


@pytest.mark.parametrize(
    ("between", "remark", "missing"),
    [
        ((0.09, 2.0), "the heel is missing", {"length", "ball_length", "heel_girth"}),
        ((-1.0, 0.91), "the toes are cut", {"length"}),
    ],
)
def test_a_missing_end_is_said_and_nothing_is_measured_from_it(
    between: tuple[float, float], remark: str, missing: set[str]
) -> None:
    foot = of_length(255)
    scan = measure_scan(scan_of(foot, between=between, seed=6))
    assert any(remark in each for each in scan.remarks)
    assert not missing & set(scan.measures)
    for name, error, sd in errors_mm(foot, scan):
        assert abs(error) <= max(PROMISED_MM, 2.5 * sd), name
    assert set(Foot.from_scan(scan).estimated) >= missing


def test_toes_that_were_cut_and_closed_are_said() -> None:
    whole = scan_of(of_length(255))
    p = whole.vertices_mm.copy()
    p[:, 0] = np.minimum(p[:, 0], 232)
    scan = measure_scan(Surface(p, whole.triangles))
    assert any("the toes are cut" in remark for remark in scan.remarks)


def test_a_shoe_is_said_to_be_one() -> None:
    """Walls straight up from the floor, as broad as the foot above."""
    whole = scan_of(of_length(250))
    x, y, z = whole.vertices_mm.T
    half = np.interp(x, [0, 20, 60, 130, 185, 230, 250], [18, 33, 35, 41, 48, 42, 24])
    wall = np.where((z < 22) & (np.abs(y) > 3), np.sign(y) * half, y)
    shoe = Surface(np.stack([x, wall, z], axis=1), whole.triangles)
    assert any("like a shoe" in remark for remark in measure_scan(shoe).remarks)


@pytest.mark.parametrize("right", [True, False])
def test_left_and_right_are_told_by_the_ball(right: bool) -> None:
    surface = bent(scan_of(of_length(250), rings=110, columns=70), right=right)
    assert measure_scan(surface).side is (FootSide.RIGHT if right else FootSide.LEFT)


def test_the_side_can_be_given(clean: tuple[Foot, FootScan]) -> None:
    assert clean[1].side is FootSide.UNKNOWN  # a form has none
    with pytest.raises(ScanError) as refusal:
        measure_scan(scan_of(of_length(250)), side="both")
    assert refusal.value.place == "side"


@pytest.mark.parametrize(("unit", "kind"), [("m", "ply"), ("in", "obj"), ("cm", "stl")])
def test_the_unit_is_guessed_and_said(unit: str, kind: str) -> None:
    to_mm = {"m": 1000, "in": 25.4, "cm": 10}[unit]
    surface = scan_of(of_length(262), rings=80, columns=48)
    scan = read_scan(export(Surface(surface.vertices_mm / to_mm, surface.triangles), kind))
    assert scan.unit == unit
    assert scan.remarks[0].startswith(f"the unit is guessed from the size: {unit}")
    assert scan.measures["length"].mm == pytest.approx(262, abs=2)


def test_a_unit_that_makes_no_foot_is_refused() -> None:
    data = export(scan_of(of_length(262), rings=80, columns=48), "stl")
    with pytest.raises(ScanError) as refusal:
        read_scan(data, unit="cm")
    assert "2620 mm" in refusal.value.problem or "261" in refusal.value.problem
    with pytest.raises(UnitError):
        read_scan(data, unit="stones")


def grown(mesh: trimesh.Trimesh, times: int = 3) -> Surface:
    for _ in range(times):
        mesh = mesh.subdivide()
    return Surface(mesh.vertices, mesh.faces)


def two_feet() -> Surface:
    one = scan_of(of_length(250), rings=60, columns=40)
    p = one.vertices_mm
    return Surface(
        np.concatenate([p, p * [1, -1, 1] + [0, 150, 0]]),
        np.concatenate([one.triangles, one.triangles + len(p)]),
    )


def tube_sock() -> Surface:
    """A sock at rest in small: round as a tube, bent where its heel is."""
    turn = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    way = np.linspace(0, 1, 120)
    forward = np.where(way < 0.45, 0.0, (way - 0.45) * 400)
    up = np.where(way < 0.45, (0.45 - way) * 400, 0.0)
    radius = 33 * np.sqrt(np.clip((1.0001 - way) / 0.12, 0, 1))
    level = way < 0.45
    x = forward[:, None] + np.where(level, radius, 0)[:, None] * np.cos(turn)
    z = up[:, None] + np.where(level, 0, radius)[:, None] * np.cos(turn)
    y = radius[:, None] * np.sin(turn)
    row, column = np.meshgrid(np.arange(119), np.arange(60), indexing="ij")
    a, b = row * 60 + column, row * 60 + (column + 1) % 60
    triangles = np.concatenate([np.stack([a, b, a + 60], -1), np.stack([b, b + 60, a + 60], -1)])
    return Surface(np.stack([x, y, z], axis=-1).reshape(-1, 3), triangles.reshape(-1, 3))


@pytest.mark.parametrize(
    ("thing", "said"),
    [
        (lambda: grown(trimesh.creation.icosphere(radius=120), 0), "looks like a foot"),
        (lambda: grown(trimesh.creation.box((200, 200, 200))), "looks like a foot"),
        (lambda: grown(trimesh.creation.box((250, 95, 80))), "looks like a foot"),
        (lambda: grown(trimesh.creation.cylinder(radius=40, height=250)), "looks like a foot"),
        (tube_sock, "foot"),
        (two_feet, "2 bodies of like size"),
        (lambda: Surface(np.zeros((300, 3)), np.arange(300)), "0 triangles"),
        (lambda: Surface(np.full((300, 3), np.nan), np.arange(300)), "three numbers"),
        (lambda: Surface(np.zeros((0, 3)), np.zeros((0, 3))), "three numbers"),
    ],
)
def test_what_is_no_foot_is_refused_by_name(thing: object, said: str) -> None:
    assert callable(thing)
    with pytest.raises(ScanError) as refusal:
        measure_scan(thing())
    assert said in refusal.value.problem
    assert refusal.value.advice


CLOUD = b"ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\nend_header\n1\n2\n"
TEXT = (
    b"ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
    b"property float z\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n"
)
LYING = (
    b"ply\nformat binary_little_endian 1.0\nelement vertex 400000\nproperty float x\n"
    b"element face 400000\nproperty list uchar int vertex_indices\nend_header\n"
)


@together(
    ("data", "said"),
    [
        (b"", "an empty file"),
        (b" \n", "an empty file"),
        (b"\x92[\xc7\x8c" * 400, "neither PLY nor OBJ nor STL"),
        (b"ply\nformat", "no end"),
        (CLOUD, "a cloud of 2 points"),
        (LYING, "bytes that promise 400,000 points"),
        (CLOUD.replace(b"end", b"element face 1\nend"), "points have no x, y and z"),
        (LYING.replace(b"element face", b"element junk 99999\nelement face"), "that promise"),
        (TEXT + b"0 0 0 1 0 0 0 1 0 3 0 1 2", "1 lines that promise 4 points and triangles"),
        (TEXT + b"0 0 0\n1 0 0\n0 1 0\n3 0 1 x\n", "letters among its numbers"),
        (b"solid x\nfacet\nvertex a b c\nendfacet\n", "no triangle in it"),
        (b"v 1 2 3\nf 1 2 9\n", "a damaged OBJ file"),
        (b"v 1 2 3\nv 2 3 4\nv 3 4 9\nf 1 2 3\n", "1 triangle"),
    ],
)
def test_files_that_hold_no_scan_are_refused_by_what_they_are(data: bytes, said: str) -> None:
    with pytest.raises(ScanError) as refusal:
        read_scan(data)
    assert said in refusal.value.problem or "0 triangles" in refusal.value.problem


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(ScanError) as refusal:
        read_scan(tmp_path / "no-such-foot.ply")
    assert refusal.value.place.endswith("no-such-foot.ply")


@pytest.mark.parametrize("kind", ["stl", "ply", "obj", "text stl"])
def test_more_triangles_than_are_read_are_refused_with_little_memory(
    kind: str, tmp_path: Path
) -> None:
    count, limit, path = 600_000, ", more than the 500,000", tmp_path / "large"
    with path.open("wb") as file:
        if kind == "stl":
            file.write(bytes(80) + count.to_bytes(4, "little"))
            file.truncate(84 + 50 * count)
        elif kind == "ply":
            file.write(LYING.replace(b"400000", b"600000"))
            file.truncate(20_000_000)
        elif kind == "obj":
            file.write(b"v 0 0 0\nv 1 0 0\nv 0 1 0\n")
            for _ in range(60):
                file.write(b"f 1 2 3\n" * (count // 60))
        else:
            count, limit = 200_001, " in words, more than the 200,000"
            file.write(b"solid x\n")
            for _ in range(3):
                file.write(b"facet\nendfacet\n" * (count // 3))
    tracemalloc.start()
    with pytest.raises(ScanError) as refusal:
        read_scan(path)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert refusal.value.problem == f"{count:,} triangles{limit} that are read"
    assert most < 8 * 2**20


def test_loose_pieces_are_left_out_and_said() -> None:
    foot = of_length(250)
    one = scan_of(foot, rings=110, columns=70)
    crumb = trimesh.creation.icosphere(radius=8)
    p = np.concatenate([one.vertices_mm, np.add(crumb.vertices, [300, 40, 90]), [[np.nan] * 3]])
    n = len(one.vertices_mm)
    bad = [[len(p) - 1, 0, 1]]
    scan = measure_scan(Surface(p, np.concatenate([one.triangles, crumb.faces + n, bad])))
    assert any(remark.startswith("1 loose piece") for remark in scan.remarks)
    assert any(remark.startswith("1 triangle without numbers") for remark in scan.remarks)
    assert scan.measures["length"].mm == pytest.approx(foot.length.mm, abs=PROMISED_MM)


def test_a_floor_is_left_out_and_said() -> None:
    scan = measure_scan(on_a_floor(scan_of(of_length(250), rings=110, columns=70)))
    assert any(remark.startswith("1 flat piece, the floor") for remark in scan.remarks)
    assert scan.measures["length"].mm == pytest.approx(250, abs=PROMISED_MM)


def test_the_leg_of_a_hanging_foot_is_taped_square_to_itself() -> None:
    foot = of_length(250)
    scan = measure_scan(pointed(scan_of(foot, seed=None), 20))
    assert any("leans by" in remark for remark in scan.remarks)
    assert scan.measures["ankle_girth"].mm == pytest.approx(foot.ankle_girth.mm, abs=PROMISED_MM)


def test_beside_a_small_heel_the_ankle_is_said_to_be_unsure() -> None:
    """Its form is thinnest where the leg bends, far below its own ankle."""
    small = Foot.of(length="252 mm", ball_girth="246 mm", heel_girth="302 mm", ankle_girth="250 mm")
    usual = of_length(252)
    for foot, is_sure in ((small, False), (usual, True)):
        scan = measure_scan(scan_of(foot, seed=8, rings=110, columns=70))
        ankle = scan.measures["ankle_girth"]
        assert abs(ankle.mm - foot.ankle_girth.mm) <= 2 * max(ankle.sd_mm, PROMISED_MM / 2)
        assert (ankle.sd_mm < PROMISED_MM) == is_sure


def test_without_an_ankle_no_heel_girth_is_made_up() -> None:
    scan = measure_scan(scan_of(of_length(250), top=0.36, rings=110, columns=70))
    assert "heel_girth" not in scan.measures
    assert any(remark.startswith("the heel girth is not measured") for remark in scan.remarks)
    assert {"length", "ball_girth"} <= set(scan.measures)


def test_a_foot_from_a_scan_keeps_what_was_said(clean: tuple[Foot, FootScan]) -> None:
    foot, scan = clean
    found = Foot.from_scan(scan, sex="female")
    assert found.ball_girth == scan.measures["ball_girth"]
    assert found.notes[: len(scan.remarks)] == scan.remarks
    assert "ankle_height" in found.estimated
    with pytest.raises(FootError, match="read_scan"):
        Foot.from_scan(scan, unit="mm")
    assert foot.sex is found.sex.UNKNOWN
