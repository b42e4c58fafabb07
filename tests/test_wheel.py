"""The wheel alone, installed outside the checkout, opens the workbook on an example garden."""

import json
import os
import re
import subprocess
import sys
import sysconfig
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def test_the_packages_named_for_the_wheel_are_all_there_are() -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        told = tomllib.load(file)["tool"]["setuptools"]["packages"]
    found = [".".join(p.parent.relative_to(ROOT).parts) for p in (ROOT / "gardenkit").rglob("__init__.py")]
    assert sorted(told) == sorted([*found, "gardenkit._workbook", "gardenkit._examples"])


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The Python of a fresh environment with nothing but the wheel of our own; the rest is borrowed from this one."""
    folder = tmp_path_factory.mktemp("wheel")
    names = ["gardenkit", "workbook", "examples", "pyproject.toml", "README.md", "LICENSE"]
    copy = folder / "source"  # built from a copy, so that no build folder is left in the checkout
    copy.mkdir()
    listed = subprocess.run(
        ["git", "ls-files", "-z", "-co", "--exclude-standard", *names], cwd=ROOT, capture_output=True, check=True
    )
    for name in listed.stdout.decode().split("\0"):
        if name and (ROOT / name).exists():
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            (copy / name).write_bytes((ROOT / name).read_bytes())
    run = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(folder / "made"), str(copy)], check=False
    )
    assert run.returncode == 0
    wheel = next((folder / "made").glob("*.whl"))
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", str(folder / "venv")], check=True)
    python = folder / "venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    asked = [str(python), "-c", "import sysconfig; print(sysconfig.get_paths()['purelib'])"]
    site = Path(subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip())
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", str(site), str(wheel)], check=True
    )
    # Everything but gardenkit comes from this environment, after the wheel's own place on the path.
    (site / "borrowed.pth").write_text(sysconfig.get_paths()["purelib"] + "\n")
    return python


def outside(python: Path, folder: Path, *arguments: str) -> str:
    clean = {k: v for k, v in os.environ.items() if k != "PYTHONPATH" and not k.startswith("GARDENKIT_")}
    clean["GARDENKIT_HOME"] = str(folder / "home")
    run = subprocess.run(
        [str(python), *arguments], cwd=folder, env=clean, capture_output=True, text=True, timeout=300, check=False
    )
    assert run.returncode == 0, run.stderr
    return run.stdout


COMMAND = ("-m", "gardenkit.notebook.command")
PAINTED_SMALL = """
import sys
sys.path.append(sys.argv[1])
from paintings import small
from gardenkit.notebook import command
with small():
    sys.exit(command.main(sys.argv[2:]))
"""


@pytest.mark.slow
def test_the_wheel_lists_its_examples_and_renders_one(installed: Path, tmp_path: Path) -> None:
    where = outside(installed, tmp_path, "-c", "import gardenkit; print(gardenkit.__file__)")
    assert str(installed.parent.parent) in where
    listed = outside(installed, tmp_path, *COMMAND, "examples")
    assert {line.split(":")[0] for line in listed.splitlines()} == {
        p.parent.name for p in ROOT.glob("examples/*/garden.json")
    }
    outside(installed, tmp_path, *COMMAND, "examples", "--copy", "lantern_lane_strip", "mine")
    outside(installed, tmp_path, "-c", PAINTED_SMALL, str(ROOT / "tests"), "render", "mine")
    assert "</html>" in (tmp_path / "mine" / "client_copy.html").read_text(encoding="utf-8")


@pytest.mark.slow
def test_the_lines_of_the_readme_run_on_the_wheel_alone(installed: Path, tmp_path: Path) -> None:
    lines = re.search(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.S)
    assert lines
    said = outside(installed, tmp_path, "-c", lines[1] + "\nprint(gk.__file__)")
    assert str(installed.parent.parent) in said.splitlines()[-1]
    drawn = [path.read_text(encoding="utf-8") for path in tmp_path.rglob("*.svg")]
    assert (ROOT / "examples" / "by_script.svg").read_text(encoding="utf-8").strip() in [svg.strip() for svg in drawn]


@pytest.mark.slow
def test_the_wheel_opens_the_workbook_and_its_first_notebook_runs(installed: Path, tmp_path: Path) -> None:
    script = """
from gardenkit.notebook import command
asked = []
command.waited_for = lambda c: asked.append(c) or 0
assert command.main(["open", "--no-browser"]) == 0
print([a.split("=")[1] for a in asked[0] if a.startswith("--ServerApp.root_dir")][0])
"""
    workbook = Path(outside(installed, tmp_path, "-c", script).strip())
    assert workbook.parent.parent == tmp_path / "home"
    assert {p.name for p in workbook.glob("*.ipynb")} == {p.name for p in (ROOT / "workbook").glob("*.ipynb")}
    cells = json.loads((workbook / "00_start.ipynb").read_text(encoding="utf-8"))["cells"]
    code = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    outside(installed, tmp_path, "-c", code + "\nassert not start.failures and start.scene().marks")
