"""Every setting of the style acts on a later step: turning it from one end to the other changes the result its way."""

from functools import cache
from pathlib import Path
from typing import Any

import attrs
import numpy as np
import pytest

from gardenkit.brief.style import LEANINGS, STYLES, Style
from gardenkit.garden import Garden
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.choosing import Candidate, propose
from gardenkit.planting.choosing_rules import has_colour
from gardenkit.planting.composing import Composition, Taste
from gardenkit.planting.manner import TEXTURE, neatness
from gardenkit.planting.species import Species
from gardenkit.project import Project
from gardenkit.project.composed import composed
from gardenkit.project.edits import brief, site, structure
from gardenkit.project.layout import layout
from gardenkit.project.styled import manner_of, signature_of, wishes_of

CATALOGUE = load_catalogue()
VIOLET = ("#6b4aa0", "#755f98")
LAYERS = ("perennial", "shrub", "grass", "ground cover")
SHOWN = tuple(s for s in CATALOGUE if s.is_ornamental and s.layer in ("perennial", "shrub", "grass", "ground cover"))[
    ::4
]
PALETTE = (
    *("Salvia nemorosa", "Echinacea purpurea", "Nepeta × faassenii", "Geranium sanguineum", "Stachys byzantina"),
    *("Panicum virgatum", "Waldsteinia fragarioides", "Phlox subulata", "Heuchera americana", "Ilex glabra"),
)


@cache
def plot() -> Project:
    made = site.set_boundary(Project(name="plot"), ((0.0, 0.0), (9.0, 0.0), (9.0, 14.0), (0.0, 14.0)))
    made = site.add_opening(made, "gate", "front", at=(4.5, 0.0), width=1.2, sill=0.0, head=1.2)
    return site.add_opening(made, "gate", "back", at=(4.5, 14.0), width=1.2, sill=0.0, head=1.2)


def styled(**settings: Any) -> Project:
    return brief.set_style(plot(), Style(**settings))


def palette(**settings: Any) -> tuple[Species, ...]:
    made = styled(**settings)
    wishes = attrs.evolve(
        wishes_of(made), layers=(), manner=manner_of(made.brief.style), wants=signature_of(made.brief.style)
    )
    found = propose([Candidate(species=s) for s in SHOWN], attrs.evolve(wishes, months=(6, 7), kinds_a_month=1))
    return tuple(choice.species for choice in found.choices)


def walk(made: Project) -> Project:
    return structure.add_path(made, "walk", start="front", end="back")


@cache
def arranged(**settings: Any) -> Composition:
    made = structure.add_path(styled(**settings), "walk", start="front", end="back", bend=0.0)
    kinds = [CATALOGUE[name] for name in PALETTE]
    (found,) = composed(made, kinds, catalogue=CATALOGUE, tastes=(Taste(),))
    return found


def length_of_walk(**settings: Any) -> float:
    made = walk(styled(**settings))
    return layout(made).routes["walk"].length


def mean(kinds: tuple[Species, ...], value: Any) -> float:
    return float(np.mean([value(s) for s in kinds]))


def in_colours(**settings: Any) -> float:
    return mean(
        tuple(s for s in palette(colours=VIOLET, **settings) if s.bloom_months), lambda s: has_colour(s, VIOLET)
    )


def unlike_sides(**settings: Any) -> int:
    """Return by how many plants the sides of the walk differ, kind by kind, of the kinds that come back."""
    sides: dict[str, int] = {}
    for plant in arranged(signature=("Salvia nemorosa", "Panicum virgatum"), **settings).plants:
        if plant.species in ("Salvia nemorosa", "Panicum virgatum"):
            sides[plant.species] = sides.get(plant.species, 0) + (1 if plant.at[0] > 4.5 else -1)
    return sum(abs(n) for n in sides.values())


# setting -> what it changes, measured so that the figure is greater at the end of the setting than at its beginning
MEASURED: dict[str, Any] = {
    "curving": length_of_walk,
    "formal": lambda **s: mean(palette(**s), neatness),
    "symmetry": lambda **s: -unlike_sides(**s),
    "fullness": lambda **s: arranged(**s).figures.coverage[5],
    "evergreen_share": lambda **s: mean(palette(**s), lambda kind: kind.is_evergreen),
    "natives_share": lambda **s: mean(palette(**s), lambda kind: kind.native_na),
    "strict": in_colours,
    "texture": lambda **s: mean(palette(**s), lambda kind: TEXTURE[kind.texture]),
    "variety": lambda **s: len(palette(**s)),
    "repetition": lambda **s: -arranged(**s).terms["rhythm"],
    "boldness": lambda **s: arranged(**s).figures.drift_area,
}


def test_every_setting_has_its_measure() -> None:
    assert set(MEASURED) == set(LEANINGS)


@pytest.mark.parametrize("setting", LEANINGS)
def test_turning_a_setting_changes_a_later_step_its_way(setting: str) -> None:
    low, high = (MEASURED[setting](**{setting: end}) for end in (0.1, 0.9))
    assert high > low, (low, high)


def test_the_first_material_of_the_style_that_paths_are_made_of_is_that_of_a_new_path() -> None:
    made = walk(styled(materials=("clipped hedge", "gravel", "paving")))
    assert made.structure.paths[0].surface == "gravel"
    told = structure.add_path(styled(materials=("gravel",)), "walk", start="front", end="back", surface="bark")
    assert told.structure.paths[0].surface == "bark"
    assert walk(plot()).structure.paths[0].surface == "stepping stones"


def test_the_signature_of_a_style_is_in_its_palette_and_comes_back_along_the_walk() -> None:
    rare = ("Geranium sanguineum", "Echinacea purpurea")
    names = {s.botanical for s in palette()}
    other = [s.botanical for s in SHOWN if s.botanical not in names][:2]
    assert set(other) <= {s.botanical for s in palette(signature=tuple(other))}
    counts = [
        sum(p.species == rare[1] for p in arranged(**({"signature": rare} if of_style else {})).plants)
        for of_style in (False, True)
    ]
    assert counts[1] > counts[0]


def test_every_signature_plant_of_a_starting_style_is_in_the_catalogue() -> None:
    for style in STYLES.values():
        for name in style.signature:
            assert CATALOGUE[name].botanical == name


def test_a_plan_is_held_against_its_style_and_what_is_answerable_is_named() -> None:
    gravel = structure.add_path(styled(curving=1.0, materials=("brick",)), "walk", start="front", end="back", bend=0.0)
    kept = {one.setting: one for one in Garden(gravel, Path("nowhere")).style_kept}
    assert set(kept) == {*LEANINGS, "materials", "signature"}
    assert (kept["curving"].is_kept, kept["curving"].answerable) == (False, ("walk",))
    assert kept["curving"].found == pytest.approx(0.0, abs=1e-6)  # a straight walk
    assert (kept["materials"].is_kept, kept["materials"].answerable) == (False, ("path walk of stepping stones",))
    assert kept["formal"].found is None  # nothing is planted
    straight = brief.adjust_style(gravel, "curving", 0.0)
    assert {one.setting: one.is_kept for one in Garden(straight, Path("nowhere")).style_kept}["curving"] is True


def test_plants_are_answerable_for_a_style_that_is_not_kept() -> None:
    made = structure.add_path(styled(formal=1.0, evergreen_share=0.9), "walk", start="front", end="back", bend=0.0)
    planted = attrs.evolve(made.planting, plants=arranged().plants)
    kept = {one.setting: one for one in Garden(attrs.evolve(made, planting=planted), Path("nowhere")).style_kept}
    assert kept["formal"].is_kept is False
    assert set(kept["formal"].answerable) <= set(PALETTE)
    assert kept["evergreen_share"].is_kept is False
    assert not any(CATALOGUE[name].is_evergreen for name in kept["evergreen_share"].answerable)
