"""What a step stores is small, leads forward and back exactly, and never touches the state it came from."""

import copy
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gardenkit.storage.changes import applied, differences, unmade

LEAVES = st.none() | st.booleans() | st.integers(-3, 3) | st.sampled_from(["", "a", "b"])
TREES = st.recursive(
    LEAVES, lambda inner: st.lists(inner, max_size=6) | st.dictionaries(st.sampled_from("pqrs"), inner, max_size=4)
)


def strict(data: object) -> str:
    """Plain data as text: 1 and true differ here, while Python calls them equal."""
    return json.dumps(data, sort_keys=True)


@given(TREES, TREES)
@settings(max_examples=400, deadline=None)
def test_any_change_leads_forward_and_back(was: object, now: object) -> None:
    if was == now:
        return
    held = copy.deepcopy(was)
    changes = json.loads(json.dumps(list(differences(was, now))))  # as they come back from the disk
    assert applied(was, changes) == now
    assert applied(now, unmade(changes)) == was
    assert strict(was) == strict(held)


@given(st.permutations(range(9)), st.lists(st.integers(0, 8), max_size=4))
def test_items_that_move_are_stored_as_an_order(order: list[int], doubles: list[int]) -> None:
    was = [{"number": i, "note": "x" * 200} for i in [*range(9), *doubles]]
    now = [was[i] for i in order] + was[9:]
    changes = list(differences({"plants": was}, {"plants": now}))
    assert applied({"plants": was}, changes) == {"plants": now}
    assert applied({"plants": now}, unmade(changes)) == {"plants": was}
    assert len(json.dumps(changes)) < 200  # an order, never a plant


def test_items_taken_out_here_and_there_are_stored_alone() -> None:
    was = [{"number": i, "at": [i / 7, 1.0]} for i in range(2000)]
    now = [item for item in was if item["number"] not in (3, 700, 1500)]
    changes = list(differences(was, now))
    assert [change[0] for change in changes] == ["~"] * 3
    assert applied(was, changes) == now
    assert applied(now, unmade(changes)) == was


def test_a_change_that_does_not_fit_is_refused() -> None:
    changes = list(differences({"a": [1, 2]}, {"a": [1, 3]}))
    for foreign in ({"b": 1}, {"a": []}, {"a": [1, 9]}, {"a": 5}):
        with pytest.raises(ValueError, match="does not fit at a"):
            applied(foreign, changes)
