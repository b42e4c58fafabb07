"""Projects as plain data and back: what the project file holds, checked field by field when it is read."""

import datetime as dt
import json
import math
import re
import sys
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

import attrs
import cattrs
from cattrs.gen import make_dict_unstructure_fn
from cattrs.strategies import configure_tagged_union
from cattrs.v import format_exception

from gardenkit.brief.brief import Brief
from gardenkit.brief.pricing import Pricing
from gardenkit.planting.planting import Plant, Planting
from gardenkit.project import Project
from gardenkit.project.remembered import Remembered
from gardenkit.site import survey
from gardenkit.site.site import Site
from gardenkit.storage.files import DiskError, StorageError
from gardenkit.structure.structure import Structure
from gardenkit.texts import NO_NAME

FORMAT = 3
SECTIONS = (Brief, Site, Structure, Planting)  # of a project, most of which an edit leaves as they were

MOST = sys.float_info.max  # what a number can be
LONGEST_REASON = 300  # letters of a message from the reader that are said again. House value.
_UNREADABLE = (ValueError, TypeError, KeyError, AttributeError, IndexError, OverflowError, RecursionError)


def _weights_in_the_words_of_the_trade(data: dict[str, Any]) -> dict[str, Any]:
    """Return data of format 1, whose wants were a wish or a maybe, as format 2 has them: should and could."""
    words = {"wish": "should", "maybe": "could"}
    brief = data.get("brief", {})
    wants = [
        want | ({"weight": words.get(want["weight"], want["weight"])} if "weight" in want else {})
        for want in brief.get("wants", [])
    ]
    return data | ({"brief": brief | {"wants": wants}} if wants else {})


def _paths_and_areas_in_the_words_of_the_trade(data: dict[str, Any]) -> dict[str, Any]:
    """Return data of format 2, which had other names for curvature and for paved and lawn areas, as format 3."""
    bones = dict(data.get("structure", {}))
    if "patches" in bones:
        bones["ground_areas"] = bones.pop("patches")
    if "paths" in bones:
        bones["paths"] = [
            {("curvature" if key == "bend" else key): path[key] for key in path} for path in bones["paths"]
        ]
    return data | ({"structure": bones} if bones else {})


# Upgrade steps: UPGRADES[n] takes the data of format n and returns that of format n + 1.
UPGRADES: dict[int, Callable[[dict[str, Any]], dict[str, Any]]] = {
    1: _weights_in_the_words_of_the_trade,
    2: _paths_and_areas_in_the_words_of_the_trade,
}


def _converter(*, detailed: bool) -> cattrs.Converter:
    converter = cattrs.Converter(
        forbid_extra_keys=True, detailed_validation=detailed, unstruct_collection_overrides={tuple: list}
    )
    configure_tagged_union(survey.Measure, converter, tag_name="kind")
    converter.register_unstructure_hook(float, lambda value: float(round(value, 6)) + 0.0)  # + 0.0: never minus zero
    converter.register_structure_hook(float, _number)
    for exact, words in ((str, "words"), (int, "a whole number"), (bool, "true or false")):
        converter.register_structure_hook(exact, _only(exact, words))
    # a garden has hundreds of plants, most with nothing said but what and where; what a field is without a word stays
    converter.register_unstructure_hook(Plant, make_dict_unstructure_fn(Plant, converter, _cattrs_omit_if_default=True))
    converter.register_unstructure_hook(
        Pricing, make_dict_unstructure_fn(Pricing, converter, _cattrs_omit_if_default=True)
    )
    for kind in (dt.date, dt.time):
        converter.register_unstructure_hook(kind, lambda value: value.isoformat())
        converter.register_structure_hook(kind, lambda value, kind: kind.fromisoformat(value))
    return converter


def _number(value: Any, _: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise ValueError(f"expected a number, found {str(value)[:40]!r}")
    if not abs(value) <= MOST:  # NaN is not
        shown = f"{value:g}" if isinstance(value, float) else "one of very many digits"
        raise ValueError(f"expected a finite number, found {shown}")
    return float(value)


def _only(exact: type, words: str) -> Callable[[Any, Any], Any]:
    """Return a reader that takes a value of one type as it is, and never bends another into it (5.7 into 5)."""

    def read(value: Any, _: Any) -> Any:
        if type(value) is not exact:
            raise ValueError(f"expected {words}, found {str(value)[:40]!r}")
        return value

    return read


_CONVERTER = _converter(detailed=True)  # says what does not fit, and where
_QUICK = _converter(detailed=False)  # the same, twice as fast, and says nothing
ONE_LINE = 200  # letters of a record that stands on one line. House value.
_LINE = json.JSONEncoder(ensure_ascii=False, allow_nan=False)
_quoted = json.encoder.encode_basestring


def to_data(project: Project) -> dict[str, Any]:
    """Return a project as plain dicts, lists, texts and numbers: what the project file holds."""
    found: dict[str, Any] = {}
    for name in (field.name for field in attrs.fields(Project)):
        value = getattr(project, name)
        found[name] = _section(value) if isinstance(value, SECTIONS) else _QUICK.unstructure(value)
    return found


@lru_cache(maxsize=16)
def _section(value: Any) -> Any:
    """Return one section as plain data, which nobody changes: the same one while the section stays as it is."""
    return _QUICK.unstructure(value)


def read_back(project: Project, before: Project | None) -> tuple[Project, dict[str, Any]]:
    """Return a project as it will be read from its file, and its plain data; only sections that changed are tried.

    Raises StorageError naming the first place that could be written but not read again.
    """
    data = to_data(project)
    again: dict[str, Any] = {}
    for field in attrs.fields(Project):
        value = getattr(project, field.name)
        if before is not None and value is getattr(before, field.name):
            continue
        held = data[field.name]
        read = _structured(held, field.type, f"this cannot be saved: {field.name}", "; nothing was changed")
        if read == value:  # what is saved is what is there: keep it, so that what was found sound stays known
            continue
        if _QUICK.unstructure(read, unstructure_as=field.type) != held:
            raise StorageError(f"this cannot be saved: {field.name} would read otherwise; nothing was changed")
        again[field.name] = read
    return attrs.evolve(project, **again), data


def from_data(data: dict[str, Any], *, where: str) -> Project:
    """Return the project held in plain data. Raises StorageError naming the first place that does not fit."""
    project: Project = _structured(data, Project, f"{where} is damaged", "; restore it with gardenkit recover")
    return project


def _structured(data: Any, kind: Any, where: str, remedy: str) -> Any:
    try:
        return _QUICK.structure(data, kind)
    except (cattrs.BaseValidationError, cattrs.errors.CattrsError, *_UNREADABLE):
        pass
    try:
        return _CONVERTER.structure(data, kind)
    except (cattrs.BaseValidationError, cattrs.errors.CattrsError, *_UNREADABLE) as error:
        reasons = cattrs.transform_error(error, format_exception=_reason) if isinstance(error, Exception) else []
        reason, _, place = (str(reasons[0]) if reasons else str(error)).partition(" @ ")
        spot = place.removeprefix("$.").removeprefix("$") or "its top level"
        raise StorageError(f"{where} at {spot[:LONGEST_REASON]}: {reason[:LONGEST_REASON]}{remedy}") from error


def _reason(error: BaseException, kind: type | None) -> str:
    """Return what does not fit in one value, in our words where they are ours."""
    if isinstance(error, (AttributeError, TypeError)):  # of another shape altogether
        record = kind is not None and attrs.has(kind)
        return f"expected {'a record, fields with their names' if record else 'a list'}"
    if isinstance(error, ValueError) and " values in " in str(error):  # of a point, a pair
        return f"expected {'more' if str(error).startswith('Not enough') else 'fewer'} values"
    ours = isinstance(error, ValueError) and str(error).startswith("expected")
    text = str(error) if ours else str(format_exception(error, kind))
    return re.sub(
        r"unknown error \((.*) not in literal typing\.Literal\[(.*)\]\)", r"expected one of \2, found \1", text
    )


def file_text(data: dict[str, Any]) -> str:
    """Return the whole of a project file as text; sections that are the same data as before are not written anew."""
    lines = [f"\n {_quoted(key)}: {_laid(value)}" for key, value in data.items()]
    return "{" + ",".join(lines) + "\n}\n"


def _laid(value: Any) -> str:
    # the data is kept with its text, so no other data can have its id meanwhile
    held, text = _LAID.get(id(value), lambda: (value, readable(value, 1)))
    return text if held is value else readable(value, 1)


_LAID: Remembered[tuple[Any, str]] = Remembered(32)


def readable(value: Any, depth: int = 0) -> str:
    """Return plain data as JSON that a person can read and compare: one field a line, and one line each for a point, a
    list of numbers, and a short record of a list, such as a plant.
    """
    kind = type(value)
    if kind is dict and value:
        pad = "\n" + " " * (depth + 1)
        lines = [f"{pad}{_quoted(key)}: {readable(item, depth + 1)}" for key, item in value.items()]
        return "{" + ",".join(lines) + "\n" + " " * depth + "}"
    if kind is list and any(type(item) is dict for item in value):
        pad = "\n" + " " * (depth + 1)
        lines = [pad + (_on_one_line(item) or readable(item, depth + 1)) for item in value]
        return "[" + ",".join(lines) + "\n" + " " * depth + "]"
    if kind is str:
        return _quoted(value)
    if (kind is float and math.isfinite(value)) or kind is int:
        return repr(value)
    if kind is bool:
        return "true" if value else "false"
    if kind is list:
        return "[" + ", ".join([readable(item) for item in value]) + "]"
    return _LINE.encode(value)


def _on_one_line(item: Any) -> str:
    """Return a record without records inside as one line, nothing where that would be too long to read."""
    if type(item) is not dict or any(type(value) is dict or _holds_records(value) for value in item.values()):
        return ""
    line = _LINE.encode(item)
    return line if len(line) <= ONE_LINE else ""


def _holds_records(value: Any) -> bool:
    return type(value) is list and any(type(item) in (dict, list) for item in value)


def parsed(text: str, path: Path) -> dict[str, Any]:
    """Return what stands in a project file, in the format it was written in. Raises StorageError."""
    repair = "; restore it with gardenkit recover"
    try:
        data = json.loads(text, object_pairs_hook=_each_once)
    except json.JSONDecodeError as error:
        raise DiskError(f"{path.name} is damaged at line {error.lineno}: {error.msg}{repair}") from error
    except StorageError as error:
        raise StorageError(f"{path.name} is damaged: {error}{repair}") from error
    except ValueError as error:
        raise DiskError(f"{path.name} is damaged: a number in it has too many digits{repair}") from error
    except RecursionError as error:
        raise DiskError(f"{path.name} is damaged: it holds lists within lists without end{repair}") from error
    if not isinstance(data, dict) or type(data.get("format")) is not int:
        raise StorageError(f"{path.name} is not a gardenkit project file (it names no format number){repair}")
    if data["format"] > FORMAT:
        raise StorageError(
            f"{path.name} was written by a newer gardenkit ({str(data.get('written_by', 'unknown'))[:60]}, "
            f"format {str(data['format'])[:20]}, this one reads up to {FORMAT}); update gardenkit and "
            "open it again. Nothing was changed"
        )
    return data


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """Return a record of a project file; of a field that stands there twice nobody knows which one is meant."""
    record = dict(pairs)
    if len(record) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise StorageError(f'"{NO_NAME.sub("", twice)[:40]}" stands twice in one record')
    return record


def upgraded(data: dict[str, Any], *, where: str) -> dict[str, Any]:
    """Return plain data of any format so far as that of today, without its format number. Raises StorageError."""
    while data["format"] < FORMAT:
        step = UPGRADES.get(data["format"])
        if step is None:
            shown = str(data["format"])[:20]
            raise StorageError(
                f"{where} has format {shown}, which no gardenkit wrote; restore it with gardenkit recover"
            )
        try:
            data = step(dict(data)) | {"format": data["format"] + 1}
        except _UNREADABLE as error:
            raise StorageError(f"{where} is damaged ({error}); restore it with gardenkit recover") from error
    return {key: value for key, value in data.items() if key != "format"}
