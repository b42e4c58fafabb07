"""What the client's refusals, and the musts that rule plants out, do to a palette is said in words."""

from pathlib import Path

import attrs
import pytest

from gardenkit import storage
from gardenkit.brief.wants import Check, Want
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.project import Project
from gardenkit.project.edits import brief
from gardenkit.project.plant_choice import Suited, bed_spots, refusal_words, suited_to_garden

CATALOGUE = load_catalogue()
MUST = Want(
    text="nothing that harms the dog", weight="must", check=Check(fact="toxic_to_dogs", compare="at most", amount=0.0)
)
WORD = "toxic to dogs"


def judged(project: Project) -> tuple[Suited, ...]:
    return suited_to_garden(CATALOGUE, bed_spots(project, now=None, later=None))


@pytest.fixture(scope="module")
def free() -> Project:
    project = storage.load(Path(__file__).parents[2] / "examples" / "fennel_street_corner").project
    return attrs.evolve(project, brief=attrs.evolve(project.brief, refuses=(), wants=()))


def test_a_must_is_told_with_how_many_kinds_it_keeps_out(free: Project) -> None:
    would_do = [s.species for s in judged(free) if s.judgement.verdict != "no" and "dogs" in s.species.toxic_to]
    asked = brief.add_want(free, MUST)
    assert asked.brief.refused == (WORD,)
    (said,) = refusal_words(judged(asked), asked.brief.refused)
    assert len(would_do) > 20
    assert said == f'refusing "{WORD}" keeps out {len(would_do)} kinds that the place would suit'


def test_a_locked_kind_that_a_must_rules_out_is_named_with_its_harm(free: Project) -> None:
    asked = brief.add_want(free, MUST)
    said = refusal_words(judged(asked), asked.brief.refused, ["Digitalis purpurea"])
    assert any(s.startswith("Digitalis purpurea is kept although") and "toxicity listed for dogs" in s for s in said)


def test_without_refusals_nothing_is_said(free: Project) -> None:
    assert refusal_words(judged(free), free.brief.refused) == ()
