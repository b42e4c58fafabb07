"""A project file from elsewhere, changed anywhere, opens or is refused in one sentence; what opens can be drawn.

CI takes a sample of the examples' mutations; ``--often 100`` takes 20,000.
"""

import copy
import json
import random
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from gardenkit import storage
from gardenkit.findings import GardenError
from gardenkit.notebook import gardens
from gardenkit.project.layout import layout

IN_CI = 67  # mutations an example, of three examples
SLOWEST = 10.0  # s a mutation, as the issue of this suite says
ODD: tuple[Any, ...] = (
    None,
    True,
    0,
    -1,
    1e9,
    1e300,
    2**70,
    -0.001,
    float("nan"),
    float("inf"),
    "",
    "x" * 5000,
    "../../x",
    "a\x00b",
    "\ud800",
    "<script>",
    "url(//x.example/)",
    [],
    [[0.0, 0.0]] * 3,
    {},
    [None],
    {"name": "x"},
)


def places(data: Any, at: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if at:
        yield at
    items = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in items:
        yield from places(value, (*at, key))


def harmed(data: Any, at: tuple[Any, ...], chance: random.Random) -> Any:
    """Return a copy with one place changed: an odd value, a number off, an item gone, twice, or from elsewhere."""
    result = copy.deepcopy(data)
    holder = result
    for key in at[:-1]:
        holder = holder[key]
    key, old = at[-1], holder[at[-1]]
    way = chance.randrange(5)
    if way == 0 and isinstance(old, (int, float)) and not isinstance(old, bool):
        holder[key] = old * chance.choice((-1, 0, 0.001, 1.5, 10, 1000))
    elif way == 1 and isinstance(holder, list):
        holder.insert(key, old)
    elif way == 2:
        del holder[key]
    elif way == 3 and isinstance(old, list) and len(old) > 1:
        chance.shuffle(old)
    else:
        holder[key] = chance.choice(ODD)
    return result


@pytest.mark.parametrize("example", gardens.examples(), ids=lambda folder: folder.name)
def test_a_changed_file_opens_and_is_laid_out_or_is_refused_in_one_sentence(
    example: Path, tmp_path: Path, often: int
) -> None:
    data = json.loads((example / storage.PROJECT_FILE).read_text(encoding="utf-8"))
    found, chance = list(places(data)), random.Random(example.name)
    refused = 0
    for _ in range(IN_CI * often):
        at = chance.choice(found)
        text = json.dumps(harmed(data, at, chance))
        (tmp_path / storage.PROJECT_FILE).write_text(text, encoding="utf-8")
        begun = time.perf_counter()
        try:
            layout(storage.load(tmp_path).project)
        except GardenError as error:
            refused += 1
            assert "\n" not in str(error), at
            assert len(str(error)) < 1000, (at, str(error)[:2000])
        assert time.perf_counter() - begun < SLOWEST, at
    assert 0.1 * IN_CI * often < refused < 0.9 * IN_CI * often  # both ways are tried
