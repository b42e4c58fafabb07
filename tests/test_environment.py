"""The conda list and the pip list name the same packages with the same limits."""

import re
import tomllib
from pathlib import Path

import yaml

ROOT = Path(__file__).resolve().parents[1]
CONDA_NAMES = {"pillow": "pillow", "python-tzdata": "tzdata"}  # where conda-forge uses another name


def split(requirement: str) -> tuple[str, str]:
    match = re.match(r"([A-Za-z0-9_.-]+)\s*(.*)", requirement)
    assert match is not None
    return match[1].lower().replace("_", "-"), match[2].replace(" ", "")


def test_environment_yml_names_the_same_packages_as_pyproject() -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        wanted = dict(split(r) for r in tomllib.load(file)["project"]["dependencies"])
    listed = yaml.safe_load((ROOT / "environment.yml").read_text(encoding="utf-8"))["dependencies"]
    conda = dict(split(r) for r in listed if isinstance(r, str))
    conda = {CONDA_NAMES.get(name, name): limits for name, limits in conda.items() if name not in ("python", "pip")}
    assert wanted == conda


def test_the_top_level_holds_only_what_it_should() -> None:
    import subprocess

    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.split(
        "\n"
    )
    top = {name.split("/")[0] for name in tracked if name}
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "environment.yml",
        "pyproject.toml",
        "LICENSE",
        "workbook",
        "gardenkit",
        "tests",
        "examples",
    }
    assert {name for name in top if not name.startswith(".")} <= allowed
