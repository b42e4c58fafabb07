"""Old project files, kept as they were written, still open; nothing in them is lost."""

import json
from pathlib import Path
from typing import Any

import attrs
import pytest

from gardenkit import storage
from gardenkit.storage.records import to_data

WORDS = {"wish": "should", "maybe": "could"}  # what a want's weight was called up to format 1
NEW_NAMES = {"patches": "ground_areas", "bend": "curvature"}  # of what had another name up to format 2
SAVED = sorted((Path(__file__).resolve().parents[1] / "saved").glob("format_*.json"))


def everything_in(old: object, new: object, at: str = "") -> None:
    """Assert that every value of the old data stands in the new at the same place; fields added since may be there
    too.
    """
    if isinstance(old, dict):
        for key, value in old.items():
            if key not in ("format", "written_by", "at"):
                everything_in(value, new[key if key in new else NEW_NAMES[key]], f"{at}.{key}")
    elif isinstance(old, list):
        assert len(old) == len(new), at
        for i, (a, b) in enumerate(zip(old, new, strict=True)):
            everything_in(a, b, f"{at}[{i}]")
    else:
        assert old == new, at


def plants_of(data: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the plants as written: what a field is without a word is left out of the file."""
    plants: list[dict[str, Any]] = data["planting"]["plants"]
    assert all({"number", "species", "at"} <= set(plant) for plant in plants)
    return plants


@pytest.mark.parametrize("path", SAVED, ids=lambda path: path.stem)
def test_a_file_of_an_earlier_gardenkit_opens_with_everything_in_it(path: Path, tmp_path: Path) -> None:
    (tmp_path / storage.PROJECT_FILE).write_bytes(path.read_bytes())
    old = json.loads(path.read_text(encoding="utf-8"))
    weights = [want.pop("weight") for want in old["brief"]["wants"]]
    project = storage.load(tmp_path).project
    new = to_data(project)
    whole = [
        attrs.asdict(plant) | written for plant, written in zip(project.planting.plants, plants_of(new), strict=True)
    ]
    everything_in(old, new | {"planting": new["planting"] | {"plants": whole}})
    assert [want.weight for want in project.brief.wants] == [WORDS.get(weight, weight) for weight in weights]


def test_there_is_a_saved_file_of_every_format_so_far() -> None:
    formats = {json.loads(path.read_text(encoding="utf-8"))["format"] for path in SAVED}
    assert formats == set(range(1, storage.records.FORMAT + 1))
