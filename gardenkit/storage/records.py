"""Projects as plain data and back: what the project file holds, checked field by field when it is read."""

import datetime as dt
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import cattrs
from cattrs.strategies import configure_tagged_union

from gardenkit.project import Project
from gardenkit.site import survey
from gardenkit.storage.files import StorageError

FORMAT = 1

# Upgrade steps: UPGRADES[n] takes the data of format n and returns that of format n + 1.
UPGRADES: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}


def _converter() -> cattrs.Converter:
    converter = cattrs.Converter(
        forbid_extra_keys=True, detailed_validation=True, unstruct_collection_overrides={tuple: list}
    )
    configure_tagged_union(survey.Measure, converter, tag_name="kind")
    converter.register_unstructure_hook(float, lambda value: round(value, 6))
    converter.register_structure_hook(float, _number)
    for kind in (dt.date, dt.time):
        converter.register_unstructure_hook(kind, lambda value: value.isoformat())
        converter.register_structure_hook(kind, lambda value, kind: kind.fromisoformat(value))
    return converter


def _number(value: Any, _: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise ValueError(f"expected a number, found {value!r}")
    if not math.isfinite(value):
        raise ValueError(f"expected a finite number, found {value!r}")
    return float(value)


_CONVERTER = _converter()


def to_data(project: Project) -> dict[str, Any]:
    """Return a project as plain dicts, lists, texts and numbers: what the project file holds."""
    data: dict[str, Any] = _CONVERTER.unstructure(project)
    return data


def from_data(data: dict[str, Any], *, where: str) -> Project:
    """Return the project held in plain data. Raises StorageError naming the first place that does not fit."""
    try:
        return _CONVERTER.structure(data, Project)
    except (cattrs.BaseValidationError, cattrs.ForbiddenExtraKeysError, ValueError, TypeError, KeyError) as error:
        reasons = cattrs.transform_error(error) if isinstance(error, Exception) else []
        first = str(reasons[0]) if reasons else str(error)
        reason, _, place = first.partition(" @ ")
        spot = place.removeprefix("$.").removeprefix("$") or "its top level"
        raise StorageError(f"{where} is damaged at {spot}: {reason}; restore it with gardenkit recover") from error


def readable(value: Any, depth: int = 0) -> str:
    """Return plain data as JSON that a person can read: one field a line, a point or a list of numbers on one line."""
    pad = " " * (depth + 1)
    if isinstance(value, dict) and value:
        lines = [f"{pad}{json.dumps(key)}: {readable(item, depth + 1)}" for key, item in value.items()]
        return "{\n" + ",\n".join(lines) + "\n" + " " * depth + "}"
    if isinstance(value, list) and any(isinstance(item, dict) for item in value):
        lines = [pad + readable(item, depth + 1) for item in value]
        return "[\n" + ",\n".join(lines) + "\n" + " " * depth + "]"
    return json.dumps(value, ensure_ascii=False)


def parsed(text: str, path: Path) -> dict[str, Any]:
    """Return the data of a project file, upgraded to this format. Raises StorageError."""
    repair = "; restore it with gardenkit recover"
    try:
        data = json.loads(text)
    except json.JSONDecodeError as error:
        raise StorageError(f"{path.name} is damaged at line {error.lineno}: {error.msg}{repair}") from error
    except (ValueError, RecursionError) as error:
        raise StorageError(f"{path.name} is damaged ({error}){repair}") from error
    if not isinstance(data, dict) or type(data.get("format")) is not int:
        raise StorageError(f"{path.name} is not a gardenkit project file (it names no format number){repair}")
    if data["format"] > FORMAT:
        raise StorageError(
            f"{path.name} was written by a newer gardenkit ({data.get('written_by', 'unknown')}, "
            f"format {data['format']}, this one reads up to {FORMAT}); update gardenkit and "
            "open it again. Nothing was changed"
        )
    while data["format"] < FORMAT:
        step = UPGRADES.get(data["format"])
        if step is None:
            raise StorageError(f"{path.name} has format {data['format']}, which no gardenkit wrote{repair}")
        data = step(data) | {"format": data["format"] + 1}
    return data
