"""A garden by script: README's lines draw README's picture, quickly opened, with every name explained."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

import gardenkit as gk
from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.site.usual_sizes import usual_sizes
from gardenkit.units import FOOT, INCH

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def by_readme(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, object]:
    monkeypatch.chdir(tmp_path)
    lines = re.search(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.S)
    assert lines
    known: dict[str, object] = {}
    exec(lines[1], known)
    return known


def test_the_lines_of_the_readme_draw_its_picture(by_readme: dict[str, object]) -> None:
    drawn = Path("plan.svg").read_text(encoding="utf-8")
    assert drawn == (ROOT / "examples" / "by_script.svg").read_text(encoding="utf-8")


def test_what_a_script_made_is_the_project_file(by_readme: dict[str, object]) -> None:
    garden = by_readme["garden"]
    saved = storage.load(Path("Plum Row")).project
    assert saved == garden.project  # type: ignore[attr-defined]
    assert saved.site.boundary[2] == pytest.approx((40 * FOOT, 60 * FOOT), abs=1e-6)
    gaps = [gap.clear / INCH for gap in garden.layout.layings["walk"].gaps]  # type: ignore[attr-defined]
    assert gaps and all(4 - 0.02 <= gap <= 6 + 0.02 for gap in gaps)
    # 11 by 30 ft at 3 ft staggered: rows are 3 * sqrt(3)/2 ft apart, and the area over that bounds the count.
    assert 0 < len(saved.planting.plants) <= 11 * 30 / (3 * 3 * 3**0.5 / 2)
    assert storage.undo(Path("Plum Row"))[1] == "fill Long bed"


def test_every_name_is_there_and_explained(capsys: pytest.CaptureFixture[str]) -> None:
    assert 15 <= len(gk.__all__) <= 20
    gk.help()
    told = capsys.readouterr().out
    assert all(callable(getattr(gk, name)) and f"gk.{name}: " in told for name in gk.__all__)
    with pytest.raises(GardenError, match='nearest known is "bearing"'):
        gk.help("baering")


def test_importing_loads_nothing_heavy() -> None:
    code = "import sys, gardenkit; print([m for m in ('numpy', 'shapely', 'attrs', 'bokeh') if m in sys.modules])"
    surroundings = os.environ | {"PYTHONPATH": str(ROOT)}
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=surroundings)
    assert run.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda g: gk.boundary(g, ("wide", 3)), "cannot read the length"),
        (lambda g: gk.opening(g, "dor", "x", (0, 0), (1, 0)), 'nearest known is "door"'),
        (lambda g: gk.fill(g, "Bed", "Salvia nemorosa"), "there is no bed"),
        (lambda g: gk.house(g, "house", 3, 4), "not a point"),  # type: ignore[arg-type]
        (lambda g: gk.area(g, "lawn", (1, 2), (3, 4), (5, 6)), "not a name"),  # type: ignore[arg-type]
    ],
)
def test_bad_input_is_one_sentence(wrong, said: str, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(GardenError, match=said):
        wrong(gk.new(tmp_path / "plot"))


def test_a_door_by_script_is_as_high_as_one_put_up_on_a_page(tmp_path: Path) -> None:
    garden = gk.house(gk.boundary(gk.new(tmp_path / "plot"), (40, 60)), "house", (8, 0), (34, 18))
    garden = gk.opening(garden, "door", "garden door", (20, 18), (23, 18), on="house")
    usual = usual_sizes("door", "imperial")
    door = garden.project.site.openings[0]
    assert (door.sill, door.head) == pytest.approx((usual["sill"], usual["head"]))
    assert [f.sentence() for f in garden.advice if "headroom" in f.sentence()] == []  # 80 in, the common door


def test_the_notebook_by_script_runs() -> None:
    known: dict[str, object] = {}
    for cell in json.loads((ROOT / "workbook" / "08_by_script.ipynb").read_text(encoding="utf-8"))["cells"]:
        if cell["cell_type"] == "code":
            exec("".join(cell["source"]), known)
    assert known["garden"].planted  # type: ignore[attr-defined]
